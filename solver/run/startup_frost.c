#include "solver/base/constants.h"
#include "startup_private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PLAIN_MOST = 12 };

/* The quickest and the slowest that yearly changes are taken to shrink. */
static const double LEAST_RATIO = 0.1;
static const double MOST_RATIO = 0.95;

/* Changes that after so many years are still more than this share of the first do not settle: which
   cells keep frost turns on which kept it the year before, and more years are of no use. */
enum { PATIENCE = 6 };
static const double SHRUNK = 0.5;

double uf_startup_deep_degC(const struct uf_heat *heat, const struct uf_drive *year)
{
    const struct uf_material *top = &heat->materials[heat->conducts[0]];
    double least_degC = INFINITY;
    double most_degC = -INFINITY;
    double mean_W_m = 0.0;
    for (size_t d = 0; d < year->days; d++) {
        least_degC = fmin(least_degC, year->outside_degC[d]);
        most_degC = fmax(most_degC, year->outside_degC[d]);
        mean_W_m += uf_material_U_W_m(top, year->outside_degC[d]) / (double)year->days;
    }
    for (int k = 0; k < 80; k++) { /* U rises with T */
        const double middle_degC = 0.5 * (least_degC + most_degC);
        *(uf_material_U_W_m(top, middle_degC) < mean_W_m ? &least_degC : &most_degC) = middle_degC;
    }
    return most_degC;
}

bool uf_startup_frost_stays(const struct uf_heat *heat, const double *T_degC)
{
    const struct uf_grid *g = heat->grid;
    bool stays = false;
    for (size_t c = 0; c < heat->n_cells; c++) {
        const size_t j = uf_grid_j(g, c);
        const bool lowest = j + 1 == g->nz;
        const bool thawed_above =
            j > 0 && T_degC[c - g->nx] >= 0.0 && heat->volume_m3[c - g->nx] > 0.0;
        stays = stays || (heat->volume_m3[c] > 0.0 && T_degC[c] < 0.0 && (lowest || thawed_above));
    }
    return stays;
}

enum uf_status uf_startup_repeat_plainly(struct uf_season *season, const struct uf_heat *heat,
                                         const struct uf_drive *year, double tolerance_K,
                                         struct uf_startup_result *result, struct uf_error *err)
{
    const double start_day = uf_season_day(season);
    double *T_degC = calloc(heat->n, sizeof *T_degC);
    double before_K = INFINITY;
    double first_K = INFINITY;
    enum uf_status status = UF_OK;
    if (T_degC == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    result->left_K = INFINITY;
    for (int k = 0; k < (before_K > SHRUNK * first_K ? PATIENCE : PLAIN_MOST) && status == UF_OK &&
                    !(result->left_K < tolerance_K);
         k++) {
        double change_K = 0.0;
        memcpy(T_degC, uf_season_T_degC(season), heat->n * sizeof *T_degC);
        status = uf_season_advance(season, start_day + (double)year->days, err);
        for (size_t i = 0; i < heat->n; i++) {
            const double now_degC = uf_season_T_degC(season)[i];
            change_K =
                heat->volume_m3[i] > 0.0 ? fmax(change_K, fabs(now_degC - T_degC[i])) : change_K;
            T_degC[i] = now_degC;
        }
        if (status == UF_OK) {
            uf_season_set(season, start_day, T_degC);
        }
        const double ratio = fmin(MOST_RATIO, fmax(LEAST_RATIO, change_K / before_K));
        result->left_K = k > 0 ? change_K * ratio / (1.0 - ratio) : (double)INFINITY;
        result->years += 1.0;
        before_K = change_K;
        first_K = k == 0 ? change_K : first_K;
    }
    free(T_degC);
    return status;
}
