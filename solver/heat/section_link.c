#include "section_private.h"
#include "solver/base/constants.h"

#include <math.h>
#include <string.h>

/* Film on the inner face of a wetted wall: slow free convection, 60 W/(m2 K), low end of the
   handbooks' range (common practice, no source): the wall is then taken colder than it is. */
static const double WATER_FILM_M2K_W = 1.0 / 60.0;

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

static double share_of(const struct uf_build *b, const struct uf_outline *outline, size_t i,
                       size_t j)
{
    const struct uf_grid *g = b->grid;
    return uf_outline_share(outline, g->x_edge_m[i], g->x_edge_m[i + 1], g->z_edge_m[j],
                            g->z_edge_m[j + 1], g->radial);
}

/* Ground in a cell whose centre lies in the tank goes to its neighbours in the ground. */
static void hand_over(struct uf_build *b, size_t i, size_t j, double volume_m3)
{
    const struct uf_grid *g = b->grid;
    size_t neighbours[4];
    size_t n = 0;
    const size_t c = uf_grid_at(g, i, j);
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
    const double shares[3] = {1.0 - outer, outer - inner, inner / b->ends};
    if (b->status == UF_OK) {
        b->status =
            uf_material_blend(&h->materials[h->n_materials], "cut cell", parts, shares, 3, b->err);
        h->material[c] = (uint16_t)h->n_materials++;
    }
}

