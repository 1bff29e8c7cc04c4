#include "section.h"

#include "section_private.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool allocate(struct uf_section *s, size_t n_cells)
{
    struct uf_heat *h = s->heat;
    const struct uf_grid *g = s->grid;
    const size_t nodes = n_cells + g->nz + 1; /* a node of water a row, and the air */
    /* some in use: each is written whole, and what is not read need not be cleared */
    h->materials = malloc((n_cells + UF_MAX_MATERIALS + 5) * sizeof *h->materials);
    h->material = calloc(nodes, sizeof *h->material);
    h->conducts = calloc(nodes, sizeof *h->conducts);
    h->volume_m3 = calloc(nodes, sizeof *h->volume_m3);
    h->gx_m = calloc(n_cells, sizeof *h->gx_m);
    h->gz_m = calloc(n_cells, sizeof *h->gz_m);
    h->gy_m = calloc(n_cells, sizeof *h->gy_m);
    h->links = calloc(4 * n_cells + g->nz + 2, sizeof *h->links);
    h->shafts = calloc((UF_MAX_RISERS * g->nz + UF_MAX_STANDPIPES * (g->nz + 2)) * g->ny,
                       sizeof *h->shafts);
    h->tops = calloc(g->nx * g->ny, sizeof *h->tops);
    h->bottom_W = calloc(g->nx * g->ny, sizeof *h->bottom_W);
    s->shown = calloc(n_cells, sizeof *s->shown);
    s->row_water = calloc(g->nz, sizeof *s->row_water);
    s->water_edge_m = calloc(g->nz + 2, sizeof *s->water_edge_m);
    s->slices = calloc(g->ny, sizeof *s->slices);
    return h->materials && h->material && h->conducts && h->volume_m3 && h->gx_m && h->gz_m &&
           h->gy_m && h->links && h->shafts && h->tops && h->bottom_W && s->shown && s->row_water &&
           s->water_edge_m && s->slices;
}

/* Where the water's surface stands; NAN for an empty tank, above the crown for a full one. */
static double water_surface_m(const struct uf_case *design, const struct uf_outline *inside)
{
    const double level_m = design->tank.level_m;
    const double height_m = inside->bottom_m - inside->top_m;
    if (!(level_m > 1e-6)) {
        return NAN;
    }
    return level_m >= height_m - 1e-6 ? inside->top_m - 1e3 : inside->bottom_m - level_m;
}

/* What the section's water is of the whole tank's; see section.h. */
static double whole_share(const struct uf_tank *tank, const struct uf_grid *grid)
{
    if (uf_shape_is_radial(tank)) {
        return 1.0;
    }
    return grid->ny > 1 ? 0.25 : 0.5 / uf_tank_plan_length_m(tank);
}

static void prepare_tank(struct uf_build *b)
{
    struct uf_section *s = b->section;
    b->dig = uf_dig_of(b->design);
    for (size_t k = 0; k < b->grid->ny; k++) {
        s->slices[k] = uf_slice_of(b->design, b->grid, k);
    }
    s->outline = s->slices[0].outline;
    s->whole_share = whole_share(&b->design->tank, b->grid);
    s->surface_z_m = water_surface_m(b->design, &s->slices[0].inside);
    s->unmixed = uf_case_water(b->design) == UF_WATER_UNMIXED;
}

size_t uf_section_body_node(const struct uf_build *b, size_t cell)
{
    const size_t j = uf_grid_j(b->grid, cell);
    return b->grid->z_m[j] > b->section->surface_z_m ? b->section->row_water[j] : b->heat->air;
}

size_t uf_section_node(const struct uf_build *b, size_t cell)
{
    const bool own =
        b->kind[cell] == UF_CELL_GROUND || (b->kind[cell] == UF_CELL_WATER && b->section->unmixed);
    return own ? cell : uf_section_body_node(b, cell);
}

size_t uf_section_under_risers(const struct uf_build *b)
{
    const struct uf_heat *h = b->heat;
    const size_t body = h->air != UF_HEAT_NONE ? h->air : h->water;
    size_t c = 0;
    while (body == UF_HEAT_NONE && c < h->n_cells && b->kind[c] != UF_CELL_WATER) {
        c += b->grid->nx;
    }
    return body == UF_HEAT_NONE && c < h->n_cells ? c : body;
}

static bool has_cell(const struct uf_build *b, enum uf_cell_kind kind)
{
    for (size_t c = 0; c < b->heat->n_cells; c++) {
        if (b->kind[c] == kind) {
            return true;
        }
    }
    return false;
}

/* Air over still water that no cell holds: nothing would touch it, and what a riser loses
   would not reach the water. The tank is taken as full. */
