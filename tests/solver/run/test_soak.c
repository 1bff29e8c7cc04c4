#include "solver/run/soak.h"
#include "solver/run/startup.h"
#include "tests/runs.h"

/* A tank in silt whose water table is at 1 m in spring and at 2.4 m in winter. */
static struct uf_case wet_place(void)
{
    struct uf_case d = runs_tank();
    struct uf_ground_spec *silt = &d.ground.layers[0].spec;
    silt->has_thermal = false;
    silt->soil = uf_soil_find("silt");
    cr_assert_not_null(silt->soil);
    silt->dry_density_kg_m3 = 1600.0;
    silt->moisture_by_mass = 0.15;
    d.ground.year.mean_m = 1.7;
    d.ground.year.amplitude_m = 0.7;
    d.ground.year.highest_day = 120.0;
    d.ground.water_moves = true;
    d.ground.water_winter_m = 2.4;
    d.tank.water = UF_WATER_MIXED;
    return d;
}

struct place {
    struct uf_section *section;
    struct uf_season *season;
    struct uf_soak *soak;
};

static struct place open_place(const struct uf_case *d, enum uf_integrator integrator)
{
    struct place p = {NULL, NULL, NULL};
    struct uf_season_options options = uf_season_defaults();
    options.integrator = integrator;
    cr_assert_eq(uf_section_create(&p.section, d, 1.5, NULL), UF_OK);
    cr_assert_eq(uf_season_create(&p.season, p.section->heat, &options, NULL), UF_OK);
    cr_assert_eq(uf_soak_create(&p.soak, d, p.section, p.season, NULL), UF_OK);
    return p;
}

static void close_place(struct place *p)
{
    uf_soak_free(p->soak);
    uf_season_free(p->season);
    uf_section_free(p->section);
}

static void set_all(struct place *p, double day, double degC)
{
    double *T = calloc(p->section->heat->n, sizeof *T);
    cr_assert_not_null(T);
    for (size_t i = 0; i < p->section->heat->n; i++) {
        T[i] = degC;
    }
    uf_season_set(p->season, day, T);
    free(T);
}

static double stored_J(const struct place *p)
{
    return uf_heat_stored_J(p->section->heat, uf_season_H_J_m3(p->season));
}

/* Heat in, with what the groundwater brings and takes, is heat stored; both integrators tell the
   same water in the tank; and what rises falls again within a year without frost. */
