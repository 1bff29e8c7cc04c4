#include "fin.h"
#include "section_private.h"
#include "shaft.h"
#include "solver/base/constants.h"

#include <math.h>
#include <stdlib.h>

/* What standpipes take from the tank's water and give to it: each a fin whose root is the water at the
   depth of its lower end, in steady heat with the ground beside it (what it holds itself, a thousandth
   of the tank's heat, is left out; whether it freezes is told beside the run by standpipe.h). Where
   its water is heavier than the tank's it sinks and is replaced: then every metre is as warm as the
   root. The way from the tank to the pipe resists nothing, so that the most is taken. Above the water
   its air mixes and is a node without mass between water, ground and cap, as a riser's over a full
   tank; the cap meets the ground at grade, which is as warm as the air outside or nearly so. */

/* Of the dry part, as in standpipe.c: ISO 6946 surfaces. */
static const double OUTER_FILM_M2K_W = 0.04;

/* A standpipe in the column of the slice of the tank's middle: rows of ground, the wet ones from its
   lower end up, then the dry ones. */
struct line {
    struct uf_shaft_side side;
    double top_m, bore_m2, cap_m2K_W;
    size_t column, node, n_wet, n;
    struct uf_fin_part *parts; /* [n] of dry ones W_K: side, then what their air leads there */
    size_t *cells;             /* [n] */
};

/* The water at a depth, or nearest to it: its node, or its cell on the axis where it is still. */
static size_t root_of(const struct uf_build *b, double depth_m)
{
    size_t found = UF_HEAT_NONE;
    double nearest_m = INFINITY;
    for (size_t c = 0; c < b->grid->nx * b->grid->nz; c += b->grid->nx) {
        const double away_m = fabs(b->grid->z_m[uf_grid_j(b->grid, c)] - depth_m);
        if (b->kind[c] == UF_CELL_WATER && away_m < nearest_m) {
            nearest_m = away_m;
            found = uf_section_node(b, c);
        }
    }
    return found;
}

/* Adds the row's part between two depths, where there is ground. */
static void add_part(struct line *line, const struct uf_build *b, size_t j, double from_m,
                     double to_m)
{
    const size_t cell = uf_grid_at(b->grid, line->column, j);
    from_m = fmax(from_m, b->grid->z_edge_m[j]);
    to_m = fmin(to_m, b->grid->z_edge_m[j + 1]);
    if (to_m > from_m && b->kind[cell] == UF_CELL_GROUND) {
        const double k_W_mK = b->heat->materials[b->heat->conducts[cell]].k_W_mK[0];
        line->cells[line->n] = cell;
        line->parts[line->n++] = (struct uf_fin_part){
            .length_m = to_m - from_m,
            .R_mK_W = uf_shaft_mK_W(&line->side, 0.5 * (from_m + to_m), k_W_mK)};
    }
}

static void find_line(struct line *line, const struct uf_build *b, const struct uf_standpipe *asked)
{
    const struct uf_grid *g = b->grid;
    const double inner_m = uf_shaft_inner_m(asked->diameter_m, &asked->shell);
    line->side = (struct uf_shaft_side){
        .diameter_m = asked->diameter_m, .shell = asked->shell, .buried_m = asked->bottom_m};
    line->top_m = fmax(0.0, fmax(b->section->surface_z_m, b->section->slices[0].inside.top_m));
    line->bore_m2 = UF_PI * inner_m * inner_m;
    line->cap_m2K_W = asked->cap_m2K_W;
    line->node = root_of(b, asked->bottom_m);
    line->column = line->n = 0;
    while (line->column + 1 < g->nx && !(g->x_edge_m[line->column + 1] >= asked->from_axis_m)) {
        line->column++; /* not given: the last, undisturbed ground */
    }
    for (size_t j = g->nz; j-- > 0;) {
        add_part(line, b, j, line->top_m, asked->bottom_m);
    }
    line->n_wet = line->n;
    line->side.film_m2K_W = UF_SECTION_AIR_FILM_M2K_W;
    for (size_t j = 0; j < g->nz; j++) {
        add_part(line, b, j, 0.0, fmin(line->top_m, asked->bottom_m));
    }
}

/* From the water's surface to all that the air over it meets; their shares of it in W_K of the dry
   parts, the cap's besides. */
static double dry_W_K(struct line *line, double *cap_share)
{
    const double cap_W_K =
        line->bore_m2 / (UF_SECTION_AIR_FILM_M2K_W + line->cap_m2K_W + OUTER_FILM_M2K_W);
    double sum_W_K = cap_W_K;
    for (size_t i = line->n_wet; i < line->n; i++) {
        line->parts[i].W_K = line->parts[i].length_m / line->parts[i].R_mK_W;
        sum_W_K += line->parts[i].W_K;
    }
    for (size_t i = line->n_wet; i < line->n; i++) {
        line->parts[i].W_K /= sum_W_K;
    }
    *cap_share = cap_W_K / sum_W_K;
    return 1.0 / (1.0 / sum_W_K + UF_SECTION_AIR_FILM_M2K_W / line->bore_m2);
}

/* A way from the root to a row of ground in each slice, as much there as of the tank. */
static void connect(struct uf_build *b, const struct line *line, size_t cell, double W_K,
                    double still_W_K)
{
    for (size_t k = 0; k < b->grid->ny; k++) {
        const double share = b->section->whole_share * uf_section_part_in(b, k);
        if (share > 0.0 && b->kind[cell] == UF_CELL_GROUND) {
            b->heat->shafts[b->heat->n_shafts++] =
                (struct uf_heat_shaft){.node = line->node,
                                       .cell = cell + k * b->grid->nx * b->grid->nz,
                                       .water = true,
                                       .W_K = share * W_K,
                                       .still_W_K = share * still_W_K};
        }
    }
}

static void connect_line(struct uf_build *b, struct line *line, double wall_W_mK)
{
    const double all_m2 = 0.25 * UF_PI * line->side.diameter_m * line->side.diameter_m;
    const double along_WmK =
        UF_WATER_CONDUCTIVITY_W_MK * line->bore_m2 + wall_W_mK * (all_m2 - line->bore_m2);
    double cap_share = 0.0;
    const double tip_W_K = dry_W_K(line, &cap_share);
    const double still_W_K = uf_fin(line->parts, line->n_wet, along_WmK, tip_W_K);
    for (size_t i = 0; i < line->n; i++) {
        const struct uf_fin_part *part = &line->parts[i];
        if (i < line->n_wet) {
            connect(b, line, line->cells[i], part->length_m / part->R_mK_W, part->W_K);
        } else {
            connect(b, line, line->cells[i], part->W_K * tip_W_K, part->W_K * still_W_K);
        }
    }
    connect(b, line, uf_grid_at(b->grid, line->column, 0), cap_share * tip_W_K,
            cap_share * still_W_K);
}

void uf_section_connect_standpipes(struct uf_build *b)
{
    struct line line = {.parts = calloc(2 * b->grid->nz, sizeof *line.parts),
                        .cells = calloc(2 * b->grid->nz, sizeof *line.cells)};
    if (line.parts == NULL || line.cells == NULL) {
        b->status = uf_fail(b->err, UF_E_MEMORY, "out of memory for standpipes");
    }
    for (size_t i = 0; i < b->design->n_standpipes && b->status == UF_OK; i++) {
        find_line(&line, b, &b->design->standpipes[i]);
        if (line.node != UF_HEAT_NONE && line.n_wet > 0) {
            connect_line(b, &line, b->design->standpipes[i].shell.wall_W_mK);
        }
    }
    free(line.parts);
    free(line.cells);
}
