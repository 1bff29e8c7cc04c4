#include "section_private.h"
#include "solver/base/constants.h"
#include "solver/design/tank.h"

#include <math.h>

/* Air alone would be a body of no weight; what hangs wet in it is taken as ten times the
 * air. */
static const double AIR_BODY_J_M3K = 12500.0;
/* A few millimetres of air between two films would set the time step. Over water it stores at least as
   much as a body so high, less on finer rows as their own square: 2 mm of water on rows of 0.3 m, a
   tenth of a millimetre on 75 mm. */
static double least_air_m(double finest_m)
{
    return 7.0 * finest_m * finest_m;
}
/* The water's only node is all of it; otherwise a row has one of its own where it holds so
   much of the depth of its cells: a thinner one would only make the network stiff. */
static const double LEAST_SHARE = 0.25;
static const double LEAST_PARTED = 0.5; /* of the finest cells */

/* Half plan of the wet cells of a row of the grid, and with it the least volume of a node
   that begins or ends there. */
static double least_m3(const struct uf_build *b, size_t j)
{
    const struct uf_grid *g = b->grid;
    double sum_m3 = 0.0;
    for (size_t i = 0; i < g->nx; i++) {
        if (b->kind[uf_grid_at(g, i, j)] == UF_CELL_WATER) {
            sum_m3 += uf_section_volume_m3(g, i, j);
        }
    }
    return LEAST_SHARE * sum_m3;
}

/* Room inside between two depths, in a metre at mid-tank. */
static double between_m3(const struct uf_build *b, double top_m, double bottom_m)
{
    const struct uf_outline *inside = &b->section->slices[0].inside;
    return uf_outline_area_below_m2(inside, top_m, b->grid->radial) -
           uf_outline_area_below_m2(inside, bottom_m, b->grid->radial);
}

/* Water in rows: one node a row of the grid that holds wet cells; rows that are too thin
   go with their neighbour. Returns how many. */
static size_t number_rows(struct uf_build *b)
{
    struct uf_section *s = b->section;
    const struct uf_grid *g = b->grid;
    double *const edge_m = s->water_edge_m;
    size_t n = 0;
    bool open = true;
    for (size_t j = 0; j < g->nz; j++) {
        const double least = least_m3(b, j);
        s->row_water[j] = n > 0 && !open ? n - 1 : n;
        if (least > 0.0) {
            s->row_water[j] = n;
            edge_m[n + 1] = g->z_edge_m[j + 1];
            open = between_m3(b, edge_m[n], edge_m[n + 1]) < least;
            n += !open;
        }
    }
    n = n > 0 ? n : 1;
    edge_m[n] = s->slices[0].inside.bottom_m;
    for (size_t j = 0; j < g->nz; j++) {
        s->row_water[j] = b->heat->water + (s->row_water[j] < n ? s->row_water[j] : n - 1);
    }
    return n;
}

/* What lies under a roof or air is told and cooled by the uppermost node's mean, which in still water is
   half its height warm: the uppermost row is parted in two, unless it is thin. */
static void part_uppermost(struct uf_build *b)
{
    struct uf_section *s = b->section;
    struct uf_heat *h = b->heat;
    double *const edge_m = s->water_edge_m;
    b->parted = edge_m[1] - edge_m[0] > LEAST_PARTED * b->design->grid.finest_m;
    if (!b->parted) {
        return;
    }
    for (size_t r = h->n_water; r > 0; r--) {
        edge_m[r + 1] = edge_m[r];
    }
    edge_m[1] = edge_m[0] + UF_SECTION_UPPER_PART * (edge_m[2] - edge_m[0]);
    for (size_t j = 0; j < b->grid->nz; j++) {
        s->row_water[j] += b->grid->z_m[j] > edge_m[0];
    }
    h->n_water++;
}

void uf_section_rows(struct uf_build *b)
{
    struct uf_section *s = b->section;
    struct uf_heat *h = b->heat;
    const struct uf_outline *inside = &s->slices[0].inside;
    const bool lumped = b->tank && !isnan(s->surface_z_m) && !s->unmixed;
    for (size_t j = 0; j < b->grid->nz; j++) {
        s->row_water[j] = lumped ? h->n : UF_HEAT_NONE;
    }
    if (lumped) {
        h->water = h->n;
        h->n_water = 1;
        s->water_edge_m[0] = fmax(s->surface_z_m, inside->top_m);
        s->water_edge_m[1] = inside->bottom_m;
        if (uf_case_water(b->design) == UF_WATER_LAYERED) {
            h->n_water = number_rows(b);
            part_uppermost(b);
        }
        h->n += h->n_water;
    }
    if (b->tank && (isnan(s->surface_z_m) || s->surface_z_m > inside->top_m)) {
        h->air = h->n++;
    }
}

/* The substance of a body: what fills it, and the shell's heat capacity, over its volume. */
static uint16_t body_material(struct uf_build *b, const struct uf_material *body, double volume_m3,
                              double wall_m3)
{
    struct uf_heat *h = b->heat;
    struct uf_material wall;
    uf_material_inert(&wall, "shell", 1.0, UF_SECTION_WALL_J_M3K);
    const struct uf_material *const parts[2] = {body, &wall};
    const double shares[2] = {1.0, wall_m3 / volume_m3};
    if (b->status == UF_OK) {
        b->status =
            uf_material_blend(&h->materials[h->n_materials], body->name, parts, shares, 2, b->err);
        h->n_materials++;
    }
    return (uint16_t)(h->n_materials - 1);
}

