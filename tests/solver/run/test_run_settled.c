#include "tests/runs.h"

/* Runs that end once nothing can get colder, against the same runs to their last day. */

enum { DAYS = 365 };

struct season {
    double air_degC[DAYS], snow_m[DAYS];
    struct runs_weather *year;
    struct uf_forcing *forcing;
};

/* A whole year from October on, the last days of it so much colder. */
static void season_open(struct season *s, const struct uf_case *d, size_t cold_days, double by_K)
{
    s->year = runs_weather_create(7.0, 14.0);
    for (size_t i = 0; i < DAYS; i++) {
        s->air_degC[i] = s->year->year_air_degC[i] - (i + cold_days >= DAYS ? by_K : 0.0);
        s->snow_m[i] = 0.0;
    }
    s->year->weather.air_degC = s->air_degC;
    s->year->weather.snow_m = s->snow_m;
    s->year->weather.days = DAYS;
    s->forcing = runs_forcing(d, s->year);
}

static void season_close(struct season *s)
{
    uf_forcing_free(s->forcing);
    free(s->year);
}

static size_t run(struct uf_summary *out, const struct uf_case *d, const struct season *s,
                  bool brief)
{
    struct uf_run_options options = uf_run_defaults();
    struct uf_run *run = NULL;
    struct uf_error err = {0};
    options.brief = brief;
    cr_assert(uf_run_create(&run, d, s->forcing, &options, &err) == UF_OK, "%s", err.text);
    while (!uf_run_done(run)) {
        cr_assert(uf_run_next(run, &err) == UF_OK, "%s", err.text);
    }
    const size_t days = uf_run_day(run);
    *out = uf_run_summary(run);
    uf_run_free(run);
    return days;
}

static struct uf_case design(void)
{
    struct uf_case d = runs_tank();
    d.n_probes = 1;
    d.probes[0] = (struct uf_probe){"near", 1.2, 1.0, NAN, NAN, NAN};
    d.n_pipes = 1;
    d.pipes[0] = (struct uf_pipe){"suction", 0.2, 1.1, false};
    return d;
}

static void expect_same(const struct uf_summary *a, const struct uf_summary *b)
{
    cr_expect_eq(a->water.degC, b->water.degC);
    cr_expect_eq(a->water.day, b->water.day);
    cr_expect_eq(a->wall.degC, b->wall.degC);
    cr_expect_eq(a->crown.degC, b->crown.degC);
    cr_expect_eq(a->invert.degC, b->invert.degC);
    cr_expect_eq(a->frost_undisturbed_m, b->frost_undisturbed_m);
    cr_expect_eq(a->frost_above_m, b->frost_above_m);
    cr_expect_eq(a->thaw_out_day, b->thaw_out_day);
    cr_expect_eq(a->probes[0].least.degC, b->probes[0].least.degC);
    cr_expect_eq(a->probes[0].days_below_zero, b->probes[0].days_below_zero);
    cr_expect_eq(a->pipes[0].least.degC, b->pipes[0].least.degC);
}

Test(run_settled, a_brief_run_tells_the_same_coldest_in_fewer_days)
{
    const struct uf_case d = design();
    struct season s;
    struct uf_summary whole, brief;
    season_open(&s, &d, 0, 0.0);
    cr_expect_eq(run(&whole, &d, &s, false), DAYS);
    const size_t days = run(&brief, &d, &s, true);
    cr_expect(days < DAYS - 14 && days > 150, "%zu days", days);
    expect_same(&whole, &brief);
    cr_expect(whole.frost_undisturbed_m > 0.3, "it froze");
    season_close(&s);
}

/* Frost in the last two days: nothing is known before it. */
Test(run_settled, cold_that_is_still_to_come_is_waited_for)
{
    const struct uf_case d = design();
    struct season s;
    struct uf_summary whole, brief;
    season_open(&s, &d, 2, 40.0);
    (void)run(&whole, &d, &s, false);
    cr_expect_eq(run(&brief, &d, &s, true), DAYS);
    expect_same(&whole, &brief);
    season_close(&s);
}

/* What the water takes to be kept warm goes on to the last day. */
Test(run_settled, a_tank_that_is_kept_warm_is_run_to_the_end)
{
    struct uf_case d = design();
    struct season s;
    struct uf_summary brief;
    d.tank.hold_degC = 5.0;
    season_open(&s, &d, 0, 0.0);
    cr_expect_eq(run(&brief, &d, &s, true), DAYS);
    season_close(&s);
}
