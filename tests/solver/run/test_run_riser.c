#include "tests/runs.h"

/* Risers with their sides, in whole runs. */

static struct uf_summary run(const struct uf_case *d, const struct runs_weather *w,
                             enum uf_integrator integrator)
{
    struct uf_forcing *forcing = runs_forcing(d, w);
    struct uf_run_options options = uf_run_defaults();
    struct uf_summary summary;
    struct uf_error err = {0};
    options.season.integrator = integrator;
    cr_assert(uf_run_all(&summary, NULL, d, forcing, &options, NULL, &err) == UF_OK, "%s",
              err.text);
    uf_forcing_free(forcing);
    return summary;
}

static struct uf_case with_sleeve(double thickness_m)
{
    struct uf_case d = runs_tank();
    d.tank.risers[0].lid_at = UF_LID_TOP;
    d.tank.risers[0].shell = (struct uf_shell){
        .sleeve_m = thickness_m, .sleeve_W_mK = 0.032, .sleeve_length_m = INFINITY};
    return d;
}

/* A bare side cools the water; a sleeve gives that back, up to a side that is not there. */
Test(run_riser, a_sleeve_is_between_bare_and_none)
{
    struct runs_weather *w = runs_weather_create(7.0, 14.0);
    const struct uf_case none = runs_tank(), bare = with_sleeve(0.0), thick = with_sleeve(1e6);
    const struct uf_case sleeve = with_sleeve(0.1);
    const struct uf_summary by_lid = run(&none, w, UF_FAST), cold = run(&bare, w, UF_FAST);
    const struct uf_summary kept = run(&sleeve, w, UF_FAST), sealed = run(&thick, w, UF_FAST);
    cr_expect(cold.water.degC < kept.water.degC - 0.1, "%g %g", cold.water.degC, kept.water.degC);
    cr_expect(kept.water.degC < sealed.water.degC, "%g %g", kept.water.degC, sealed.water.degC);
    cr_expect_float_eq(sealed.water.degC, by_lid.water.degC, 0.01);
    cr_expect(cold.riser_share > kept.riser_share && kept.riser_share > by_lid.riser_share);
    free(w);
}

/* Two integrators, layered water and a moving front: the same answer, and no heat lost. */
Test(run_riser, both_integrators_and_the_balance)
{
    struct runs_weather *w = runs_weather_create(7.0, 14.0);
    for (int full = 0; full < 2; full++) {
        struct uf_case d = with_sleeve(0.0);
        d.tank.level_m = full ? 3.0 : 1.2;
        const struct uf_summary fast = run(&d, w, UF_FAST), bdf = run(&d, w, UF_BDF);
        cr_expect_float_eq(fast.water.degC, bdf.water.degC, 0.05, "%g %g", fast.water.degC,
                           bdf.water.degC);
        cr_expect(fast.heat_balance_relative < 1e-12, "%g", fast.heat_balance_relative);
        cr_expect(bdf.heat_balance_relative < 1e-6, "%g", bdf.heat_balance_relative);
    }
    free(w);
}
