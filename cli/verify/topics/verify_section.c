#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"

#include <math.h>

/* Steady sections with a published answer: a slab on the ground and the two-dimensional
   cases by which the standard for thermal bridges accepts a program. */

static const struct uf_heat_now closed = {.h_W_m2K = 1.0}; /* no open top: not read */

/* ---- Slab on ground -------------------------------------------------------------------- */

#define SLAB_SOURCE                                                                                \
    "slab on ground, two-dimensional: Delsante, Stokes & Walsh 1983, Int. J. Heat Mass "           \
    "Transfer 26(1), 121-132 (derived here again; values computed)"

/* Domain so wide that what leaves beyond it, (B/L)/pi of the whole, is 0.2 %. */
static const double SLAB_DOMAIN_M = 2000.0;

/* Surface baths: the slab first, each face of the wall at its own step, the outside. */
static void slab_faces(struct uf_box *box, const struct uf_exact_slab *slab)
{
    const double half_m = 0.5 * slab->width_m;
    const struct uf_grid *g = box->grid;
    const size_t inside = uf_box_bath(box, slab->inside_degC);
    const size_t outside = uf_box_bath(box, slab->outside_degC);
    uf_box_face(box, &(struct uf_box_face){UF_BOX_TOP, 0.0, half_m, inside, 0.0});
    uf_box_face(
        box, &(struct uf_box_face){UF_BOX_TOP, half_m + slab->wall_m, SLAB_DOMAIN_M, outside, 0.0});
    for (size_t i = 0; i < g->nx; i++) {
        const double share = (g->x_m[i] - half_m) / slab->wall_m;
        if (share > 0.0 && share < 1.0) {
            const size_t bath = uf_box_bath(
                box, slab->inside_degC - share * (slab->inside_degC - slab->outside_degC));
            uf_box_face(box, &(struct uf_box_face){UF_BOX_TOP, g->x_edge_m[i], g->x_edge_m[i + 1],
                                                   bath, 0.0});
        }
    }
}

static void slab_field(struct uf_verify *verify, const struct uf_verify_bench *bench,
                       const struct uf_exact_slab *slab)
{
    static const double at[][2] = {{0.0, 0.5}, {0.0, 2.0}, {5.0, 0.5},
                                   {6.0, 1.0}, {7.0, 1.0}, {9.0, 2.0}};
    for (size_t k = 0; k < sizeof at / sizeof at[0]; k++) {
        const struct uf_verify_check check = {
            .source = SLAB_SOURCE,
            .why = "0.1 K, 0.5 % of the difference: cells of 4 cm grow by 15 %",
            .unit = "degC",
            .got = uf_verify_bench_degC(bench, at[k][0], at[k][1]),
            .expected = uf_exact_slab_degC(slab, at[k][0], at[k][1]),
            .allowed = 0.1};
        uf_verify_add(verify, &check, "slab.B12.x%g_z%g", at[k][0], at[k][1]);
    }
}

static enum uf_status one_slab(struct uf_verify *verify, const struct uf_exact_slab *slab,
                               struct uf_error *err)
{
    const double half_m = 0.5 * slab->width_m;
    const double end_m = half_m + slab->wall_m;
    const double cell_m = slab->wall_m / 12.0;
    const struct uf_verify_axis x = {0.0,  end_m + 10.0 * cell_m, cell_m, SLAB_DOMAIN_M,
                                     1.15, {half_m, end_m}};
    const struct uf_verify_axis z = {0.0, 1.0, cell_m, SLAB_DOMAIN_M, 1.15, {0.0}};
    struct uf_material soil;
    struct uf_verify_bench bench = {0};
    uf_material_inert(&soil, "soil", slab->k_W_mK, 2e6);
    enum uf_status status = uf_verify_bench_create(&bench, &x, &z, false, &soil, err);
    if (status == UF_OK) {
        uf_box_connect(bench.box);
        slab_faces(bench.box, slab);
        status = uf_verify_bench_settle(&bench, &closed, err);
    }
    if (status == UF_OK) {
        struct uf_verify_check check = {
            .source = SLAB_SOURCE,
            .why = "1 %: twelve cells across the wall, the domain ends at 2 km",
            .unit = "W/m",
            .got = 2.0 * uf_box_bath_W(bench.box, bench.T_degC, 0),
            .expected = uf_exact_slab_W_m(slab)};
        check.allowed = 0.01 * check.expected;
        uf_verify_add(verify, &check, "slab.B%g.heat", slab->width_m);
        if (slab->width_m > 10.0) {
            slab_field(verify, &bench, slab);
        }
    }
    uf_verify_bench_free(&bench);
    return status;
}

static enum uf_status run_slab(struct uf_verify *verify, struct uf_error *err)
{
    static const struct uf_exact_slab slabs[] = {
        {12.0, 0.24, 1.9, 30.0, 10.0}, {6.0, 0.3, 1.5, 10.0, 0.0}, {4.0, 0.25, 2.0, 15.0, 0.0}};
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < 3 && status == UF_OK; k++) {
        status = one_slab(verify, &slabs[k], err);
    }
    return status;
}

