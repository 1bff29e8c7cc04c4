#include "verify_bench.h"

#include "cli/verify/exact/steady.h"
#include "solver/base/constants.h"

#include <math.h>
#include <stdlib.h>

/* Baths a box may have: every face of a side can have one of its own. */
enum { BATHS = 64 };
static const double LARGEST_CELL_M = 1e3;

enum uf_status uf_verify_bench_room(struct uf_verify_bench *bench, struct uf_error *err)
{
    const size_t most = bench->box->heat->n_cells + bench->box->most_baths;
    bench->T_degC = calloc(most, sizeof *bench->T_degC);
    bench->fixed = calloc(most, sizeof *bench->fixed);
    if (bench->T_degC == NULL || bench->fixed == NULL) {
        uf_verify_bench_free(bench);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a check");
    }
    return UF_OK;
}

enum uf_status uf_verify_bench_create(struct uf_verify_bench *bench, const struct uf_verify_axis *x,
                                      const struct uf_verify_axis *z, bool radial,
                                      const struct uf_material *material, struct uf_error *err)
{
    const struct uf_grid_zone zones[] = {{x->fine_to_m, x->size_m}, {z->fine_to_m, z->size_m}};
    struct uf_grid_axis axes[2];
    const struct uf_verify_axis *const from[] = {x, z};
    const double hard[2][4] = {{x->fine_to_m, x->lines_m[0], x->lines_m[1], x->lines_m[2]},
                               {z->fine_to_m, z->lines_m[0], z->lines_m[1], z->lines_m[2]}};
    for (int k = 0; k < 2; k++) {
        axes[k] = (struct uf_grid_axis){.start_m = from[k]->start_m,
                                        .end_m = from[k]->end_m,
                                        .zones = &zones[k],
                                        .n_zones = 1,
                                        .hard = hard[k],
                                        .n_hard = 4,
                                        .growth = from[k]->growth,
                                        .largest_m = LARGEST_CELL_M};
    }
    *bench = (struct uf_verify_bench){0};
    const enum uf_status status =
        uf_box_create(&bench->box, &axes[0], &axes[1], radial, BATHS, err);
    if (status != UF_OK) {
        return status;
    }
    if (uf_verify_bench_room(bench, err) != UF_OK) {
        return UF_E_MEMORY;
    }
    uf_box_fill(bench->box, material,
                (struct uf_box_part){x->start_m, x->end_m, z->start_m, z->end_m});
    return UF_OK;
}

void uf_verify_bench_free(struct uf_verify_bench *bench)
{
    uf_season_free(bench->season);
    uf_box_free(bench->box);
    free(bench->T_degC);
    free(bench->fixed);
    *bench = (struct uf_verify_bench){0};
}

/* The drive is one day that comes again and again. */
enum uf_status uf_verify_bench_start(struct uf_verify_bench *bench,
                                     const struct uf_verify_start *start, struct uf_error *err)
{
    struct uf_season_options options = uf_verify_season();
    options.integrator = start->integrator;
    options.steps_per_day = start->steps_per_day;
    const double tighter = bench->tighter > 0.0 ? bench->tighter : 1.0;
    options.rtol = 1e-5 * tighter;
    options.atol_J_m3 = 0.01e6 * tighter;
    const enum uf_status status = uf_season_create(&bench->season, bench->box->heat, &options, err);
    if (status != UF_OK) {
        return status;
    }
    bench->outside_degC = start->outside_degC;
    bench->film_W_m2K = start->film_W_m2K;
    const struct uf_drive drive = {.days = 1,
                                   .periodic = true,
                                   .outside_degC = &bench->outside_degC,
                                   .h_W_m2K = &bench->film_W_m2K,
                                   .air_degC = &bench->outside_degC};
    uf_season_drive(bench->season, &drive);
    uf_box_start(bench->box, start->start_degC, bench->T_degC);
    uf_season_set(bench->season, 0.0, bench->T_degC);
    return UF_OK;
}

const struct uf_verify_axis uf_verify_bench_one = {0.0, 1.0, 1.0, 1.0, 1.5, {0.0}};

enum uf_status uf_verify_bench_column(struct uf_verify_bench *bench,
                                      const struct uf_verify_axis *rows,
                                      const struct uf_material *material,
                                      const struct uf_verify_start *start, struct uf_error *err)
{
    const enum uf_status status =
        uf_verify_bench_create(bench, &uf_verify_bench_one, rows, false, material, err);
    if (status != UF_OK) {
        return status;
    }
    uf_box_connect(bench->box);
    uf_box_open_top(bench->box);
    return uf_verify_bench_start(bench, start, err);
}

enum uf_status uf_verify_bench_settle(struct uf_verify_bench *bench, const struct uf_heat_now *now,
                                      struct uf_error *err)
{
    uf_box_start(bench->box, 1.0, bench->T_degC);
    uf_box_fixed(bench->box, bench->fixed);
    return uf_steady_solve(bench->box->heat, now, bench->fixed, bench->T_degC, err);
}

enum uf_status uf_verify_bench_soil(struct uf_material *out, const struct uf_exact_ground *ground,
                                    double range_K, struct uf_error *err)
{
    const struct uf_thermal thermal = {.k_thawed_W_mK = ground->k_thawed_W_mK,
                                       .k_frozen_W_mK = ground->k_frozen_W_mK,
                                       .c_thawed_J_m3K = ground->c_thawed_J_m3K,
                                       .c_frozen_J_m3K = ground->c_frozen_J_m3K,
                                       .latent_J_m3 = ground->latent_J_m3,
                                       .freezing_from_degC = ground->freezing_degC,
                                       .freezing_to_degC = ground->freezing_degC - range_K};
    return uf_material_from_thermal(out, ground->name, &thermal, err);
}

static double ice(const struct uf_verify_bench *bench, size_t cell)
{
    const struct uf_heat *h = bench->box->heat;
    return uf_material_ice(&h->materials[h->material[cell]], uf_season_T_degC(bench->season)[cell]);
}

double uf_verify_bench_front_m(const struct uf_verify_bench *bench, size_t column)
{
    const struct uf_grid *g = bench->box->grid;
    double depth_m = 0.0;
    for (size_t j = 0; j < g->nz; j++) {
        depth_m += ice(bench, uf_grid_at(g, column, j)) * (g->z_edge_m[j + 1] - g->z_edge_m[j]);
    }
    return depth_m;
}

double uf_verify_bench_radius_m(const struct uf_verify_bench *bench)
{
    const struct uf_grid *g = bench->box->grid;
    double square_m2 = g->x_edge_m[0] * g->x_edge_m[0];
    for (size_t i = 0; i < g->nx; i++) {
        const double a = g->x_edge_m[i];
        const double b = g->x_edge_m[i + 1];
        square_m2 += ice(bench, i) * (b * b - a * a);
    }
    return sqrt(square_m2);
}

double uf_verify_bench_degC(const struct uf_verify_bench *bench, double x_m, double z_m)
{
    const double *T = bench->season != NULL ? uf_season_T_degC(bench->season) : bench->T_degC;
    return uf_box_at_degC(bench->box, T, x_m, z_m);
}
