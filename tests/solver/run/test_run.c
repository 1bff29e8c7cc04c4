#include "tests/runs.h"

#include <string.h>

/* Whole runs: what the summary says must be what the record shows, and the physics' own signs. */

static struct uf_summary run(const struct uf_case *d, const struct runs_weather *w, bool inflow,
                             struct uf_record **record)
{
    struct uf_forcing *forcing = runs_forcing(d, w);
    struct uf_run_options options = uf_run_defaults();
    struct uf_summary summary;
    struct uf_error err = {0};
    options.inflow = inflow;
    cr_assert(uf_run_all(&summary, record, d, forcing, &options, NULL, &err) == UF_OK, "%s",
              err.text);
    uf_forcing_free(forcing);
    return summary;
}

static double least_of(const double *series, size_t n)
{
    double least = INFINITY;
    for (size_t i = 0; i < n; i++) {
        least = fmin(least, series[i]);
    }
    return least;
}

static double most_of(const double *series, size_t n)
{
    double most = -INFINITY;
    for (size_t i = 0; i < n; i++) {
        most = fmax(most, series[i]);
    }
    return most;
}

Test(run, summary_is_what_the_record_shows)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    struct uf_record *r = NULL;
    d.n_probes = 2;
    d.probes[0] = (struct uf_probe){"in the water", 0.0, 2.0, NAN, NAN, 0.0};
    d.probes[1] = (struct uf_probe){"beside", 2.0, 0.5, NAN, NAN, NAN};
    const struct uf_summary s = run(&d, w, false, &r);
    cr_assert_eq(r->nt, (size_t)RUNS_DAYS);
    cr_expect_float_eq(s.frost_undisturbed_m, most_of(r->frost_depth_m, r->nt), 1e-12);
    cr_expect_float_eq(s.frost_above_m, most_of(r->frost_above_m, r->nt), 1e-12);
    cr_expect_float_eq(s.water.degC, least_of(r->water_degC, r->nt), 1e-12);
    cr_expect_float_eq(s.wall.degC, least_of(r->wall_degC, r->nt), 1e-12);
    cr_expect_float_eq(s.probes[0].least.degC, s.water.degC, 1e-12);
    cr_expect(s.probes[1].least.degC < 0.0 && s.probes[1].days_below_zero > 30);
    cr_expect(s.frost_undisturbed_m > 0.8 && s.frost_undisturbed_m < 3.0, "%g",
              s.frost_undisturbed_m);
    cr_expect(s.frost_above_m <= d.burial.cover_m + 1e-12);
    cr_expect(s.wall.degC <= s.water.degC + 1e-9, "in winter the wall is colder than the water");
    cr_expect(s.heat_balance_relative < 1e-12);
    cr_expect(s.riser_share > 0.0 && s.riser_share < 1.0, "%g", s.riser_share);
    cr_expect(s.thaw_out_day == UF_NO_DAY || s.thaw_out_day > s.frost_undisturbed_day);
    uf_record_free(r);
    free(w);
}

Test(run, board_warms_the_crown_and_skews_nothing_far_away)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_summary with = run(&d, w, false, NULL);
    d.board.present = false;
    const struct uf_summary without = run(&d, w, false, NULL);
    cr_expect(with.crown.degC > without.crown.degC + 0.5);
    cr_expect(fabs(with.frost_undisturbed_m - without.frost_undisturbed_m) < 0.03);
    free(w);
}

Test(run, colder_winter_more_frost_and_ice)
{
    struct uf_case d = runs_tank();
    struct runs_weather *mild = runs_weather_create(3.0, 12.0);
    struct runs_weather *hard = runs_weather_create(1.0, 19.0);
    d.board.present = false;
    d.burial.cover_m = 0.4;
    const struct uf_summary a = run(&d, mild, false, NULL);
    const struct uf_summary b = run(&d, hard, false, NULL);
    cr_expect(b.frost_undisturbed_m > a.frost_undisturbed_m + 0.3);
    cr_expect(b.ice_share > 0.01 && b.ice_share <= 1.0 && b.water.degC < 0.1, "%g %g", b.ice_share,
              b.water.degC);
    cr_expect(b.frost_reaches_tank);
    cr_expect(b.ice_thickness_m > 0.0 && b.ice_thickness_m < 0.8);
    free(mild);
    free(hard);
}

