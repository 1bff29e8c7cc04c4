#include "section_private.h"
#include "solver/base/constants.h"

#include <math.h>
#include <string.h>

static const double WATER_FILM_M2K_W = 1.0 / UF_SECTION_WATER_FILM_W_M2K;

double uf_section_plan_m2(const struct uf_grid *grid, size_t i)
{
    const double a = grid->x_edge_m[i];
    const double b = grid->x_edge_m[i + 1];
    return grid->radial ? UF_PI * (b * b - a * a) : b - a;
}

double uf_section_volume_m3(const struct uf_grid *grid, size_t i, size_t j)
{
    return uf_section_plan_m2(grid, i) * (grid->z_edge_m[j + 1] - grid->z_edge_m[j]);
}

double uf_section_share(const struct uf_grid *g, const struct uf_outline *outline, size_t i,
                        size_t j)
{
    return uf_outline_share(outline, g->x_edge_m[i], g->x_edge_m[i + 1], g->z_edge_m[j],
                            g->z_edge_m[j + 1], g->radial);
}

/* Ground in a cell whose centre lies in the tank goes to its neighbours in the ground. */
static void hand_over(struct uf_build *b, size_t i, size_t j, double volume_m3)
{
    const struct uf_grid *g = b->grid;
    size_t neighbours[4];
    size_t n = 0;
    const size_t c = uf_grid_in(g, i, j, b->k);
    if (i + 1 < g->nx) {
        neighbours[n++] = c + 1;
    }
    if (j > 0) {
        neighbours[n++] = c - g->nx;
    }
    if (j + 1 < g->nz) {
        neighbours[n++] = c + g->nx;
    }
    size_t takers = 0;
    for (size_t k = 0; k < n; k++) {
        takers += b->kind[neighbours[k]] == UF_CELL_GROUND;
    }
    for (size_t k = 0; k < n && takers > 0; k++) {
        if (b->kind[neighbours[k]] == UF_CELL_GROUND) {
            b->heat->volume_m3[neighbours[k]] += volume_m3 / (double)takers;
        }
    }
}

/* A cell that holds ground, shell and contents at one temperature. */
static void blend_cell(struct uf_build *b, size_t c, double outer, double inner)
{
    struct uf_heat *h = b->heat;
    struct uf_material wall;
    /* The ground of a cell whose centre is wet: that of the nearest cell outside. */
    size_t ground = c;
    while (b->kind[ground] != UF_CELL_GROUND && (ground + 1) % b->grid->nx != 0) {
        ground++;
    }
    uf_material_inert(&wall, "shell", 1.0, UF_SECTION_WALL_J_M3K);
    const struct uf_material *const parts[3] = {&h->materials[h->conducts[ground]], &wall,
                                                &h->materials[b->water]};
    const double shares[3] = {1.0 - outer, outer - inner, inner};
    if (b->status == UF_OK) {
        b->status =
            uf_material_blend(&h->materials[h->n_materials], "cut cell", parts, shares, 3, b->err);
        h->material[c] = (uint16_t)h->n_materials++;
    }
}

static void cell_volume(struct uf_build *b, size_t i, size_t j)
{
    struct uf_heat *h = b->heat;
    const size_t c = uf_grid_in(b->grid, i, j, b->k);
    const double volume_m3 = uf_section_volume_m3(b->grid, i, j) * b->slice.thick_m;
    const double outer = b->tank ? uf_section_share(b->grid, &b->outline, i, j) : 0.0;
    const double inner =
        b->tank ? uf_section_share(b->grid, &b->inside, i, j) * b->slice.inside_m / b->slice.thick_m
                : 0.0;
    const bool wet = b->kind[c] == UF_CELL_WATER ||
                     (b->kind[c] == UF_CELL_GROUND && b->grid->z_m[j] > b->section->surface_z_m);
    if (b->section->unmixed && wet && b->kind[c] != UF_CELL_AIR) {
        h->volume_m3[c] = volume_m3;
        if (outer > 0.0 && inner < 1.0) {
            blend_cell(b, c, outer, inner);
        }
    } else if (b->kind[c] == UF_CELL_GROUND) {
        h->volume_m3[c] += volume_m3 * (1.0 - outer);
    } else {
        hand_over(b, i, j, volume_m3 * (1.0 - outer));
    }
}

