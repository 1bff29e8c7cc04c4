#include "run_private.h"

#include <math.h>
#include <stdlib.h>

static const struct uf_heat *heat_of(const struct uf_run *run)
{
    return run->section->heat;
}

/* How much still water cell c holds, m3: its part inside the shell. */
static double still_m3(const struct uf_run *run, size_t c)
{
    const struct uf_section *s = run->section;
    const struct uf_grid *g = s->grid;
    const size_t i = uf_grid_i(g, c);
    const size_t j = uf_grid_j(g, c);
    const struct uf_slice *slice = &s->slices[uf_grid_k(g, c)];
    if (!(slice->inside_m > 0.0) || !(g->z_m[j] > s->surface_z_m)) {
        return 0.0;
    }
    return heat_of(run)->volume_m3[c] * slice->inside_m / slice->thick_m *
           uf_outline_share(&slice->inside, g->x_edge_m[i], g->x_edge_m[i + 1], g->z_edge_m[j],
                            g->z_edge_m[j + 1], g->radial);
}

enum uf_status uf_run_still_begin(struct uf_run *run, struct uf_error *err)
{
    const size_t n = heat_of(run)->n_cells;
    if (!run->section->unmixed) {
        return UF_OK;
    }
    run->still_m3 = calloc(n, sizeof *run->still_m3);
    if (run->still_m3 == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a run");
    }
    for (size_t c = 0; c < n; c++) {
        run->still_m3[c] = still_m3(run, c);
    }
    return UF_OK;
}

/* Over the cells of still water the mean ice share by volume, and the coldest. */
struct still {
    double ice, coldest_degC;
};

static struct still still_water(const struct uf_run *run)
{
    const struct uf_heat *h = heat_of(run);
    const double *T = uf_season_T_degC(run->season);
    struct still s = {NAN, NAN};
    double sum = 0.0;
    double volume = 0.0;
    for (size_t c = 0; run->still_m3 != NULL && c < h->n_cells; c++) {
        const double m3 = run->still_m3[c];
        if (m3 > 0.0) {
            sum += m3 * uf_material_ice(&h->materials[run->section->water_material], T[c]);
            volume += m3;
            s.coldest_degC = fmin(s.coldest_degC, T[c]);
        }
    }
    s.ice = volume > 0.0 ? sum / volume : (double)NAN;
    return s;
}

double uf_run_water_degC(const struct uf_run *run)
{
    const struct uf_heat *h = heat_of(run);
    const double *T = uf_season_T_degC(run->season);
    double coldest_degC = NAN;
    for (size_t r = 0; r < h->n_water; r++) {
        coldest_degC = fmin(coldest_degC, T[h->water + r]);
    }
    return h->n_water > 0 ? coldest_degC : still_water(run).coldest_degC;
}

/* Ice of one of the water's nodes, share of its water. */
static double row_ice(const struct uf_run *run, size_t row)
{
    const struct uf_heat *h = heat_of(run);
    const size_t node = h->water + row;
    return uf_material_ice(&h->materials[h->material[node]], uf_season_T_degC(run->season)[node]);
}

double uf_run_ice_share(const struct uf_run *run)
{
    const struct uf_heat *h = heat_of(run);
    double ice_m3 = 0.0;
    double all_m3 = 0.0;
    for (size_t r = 0; r < h->n_water; r++) {
        ice_m3 += row_ice(run, r) * h->volume_m3[h->water + r];
        all_m3 += h->volume_m3[h->water + r];
    }
    return h->n_water > 0 ? ice_m3 / all_m3 : still_water(run).ice;
}

double uf_run_ice_thickness_m(const struct uf_run *run, double ice_share)
{
    const struct uf_heat *h = heat_of(run);
    const double *edge_m = run->section->water_edge_m;
    double floats_m = 0.0;
    for (size_t r = 0; r < h->n_water; r++) {
        floats_m += row_ice(run, r) * (edge_m[r + 1] - edge_m[r]);
    }
    return h->n_water > 1 ? floats_m : ice_share * h->water_m3 / h->wetted_m2;
}
