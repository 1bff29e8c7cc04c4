#include "section_private.h"

#include <math.h>

/* Thin cells of ground or foam. Their conductances are what they are, so that heat that passes in
   the steady state is right; but one of width w and resistances R to what lies beside it relaxes
   with w c / (1 / R_before + 1 / R_after) and would set the time step for all. So it borrows volume
   from wider ground beside it, until it relaxes no faster than a row of L of its substance, L = 50 mm or
   three tenths of the finest row where that is more:

       V / w  >=  L^2 / (4 k) (1 / R_before + 1 / R_after)

   Foam between ground stores as ground does, so that no capacity of ground is lost in it. What is
   borrowed acts at most a cell away from where it lies. */
static const double LIKE_M = 0.05;
static const double LIKE_OF_FINEST = 0.3;

/* A board of 12 mm and more keeps a substance of its own, which weighs next to nothing: on a coarse grid
   it would set the step for all. One thinner than half of the finest row stores more the thinner it is,
   up to what 10 mm of ground do. Rows of 75 mm: boards under 38 mm. */
static const double STORE_J_M2K = 20e3;

/* Heat capacity of foam board: 30 kg/m3 times 1400 J/kgK, handbook value, from memory. One for all
   types: against 2 MJ/m3K of soil their differences do not show, and equal k is one heat run. */
static const double FOAM_J_M3K = 42e3;

double uf_section_foam_J_m3K(const struct uf_case *design)
{
    const double thick_m = design->board.thickness_m;
    const double share = fmax(0.0, 1.0 - 2.0 * thick_m / design->grid.finest_m);
    return FOAM_J_M3K + share * STORE_J_M2K / thick_m;
}

/* What lies on one side of a cell along an axis. */
struct beside {
    size_t cell; /* n_cells: the surface, the tank, or nothing */
    double width_m, m2K_W;
};

struct axis {
    const double *edge_m;
    size_t n, stride;
    bool open; /* heat passes its beginning: the surface */
};

static double strongest_W_mK(const struct uf_build *b, size_t substance)
{
    const struct uf_material *m = &b->heat->materials[substance];
    return fmax(m->k_W_mK[0], m->k_W_mK[m->n - 1]);
}

static double width_m(const struct axis *axis, size_t at)
{
    return axis->edge_m[at + 1] - axis->edge_m[at];
}

static struct beside look(const struct uf_build *b, const struct axis *axis, size_t cell, size_t at,
                          bool after)
{
    const uint16_t *const conducts = b->heat->conducts;
    struct beside side = {.cell = b->heat->n_cells,
                          .m2K_W = 0.5 * width_m(axis, at) / strongest_W_mK(b, conducts[cell])};
    if (after ? at + 1 == axis->n : at == 0) {
        side.m2K_W = axis->open && !after ? side.m2K_W : (double)INFINITY;
        return side;
    }
    const size_t other = after ? cell + axis->stride : cell - axis->stride;
    if (b->kind[other] == UF_CELL_GROUND) {
        side.cell = other;
        side.width_m = width_m(axis, after ? at + 1 : at - 1);
        side.m2K_W += 0.5 * side.width_m / strongest_W_mK(b, conducts[other]);
    }
    return side;
}

static void borrow(struct uf_build *b, const struct axis *axis, size_t cell, size_t at)
{
    const struct beside sides[2] = {look(b, axis, cell, at, false), look(b, axis, cell, at, true)};
    const double widest_m = fmax(sides[0].width_m, sides[1].width_m);
    const double own_m = width_m(axis, at);
    uint16_t *const material = b->heat->material;
    const bool foam = material[cell] == b->board; /* which has its store, above */
    const double thin_m = foam ? UF_GRID_THIN_M : uf_grid_thin_m(b->design->grid.finest_m);
    if (!(own_m < fmin(thin_m, UF_GRID_THIN_SHARE * widest_m))) {
        return;
    }
    const struct beside *lender = sides[0].width_m < widest_m ? &sides[1] : &sides[0];
    if (foam) {
        material[cell] = material[lender->cell];
    }
    const double like_m = fmax(LIKE_M, LIKE_OF_FINEST * b->design->grid.finest_m);
    const double wanted_m = 0.25 * like_m * like_m / strongest_W_mK(b, material[cell]) *
                            (1.0 / sides[0].m2K_W + 1.0 / sides[1].m2K_W);
    double *const volume_m3 = b->heat->volume_m3;
    const double lacking_m3 = volume_m3[cell] * (wanted_m / own_m - 1.0);
    const double lent_m3 = fmax(0.0, fmin(lacking_m3, 0.5 * volume_m3[lender->cell]));
    volume_m3[lender->cell] -= lent_m3;
    volume_m3[cell] += lent_m3;
}

void uf_section_thin(struct uf_build *b)
{
    const struct uf_grid *g = b->grid;
    const struct axis axes[] = {{g->x_edge_m, g->nx, 1, false},
                                {g->z_edge_m, g->nz, g->nx, true},
                                {g->y_edge_m, g->ny, g->nx * g->nz, false}};
    for (size_t c = 0; c < b->heat->n_cells; c++) {
        const size_t at[] = {uf_grid_i(g, c), uf_grid_j(g, c), uf_grid_k(g, c)};
        for (size_t a = 0; b->kind[c] == UF_CELL_GROUND && a < 3; a++) {
            borrow(b, &axes[a], c, at[a]);
        }
    }
}
