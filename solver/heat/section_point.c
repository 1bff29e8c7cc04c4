#include "section_private.h"

#include <math.h>
#include <stdlib.h>

/* A point so near to a surface lies on it. */
static const double ON_M = 1e-6;

/* A place in the section that is to be read: only cells of its own side of the shell count. */
struct reading {
    const struct uf_section *section;
    const double *T_degC;
    bool in_tank;
};

static bool has_tank(const struct uf_section *section)
{
    return section->outline.half_m > 0.0;
}

static bool is_tank_cell(const struct uf_section *section, size_t c)
{
    const struct uf_grid *g = section->grid;
    return has_tank(section) &&
           uf_outline_contains(&section->outline, g->x_m[uf_grid_i(g, c)], g->z_m[uf_grid_j(g, c)]);
}

static bool counts(const struct reading *r, size_t c)
{
    return r->section->heat->volume_m3[c] > 0.0 && is_tank_cell(r->section, c) == r->in_tank;
}

/* Distance of a point outside from the outline, m; negative inside. */
static double outside_m(const struct uf_outline *outline, double x_m, double z_m)
{
    const double centre_m = 0.5 * (outline->top_m + outline->bottom_m);
    if (outline->circle) {
        return hypot(x_m, z_m - centre_m) - outline->half_m;
    }
    const double beside = x_m - outline->half_m;
    const double over = fabs(z_m - centre_m) - 0.5 * (outline->bottom_m - outline->top_m);
    return beside > 0.0 && over > 0.0 ? hypot(beside, over) : fmax(beside, over);
}

/* Where a link crosses the outline; false for one that does not. */
static bool crosses(const struct uf_section *section, size_t number,
                    struct uf_section_crossing *crossing)
{
    const struct uf_grid *g = section->grid;
    const struct uf_heat_link *link = &section->heat->links[number];
    const bool wall = link->a < g->nx * g->nz && link->length_a_m > 0.0 &&
                      !is_tank_cell(section, link->a) &&
                      (link->b >= section->heat->n_cells || is_tank_cell(section, link->b));
    if (!wall) {
        return false;
    }
    const double ax_m = g->x_m[link->a % g->nx];
    const double az_m = g->z_m[link->a / g->nx];
    double along_x_m = 0.0;
    double along_z_m = 0.0;
    double normal = 1.0;
    uf_outline_cross(&section->outline, true, ax_m, az_m, &along_x_m, &normal);
    uf_outline_cross(&section->outline, false, ax_m, az_m, &along_z_m, &normal);
    const bool sideways = fabs(along_x_m - link->length_a_m) < fabs(along_z_m - link->length_a_m);
    const double down = az_m < 0.5 * (section->outline.top_m + section->outline.bottom_m) ? 1 : -1;
    *crossing = (struct uf_section_crossing){number, sideways ? ax_m - along_x_m : ax_m,
                                             sideways ? az_m : az_m + down * along_z_m};
    return true;
}

bool uf_section_point_walls(struct uf_section *section)
{
    const size_t n = section->heat->n_links;
    section->crossings = calloc(n + 1, sizeof *section->crossings);
    for (size_t l = 0; section->crossings != NULL && has_tank(section) && l < n; l++) {
        section->n_crossings += crosses(section, l, &section->crossings[section->n_crossings]);
    }
    return section->crossings != NULL;
}

/* The link through the wall that is nearest to a point, NULL without one. */
static const struct uf_heat_link *nearest_wall(const struct uf_section *section, double x_m,
                                               double z_m)
{
    const struct uf_heat_link *nearest = NULL;
    double least_m2 = INFINITY;
    for (size_t k = 0; k < section->n_crossings; k++) {
        const struct uf_section_crossing *at = &section->crossings[k];
        const double dx_m = at->x_m - x_m;
        const double dz_m = at->z_m - z_m;
        if (dx_m * dx_m + dz_m * dz_m < least_m2) {
            least_m2 = dx_m * dx_m + dz_m * dz_m;
            nearest = &section->heat->links[at->link];
        }
    }
    return nearest;
}

/* Temperature between the centres of two neighbours, at_m from that of a on the way to that
   of b: a straight line in one substance, resistances in series across two. */
static double between_degC(const struct reading *r, const size_t cell[2], const double T_degC[2],
                           const double to_edge_m[2], double at_m)
{
    const struct uf_heat *h = r->section->heat;
    double R[2];
    for (int k = 0; k < 2; k++) {
        const uint16_t m = h->conducts[cell[k]];
        R[k] = h->conducts[cell[0]] == h->conducts[cell[1]]
                   ? to_edge_m[k]
                   : to_edge_m[k] / uf_material_secant_W_mK(&h->materials[m], T_degC[0], T_degC[1]);
    }
    const double edge_degC = (T_degC[0] * R[1] + T_degC[1] * R[0]) / (R[0] + R[1]);
    return at_m < to_edge_m[0]
               ? T_degC[0] + (edge_degC - T_degC[0]) * fmax(0.0, at_m) / to_edge_m[0]
               : edge_degC +
                     (T_degC[1] - edge_degC) * fmin(1.0, (at_m - to_edge_m[0]) / to_edge_m[1]);
}

/* The first of the two centres around a coordinate; the only one of an axis of one. */
static size_t before(const double *centre, size_t n, double at)
{
    size_t i = 0;
    while (i + 2 < n && centre[i + 1] <= at) {
        i++;
    }
    return i;
}

