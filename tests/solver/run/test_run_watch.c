#include "tests/runs.h"

/* What a run keeps an eye on: pipes, ice, the board's skirt, and its own domain. */

static struct uf_summary run(const struct uf_case *d, const struct runs_weather *w, bool inflow)
{
    struct uf_forcing *forcing = runs_forcing(d, w);
    struct uf_run_options options = uf_run_defaults();
    struct uf_summary summary;
    struct uf_error err = {0};
    options.inflow = inflow;
    cr_assert(uf_run_all(&summary, NULL, d, forcing, &options, NULL, &err) == UF_OK, "%s",
              err.text);
    uf_forcing_free(forcing);
    return summary;
}

/* A pipe is judged at its crown: in undisturbed ground, or half way out under the board. */
Test(run_watch, pipes_are_read_at_their_crown)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    d.n_pipes = 2;
    d.pipes[0] = (struct uf_pipe){"suction", 0.2, 1.1, false};
    d.pipes[1] = (struct uf_pipe){"under the board", 0.2, 1.1, true};
    d.n_probes = 2;
    d.probes[0] = (struct uf_probe){"far", d.grid.width_m, 1.0, NAN, NAN, NAN};
    d.probes[1] = (struct uf_probe){"near", 0.8 + 0.3, 1.0, NAN, NAN, NAN};
    const struct uf_summary s = run(&d, w, false);
    for (size_t k = 0; k < 2; k++) {
        cr_expect_eq(s.pipes[k].least.degC, s.probes[k].least.degC);
        cr_expect_eq(s.pipes[k].least.day, s.probes[k].least.day);
        cr_expect_eq(s.pipes[k].days_below_zero, s.probes[k].days_below_zero);
        cr_expect_eq(s.pipes[k].limit_degC, 0.0);
    }
    cr_expect(s.pipes[1].least.degC > s.pipes[0].least.degC, "the board keeps it warm");
    free(w);
}

/* A skirt hanging from the board's edge keeps the side's cold out. */
Test(run_watch, a_skirt_warms_the_ground_within_it)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(2.0, 16.0);
    d.n_probes = 1;
    d.probes[0] = (struct uf_probe){"within the edge", 1.15, 1.0, NAN, NAN, NAN};
    const struct uf_summary without = run(&d, w, false);
    d.board.skirt_m = 0.8;
    const struct uf_summary with = run(&d, w, false);
    cr_expect(with.probes[0].least.degC > without.probes[0].least.degC + 0.1, "%g against %g",
              with.probes[0].least.degC, without.probes[0].least.degC);
    cr_expect(with.crown.degC > without.crown.degC);
    cr_expect(with.heat_balance_relative < 1e-12);
    free(w);
}

/* A board that keeps the ground under it from freezing holds the 0 degC line in itself. */
Test(run_watch, frost_over_the_tank_stays_in_the_board)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(7.0, 16.0);
    const double under_m = uf_case_board_bottom_m(&d);
    d.n_probes = 1;
    d.probes[0] = (struct uf_probe){"under the board", 0.0, under_m + 0.05, NAN, NAN, NAN};
    const struct uf_summary s = run(&d, w, false);
    cr_expect(s.probes[0].least.degC > 0.0, "%g degC", s.probes[0].least.degC);
    cr_expect(s.frost_above_m > uf_case_board_top_m(&d) && s.frost_above_m < under_m,
              "%g m, board to %g m", s.frost_above_m, under_m);
    free(w);
}

/* Still water a finger's breadth under the inside top: no cell holds the air between. It
   runs, and a riser takes its share of the heat, as over a tank filled to the top. */
Test(run_watch, thin_air_over_still_water)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    d.tank.mixing_W_mK = 10.0;
    d.tank.level_m = 1.555;
    const struct uf_summary got = run(&d, w, false);
    d.tank.level_m = 1.56;
    const struct uf_summary full = run(&d, w, false);
    cr_expect(full.riser_share > 0.05, "%g", full.riser_share);
    cr_expect_float_eq(got.riser_share, full.riser_share, 0.01);
    cr_expect_float_eq(got.wall.degC, full.wall.degC, 0.05);
    d.tank.n_risers = 0;
    d.tank.level_m = 1.555;
    cr_expect(run(&d, w, false).heat_balance_relative < 1e-12);
    free(w);
}

/* On the tank's surface a probe reads that surface: the crown of the same answer, day and
   degree, from outside and inside; under it the water. */
Test(run_watch, a_probe_on_the_tank_reads_its_wall)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    for (size_t k = 0; k < 3; k++) {
        for (int still = 0; still < 2; still++) {
            struct uf_case d = runs_tank();
            d.tank.shape = shapes[k];
            d.tank.mixing_W_mK = still ? 5.0 : (double)NAN;
            d.board.present = false;
            d.n_probes = 4;
            d.probes[0] = (struct uf_probe){"crown", 0.0, 1.0, NAN, NAN, NAN};
            d.probes[1] = (struct uf_probe){"under the wall", 0.0, 1.02, NAN, NAN, NAN};
            d.probes[2] = (struct uf_probe){"invert", 0.0, uf_case_invert_m(&d), NAN, NAN, NAN};
            d.probes[3] = (struct uf_probe){"a finger over it", 0.0, 0.98, NAN, NAN, NAN};
            const struct uf_summary s = run(&d, w, false);
            cr_expect_eq(s.probes[0].least.degC, s.crown.degC, "shape %zu: %g, crown %g", k,
                         s.probes[0].least.degC, s.crown.degC);
            cr_expect_eq(s.probes[0].least.day, s.crown.day);
            cr_expect_eq(s.probes[1].least.degC, s.crown.degC);
            cr_expect_eq(s.probes[2].least.degC, s.invert.degC);
            cr_expect(s.probes[3].least.degC < s.crown.degC, "colder outside the wall");
        }
    }
    free(w);
}

