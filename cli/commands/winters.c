#include "winters.h"

#include "cli/jobs.h"
#include "io/result/every_file.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* All that the winters depend on: the program itself, site, changes on the command line, weather
   and its days, options, and the design where it is not the site's own. */
static unsigned long long fingerprint(const struct uf_site_run *run, const struct uf_case *design,
                                      const struct uf_arguments *args)
{
    const struct uf_weather *record = run->weather->record;
    const struct uf_run_options *o = &run->options;
    const double own[] = {design->burial.cover_m,      design->board.thickness_m,
                          design->board.beyond_tank_m, (double)o->season.integrator,
                          o->season.steps_per_day,     o->season.rtol,
                          o->season.atol_J_m3,         o->startup_tolerance_K,
                          o->inflow ? 1.0 : 0.0,       o->frost_m,
                          (double)record->start_day};
    unsigned long long key = uf_every_file_program();
    key = uf_every_file_key(key, run->site->text, strlen(run->site->text));
    for (size_t i = 0; i < args->n_sets; i++) {
        key = uf_every_file_key(key, args->sets[i].text, strlen(args->sets[i].text) + 1);
    }
    key = uf_every_file_key(key, own, sizeof own);
    key = uf_every_file_key(key, record->air_degC, record->days * sizeof(double));
    return record->snow_m == NULL
               ? key
               : uf_every_file_key(key, record->snow_m, record->days * sizeof(double));
}

/* Runs what is not done yet; when interrupted, keeps what is. */
static enum uf_status run_rest(struct uf_winters *w, const struct uf_site_run *run,
                               const char *keep, const struct uf_arguments *args,
                               struct uf_error *err)
{
    const unsigned long long key = fingerprint(run, &w->design, args);
    struct uf_every *every = w->every;
    w->taken_over = keep != NULL ? uf_every_file_read(keep, every, key) : 0;
    uf_every_skip_done(every);
    enum uf_status status = uf_jobs_run(every->jobs, every->n_stretches, args, "winters", err);
    if (status == UF_OK) {
        status = uf_every_status(every, err);
    }
    size_t done = 0;
    for (size_t i = 0; i < every->n; i++) {
        done += every->winters[i].done;
    }
    if (status == UF_E_STOPPED && keep != NULL && done > 0 &&
        uf_every_file_write(keep, every, key, err) == UF_OK) {
        return uf_fail(err, UF_E_STOPPED,
                       "interrupted: %zu of %zu winters are kept in %s; the same command "
                       "goes on from there",
                       done, every->n, keep);
    }
    if (status == UF_OK && keep != NULL) {
        (void)remove(keep);
    }
    return status;
}

static void judge(struct uf_winters *w, const struct uf_choice *statics)
{
    struct uf_limit_facts facts = {.design = &w->design};
    if (statics != NULL) {
        facts.uplift = &statics->uplift;
        facts.load = &statics->load;
    }
    w->limits = uf_every_limits(w->every, &facts);
    double coldest = INFINITY;
    for (size_t i = 0; i < w->every->n; i++) {
        const struct uf_summary *s = &w->every->winters[i].summary;
        const double water_degC = uf_limit_water_degC(s);
        const double measure = isnan(water_degC) ? -s->frost_undisturbed_m : water_degC;
        if (measure < coldest) {
            coldest = measure;
            w->worst = i;
        }
    }
    for (size_t k = 0; k < w->every->n_stretches; k++) {
        w->simulated_days += w->every->jobs[k].summary.counters.simulated_days;
        w->cpu_s += w->every->jobs[k].summary.counters.cpu_s;
    }
}

enum uf_status uf_winters_run(struct uf_winters **out, const struct uf_site_run *run,
                              const struct uf_case *design, const struct uf_choice *statics,
                              const char *keep, const struct uf_arguments *args,
                              struct uf_error *err)
{
    *out = NULL;
    if (run->weather->winters == NULL || !run->weather->has_mean) {
        return uf_fail(err, UF_E_INPUT,
                       "every winter needs a climate.file to take them from, and no initial.date");
    }
    struct uf_winters *w = calloc(1, sizeof *w);
    if (w == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the winters");
    }
    w->design = *design;
    const struct uf_every_input input = {.design = &w->design,
                                         .record = run->weather->record,
                                         .winters = run->weather->winters,
                                         .mean = &run->weather->mean,
                                         .options = run->options,
                                         .keep_series = keep != NULL};
    enum uf_status status = uf_every_create(&w->every, &input, err);
    if (status == UF_OK) {
        status = run_rest(w, run, keep, args, err);
    }
    if (status != UF_OK) {
        uf_winters_free(w);
        return status;
    }
    judge(w, statics);
    *out = w;
    return UF_OK;
}

void uf_winters_free(struct uf_winters *winters)
{
    if (winters != NULL) {
        uf_every_free(winters->every);
        free(winters);
    }
}

char *uf_winters_name(const struct uf_winters *winters, size_t index, char *text, size_t size)
{
    return uf_winter_label(winters->every->winters[index].year, winters->every->south, text, size);
}