const struct uf_verify_topic uf_verify_slab = {
    .name = "slab", .doc = "heat and field under a slab on the ground", .run = run_slab};

/* ---- ISO 10211, case 1 ----------------------------------------------------------------- */

#define ISO_SOURCE "ISO 10211:2007 annex A (2017 annex C; letters from memory): "

/* The 28 points listed by the standard, to 0.1 degC, from memory; rows down from the hot
   face in steps of L/4, columns from the cold side to the axis. */
static const double iso_case1[7][4] = {
    {9.7, 13.4, 14.7, 15.1}, {5.3, 8.6, 10.3, 10.8}, {3.2, 5.6, 7.0, 7.5}, {2.0, 3.6, 4.7, 5.0},
    {1.3, 2.3, 3.0, 3.2},    {0.7, 1.4, 1.8, 1.9},   {0.3, 0.6, 0.8, 0.9}};

static enum uf_status run_iso1(struct uf_verify *verify, struct uf_error *err)
{
    const struct uf_verify_axis x = {0.0, 1.0, 0.025, 1.0, 1.5, {0.0}};
    const struct uf_verify_axis z = {0.0, 2.0, 0.025, 2.0, 1.5, {0.0}};
    struct uf_material stone;
    struct uf_verify_bench bench = {0};
    uf_material_inert(&stone, "stone", 1.0, 2e6);
    enum uf_status status = uf_verify_bench_create(&bench, &x, &z, false, &stone, err);
    if (status == UF_OK) {
        uf_box_connect(bench.box);
        const size_t hot = uf_box_bath(bench.box, 20.0);
        const size_t cold = uf_box_bath(bench.box, 0.0);
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_TOP, 0.0, 1.0, hot, 0.0});
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_LEFT, 0.0, 2.0, cold, 0.0});
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_BOTTOM, 0.0, 1.0, cold, 0.0});
        status = uf_verify_bench_settle(&bench, &closed, err);
    }
    for (size_t r = 0; r < 7 && status == UF_OK; r++) {
        struct uf_verify_check listed = {.source =
                                             ISO_SOURCE "case 1, the standard's list (from memory)",
                                         .why = "the standard's own 0.1 K",
                                         .unit = "K",
                                         .allowed = 0.1};
        struct uf_verify_check exact = {.source =
                                            ISO_SOURCE "case 1 by Fourier series (computed here)",
                                        .why = "0.02 K: cells of a fortieth of the width",
                                        .unit = "K",
                                        .allowed = 0.02};
        for (size_t c = 0; c < 4; c++) {
            const double at_x = 0.25 * (double)(c + 1);
            const double at_y = 0.25 * (double)(r + 1);
            const double got = uf_verify_bench_degC(&bench, at_x, at_y);
            listed.got = fmax(listed.got, fabs(got - iso_case1[r][c]));
            exact.got = fmax(exact.got, fabs(got - uf_exact_iso_column_degC(at_x, at_y)));
        }
        uf_verify_add(verify, &listed, "iso1.listed_row_%zu", r + 1);
        uf_verify_add(verify, &exact, "iso1.exact_row_%zu", r + 1);
    }
    uf_verify_bench_free(&bench);
    return status;
}

const struct uf_verify_topic uf_verify_iso1 = {
    .name = "iso1", .doc = "ISO 10211 case 1: half a square column", .run = run_iso1};

/* ---- ISO 10211, case 2 ----------------------------------------------------------------- */

/* Millimetres; x from the symmetry plane, z down from the cold face (47.5 mm - y). */
static const struct {
    const char *name;
    double k_W_mK, x0, x1, z0, z1;
} iso_parts[] = {
    {"insulation", 0.029, 0.0, 500.0, 0.0, 47.5}, {"concrete", 1.15, 0.0, 500.0, 0.0, 6.0},
    {"wood", 0.12, 0.0, 15.0, 6.0, 11.0},         {"aluminium", 230.0, 0.0, 15.0, 11.0, 12.5},
    {"aluminium", 230.0, 0.0, 1.5, 12.5, 46.0},   {"aluminium", 230.0, 0.0, 500.0, 46.0, 47.5}};

/* Lines along one axis: fine cells about the corners of the parts, growing between. */
static enum uf_status iso2_box(struct uf_box **out, struct uf_error *err)
{
    static const struct uf_grid_zone x_zones[] = {
        {0.0015, 0.25e-3}, {0.012, 0.8e-3}, {0.018, 0.2e-3}};
    static const struct uf_grid_zone z_zones[] = {
        {0.0135, 0.25e-3}, {0.0445, 1.2e-3}, {0.0475, 0.25e-3}};
    static const double x_lines[] = {0.0015, 0.015};
    static const double z_lines[] = {0.006, 0.011, 0.0125, 0.046};
    const struct uf_grid_axis x = {.end_m = 0.5,
                                   .zones = x_zones,
                                   .n_zones = 3,
                                   .hard = x_lines,
                                   .n_hard = 2,
                                   .growth = 1.2,
                                   .largest_m = 0.05};
    const struct uf_grid_axis z = {.end_m = 0.0475,
                                   .zones = z_zones,
                                   .n_zones = 3,
                                   .hard = z_lines,
                                   .n_hard = 4,
                                   .growth = 1.2,
                                   .largest_m = 0.01};
    return uf_box_create(out, &x, &z, false, 2, err);
}

