#include "runs.h"
#include "solver/front.h"

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
    cr_assert(uf_run_all(&summary, &record, d, forcing, &options, NULL, &err) == UF_OK,
              "%s", err.text);
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
    cr_assert_not_null(a);
    /* Weather of days, so that there is something to step over. */
    for (int i = 0; i < RUNS_DAYS; i++) {
        w->air_degC[i] += 6.0 * sin(1.7 * i) + 3.0 * cos(0.37 * i);
    }
    struct uf_forcing *forcing = runs_forcing(d, w);
    /* The start repeats the mean year with its own half-day steps; give both the same
     * pace. */
    forcing->year.steps_per_day = 12.0;
    fast.steps_per_day = 24.0;
    bdf.integrator = UF_BDF;
    bdf.rtol = 1e-6;
    bdf.atol_J_m3 = 2e3;
    run(d, forcing, &fast, a);
    run(d, forcing, &bdf, b);
    for (int i = 0; i < RUNS_DAYS; i++) {
        frost_m = fmax(frost_m, fabs(a->frost_m[i] - b->frost_m[i]));
        water_K = fmax(water_K, fabs(a->water_degC[i] - b->water_degC[i]));
    }
    cr_expect(frost_m < 0.002, "frost differs by %.2f mm", 1e3 * frost_m);
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
