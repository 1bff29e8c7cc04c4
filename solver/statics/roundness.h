#ifndef UF_ROUNDNESS_H
#define UF_ROUNDNESS_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stddef.h>

/* Did the tank stay round: readings of the inside diameter and of the level at
   checkpoints of the installer's own naming, and what the modified Iowa formula
   foretells. The limit is the tank manufacturer's. */

#define UF_ROUNDNESS_READINGS 160
#define UF_ROUNDNESS_NAME     64

struct uf_roundness_reading {
    char at[UF_ROUNDNESS_NAME];
    size_t station;     /* along the tank, from 1; 0: the only one */
    double diameter_m;  /* inside, top to bottom; through a riser: bottom to its top less
                          its length */
    double across_m;    /* inside, from side to side; NAN: not read */
    double level_m;     /* of a fixed mark at the near end; NAN: not read */
    double far_level_m; /* of one at the far end; NAN: not read */
};

struct uf_roundness_input {
    struct uf_roundness_reading readings[UF_ROUNDNESS_READINGS]; /* in the order taken */
    size_t n;
    double limit;             /* largest deflection, share of the first diameter; NAN: not given */
    double level_limit_m;     /* largest change of level; NAN: not given */
    double shell_modulus_Pa;  /* of the wall, for the forecast; NAN: the shell counts as
                                 nothing */
    double lag;               /* 1 with the prism's load, 1.5 with a trench load; 1 */
    double soil_modulus_Pa;   /* E'; NAN: by the row below */
    size_t stations;          /* at which the field record reads diameters */
    int soil_row, compaction; /* of uf_roundness_soils; -1: not given */
};

/* Nothing given, lag 1, three stations. */
#define UF_ROUNDNESS_STATIONS 3
void uf_roundness_init(struct uf_roundness_input *input);

/* Each series is judged against its own first reading: either diameter at its station, the level of
   either end. */
enum uf_roundness_verdict { UF_ROUNDNESS_GO, UF_ROUNDNESS_WATCH, UF_ROUNDNESS_STOP };

struct uf_roundness_row {
    double deflection;                 /* (first - this) / first; positive: flatter */
    double change;                     /* since the reading before at the station */
    double across;                     /* deflection from side to side; positive: narrower; NAN */
    double level_change_m;             /* since the first level; NAN */
    double far_change_m;               /* the same at the far end; NAN */
    enum uf_roundness_verdict verdict; /* STOP: a limit is passed; WATCH: past UF_ROUNDNESS_AMBER of
                    it, or one more such change would pass it; GO also where no limit is given */
};
#define UF_ROUNDNESS_AMBER 0.7

struct uf_roundness {
    struct uf_roundness_row rows[UF_ROUNDNESS_READINGS];
    size_t n;
    enum uf_roundness_verdict verdict; /* of the last reading; STOP if any was */
};

/* 100 times it is the percent vertical deflection: (before - after) / before. */
double uf_roundness_deflection(double before_m, double after_m);

/* Errors: UF_E_INPUT for no readings or a diameter that is missing. */
enum uf_status uf_roundness(struct uf_roundness *out, const struct uf_roundness_input *input,
                            struct uf_error *err);

/* Modulus of soil reaction E', Pa, by kind of soil (row) and compaction (dumped, slight,
   moderate, high). Source: Howard, USBR REC-ERC-77-01 (1977): its abstract read (from 100 fields, fills
   of up to 15 m, values from 0 to 3000 psi as quoted); that it holds averages, good within two points of
   deflection with K = 0.1 and the prism's load, read as quoted in a textbook on buried pipe design; the
   numbers of the table from memory. */
struct uf_roundness_soil {
    const char *name, *doc;
    double modulus_Pa[4];
};
#define UF_ROUNDNESS_SOILS 4
extern const struct uf_roundness_soil uf_roundness_soils[UF_ROUNDNESS_SOILS];

/* Modified Iowa formula, vertical taken as the horizontal:

       dx / D = lag K P / (E I / r^3 + 0.061 E')

   per metre of tank, P the pressure at the crown; K = 0.1, from 0.083 (bedded over 180 degrees) to
   0.110 (on a line). Source: Spangler 1941, modified by Watkins; a textbook on buried pipe design,
   table 3.3. */
double uf_roundness_iowa(double lag, double K, double pressure_Pa, double radius_m, double EI_N_m,
                         double soil_modulus_Pa);

/* What the classes of compaction mean, in the order of modulus_Pa. Source: as the moduli, from
   memory. */
struct uf_roundness_compaction {
    const char *name, *doc;
};
#define UF_ROUNDNESS_COMPACTIONS 4
extern const struct uf_roundness_compaction uf_roundness_compactions[UF_ROUNDNESS_COMPACTIONS];

/* Diameters between which a tank first read as first_m stays within the limit:

       low = first (1 - limit),   high = first (1 + limit) */
struct uf_roundness_band {
    double low_m, high_m; /* NAN where first reading or limit is not given */
};
struct uf_roundness_band uf_roundness_band(double first_m, double limit);

struct uf_roundness_forecast {
    double deflection; /* share of the diameter, K = 0.1 */
    double low, high;  /* K 0.083 to 0.110, less and plus 0.02 that the method is good for; >= 0 */
    double soil_modulus_Pa;
};

/* wall_m NAN or no modulus: shell stiffness counted as nothing.
   Errors: UF_E_INPUT where E' or its row is not given. */
enum uf_status uf_roundness_predict(struct uf_roundness_forecast *out,
                                    const struct uf_roundness_input *input, double pressure_Pa,
                                    double radius_m, double wall_m, struct uf_error *err);

#endif