void uf_section_volumes(struct uf_build *b)
{
    for (size_t j = 0; j < b->grid->nz; j++) {
        for (size_t i = 0; i < b->grid->nx && b->status == UF_OK; i++) {
            cell_volume(b, i, j);
        }
    }
}

static struct uf_section_face face_x(const struct uf_build *b, size_t i, size_t j)
{
    const struct uf_grid *g = b->grid;
    const double side_m2 = (g->z_edge_m[j + 1] - g->z_edge_m[j]) * b->slice.thick_m;
    const double e = g->x_edge_m[i + 1];
    struct uf_section_face f = {.a = uf_grid_in(g, i, j, b->k),
                                .b = uf_grid_in(g, i + 1, j, b->k),
                                .along_x = true,
                                .structured = b->heat->gx_m};
    f.area_m2 = g->radial ? 2.0 * UF_PI * e * side_m2 : side_m2;
    f.to_a_m = g->radial ? e * log(e / g->x_m[i]) : e - g->x_m[i];
    f.to_b_m = g->radial ? e * log(g->x_m[i + 1] / e) : g->x_m[i + 1] - e;
    return f;
}

static struct uf_section_face face_z(const struct uf_build *b, size_t i, size_t j)
{
    const struct uf_grid *g = b->grid;
    const double e = g->z_edge_m[j + 1];
    return (struct uf_section_face){.a = uf_grid_in(g, i, j, b->k),
                                    .b = uf_grid_in(g, i, j + 1, b->k),
                                    .area_m2 = uf_section_plan_m2(g, i) * b->slice.thick_m,
                                    .to_a_m = e - g->z_m[j],
                                    .to_b_m = g->z_m[j + 1] - e,
                                    .structured = b->heat->gz_m};
}

/* Thickness of the flat wall that resists as much, on the outer surface, which the links' areas add
   up to: R ln(R/Ri) for a round one. */
static double equivalent_wall_m(const struct uf_slice *s)
{
    const double R = s->outline.half_m;
    return s->outline.circle ? R * log(R / s->inside.half_m) : s->outline.wall_m;
}

/* What lies on the inner face of a round wall acts on less of it: outer area over inner. */
static double area_ratio(const struct uf_slice *s)
{
    return s->outline.circle ? s->outline.half_m / s->inside.half_m : 1.0;
}

/* Where the uppermost row of water is parted, so is the wall beside it; what lies over it meets its upper
   part. */
static void add_wall(struct uf_build *b, const struct uf_heat_link *link)
{
    struct uf_heat *h = b->heat;
    const bool parted = b->parted && link->wetted && link->b == h->water + 1;
    const bool over = b->grid->z_m[uf_grid_j(b->grid, link->a)] < b->section->water_edge_m[0];
    const double upper = !parted ? 0.0 : over ? 1.0 : UF_SECTION_UPPER_PART;
    const double shares[2] = {upper, 1.0 - upper};
    for (size_t part = 0; part < 2; part++) {
        if (shares[part] > 0.0) {
            h->links[h->n_links] = *link;
            h->links[h->n_links].area_m2 *= shares[part];
            h->links[h->n_links++].b -= part == 0;
        }
    }
}

/* A link through the shell: ground, wall, then the film of a body or the contents' own
 * length. */
