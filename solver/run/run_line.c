#include "run_private.h"
#include "solver/heat/front.h"

#include <math.h>

/* The 0 degC line of one column, as it is told, drawn and kept: deepest frost, or over the tank
   the frost above it. */

struct place {
    const struct uf_run *run;
    const struct uf_section *section;
    const struct uf_grid *grid;
    const double *T;
    size_t i, k, top; /* column, slice, its topmost cell */
};

static size_t cell(const struct place *p, size_t j)
{
    return p->top + j * p->grid->nx;
}

static double surface_degC(const struct place *p)
{
    const struct uf_heat *h = p->section->heat;
    const struct uf_heat_top *top = &h->tops[p->k * p->grid->nx + p->i];
    const struct uf_heat_now now =
        uf_season_now(&p->run->forcing->season, uf_season_day(p->run->season));
    return uf_heat_surface_degC(h, top, &now, p->T[top->cell]);
}

/* Rows of ground before the tank; all of them where there is none. */
static size_t rows_above(const struct place *p)
{
    size_t j = 0;
    while (j < p->grid->nz && p->run->body[cell(p, j)] == UF_SECTION_GROUND) {
        j++;
    }
    return j;
}

/* Depth of the tank's outline over the column; on the axis its crown. */
static double outline_m(const struct place *p)
{
    const struct uf_outline *o = &p->section->slices[p->k].outline;
    double down_m = 0.0;
    double normal = 1.0;
    if (p->i > 0 && p->grid->x_m[p->i] < o->half_m) {
        uf_outline_cross(o, false, p->grid->x_m[p->i], o->top_m - 1.0, &down_m, &normal);
        return o->top_m - 1.0 + down_m;
    }
    return o->top_m;
}

/* Between the centre over the tank and its wall, which is frozen too or not. */
static double at_wall_m(const struct place *p, size_t j)
{
    const struct uf_heat *h = p->section->heat;
    const double from_m = p->grid->z_m[j];
    const double to_m = fmax(from_m, outline_m(p));
    const double here = p->T[cell(p, j)];
    const size_t body = uf_run_shown_node(p->run, cell(p, j + 1));
    for (size_t l = 0; l < h->n_links; l++) {
        if (h->links[l].a == cell(p, j) && h->links[l].b == body) {
            const double outer = uf_section_outer_degC(p->section, &h->links[l], p->T);
            return outer < 0.0 ? to_m : from_m + (to_m - from_m) * here / (here - outer);
        }
    }
    return uf_front_zero_m(h, p->T, cell(p, j));
}

static double above_tank_m(const struct place *p, size_t rows)
{
    size_t frozen = rows;
    while (frozen > 0 && !(p->T[cell(p, frozen - 1)] < 0.0)) {
        frozen--;
    }
    if (frozen == 0) {
        return 0.0;
    }
    return frozen == rows ? at_wall_m(p, frozen - 1)
                          : uf_front_zero_m(p->section->heat, p->T, cell(p, frozen - 1));
}

double uf_run_line_m(const struct uf_run *run, size_t column, size_t slice)
{
    const struct uf_section *s = run->section;
    const struct uf_grid *g = s->grid;
    const struct place p = {
        run, s, g, uf_season_T_degC(run->season), column, slice, uf_grid_in(g, column, 0, slice)};
    const size_t rows = rows_above(&p);
    if (rows == 0) { /* the tank comes up to grade under its lid */
        return surface_degC(&p) < 0.0 ? s->outline.top_m : 0.0;
    }
    return rows < g->nz
               ? above_tank_m(&p, rows)
               : uf_front_frost_m(s, uf_season_H_J_m3(run->season), p.T, p.top, surface_degC(&p));
}
