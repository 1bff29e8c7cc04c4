#include "solver/choice/robust.h"
#include "tests/runs.h"

#include <string.h>

/* Where no option is robust: the first measure that makes one so. */

static void run_jobs(struct uf_job *jobs, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct uf_job *job = &jobs[i];
        job->status = uf_run_all(&job->summary, NULL, &job->design, job->forcing, &job->options,
                                 NULL, &job->err);
        job->done = true;
        cr_assert(job->status == UF_OK, "%s", job->err.text);
    }
}

static struct uf_robust_measure search(const struct uf_case *d, const struct uf_forcing *forcing,
                                       double *before)
{
    struct uf_choices_result *choices = NULL;
    struct uf_robust *robust = NULL;
    const struct uf_choice_input input = {
        .design = d, .forcing = forcing, .options = uf_run_defaults()};
    const struct uf_robust_input more = {
        .design = d, .forcing = forcing, .options = uf_run_defaults()};
    size_t n = 0;
    cr_assert(uf_choice_create(&choices, &input, NULL) == UF_OK);
    struct uf_job *jobs = uf_bank_pending(&choices->bank, &n);
    run_jobs(jobs, n);
    cr_assert(uf_choice_judge(choices, NULL) == UF_OK);
    cr_assert(uf_robust_create(&robust, choices, &more, NULL) == UF_OK);
    do {
        cr_assert(uf_robust_next(&jobs, &n, robust, NULL) == UF_OK);
        run_jobs(jobs, n);
    } while (n > 0);
    const struct uf_robust_measure found = *uf_robust_measure(robust);
    *before = found.from >= 0 ? choices->rows[found.from].cost.total : (double)NAN;
    uf_robust_free(robust);
    uf_choice_free(choices);
    return found;
}

/* Mixed water under 0.3 m of board, which is as thick as it gets, and as deep as it may lie; a wide
   riser with a bare side and a good lid. */
static struct uf_case cold_riser(void)
{
    struct uf_case d = runs_tank();
    d.grid.finest_m = 0.3;
    d.tank.empty_mass_kg = 30000.0; /* lies still */
    d.board.thickness_m = 0.3;
    d.limits.ice_share = 1.0;
    d.limits.greatest_cover_m = d.burial.cover_m;
    d.tank.risers[0] =
        (struct uf_riser){.diameter_m = 0.8,
                          .above_grade_m = 0.0,
                          .lid_m2K_W = 5.5,
                          .shell = {.sleeve_W_mK = 0.032, .sleeve_length_m = INFINITY}};
    d.sensitivity.temperature_K = 0.2;
    d.sensitivity.left_out = ~0UL;
    d.costs = (struct uf_costs){.given = true,
                                .excavation_m3 = 25.0,
                                .board_m3 = 280.0,
                                .sleeve_m3 = 600.0,
                                .concrete_m3 = 450.0,
                                .backfill_m3 = 35.0,
                                .haul_m3 = NAN,
                                .geotextile_m2 = NAN,
                                .strap = NAN,
                                .fixed = NAN,
                                .shoring_m = NAN,
                                .shoring_below_m = NAN};
    return d;
}

static double water_degC(const struct uf_case *d, const struct uf_forcing *forcing, double sleeve_m)
{
    struct uf_case trial = *d;
    struct uf_summary summary;
    struct uf_error err = {0};
    const struct uf_run_options options = uf_run_defaults();
    trial.tank.risers[0].shell.sleeve_m = sleeve_m;
    cr_assert(uf_run_all(&summary, NULL, &trial, forcing, &options, NULL, &err) == UF_OK, "%s",
              err.text);
    return uf_limit_water_degC(&summary);
}

/* The limit lies between what 0.05 and 0.1 m of sleeve give, allowance included: board and lid do
   not reach it, 0.1 m is the first sleeve that does, and its foam is paid for. */
Test(measure, a_sleeve_is_the_first_that_makes_an_option_robust)
{
    struct runs_weather *w = runs_weather_create(7.0, 14.0);
    struct uf_case d = cold_riser();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    const double thin_degC = water_degC(&d, forcing, 0.05);
    const double enough_degC = water_degC(&d, forcing, 0.1);
    double before = NAN;
    cr_assert(enough_degC > thin_degC + 0.02, "%g %g", thin_degC, enough_degC);
    d.limits.water_degC = 0.5 * (thin_degC + enough_degC) - d.sensitivity.temperature_K;
    const struct uf_robust_measure found = search(&d, forcing, &before);
    cr_assert_not_null(found.name);
    cr_expect_str_eq(found.name, "a thicker sleeve on the risers");
    cr_expect_float_eq(found.choice.sleeve_m, 0.1, 1e-12);
    cr_expect_float_eq(found.design.tank.risers[0].shell.sleeve_m, 0.1, 1e-12);
    cr_expect_float_eq(found.design.tank.risers[0].lid_m2K_W, 5.5, 1e-12);
    const double foam_m3 = UF_PI * (0.5 * 0.5 - 0.4 * 0.4) * 1.0;
    cr_expect_float_eq(found.choice.cost.part[UF_COST_SLEEVE], 600.0 * foam_m3, 1e-6);
    cr_expect(found.choice.cost.total > before && found.choice.cost.complete);
    uf_forcing_free(forcing);
    free(w);
}

/* A riser that a frost cover closes off at the crown has no side to insulate: the sleeve is not tried. */
Test(measure, no_sleeve_where_the_side_is_not_counted)
{
    struct runs_weather *w = runs_weather_create(7.0, 14.0);
    struct uf_case d = cold_riser();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    double before = NAN;
    d.tank.risers[0].lid_at = UF_LID_CROWN;
    d.limits.water_degC = 9.0;
    const struct uf_robust_measure found = search(&d, forcing, &before);
    cr_expect(found.from >= 0 && found.name == NULL);
    uf_forcing_free(forcing);
    free(w);
}
