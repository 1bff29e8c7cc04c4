#include "cli/verify/verify_bench.h"
#include "solver/base/constants.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Freezing over a wide range of temperature: Lunardini's half-space of three zones. */

static const double CELL_M = 0.005;

#define SOURCE                                                                                     \
    "Lunardini 1985 (ASME OMAE), restated by McKenzie, Voss & Siegel 2007, Adv. Water "            \
    "Resour. 30, 966-983; inputs from memory, psi and gamma computed here agree with "             \
    "the published ones within 1 % and 0.2 %"

/* The zones' conductivities jump where the solver's run evenly: a substance with corners
   of its own, each jump spread over a tenth of a millikelvin. */
static struct uf_material three_zones(const struct uf_exact_three_zone *z)
{
    const double jump_K = 1e-4;
    const double mush_J_m3K = z->c_J_m3K[1] + z->latent_J_m3 / (z->freezing_degC - z->mushy_degC);
    struct uf_material m = {.n = 4,
                            .T_degC = {z->mushy_degC - jump_K, z->mushy_degC,
                                       z->freezing_degC - jump_K, z->freezing_degC},
                            .k_W_mK = {z->k_W_mK[0], z->k_W_mK[1], z->k_W_mK[1], z->k_W_mK[2]},
                            .liquid = {0.0, 0.0, 1.0, 1.0},
                            .c_frozen_J_m3K = z->c_J_m3K[0],
                            .c_thawed_J_m3K = z->c_J_m3K[2],
                            .water_J_m3 = z->latent_J_m3};
    (void)snprintf(m.name, sizeof m.name, "%s", z->name);
    for (size_t j = m.n - 1; j-- > 0;) {
        const double dT = m.T_degC[j + 1] - m.T_degC[j];
        m.H_J_m3[j] = m.H_J_m3[j + 1] - dT * (j == 0 ? z->c_J_m3K[0] : mush_J_m3K);
        m.U_W_m[j] = m.U_W_m[j + 1] - 0.5 * dT * (m.k_W_mK[j] + m.k_W_mK[j + 1]);
    }
    return m;
}

/* Depth of an isotherm below the surface, straight between centres. */
static double isotherm_m(const struct uf_verify_bench *bench, double degC)
{
    const struct uf_grid *g = bench->box->grid;
    const double *T = uf_season_T_degC(bench->season);
    for (size_t j = 0; j + 1 < g->nz; j++) {
        if (T[j] <= degC && T[j + 1] > degC) {
            return g->z_m[j] + (g->z_m[j + 1] - g->z_m[j]) * (degC - T[j]) / (T[j + 1] - T[j]);
        }
    }
    return (double)NAN;
}

/* "Tm-1", "silt-0.5": what tells the sets apart. */
static const char *short_name(const struct uf_exact_three_zone *z, char *text, size_t size)
{
    (void)snprintf(text, size, "%s%g", z->name[0] == 's' ? "silt" : "Tm", z->mushy_degC);
    return text;
}

static void add_checks(struct uf_verify *verify, const struct uf_exact_three_zone *z,
                       const struct uf_verify_bench *bench, enum uf_integrator integrator)
{
    static const double depth_m[] = {0.1, 0.25, 0.5, 1.0};
    static const char *const line[] = {"frozen", "first_ice"};
    const struct uf_exact_three_zone_roots roots = uf_exact_three_zone_solve(z);
    const char *const suffix = uf_verify_suffix(integrator);
    char text[24];
    const char *const name = short_name(z, text, sizeof text);
    double fronts_m[2];
    struct uf_verify_check check = {
        .source = SOURCE, .why = "half a cell of 5 mm", .unit = "m", .allowed = 0.5 * CELL_M};
    uf_exact_three_zone_fronts_m(fronts_m, z, &roots, UF_DAY_S);
    for (size_t k = 0; k < 2; k++) {
        check.got = isotherm_m(bench, k == 0 ? z->mushy_degC : z->freezing_degC - 1e-3);
        check.expected = fronts_m[k];
        uf_verify_add(verify, &check, "lunardini.%s.%s%s", name, line[k], suffix);
    }
    check.got = check.expected = 0.0;
    for (size_t k = 0; k < 4; k++) {
        check.got =
            fmax(check.got, fabs(uf_verify_bench_degC(bench, 0.5, depth_m[k]) -
                                 uf_exact_three_zone_degC(z, &roots, depth_m[k], UF_DAY_S)));
    }
    check.why = "half a cell of 5 mm times the mean gradient of the frozen zone";
    check.unit = "K";
    check.allowed = 0.5 * CELL_M * (z->mushy_degC - z->surface_degC) / fronts_m[0];
    uf_verify_add(verify, &check, "lunardini.%s.temperature%s", name, suffix);
}

static enum uf_status one_set(struct uf_verify *verify, size_t k, enum uf_integrator integrator,
                              struct uf_error *err)
{
    const struct uf_exact_three_zone *zones = &uf_exact_three_zones[k];
    const struct uf_verify_axis z = {0.0, 0.5, CELL_M, 4.0, 1.1, {0.0}};
    const struct uf_material soil = three_zones(zones);
    struct uf_verify_bench bench = {0};
    enum uf_status status =
        uf_verify_bench_column(&bench, &z, &soil,
                               &(struct uf_verify_start){integrator, 96.0, zones->start_degC,
                                                         zones->surface_degC, INFINITY},
                               err);
    if (status == UF_OK) {
        status = uf_season_advance(bench.season, 1.0, err);
    }
    if (status == UF_OK) {
        add_checks(verify, zones, &bench, integrator);
    }
    uf_verify_bench_free(&bench);
    return status;
}

const struct uf_verify_topic uf_verify_lunardini = {
    .name = "lunardini",
    .doc = "freezing over a range of temperature, three zones",
    .each = one_set,
    .n = UF_EXACT_THREE_ZONES};
