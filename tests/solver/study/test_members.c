#include "solver/study/members.h"
#include "tests/runs.h"

#include <string.h>

enum { WINTERS = 3, TASKS = 2 };

struct setup {
    struct runs_weather *weather[WINTERS];
    struct uf_forcing *forcings[WINTERS];
    struct uf_case designs[TASKS];
    struct uf_members_task tasks[TASKS];
    bool wanted[TASKS][WINTERS], done[TASKS][WINTERS];
    struct uf_summary summaries[TASKS][WINTERS];
    enum uf_status statuses[TASKS][WINTERS];
    struct uf_error errs[TASKS][WINTERS];
};

/* Three winters, the second and third colder, with one mean year. */
static struct setup *make(void)
{
    struct setup *s = calloc(1, sizeof *s);
    for (size_t k = 0; k < WINTERS; k++) {
        s->weather[k] = runs_weather_create(4.0, 14.0);
        for (size_t i = 0; i < RUNS_DAYS; i++) {
            s->weather[k]->air_degC[i] -= 3.0 * (double)k;
        }
    }
    for (size_t i = 0; i < TASKS; i++) {
        s->designs[i] = runs_tank();
        s->designs[i].burial.cover_m += 0.3 * (double)i;
        s->tasks[i] =
            (struct uf_members_task){.design = &s->designs[i],
                                     .frost_m = 2.0,
                                     .winters = (const struct uf_forcing *const *)s->forcings,
                                     .wanted = s->wanted[i],
                                     .summaries = s->summaries[i],
                                     .statuses = s->statuses[i],
                                     .errs = s->errs[i],
                                     .done = s->done[i]};
    }
    for (size_t k = 0; k < WINTERS; k++) {
        s->forcings[k] = runs_forcing(&s->designs[0], s->weather[k]);
    }
    return s;
}

static void drop(struct setup *s)
{
    for (size_t k = 0; k < WINTERS; k++) {
        uf_forcing_free(s->forcings[k]);
        free(s->weather[k]);
    }
    free(s);
}

static double tolerance_K; /* of start-ups; 0: as usual */

static void run_as(struct setup *s, size_t threads, bool lanes, bool (*stop)(void))
{
    struct uf_members_input input = {.tasks = s->tasks,
                                     .n_tasks = TASKS,
                                     .n_winters = WINTERS,
                                     .threads = threads,
                                     .lanes = lanes,
                                     .options = uf_run_defaults(),
                                     .stop = stop};
    struct uf_error err = {0};
    if (tolerance_K > 0.0) {
        input.options.startup_tolerance_K = tolerance_K;
    }
    cr_assert_eq(uf_members_run(&input, &err), UF_OK, "%s", err.text);
}

static void run(struct setup *s, size_t threads, bool (*stop)(void))
{
    run_as(s, threads, false, stop);
}

/* One start-up for all: within what a start-up leaves open of runs made one by one on the same
   rows. */
Test(members, a_shared_start_gives_what_single_runs_give)
{
    struct setup *s = make();
    memset(s->wanted, 1, sizeof s->wanted);
    run(s, 2, NULL);
    for (size_t i = 0; i < TASKS; i++) {
        for (size_t k = 0; k < WINTERS; k++) {
            struct uf_run_options options = uf_run_defaults();
            struct uf_summary alone;
            options.frost_m = 2.0;
            cr_assert_eq(
                uf_run_all(&alone, NULL, &s->designs[i], s->forcings[k], &options, NULL, NULL),
                UF_OK);
            cr_expect(s->done[i][k]);
            cr_expect_float_eq(s->summaries[i][k].water.degC, alone.water.degC, 0.01);
            cr_expect_float_eq(s->summaries[i][k].frost_undisturbed_m, alone.frost_undisturbed_m,
                               0.002);
        }
    }
    cr_expect_lt(s->summaries[0][2].water.degC, s->summaries[0][0].water.degC - 0.05);
    drop(s);
}

/* To the last bit: or a shard would change the study. */
Test(members, a_case_does_not_hang_on_those_beside_it)
{
    struct setup *all = make(), *some = make();
    memset(all->wanted, 1, sizeof all->wanted);
    some->wanted[1][2] = true;
    run(all, 1, NULL);
    run(some, 2, NULL);
    cr_expect(some->done[1][2] && !some->done[1][0] && !some->done[0][2]);
    cr_expect_eq(some->summaries[1][2].water.degC, all->summaries[1][2].water.degC);
    cr_expect_eq(some->summaries[1][2].frost_undisturbed_m,
                 all->summaries[1][2].frost_undisturbed_m);
    drop(all);
    drop(some);
}

static bool at_once(void)
{
    return true;
}

