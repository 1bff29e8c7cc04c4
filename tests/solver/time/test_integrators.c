#include "solver/heat/front.h"
#include "tests/bench/reference.h"
#include "tests/runs.h"

/* Both integrators with tight tolerances on the same section, one winter: frost depth
   within 2 mm on every day, coldest water within 0.02 K. */

struct trace {
    double frost_m[RUNS_DAYS], water_degC[RUNS_DAYS];
    double leak;
};

static void run(const struct uf_case *d, const struct uf_forcing *forcing,
                const struct uf_season_options *season, struct trace *out)
{
    struct uf_run_options options = uf_run_defaults();
    struct uf_record *record = NULL;
    struct uf_summary summary;
    struct uf_error err = {0};
    options.season = *season;
    options.startup_tolerance_K = 1e-4; /* the start is not what is compared */
    cr_assert(uf_run_all(&summary, &record, d, forcing, &options, NULL, &err) == UF_OK, "%s",
              err.text);
    for (int i = 0; i < RUNS_DAYS; i++) {
        out->frost_m[i] = record->frost_depth_m[i];
        out->water_degC[i] = record->water_degC[i];
    }
    out->leak = summary.heat_balance_relative;
    uf_record_free(record);
}

static void expect_agree(struct uf_case *d)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    struct uf_season_options fast = uf_season_defaults();
    struct uf_season_options bdf = uf_season_defaults();
    struct trace *a = calloc(2, sizeof *a);
    struct trace *b = a + 1;
    double frost_m = 0.0;
    double water_K = 0.0;
    int jumps = 0;
    cr_assert_not_null(a);
    /* Weather of days, so that there is something to step over. */
    for (int i = 0; i < RUNS_DAYS; i++) {
        w->air_degC[i] += 6.0 * sin(1.7 * i) + 3.0 * cos(0.37 * i);
    }
    struct uf_forcing *forcing = runs_forcing(d, w);
    /* The start repeats the mean year with its own half-day steps; give both the same pace. */
    forcing->year.steps_per_day = 12.0;
    fast.steps_per_day = 24.0;
    bdf.integrator = UF_BDF;
    bdf.rtol = 1e-6;
    bdf.atol_J_m3 = 2e3;
    run(d, forcing, &fast, a);
    run(d, forcing, &bdf, b);
    for (int i = 0; i < RUNS_DAYS; i++) {
        const double apart_m = fabs(a->frost_m[i] - b->frost_m[i]);
        jumps += apart_m > 0.002;
        frost_m = fmax(frost_m, apart_m);
        water_K = fmax(water_K, fabs(a->water_degC[i] - b->water_degC[i]));
    }
    /* On the day the front enters a row of 0.2 m either may be the first to say so. */
    cr_expect(jumps <= 1 && frost_m < 0.02, "frost differs by %.2f mm", 1e3 * frost_m);
    cr_expect(water_K < 0.02, "water differs by %.4f K", water_K);
    cr_expect(a->leak < 1e-12 && b->leak < 1e-6, "leaks %g and %g", a->leak, b->leak);
    free(a);
    free(w);
    uf_forcing_free(forcing);
}

Test(integrators, agree_with_board)
{
    struct uf_case d = runs_tank();
    expect_agree(&d);
}

Test(integrators, agree_bare)
{
    struct uf_case d = runs_tank();
    d.board.present = false;
    expect_agree(&d);
}

/* The section of the reference problem at 10 cm through its first winter, from one state
   and under one drive: the integrators alone. */
static void reference_winter(const struct uf_section *s, const struct uf_season_options *options,
                             struct trace *out)
{
    static double outside_degC[RUNS_DAYS + 2], film_W_m2K[RUNS_DAYS + 2];
    struct uf_season *season = NULL;
    struct uf_error err = {0};
    double exchanged_J = 0.0;
    double before_J = 0.0;
    for (int i = 0; i < RUNS_DAYS + 2; i++) {
        outside_degC[i] = reference_outside_degC(i + 0.5);
        film_W_m2K[i] = 15.0;
    }
    const struct uf_drive drive = {.days = RUNS_DAYS + 2,
                                   .outside_degC = outside_degC,
                                   .h_W_m2K = film_W_m2K,
                                   .air_degC = outside_degC};
    double *T = calloc(s->heat->n, sizeof *T);
    cr_assert_not_null(T);
    for (size_t c = 0; c < s->heat->n; c++) {
        T[c] = 3.0 + 0.0375 * s->grid->z_m[c / s->grid->nx];
    }
    cr_assert(uf_season_create(&season, s->heat, options, &err) == UF_OK, "%s", err.text);
    uf_season_drive(season, &drive);
    uf_season_set(season, 0.0, T);
    for (int day = 0; day < RUNS_DAYS; day++) {
        cr_assert(uf_season_advance(season, day + 1.0, &err) == UF_OK, "%s", err.text);
        const struct uf_heat_now now = uf_season_now(&drive, day + 1.0);
        const double *T_degC = uf_season_T_degC(season);
        const size_t far = s->grid->nx - 1;
        out->frost_m[day] =
            uf_front_frost_m(s, uf_season_H_J_m3(season), T_degC, far,
                             uf_heat_surface_degC(s->heat, &s->heat->tops[far], &now, T_degC[far]));
        out->water_degC[day] = uf_section_at_degC(s, T_degC, 0.0, 1.2); /* under the crown */
        exchanged_J += fabs(uf_season_heat_J(season).surface_J - before_J);
        before_J = uf_season_heat_J(season).surface_J;
    }
    out->leak = fabs(uf_season_leak_J(season)) / exchanged_J;
    free(T);
    uf_season_free(season);
}

