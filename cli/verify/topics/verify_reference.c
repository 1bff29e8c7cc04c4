#include "cli/verify/verify.h"
#include "solver/base/constants.h"
#include "solver/heat/front.h"

#include <math.h>
#include <stdlib.h>

/* The project's reference problem: three years of a tank in freezing ground, bare and
   with board, against a run on 95 277 cells; and the heat that must be conserved. */

enum { DAYS = 1095, YEAR = 365 };

#define REFERENCE_SOURCE                                                                           \
    "reference run of the same problem, enthalpy form, 1.25 cm cells, 95 277 of them; "            \
    "its own uncertainty 0.3 cm and 0.01 K (computed here)"
#define BALANCE_SOURCE "conservation: heat through all boundaries is heat stored, latent included"

struct uf_case uf_verify_reference_case(bool board)
{
    struct uf_case d = uf_verify_plain(uf_verify_silt(), 15.0, NAN);
    d.ground.geothermal_W_m2 = 0.06;
    d.tank.shape = UF_HORIZONTAL_CYLINDER;
    d.tank.diameter_m = 2.4;
    d.tank.length_m = 6.0;
    d.tank.ends = false;
    d.tank.level_m = 2.4;
    d.tank.mixing_W_mK = 20.0;
    d.burial.cover_m = 1.0;
    d.board.present = board;
    d.board.k_W_mK = 0.034;
    d.board.density_kg_m3 = 30.0;
    d.board.thickness_m = 0.1;
    d.board.beyond_tank_m = 1.2;
    d.board.above_crown_m = 0.2;
    return d;
}

/* What the last year came to, and the heat balance of all three. */
struct outcome {
    double frost_m, crown_degC, leak;
};

static enum uf_status run_years(struct outcome *out, const struct uf_section *s,
                                struct uf_season *season, struct uf_error *err)
{
    const struct uf_grid *g = s->grid;
    double exchanged_J = 0.0;
    double before_J = 0.0;
    size_t far = 0;
    enum uf_status status = UF_OK;
    while (far + 1 < g->nx && g->x_m[far] < 12.0) {
        far++;
    }
    *out = (struct outcome){.crown_degC = INFINITY};
    for (int day = 1; day <= DAYS && status == UF_OK; day++) {
        status = uf_season_advance(season, day, err);
        const double *T = uf_season_T_degC(season);
        const double J = uf_season_heat_J(season).surface_J;
        exchanged_J += fabs(J - before_J);
        before_J = J;
        if (day > DAYS - YEAR) {
            out->frost_m = fmax(out->frost_m, uf_front_line_m(s->heat, T, far));
            out->crown_degC =
                fmin(out->crown_degC, uf_section_wall_degC(s, &s->heat->links[s->crown_link], T));
        }
    }
    out->leak = fabs(uf_season_leak_J(season)) / exchanged_J;
    return status;
}

static enum uf_status run_design(struct outcome *out, bool board, enum uf_integrator integrator,
                                 struct uf_error *err)
{
    static double outside_degC[YEAR];
    static double film_W_m2K[YEAR];
    struct uf_case design;
    struct uf_section *s = NULL;
    struct uf_season *season = NULL;
    double *T_degC = NULL;
    struct uf_season_options options = uf_verify_season();
    options.integrator = integrator;
    options.steps_per_day = 2.0;
    for (int d = 0; d < YEAR; d++) {
        outside_degC[d] = 3.0 - 16.0 * cos(2.0 * UF_PI * (d + 273.5 - 20.0) / YEAR);
        film_W_m2K[d] = 15.0;
    }
    design = uf_verify_reference_case(board);
    enum uf_status status = uf_section_create(&s, &design, 2.6, err);
    if (status == UF_OK) {
        status = uf_season_create(&season, s->heat, &options, err);
        T_degC = calloc(s->heat->n, sizeof *T_degC);
    }
    if (status == UF_OK && T_degC == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a check");
    }
    if (status == UF_OK) {
        const struct uf_drive drive = {.days = YEAR,
                                       .periodic = true,
                                       .outside_degC = outside_degC,
                                       .h_W_m2K = film_W_m2K,
                                       .air_degC = outside_degC};
        for (size_t c = 0; c < s->heat->n; c++) {
            T_degC[c] = 3.0 + 0.0375 * s->grid->z_m[c / s->grid->nx];
        }
        uf_season_drive(season, &drive);
        uf_season_set(season, 0.0, T_degC);
        status = run_years(out, s, season, err);
    }
    free(T_degC);
    uf_season_free(season);
    uf_section_free(s);
    return status;
}

static void add_reference(struct uf_verify *verify, const struct outcome *got, bool board,
                          enum uf_integrator integrator)
{
    const char *const name = board ? "board" : "bare";
    const char *const suffix = uf_verify_suffix(integrator);
    struct uf_verify_check check = {.source = REFERENCE_SOURCE,
                                    .why = "2 cm: the band that the problem sets",
                                    .unit = "m",
                                    .got = got->frost_m,
                                    .expected = board ? 2.407 : 2.410,
                                    .allowed = 0.02};
    uf_verify_add(verify, &check, "reference.%s.frost%s", name, suffix);
    check.why = "0.1 K: the band that the problem sets";
    check.unit = "degC";
    check.got = got->crown_degC;
    check.expected = board ? 0.479 : -1.548;
    check.allowed = 0.1;
    uf_verify_add(verify, &check, "reference.%s.crown%s", name, suffix);
    check.source = BALANCE_SOURCE;
    check.why = "1e-4 of the heat exchanged at the surface: what the program promises";
    check.unit = "1";
    check.got = got->leak;
    check.expected = 0.0;
    check.allowed = 1e-4;
    uf_verify_add(verify, &check, "reference.%s.balance%s", name, suffix);
}

static enum uf_status one_reference(struct uf_verify *verify, size_t k,
                                    enum uf_integrator integrator, struct uf_error *err)
{
    struct outcome got;
    const enum uf_status status = run_design(&got, k == 1, integrator, err);
    if (status == UF_OK) {
        add_reference(verify, &got, k == 1, integrator);
    }
    return status;
}

const struct uf_verify_topic uf_verify_reference = {
    .name = "reference",
    .doc = "the reference problem, bare and with board; heat balance",
    .each = one_reference,
    .n = 2};
