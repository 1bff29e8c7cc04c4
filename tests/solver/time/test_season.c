#include "cli/verify/exact/box.h"
#include "solver/base/constants.h"
#include "solver/heat/front.h"
#include "solver/time/season.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DAYS = 400 };
static double outside_degC[DAYS], film_W_m2K[DAYS];

static struct uf_drive winter_drive(void)
{
    for (int d = 0; d < DAYS; d++) {
        outside_degC[d] = 3.0 - 16.0 * cos(2.0 * UF_PI * (d + 260.0) / 365.0);
        film_W_m2K[d] = 15.0;
    }
    return (struct uf_drive){.start_day = 0.0,
                             .days = DAYS,
                             .outside_degC = outside_degC,
                             .h_W_m2K = film_W_m2K,
                             .air_degC = outside_degC};
}

static const struct uf_season_options *options_of(enum uf_integrator integrator)
{
    static struct uf_season_options options;
    options = uf_season_defaults();
    options.integrator = integrator;
    return &options;
}

static bool light(void)
{
    const char *text = getenv("UF_TEST_LIGHT");
    return text != NULL && text[0] == '1';
}

/* An insulated rectangle 10 by 8 m of stone, a = 1e-6 m2/s, `n` cells a side, warmed
   in the mode cos(pi x/W) cos(2 pi z/H). It keeps its shape and fades as
   exp(-a (pi^2/W^2 + 4 pi^2/H^2) t), from the heat equation itself. Returns the error of
   the amplitude after one e-fold. */
static double decay_error(enum uf_integrator integrator, size_t n, double rtol)
{
    const struct uf_grid_zone x_zone[] = {{10.0, 10.0 / (double)n}};
    const struct uf_grid_zone z_zone[] = {{8.0, 8.0 / (double)n}};
    const struct uf_grid_axis x = {
        .end_m = 10.0, .zones = x_zone, .n_zones = 1, .growth = 1.5, .largest_m = 9.0};
    const struct uf_grid_axis z = {
        .end_m = 8.0, .zones = z_zone, .n_zones = 1, .growth = 1.5, .largest_m = 9.0};
    struct uf_box *box = NULL;
    struct uf_season *season = NULL;
    struct uf_material stone;
    struct uf_season_options options = *options_of(integrator);
    options.steps_per_day = 24.0;
    options.rtol = rtol;
    options.atol_J_m3 = rtol * 2e6;
    const struct uf_drive drive = winter_drive();
    cr_assert(uf_box_create(&box, &x, &z, false, 0, NULL) == UF_OK);
    uf_material_inert(&stone, "stone", 2.0, 2e6);
    uf_box_fill(box, &stone, (struct uf_box_part){0.0, 10.0, 0.0, 8.0});
    uf_box_connect(box);
    const size_t cells = box->heat->n;
    cr_assert(cells == n * n);
    double *T = calloc(cells, sizeof *T);
    cr_assert(T != NULL);
    for (size_t c = 0; c < cells; c++) {
        T[c] = 5.0 + cos(UF_PI * box->grid->x_m[c % n] / 10.0) *
                         cos(2.0 * UF_PI * box->grid->z_m[c / n] / 8.0);
    }
    cr_assert(uf_season_create(&season, box->heat, &options, NULL) == UF_OK);
    uf_season_drive(season, &drive);
    uf_season_set(season, 0.0, T);
    const double rate_1_s = 1e-6 * UF_PI * UF_PI * (0.01 + 4.0 / 64.0);
    cr_assert(uf_season_advance(season, 1.0 / rate_1_s / UF_DAY_S, NULL) == UF_OK);
    const double *now = uf_season_T_degC(season);
    double error = 0.0;
    for (size_t c = 0; c < cells; c++) {
        error = fmax(error, fabs((now[c] - 5.0) - exp(-1.0) * (T[c] - 5.0)));
    }
    free(T);
    uf_season_free(season);
    uf_box_free(box);
    return error;
}

Test(season, smooth_error_falls_with_the_square_of_the_cell)
{
    const size_t n = 12;
    for (int k = 0; k < 2; k++) {
        const enum uf_integrator which = k == 0 ? UF_FAST : UF_BDF;
        const double coarse = decay_error(which, n, 1e-8);
        const double fine = decay_error(which, 2 * n, 1e-8);
        const double order = log2(coarse / fine);
        cr_expect(order > 1.95 && order < 2.05, "integrator %d: order %.3f (%g, %g)", k, order,
                  coarse, fine);
    }
}