void uf_section_link_wall(struct uf_build *b, const struct uf_section_way *way)
{
    struct uf_heat *h = b->heat;
    const double wall_m = b->section->outline.wall_m / way->normal;
    const bool lumped = !way->water || !b->section->unmixed;
    const double film = lumped ? (way->water ? WATER_FILM_M2K_W : UF_SECTION_AIR_FILM_M2K_W) *
                                     way->narrower / way->normal
                               : 0.0;
    struct uf_heat_link link = {.a = way->ground,
                                .b = way->body,
                                .area_m2 = way->area_m2,
                                .length_a_m = fmax(way->distance_m, 1e-4),
                                .material_a = h->conducts[way->ground],
                                .material_b = (uint16_t)b->water,
                                .inner_m2K_W = film,
                                .wetted = way->water};
    if (wall_m > 0.0) {
        link.fixed_m2K_W = way->wall_m / way->normal / b->design->tank.wall_k_W_mK;
    }
    link.fixed_m2K_W += film;
    if (!lumped) {
        link.length_b_m = fmax(way->to_body_m - way->distance_m - wall_m, 1e-4);
    }
    add_wall(b, &link);
}

static void connect_wall(struct uf_build *b, const struct uf_section_face *f)
{
    const struct uf_grid *g = b->grid;
    const struct uf_slice *mid = &b->section->slices[0];
    const size_t ground = b->kind[f->a] == UF_CELL_GROUND ? f->a : f->b;
    const size_t wet = ground == f->a ? f->b : f->a;
    struct uf_section_way way = {.ground = ground,
                                 .body = uf_section_node(b, wet),
                                 .water = b->kind[wet] == UF_CELL_WATER,
                                 .area_m2 = f->area_m2,
                                 .to_body_m = f->to_a_m + f->to_b_m,
                                 .wall_m = equivalent_wall_m(mid),
                                 .narrower = area_ratio(mid)};
    uf_outline_cross(&b->outline, f->along_x, g->x_m[uf_grid_i(g, ground)],
                     g->z_m[uf_grid_j(g, ground)], &way.distance_m, &way.normal);
    way.normal *= b->slice.lean;
    if (!f->along_x && uf_grid_i(g, ground) == 0 && b->k == 0) {
        *(ground == f->a ? &b->section->crown_link : &b->section->invert_link) = b->heat->n_links;
    }
    uf_section_link_wall(b, &way);
}

/* Water that conducts better than ice has nothing to resist before the film at its surface. Were half a
   row counted there, ice would take part of the air's temperature for its own, and the step suffer. */
static bool is_stirred(const struct uf_build *b)
{
    const struct uf_material *water = &b->heat->materials[b->water];
    return water->k_W_mK[water->n - 1] > water->k_W_mK[0];
}

/* Between two cells inside the tank: still water conducts; its surface meets the air. */
static void connect_inside(struct uf_build *b, const struct uf_section_face *f)
{
    struct uf_heat *h = b->heat;
    const bool a_water = b->kind[f->a] == UF_CELL_WATER;
    const bool b_water = b->kind[f->b] == UF_CELL_WATER;
    if (!b->section->unmixed || (!a_water && !b_water)) {
        return;
    }
    const bool film_alone = a_water != b_water && is_stirred(b);
    h->links[h->n_links++] =
        (struct uf_heat_link){.a = uf_section_node(b, f->a),
                              .b = uf_section_node(b, f->b),
                              .area_m2 = f->area_m2,
                              .fixed_m2K_W = a_water && b_water ? 0.0 : UF_SECTION_AIR_FILM_M2K_W,
                              .length_a_m = a_water && !film_alone ? f->to_a_m : 0.0,
                              .length_b_m = b_water && !film_alone ? f->to_b_m : 0.0,
                              .material_a = (uint16_t)b->water,
                              .material_b = (uint16_t)b->water};
}

