#include "tests/runs.h"

#include <string.h>

/* A measured profile of one point, 1 m deep, in ground that the year does not freeze. */

static const double LOW_M = 1.0;

struct place {
    struct uf_case design;
    struct runs_weather *weather;
    struct uf_forcing *forcing;
};

static struct place place_create(void)
{
    const struct uf_thermal soil = designs_curved_soil();
    struct place p = {.design = designs_ground(&soil), .weather = runs_weather_create(10.0, 8.0)};
    p.forcing = runs_forcing(&p.design, p.weather);
    return p;
}

static void place_free(struct place *p)
{
    uf_forcing_free(p->forcing);
    free(p->weather);
}

static struct uf_run *begin(const struct place *p)
{
    const struct uf_run_options options = uf_run_defaults();
    struct uf_run *run = NULL;
    struct uf_error err = {0};
    cr_assert(uf_run_create(&run, &p->design, p->forcing, &options, &err) == UF_OK, "%s", err.text);
    return run;
}

static double at(const struct uf_run *run, double depth_m)
{
    return uf_section_at_degC(uf_run_section(run), uf_season_T_degC(uf_run_season(run)), 0.0,
                              depth_m);
}

/* What the point reads beside the mean year fades by a factor e over sqrt(k year / (pi C)). */
Test(run_profile, below_it_the_mean_year_goes_on)
{
    struct place p = place_create();
    struct uf_run *mean = begin(&p);
    const struct uf_thermal *soil = &p.design.ground.layers[0].spec.thermal;
    const double damping_m =
        sqrt(soil->k_thawed_W_mK / soil->c_thawed_J_m3K * UF_YEAR_DAY * UF_DAY_S / UF_PI);
    p.design.initial.n_profile = 1;
    p.design.initial.depth_m[0] = LOW_M;
    for (double beside_K = 0.0; beside_K < 3.0; beside_K += 2.0) {
        p.design.initial.degC[0] = at(mean, LOW_M) + beside_K;
        struct uf_run *run = begin(&p);
        for (double z_m = 1.5; z_m < 7.0; z_m += 1.0) {
            const double want = at(mean, z_m) + beside_K * exp(-(z_m - LOW_M) / damping_m);
            cr_expect_float_eq(at(run, z_m), want, 0.03, "%g m: %g for %g", z_m, at(run, z_m),
                               want);
        }
        uf_run_free(run);
    }
    cr_expect_gt(fabs(at(mean, LOW_M) - at(mean, 7.0)), 2.0, "the wave is there to be seen");
    uf_run_free(mean);
    place_free(&p);
}

Test(run_profile, straight_or_constant_where_asked)
{
    struct place p = place_create();
    struct uf_run *mean = begin(&p);
    const double bottom_degC = at(mean, p.design.grid.depth_m);
    p.design.initial.n_profile = 1;
    p.design.initial.depth_m[0] = LOW_M;
    p.design.initial.degC[0] = 4.0;
    p.design.initial.below = UF_BELOW_LINE;
    struct uf_run *line = begin(&p);
    p.design.initial.below = UF_BELOW_CONSTANT;
    struct uf_run *constant = begin(&p);
    for (double z_m = 1.5; z_m < 7.0; z_m += 1.0) {
        const double share = (z_m - LOW_M) / (p.design.grid.depth_m - LOW_M);
        cr_expect_float_eq(at(line, z_m), 4.0 + share * (bottom_degC - 4.0), 0.02, "%g m", z_m);
        cr_expect_float_eq(at(constant, z_m), 4.0, 1e-9);
    }
    uf_run_free(mean);
    uf_run_free(line);
    uf_run_free(constant);
    place_free(&p);
}

Test(run_profile, without_a_year_the_wave_is_refused)
{
    const struct uf_run_options options = uf_run_defaults();
    struct place p = place_create();
    struct uf_run *run = NULL;
    struct uf_error err = {0};
    uf_forcing_free(p.forcing);
    p.weather->weather.year_days = 0;
    p.forcing = runs_forcing(&p.design, p.weather);
    p.design.initial.n_profile = 1;
    p.design.initial.depth_m[0] = LOW_M;
    p.design.initial.degC[0] = 4.0;
    cr_expect_eq(uf_run_create(&run, &p.design, p.forcing, &options, &err), UF_E_INPUT);
    cr_expect(strcmp(err.fault.key, "initial.below") == 0 && run == NULL, "%s", err.text);
    p.design.initial.below = UF_BELOW_CONSTANT;
    run = begin(&p);
    uf_run_free(run);
    p.design.initial.below = UF_BELOW_WAVE;
    p.design.initial.depth_m[0] = p.design.grid.depth_m;
    run = begin(&p); /* nothing is missing */
    uf_run_free(run);
    place_free(&p);
}
