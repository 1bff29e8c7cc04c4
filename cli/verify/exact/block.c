#include "block.h"

#include "solver/heat/heat.h"
#include "steady.h"

#include <math.h>
#include <stdlib.h>

/* ---- Lines ---- */

/* Cells in one half of a span: those that grow from size_m until it is filled. */
static size_t half_cells(double half_m, double size_m, double growth)
{
    size_t n = 1;
    double reach_m = size_m;
    for (double cell_m = size_m; reach_m < half_m * (1.0 - 1e-9); n++) {
        cell_m *= growth;
        reach_m += cell_m;
    }
    return n;
}

/* Edges of one span without its first, both ways from its sides; returns how many. */
static size_t span(double *edges_m, double from_m, double to_m, double size_m, double growth)
{
    const double half_m = 0.5 * (to_m - from_m);
    const size_t n = half_cells(half_m, size_m, growth);
    double sum = 0.0;
    for (size_t k = 0; k < n; k++) {
        sum += pow(growth, (double)k);
    }
    double at_m = 0.0;
    for (size_t k = 0; k < n; k++) {
        at_m += half_m / sum * pow(growth, (double)k);
        edges_m[k] = from_m + at_m;
        edges_m[2 * n - 1 - k] = to_m - at_m + half_m / sum * pow(growth, (double)k);
    }
    edges_m[2 * n - 1] = to_m;
    return 2 * n;
}

enum uf_status uf_block_edges(double **edges_m, size_t *n_cells, const double *lines_m, size_t n,
                              double size_m, double growth, struct uf_error *err)
{
    size_t most = 1;
    for (size_t k = 0; k + 1 < n; k++) {
        most += 2 * half_cells(0.5 * (lines_m[k + 1] - lines_m[k]), size_m, growth);
    }
    *n_cells = most - 1;
    *edges_m = calloc(most, sizeof **edges_m);
    if (*edges_m == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a body of blocks");
    }
    size_t at = 0;
    (*edges_m)[at++] = lines_m[0];
    for (size_t k = 0; k + 1 < n; k++) {
        at += span(*edges_m + at, lines_m[k], lines_m[k + 1], size_m, growth);
    }
    return UF_OK;
}