/* Index of the line nearest to a place. */
static size_t line_at(const double *edge, size_t n, double at_m)
{
    size_t best = 0;
    for (size_t i = 0; i <= n; i++) {
        best = fabs(edge[i] - at_m) < fabs(edge[best] - at_m) ? i : best;
    }
    return best;
}

/* Temperature where lines meet: the (up to four) cells about the point weighed by their
   conductance to it; on a face with a film the air counts as well. */
static double corner_degC(const struct uf_box *box, const double *T_degC, double x_m, double z_m)
{
    const struct uf_grid *g = box->grid;
    const size_t i1 = line_at(g->x_edge_m, g->nx, x_m);
    const size_t j1 = line_at(g->z_edge_m, g->nz, z_m);
    double sum = 0.0;
    double weights = 0.0;
    for (size_t k = 0; k < 4; k++) {
        const size_t i = i1 - 1 + k % 2;
        const size_t j = j1 - 1 + k / 2;
        if (i < g->nx && j < g->nz) { /* size_t: -1 is beyond too */
            const size_t c = uf_grid_at(g, i, j);
            const double weight = box->heat->materials[box->heat->material[c]].k_W_mK[0];
            double T = T_degC[c];
            if (j1 == 0 || j1 == g->nz) { /* on to the face, along the heat that passes */
                const size_t bath = j1 == 0 ? 0 : 1;
                const double film = bath == 0 ? 0.06 : 0.11;
                const double half = fabs(g->z_m[j] - z_m) / weight;
                T += (box->bath_degC[bath] - T) * half / (half + film);
            }
            sum += weight * T;
            weights += weight;
        }
    }
    return sum / weights;
}

static void iso2_checks(struct uf_verify *verify, const struct uf_box *box, const double *T_degC)
{
    for (const struct uf_exact_iso_point *p = uf_exact_iso_points; p->name != NULL; p++) {
        const struct uf_verify_check check = {
            .source = ISO_SOURCE "case 2, printed temperatures (read in a text that "
                                 "quotes the standard)",
            .why = "the standard's own 0.1 K",
            .unit = "degC",
            .got = corner_degC(box, T_degC, p->x_m, 0.0475 - p->y_m),
            .expected = p->degC,
            .allowed = 0.1};
        uf_verify_add(verify, &check, "iso2.%s", p->name);
    }
    const struct uf_verify_check heat = {.source = ISO_SOURCE "case 2, printed heat flow",
                                         .why = "the standard's own 0.1 W/m (2007 edition)",
                                         .unit = "W/m",
                                         .got = uf_box_bath_W(box, T_degC, 1),
                                         .expected = UF_EXACT_ISO_CASE2_W_M,
                                         .allowed = 0.1};
    uf_verify_add(verify, &heat, "iso2.heat");
}

static enum uf_status run_iso2(struct uf_verify *verify, struct uf_error *err)
{
    struct uf_verify_bench bench = {0};
    enum uf_status status = iso2_box(&bench.box, err);
    if (status == UF_OK) {
        status = uf_verify_bench_room(&bench, err);
    }
    if (status == UF_OK) {
        for (size_t k = 0; k < sizeof iso_parts / sizeof iso_parts[0]; k++) {
            struct uf_material m;
            uf_material_inert(&m, iso_parts[k].name, iso_parts[k].k_W_mK, 1e6);
            uf_box_fill(bench.box, &m,
                        (struct uf_box_part){1e-3 * iso_parts[k].x0, 1e-3 * iso_parts[k].x1,
                                             1e-3 * iso_parts[k].z0, 1e-3 * iso_parts[k].z1});
        }
        uf_box_connect(bench.box);
        const size_t cold = uf_box_bath(bench.box, 0.0);
        const size_t warm = uf_box_bath(bench.box, 20.0);
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_TOP, 0.0, 0.5, cold, 0.06});
        uf_box_face(bench.box, &(struct uf_box_face){UF_BOX_BOTTOM, 0.0, 0.5, warm, 0.11});
        status = uf_verify_bench_settle(&bench, &closed, err);
    }
    if (status == UF_OK) {
        iso2_checks(verify, bench.box, bench.T_degC);
    }
    uf_verify_bench_free(&bench);
    return status;
}

const struct uf_verify_topic uf_verify_iso2 = {
    .name = "iso2", .doc = "ISO 10211 case 2: wood and aluminium in insulation", .run = run_iso2};
