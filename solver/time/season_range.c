#include "season_private.h"
#include "solver/base/calendar.h"
#include "solver/base/constants.h"

#include <math.h>
#include <stdio.h>

/* What rounding, an integrator's tolerance and a coarse grid may add. */
static const double ALLOWED_K = 1.0;

static void widen(struct uf_season_range *range, double degC)
{
    range->least_degC = fmin(range->least_degC, degC);
    range->most_degC = fmax(range->most_degC, degC);
}

static double weakest_W_mK(const struct uf_material *m)
{
    double k = INFINITY;
    for (size_t j = 0; j < m->n; j++) {
        k = fmin(k, m->k_W_mK[j]);
    }
    return k;
}

/* What heat put in or taken out below can make of the lowest cell of a column: flux times
   the largest resistance on its way up. */
static void add_rise(struct uf_season_range *range, const struct uf_heat *heat)
{
    const struct uf_grid *g = heat->grid;
    double least_K = 0.0;
    double most_K = 0.0;
    for (size_t i = 0; i < g->nx && heat->bottom_W != NULL; i++) {
        double resistance_m2K_W = 0.0;
        for (size_t j = 0; j < g->nz; j++) {
            const uint16_t m = heat->conducts[uf_grid_at(g, i, j)];
            resistance_m2K_W +=
                (g->z_edge_m[j + 1] - g->z_edge_m[j]) / weakest_W_mK(&heat->materials[m]);
        }
        const double a = g->x_edge_m[i];
        const double b = g->x_edge_m[i + 1];
        const double plan_m2 = g->radial ? UF_PI * (b * b - a * a) : b - a;
        const double rise_K = heat->bottom_W[i] / plan_m2 * resistance_m2K_W;
        least_K = fmin(least_K, rise_K);
        most_K = fmax(most_K, rise_K);
    }
    range->least_degC += least_K;
    range->most_degC += most_K;
}

void uf_season_range_drive(struct uf_season *season)
{
    const struct uf_drive *drive = &season->drive;
    const struct uf_heat *heat = season->heat;
    struct uf_season_range range = {INFINITY, -INFINITY};
    for (size_t d = 0; d < drive->days; d++) {
        widen(&range, drive->outside_degC[d]);
        if (heat->n_vents > 0) {
            widen(&range, drive->air_degC[d]);
        }
        if (drive->snow_m != NULL && drive->snow_m[d] > 0.0) {
            widen(&range, 0.0);
        }
    }
    if (heat->inflow_W_K > 0.0) {
        widen(&range, heat->inflow_degC);
    }
    add_rise(&range, heat);
    season->driven = range;
}

void uf_season_range_start(struct uf_season *season)
{
    season->started = (struct uf_season_range){INFINITY, -INFINITY};
    for (size_t i = 0; i < season->heat->n; i++) {
        if (season->heat->volume_m3[i] > 0.0) {
            widen(&season->started, season->T_degC[i]);
        }
    }
}

struct uf_season_range uf_season_range_allowed(const struct uf_season *season, bool with_start)
{
    struct uf_season_range range = season->driven;
    if (season->heat->held != UF_HEAT_NONE) {
        widen(&range, season->T_degC[season->heat->held]);
    }
    if (with_start) {
        widen(&range, season->started.least_degC);
        widen(&range, season->started.most_degC);
    }
    return (struct uf_season_range){range.least_degC - ALLOWED_K, range.most_degC + ALLOWED_K};
}

static const char *place_of(const struct uf_season *season, size_t node, char *text, size_t size)
{
    const struct uf_heat *heat = season->heat;
    const struct uf_grid *g = heat->grid;
    if (node >= heat->n_cells) {
        return node == heat->water ? "in the water" : "in the tank";
    }
    (void)snprintf(text, size, "%.2f m from the axis and %.2f m below grade",
                   g->x_m[uf_grid_i(g, node)], g->z_m[uf_grid_j(g, node)]);
    return text;
}

enum uf_status uf_season_judge(const struct uf_season *season, bool with_start,
                               struct uf_error *err)
{
    const struct uf_season_range range = uf_season_range_allowed(season, with_start);
    char place[80];
    char date[16];
    for (size_t i = 0; i < season->heat->n; i++) {
        const double degC = season->T_degC[i];
        if (season->heat->volume_m3[i] > 0.0 && i != season->heat->held &&
            !(degC >= range.least_degC && degC <= range.most_degC)) {
            return uf_fail(err, UF_E_SOLVER,
                           "%.1f degC %s on %s: nothing that drives the run is below %.1f or above "
                           "%.1f degC (integrator %s)",
                           degC, place_of(season, i, place, sizeof place),
                           uf_calendar_text((long)floor(season->day), date, sizeof date),
                           range.least_degC + ALLOWED_K, range.most_degC - ALLOWED_K,
                           season->stepper->name);
        }
    }
    return UF_OK;
}

/* While nodes and what drives them are warmer than this nothing freezes: heat flows from warm to cold. */
static const double WARM_DEGC = 0.5;

bool uf_season_drives_thawed(const struct uf_heat *heat, const struct uf_heat_now *now)
{
    return !now->snow && now->outside_degC > WARM_DEGC &&
           (heat->n_vents == 0 || now->air_degC > WARM_DEGC) &&
           (!(heat->inflow_W_K > 0.0) || heat->inflow_degC > WARM_DEGC);
}

double uf_season_warm_J_m3(const struct uf_material *m)
{
    return m->c_thawed_J_m3K * (WARM_DEGC - m->T_degC[m->n - 1]);
}

bool uf_season_stays_thawed(const struct uf_heat *heat, const double *H_J_m3,
                            const struct uf_heat_now *now)
{
    bool all = uf_season_drives_thawed(heat, now);
    for (size_t i = 0; all && i < heat->n; i++) {
        all = !(heat->volume_m3[i] > 0.0) ||
              H_J_m3[i] > uf_season_warm_J_m3(&heat->materials[heat->material[i]]);
    }
    return all;
}