static void leave_out_thin_air(struct uf_build *b)
{
    if (b->section->unmixed && b->section->surface_z_m > b->section->slices[0].inside.top_m &&
        has_cell(b, UF_CELL_WATER) && !has_cell(b, UF_CELL_AIR)) {
        b->section->surface_z_m = b->section->slices[0].inside.top_m - 1e3;
    }
}

static void each_slice(struct uf_build *b, void (*work)(struct uf_build *))
{
    for (b->k = 0; b->k < b->grid->ny && b->status == UF_OK; b->k++) {
        b->slice = b->section->slices[b->k];
        b->outline = b->slice.outline;
        b->inside = b->slice.inside;
        work(b);
    }
}

static void build_all(struct uf_build *b)
{
    const struct uf_outline *outline = &b->section->outline;
    for (size_t k = 0; k < b->grid->ny; k++) {
        b->section->slices[k].thick_m = b->grid->y_edge_m[k + 1] - b->grid->y_edge_m[k];
    }
    for (size_t i = 0; i < UF_MAX_LAYERS; i++) {
        b->layer[i][0] = b->layer[i][1] = -1;
    }
    b->backfill[0] = b->backfill[1] = b->bedding[0] = b->bedding[1] = -1;
    b->board = b->water = b->air = -1;
    b->section->surface_z_m = NAN;
    b->section->crown_link = b->section->invert_link = UF_HEAT_NONE;
    if (b->tank) {
        prepare_tank(b);
        uf_section_add_bodies(b);
    }
    each_slice(b, uf_section_paint);
    if (b->status == UF_OK && b->tank && !has_cell(b, UF_CELL_WATER) && !has_cell(b, UF_CELL_AIR)) {
        b->status = uf_fail_key(
            b->err, UF_E_RANGE, "grid.finest",
            UF_PLAIN("the tank lies between the centres of the cells"),
            UF_SAID("below {}", UF_ABOUT(THICKNESS, 3,
                                         0.5 * fmin(outline->half_m,
                                                    0.5 * (outline->bottom_m - outline->top_m)))));
    }
    if (b->status == UF_OK) {
        leave_out_thin_air(b);
        uf_section_rows(b);
    }
    each_slice(b, uf_section_volumes);
    if (b->status == UF_OK) {
        uf_section_thin(b);
    }
    if (b->status == UF_OK && b->tank) {
        uf_section_bodies(b);
    }
    each_slice(b, uf_section_connect);
    each_slice(b, uf_section_connect_next);
    if (b->status == UF_OK && b->tank) {
        uf_section_connect_bodies(b);
    }
}

/* What a section is to be made of. */
struct plan {
    const struct uf_case *design;
    struct uf_grid *grid; /* taken over, unless of a twin */
    bool tank, twin;
    const bool *saturated;
};

static enum uf_status create(struct uf_section **out, const struct plan *plan, struct uf_error *err)
{
    struct uf_section *s = calloc(1, sizeof *s);
    struct uf_grid *grid = plan->grid;
    const size_t n_cells = uf_grid_cells(grid);
    struct uf_build build = {.design = plan->design,
                             .section = s,
                             .grid = grid,
                             .tank = plan->tank,
                             .saturated = plan->saturated,
                             .err = err};
    *out = NULL;
    if (s == NULL) {
        if (!plan->twin) {
            uf_grid_free(grid);
        }
        return uf_fail(err, UF_E_MEMORY, "out of memory for the section");
    }
    s->grid = grid;
    s->twin = plan->twin;
    s->heat = calloc(1, sizeof *s->heat);
    build.heat = s->heat;
    build.kind = calloc(n_cells, sizeof *build.kind);
    if (s->heat == NULL || build.kind == NULL || !allocate(s, n_cells)) {
        build.status =
            uf_fail(err, UF_E_MEMORY, "out of memory for a section of %zu cells", n_cells);
    } else {
        s->heat->grid = grid;
        s->heat->n_cells = s->heat->n = n_cells;
        s->heat->water = s->heat->air = s->heat->held = UF_HEAT_NONE;
        build_all(&build);
    }
    if (build.status == UF_OK && !uf_section_point_walls(s)) {
        build.status = uf_fail(err, UF_E_MEMORY, "out of memory for the section's wall");
    }
    free(build.kind);
    if (build.status != UF_OK) {
        uf_section_free(s);
        return build.status;
    }
    *out = s;
    return UF_OK;
}

enum uf_status uf_section_create(struct uf_section **out, const struct uf_case *design,
                                 double frost_m, struct uf_error *err)
{
    struct uf_grid *grid = NULL;
    *out = NULL;
    const enum uf_status status = uf_grid_for_case(&grid, design, frost_m, err);
    if (status != UF_OK) {
        return status;
    }
    return uf_section_create_on(out, design, grid, err);
}

enum uf_status uf_section_create_on(struct uf_section **out, const struct uf_case *design,
                                    struct uf_grid *grid, struct uf_error *err)
{
    *out = NULL;
    const struct plan plan = {.design = design, .grid = grid, .tank = uf_case_has_tank(design)};
    return create(out, &plan, err);
}

