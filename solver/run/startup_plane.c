#include "startup_private.h"

#include <stdlib.h>
#include <string.h>

/* The plane section that goes with slices, and what runs it. */
struct plane {
    struct uf_case design;
    struct uf_section *section;
    struct uf_season *season;
    struct uf_soak *soak; /* where the groundwater moves */
};

static void plane_free(struct plane *p)
{
    uf_soak_free(p->soak);
    uf_season_free(p->season);
    uf_section_free(p->section);
}

/* A copy of n + 1 edges, NULL where memory is short. */
static double *edges_of(const double *edges_m, size_t n)
{
    double *copy_m = malloc((n + 1) * sizeof *copy_m);
    if (copy_m != NULL) {
        memcpy(copy_m, edges_m, (n + 1) * sizeof *copy_m);
    }
    return copy_m;
}

/* Rows and columns of the slices. */
static enum uf_status plane_section(struct plane *p, const struct uf_section *slices,
                                    struct uf_error *err)
{
    const struct uf_grid *like = slices->grid;
    struct uf_grid *grid = NULL;
    double *x_edge_m = edges_of(like->x_edge_m, like->nx);
    double *z_edge_m = edges_of(like->z_edge_m, like->nz);
    if (x_edge_m == NULL || z_edge_m == NULL) {
        free(x_edge_m);
        free(z_edge_m);
        return uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    enum uf_status status =
        uf_grid_create(&grid, x_edge_m, like->nx, z_edge_m, like->nz, like->radial, err);
    if (status == UF_OK) {
        status = uf_section_create_on(&p->section, &p->design, grid, err);
    }
    if (status == UF_OK) {
        p->section->heat->inflow_W_K =
            slices->heat->inflow_W_K * p->section->whole_share / slices->whole_share;
        p->section->heat->inflow_degC = slices->heat->inflow_degC;
    }
    return status;
}

static enum uf_status plane_create(struct plane *p, const struct uf_season *season,
                                   const struct uf_section *slices, const struct uf_case *design,
                                   struct uf_error *err)
{
    *p = (struct plane){.design = *design};
    p->design.tank.ends = UF_ENDS_PLANE;
    enum uf_status status = plane_section(p, slices, err);
    if (status == UF_OK) {
        status = uf_season_create(&p->season, p->section->heat, uf_season_asked(season), err);
    }
    if (status == UF_OK && design->ground.water_moves) {
        status = uf_soak_create(&p->soak, &p->design, p->section, p->season, err);
    }
    return status;
}

/* The plane's cell that stands for one of a slice past the tank: as far past its side. */
static size_t column_aside(const struct uf_section *slices, const struct uf_case *design, size_t i,
                           size_t k)
{
    const struct uf_grid *g = slices->grid;
    const double aside_m = uf_slice_aside_m(design, g, g->x_m[i], k);
    size_t at = i;
    while (slices->slices[k].outline.half_m <= 0.0 && at + 1 < g->nx && g->x_m[at] < aside_m) {
        at++;
    }
    return at;
}

/* Adds what the plane's nodes have more, cells and bodies. */
static void lay_over(double *T_degC, const struct uf_section *slices, const struct uf_case *design,
                     const struct uf_section *plane, const double *found_K, const double *cells_K)
{
    const struct uf_grid *g = slices->grid;
    const size_t bodies = slices->heat->n - slices->heat->n_cells;
    for (size_t c = 0; c < slices->heat->n_cells; c++) {
        const size_t i = column_aside(slices, design, uf_grid_i(g, c), uf_grid_k(g, c));
        T_degC[c] += cells_K[uf_grid_at(g, i, uf_grid_j(g, c))];
    }
    for (size_t b = 0; b < bodies && plane->heat->n - plane->heat->n_cells == bodies; b++) {
        T_degC[slices->heat->n_cells + b] += found_K[plane->heat->n_cells + b];
    }
}

enum uf_status uf_startup_plane(double *T_degC, const struct uf_season *season,
                                const struct uf_section *slices, const struct uf_case *design,
                                const struct uf_drive *year, const struct uf_startup_wish *wish,
                                struct uf_error *err)
{
    struct plane p;
    struct uf_startup_result result;
    double *found_K = NULL;
    enum uf_status status = plane_create(&p, season, slices, design, err);
    if (status == UF_OK) {
        found_K = calloc(p.section->heat->n + p.section->heat->n_cells, sizeof *found_K);
        status = found_K != NULL ? UF_OK : uf_fail(err, UF_E_MEMORY, "out of memory for the start");
    }
    if (status == UF_OK && wish->plane_K != NULL && wish->n_plane == p.section->heat->n) {
        memcpy(found_K, wish->plane_K, wish->n_plane * sizeof *found_K);
    } else if (status == UF_OK) {
        const struct uf_startup_wish own = {.tolerance_K = wish->tolerance_K, .found_K = found_K};
        status = uf_startup_settle(p.season, p.section, &p.design, year, &own, &result, err);
    }
    if (status == UF_OK) {
        double *const cells_K = found_K + p.section->heat->n;
        uf_section_cells(p.section, found_K, cells_K);
        lay_over(T_degC, slices, design, p.section, found_K, cells_K);
    }
    free(found_K);
    plane_free(&p);
    return status;
}
