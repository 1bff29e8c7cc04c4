#include "tests/runs.h"

static struct uf_summary run(const struct uf_case *d, const struct runs_weather *w)
{
    struct uf_forcing *forcing = runs_forcing(d, w);
    const struct uf_run_options options = uf_run_defaults();
    struct uf_summary summary;
    struct uf_error err = {0};
    cr_assert(uf_run_all(&summary, NULL, d, forcing, &options, NULL, &err) == UF_OK, "%s",
              err.text);
    uf_forcing_free(forcing);
    return summary;
}

/* A layer split in two of the same soil is the same ground, wherever it is split. */
Test(run_layers, a_split_layer_changes_nothing)
{
    struct uf_case d = runs_tank();
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    const struct uf_summary whole = run(&d, w);
    for (double at_m = 0.07; at_m < 4.0; at_m += 1.3) {
        struct uf_case split = d;
        split.ground.n_layers = 2;
        split.ground.layers[1] = d.ground.layers[0];
        split.ground.layers[0].to_m = at_m;
        const struct uf_summary got = run(&split, w);
        cr_expect_float_eq(got.crown.degC, whole.crown.degC, 1e-9);
        cr_expect_float_eq(got.water.degC, whole.water.degC, 1e-9);
        cr_expect_float_eq(got.frost_undisturbed_m, whole.frost_undisturbed_m, 1e-9);
        cr_expect_eq(got.counters.cells, whole.counters.cells);
    }
    free(w);
}
