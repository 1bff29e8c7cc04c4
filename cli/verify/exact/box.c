#include "box.h"

#include "solver/base/constants.h"
#include "solver/heat/section_private.h"

#include <math.h>
#include <stdlib.h>

static const double BATH_M3 = 1e8;
static const double BATH_J_M3K = 1e6;

static bool allocate(struct uf_box *box)
{
    struct uf_heat *h = box->heat;
    const size_t cells = h->n_cells;
    const size_t nodes = cells + box->most_baths;
    h->materials = calloc(UF_MAX_MATERIALS + 1, sizeof *h->materials);
    h->material = calloc(nodes, sizeof *h->material);
    h->conducts = calloc(nodes, sizeof *h->conducts);
    h->volume_m3 = calloc(nodes, sizeof *h->volume_m3);
    h->gx_m = calloc(cells, sizeof *h->gx_m);
    h->gz_m = calloc(cells, sizeof *h->gz_m);
    h->gy_m = calloc(cells, sizeof *h->gy_m);
    h->links = calloc(2 * cells + 2 * (box->grid->nx + box->grid->nz), sizeof *h->links);
    h->tops = calloc(box->grid->nx, sizeof *h->tops);
    h->bottom_W = calloc(box->grid->nx, sizeof *h->bottom_W);
    box->bath_degC = calloc(box->most_baths + 1, sizeof *box->bath_degC);
    return h->materials && h->material && h->conducts && h->volume_m3 && h->gx_m && h->gz_m &&
           h->gy_m && h->links && h->tops && h->bottom_W && box->bath_degC;
}

static enum uf_status make_grid(struct uf_grid **out, const struct uf_grid_axis *x,
                                const struct uf_grid_axis *z, bool radial, struct uf_error *err)
{
    double *x_edge_m = NULL;
    double *z_edge_m = NULL;
    size_t nx = 0;
    size_t nz = 0;
    enum uf_status status = uf_grid_edges(&x_edge_m, &nx, x, err);
    if (status == UF_OK) {
        status = uf_grid_edges(&z_edge_m, &nz, z, err);
    }
    if (status != UF_OK) {
        free(x_edge_m);
        return status;
    }
    return uf_grid_create(out, x_edge_m, nx, z_edge_m, nz, radial, err);
}