Test(run, inflow_warms_and_hold_holds)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    d.tank.inflow_m3_s = 1.0 / UF_DAY_S;
    d.tank.inflow_degC = 8.0;
    const struct uf_summary off = run(&d, w, false, NULL);
    const struct uf_summary on = run(&d, w, true, NULL);
    d.tank.hold_degC = 6.0;
    const struct uf_summary held = run(&d, w, false, NULL);
    cr_expect(on.water.degC > off.water.degC + 0.5, "%g against %g", on.water.degC, off.water.degC);
    cr_expect_float_eq(held.water.degC, 6.0, 1e-9);
    cr_expect(held.heat_balance_relative < 1e-12);
    free(w);
}

/* The same tank as slices: its ends lose heat too, and heat in is heat stored. At mid-tank
   the ground is nearly the section's own. */
Test(run, the_ends_make_the_water_colder)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(6.0, 15.0);
    const struct uf_summary plane = run(&d, w, false, NULL);
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    const struct uf_summary solid = run(&d, w, false, NULL);
    cr_expect(solid.water.degC < plane.water.degC - 0.05, "%g and %g degC", solid.water.degC,
              plane.water.degC);
    cr_expect(solid.wall.degC <= solid.water.degC);
    cr_expect(solid.heat_balance_relative < 1e-12, "%g", solid.heat_balance_relative);
    cr_expect_float_eq(solid.frost_undisturbed_m, plane.frost_undisturbed_m, 0.005);
    cr_expect(solid.counters.cells > 4 * plane.counters.cells);
    free(w);
}

/* A tank kept at 9 degC in ground and air of 5: what it takes, day by day, is what flows
   into the same tank fed so strongly that it stands at 9 degC too. By hand: U (Tw - 5)
   from the inflow that settles at Tw. */
Test(run, hold_tells_the_heat_it_takes)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(5.0, 0.0);
    d.tank.start_degC = NAN;
    d.ground.geothermal_W_m2 = 0.0;
    d.tank.inflow_m3_s = 1.0 / UF_DAY_S;
    d.tank.inflow_degC = 15.0;
    const double Tw_degC = run(&d, w, true, NULL).water.degC;
    const double U_W_K = 4.18e6 / UF_DAY_S * (15.0 - Tw_degC) / (Tw_degC - 5.0);
    d.tank.hold_degC = 9.0;
    const struct uf_summary s = run(&d, w, false, NULL);
    cr_expect_float_eq(s.hold_most_W / (4.0 * U_W_K), 1.0, 0.02, "%g W", s.hold_most_W);
    cr_expect_float_eq(s.hold_J / (RUNS_DAYS * UF_DAY_S * s.hold_most_W), 1.0, 0.02);
    cr_expect(s.hold_most_day >= 11000 && s.hold_most_day < 11000 + RUNS_DAYS);
    d.tank.hold_degC = NAN;
    cr_expect(isnan(run(&d, w, true, NULL).hold_J), "nothing is held");
    free(w);
}

/* Water to the crown, once mixed and once moved so strongly that it is as good as mixed:
   the riser takes its heat from either. */
Test(run, a_riser_cools_still_water_as_it_does_mixed)
{
    struct runs_weather *w = runs_weather_create(7.0, 14.0);
    double cools_K[2], share[2];
    for (int still = 0; still < 2; still++) {
        struct uf_case d = runs_tank();
        d.tank.level_m = 3.0;
        d.tank.risers[0].lid_m2K_W = 0.0;
        d.tank.risers[0].diameter_m = 1.2;
        d.tank.mixing_W_mK = still == 1 ? 200.0 : (double)NAN;
        const struct uf_summary with = run(&d, w, false, NULL);
        d.tank.n_risers = 0;
        cools_K[still] = run(&d, w, false, NULL).water.degC - with.water.degC;
        share[still] = with.riser_share;
    }
    cr_expect(cools_K[0] > 0.1, "%g", cools_K[0]);
    cr_expect_float_eq(cools_K[1] / cools_K[0], 1.0, 0.1, "%g and %g", cools_K[0], cools_K[1]);
    cr_expect_float_eq(share[1] / share[0], 1.0, 0.1, "%g and %g", share[0], share[1]);
    free(w);
}