Test(integrators, agree_on_the_reference_problem)
{
    struct uf_season_options fast = uf_season_defaults();
    struct uf_season_options bdf = uf_season_defaults();
    struct trace *a = calloc(2, sizeof *a);
    struct trace *b = a + 1;
    fast.steps_per_day = 24.0;
    bdf.integrator = UF_BDF;
    bdf.rtol = 1e-6;
    bdf.atol_J_m3 = 2e3;
    cr_assert_not_null(a);
    for (int board = 0; board < (getenv("UF_TEST_LIGHT") != NULL ? 1 : 2); board++) {
        struct uf_case d;
        struct uf_section *s = NULL;
        double frost_m = 0.0;
        double water_K = 0.0;
        double deepest_m = 0.0;
        int jumps = 0; /* days on which the front has passed into the next row in one of them */
        d = uf_verify_reference_case(board != 0);
        d.grid.finest_m = 0.1;
        cr_assert(uf_section_create(&s, &d, 2.6, NULL) == UF_OK);
        reference_winter(s, &fast, a);
        reference_winter(s, &bdf, b);
        for (int i = 0; i < RUNS_DAYS; i++) {
            const double off_m = fabs(a->frost_m[i] - b->frost_m[i]);
            jumps += off_m >= 0.002;
            frost_m = off_m < 0.01 && jumps == 1 && off_m >= 0.002 ? frost_m : fmax(frost_m, off_m);
            water_K = fmax(water_K, fabs(a->water_degC[i] - b->water_degC[i]));
            deepest_m = fmax(deepest_m, a->frost_m[i]);
        }
        cr_log_info("board %d: %.2f mm, %.4f K", board, 1e3 * frost_m, water_K);
        cr_expect(deepest_m > 1.0, "frost of %g m", deepest_m);
        cr_expect(frost_m < 0.002, "board %d: frost differs by %.2f mm", board, 1e3 * frost_m);
        cr_expect(water_K < 0.02, "board %d: water differs by %.4f K", board, water_K);
        cr_expect(a->leak < 1e-12 && b->leak < 1e-6, "leaks %g and %g", a->leak, b->leak);
        uf_section_free(s);
    }
    free(a);
}

/* Coldest row of water on the last of 100 frosty days, all at 8 degC on the first. */
static double cooled_degC(const struct uf_section *s, enum uf_integrator integrator)
{
    enum { DAYS = 100 };
    static double outside_degC[DAYS + 2], film_W_m2K[DAYS + 2];
    struct uf_season *season = NULL;
    struct uf_season_options options = uf_season_defaults();
    struct uf_error err = {0};
    double coldest_degC = INFINITY;
    options.integrator = integrator;
    double *T = calloc(s->heat->n, sizeof *T);
    cr_assert_not_null(T);
    for (size_t i = 0; i < s->heat->n; i++) {
        T[i] = 8.0;
    }
    for (int i = 0; i < DAYS + 2; i++) {
        outside_degC[i] = -10.0;
        film_W_m2K[i] = 15.0;
    }
    const struct uf_drive drive = {.days = DAYS + 2,
                                   .outside_degC = outside_degC,
                                   .h_W_m2K = film_W_m2K,
                                   .air_degC = outside_degC};
    cr_assert(uf_season_create(&season, s->heat, &options, &err) == UF_OK, "%s", err.text);
    uf_season_drive(season, &drive);
    uf_season_set(season, 0.0, T);
    cr_assert(uf_season_advance(season, DAYS, &err) == UF_OK, "%s", err.text);
    for (size_t r = 0; r < s->heat->n_water; r++) {
        coldest_degC = fmin(coldest_degC, uf_season_T_degC(season)[s->heat->water + r]);
    }
    free(T);
    uf_season_free(season);
    return coldest_degC;
}

/* Eight metres of water that cools from above turns over from top to bottom: the reference joins its
   forty rows by a conductance each, and what that leaves between them adds up over all of them. */
Test(integrators, agree_on_deep_water_that_turns_over)
{
    struct uf_case d = designs_tank(UF_VERTICAL_CYLINDER, 7.9);
    struct uf_section *s = NULL;
    d.tank.height_m = 8.0;
    d.tank.diameter_m = 3.2;
    d.tank.water = UF_WATER_LAYERED;
    d.ground.layers[0].to_m = d.grid.depth_m = 14.0;
    d.grid.finest_m = 0.2;
    cr_assert(uf_section_create(&s, &d, 2.0, NULL) == UF_OK);
    cr_assert(s->heat->n_water > 30);
    const double fast = cooled_degC(s, UF_FAST), reference = cooled_degC(s, UF_BDF);
    cr_expect(fast > 4.0 && fast < 7.5, "%g degC", fast);
    cr_expect(fabs(fast - reference) < 0.01, "fast %g, reference %g degC", fast, reference);
    uf_section_free(s);
}