/* Down one column at depth z; NAN where neither centre counts. */
static double column_degC(const struct reading *r, size_t i, size_t j, double z_m)
{
    const struct uf_grid *g = r->section->grid;
    const size_t pair[2] = {uf_grid_at(g, i, j), uf_grid_at(g, i, j + 1 < g->nz ? j + 1 : j)};
    const bool use[2] = {counts(r, pair[0]), counts(r, pair[1])};
    if (use[0] && use[1] && pair[0] != pair[1]) {
        const double edge_m = g->z_edge_m[j + 1];
        return between_degC(r, pair, (const double[2]){r->T_degC[pair[0]], r->T_degC[pair[1]]},
                            (const double[2]){edge_m - g->z_m[j], g->z_m[j + 1] - edge_m},
                            z_m - g->z_m[j]);
    }
    return use[0] ? r->T_degC[pair[0]] : use[1] ? r->T_degC[pair[1]] : (double)NAN;
}

/* Between the centres around a point; NAN where none counts. */
static double cells_degC(const struct reading *r, double x_m, double z_m)
{
    const struct uf_grid *g = r->section->grid;
    const size_t i = before(g->x_m, g->nx, x_m);
    const size_t j = before(g->z_m, g->nz, z_m);
    const double first_degC = column_degC(r, i, j, z_m);
    if (i + 1 >= g->nx) {
        return first_degC;
    }
    const double second_degC = column_degC(r, i + 1, j, z_m);
    if (isnan(first_degC) || isnan(second_degC)) {
        return isnan(first_degC) ? second_degC : first_degC;
    }
    const size_t row = j + 1 < g->nz && z_m > g->z_edge_m[j + 1] ? j + 1 : j;
    const size_t pair[2] = {uf_grid_at(g, i, row), uf_grid_at(g, i + 1, row)};
    const double edge_m = g->x_edge_m[i + 1];
    return between_degC(r, pair, (const double[2]){first_degC, second_degC},
                        (const double[2]){edge_m - g->x_m[i], g->x_m[i + 1] - edge_m},
                        x_m - g->x_m[i]);
}

/* In the ground less than a cell from the tank the wall's outer face is the nearer support. */
static double beside_wall_degC(const struct reading *r, double x_m, double z_m, double away_m)
{
    const struct uf_section *s = r->section;
    const struct uf_grid *g = s->grid;
    const struct uf_heat_link *link = nearest_wall(s, x_m, z_m);
    const double ground_degC = cells_degC(r, x_m, z_m);
    if (link == NULL) {
        return ground_degC;
    }
    const double reach_m = outside_m(&s->outline, g->x_m[link->a % g->nx], g->z_m[link->a / g->nx]);
    if (away_m >= reach_m && !isnan(ground_degC)) {
        return ground_degC;
    }
    const double outer_degC = uf_section_outer_degC(s, link, r->T_degC);
    const double weight = reach_m > 0.0 ? fmin(1.0, away_m / reach_m) : 1.0;
    return outer_degC + weight * (r->T_degC[link->a] - outer_degC);
}

double uf_section_water_degC(const struct uf_section *section, const double *T_degC, double z_m)
{
    if (section->heat->n_water == 0) {
        return uf_section_at_degC(section, T_degC, 0.0, z_m);
    }
    const double *edge_m = section->water_edge_m;
    const double *T = T_degC + section->heat->water;
    const size_t last = section->heat->n_water - 1;
    size_t r = 0;
    while (r < last && z_m > 0.5 * (edge_m[r + 1] + edge_m[r + 2])) {
        r++;
    }
    const double middle_m = 0.5 * (edge_m[r] + edge_m[r + 1]);
    if (r == last || z_m <= middle_m) {
        return T[r];
    }
    const double next_m = 0.5 * (edge_m[r + 1] + edge_m[r + 2]);
    return T[r] + (T[r + 1] - T[r]) * (z_m - middle_m) / (next_m - middle_m);
}

double uf_section_at_degC(const struct uf_section *section, const double *T_degC, double x_m,
                          double z_m)
{
    const struct uf_heat *h = section->heat;
    const double x = fabs(x_m);
    const double away_m =
        has_tank(section) ? outside_m(&section->outline, x, z_m) : (double)INFINITY;
    const bool shell =
        fabs(away_m) <= ON_M || (away_m < 0.0 && away_m >= -section->outline.wall_m - ON_M);
    const struct uf_heat_link *wall = shell ? nearest_wall(section, x, z_m) : NULL;
    if (wall != NULL && !(h->tops[0].lid && z_m < section->outline.top_m + ON_M)) {
        return uf_section_wall_degC(section, wall, T_degC);
    }
    const struct reading r = {section, T_degC, away_m <= ON_M};
    if (r.in_tank && z_m > section->surface_z_m && h->n_water > 0) {
        return uf_section_water_degC(section, T_degC, z_m);
    }
    if (r.in_tank) {
        const bool dry = !(z_m > section->surface_z_m) && h->air != UF_HEAT_NONE;
        return dry ? T_degC[h->air] : cells_degC(&r, x, z_m);
    }
    return isfinite(away_m) ? beside_wall_degC(&r, x, z_m, away_m) : cells_degC(&r, x, z_m);
}
