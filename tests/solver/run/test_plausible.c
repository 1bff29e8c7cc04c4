#include "solver/ground/soil.h"
#include "solver/run/plausible.h"
#include "solver/run/pool.h"
#include "solver/weather/surface.h"
#include "tests/runs.h"

#include <criterion/criterion.h>

#include <math.h>

static struct uf_case ground(void)
{
    struct uf_case d;
    uf_case_init(&d);
    d.grid.finest_m = 0.1;
    d.grid.width_m = 2.0;
    d.ground.n_layers = 1;
    d.ground.layers[0].to_m = d.grid.depth_m;
    d.ground.layers[0].spec.soil = uf_soil_find("silt");
    d.surface.kind = UF_SURFACE_FILM;
    d.surface.film_W_m2K = 25.0;
    return d;
}

/* A run of one job by the pool, as the program makes them. */
static struct uf_summary run_of(const struct uf_case *design, const struct runs_weather *w)
{
    struct uf_forcing *forcing = NULL;
    struct uf_pool *pool = NULL;
    struct uf_job job = {.design = *design, .options = uf_run_defaults()};
    cr_assert_eq(uf_forcing_create(&forcing, &design->surface, &w->weather, NULL), UF_OK);
    job.forcing = forcing;
    cr_assert_eq(uf_pool_create(&pool, &job, 1, 1, NULL), UF_OK);
    uf_pool_free(pool);
    cr_assert_eq(job.status, UF_OK, "%s", job.err.text);
    uf_forcing_free(forcing);
    return job.summary;
}

/* The formula takes the mean of frozen and thawed k and all latent heat at 0 degC, so it lies on the
   shallow side of a run in silt, whose frozen part conducts better and keeps water below 0 degC. */
Test(plausible, published_depths_lie_beside_a_smooth_winter_on_bare_ground)
{
    struct runs_weather *w = runs_weather_create(5.0, 16.0);
    const struct uf_case d = ground();
    const struct uf_summary s = run_of(&d, w);
    cr_expect(fabs(s.frost_undisturbed_m / s.berggren_m - 1.15) < 0.15, "%g and %g",
              s.frost_undisturbed_m, s.berggren_m);
    cr_expect(isfinite(s.relations_m));
    cr_expect(isnan(s.frost_without_snow_m));
    free(w);
}

Test(plausible, under_snow_the_bare_ground_is_told_too)
{
    struct runs_weather *w = runs_weather_create(5.0, 16.0);
    struct uf_case d = ground();
    const struct uf_summary bare = run_of(&d, w);
    d.surface.snow = UF_SNOW_FIXED;
    d.surface.snow_depth_m = 0.3;
    const struct uf_summary s = run_of(&d, w);
    cr_expect_lt(s.frost_undisturbed_m, 0.6 * bare.frost_undisturbed_m);
    cr_expect_float_eq(s.frost_without_snow_m, bare.frost_undisturbed_m, 0.01);
    cr_expect_float_eq(s.berggren_m, bare.berggren_m, 1e-12, "the formula knows no snow");
    free(w);
}

Test(plausible, no_relation_is_told_where_none_holds)
{
    struct runs_weather *w = runs_weather_create(5.0, 16.0);
    struct uf_case d = ground();
    d.surface =
        (struct uf_surface_input){.kind = UF_SURFACE_N_FACTOR, .row = uf_surface_find("turf")};
    const struct uf_summary turf = run_of(&d, w);
    cr_expect(isnan(turf.relations_m));
    cr_expect(isfinite(turf.berggren_m));
    free(w);
}