Test(run, every_kind_of_contents_and_shape_balances)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    for (int k = 0; k < 3; k++) {
        for (int level = 0; level < 3; level++) {
            struct uf_case d = runs_tank();
            d.tank.shape = shapes[k];
            d.tank.level_m = 0.65 * level;
            d.tank.mixing_W_mK = level == 2 ? 20.0 : (double)NAN;
            const struct uf_summary s = run(&d, w, false, NULL);
            cr_expect(s.heat_balance_relative < 1e-9, "shape %d level %d: %g", k, level,
                      s.heat_balance_relative);
            cr_expect(isnan(s.water.degC) == (level == 0));
        }
    }
    free(w);
}

Test(run, frozen_ground_is_refused_and_a_profile_is_not)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(-4.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(&d, w);
    const struct uf_run_options options = uf_run_defaults();
    struct uf_run *r = NULL;
    struct uf_error err = {0};
    cr_expect(uf_run_create(&r, &d, forcing, &options, &err) == UF_E_INPUT);
    cr_expect(strstr(err.text, "permafrost") != NULL, "%s", err.text);
    d.initial.n_profile = 2;
    d.initial.depth_m[1] = 4.0;
    d.initial.degC[0] = 1.0;
    d.initial.degC[1] = 5.0;
    d.initial.below = UF_BELOW_CONSTANT;
    d.tank.start_degC = NAN;
    cr_assert(uf_run_create(&r, &d, forcing, &options, &err) == UF_OK, "%s", err.text);
    const struct uf_section *s = uf_run_section(r);
    const double *T = uf_season_T_degC(uf_run_season(r));
    for (size_t j = 0; j < s->grid->nz; j++) {
        const double want = fmin(5.0, 1.0 + s->grid->z_m[j]);
        cr_expect_float_eq(T[uf_grid_at(s->grid, s->grid->nx - 1, j)], want, 1e-9);
    }
    uf_run_free(r);
    uf_forcing_free(forcing);
    free(w);
}

Test(run, one_column_without_a_tank)
{
    const struct uf_thermal soil = designs_curved_soil();
    struct uf_case d = designs_ground(&soil);
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_summary s = run(&d, w, false, NULL);
    cr_expect(isnan(s.water.degC) && isnan(s.frost_above_m) && isnan(s.ice_share));
    cr_expect(s.frost_undisturbed_m > 0.8);
    free(w);
}

/* Frost over the axis stops at the crown, and reaches it exactly when the crown is
   frozen. */
Test(run, frost_above_ends_at_the_crown)
{
    for (int hard = 0; hard < 2; hard++) {
        struct uf_case d = runs_tank();
        struct runs_weather *w = runs_weather_create(2.0, hard != 0 ? 18.0 : 10.0);
        struct uf_record *r = NULL;
        d.board.present = false;
        d.burial.cover_m = hard != 0 ? 0.5 : 1.6;
        d.tank.hold_degC = hard != 0 ? (double)NAN : 4.0;
        const struct uf_summary s = run(&d, w, false, &r);
        bool reached = false;
        for (size_t i = 0; i < r->nt; i++) {
            cr_expect(r->frost_above_m[i] <= d.burial.cover_m + 1e-12, "day %zu: %g", i,
                      r->frost_above_m[i]);
            reached = reached || r->crown_degC[i] < 0.0;
        }
        cr_expect_eq(reached, hard != 0);
        cr_expect_eq(s.frost_reaches_tank, reached);
        cr_expect(!reached || s.frost_above_m > d.burial.cover_m - 1e-9);
        uf_record_free(r);
        free(w);
    }
}

/* Ice held by the water, its thickness and its temperature tell one story. */
Test(run, ice_share_thickness_and_temperature_agree)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(1.0, 19.0);
    struct uf_record *r = NULL;
    d.board.present = false;
    d.burial.cover_m = 0.4;
    const struct uf_summary s = run(&d, w, false, &r);
    for (size_t i = 0; i < r->nt; i++) {
        cr_expect((r->ice_share[i] > 0.0) == (r->water_degC[i] < 0.0), "day %zu", i);
        /* Water freezes over 0 .. -0.2 degC, in proportion. */
        cr_expect_float_eq(r->ice_share[i], fmin(1.0, fmax(0.0, r->water_degC[i] / -0.2)), 1e-9);
    }
    cr_expect_float_eq(s.ice_share, most_of(r->ice_share, r->nt), 1e-12);
    cr_expect((s.ice_thickness_m > 0.0) == (s.ice_share > 0.0));
    uf_record_free(r);
    free(w);
}

