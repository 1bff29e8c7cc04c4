#include "variant.h"

#include "solver/base/constants.h"
#include "solver/design/shape.h"
#include "solver/ground/soil.h"
#include "solver/weather/surface.h"

#include <math.h>

static double dry_density_kg_m3(const struct uf_ground_spec *spec)
{
    return isnan(spec->dry_density_kg_m3) ? spec->soil->dry_density_kg_m3 : spec->dry_density_kg_m3;
}

/* Water of a row of the soil table, share of dry mass. */
static double water_by_mass(const struct uf_ground_spec *spec)
{
    if (!isnan(spec->moisture_by_mass)) {
        return spec->moisture_by_mass;
    }
    return isnan(spec->moisture_by_volume)
               ? spec->soil->moisture_by_mass
               : spec->moisture_by_volume * UF_WATER_DENSITY_KG_M3 / dry_density_kg_m3(spec);
}

/* true: the soil holds more or less water than before. */
static bool moisten(struct uf_ground_spec *spec, double factor)
{
    if (spec->has_thermal || spec->soil == NULL) {
        const double before_J_m3 = spec->thermal.latent_J_m3;
        spec->thermal.latent_J_m3 *= factor;
        spec->thermal.water_percent *= factor;
        return spec->thermal.latent_J_m3 != before_J_m3;
    }
    const double w = water_by_mass(spec);
    const double full =
        UF_WATER_DENSITY_KG_M3 * (1.0 / dry_density_kg_m3(spec) - 1.0 / spec->soil->solid_kg_m3);
    spec->moisture_by_volume = NAN;
    spec->moisture_by_mass = fmin(w * factor, fmax(w, 0.999 * full));
    return spec->moisture_by_mass != w;
}

/* Does what is asked to every soil of a design; true: to one of them it made a difference. */
static bool each_soil(struct uf_case *design, bool (*apply)(struct uf_ground_spec *, double),
                      double by)
{
    bool differs = false;
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        differs = apply(&design->ground.layers[i].spec, by) || differs;
    }
    if (design->burial.has_backfill) {
        differs = apply(&design->burial.backfill, by) || differs;
    }
    if (design->burial.has_bedding_soil) {
        differs = apply(&design->burial.bedding_soil, by) || differs;
    }
    return differs;
}

bool uf_variant_moisture(struct uf_case *design, double factor)
{
    return each_soil(design, moisten, factor);
}

double uf_variant_rarer_years(double years)
{
    if (years < 50.0) {
        return 50.0;
    }
    return years < 100.0 ? 100.0 : 2.0 * years;
}

static bool holds_water(const struct uf_case *design)
{
    return uf_case_has_tank(design) && design->tank.level_m > 0.0;
}

/* A case's change; true: it makes a difference. */
#define CHANGE(name, made)                                                                         \
    static bool name(struct uf_case *design)                                                       \
    {                                                                                              \
        (void)design;                                                                              \
        return made;                                                                               \
    }

static bool other_water(struct uf_case *design, enum uf_water_kind kind)
{
    const bool differs =
        holds_water(design) && uf_case_water(design) != kind && isnan(design->tank.hold_degC);
    design->tank.water = kind;
    design->tank.mixing_W_mK = NAN;
    return differs;
}

CHANGE(layered, other_water(design, UF_WATER_LAYERED))
CHANGE(mixed, other_water(design, UF_WATER_MIXED))
CHANGE(unmixed, other_water(design, UF_WATER_UNMIXED))

static bool lowest(struct uf_case *design)
{
    const double level_m =
        isnan(design->tank.lowest_m) ? 0.5 * design->tank.level_m : design->tank.lowest_m;
    const bool differs = holds_water(design) && level_m > 0.0 && level_m < design->tank.level_m;
    design->tank.level_m = level_m;
    return differs;
}

CHANGE(wetter, uf_variant_moisture(design, 1.25))
CHANGE(drier, uf_variant_moisture(design, 0.75))

/* Gravel that was to drain and does not: 8 % of water, the upper end of the soil table's clean
   gravel; common practice, no source. */
static const double WET_GRAVEL = 0.08;

static bool wet(struct uf_ground_spec *spec, double water)
{
    const bool gains = !spec->has_thermal && spec->soil != NULL &&
                       spec->soil->grain == UF_GRAIN_GRAVEL && water_by_mass(spec) < water;
    if (gains) {
        spec->moisture_by_volume = NAN;
        spec->moisture_by_mass = water;
    }
    return gains;
}

CHANGE(wet_gravel, each_soil(design, wet, WET_GRAVEL))

/* Conductivity by the method that many places further in the list of three: of soils that
   are rows of the table; measured properties stay. */