Test(soak, heat_and_water_are_balanced_in_both_integrators)
{
    const struct uf_case d = wet_place();
    struct runs_weather *w = runs_weather_create(4.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(&d, w);
    double water_degC[2], brought_J[2];
    for (int k = 0; k < 2; k++) {
        struct place p = open_place(&d, k == 0 ? UF_FAST : UF_BDF);
        uf_season_drive(p.season, &forcing->season);
        set_all(&p, 11000.0, 6.0);
        const double before_J = stored_J(&p);
        double exchanged_J = 0.0, surface_J = 0.0;
        for (int day = 1; day <= RUNS_DAYS; day += 5) {
            cr_assert_eq(uf_season_advance(p.season, 11000.0 + day, NULL), UF_OK);
            const double now_J = uf_season_heat_J(p.season).surface_J;
            exchanged_J += fabs(now_J - surface_J);
            surface_J = now_J;
        }
        const struct uf_heat_budget budget = uf_season_heat_J(p.season);
        brought_J[k] = uf_season_changed_J(p.season);
        const double missing_J = stored_J(&p) - before_J - uf_heat_total_J(&budget) - brought_J[k];
        cr_expect(fabs(missing_J) < 1e-6 * exchanged_J, "%g of %g J", missing_J, exchanged_J);
        cr_expect(fabs(uf_season_leak_J(p.season)) < 1e-6 * exchanged_J);
        cr_expect_gt(fabs(brought_J[k]), 1e-3 * exchanged_J, "the water matters");
        const struct uf_soak_water water = uf_soak_water(p.soak);
        cr_expect(water.in_m3 > 0.1 && water.out_m3 > 0.1, "%g in, %g out", water.in_m3,
                  water.out_m3);
        water_degC[k] = uf_season_T_degC(p.season)[p.section->heat->water];
        close_place(&p);
    }
    cr_expect(fabs(water_degC[0] - water_degC[1]) < 0.05, "%g and %g", water_degC[0],
              water_degC[1]);
    cr_expect(fabs(brought_J[0] - brought_J[1]) < 0.01 * fabs(brought_J[0]), "%g and %g",
              brought_J[0], brought_J[1]);
    uf_forcing_free(forcing);
    free(w);
}

/* The heat that comes with the water is that of the water alone: at 6 degC all liquid, the change
   of heat capacity times 6 K. */
Test(soak, water_comes_at_the_temperature_of_the_ground)
{
    const struct uf_case d = wet_place();
    struct runs_weather *w = runs_weather_create(4.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct place p = open_place(&d, UF_FAST);
    uf_season_drive(p.season, &forcing->season);
    const double spring = (double)(11000 + 120 - uf_water_year_day(11000.0) + 365);
    set_all(&p, spring, 6.0); /* painted for winter: the first day brings the spring's water */
    cr_assert_eq(uf_season_advance(p.season, spring + 0.01, NULL), UF_OK);
    const struct uf_soak_water water = uf_soak_water(p.soak);
    cr_expect_gt(water.in_m3, 0.1);
    cr_expect_eq(water.out_m3, 0.0);
    cr_expect_float_eq(uf_season_changed_J(p.season), water.in_m3 * UF_WATER_CAPACITY_J_M3K * 6.0,
                       0.01 * uf_season_changed_J(p.season));
    close_place(&p);
    uf_forcing_free(forcing);
    free(w);
}

Test(soak, frozen_ground_keeps_its_water_until_it_thaws)
{
    const struct uf_case d = wet_place();
    struct runs_weather *w = runs_weather_create(4.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct place p = open_place(&d, UF_FAST);
    uf_season_drive(p.season, &forcing->season);
    const double spring = (double)(11000 + 120 - uf_water_year_day(11000.0) + 365);
    set_all(&p, spring, -3.0);
    cr_assert_eq(uf_season_advance(p.season, spring + 0.01, NULL), UF_OK);
    cr_expect_eq(uf_soak_water(p.soak).in_m3, 0.0, "nothing runs into frozen ground");
    cr_expect_eq(uf_season_changed_J(p.season), 0.0);
    close_place(&p);
    uf_forcing_free(forcing);
    free(w);
}

/* A year that stands still is the fixed water table, number for number. */
Test(soak, a_level_year_is_a_fixed_table)
{
    struct uf_case d = wet_place();
    struct runs_weather *w = runs_weather_create(4.0, 14.0);
    struct uf_summary moving, fixed;
    d.ground.year.mean_m = 1.6;
    d.ground.year.amplitude_m = 0.0;
    d.ground.water_winter_m = 1.6;
    struct uf_forcing *forcing = runs_forcing(&d, w);
    const struct uf_run_options options = uf_run_defaults();
    forcing->year.steps_per_day = 4.0; /* what moves is asked each day: no step is longer */
    cr_assert_eq(uf_run_all(&moving, NULL, &d, forcing, &options, NULL, NULL), UF_OK);
    d.ground.water_moves = false;
    cr_assert_eq(uf_run_all(&fixed, NULL, &d, forcing, &options, NULL, NULL), UF_OK);
    cr_expect_float_eq(moving.water.degC, fixed.water.degC, 1e-6);
    cr_expect_float_eq(moving.frost_undisturbed_m, fixed.frost_undisturbed_m, 1e-6);
    uf_forcing_free(forcing);
    free(w);
}

/* Where the water rises in spring the year is no longer that of its winter. */
Test(soak, a_year_that_rises_is_another_than_its_winter)
{
    struct uf_case d = wet_place();
    struct runs_weather *w = runs_weather_create(4.0, 14.0);
    struct uf_summary moving, fixed;
    struct uf_forcing *forcing = runs_forcing(&d, w);
    const struct uf_run_options options = uf_run_defaults();
    cr_assert_eq(uf_run_all(&moving, NULL, &d, forcing, &options, NULL, NULL), UF_OK);
    d.ground.water_moves = false;
    cr_assert_eq(uf_run_all(&fixed, NULL, &d, forcing, &options, NULL, NULL), UF_OK);
    cr_expect_gt(fabs(moving.water.degC - fixed.water.degC), 0.02);
    cr_expect_lt(moving.heat_balance_relative, 1e-6);
    cr_expect(moving.groundwater_in_m > 0.05 && moving.groundwater_in_m < 0.7, "%g m",
              moving.groundwater_in_m); /* less than the pores of 1.4 m */
    cr_expect(moving.groundwater_heat > 1e-3 && moving.groundwater_heat < 1.0);
    cr_expect(isnan(fixed.groundwater_in_m) && isnan(fixed.groundwater_heat));
    uf_forcing_free(forcing);
    free(w);
}
