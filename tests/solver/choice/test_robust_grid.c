#include "solver/choice/robust.h"
#include "tests/runs.h"

#include <math.h>
#include <string.h>

/* One option without sensitivity cases: robust by its margin, the allowance and the grid alone. */

static struct uf_case one_option(double temperature_K)
{
    struct uf_case d = runs_tank();
    d.limits.water_degC = -30.0;
    d.limits.ice_share = 1.0;
    d.limits.uplift_factor = 0.01;
    d.sensitivity.left_out = ~0UL;
    d.sensitivity.temperature_K = temperature_K;
    d.sensitivity.depth_m = 0.0;
    return d;
}

static void run_all(struct uf_job *jobs, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        jobs[i].status = uf_run_all(&jobs[i].summary, NULL, &jobs[i].design, jobs[i].forcing,
                                    &jobs[i].options, NULL, &jobs[i].err);
        jobs[i].done = true;
    }
}

/* Whether the option stays robust; grid and its margin on water as they are then known. */
static bool stays(double temperature_K, struct uf_robust_grid *grid, double *margin_K)
{
    const struct uf_case d = one_option(temperature_K);
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    struct uf_forcing *forcing = runs_forcing(&d, w);
    const struct uf_choice_input asked = {
        .design = &d, .forcing = forcing, .options = uf_run_defaults()};
    const struct uf_robust_input input = {
        .design = &d, .forcing = forcing, .options = uf_run_defaults()};
    struct uf_choices_result *choices = NULL;
    struct uf_robust *robust = NULL;
    struct uf_error err = {0};
    size_t n = 0;
    cr_assert(uf_choice_create(&choices, &asked, &err) == UF_OK, "%s", err.text);
    struct uf_job *jobs = uf_bank_pending(&choices->bank, &n);
    run_all(jobs, n);
    cr_assert(uf_choice_judge(choices, &err) == UF_OK, "%s", err.text);
    cr_assert(uf_robust_create(&robust, choices, &input, &err) == UF_OK, "%s", err.text);
    do {
        cr_assert(uf_robust_next(&jobs, &n, robust, &err) == UF_OK, "%s", err.text);
        if (choices->rows[0].trial == UF_CHOICE_FRAGILE) {
            break; /* what else might mend it is not asked here */
        }
        run_all(jobs, n);
    } while (n > 0);
    cr_expect(uf_robust_grid(grid, robust, 0) || choices->rows[0].trial == UF_CHOICE_FRAGILE);
    *margin_K = uf_limit_water_degC(uf_choice_summary(choices, 0)) - d.limits.water_degC;
    const bool robust_still = choices->pick == 0;
    uf_robust_free(robust);
    uf_choice_free(choices);
    uf_forcing_free(forcing);
    free(w);
    return robust_still;
}

Test(robust_grid, what_the_grid_makes_of_it_is_asked_besides_the_allowance)
{
    struct uf_robust_grid grid = {0.0, 0.0, 0.0};
    double margin_K = NAN;
    cr_expect(stays(0.0, &grid, &margin_K));
    cr_expect(grid.judged_K > 1e-3 && grid.judged_K < 1.0, "%g", grid.judged_K);
    cr_expect_leq(fabs(grid.water_K), grid.judged_K + 1e-12);
    const double judged_K = grid.judged_K;
    cr_expect(stays(margin_K - 1.5 * judged_K, &grid, &margin_K), "enough for both");
    cr_expect_not(stays(margin_K - 0.5 * judged_K, &grid, &margin_K), "enough for one");
}
