#ifndef UF_TEST_RUNS_H
#define UF_TEST_RUNS_H

#include "designs.h"
#include "solver/base/constants.h"
#include "solver/run/run.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

/* A short winter that the tests of whole runs share: 240 days of a cosine year from
   October on, and the year before it. */
enum { RUNS_DAYS = 240, RUNS_YEAR = 365 };

struct runs_weather {
    double air_degC[RUNS_DAYS], snow_m[RUNS_DAYS];
    double year_air_degC[RUNS_YEAR], year_snow_m[RUNS_YEAR];
    struct uf_forcing_weather weather;
};

static inline struct runs_weather *runs_weather_create(double mean_degC, double amplitude_K)
{
    struct runs_weather *w = calloc(1, sizeof *w);
    cr_assert_not_null(w);
    for (int i = 0; i < RUNS_YEAR; i++) {
        w->year_air_degC[i] =
            mean_degC - amplitude_K * cos(2.0 * UF_PI * (273.0 + i + 0.5 - 20.0) / RUNS_YEAR);
        if (i < RUNS_DAYS) {
            w->air_degC[i] = w->year_air_degC[i];
        }
    }
    w->weather = (struct uf_forcing_weather){.start_day = 11000,
                                             .days = RUNS_DAYS,
                                             .year_days = RUNS_YEAR,
                                             .air_degC = w->air_degC,
                                             .snow_m = w->snow_m,
                                             .year_air_degC = w->year_air_degC,
                                             .year_snow_m = w->year_snow_m};
    return w;
}

/* The design's surface under that weather. */
static inline struct uf_forcing *runs_forcing(const struct uf_case *design,
                                              const struct runs_weather *w)
{
    struct uf_forcing *forcing = NULL;
    struct uf_error err = {0};
    cr_assert(uf_forcing_create(&forcing, &design->surface, &w->weather, &err) == UF_OK, "%s",
              err.text);
    return forcing;
}

/* A coarse tank for runs that are to be quick. */
static inline struct uf_case runs_tank(void)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 1.2);
    d.grid.finest_m = 0.2;
    d.board.skirt_m = 0.0;
    d.tank.empty_mass_kg = 500.0;
    d.board.strength_Pa = 173e3;
    d.ground.layers[0].spec.unit_weight_moist_N_m3 = 18e3;
    d.ground.layers[0].spec.unit_weight_saturated_N_m3 = 20e3;
    return d;
}

#endif