enum uf_status uf_section_twin(struct uf_section **out, const struct uf_section *section,
                               const struct uf_case *design, const bool *saturated,
                               struct uf_error *err)
{
    const struct plan plan = {.design = design,
                              .grid = section->grid,
                              .tank = section->outline.half_m > 0.0,
                              .twin = true,
                              .saturated = saturated};
    const enum uf_status status = create(out, &plan, err);
    if (status == UF_OK) {
        (*out)->heat->inflow_W_K = section->heat->inflow_W_K;
        (*out)->heat->inflow_degC = section->heat->inflow_degC;
    }
    return status;
}

void uf_section_take(struct uf_section *section, struct uf_section *twin)
{
    struct uf_heat *const place = section->heat;
    const struct uf_heat was = *place;
    const struct uf_section old = *section;
    *place = *twin->heat;
    *twin->heat = was;
    *section = *twin;
    section->heat = place;
    section->twin = old.twin;
    struct uf_heat *const spare = twin->heat;
    *twin = old;
    twin->heat = spare;
    twin->twin = true;
    uf_section_free(twin);
}

enum uf_status uf_section_create_column(struct uf_section **out, const struct uf_case *design,
                                        const struct uf_grid *like, struct uf_error *err)
{
    struct uf_grid *grid = NULL;
    double *x_edge_m = calloc(2, sizeof *x_edge_m);
    double *z_edge_m = calloc(like->nz + 1, sizeof *z_edge_m);
    *out = NULL;
    if (x_edge_m == NULL || z_edge_m == NULL) {
        free(x_edge_m);
        free(z_edge_m);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a column");
    }
    x_edge_m[1] = 1.0;
    memcpy(z_edge_m, like->z_edge_m, (like->nz + 1) * sizeof *z_edge_m);
    const enum uf_status status =
        uf_grid_create(&grid, x_edge_m, 1, z_edge_m, like->nz, false, err);
    if (status != UF_OK) {
        return status;
    }
    const struct plan plan = {.design = design, .grid = grid};
    return create(out, &plan, err);
}

void uf_section_free(struct uf_section *section)
{
    if (section != NULL) {
        uf_heat_free(section->heat);
        if (!section->twin) {
            uf_grid_free(section->grid);
        }
        free(section->shown);
        free(section->slices);
        free(section->row_water);
        free(section->water_edge_m);
        free(section->crossings);
        free(section);
    }
}

double uf_section_wall_degC(const struct uf_section *section, const struct uf_heat_link *link,
                            const double *T_degC)
{
    const double W = uf_heat_link_W(section->heat, link, T_degC);
    double inner_m2K_W = link->inner_m2K_W;
    if (link->length_b_m > 0.0) {
        inner_m2K_W +=
            link->length_b_m / uf_material_secant_W_mK(&section->heat->materials[link->material_b],
                                                       T_degC[link->a], T_degC[link->b]);
    }
    return T_degC[link->b] + W * inner_m2K_W / link->area_m2;
}

double uf_section_outer_degC(const struct uf_section *section, const struct uf_heat_link *link,
                             const double *T_degC)
{
    const double W = uf_heat_link_W(section->heat, link, T_degC);
    const struct uf_material *ground = &section->heat->materials[link->material_a];
    const double k_W_mK = uf_material_secant_W_mK(ground, T_degC[link->a], T_degC[link->b]);
    return T_degC[link->a] - W * link->length_a_m / (k_W_mK * link->area_m2);
}

enum uf_section_body uf_section_body_of(const struct uf_section *section, size_t cell)
{
    const struct uf_grid *g = section->grid;
    const struct uf_outline *outline = &section->slices[uf_grid_k(g, cell)].outline;
    const double z_m = g->z_m[uf_grid_j(g, cell)];
    if (!(outline->half_m > 0.0) ||
        !uf_outline_contains(outline, g->x_m[uf_grid_i(g, cell)], z_m)) {
        return UF_SECTION_GROUND;
    }
    return z_m > section->surface_z_m ? UF_SECTION_WATER : UF_SECTION_AIR;
}

void uf_section_cells(const struct uf_section *section, const double *T_degC, double *cells_degC)
{
    const struct uf_heat *h = section->heat;
    for (size_t c = 0; c < h->n_cells; c++) {
        const size_t bodies[] = {[UF_SECTION_GROUND] = UF_HEAT_NONE,
                                 [UF_SECTION_WATER] =
                                     section->row_water[uf_grid_j(section->grid, c)],
                                 [UF_SECTION_AIR] = h->air};
        const size_t body = bodies[uf_section_body_of(section, c)];
        cells_degC[c] = T_degC[body != UF_HEAT_NONE ? body : c];
    }
}
