/* Random sites through the whole program short of its texts: the reader, the weather, the run, the
   flotation check; then relations that must hold between two runs of a site.
     soak COUNT [FIRST_SEED] [THREADS]
   Prints a table, and the seed and the reason of what fails (soak -p SEED prints that site).
   Ends with 1 when a site was refused or given up by the solver, left its bounds, lost heat or cost more
   than 20 times the median, or a relation is broken by more than it allows. Ground that settles frozen
   down to the bottom is run like any other, but its cost and relations are not held: the program itself
   tells that it is outside, and nothing warms it from below. */
#include "cost.h"
#include "io/site/site_weather.h"
#include "io/text/units.h"
#include "relations.h"
#include "solver/statics/uplift.h"

#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { MOST_THREADS = 64, COST_TIMES = 20 };
#define BALANCE 1e-6

/* Units and the readers are not for several threads at once. */
static pthread_mutex_t reading = PTHREAD_MUTEX_INITIALIZER;

static enum uf_status open_site(struct uf_site **site, struct uf_site_weather **weather,
                                struct uf_forcing **forcing, const char *text, struct uf_error *err)
{
    struct uf_site_faults faults = {0};
    (void)pthread_mutex_lock(&reading);
    enum uf_status status =
        uf_site_parse(site, "soak.yaml", text, strlen(text), NULL, &faults, err);
    if (status == UF_E_INPUT && faults.n > 0) {
        (void)uf_fail(err, UF_E_INPUT, "%s: %.120s", faults.rows[0].key, faults.rows[0].what.text);
    }
    uf_site_faults_clear(&faults);
    if (status == UF_OK) {
        status = uf_site_weather_create(weather, *site, NULL, err);
    }
    if (status == UF_OK) {
        status = uf_forcing_create(forcing, &(*site)->design.surface, &(*weather)->weather, err);
    }
    (void)pthread_mutex_unlock(&reading);
    return status;
}

static double flotation(const struct uf_case *design, struct uf_error *err)
{
    struct uf_column_soils soils;
    struct uf_uplift uplift;
    if (!uf_case_has_tank(design) || uf_column_soils(&soils, design, err) != UF_OK ||
        uf_uplift(&uplift, design, &soils, err) != UF_OK) {
        return NAN;
    }
    return uplift.highest.factor_submerged;
}

static struct outcome run_site(const struct site_random *random, enum uf_integrator integrator)
{
    struct outcome out = {.factor = NAN};
    struct uf_site *site = NULL;
    struct uf_site_weather *weather = NULL;
    struct uf_forcing *forcing = NULL;
    struct uf_run_options options = uf_run_defaults();
    char text[SITE_RANDOM_TEXT];
    site_random_print(random, text, sizeof text);
    out.status = open_site(&site, &weather, &forcing, text, &out.err);
    if (out.status == UF_OK) {
        out.factor = flotation(&site->design, &out.err);
        options.season.integrator = integrator;
        /* So that what is held is the equations, not the steps: 0.04 K at its usual ones (seed 10860). */
        options.season.rtol *= 0.1;
        options.season.atol_J_m3 *= 0.1;
        out.status =
            uf_run_all(&out.summary, NULL, &site->design, forcing, &options, NULL, &out.err);
        out.frozen = out.status == UF_OK &&
                     out.summary.frost_undisturbed_m > site->design.grid.depth_m - 1e-6;
    }
    uf_forcing_free(forcing);
    uf_site_weather_free(weather);
    uf_site_free(site);
    return out;
}

struct tally {
    long tried, broken;
    double worst;
    uint64_t seed;
};

/* Shared by the threads under `reading`. */
struct soak {
    uint64_t next, end;
    long ran, refused, frozen, solver, not_finite, out_of_balance;
    struct tally tallies[RELATIONS];
    struct cost *cost; /* [end - first] */
    long n_cost;
};

static struct soak soak;

static void complain(uint64_t seed, const char *what)
{
    (void)printf("seed %llu: %s\n", (unsigned long long)seed, what);
}

static bool finite_summary(const struct uf_summary *s)
{
    return isfinite(s->frost_undisturbed_m) && isfinite(s->heat_balance_relative) &&
           !isinf(s->water.degC) && !isinf(s->wall.degC) && !isinf(s->ice_share) &&
           (isnan(s->ice_share) || (s->ice_share >= -1e-9 && s->ice_share <= 1.0 + 1e-9));
}

static void count(uint64_t seed, const struct site_random *site, const struct outcome *out)
{
    const struct uf_summary *s = &out->summary;
    if (out->status == UF_E_INPUT || out->status == UF_E_RANGE) {
        soak.refused++;
        complain(seed, out->err.text);
    } else if (out->status != UF_OK) {
        soak.solver++;
        complain(seed, out->err.text);
    } else {
        soak.ran++;
        soak.frozen += out->frozen;
        if (!site->solid && !out->frozen) { /* three dimensions cost their slices */
            soak.cost[soak.n_cost++] =
                (struct cost){(double)s->counters.rhs * (double)s->counters.cells, seed};
        }
        if (!finite_summary(s)) {
            soak.not_finite++;
            complain(seed, "not finite, or a share of ice outside 0 to 1");
        }
        if (!(fabs(s->heat_balance_relative) < BALANCE)) {
            soak.out_of_balance++;
            char text[80];
            (void)snprintf(text, sizeof text, "heat balance %g", s->heat_balance_relative);
            complain(seed, text);
        }
    }
}

