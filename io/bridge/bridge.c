#include "bridge.h"

#include "io/result/result_array.h"
#include "io/site/site_weather.h"
#include "solver/base/calendar.h"
#include "solver/run/facts.h"
#include "solver/run/run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { INPUT = 2, FILE_TROUBLE = 3, SOLVER = 4 };

struct told {
    char key[120], date[16];
    double value;
    const char *unit;
};

struct uf_bridge {
    struct uf_record *record;
    struct uf_summary summary;
    struct told *facts;
    size_t n_facts;
};

static int code_of(enum uf_status status)
{
    return status == UF_E_INPUT || status == UF_E_RANGE ? INPUT
           : status == UF_E_FILE                        ? FILE_TROUBLE
                                                        : SOLVER;
}

static int tell(char *message, size_t size, const struct uf_site_faults *faults,
                const struct uf_error *err)
{
    size_t used = 0;
    (void)snprintf(message, size, "%s", err->text);
    for (size_t i = 0; i < faults->n && used < size; i++) {
        const struct uf_fault *row = &faults->rows[i];
        used += (size_t)snprintf(message + used, size - used, "%sline %d: %s: %s: %s",
                                 i > 0 ? "\n" : "", row->line, row->key, row->what.text,
                                 row->allowed.text);
    }
    return code_of(err->code);
}

static enum uf_status note_facts(struct uf_bridge *b, struct uf_error *err)
{
    size_t n = 0;
    for (const struct uf_fact *fact = uf_facts; fact->key != NULL; fact++) {
        n += uf_facts_count(fact, &b->summary);
    }
    b->facts = calloc(n + 1, sizeof *b->facts);
    if (b->facts == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the answer");
    }
    for (const struct uf_fact *fact = uf_facts; fact->key != NULL; fact++) {
        for (size_t i = 0; i < uf_facts_count(fact, &b->summary); i++) {
            const long day = uf_facts_day(fact, &b->summary, i);
            if (fact->type == UF_FACT_TEXT || fact->role == UF_FACT_MACHINE) {
                continue;
            }
            struct told *told = &b->facts[b->n_facts++];
            (void)uf_facts_key(told->key, sizeof told->key, fact->key, i);
            told->value = uf_facts_known(fact, &b->summary, i) && fact->type != UF_FACT_DAY
                              ? uf_facts_value(fact, &b->summary, i)
                              : (double)NAN;
            told->unit = fact->type == UF_FACT_DAY ? "" : uf_facts_unit(fact);
            if (day != UF_NO_DAY) {
                (void)uf_calendar_text(day, told->date, sizeof told->date);
            }
        }
    }
    return UF_OK;
}

/* Every day of the site's own winter, series always, fields where asked. */
static enum uf_status run_days(struct uf_bridge *b, const struct uf_case *design,
                               const struct uf_forcing *forcing, int fields, struct uf_error *err)
{
    const struct uf_run_options options = uf_run_defaults();
    struct uf_run *run = NULL;
    enum uf_status status = uf_run_create(&run, design, forcing, &options, err);
    if (status == UF_OK) {
        status =
            uf_run_record(&b->record, run, 1, fields != 0 ? UF_KEEP_USUAL : UF_KEEP_SERIES, err);
    }
    while (status == UF_OK && !uf_run_done(run)) {
        status = uf_run_next(run, err);
        if (status == UF_OK) {
            uf_run_store(run, b->record, uf_run_day(run) - 1);
        }
    }
    if (status == UF_OK) {
        b->summary = uf_run_summary(run);
        status = note_facts(b, err);
    }
    uf_run_free(run);
    return status;
}

static enum uf_status run_site(struct uf_bridge *b, const struct uf_site *site, int fields,
                               struct uf_error *err)
{
    struct uf_site_weather *weather = NULL;
    struct uf_forcing *forcing = NULL;
    enum uf_status status = UF_OK;
    if (site->winter_given && site->winter.kind == UF_WINTER_EVERY) {
        return uf_fail_key(err, UF_E_INPUT, "climate.winter", UF_PLAIN("every is no single run"),
                           UF_PLAIN("one winter, such as 1 in 30"));
    }
    status = uf_site_weather_create(&weather, site, NULL, err);
    if (status == UF_OK) {
        status = uf_forcing_create(&forcing, &site->design.surface, &weather->weather, err);
    }
    if (status == UF_OK) {
        status = run_days(b, &site->design, forcing, fields, err);
    }
    uf_forcing_free(forcing);
    uf_site_weather_free(weather);
    return status;
}

int uf_bridge_run(struct uf_bridge **out, const char *site_file, const char *const *sets,
                  size_t n_sets, int fields, char *message, size_t size)
{
    struct uf_bridge *b = calloc(1, sizeof *b);
    struct uf_site_override *rows = calloc(n_sets + 1, sizeof *rows);
    struct uf_site *site = NULL;
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    enum uf_status status = UF_OK;
    int code = 0;
    *out = NULL;
    if (b == NULL || rows == NULL) {
        status = uf_fail(&err, UF_E_MEMORY, "out of memory for a run");
    }
    for (size_t i = 0; status == UF_OK && i < n_sets; i++) {
        rows[i].text = sets[i];
    }
    if (status == UF_OK) {
        status = uf_site_read(&site, site_file, &(struct uf_site_overrides){rows, n_sets}, &faults,
                              &err);
    }
    if (status == UF_OK) {
        status = run_site(b, site, fields, &err);
    }
    if (status != UF_OK) {
        code = tell(message, size, &faults, &err);
        uf_bridge_free(b);
    } else {
        *out = b;
    }
    uf_site_faults_clear(&faults);
    uf_site_free(site);
    free(rows);
    return code;
}

void uf_bridge_free(struct uf_bridge *bridge)
{
    if (bridge != NULL) {
        uf_record_free(bridge->record);
        free(bridge->facts);
        free(bridge);
    }
}

int uf_bridge_fact(const struct uf_bridge *bridge, size_t i, const char **key, double *value,
                   const char **unit, const char **date)
{
    if (i >= bridge->n_facts) {
        return 0;
    }
    *key = bridge->facts[i].key;
    *value = bridge->facts[i].value;
    *unit = bridge->facts[i].unit;
    *date = bridge->facts[i].date;
    return 1;
}

const void *uf_bridge_array(const struct uf_bridge *bridge, size_t i, const char **name,
                            const char **unit, char *kind, size_t *rank, size_t *shape)
{
    struct uf_result_array array;
    if (!uf_result_array(&array, bridge->record, i)) {
        return NULL;
    }
    *name = array.name;
    *unit = array.units != NULL ? array.units : "";
    *kind = array.kind;
    *rank = array.rank;
    memcpy(shape, array.shape, sizeof array.shape);
    return array.data;
}
