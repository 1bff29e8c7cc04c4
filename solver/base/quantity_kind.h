#ifndef UF_QUANTITY_KIND_H
#define UF_QUANTITY_KIND_H

/* The kinds of number that a person is shown. A value is always held in the SI unit named beside
   its kind; what is shown differs from it by a factor. US customary units: io/text/quantity.h. */

enum uf_quantity {
    UF_QUANTITY_LENGTH,      /* m: depths, covers */
    UF_QUANTITY_THICKNESS,   /* m, shown in mm or in */
    UF_QUANTITY_BOARD,       /* m, thickness of foam board: in inches the nominal one, 25 mm each */
    UF_QUANTITY_AREA,        /* m2 */
    UF_QUANTITY_VOLUME,      /* m3 of soil, concrete, board */
    UF_QUANTITY_VOLUME_FINE, /* m3 that a weight is worked from, in m3 or ft3 */
    UF_QUANTITY_LIQUID,      /* m3 of water */
    UF_QUANTITY_FLOW,        /* m3/s of water, shown per day */
    UF_QUANTITY_PUMPED,      /* m3/s of water, shown as pumps are told */
    UF_QUANTITY_TEMPERATURE, /* degC, a level */
    UF_QUANTITY_DIFFERENCE,  /* K, a difference of temperature */
    UF_QUANTITY_INDEX,       /* degC day: freezing index */
    UF_QUANTITY_FORCE,       /* N */
    UF_QUANTITY_LINE_LOAD,   /* N/m */
    UF_QUANTITY_PRESSURE,    /* Pa */
    UF_QUANTITY_UNIT_WEIGHT, /* N/m3 */
    UF_QUANTITY_DENSITY,     /* kg/m3 */
    UF_QUANTITY_MASS,        /* kg */
    UF_QUANTITY_CONDUCTIVITY,  /* W/(m K) */
    UF_QUANTITY_RESISTANCE,    /* m2 K/W */
    UF_QUANTITY_FILM,          /* W/(m2 K) */
    UF_QUANTITY_HEAT_FLUX,     /* W/m2 */
    UF_QUANTITY_HEAT_CAPACITY, /* J/(m3 K) */
    UF_QUANTITY_LATENT,        /* J/m3 */
    UF_QUANTITY_POWER,         /* W */
    UF_QUANTITY_ENERGY,        /* J, shown in kWh */
    UF_QUANTITY_TIME,          /* s, of a computer */
    UF_QUANTITY_MINUTES,       /* min */
    UF_QUANTITY_ANGLE,         /* rad, shown in degrees */
    UF_QUANTITY_SHARE,         /* 1, shown in percent */
    UF_QUANTITY_DEFLECTION,    /* 1, of a diameter, shown in hundredths of a percent */
    UF_QUANTITY_FACTOR,        /* 1, shown as it is */
    UF_QUANTITY_RESIDUAL,      /* 1, next to nothing: shown as 1.2e-16 */
    UF_QUANTITY_WHOLE,         /* how many */
    UF_QUANTITY_COUNT
};

/* How a kind is shown in SI: value * factor, in the unit, with so many decimals. */
struct uf_quantity_kind {
    const char *held; /* SI unit of the value itself, for CSV and JSON; "share", "factor" or "count"
                         where it has no dimension */
    const char *unit; /* "" for a plain number */
    double factor;
    int digits;
};
extern const struct uf_quantity_kind uf_quantity_kinds[UF_QUANTITY_COUNT];

/* The kind of a difference of two such numbers: of two temperatures a UF_QUANTITY_DIFFERENCE, else
   the kind itself. */
enum uf_quantity uf_quantity_kind_difference(enum uf_quantity kind);

#endif