Test(members, a_stop_leaves_the_rest_undone)
{
    struct setup *s = make();
    memset(s->wanted, 1, sizeof s->wanted);
    run(s, 2, at_once);
    cr_expect(!s->done[0][0] && !s->done[1][WINTERS - 1]);
    drop(s);
}

/* Start-up and winters in lanes: within a hundredth of a kelvin and two millimetres of single
   runs, and the same to the last bit whatever else is run, on however many threads. */
Test(members, lanes_give_what_single_runs_give)
{
    struct setup *beside = make(), *alone = make(), *some = make();
    memset(beside->wanted, 1, sizeof beside->wanted);
    memset(alone->wanted, 1, sizeof alone->wanted);
    some->wanted[1][2] = true;
    run_as(beside, 1, true, NULL);
    run_as(some, 2, true, NULL);
    run(alone, 2, NULL);
    for (size_t i = 0; i < TASKS; i++) {
        for (size_t k = 0; k < WINTERS; k++) {
            const struct uf_summary *a = &alone->summaries[i][k], *b = &beside->summaries[i][k];
            cr_expect(beside->done[i][k] && beside->statuses[i][k] == UF_OK);
            cr_expect_float_eq(b->water.degC, a->water.degC, 0.01);
            cr_expect_float_eq(b->wall.degC, a->wall.degC, 0.01);
            cr_expect_float_eq(b->frost_undisturbed_m, a->frost_undisturbed_m, 0.002);
            cr_expect_lt(b->heat_balance_relative, 1e-5);
        }
    }
    cr_expect_eq(some->summaries[1][2].water.degC, beside->summaries[1][2].water.degC);
    cr_expect_eq(some->summaries[1][2].frost_undisturbed_m,
                 beside->summaries[1][2].frost_undisturbed_m);
    drop(beside);
    drop(alone);
    drop(some);
}

/* Beside the design they were drawn round tasks begin nearer: a year less, the same answer within what
   is allowed, and to the last bit whatever else is run. */
Test(members, a_base_spares_a_year)
{
    struct setup *beside = make(), *alone = make(), *some = make();
    struct uf_members_base bases[2] = {{.design = NULL}};
    struct uf_case round = beside->designs[0];
    struct setup *const both[] = {beside, some};
    tolerance_K = 0.0005; /* or one year does for all */
    round.ground.layers[0].spec.thermal.latent_J_m3 *= 1.01;
    round.ground.layers[0].spec.thermal.k_frozen_W_mK *= 0.995;
    for (size_t i = 0; i < 2; i++) {
        bases[i] = (struct uf_members_base){
            .design = &round, .frost_m = 2.0, .winter = both[i]->forcings[0]};
        both[i]->tasks[0].base = &bases[i];
    }
    beside->wanted[0][0] = beside->wanted[1][1] = true;
    some->wanted[0][0] = true;
    alone->wanted[0][0] = true;
    run_as(beside, 1, true, NULL);
    run_as(some, 2, true, NULL);
    run(alone, 1, NULL);
    const struct uf_summary *a = &alone->summaries[0][0], *b = &beside->summaries[0][0];
    cr_assert_not_null(bases[0].beside_K);
    cr_expect_not_null(bases[0].matrices.half);
    cr_expect_lt(b->counters.simulated_days, a->counters.simulated_days - 360.0);
    cr_expect_float_eq(b->water.degC, a->water.degC, 0.01);
    cr_expect_float_eq(b->wall.degC, a->wall.degC, 0.01);
    cr_expect_float_eq(b->frost_undisturbed_m, a->frost_undisturbed_m, 0.002);
    cr_expect_lt(b->startup_left_K, tolerance_K);
    cr_expect_eq(some->summaries[0][0].water.degC, b->water.degC);
    uf_members_base_clear(&bases[0]);
    uf_members_base_clear(&bases[1]);
    drop(beside);
    drop(alone);
    drop(some);
}

/* A base that cannot be run, or has other cells, leaves a task as it is without one. */
Test(members, a_base_that_does_not_fit_changes_nothing)
{
    struct setup *with = make(), *without = make();
    struct uf_case other = with->designs[0];
    struct uf_members_base bases[TASKS] = {{.design = NULL}};
    other.burial.cover_m += 0.5;
    bases[0] =
        (struct uf_members_base){.design = &other, .frost_m = 3.0, .winter = with->forcings[0]};
    with->tasks[0].base = &bases[0];
    with->tasks[1].base = &bases[1];
    with->wanted[0][0] = with->wanted[1][0] = true;
    without->wanted[0][0] = without->wanted[1][0] = true;
    run(with, 1, NULL);
    run(without, 1, NULL);
    for (size_t i = 0; i < TASKS; i++) {
        cr_expect_eq(with->summaries[i][0].water.degC, without->summaries[i][0].water.degC);
        uf_members_base_clear(&bases[i]);
    }
    drop(with);
    drop(without);
}