void uf_section_connect_face(struct uf_build *b, const struct uf_section_face *f)
{
    struct uf_heat *h = b->heat;
    const bool a_ground = b->kind[f->a] == UF_CELL_GROUND;
    const bool b_ground = b->kind[f->b] == UF_CELL_GROUND;
    const bool same = b->kind[f->a] == b->kind[f->b] && h->material[f->a] == h->material[f->b] &&
                      h->material[f->a] == h->conducts[f->a] &&
                      h->material[f->b] == h->conducts[f->b];
    const bool body = !b->section->unmixed || b->kind[f->a] == UF_CELL_AIR;
    if (a_ground != b_ground) {
        connect_wall(b, f);
    } else if (same && (a_ground || !body)) {
        f->structured[f->a] = f->area_m2 / (f->to_a_m + f->to_b_m);
    } else if (!a_ground) {
        connect_inside(b, f);
    } else {
        h->links[h->n_links++] = (struct uf_heat_link){.a = f->a,
                                                       .b = f->b,
                                                       .area_m2 = f->area_m2,
                                                       .length_a_m = f->to_a_m,
                                                       .length_b_m = f->to_b_m,
                                                       .material_a = h->conducts[f->a],
                                                       .material_b = h->conducts[f->b]};
    }
}

/* A column's way to the surface where the tank lies in its topmost cell. What ground
   there is between is left out, which is the cold side. */
static struct uf_heat_top lid_of(struct uf_build *b, size_t i, size_t c)
{
    const struct uf_heat *h = b->heat;
    const bool water = b->kind[c] == UF_CELL_WATER;
    const bool lumped = !water || !b->section->unmixed;
    const double half_m = 0.5 * (b->grid->z_edge_m[1] - b->grid->z_edge_m[0]);
    const double film = water ? WATER_FILM_M2K_W : UF_SECTION_AIR_FILM_M2K_W;
    const double wall_m2K_W =
        b->outline.wall_m > 0.0 ? b->outline.wall_m / b->design->tank.wall_k_W_mK : 0.0;
    const struct uf_material *still = &h->materials[b->water];
    /* However well it is stirred, water keeps its film at the wall. */
    const double inner_m2K_W = lumped ? film : fmax(film, half_m / still->k_W_mK[still->n - 1]);
    return (struct uf_heat_top){.cell = water && lumped ? h->water : uf_section_node(b, c),
                                .area_m2 = uf_section_plan_m2(b->grid, i) * b->slice.thick_m,
                                .half_m = wall_m2K_W + inner_m2K_W,
                                .material = b->lid,
                                .lid = true,
                                .wetted = water,
                                .inner_m2K_W = inner_m2K_W};
}

static void connect_tops(struct uf_build *b)
{
    const struct uf_grid *g = b->grid;
    struct uf_heat *h = b->heat;
    if (b->tank && b->k == 0) {
        b->lid = (uint16_t)h->n_materials++;
        uf_material_inert(&h->materials[b->lid], "lid", 1.0, UF_SECTION_WALL_J_M3K);
    }
    for (size_t i = 0; i < g->nx; i++) {
        const size_t c = uf_grid_in(g, i, 0, b->k);
        const double plan_m2 = uf_section_plan_m2(g, i) * b->slice.thick_m;
        h->tops[h->n_tops++] =
            b->kind[c] != UF_CELL_GROUND
                ? lid_of(b, i, c)
                : (struct uf_heat_top){.cell = c,
                                       .area_m2 = plan_m2,
                                       .half_m = 0.5 * (g->z_edge_m[1] - g->z_edge_m[0]),
                                       .material = h->conducts[c]};
        h->bottom_W[b->k * g->nx + i] = b->design->ground.geothermal_W_m2 * plan_m2;
    }
}

void uf_section_connect(struct uf_build *b)
{
    const struct uf_grid *g = b->grid;
    for (size_t j = 0; j < g->nz; j++) {
        for (size_t i = 0; i < g->nx; i++) {
            if (i + 1 < g->nx) {
                const struct uf_section_face f = face_x(b, i, j);
                uf_section_connect_face(b, &f);
            }
            if (j + 1 < g->nz) {
                const struct uf_section_face f = face_z(b, i, j);
                uf_section_connect_face(b, &f);
            }
        }
    }
    connect_tops(b);
}
