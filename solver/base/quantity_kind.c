#include "quantity_kind.h"

#include "constants.h"

const struct uf_quantity_kind uf_quantity_kinds[UF_QUANTITY_COUNT] = {
    [UF_QUANTITY_LENGTH] = {"m", "m", 1, 2},
    [UF_QUANTITY_THICKNESS] = {"m", "mm", 1e3, 0},
    [UF_QUANTITY_BOARD] = {"m", "mm", 1e3, 0},
    [UF_QUANTITY_AREA] = {"m2", "m2", 1, 2},
    [UF_QUANTITY_VOLUME] = {"m3", "m3", 1, 1},
    [UF_QUANTITY_VOLUME_FINE] = {"m3", "m3", 1, 3},
    [UF_QUANTITY_LIQUID] = {"m3", "m3", 1, 2},
    [UF_QUANTITY_FLOW] = {"m3/s", "m3/day", 86400.0, 2},
    [UF_QUANTITY_PUMPED] = {"m3/s", "L/s", 1e3, 2},
    [UF_QUANTITY_TEMPERATURE] = {"degC", "degC", 1, 1},
    [UF_QUANTITY_DIFFERENCE] = {"K", "K", 1, 1},
    [UF_QUANTITY_INDEX] = {"degC day", "degC day", 1, 0},
    [UF_QUANTITY_FORCE] = {"N", "kN", 1e-3, 1},
    [UF_QUANTITY_LINE_LOAD] = {"N/m", "kN/m", 1e-3, 2},
    [UF_QUANTITY_PRESSURE] = {"Pa", "kPa", 1e-3, 1},
    [UF_QUANTITY_UNIT_WEIGHT] = {"N/m3", "kN/m3", 1e-3, 1},
    [UF_QUANTITY_DENSITY] = {"kg/m3", "kg/m3", 1, 0},
    [UF_QUANTITY_MASS] = {"kg", "kg", 1, 0},
    [UF_QUANTITY_CONDUCTIVITY] = {"W/m/K", "W/m/K", 1, 3},
    [UF_QUANTITY_RESISTANCE] = {"m2 K/W", "m2 K/W", 1, 2},
    [UF_QUANTITY_FILM] = {"W/m2/K", "W/m2/K", 1, 1},
    [UF_QUANTITY_HEAT_FLUX] = {"W/m2", "W/m2", 1, 2},
    [UF_QUANTITY_HEAT_CAPACITY] = {"J/m3/K", "MJ/m3/K", 1e-6, 2},
    [UF_QUANTITY_LATENT] = {"J/m3", "MJ/m3", 1e-6, 1},
    [UF_QUANTITY_POWER] = {"W", "W", 1, 0},
    [UF_QUANTITY_ENERGY] = {"J", "kWh", 1 / 3.6e6, 0},
    [UF_QUANTITY_TIME] = {"s", "s", 1, 2},
    [UF_QUANTITY_MINUTES] = {"min", "min", 1, 0},
    [UF_QUANTITY_ANGLE] = {"rad", "degrees", 180 / UF_PI, 1},
    [UF_QUANTITY_SHARE] = {"share", "percent", 1e2, 1},
    [UF_QUANTITY_DEFLECTION] = {"share", "percent", 1e2, 2},
    [UF_QUANTITY_FACTOR] = {"factor", "", 1, 2},
    [UF_QUANTITY_RESIDUAL] = {"share", "", 1, 1},
    [UF_QUANTITY_WHOLE] = {"count", "", 1, 0},
};

enum uf_quantity uf_quantity_kind_difference(enum uf_quantity kind)
{
    return kind == UF_QUANTITY_TEMPERATURE ? UF_QUANTITY_DIFFERENCE : kind;
}