/* Ice as an even layer: its share of the water's volume over the wetted wall. */
Test(run_watch, ice_is_told_as_an_even_layer)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(1.0, 19.0);
    struct uf_run_options options = uf_run_defaults();
    struct uf_run *r = NULL;
    d.board.present = false;
    d.burial.cover_m = 0.4;
    struct uf_forcing *forcing = runs_forcing(&d, w);
    cr_assert(uf_run_create(&r, &d, forcing, &options, NULL) == UF_OK);
    while (!uf_run_done(r)) {
        cr_assert(uf_run_next(r, NULL) == UF_OK);
    }
    const struct uf_summary s = uf_run_summary(r);
    const struct uf_heat *h = uf_run_section(r)->heat;
    cr_assert(s.ice_share > 0.01);
    cr_expect_float_eq(s.ice_thickness_m, s.ice_share * h->water_m3 / h->wetted_m2, 1e-12);
    /* 1.2 m deep in a circle of 1.56 m inside: half of area and of arc */
    const double angle = acos((0.78 - 1.2) / 0.78);
    const double area_m2 = 0.78 * 0.78 * (angle - sin(angle) * cos(angle));
    cr_expect_float_eq(h->water_m3, 0.5 * area_m2, 0.01 * area_m2);
    cr_expect_float_eq(h->wetted_m2, 0.78 * angle, 1e-9);
    uf_run_free(r);
    uf_forcing_free(forcing);
    free(w);
}

/* The heat that flows in with water is counted: the balance closes with it too. */
Test(run_watch, inflow_is_part_of_the_balance)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    d.tank.inflow_m3_s = 1.0 / UF_DAY_S;
    d.tank.inflow_degC = 8.0;
    cr_expect(run(&d, w, true).heat_balance_relative < 1e-12);
    free(w);
}

/* A side or a bottom that is too near shows itself; one far away does not. */
Test(run_watch, a_small_domain_shows)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    d.grid.width_m = d.grid.depth_m = 20.0;
    d.ground.layers[0].to_m = 20.0;
    const struct uf_summary large = run(&d, w, false);
    d.grid.width_m = 2.2;
    const struct uf_summary narrow = run(&d, w, false);
    d.grid.width_m = 20.0;
    d.grid.depth_m = d.ground.layers[0].to_m = 5.0;
    const struct uf_summary shallow = run(&d, w, false);
    cr_expect(large.side_effect_m < 0.01, "%g m", large.side_effect_m);
    cr_expect(large.bottom_effect_K < 0.01, "%g K", large.bottom_effect_K);
    cr_expect(narrow.side_effect_m > 0.01, "%g m", narrow.side_effect_m);
    cr_expect(shallow.bottom_effect_K > 0.1, "%g K", shallow.bottom_effect_K);
    free(w);
}

/* The crown at grade: the lid freezes, the balance closes, and the water is a little
   colder than under a hand's breadth of ground. An empty tank has no coldest water. */
Test(run_watch, a_tank_at_grade_loses_heat_through_its_lid)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(4.0, 16.0);
    d.board.present = false;
    d.burial.cover_m = 0.1;
    const struct uf_summary covered = run(&d, w, false);
    d.burial.cover_m = 0.0;
    const struct uf_summary bare = run(&d, w, false);
    cr_expect(bare.heat_balance_relative < 1e-12, "%g", bare.heat_balance_relative);
    cr_expect(bare.frost_reaches_tank && bare.crown.degC < covered.crown.degC);
    cr_expect(bare.ice_share >= covered.ice_share && bare.water.degC <= covered.water.degC,
              "ice %g and %g, water %g and %g", bare.ice_share, covered.ice_share, bare.water.degC,
              covered.water.degC);
    d.tank.level_m = 1.6;
    const struct uf_summary full = run(&d, w, false);
    cr_expect_eq(full.wall.degC, full.crown.degC, "the lid is the coldest wetted wall");
    cr_expect(full.heat_balance_relative < 1e-12);
    d.tank.level_m = 0.0;
    const struct uf_summary empty = run(&d, w, false);
    cr_expect(isnan(empty.water.degC) && empty.water.day == UF_NO_DAY);
    cr_expect(isnan(empty.wall.degC) && empty.wall.day == UF_NO_DAY);
    free(w);
}

/* Nothing goes in or out: what rounding leaves is no imbalance. */
Test(run_watch, a_year_without_seasons_balances)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(4.0, 0.0);
    d.ground.geothermal_W_m2 = 0.0;
    d.tank.start_degC = 4.0;
    cr_expect(run(&d, w, false).heat_balance_relative < 1e-6, "%g",
              run(&d, w, false).heat_balance_relative);
    free(w);
}