enum uf_status uf_box_create(struct uf_box **out, const struct uf_grid_axis *x,
                             const struct uf_grid_axis *z, bool radial, size_t most_baths,
                             struct uf_error *err)
{
    struct uf_grid *grid = NULL;
    *out = NULL;
    const enum uf_status status = make_grid(&grid, x, z, radial, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_box *box = calloc(1, sizeof *box);
    struct uf_heat *heat = calloc(1, sizeof *heat);
    if (box == NULL || heat == NULL) {
        uf_grid_free(grid);
        free(box);
        free(heat);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a box");
    }
    *box = (struct uf_box){.grid = grid, .heat = heat, .most_baths = most_baths};
    heat->grid = grid;
    heat->n_cells = heat->n = grid->nx * grid->nz;
    heat->water = heat->air = heat->held = UF_HEAT_NONE;
    if (!allocate(box)) {
        uf_box_free(box);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a box");
    }
    uf_material_inert(&heat->materials[0], "bath", 1.0, BATH_J_M3K);
    heat->n_materials = 1;
    for (size_t c = 0; c < heat->n_cells; c++) {
        heat->volume_m3[c] = uf_section_volume_m3(grid, c % grid->nx, c / grid->nx);
    }
    *out = box;
    return UF_OK;
}

void uf_box_free(struct uf_box *box)
{
    if (box != NULL) {
        uf_heat_free(box->heat);
        uf_grid_free(box->grid);
        free(box->bath_degC);
        free(box);
    }
}

void uf_box_fill(struct uf_box *box, const struct uf_material *material, struct uf_box_part part)
{
    struct uf_heat *h = box->heat;
    const struct uf_grid *g = box->grid;
    const uint16_t at = (uint16_t)h->n_materials++;
    h->materials[at] = *material;
    for (size_t c = 0; c < h->n_cells; c++) {
        const double x_m = g->x_m[c % g->nx];
        const double z_m = g->z_m[c / g->nx];
        if (x_m > part.x0_m && x_m < part.x1_m && z_m > part.z0_m && z_m < part.z1_m) {
            h->material[c] = h->conducts[c] = at;
        }
    }
}

/* Length that counts from radius a to radius b for a face at radius e; plain distance where x is no
   radius. */
static double length_x(const struct uf_grid *g, double a_m, double b_m, double e_m)
{
    return g->radial ? e_m * log(b_m / a_m) : b_m - a_m;
}

/* Area of the face at x = e of row j. */
static double area_x(const struct uf_grid *g, double e_m, size_t j)
{
    const double high_m = g->z_edge_m[j + 1] - g->z_edge_m[j];
    return g->radial ? 2.0 * UF_PI * e_m * high_m : high_m;
}

static void join(struct uf_heat *h, bool along_x, const struct uf_heat_link *link)
{
    if (link->material_a == link->material_b) {
        *(along_x ? &h->gx_m[link->a] : &h->gz_m[link->a]) =
            link->area_m2 / (link->length_a_m + link->length_b_m);
    } else {
        h->links[h->n_links++] = *link;
    }
}

void uf_box_connect(struct uf_box *box)
{
    struct uf_heat *h = box->heat;
    const struct uf_grid *g = box->grid;
    for (size_t c = 0; c < h->n_cells; c++) {
        const size_t i = c % g->nx;
        const size_t j = c / g->nx;
        struct uf_heat_link link = {.a = c, .b = c + 1, .material_a = h->conducts[c]};
        if (i + 1 < g->nx) {
            const double e_m = g->x_edge_m[i + 1];
            link.material_b = h->conducts[c + 1];
            link.area_m2 = area_x(g, e_m, j);
            link.length_a_m = length_x(g, g->x_m[i], e_m, e_m);
            link.length_b_m = length_x(g, e_m, g->x_m[i + 1], e_m);
            join(h, true, &link);
        }
        if (j + 1 < g->nz) {
            link.b = c + g->nx;
            link.material_b = h->conducts[link.b];
            link.area_m2 = uf_section_plan_m2(g, i);
            link.length_a_m = g->z_edge_m[j + 1] - g->z_m[j];
            link.length_b_m = g->z_m[j + 1] - g->z_edge_m[j + 1];
            join(h, false, &link);
        }
    }
}

size_t uf_box_bath(struct uf_box *box, double degC)
{
    struct uf_heat *h = box->heat;
    h->material[h->n] = 0;
    h->volume_m3[h->n++] = BATH_M3;
    box->bath_degC[box->n_baths] = degC;
    return box->n_baths++;
}

/* The face of one cell on a side: its middle along the side, and the link from the cell. */
static double side_link(const struct uf_box *box, enum uf_box_side side, size_t k,
                        struct uf_heat_link *link)
{
    const struct uf_grid *g = box->grid;
    const bool upright = side == UF_BOX_LEFT || side == UF_BOX_RIGHT;
    const size_t i = upright ? (side == UF_BOX_LEFT ? 0 : g->nx - 1) : k;
    const size_t j = upright ? k : (side == UF_BOX_TOP ? 0 : g->nz - 1);
    link->a = uf_grid_at(g, i, j);
    link->material_a = box->heat->conducts[link->a];
    if (upright) {
        const double e_m = g->x_edge_m[side == UF_BOX_LEFT ? 0 : g->nx];
        link->area_m2 = area_x(g, e_m, j);
        link->length_a_m = fabs(length_x(g, g->x_m[i], e_m, e_m));
        return g->z_m[j];
    }
    link->area_m2 = uf_section_plan_m2(g, i);
    link->length_a_m = fabs(g->z_edge_m[side == UF_BOX_TOP ? 0 : g->nz] - g->z_m[j]);
    return g->x_m[i];
}

void uf_box_face(struct uf_box *box, const struct uf_box_face *face)
{
    struct uf_heat *h = box->heat;
    const bool upright = face->side == UF_BOX_LEFT || face->side == UF_BOX_RIGHT;
    const size_t count = upright ? box->grid->nz : box->grid->nx;
    for (size_t k = 0; k < count; k++) {
        struct uf_heat_link link = {.b = h->n_cells + face->bath, .fixed_m2K_W = face->film_m2K_W};
        const double middle_m = side_link(box, face->side, k, &link);
        if (middle_m > face->from_m && middle_m < face->to_m && link.area_m2 > 0.0) {
            h->links[h->n_links++] = link;
        }
    }
}

void uf_box_open_part(struct uf_box *box, double from_m, double to_m)
{
    struct uf_heat *h = box->heat;
    const struct uf_grid *g = box->grid;
    for (size_t i = 0; i < g->nx; i++) {
        if (g->x_m[i] > from_m && g->x_m[i] < to_m) {
            h->tops[h->n_tops++] = (struct uf_heat_top){.cell = i,
                                                        .area_m2 = uf_section_plan_m2(g, i),
                                                        .half_m = g->z_m[0] - g->z_edge_m[0],
                                                        .material = h->conducts[i]};
        }
    }
}

void uf_box_open_top(struct uf_box *box)
{
    uf_box_open_part(box, -INFINITY, INFINITY);
}

void uf_box_start(const struct uf_box *box, double degC, double *T_degC)
{
    const size_t cells = box->heat->n_cells;
    for (size_t i = 0; i < box->heat->n; i++) {
        T_degC[i] = i < cells ? degC : box->bath_degC[i - cells];
    }
}

void uf_box_fixed(const struct uf_box *box, bool *fixed)
{
    for (size_t i = 0; i < box->heat->n; i++) {
        fixed[i] = i >= box->heat->n_cells;
    }
}

double uf_box_bath_W(const struct uf_box *box, const double *T_degC, size_t bath)
{
    double sum_W = 0.0;
    for (size_t l = 0; l < box->heat->n_links; l++) {
        if (box->heat->links[l].b == box->heat->n_cells + bath) {
            sum_W -= uf_heat_link_W(box->heat, &box->heat->links[l], T_degC);
        }
    }
    return sum_W;
}

/* The centre at or before x and the weight of the next one. */
static size_t bracket(const double *centre, size_t n, double x, double *weight)
{
    size_t i = 0;
    while (i + 2 < n && centre[i + 1] <= x) {
        i++;
    }
    *weight = n < 2 ? 0.0 : fmin(1.0, fmax(0.0, (x - centre[i]) / (centre[i + 1] - centre[i])));
    return i;
}

double uf_box_at_degC(const struct uf_box *box, const double *T_degC, double x_m, double z_m)
{
    const struct uf_grid *g = box->grid;
    double wx = 0.0;
    double wz = 0.0;
    const size_t i = bracket(g->x_m, g->nx, x_m, &wx);
    const size_t j = bracket(g->z_m, g->nz, z_m, &wz);
    const size_t right = g->nx > 1 ? 1 : 0;
    const size_t down = g->nz > 1 ? g->nx : 0;
    const double *T = T_degC + uf_grid_at(g, i, j);
    return (1.0 - wz) * ((1.0 - wx) * T[0] + wx * T[right]) +
           wz * ((1.0 - wx) * T[down] + wx * T[down + right]);
}