/* By how much the relation is broken on rows of a quarter, whose own error is a tenth: what the grid of
   0.3 m alone breaks is no news. */
static double broken_refined(const struct relation *r, const struct site_random *site)
{
    struct site_random fine = *site;
    fine.finest_m *= 0.25;
    struct site_random other = fine;
    (void)r->change(&other);
    const struct outcome before = run_site(&fine, UF_FAST);
    const struct outcome after = run_site(&other, r->integrator);
    return before.status == UF_OK && after.status == UF_OK ? r->broken(&before, &after)
                                                           : (double)INFINITY;
}

/* Two rows in turn that change the site alike share one run: *after. */
static void relate(uint64_t seed, const struct site_random *site, const struct outcome *before,
                   int row, struct outcome *after)
{
    const struct relation *r = &relations[row];
    struct site_random other = *site;
    if (seed % (uint64_t)r->every != 0 || !r->change(&other)) {
        return;
    }
    if (row == 0 || r[-1].change != r->change || r[-1].integrator != r->integrator) {
        *after = run_site(&other, r->integrator);
    }
    double by = after->status == UF_OK && !after->frozen ? r->broken(before, after) : (double)NAN;
    if (by > r->allowed && r->refined) {
        by = broken_refined(r, site);
    }
    (void)pthread_mutex_lock(&reading);
    struct tally *t = &soak.tallies[row];
    if (!isnan(by)) {
        t->tried++;
        if (by > r->allowed) {
            t->broken++;
            char text[160];
            (void)snprintf(text, sizeof text, "%s: by %.3g %s", r->name, by, r->unit);
            complain(seed, text);
        }
        if (t->tried == 1 || by > t->worst) {
            t->worst = by;
            t->seed = seed;
        }
    } else if (after->status == UF_E_SOLVER) {
        soak.solver++;
        complain(seed, after->err.text);
    }
    (void)pthread_mutex_unlock(&reading);
}

static void *work(void *unused)
{
    for (;;) {
        struct site_random site;
        (void)pthread_mutex_lock(&reading);
        const uint64_t seed = soak.next++;
        (void)pthread_mutex_unlock(&reading);
        if (seed >= soak.end) {
            return unused;
        }
        site_random_fill(&site, seed);
        const struct outcome out = run_site(&site, UF_FAST);
        (void)pthread_mutex_lock(&reading);
        count(seed, &site, &out);
        (void)pthread_mutex_unlock(&reading);
        struct outcome after = {.factor = NAN};
        for (int i = 0; out.status == UF_OK && !out.frozen && i < (int)RELATIONS; i++) {
            relate(seed, &site, &out, i, &after);
        }
    }
}

/* Prints the table; how much went wrong. */
static long report(void)
{
    const long costly = cost_report(soak.cost, soak.n_cost, COST_TIMES);
    long wrong = soak.refused + soak.solver + soak.not_finite + soak.out_of_balance;
    (void)printf("\n| sites | |\n|---|---|\n| ran | %ld |\n| refused | %ld |\n"
                 "| frozen down to the bottom, told to be outside the program | %ld |\n"
                 "| given up by the solver | %ld |\n"
                 "| not finite or outside 0 to 1 | %ld |\n| heat balance over %g | %ld |\n"
                 "| over %d times the median cost | %ld |\n",
                 soak.ran, soak.refused, soak.frozen, soak.solver, soak.not_finite, BALANCE,
                 soak.out_of_balance, COST_TIMES, costly);
    (void)printf(
        "\n| relation | tried | allowed | worst | seed | broken |\n|---|---|---|---|---|---|\n");
    for (int i = 0; i < (int)RELATIONS; i++) {
        const struct tally *t = &soak.tallies[i];
        (void)printf("| %s | %ld | %g %s | %.3g | %llu | %ld |\n", relations[i].name, t->tried,
                     relations[i].allowed, relations[i].unit, t->worst, (unsigned long long)t->seed,
                     t->broken);
        wrong += t->broken;
    }
    return wrong + costly;
}

int main(int argc, char **argv)
{
    if (argc == 3 && strcmp(argv[1], "-p") == 0) {
        return site_random_show(strtoull(argv[2], NULL, 10));
    }
    const bool light = getenv("UF_TEST_LIGHT") != NULL; /* a build that runs ten times slower */
    const uint64_t asked = argc > 1 ? strtoull(argv[1], NULL, 10) : 200;
    const uint64_t count = light ? 3 * asked / 10 : asked;
    const uint64_t first = argc > 2 ? strtoull(argv[2], NULL, 10) : 1;
    const long threads = argc > 3 ? strtol(argv[3], NULL, 10) : 2;
    pthread_t thread[MOST_THREADS];
    if (count < 1 || count > 10000000 || threads < 1 || threads > MOST_THREADS) {
        (void)fprintf(stderr, "usage: soak COUNT [FIRST_SEED] [THREADS]\n       soak -p SEED\n");
        return 2;
    }
    soak.next = first;
    soak.end = first + count;
    soak.cost = calloc(count, sizeof *soak.cost);
    long started = 0;
    while (soak.cost != NULL && started < threads &&
           pthread_create(&thread[started], NULL, work, NULL) == 0) {
        started++;
    }
    for (long i = 0; i < started; i++) {
        (void)pthread_join(thread[i], NULL);
    }
    const long wrong = started > 0 ? report() : 1;
    free(soak.cost);
    uf_units_close();
    return wrong > 0;
}