static void cell_volume(struct uf_build *b, size_t i, size_t j)
{
    struct uf_heat *h = b->heat;
    const size_t c = uf_grid_at(b->grid, i, j);
    const double volume_m3 = uf_section_volume_m3(b->grid, i, j);
    const double outer = b->tank ? share_of(b, &b->outline, i, j) : 0.0;
    const double inner = b->tank ? share_of(b, &b->inside, i, j) : 0.0;
    const bool wet = b->kind[c] == UF_CELL_WATER ||
                     (b->kind[c] == UF_CELL_GROUND && b->grid->z_m[j] > b->section->surface_z_m);
    if (b->section->unmixed && wet && b->kind[c] != UF_CELL_AIR) {
        h->volume_m3[c] = volume_m3;
        if (outer > 0.0 && !(inner >= 1.0 && b->ends == 1.0)) {
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
    if (b->tank && b->status == UF_OK) {
        uf_section_bodies(b);
    }
}

/* One face between cells a and b (b right of or below a): its area and the lengths to it. */
struct face {
    size_t a, b;
    bool along_x;
    double area_m2, to_a_m, to_b_m;
};

static struct face face_x(const struct uf_grid *g, size_t i, size_t j)
{
    const double dz = g->z_edge_m[j + 1] - g->z_edge_m[j];
    const double e = g->x_edge_m[i + 1];
    struct face f = {.a = uf_grid_at(g, i, j), .b = uf_grid_at(g, i + 1, j), .along_x = true};
    f.area_m2 = g->radial ? 2.0 * UF_PI * e * dz : dz;
    f.to_a_m = g->radial ? e * log(e / g->x_m[i]) : e - g->x_m[i];
    f.to_b_m = g->radial ? e * log(g->x_m[i + 1] / e) : g->x_m[i + 1] - e;
    return f;
}

static struct face face_z(const struct uf_grid *g, size_t i, size_t j)
{
    const double e = g->z_edge_m[j + 1];
    return (struct face){.a = uf_grid_at(g, i, j),
                         .b = uf_grid_at(g, i, j + 1),
                         .area_m2 = uf_section_plan_m2(g, i),
                         .to_a_m = e - g->z_m[j],
                         .to_b_m = g->z_m[j + 1] - e};
}

/* Thickness of the flat wall that resists as much, on the outer surface, which the links' areas add
   up to: R ln(R/Ri) for a round one. */
static double equivalent_wall_m(const struct uf_build *b)
{
    const double R = b->outline.half_m;
    return b->outline.circle ? R * log(R / b->inside.half_m) : b->outline.wall_m;
}

/* What lies on the inner face of a round wall acts on less of it: outer area over inner. */
static double area_ratio(const struct uf_build *b)
{
    return b->outline.circle ? b->outline.half_m / b->inside.half_m : 1.0;
}

/* A link through the shell: ground, wall, then the film of a body or the contents' own length. */
static void connect_wall(struct uf_build *b, const struct face *f)
{
    struct uf_heat *h = b->heat;
    const size_t nx = b->grid->nx;
    const bool a_ground = b->kind[f->a] == UF_CELL_GROUND;
    const size_t ground = a_ground ? f->a : f->b;
    const size_t wet = a_ground ? f->b : f->a;
    const double x_m = b->grid->x_m[ground % nx];
    const double z_m = b->grid->z_m[ground / nx];
    const bool water = b->kind[wet] == UF_CELL_WATER;
    const bool lumped = !water || !b->section->unmixed;
    double distance_m = 0.0;
    double normal = 1.0;
    uf_outline_cross(&b->outline, f->along_x, x_m, z_m, &distance_m, &normal);
    const double wall_m = b->outline.wall_m / normal;
    const double film =
        lumped ? (water ? WATER_FILM_M2K_W : UF_SECTION_AIR_FILM_M2K_W) * area_ratio(b) / normal
               : 0.0;
    struct uf_heat_link link = {.a = ground,
                                .b = uf_section_node(b, wet),
                                .area_m2 = f->area_m2,
                                .length_a_m = fmax(distance_m, 1e-4),
                                .material_a = h->conducts[ground],
                                .material_b = (uint16_t)b->water,
                                .inner_m2K_W = film,
                                .wetted = water};
    if (b->outline.wall_m > 0.0) {
        link.fixed_m2K_W = equivalent_wall_m(b) / normal / b->design->tank.wall_k_W_mK;
    }
    link.fixed_m2K_W += film;
    if (!lumped) {
        link.length_b_m = fmax(f->to_a_m + f->to_b_m - distance_m - wall_m, 1e-4);
    }
    if (!f->along_x && ground % nx == 0) {
        *(ground < wet ? &b->section->crown_link : &b->section->invert_link) = h->n_links;
    }
    h->links[h->n_links++] = link;
}

/* Between two cells inside the tank: still water conducts; its surface meets the air. */
static void connect_inside(struct uf_build *b, const struct face *f)
{
    struct uf_heat *h = b->heat;
    const bool a_water = b->kind[f->a] == UF_CELL_WATER;
    const bool b_water = b->kind[f->b] == UF_CELL_WATER;
    if (!b->section->unmixed || (!a_water && !b_water)) {
        return;
    }
    h->links[h->n_links++] =
        (struct uf_heat_link){.a = uf_section_node(b, f->a),
                              .b = uf_section_node(b, f->b),
                              .area_m2 = f->area_m2,
                              .fixed_m2K_W = a_water && b_water ? 0.0 : UF_SECTION_AIR_FILM_M2K_W,
                              .length_a_m = a_water ? f->to_a_m : 0.0,
                              .length_b_m = b_water ? f->to_b_m : 0.0,
                              .material_a = (uint16_t)b->water,
                              .material_b = (uint16_t)b->water};
}

static void connect_face(struct uf_build *b, const struct face *f)
{
    struct uf_heat *h = b->heat;
    const bool a_ground = b->kind[f->a] == UF_CELL_GROUND;
    const bool b_ground = b->kind[f->b] == UF_CELL_GROUND;
    const bool same = b->kind[f->a] == b->kind[f->b] && h->material[f->a] == h->material[f->b] &&
                      h->material[f->a] == h->conducts[f->a];
    const bool body = !b->section->unmixed || b->kind[f->a] == UF_CELL_AIR;
    if (a_ground != b_ground) {
        connect_wall(b, f);
    } else if (same && (a_ground || !body)) {
        *(f->along_x ? &h->gx_m[f->a] : &h->gz_m[f->a]) = f->area_m2 / (f->to_a_m + f->to_b_m);
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
static struct uf_heat_top lid_of(struct uf_build *b, size_t i, uint16_t material)
{
    const struct uf_heat *h = b->heat;
    const bool water = b->kind[i] == UF_CELL_WATER;
    const bool lumped = !water || !b->section->unmixed;
    const double half_m = 0.5 * (b->grid->z_edge_m[1] - b->grid->z_edge_m[0]);
    const double film = water ? WATER_FILM_M2K_W : UF_SECTION_AIR_FILM_M2K_W;
    const double wall_m2K_W =
        b->outline.wall_m > 0.0 ? b->outline.wall_m / b->design->tank.wall_k_W_mK : 0.0;
    const struct uf_material *still = &h->materials[b->water];
    /* However well it is stirred, water keeps its film at the wall. */
    const double inner_m2K_W = lumped ? film : fmax(film, half_m / still->k_W_mK[still->n - 1]);
    return (struct uf_heat_top){.cell = uf_section_node(b, i),
                                .area_m2 = uf_section_plan_m2(b->grid, i),
                                .half_m = wall_m2K_W + inner_m2K_W,
                                .material = material,
                                .lid = true,
                                .wetted = water,
                                .inner_m2K_W = inner_m2K_W};
}

static void connect_tops(struct uf_build *b)
{
    const struct uf_grid *g = b->grid;
    struct uf_heat *h = b->heat;
    const uint16_t lid = (uint16_t)h->n_materials;
    if (b->tank) {
        uf_material_inert(&h->materials[h->n_materials++], "lid", 1.0, UF_SECTION_WALL_J_M3K);
    }
    for (size_t i = 0; i < g->nx; i++) {
        h->tops[h->n_tops++] =
            b->kind[i] != UF_CELL_GROUND
                ? lid_of(b, i, lid)
                : (struct uf_heat_top){.cell = i,
                                       .area_m2 = uf_section_plan_m2(g, i),
                                       .half_m = 0.5 * (g->z_edge_m[1] - g->z_edge_m[0]),
                                       .material = h->conducts[i]};
        h->bottom_W[i] = b->design->ground.geothermal_W_m2 * uf_section_plan_m2(g, i);
    }
}

void uf_section_connect(struct uf_build *b)
{
    const struct uf_grid *g = b->grid;
    for (size_t j = 0; j < g->nz; j++) {
        for (size_t i = 0; i < g->nx; i++) {
            if (i + 1 < g->nx) {
                const struct face f = face_x(g, i, j);
                connect_face(b, &f);
            }
            if (j + 1 < g->nz) {
                const struct face f = face_z(g, i, j);
                connect_face(b, &f);
            }
        }
    }
    connect_tops(b);
    if (b->tank) {
        uf_section_connect_bodies(b);
    }
}
