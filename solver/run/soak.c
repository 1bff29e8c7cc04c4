#include "soak.h"

#include "solver/base/constants.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct uf_soak {
    const struct uf_case *design;
    struct uf_section *section;
    bool *saturated, *wanted; /* [n_cells] */
    struct uf_soak_water water;
};

/* Water held by each cell as the network has it, m3. */
static double water_m3(const struct uf_heat *heat, size_t cell)
{
    return heat->volume_m3[cell] * heat->materials[heat->material[cell]].water_J_m3 /
           UF_WATER_LATENT_J_M3;
}

static enum uf_status change(void *who, struct uf_error *err)
{
    struct uf_soak *soak = who;
    struct uf_section *twin = NULL;
    const struct uf_heat *heat = soak->section->heat;
    const enum uf_status status =
        uf_section_twin(&twin, soak->section, soak->design, soak->wanted, err);
    if (status != UF_OK) {
        return status;
    }
    for (size_t c = 0; c < heat->n_cells; c++) {
        const double gain_m3 = water_m3(twin->heat, c) - water_m3(heat, c);
        soak->water.in_m3 += fmax(gain_m3, 0.0);
        soak->water.out_m3 -= fmin(gain_m3, 0.0);
    }
    uf_section_take(soak->section, twin);
    memcpy(soak->saturated, soak->wanted, heat->n_cells * sizeof *soak->saturated);
    return UF_OK;
}

static enum uf_status day(void *who, struct uf_season *season, struct uf_error *err)
{
    struct uf_soak *soak = who;
    const struct uf_grid *grid = soak->section->grid;
    const double *T_degC = uf_season_T_degC(season);
    const double table_m = uf_water_year_depth_m(&soak->design->ground.year,
                                                 (double)uf_water_year_day(uf_season_day(season)));
    bool any = false;
    for (size_t c = 0; c < uf_grid_cells(grid); c++) {
        const bool below = uf_section_below(grid, c, table_m);
        const bool ground = uf_section_body_of(soak->section, c) == UF_SECTION_GROUND;
        soak->wanted[c] = T_degC[c] < 0.0 || !ground ? soak->saturated[c] : below;
        any = any || soak->wanted[c] != soak->saturated[c];
    }
    return any ? uf_season_change(season, change, soak, err) : UF_OK;
}

enum uf_status uf_soak_create(struct uf_soak **out, const struct uf_case *design,
                              struct uf_section *section, struct uf_season *season,
                              struct uf_error *err)
{
    const size_t n = uf_grid_cells(section->grid);
    struct uf_soak *soak = calloc(1, sizeof *soak);
    *out = NULL;
    if (soak != NULL) {
        *soak = (struct uf_soak){.design = design, .section = section};
        soak->saturated = calloc(n, sizeof *soak->saturated);
        soak->wanted = calloc(n, sizeof *soak->wanted);
    }
    if (soak == NULL || soak->saturated == NULL || soak->wanted == NULL) {
        uf_soak_free(soak);
        return uf_fail(err, UF_E_MEMORY, "out of memory for the groundwater");
    }
    for (size_t c = 0; c < n; c++) {
        soak->saturated[c] = uf_section_below(section->grid, c, design->ground.water_winter_m);
    }
    uf_season_watch(season, &(const struct uf_season_watch){day, soak});
    *out = soak;
    return UF_OK;
}

void uf_soak_free(struct uf_soak *soak)
{
    if (soak != NULL) {
        free(soak->saturated);
        free(soak->wanted);
        free(soak);
    }
}

struct uf_soak_water uf_soak_water(const struct uf_soak *soak)
{
    return soak->water;
}
