#include "solver/run/run_cost.h"
#include "tests/runs.h"

#include <math.h>

/* What was foretold against what the run counted. */
static void expect_near(const struct uf_case *d, const struct uf_run_options *options, double times)
{
    struct runs_weather *weather = runs_weather_create(3.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(d, weather);
    struct uf_summary summary;
    struct uf_error err = {0};
    const double told = uf_run_cost_updates(d, forcing, options);
    cr_assert(uf_run_all(&summary, NULL, d, forcing, options, NULL, &err) == UF_OK, "%s", err.text);
    const double ran = (double)summary.counters.rhs * (double)summary.counters.cells;
    cr_expect(told > ran / times && told < ran * times, "%g told, %g run", told, ran);
    uf_forcing_free(forcing);
    free(weather);
}

Test(run_cost, right_hand_sides_are_foretold)
{
    struct uf_case d = runs_tank();
    const struct uf_run_options options = uf_run_defaults();
    expect_near(&d, &options, 1.5);
    d.tank.water = UF_WATER_LAYERED;
    expect_near(&d, &options, 1.5);
    d.grid.finest_m *= 0.5;
    expect_near(&d, &options, 1.5);
}

Test(run_cost, three_dimensions_cost_their_slices)
{
    struct uf_case d = runs_tank();
    struct runs_weather *weather = runs_weather_create(3.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(&d, weather);
    const struct uf_run_options options = uf_run_defaults();
    d.tank.ends = UF_ENDS_PLANE;
    const double plane = uf_run_cost_updates(&d, forcing, &options);
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    cr_expect(uf_run_cost_updates(&d, forcing, &options) > 4.0 * plane);
    uf_forcing_free(forcing);
    free(weather);
}

Test(run_cost, a_start_of_ones_own_saves_the_start_up)
{
    struct uf_case d = runs_tank();
    struct runs_weather *weather = runs_weather_create(3.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(&d, weather);
    struct uf_run_options options = uf_run_defaults();
    const double whole = uf_run_cost_updates(&d, forcing, &options);
    const double start_degC = 5.0;
    options.start_degC = &start_degC;
    cr_expect(uf_run_cost_updates(&d, forcing, &options) < 0.9 * whole);
    options.start_degC = NULL;
    options.season.integrator = UF_BDF;
    cr_expect(uf_run_cost_updates(&d, forcing, &options) > whole);
    uf_forcing_free(forcing);
    free(weather);
}

Test(run_cost, what_cannot_be_built_cannot_be_foretold)
{
    struct uf_case d = runs_tank();
    struct runs_weather *weather = runs_weather_create(3.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(&d, weather);
    const struct uf_run_options options = uf_run_defaults();
    d.ground.layers[0].spec.thermal.k_thawed_W_mK = -1.0;
    cr_expect(isnan(uf_run_cost_updates(&d, forcing, &options)));
    uf_forcing_free(forcing);
    free(weather);
}
