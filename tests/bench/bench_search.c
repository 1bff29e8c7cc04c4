/* The search of `recommend` alone, on an example: every choice with its start-up and its
   design winter, on one thread and on two. What each choice cost, and how well the second
   thread is used.

   bench_search [SITE.yaml [THREADS]]    default cli/examples/larch_hollow.yaml, 2 */
#include "io/site/site_weather.h"
#include "solver/choice/choice.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

/* What a choice's thread saw of its start. */
struct start {
    double years, left_K;
};

struct place {
    struct uf_site *site;
    struct uf_site_weather *weather;
    struct uf_forcing *forcing;
    struct uf_run_options options;
};

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

static void open_place(struct place *p, const char *path)
{
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    *p = (struct place){.options = uf_run_defaults()};
    if (uf_site_read(&p->site, path, NULL, &faults, &err) != UF_OK ||
        uf_site_weather_create(&p->weather, p->site, NULL, &err) != UF_OK ||
        uf_forcing_create(&p->forcing, &p->site->design.surface, &p->weather->weather, &err) !=
            UF_OK) {
        stop(&err);
    }
}

static void close_place(struct place *p)
{
    uf_forcing_free(p->forcing);
    uf_site_weather_free(p->weather);
    uf_site_free(p->site);
}

static void look(void *payload, struct uf_run *run)
{
    struct start *start = payload;
    const struct uf_startup_result result = uf_run_startup(run);
    *start = (struct start){result.years, result.left_K};
}

static void print_rows(const struct uf_choices_result *c, const struct start *starts)
{
    printf("cover board reach  cells start   left  steps     rhs    days    CPU  coldest "
           "water\n    m    mm     m        years      K                          s     "
           "     degC\n");
    for (size_t i = 0; i < c->n; i++) {
        const struct uf_choice *row = &c->rows[i];
        const struct uf_summary *summary = uf_choice_summary(c, i);
        if (summary != NULL) {
            const struct uf_counters *k = &summary->counters;
            printf("%5.2f %5.0f %5.2f %6ld %5.2f %6.3f %6ld %7ld %7.0f %6.3f %14.3f\n",
                   row->cover_m, 1e3 * row->thickness_m,
                   row->thickness_m > 0.0 ? row->beyond_m : 0.0, k->cells, starts[row->run].years,
                   starts[row->run].left_K, k->steps, k->rhs, k->simulated_days, k->cpu_s,
                   summary->water.degC);
        }
    }
}

/* Wall seconds of the whole search; the rows are told when asked. */
static double search(const struct place *p, size_t threads, bool tell)
{
    struct uf_choices_result *c = NULL;
    struct uf_pool *pool = NULL;
    struct uf_error err = {0};
    const double wall_s = clock_s(CLOCK_MONOTONIC);
    const double cpu_s = clock_s(CLOCK_PROCESS_CPUTIME_ID);
    const struct uf_choice_input input = {
        .design = &p->site->design, .forcing = p->forcing, .options = p->options, .every = true};
    if (uf_choice_create(&c, &input, &err) != UF_OK) {
        stop(&err);
    }
    size_t ran = 0;
    struct uf_job *jobs = uf_bank_pending(&c->bank, &ran);
    struct start *starts = calloc(ran, sizeof *starts);
    for (size_t i = 0; starts != NULL && i < ran; i++) {
        jobs[i].day = look;
        jobs[i].payload = &starts[i];
    }
    if (starts == NULL || uf_pool_create(&pool, jobs, ran, threads, &err) != UF_OK) {
        stop(&err);
    }
    uf_pool_free(pool); /* waits */
    if (uf_choice_judge(c, &err) != UF_OK) {
        stop(&err);
    }
    const double took_s = clock_s(CLOCK_MONOTONIC) - wall_s;
    const double used_s = clock_s(CLOCK_PROCESS_CPUTIME_ID) - cpu_s;
    double days = 0.0;
    for (size_t i = 0; i < ran; i++) {
        days += jobs[i].summary.counters.simulated_days;
    }
    if (tell) {
        print_rows(c, starts);
    }
    printf("%zu thread%s: %zu choices, %zu run, %.2f s wall, %.2f s CPU, %.0f simulated "
           "years a second of wall\n",
           threads, threads > 1 ? "s" : "", c->n, ran, took_s, used_s, days / 365.2425 / took_s);
    uf_choice_free(c);
    free(starts);
    return took_s;
}

int main(int argc, char **argv)
{
    struct place place;
    const size_t threads = argc > 2 ? (size_t)strtoul(argv[2], NULL, 10) : 2;
    open_place(&place, argc > 1 ? argv[1] : UF_SOURCE_DIR "/cli/examples/larch_hollow.yaml");
    const double one_s = search(&place, 1, true);
    const double many_s = search(&place, threads, false);
    printf("parallel efficiency %.2f\n", one_s / (many_s * (double)threads));
    close_place(&place);
    return 0;
}