/* One column of the reference soil under the yearly wave, through freezing and thaw. */
static void run_column(enum uf_integrator integrator, const struct uf_thermal *soil, double tight,
                       double *frost_m, double *leak)
{
    struct uf_case d = designs_ground(soil);
    struct uf_section *s = NULL;
    struct uf_season *season = NULL;
    struct uf_season_options options = *options_of(integrator);
    const struct uf_drive drive = winter_drive();
    double exchanged_J = 0.0;
    double before_J = 0.0;
    d.grid.finest_m = light() ? 0.2 : 0.1;
    options.rtol *= tight;
    options.atol_J_m3 *= tight;
    options.steps_per_day = integrator == UF_FAST && tight < 1.0 ? 12.0 : 4.0;
    cr_assert(uf_section_create(&s, &d, 2.5, NULL) == UF_OK);
    cr_assert(uf_season_create(&season, s->heat, &options, NULL) == UF_OK);
    double *T = calloc(s->heat->n, sizeof *T);
    cr_assert(T != NULL);
    for (size_t c = 0; c < s->heat->n; c++) {
        T[c] = 3.0 + 0.0375 * s->grid->z_m[c];
    }
    uf_season_drive(season, &drive);
    uf_season_set(season, 0.0, T);
    for (int day = 10; day <= 360; day += 10) {
        cr_assert(uf_season_advance(season, day, NULL) == UF_OK);
        const double J = uf_season_heat_J(season).surface_J;
        exchanged_J += fabs(J - before_J);
        before_J = J;
        frost_m[day / 10] = uf_front_line_m(s->heat, uf_season_T_degC(season), 0);
    }
    *leak = fabs(uf_season_leak_J(season)) / exchanged_J;
    free(T);
    uf_season_free(season);
    uf_section_free(s);
}

/* Both keep the heat; freezing and thaw move the front over each cell, and two schemes of
   different kind see it at the same depth: within 3 mm when both are run finely, on every
   tenth day. */
Test(season, integrators_agree_on_a_freezing_column)
{
    const struct uf_thermal soils[] = {uf_verify_silt(), designs_curved_soil()};
    for (int k = 0; k < 2; k++) {
        double fast[64];
        double bdf[64];
        double fast_leak = 0.0;
        double bdf_leak = 0.0;
        double deepest = 0.0;
        run_column(UF_FAST, &soils[k], 0.1, fast, &fast_leak);
        run_column(UF_BDF, &soils[k], 0.1, bdf, &bdf_leak);
        cr_expect(fast_leak < 1e-12, "fast leaks %g", fast_leak);
        cr_expect(bdf_leak < 1e-6, "bdf leaks %g", bdf_leak);
        for (int day = 10; day <= 360; day += 10) {
            cr_expect(fabs(fast[day / 10] - bdf[day / 10]) < 0.003,
                      "soil %d day %d: fast %.4f, bdf %.4f m", k, day, fast[day / 10],
                      bdf[day / 10]);
            deepest = fmax(deepest, bdf[day / 10]);
        }
        cr_expect(deepest > 1.2, "no winter: %g", deepest);
        cr_expect(bdf[35] == 0.0 || bdf[35] < deepest, "it thaws again");
    }
}

/* Usual tolerances: both within a centimetre of the fine run's depth. CVODE's heat
   balance is as good as its Newton iteration is asked to converge: a hundredth of what a
   run may miss (1e-4). */
Test(season, usual_steps_are_fine_enough)
{
    const struct uf_thermal soil = uf_verify_silt();
    double fine[64], usual[64], leak = 0.0;
    run_column(UF_BDF, &soil, 0.1, fine, &leak);
    for (int k = 0; k < 2; k++) {
        run_column(k == 0 ? UF_FAST : UF_BDF, &soil, 1.0, usual, &leak);
        cr_expect(leak < (k == 0 ? 1e-12 : 5e-6), "leak %g", leak);
        for (int day = 10; day <= 200; day += 10) {
            cr_expect(fabs(usual[day / 10] - fine[day / 10]) < 0.01,
                      "integrator %d day %d: %.4f for %.4f m", k, day, usual[day / 10],
                      fine[day / 10]);
        }
    }
}

