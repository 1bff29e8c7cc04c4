#include "solver/study/score.h"

#include <criterion/criterion.h>

#include <math.h>

/* Worked by hand: errors 1, -1, 2, 0; readings 0, 2, 4, 6 with mean 3 and spread 20. */
Test(score, numbers_are_those_of_the_definitions)
{
    const double measured[] = {0.0, 2.0, NAN, 4.0, 6.0}, computed[] = {1.0, 1.0, 9.0, 6.0, 6.0};
    const struct uf_score s = uf_score_of(computed, measured, 5);
    cr_expect_eq(s.n, 4);
    cr_expect_float_eq(s.bias, 0.5, 1e-12);
    cr_expect_float_eq(s.mae, 1.0, 1e-12);
    cr_expect_float_eq(s.rmse, sqrt(6.0 / 4.0), 1e-12);
    cr_expect_float_eq(s.nash_sutcliffe, 1.0 - 6.0 / 20.0, 1e-12);
    const struct uf_score none = uf_score_of(computed, &measured[2], 1);
    cr_expect(none.n == 0 && isnan(none.rmse) && isnan(none.nash_sutcliffe));
}

/* The mean of the readings as a model scores 0, the readings themselves 1 (Nash & Sutcliffe). */
Test(score, the_mean_scores_nothing_and_the_truth_one)
{
    const double measured[] = {1.0, 2.0, 6.0}, mean[] = {3.0, 3.0, 3.0};
    cr_expect_float_eq(uf_score_of(mean, measured, 3).nash_sutcliffe, 0.0, 1e-12);
    cr_expect_float_eq(uf_score_of(measured, measured, 3).nash_sutcliffe, 1.0, 1e-12);
    cr_expect(isnan(uf_score_of(measured, mean, 3).nash_sutcliffe));
}

Test(score, dead_sensors_are_taken_out_and_told)
{
    enum { DAYS = 60 };
    double measured[DAYS], computed[DAYS];
    const struct uf_score_rule rule = {-80.0, 60.0, 30, 0.5, 0.0, 0.5};
    for (size_t i = 0; i < DAYS; i++) {
        computed[i] = 5.0 - 0.1 * (double)i;
        measured[i] = i >= 20 ? 3.3 : computed[i];
    }
    measured[5] = -9999.0;
    measured[6] = NAN;
    const struct uf_score_care care = uf_score_sift(measured, computed, DAYS, &rule);
    cr_expect_eq(care.absurd, 1);
    cr_expect_eq(care.absurd_at, 5);
    cr_expect_eq(care.flat, 40);
    cr_expect_eq(care.flat_at, 20);
    cr_expect_eq(care.missing, 1);
    cr_expect_eq(care.longest_gap, 40);
    cr_expect_eq(uf_score_of(computed, measured, DAYS).n, 18);
    /* Ground that freezes stands at 0 degC, and a deep sensor where nothing moves. */
    for (size_t i = 0; i < DAYS; i++) {
        measured[i] = 0.1;
    }
    cr_expect_eq(uf_score_sift(measured, computed, DAYS, &rule).flat, 0);
    for (size_t i = 0; i < DAYS; i++) {
        measured[i] = 7.0;
        computed[i] = 7.0 + 0.005 * (double)i;
    }
    cr_expect_eq(uf_score_sift(measured, computed, DAYS, &rule).flat, 0);
}

Test(score, frost_lies_straight_between_sensors)
{
    const double depth_m[] = {0.1, 0.2, 0.6};
    const double part[] = {-2.0, -1.0, 3.0}, all[] = {-2.0, -1.0, -0.5}, none[] = {1.0, 1.0, 2.0},
                 dead[] = {NAN, NAN, NAN};
    cr_expect_float_eq(uf_score_frost_m(depth_m, part, 3), 0.3, 1e-12);
    cr_expect_float_eq(uf_score_frost_m(depth_m, all, 3), 0.6, 1e-12);
    cr_expect_eq(uf_score_frost_m(depth_m, none, 3), 0.0);
    cr_expect(isnan(uf_score_frost_m(depth_m, dead, 3)));
}

Test(score, deepest_frost_and_when_it_was_gone)
{
    const double frost_m[] = {0.0, 0.2, 0.0, NAN, 0.7, 0.3, 0.0, 0.0};
    const struct uf_score_frost f = uf_score_frost(frost_m, 8);
    cr_expect_float_eq(f.deepest_m, 0.7, 1e-12);
    cr_expect_eq(f.deepest_at, 4);
    cr_expect_eq(f.thaw_at, 6);
    cr_expect_eq(uf_score_frost(frost_m, 5).thaw_at, 5);
    cr_expect(isnan(uf_score_frost(&frost_m[3], 1).deepest_m));
}