Test(run, both_integrators_balance_their_heat)
{
    struct runs_weather *w = runs_weather_create(2.0, 16.0);
    const struct uf_case d = runs_tank();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_run_options options = uf_run_defaults();
    struct uf_summary s[2];
    for (int k = 0; k < 2; k++) {
        struct uf_error err = {0};
        options.season.integrator = k == 0 ? UF_FAST : UF_BDF;
        cr_assert(uf_run_all(&s[k], NULL, &d, forcing, &options, NULL, &err) == UF_OK, "%s",
                  err.text);
        cr_expect(s[k].heat_balance_relative < 1e-5, "%d: %g", k, s[k].heat_balance_relative);
    }
    cr_expect_float_eq(s[0].frost_undisturbed_m, s[1].frost_undisturbed_m, 0.01);
    cr_expect_float_eq(s[0].water.degC, s[1].water.degC, 0.05);
    uf_forcing_free(forcing);
    free(w);
}

static bool stop_at_once(void)
{
    return true;
}

Test(run, stops_when_asked_and_leaves_no_record)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_case d = runs_tank();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    const struct uf_run_options options = uf_run_defaults();
    struct uf_record *record = NULL;
    struct uf_summary summary;
    struct uf_error err = {0};
    cr_expect_eq(uf_run_all(&summary, &record, &d, forcing, &options, stop_at_once, &err),
                 UF_E_STOPPED);
    cr_expect_null(record);
    uf_forcing_free(forcing);
    free(w);
}

/* A state to start from is taken as it is; one of another section is refused. */
Test(run, starts_from_a_given_state)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    struct uf_case d = runs_tank();
    d.tank.start_degC = NAN;
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_run_options options = uf_run_defaults();
    struct uf_run *first = NULL;
    struct uf_run *second = NULL;
    struct uf_error err = {0};
    cr_assert(uf_run_create(&first, &d, forcing, &options, &err) == UF_OK, "%s", err.text);
    const size_t n = uf_run_section(first)->heat->n;
    options.start_degC = uf_season_T_degC(uf_run_season(first));
    options.n_start = n;
    cr_assert(uf_run_create(&second, &d, forcing, &options, &err) == UF_OK, "%s", err.text);
    cr_expect_eq(uf_run_startup(second).years, 0.0, "nothing was repeated");
    for (int i = 0; i < 5; i++) {
        cr_assert(uf_run_next(second, &err) == UF_OK);
    }
    uf_run_free(second);
    options.n_start = n - 1;
    cr_expect_eq(uf_run_create(&second, &d, forcing, &options, &err), UF_E_INPUT);
    cr_expect_null(second);
    uf_run_free(first);
    uf_forcing_free(forcing);
    free(w);
}

/* A new summary begins from the present day: extremes of before are gone. */
Test(run, forgets)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_case d = runs_tank();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    const struct uf_run_options options = uf_run_defaults();
    struct uf_run *r = NULL;
    struct uf_error err = {0};
    cr_assert(uf_run_create(&r, &d, forcing, &options, &err) == UF_OK, "%s", err.text);
    for (int i = 0; i < 200; i++) {
        cr_assert(uf_run_next(r, &err) == UF_OK);
    }
    const struct uf_summary before = uf_run_summary(r);
    uf_run_forget(r);
    cr_expect(isnan(uf_run_summary(r).water.degC));
    cr_assert(uf_run_next(r, &err) == UF_OK);
    const struct uf_summary after = uf_run_summary(r);
    cr_expect_eq(after.water.day, (long)w->weather.start_day + 200);
    cr_expect(after.water.degC >= before.water.degC);
    cr_expect(after.crown.degC > before.crown.degC + 0.1, "%g after %g", after.crown.degC,
              before.crown.degC);
    cr_expect(after.counters.steps > before.counters.steps, "the counters go on");
    cr_expect(after.heat_balance_relative < 1e-9);
    uf_run_free(r);
    uf_forcing_free(forcing);
    free(w);
}

/* A run that cannot begin has no record: what the caller's pointer held is not freed. */
Test(run, a_run_that_cannot_begin_leaves_no_record)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(-6.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_run_options options = uf_run_defaults();
    struct uf_summary summary;
    struct uf_error err = {0};
    double elsewhere = 1.0;
    struct uf_record *record = (struct uf_record *)&elsewhere;
    cr_expect_eq(uf_run_all(&summary, &record, &d, forcing, &options, NULL, &err), UF_E_INPUT);
    cr_expect_null(record);
    uf_forcing_free(forcing);
    free(w);
}