static bool other_method(struct uf_case *design, int further)
{
    const struct uf_burial *burial = &design->burial;
    bool rows = (burial->has_backfill && !burial->backfill.has_thermal) ||
                (burial->has_bedding_soil && !burial->bedding_soil.has_thermal);
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        rows = rows || !design->ground.layers[i].spec.has_thermal;
    }
    design->ground.method = (enum uf_method)(((int)design->ground.method + further) % 3);
    return rows;
}

CHANGE(second_method, other_method(design, 1))
CHANGE(third_method, other_method(design, 2))
CHANGE(no_snow, uf_surface_clear(&design->surface))

static bool colder_surface(struct uf_case *design)
{
    const struct uf_surface_row *law = uf_surface_of(&design->surface);
    return law->barer != NULL && law->barer(&design->surface);
}

CHANGE(rarer, true)

static bool high_water(struct uf_case *design)
{
    const double highest_m = fmax(0.0, design->ground.water_highest_m);
    const bool differs = design->ground.water_moves || isnan(design->ground.water_winter_m) ||
                         design->ground.water_winter_m > highest_m;
    design->ground.water_moves = false;
    design->ground.water_winter_m = highest_m;
    return differs;
}

/* The board as wet as it gets: a fifth more than its value in service; common practice, no source. */
static bool wet_board(struct uf_case *design)
{
    design->board.k_W_mK *= 1.2;
    return uf_case_has_board(design);
}

/* The lid gone: the film of the air in the opening alone, 10 W/m2K (ISO 6946, inner film upward). */
static bool open_lid(struct uf_case *design)
{
    bool differs = false;
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        differs = differs || design->tank.risers[i].lid_m2K_W > 0.1;
        design->tank.risers[i].lid_m2K_W = fmin(0.1, design->tank.risers[i].lid_m2K_W);
    }
    return differs;
}

/* A section through mid-tank is warmer than the tank: its ends lose heat too. */
static bool with_ends(struct uf_case *design)
{
    const bool differs = holds_water(design) && design->tank.ends == UF_ENDS_PLANE &&
                         !uf_shape_is_radial(&design->tank);
    design->tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    return differs;
}

static const char surface[] = "what covers the ground in winter, and who keeps it so";
static const char moisture[] = "water content and dry density of each layer, in autumn";
static const char conductivity[] = "thermal conductivity of the ground, or its texture and quartz";
static const char winters[] = "a longer weather record, or one nearer the site";
static const char table[] = "the water table in the frost season and at its highest";
static const char keeping[] = "who keeps the water level, the lid and the snow as assumed";
static const char board[] = "the board's conductivity in wet ground, from its manufacturer";
static const char water[] = "water temperature at crown and outlet in a first winter";

const struct uf_variant uf_variants[UF_VARIANTS] = {
    {"layered water", "the water lies in layers by its density", water, UF_VARIANT_DESIGN, false,
     layered},
    {"mixed water", "the water is one mixed body", water, UF_VARIANT_DESIGN, false, mixed},
    {"unmixed water", "the water does not mix (conduction only)", water, UF_VARIANT_DESIGN, true,
     unmixed},
    {"lowest level", "the tank is drawn down to its lowest level", keeping, UF_VARIANT_DESIGN,
     false, lowest},
    {"wetter soil", "the soil holds a quarter more water", moisture, UF_VARIANT_DESIGN, false,
     wetter},
    {"drier soil", "the soil holds a quarter less water", moisture, UF_VARIANT_DESIGN, false,
     drier},
    {"wet gravel", "the gravel holds 8 % of water, as it does where it cannot drain", moisture,
     UF_VARIANT_DESIGN, false, wet_gravel},
    {"second method", "conductivity is taken by the second method", conductivity, UF_VARIANT_DESIGN,
     false, second_method},
    {"third method", "conductivity is taken by the third method", conductivity, UF_VARIANT_DESIGN,
     false, third_method},
    {"no snow", "no snow lies", keeping, UF_VARIANT_SURFACE, false, no_snow},
    {"colder surface", "the ground cools as on a barer surface, its freezing n-factor 0.2 higher",
     surface, UF_VARIANT_SURFACE, false, colder_surface},
    {"rarer winter", "the winter is the next rarer one", winters, UF_VARIANT_RARER, false, rarer},
    {"high water table", "the ground stays saturated up to its highest water table", table,
     UF_VARIANT_DESIGN, true, high_water},
    {"wet board", "the board conducts a fifth more, at its wet end", board, UF_VARIANT_DESIGN,
     false, wet_board},
    {"ends", "the tank's ends are counted, in three dimensions", water, UF_VARIANT_DESIGN, false,
     with_ends},
    {"open lid", "the riser's lid is left open", keeping, UF_VARIANT_DESIGN, false, open_lid},
};
