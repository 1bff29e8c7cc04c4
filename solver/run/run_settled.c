#include "run_private.h"

#include <math.h>

/* A step may leave a temperature so far below the coldest beside it. */
static const double SPARE_K = 0.01;

/* The warmest of what was coldest at each place that is looked at; thawed besides. */
static double warmest_degC(const struct uf_run *run)
{
    const struct uf_summary *s = &run->summary;
    const double tank_degC[] = {s->water.degC, s->outlet.degC, s->wall.degC, s->crown.degC,
                                s->invert.degC};
    double warmest = 0.0;
    for (size_t i = 0; i < sizeof tank_degC / sizeof tank_degC[0]; i++) {
        warmest = fmax(warmest, tank_degC[i]); /* fmax passes a NAN over */
    }
    for (size_t i = 0; i < s->n_probes; i++) {
        warmest = fmax(warmest, s->probes[i].least.degC);
    }
    for (size_t i = 0; i < s->n_pipes; i++) {
        warmest = fmax(warmest, s->pipes[i].least.degC);
    }
    return warmest;
}

/* Is the outside warmer on all days that are left, the present one too? */
static bool outside_stays_above(const struct uf_run *run, double degC)
{
    const struct uf_drive *drive = &run->forcing->season;
    bool above = true;
    for (size_t d = run->day - 1; d < drive->days && above; d++) {
        above = drive->outside_degC[d] > degC && drive->air_degC[d] > degC &&
                (drive->snow_m == NULL || !(drive->snow_m[d] > 0.0));
    }
    return above;
}

static bool is_above(const struct uf_run *run, double degC)
{
    const struct uf_heat *heat = run->section->heat;
    const double *T = uf_season_T_degC(run->season);
    bool above = true;
    for (size_t i = 0; i < heat->n && above; i++) {
        above = !(heat->volume_m3[i] > 0.0) || T[i] > degC;
    }
    for (size_t i = 0; i < heat->grid->nx * heat->grid->ny && above; i++) {
        above = heat->bottom_W[i] >= 0.0;
    }
    return above;
}

bool uf_run_settled(const struct uf_run *run)
{
    const struct uf_heat *heat = run->section->heat;
    const double warmest = warmest_degC(run) + SPARE_K;
    const bool plain = run->soak == NULL && run->design->n_standpipes == 0 &&
                       heat->held == UF_HEAT_NONE && !(heat->inflow_W_K > 0.0);
    return plain && outside_stays_above(run, warmest) && is_above(run, warmest);
}
