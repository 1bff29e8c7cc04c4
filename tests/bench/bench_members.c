/* A study's many members of one design, one by one as `recommend` runs its cases and in lanes: cases
   a second, ns for a cell, a stage and a case, and how far apart the answers are.

   bench_members [MEMBERS [THREADS [SITE.yaml [KEY=VALUE ...]]]]
   default 200, 2, cli/examples/larch_hollow.yaml as a plane section with rows of 150 mm */
#include "io/site/site_weather.h"
#include "solver/study/draw.h"
#include "solver/study/members.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double clock_s(clockid_t which)
{
    struct timespec t;
    (void)clock_gettime(which, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void stop(const struct uf_error *err)
{
    (void)fprintf(stderr, "%s\n", err->text);
    exit(1);
}

/* Members differ by water and density of their second layer. */
enum { LAWS = 2 };
static const double FROST_M = 2.5;
static const struct uf_draw_law laws[LAWS] = {{UF_DRAW_UNIFORM, 0.17, 0.24, 0.0},
                                              {UF_DRAW_UNIFORM, 1480.0, 1600.0, 0.0}};

struct study {
    size_t n, threads;
    struct uf_case *designs;
    struct uf_members_task *tasks;
    struct uf_members_base base;
    const struct uf_forcing *winter;
};

static void make_task(struct study *s, size_t i, const double *drawn)
{
    struct uf_members_task *task = &s->tasks[i];
    struct uf_ground_spec *layer = &s->designs[i].ground.layers[1].spec;
    layer->moisture_by_mass = drawn[0];
    layer->dry_density_kg_m3 = drawn[1];
    *task = (struct uf_members_task){.design = &s->designs[i],
                                     .frost_m = FROST_M,
                                     .winters = &s->winter,
                                     .wanted = calloc(1, sizeof *task->wanted),
                                     .summaries = calloc(1, sizeof *task->summaries),
                                     .statuses = calloc(1, sizeof *task->statuses),
                                     .errs = calloc(1, sizeof *task->errs),
                                     .done = calloc(1, sizeof *task->done)};
    if (!task->wanted || !task->summaries || !task->statuses || !task->errs || !task->done) {
        exit(1);
    }
    task->wanted[0] = true;
}

static void make(struct study *s, const struct uf_case *design, const struct uf_forcing *winter)
{
    struct uf_error err = {0};
    double *values = calloc(s->n * LAWS + 1, sizeof *values);
    s->winter = winter;
    s->designs = calloc(s->n + 1, sizeof *s->designs);
    s->tasks = calloc(s->n + 1, sizeof *s->tasks);
    const struct uf_draw_input input = {.laws = laws, .n_laws = LAWS, .n_members = s->n, .seed = 1};
    if (values == NULL || s->designs == NULL || s->tasks == NULL ||
        uf_draw(values, &input, &err) != UF_OK) {
        stop(&err);
    }
    for (size_t i = 0; i < s->n; i++) {
        s->designs[i] = *design;
        make_task(s, i, values + LAWS * i);
    }
    free(values);
}

static void drop(struct study *s)
{
    for (size_t i = 0; i < s->n; i++) {
        free(s->tasks[i].wanted);
        free(s->tasks[i].summaries);
        free(s->tasks[i].statuses);
        free(s->tasks[i].errs);
        free(s->tasks[i].done);
    }
    free(s->designs);
    free(s->tasks);
}

/* Seconds of CPU. In lanes also from the start of the design that is not drawn, which is counted. */
static double run(struct study *s, const struct uf_case *design, bool lanes)
{
    s->base = (struct uf_members_base){.design = design, .frost_m = FROST_M, .winter = s->winter};
    for (size_t i = 0; i < s->n; i++) {
        s->tasks[i].base = lanes ? &s->base : NULL;
    }
    struct uf_error err = {0};
    struct uf_members_input input = {.tasks = s->tasks,
                                     .n_tasks = s->n,
                                     .n_winters = 1,
                                     .threads = s->threads,
                                     .lanes = lanes,
                                     .options = uf_run_defaults()};
    const double wall_s = clock_s(CLOCK_MONOTONIC);
    const double cpu_s = clock_s(CLOCK_PROCESS_CPUTIME_ID);
    if (uf_members_run(&input, &err) != UF_OK) {
        stop(&err);
    }
    const double took_s = clock_s(CLOCK_MONOTONIC) - wall_s;
    const double used_s = clock_s(CLOCK_PROCESS_CPUTIME_ID) - cpu_s;
    double updates = 0.0, stages = 0.0, days = 0.0;
    const double n = (double)s->n;
    for (size_t i = 0; i < s->n; i++) {
        const struct uf_counters *k = &s->tasks[i].summaries[0].counters;
        if (s->tasks[i].statuses[0] != UF_OK) {
            stop(&s->tasks[i].errs[0]);
        }
        updates += (double)k->cells * (double)k->rhs;
        stages += (double)k->rhs;
        days += k->simulated_days;
    }
    printf(
        "%-11s %6.2f s wall %6.2f s CPU: %5.1f cases a second of wall, %5.1f of CPU; %.0f stages "
        "and %.0f days a case, %.2f ns a cell and stage\n",
        lanes ? "in lanes" : "one by one", took_s, used_s, n / took_s, n / used_s, stages / n,
        days / n, 1e9 * used_s / updates);
    uf_members_base_clear(&s->base);
    return used_s;
}

static void compare(const struct study *s, const struct uf_summary *alone)
{
    double water_K = 0.0, wall_K = 0.0, frost_m = 0.0, leak = 0.0;
    for (size_t i = 0; i < s->n; i++) {
        const struct uf_summary *b = &s->tasks[i].summaries[0];
        water_K = fmax(water_K, fabs(alone[i].water.degC - b->water.degC));
        wall_K = fmax(wall_K, fabs(alone[i].wall.degC - b->wall.degC));
        frost_m = fmax(frost_m, fabs(alone[i].frost_undisturbed_m - b->frost_undisturbed_m));
        leak = fmax(leak, b->heat_balance_relative);
    }
    printf("largest difference: water %.4f K, wall %.4f K, frost %.2f mm; heat balance %.0e\n",
           water_K, wall_K, 1e3 * frost_m, leak);
}

static void bench(struct study *s, const struct uf_case *design)
{
    struct uf_summary *alone = calloc(s->n + 1, sizeof *alone);
    const double single_s = run(s, design, false);
    for (size_t i = 0; alone != NULL && i < s->n; i++) {
        alone[i] = s->tasks[i].summaries[0];
    }
    const double lanes_s = run(s, design, true);
    if (alone != NULL) {
        compare(s, alone);
    }
    printf("%zu members, %ld cells, %zu threads: %.2f times the cases a second of CPU\n", s->n,
           s->tasks[0].summaries[0].counters.cells, s->threads, single_s / lanes_s);
    free(alone);
}

int main(int argc, char **argv)
{
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    struct uf_site *site = NULL;
    struct uf_site_weather *weather = NULL;
    struct uf_forcing *forcing = NULL;
    struct uf_site_override rows[20] = {{.text = "tank.ends=plane"},
                                        {.text = "grid.finest=150 mm"}};
    size_t n_rows = 2;
    struct study s = {.n = argc > 1 ? (size_t)strtoul(argv[1], NULL, 10) : 200,
                      .threads = argc > 2 ? (size_t)strtoul(argv[2], NULL, 10) : 2};
    for (int i = 4; i < argc && n_rows < sizeof rows / sizeof *rows; i++) {
        rows[n_rows++].text = argv[i];
    }
    if (uf_site_read(&site, argc > 3 ? argv[3] : UF_SOURCE_DIR "/cli/examples/larch_hollow.yaml",
                     &(struct uf_site_overrides){rows, n_rows}, &faults, &err) != UF_OK ||
        uf_site_weather_create(&weather, site, NULL, &err) != UF_OK ||
        uf_forcing_create(&forcing, &site->design.surface, &weather->weather, &err) != UF_OK) {
        stop(&err);
    }
    make(&s, &site->design, forcing);
    bench(&s, &site->design);
    drop(&s);
    uf_forcing_free(forcing);
    uf_site_weather_free(weather);
    uf_site_free(site);
    return 0;
}