static int ascending(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Along x, y or z: the sides of every part, each once. */
static const double *sides(const struct uf_block_part *part, size_t axis)
{
    return axis == 0 ? part->x_m : axis == 1 ? part->y_m : part->z_m;
}

static enum uf_status edges_along(double **edges_m, size_t *n, const struct uf_block *b,
                                  size_t axis, struct uf_error *err)
{
    double lines_m[2 * UF_BLOCK_PARTS];
    size_t count = 0;
    for (size_t k = 0; k < 2 * b->n_parts; k++) {
        lines_m[k] = sides(&b->parts[k / 2], axis)[k % 2];
    }
    qsort(lines_m, 2 * b->n_parts, sizeof *lines_m, ascending);
    for (size_t k = 0; k < 2 * b->n_parts; k++) {
        if (count == 0 || lines_m[k] - lines_m[count - 1] > 1e-9) {
            lines_m[count++] = lines_m[k];
        }
    }
    return uf_block_edges(edges_m, n, lines_m, count, b->size_m, b->growth, err);
}

static enum uf_status make_grid(struct uf_grid **out, const struct uf_block *b,
                                struct uf_error *err)
{
    double *edges_m[3] = {NULL};
    size_t n[3] = {0};
    *out = NULL;
    for (size_t axis = 0; axis < 3; axis++) {
        const enum uf_status status = edges_along(&edges_m[axis], &n[axis], b, axis, err);
        if (status != UF_OK) {
            free(edges_m[0]);
            free(edges_m[1]);
            return status;
        }
    }
    const enum uf_status status =
        uf_grid_create(out, edges_m[0], n[0], edges_m[2], n[2], false, err);
    if (status != UF_OK) {
        free(edges_m[1]);
        return status;
    }
    return uf_grid_slice(*out, edges_m[1], n[1], err);
}

/* ---- Network ---- */

struct body {
    const struct uf_block *block;
    struct uf_grid *grid;
    struct uf_heat *heat; /* airs are the nodes after the cells */
    size_t *part;         /* [n_cells] part that the cell belongs to */
    double *T_degC;       /* [n] */
    bool *fixed;          /* [n] */
};

static bool allocate(struct body *s)
{
    const size_t cells = uf_grid_cells(s->grid);
    const size_t nodes = cells + s->block->n_airs;
    struct uf_heat *h = s->heat = calloc(1, sizeof *h);
    s->part = calloc(cells, sizeof *s->part);
    s->T_degC = calloc(nodes, sizeof *s->T_degC);
    s->fixed = calloc(nodes, sizeof *s->fixed);
    if (h == NULL) {
        return false;
    }
    h->grid = s->grid;
    h->n_cells = cells;
    h->n = nodes;
    h->water = h->air = h->held = UF_HEAT_NONE;
    h->n_materials = s->block->n_parts;
    h->materials = calloc(h->n_materials, sizeof *h->materials);
    h->material = calloc(nodes, sizeof *h->material);
    h->conducts = calloc(nodes, sizeof *h->conducts);
    h->volume_m3 = calloc(nodes, sizeof *h->volume_m3);
    h->gx_m = calloc(cells, sizeof *h->gx_m);
    h->gz_m = calloc(cells, sizeof *h->gz_m);
    h->gy_m = calloc(cells, sizeof *h->gy_m);
    h->links = calloc(3 * cells, sizeof *h->links);
    h->bottom_W = calloc(s->grid->nx * s->grid->ny, sizeof *h->bottom_W);
    return s->part && s->T_degC && s->fixed && h->materials && h->material && h->conducts &&
           h->volume_m3 && h->gx_m && h->gz_m && h->gy_m && h->links && h->bottom_W;
}

static bool within(const double *between_m, double at_m)
{
    return at_m > between_m[0] && at_m < between_m[1];
}

static size_t part_at(const struct body *s, size_t cell)
{
    const struct uf_grid *g = s->grid;
    for (size_t k = s->block->n_parts; k-- > 0;) {
        const struct uf_block_part *p = &s->block->parts[k];
        if (within(p->x_m, g->x_m[uf_grid_i(g, cell)]) &&
            within(p->y_m, g->y_m[uf_grid_k(g, cell)]) &&
            within(p->z_m, g->z_m[uf_grid_j(g, cell)])) {
            return k;
        }
    }
    return 0;
}

static bool is_air(const struct body *s, size_t cell)
{
    return !(s->block->parts[s->part[cell]].k_W_mK > 0.0);
}

static void fill(struct body *s)
{
    struct uf_heat *h = s->heat;
    for (size_t k = 0; k < h->n_materials; k++) {
        uf_material_inert(&h->materials[k], "block", fmax(s->block->parts[k].k_W_mK, 1e-9), 1e6);
    }
    for (size_t c = 0; c < h->n_cells; c++) {
        s->part[c] = part_at(s, c);
        h->material[c] = h->conducts[c] = (uint16_t)s->part[c];
        h->volume_m3[c] = is_air(s, c) ? 0.0 : 1.0; /* steady: that it is there is enough */
    }
    for (size_t a = 0; a < s->block->n_airs; a++) {
        h->volume_m3[h->n_cells + a] = 1.0;
        s->fixed[h->n_cells + a] = true;
        s->T_degC[h->n_cells + a] = s->block->airs[a].degC;
    }
}

/* Joins a cell and the next one along an axis: lengths of their halves, area of the face. */
static void join(struct body *s, size_t a, size_t b, const double *half_m, double area_m2)
{
    struct uf_heat *h = s->heat;
    if (is_air(s, a) && is_air(s, b)) {
        return;
    }
    const bool swap = is_air(s, a); /* the solid comes first */
    const size_t solid = swap ? b : a;
    const size_t other = swap ? a : b;
    struct uf_heat_link link = {.a = solid,
                                .b = other,
                                .area_m2 = area_m2,
                                .length_a_m = half_m[swap],
                                .length_b_m = half_m[!swap],
                                .material_a = h->conducts[solid],
                                .material_b = h->conducts[other]};
    if (is_air(s, other)) {
        const size_t air = s->block->parts[s->part[other]].air;
        link.b = h->n_cells + air;
        link.fixed_m2K_W = s->block->airs[air].film_m2K_W;
        link.length_b_m = 0.0;
    }
    h->links[h->n_links++] = link;
}

static void connect(struct body *s)
{
    const struct uf_grid *g = s->grid;
    const size_t next[3] = {1, g->nx * g->nz, g->nx};
    const double *edge_m[3] = {g->x_edge_m, g->y_edge_m, g->z_edge_m};
    const size_t n[3] = {g->nx, g->ny, g->nz};
    for (size_t c = 0; c < s->heat->n_cells; c++) {
        const size_t at[3] = {uf_grid_i(g, c), uf_grid_k(g, c), uf_grid_j(g, c)};
        double long_m[3];
        for (size_t axis = 0; axis < 3; axis++) {
            long_m[axis] = edge_m[axis][at[axis] + 1] - edge_m[axis][at[axis]];
        }
        for (size_t axis = 0; axis < 3; axis++) {
            const double *e = edge_m[axis] + at[axis];
            if (at[axis] + 1 < n[axis]) {
                const double half_m[2] = {0.5 * (e[1] - e[0]), 0.5 * (e[2] - e[1])};
                join(s, c, c + next[axis], half_m, long_m[(axis + 1) % 3] * long_m[(axis + 2) % 3]);
            }
        }
    }
}

static void answer(struct uf_block_answer *out, const struct body *s)
{
    const struct uf_heat *h = s->heat;
    for (size_t a = 0; a < UF_BLOCK_AIRS; a++) {
        out->into_W[a] = 0.0;
        out->coldest_degC[a] = out->warmest_degC[a] = NAN;
    }
    for (size_t l = 0; l < h->n_links; l++) {
        const struct uf_heat_link *link = &h->links[l];
        if (link->b >= h->n_cells) {
            const size_t a = link->b - h->n_cells;
            const double W = uf_heat_link_W(h, link, s->T_degC); /* from the solid */
            const double degC = s->T_degC[link->b] + W / link->area_m2 * link->fixed_m2K_W;
            out->into_W[a] -= W;
            out->coldest_degC[a] = fmin(degC, out->coldest_degC[a]); /* of a NAN the other */
            out->warmest_degC[a] = fmax(degC, out->warmest_degC[a]);
        }
    }
}

enum uf_status uf_block_solve(struct uf_block_answer *out, const struct uf_block *block,
                              struct uf_error *err)
{
    const struct uf_heat_now closed = {.h_W_m2K = 1.0};
    struct body s = {.block = block};
    enum uf_status status = make_grid(&s.grid, block, err);
    if (status == UF_OK && !allocate(&s)) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a body of blocks");
    }
    if (status == UF_OK) {
        fill(&s);
        connect(&s);
        status = uf_steady_solve(s.heat, &closed, s.fixed, s.T_degC, err);
    }
    if (status == UF_OK) {
        answer(out, &s);
    }
    uf_heat_free(s.heat);
    uf_grid_free(s.grid);
    free(s.part);
    free(s.T_degC);
    free(s.fixed);
    return status;
}
