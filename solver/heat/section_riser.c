#include "section_private.h"
#include "shaft.h"
#include "solver/base/constants.h"

#include <math.h>

/* A riser is counted with its side, bare where neither wall nor sleeve is given; one that a frost cover
   closes off at the crown by that lid alone. Risers stand dry: water is at most as high as the tank.
   The air in one is well mixed in winter, the lid above it being colder than the water below. It is
   the tank's air; over a full tank it has no node of its own but stands between the water's film and
   its other ways, of which each then gets

       W_K = G_way G_water / (G_water + G_lid + sum of G_side)

   which is exact for the heat that leaves the water. */

/* Outside a lid: ISO 6946 external surface resistance. */
static const double OUTSIDE_FILM_M2K_W = 0.04;

/* A riser of the design, all of it: the conductance of its lid, W/K, and of its side by rows. */
struct ways {
    const struct uf_riser *riser;
    struct uf_shaft_side side;
    double top_m; /* depth of its top, 0 where it stands out of the ground */
    double plan_m2, share;
};

static double frozen_W_mK(const struct uf_build *b, size_t cell)
{
    return b->heat->materials[b->heat->conducts[cell]].k_W_mK[0];
}

/* The side along a cell's row against its ground, W/K. */
static double side_W_K(const struct uf_build *b, const struct ways *w, size_t cell)
{
    const double *edge_m = b->grid->z_edge_m + uf_grid_j(b->grid, cell);
    const double from_m = fmax(edge_m[0], w->top_m), to_m = fmin(edge_m[1], w->side.buried_m);
    return b->kind[cell] == UF_CELL_GROUND && w->riser->lid_at == UF_LID_TOP && to_m > from_m
               ? (to_m - from_m) /
                     uf_shaft_mK_W(&w->side, 0.5 * (from_m + to_m), frozen_W_mK(b, cell))
               : 0.0;
}

double uf_section_part_in(const struct uf_build *b, size_t k)
{
    double sum_m = 0.0;
    for (size_t i = 0; i < b->grid->ny; i++) {
        sum_m += b->section->slices[i].inside_m;
    }
    return b->section->slices[k].inside_m / sum_m;
}

static double sides_W_K(const struct uf_build *b, const struct ways *w)
{
    double sum_W_K = 0.0;
    for (size_t c = 0; c < b->heat->n_cells; c += b->grid->nx) {
        sum_W_K += uf_section_part_in(b, uf_grid_k(b->grid, c)) * side_W_K(b, w, c);
    }
    return sum_W_K;
}

static struct ways ways_of(const struct uf_build *b, const struct uf_riser *riser)
{
    const double crown_m = uf_case_crown_m(b->design);
    const double inner_m = uf_shaft_inner_m(riser->diameter_m, &riser->shell);
    return (struct ways){.riser = riser,
                         .side = {.diameter_m = riser->diameter_m,
                                  .shell = riser->shell,
                                  .buried_m = crown_m,
                                  .film_m2K_W = UF_SECTION_AIR_FILM_M2K_W},
                         .top_m = fmax(0.0, uf_case_riser_top_m(b->design, riser)),
                         .plan_m2 = UF_PI * inner_m * inner_m,
                         .share = b->section->whole_share};
}

static void connect_sides(struct uf_build *b, const struct ways *w, size_t node)
{
    struct uf_heat *h = b->heat;
    for (size_t c = 0; c < h->n_cells; c += b->grid->nx) {
        const double W_K =
            w->share * uf_section_part_in(b, uf_grid_k(b->grid, c)) * side_W_K(b, w, c);
        if (W_K > 0.0) {
            h->shafts[h->n_shafts++] = (struct uf_heat_shaft){.node = node, .cell = c, .W_K = W_K};
        }
    }
}

void uf_section_connect_risers(struct uf_build *b)
{
    const struct uf_tank *tank = &b->design->tank;
    struct uf_heat *h = b->heat;
    const size_t node = uf_section_under_risers(b);
    for (size_t r = 0; r < tank->n_risers && node != UF_HEAT_NONE; r++) {
        struct ways w = ways_of(b, &tank->risers[r]);
        if (node == h->air) {
            const double lid_m2K_W =
                w.riser->lid_m2K_W + UF_SECTION_AIR_FILM_M2K_W + OUTSIDE_FILM_M2K_W;
            h->vents[h->n_vents++] = (struct uf_heat_vent){node, w.share * w.plan_m2 / lid_m2K_W};
        } else {
            const double lid_W_K = w.plan_m2 / (w.riser->lid_m2K_W + OUTSIDE_FILM_M2K_W);
            const double water_W_K = w.plan_m2 / UF_SECTION_AIR_FILM_M2K_W;
            w.share *= water_W_K / (water_W_K + lid_W_K + sides_W_K(b, &w));
            h->vents[h->n_vents++] = (struct uf_heat_vent){node, w.share * lid_W_K};
        }
        connect_sides(b, &w, node);
    }
}