/* A section with everything in it: heat that went in is heat that is there. */
Test(season, whole_section_keeps_its_heat)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    const struct uf_drive drive = winter_drive();
    const double days = light() ? 20.0 : 120.0;
    for (size_t k = 0; k < 6; k++) {
        struct uf_case d = designs_tank(shapes[k / 2], 0.9);
        struct uf_section *s = NULL;
        struct uf_season *season = NULL;
        const enum uf_integrator which = k % 2 == 0 ? UF_FAST : UF_BDF;
        d.grid.finest_m = 0.15;
        cr_assert(uf_section_create(&s, &d, 1.0, NULL) == UF_OK);
        s->heat->inflow_W_K = 0.1;
        s->heat->inflow_degC = 8.0;
        cr_assert(uf_season_create(&season, s->heat, options_of(which), NULL) == UF_OK);
        double *T = calloc(s->heat->n, sizeof *T);
        cr_assert(T != NULL);
        for (size_t c = 0; c < s->heat->n; c++) {
            T[c] = 2.0;
        }
        uf_season_drive(season, &drive);
        uf_season_set(season, 0.0, T);
        cr_assert(uf_season_advance(season, 30.0, NULL) == UF_OK);
        cr_assert(uf_season_advance(season, 30.0 + days, NULL) == UF_OK);
        const struct uf_heat_budget J = uf_season_heat_J(season);
        cr_expect(fabs(uf_season_leak_J(season)) < 1e-6 * fabs(J.surface_J),
                  "case %zu leaks %g of %g J", k, uf_season_leak_J(season), J.surface_J);
        cr_expect(J.inflow_J > 0.0 && J.bottom_J > 0.0 && J.vent_J < 0.0);
        cr_expect(uf_season_day(season) == 30.0 + days);
        free(T);
        uf_season_free(season);
        uf_section_free(s);
    }
}

/* Counters: the fast steps are as asked, CVODE's Newton never fails on this problem. */
Test(season, counters_tell_what_was_done)
{
    const struct uf_thermal soil = uf_verify_silt();
    struct uf_case d = designs_ground(&soil);
    struct uf_section *s = NULL;
    const struct uf_drive drive = winter_drive();
    double T[256];
    cr_assert(uf_section_create(&s, &d, 1.5, NULL) == UF_OK);
    for (size_t c = 0; c < s->heat->n; c++) {
        T[c] = 5.0;
    }
    for (int k = 0; k < 2; k++) {
        struct uf_season *season = NULL;
        cr_assert(uf_season_create(&season, s->heat, options_of(k == 0 ? UF_FAST : UF_BDF), NULL) ==
                  UF_OK);
        uf_season_drive(season, &drive);
        uf_season_set(season, 5.0, T);
        cr_assert(uf_season_advance(season, 45.0, NULL) == UF_OK);
        const struct uf_counters c = uf_season_counters(season);
        cr_expect(c.cells == (long)s->heat->n && c.simulated_days == 40.0);
        if (k == 0) {
            cr_expect(c.steps == 160 && c.rhs >= 3 * c.steps);
        } else {
            cr_expect(c.newton_failures == 0 && c.factorisations > 0 && c.steps > 10);
        }
        uf_season_free(season);
    }
    uf_section_free(s);
    uf_season_free(NULL);
}