/* Room inside below a depth, all slices, and with the shell. */
static double inside_below_m3(const struct uf_build *b, double z_m)
{
    double sum_m3 = 0.0;
    for (size_t k = 0; k < b->grid->ny; k++) {
        const struct uf_slice *s = &b->section->slices[k];
        sum_m3 += s->inside_m * uf_outline_area_below_m2(&s->inside, z_m, b->grid->radial);
    }
    return sum_m3;
}

static double outside_below_m3(const struct uf_build *b, double z_m)
{
    double sum_m3 = 0.0;
    for (size_t k = 0; k < b->grid->ny; k++) {
        const struct uf_slice *s = &b->section->slices[k];
        sum_m3 += s->thick_m * uf_outline_area_below_m2(&s->outline, z_m, b->grid->radial);
    }
    return sum_m3;
}

/* Area of the water's rows where they meet, or of its surface. */
static double level_m2(const struct uf_build *b, double z_m)
{
    double sum_m2 = 0.0;
    for (size_t k = 0; k < b->grid->ny; k++) {
        const struct uf_slice *s = &b->section->slices[k];
        sum_m2 += s->inside_m * uf_outline_chord_m(&s->inside, z_m, b->grid->radial);
    }
    return sum_m2;
}

/* Inner wall that water wets: along the straight part, and as much of the end as of the
   section. */
static double wetted_m2(const struct uf_build *b, double z_m)
{
    const struct uf_outline *inside = &b->section->slices[0].inside;
    const struct uf_tank *tank = &b->design->tank;
    const double around_m = uf_outline_perimeter_below_m(inside, z_m, b->grid->radial);
    if (b->grid->ny == 1) {
        return around_m;
    }
    return 0.5 * tank->length_m * around_m +
           0.25 * uf_tank_end_area_m2(tank) * uf_outline_area_below_m2(inside, z_m, false) /
               uf_outline_area_below_m2(inside, inside->top_m, false);
}

void uf_section_bodies(struct uf_build *b)
{
    struct uf_heat *h = b->heat;
    const double level_m = b->section->surface_z_m;
    const double *edge_m = b->section->water_edge_m;
    const double all_m3 = inside_below_m3(b, -1e9);
    const double shell_m3 = outside_below_m3(b, -1e9) - all_m3;
    const bool empty = isnan(level_m);
    h->water_m3 = empty ? 0.0 : inside_below_m3(b, level_m);
    const double wet_shell_m3 = empty ? 0.0 : outside_below_m3(b, level_m) - h->water_m3;
    h->wetted_m2 = empty ? 0.0 : wetted_m2(b, level_m);
    if (h->n_water > 0) {
        const uint16_t material =
            body_material(b, &h->materials[b->water], h->water_m3, wet_shell_m3);
        for (size_t r = 0; r < h->n_water; r++) {
            h->material[h->water + r] = material;
            h->volume_m3[h->water + r] =
                inside_below_m3(b, edge_m[r]) - inside_below_m3(b, edge_m[r + 1]);
        }
    }
    if (h->air != UF_HEAT_NONE) {
        struct uf_material air;
        h->volume_m3[h->air] = all_m3 - h->water_m3;
        const double least_m3 =
            empty ? 0.0 : least_air_m(b->design->grid.finest_m) * level_m2(b, level_m);
        uf_material_inert(&air, "air in the tank", 0.025,
                          AIR_BODY_J_M3K * fmax(1.0, least_m3 / h->volume_m3[h->air]));
        h->material[h->air] = body_material(b, &air, h->volume_m3[h->air], shell_m3 - wet_shell_m3);
    }
}

/* Between the water's rows: conduction from middle to middle. */
static void connect_rows(struct uf_build *b)
{
    struct uf_heat *h = b->heat;
    const double *edge_m = b->section->water_edge_m;
    for (size_t r = 0; r + 1 < h->n_water; r++) {
        const double chord_m2 = level_m2(b, edge_m[r + 1]);
        h->links[h->n_links++] =
            (struct uf_heat_link){.a = h->water + r,
                                  .b = h->water + r + 1,
                                  .area_m2 = chord_m2,
                                  .length_a_m = 0.5 * (edge_m[r + 1] - edge_m[r]),
                                  .length_b_m = 0.5 * (edge_m[r + 2] - edge_m[r + 1]),
                                  .material_a = (uint16_t)b->water,
                                  .material_b = (uint16_t)b->water};
    }
}

void uf_section_connect_bodies(struct uf_build *b)
{
    struct uf_heat *h = b->heat;
    connect_rows(b);
    uf_section_connect_risers(b);
    uf_section_connect_standpipes(b);
    if (h->water != UF_HEAT_NONE && h->air != UF_HEAT_NONE) {
        h->links[h->n_links++] =
            (struct uf_heat_link){.a = h->water,
                                  .b = h->air,
                                  .area_m2 = level_m2(b, b->section->surface_z_m),
                                  .fixed_m2K_W = UF_SECTION_AIR_FILM_M2K_W};
    }
    if (!isnan(b->design->tank.hold_degC)) {
        h->held = h->water;
    }
}
