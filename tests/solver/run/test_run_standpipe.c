#include "tests/runs.h"

/* Standpipes beside whole runs. */

static struct uf_summary run_by(const struct uf_case *d, enum uf_integrator integrator)
{
    struct runs_weather *w = runs_weather_create(5.5, 14.0);
    struct uf_forcing *forcing = runs_forcing(d, w);
    struct uf_run_options options = uf_run_defaults();
    struct uf_summary summary;
    options.season.integrator = integrator;
    struct uf_error err = {0};
    cr_assert(uf_run_all(&summary, NULL, d, forcing, &options, NULL, &err) == UF_OK, "%s",
              err.text);
    uf_forcing_free(forcing);
    free(w);
    return summary;
}

static struct uf_summary run(const struct uf_case *d)
{
    return run_by(d, UF_FAST);
}

static struct uf_case with_line(double bottom_m, double sleeve_m, double most_ice)
{
    struct uf_case d = runs_tank();
    d.limits.standpipe_ice = most_ice;
    d.n_standpipes = 1;
    d.standpipes[0] = (struct uf_standpipe){
        .name = "hydrant",
        .diameter_m = 0.15,
        .bottom_m = bottom_m,
        .from_axis_m = NAN,
        .cap_m2K_W = 5.0,
        .shell = {.sleeve_m = sleeve_m, .sleeve_W_mK = 0.032, .sleeve_length_m = INFINITY}};
    return d;
}

/* Water at 1.2 m in ground that freezes deeper: shut for weeks; the sleeve it is told to take does
   hold the limit when it is taken, and says that no other is needed. */
Test(run_standpipe, shut_and_the_sleeve_that_mends_it)
{
    struct uf_case d = with_line(2.2, 0.0, 0.6);
    const struct uf_summary bare = run(&d);
    const struct uf_standpipe_summary *s = &bare.standpipes[0];
    cr_assert(bare.n_standpipes == 1 && bare.frost_undisturbed_m > 1.3, "%g",
              bare.frost_undisturbed_m);
    cr_expect_str_eq(s->name, "hydrant");
    cr_expect_float_eq(s->ice_share, 1.0, 0.0);
    cr_expect(s->shut_days > 7 && s->least.degC < 0.0 && s->least.day != UF_NO_DAY);
    cr_assert(s->sleeve_m > 0.0 && s->sleeve_length_m > 1.0 && s->sleeve_length_m <= 2.2, "%g %g",
              s->sleeve_m, s->sleeve_length_m);
    d.standpipes[0].shell.sleeve_m = s->sleeve_m;
    d.standpipes[0].shell.sleeve_length_m = s->sleeve_length_m;
    const struct uf_summary mended = run(&d);
    cr_expect(mended.standpipes[0].ice_share <= 0.6, "%g", mended.standpipes[0].ice_share);
    cr_expect_float_eq(mended.standpipes[0].sleeve_m, 0.0, 0.0);
    cr_expect_eq(mended.standpipes[0].shut_days, 0);
}

/* What it takes cools the tank, less behind a sleeve, nothing where the line is dry or not there; by
   both integrators alike, with no heat lost. */
Test(run_standpipe, takes_its_heat_from_the_tank)
{
    struct uf_case none = with_line(2.2, 0.0, 1.0);
    const struct uf_case bare = with_line(2.2, 0.0, 1.0), sleeved = with_line(2.2, 0.15, 1.0);
    const struct uf_case dry = with_line(0.9, 0.0, 1.0);
    none.n_standpipes = 0;
    const struct uf_summary kept = run(&none), cold = run(&bare), less = run(&sleeved);
    cr_expect_float_eq(run(&dry).water.degC, kept.water.degC, 0.0);
    cr_expect(isnan(kept.standpipe_share) && cold.standpipe_share > less.standpipe_share &&
                  less.standpipe_share > 0.0,
              "%g %g", cold.standpipe_share, less.standpipe_share);
    cr_expect(cold.water.degC < less.water.degC && less.water.degC < kept.water.degC, "%g %g %g",
              cold.water.degC, less.water.degC, kept.water.degC);
    const struct uf_summary other = run_by(&bare, UF_BDF);
    cr_expect_float_eq(cold.water.degC, other.water.degC, 0.05, "%g %g", cold.water.degC,
                       other.water.degC);
    cr_expect(cold.heat_balance_relative < 1e-12, "%g", cold.heat_balance_relative);
    cr_expect(other.heat_balance_relative < 1e-8, "%g", other.heat_balance_relative);
}

/* A line that ends above the water is dry; another feels the ground of its own place: at the
   section's side the undisturbed, beside the tank another. */
Test(run_standpipe, dry_and_beside_the_tank)
{
    const struct uf_case high = with_line(0.9, 0.0, 0.0);
    const struct uf_summary dry = run(&high);
    cr_expect(isnan(dry.standpipes[0].ice_share) && isnan(dry.standpipes[0].least.degC));
    struct uf_case line = with_line(2.2, 0.0, 0.0);
    const double far_degC = run(&line).standpipes[0].least.degC;
    line.standpipes[0].from_axis_m = line.grid.width_m;
    cr_expect_float_eq(run(&line).standpipes[0].least.degC, far_degC, 0.0);
    line.standpipes[0].from_axis_m = 1.1;
    const double near_degC = run(&line).standpipes[0].least.degC;
    cr_expect(fabs(near_degC - far_degC) > 0.05, "%g %g", near_degC, far_degC);
}