/* Straight lines between the noons; held at the ends, or running round. */
Test(season, drive_between_days)
{
    static const double outside[] = {0.0, 10.0, 4.0};
    static const double film[] = {5.0, 15.0, INFINITY};
    struct uf_drive drive = {.start_day = 100.0,
                             .days = 3,
                             .outside_degC = outside,
                             .h_W_m2K = film,
                             .air_degC = outside};
    static const struct {
        double day;
        bool periodic;
        double degC, h;
    } rows[] = {
        {100.5, false, 0.0, 5.0},      {101.0, false, 5.0, 10.0}, {101.25, false, 7.5, 12.5},
        {102.5, false, 4.0, INFINITY}, {100.0, false, 0.0, 5.0},  {90.0, false, 0.0, 5.0},
        {120.0, false, 4.0, INFINITY}, {102.0, false, 7.0, 15.0}, {100.0, true, 2.0, INFINITY},
        {103.0, true, 2.0, INFINITY},  {103.5, true, 0.0, 5.0},   {97.5, true, 0.0, 5.0},
        {161.0, true, 5.0, 10.0}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        drive.periodic = rows[k].periodic;
        const struct uf_heat_now now = uf_season_now(&drive, rows[k].day);
        cr_expect(fabs(now.outside_degC - rows[k].degC) < 1e-12, "row %zu: %g", k,
                  now.outside_degC);
        cr_expect(now.air_degC == now.outside_degC);
        cr_expect(now.h_W_m2K == rows[k].h || fabs(now.h_W_m2K - rows[k].h) < 1e-12,
                  "row %zu: film %g", k, now.h_W_m2K);
    }
}

/* Time runs one way: a day before the present one, or none at all, is refused and moves nothing. */
Test(season, no_way_back)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    const double outside[2] = {1.0, 1.0};
    const double film[2] = {15.0, 15.0};
    const struct uf_drive drive = {
        .days = 2, .outside_degC = outside, .h_W_m2K = film, .air_degC = outside};
    for (int k = 0; k < 2; k++) {
        struct uf_season_options options = uf_season_defaults();
        struct uf_section *s = NULL;
        struct uf_season *season = NULL;
        options.integrator = k == 0 ? UF_FAST : UF_BDF;
        cr_assert(uf_section_create(&s, &d, 1.0, NULL) == UF_OK);
        cr_assert(uf_season_create(&season, s->heat, &options, NULL) == UF_OK);
        double *T = calloc(s->heat->n, sizeof *T);
        cr_assert_not_null(T);
        uf_season_drive(season, &drive);
        uf_season_set(season, 1.0, T);
        cr_expect(uf_season_advance(season, 0.5, NULL) == UF_E_RANGE);
        cr_expect(uf_season_advance(season, NAN, NULL) == UF_E_RANGE);
        cr_expect_eq(uf_season_day(season), 1.0);
        cr_expect(uf_season_advance(season, 1.25, NULL) == UF_OK);
        cr_expect(uf_season_advance(season, 1.25, NULL) == UF_OK, "no way at all");
        cr_expect(uf_season_advance(season, 1.25 + 1e-15, NULL) == UF_OK, "rounding");
        free(T);
        uf_season_free(season);
        uf_section_free(s);
    }
}

/* A state that nothing in the drive explains ends the run with where and when. The drive is
   changed behind the season's back, which stands for a scheme that went wrong. */
Test(season, a_temperature_that_nothing_drives_is_an_error)
{
    static const enum uf_integrator integrators[] = {UF_FAST, UF_BDF};
    for (size_t k = 0; k < 2; k++) {
        const struct uf_thermal soil = uf_verify_silt();
        struct uf_case d = designs_ground(&soil);
        struct uf_section *s = NULL;
        struct uf_season *season = NULL;
        struct uf_season_options options = uf_season_defaults();
        struct uf_error err = {0};
        double outside[2] = {-5.0, 6.0};
        double film[2] = {20.0, 20.0};
        const struct uf_drive drive = {
            .days = 2, .outside_degC = outside, .h_W_m2K = film, .air_degC = outside};
        options.integrator = integrators[k];
        cr_assert(uf_section_create(&s, &d, 1.0, NULL) == UF_OK);
        cr_assert(uf_season_create(&season, s->heat, &options, NULL) == UF_OK);
        double *T = calloc(s->heat->n, sizeof *T);
        cr_assert_not_null(T);
        uf_season_drive(season, &drive);
        uf_season_set(season, 0.0, T);
        cr_expect_eq(uf_season_advance(season, 1.0, &err), UF_OK, "%s", err.text);
        outside[0] = outside[1] = -60.0;
        cr_expect_eq(uf_season_advance(season, 20.0, &err), UF_E_SOLVER);
        cr_expect(strstr(err.text, "0.05 m below grade on 1970-01-21") != NULL &&
                      strstr(err.text, "below -5.0") != NULL,
                  "%s", err.text);
        free(T);
        uf_season_free(season);
        uf_section_free(s);
    }
}
