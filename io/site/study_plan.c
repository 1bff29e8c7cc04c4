#include "study_plan.h"

#include "io/result/part_file.h"
#include "io/text/input.h"
#include "site_leaves.h"
#include "study_plan_private.h"

#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Everything the plan says is a leaf, key and value; each leaf belongs to one of these. */
static const struct {
    const char *prefix;
    bool whole; /* the key itself; else what begins so */
    uf_study_plan_leaf *take;
    const char *form; /* how it is written, where not as one value or list of them */
} rows[] = {
    {"site", true, uf_study_plan_site, NULL},
    {"stations[", false, uf_study_plan_station, "a list such as [{file: madison.csv}]"},
    {"winters", true, uf_study_plan_winters, NULL},
    {"set.", false, uf_study_plan_set, "a block such as {tank.ends: plane}"},
    {"vary.", false, uf_study_plan_vary, "a block such as {burial.cover: [0.9 m, 1.2 m]}"},
    {"draws.members", true, uf_study_plan_members, "a block of members, seed, keys, correlations"},
    {"draws.seed", true, uf_study_plan_seed, NULL},
    {"draws.keys.", false, uf_study_plan_drawn,
     "a block such as {ground[0].moisture: {normal: [20 percent, 2 percent]}}"},
    {"draws.correlations", true, uf_study_plan_correlations, NULL},
    {"options", true, uf_study_plan_options, NULL},
    {"reliability", true, uf_study_plan_reliability, NULL},
    {"life", true, uf_study_plan_life, NULL},
};

/* How a key is written that is only the beginning of a row's; NULL where it begins none. */
static const char *form_of(const char *key)
{
    const size_t n = strlen(key);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *prefix = rows[i].prefix;
        if (strncmp(prefix, key, n) == 0 && (prefix[n] == '.' || prefix[n] == '[')) {
            return rows[i].form;
        }
    }
    return NULL;
}

static enum uf_status take_leaf(struct uf_study_plan *plan, const struct uf_site_leaf *leaf,
                                struct uf_error *err)
{
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const size_t n = strlen(rows[i].prefix);
        if (rows[i].whole ? strcmp(leaf->key, rows[i].prefix) == 0
                          : strncmp(leaf->key, rows[i].prefix, n) == 0) {
            return rows[i].whole || leaf->key[n] != '\0'
                       ? rows[i].take(plan, leaf->key + (rows[i].whole ? 0 : n), leaf, err)
                       : uf_study_plan_wrong(err, leaf->key, "is not written so", rows[i].form);
        }
    }
    const char *form = form_of(leaf->key);
    if (form != NULL) {
        return uf_study_plan_wrong(err, leaf->key, "is not written so", form);
    }
    return uf_study_plan_wrong(err, leaf->key, "unknown key of a plan",
                               "site, stations, winters, set, vary, draws, options, reliability, "
                               "life");
}

enum uf_status uf_study_plan_wrong(struct uf_error *err, const char *key, const char *what,
                                   const char *allowed)
{
    return uf_fail_key(err, UF_E_INPUT, key, UF_SAID("{}", UF_WORD(what)),
                       UF_SAID("{}", UF_WORD(allowed)));
}

/* Each value is a set of cases of its own: one that is there twice would count twice, and all would
   where the key is drawn too, whose value goes over it. */
static enum uf_status check_axis(const struct uf_study_plan *plan, const struct uf_study_axis *axis,
                                 struct uf_error *err)
{
    char key[sizeof axis->key + 8];
    size_t at = 0;
    (void)snprintf(key, sizeof key, "vary.%s", axis->key);
    if (axis->n == 0) {
        return uf_study_plan_wrong(err, key, "has no from, to or steps",
                                   "all three, or a list of values");
    }
    for (size_t i = 0; i < plan->n_drawn; i++) {
        if (strcmp(plan->drawn[i].key, axis->key) == 0) {
            return uf_study_plan_wrong(err, key, "is drawn too", "the key under vary or draws");
        }
    }
    if (uf_site_leaves_twice(&at, axis->key, axis->values[0], axis->n, sizeof *axis->values) !=
        UF_OK) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a plan");
    }
    return at == axis->n ? UF_OK
                         : uf_fail_key(err, UF_E_INPUT, key,
                                       UF_SAID("'{}' is there twice", UF_WORD(axis->values[at])),
                                       UF_PLAIN("each value once: it would count its cases twice"));
}

/* Correlations name drawn keys, which may stand after them: so they come last. */
static enum uf_status take_all(struct uf_study_plan *plan, const struct uf_site_leaves *leaves,
                               struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (int last = 0; last < 2; last++) {
        for (size_t i = 0; i < leaves->n && status == UF_OK; i++) {
            if ((strcmp(leaves->rows[i].key, "draws.correlations") == 0) == (last == 1)) {
                status = take_leaf(plan, &leaves->rows[i], err);
            }
        }
    }
    if (status == UF_OK && plan->site[0] == '\0') {
        status = uf_study_plan_wrong(err, "site", "is missing", "the site file, beside the plan");
    }
    if (status == UF_OK && plan->n_drawn > 0 && plan->members == 0) {
        status = uf_study_plan_wrong(err, "draws.members", "is missing", "how many are drawn");
    }
    plan->members = plan->n_drawn > 0 ? plan->members : 1;
    for (size_t i = 0; i < plan->n_axes && status == UF_OK; i++) {
        status = check_axis(plan, &plan->axes[i], err);
    }
    return status;
}

/* A folder of stations becomes its files, by name. */
static enum uf_status list_folder(struct uf_study_plan *plan, const char *folder,
                                  struct uf_error *err)
{
    struct dirent **found = NULL;
    char path[2048];
    const char *slash = strrchr(plan->site, '/');
    (void)snprintf(path, sizeof path, "%.*s%s",
                   slash != NULL && folder[0] != '/' ? (int)(slash - plan->site + 1) : 0,
                   plan->site, folder);
    const int n = scandir(path, &found, NULL, NULL);
    enum uf_status status = UF_OK;
    if (n < 0) {
        return uf_study_plan_wrong(err, "stations", "there is no such folder", path);
    }
    for (int i = 1; i < n; i++) { /* by name in every language alike */
        struct dirent *one = found[i];
        int k = i;
        while (k > 0 && strcmp(found[k - 1]->d_name, one->d_name) > 0) {
            found[k] = found[k - 1];
            k--;
        }
        found[k] = one;
    }
    for (int i = 0; i < n; i++) {
        if (found[i]->d_name[0] != '.' && status == UF_OK) {
            struct uf_study_station *station = uf_study_plan_new_station(plan);
            if (station == NULL) {
                status = uf_fail(err, UF_E_MEMORY, "out of memory for the stations");
            } else if (snprintf(station->file, sizeof station->file, "%s/%s", folder,
                                found[i]->d_name) >= (int)sizeof station->file) {
                status = uf_study_plan_wrong(err, "stations", "a file's name is too long", path);
            }
        }
        free(found[i]);
    }
    free(found);
    return status;
}

static enum uf_status expand_folders(struct uf_study_plan *plan, struct uf_error *err)
{
    struct uf_study_station *rows_given = plan->stations;
    const size_t n = plan->n_stations;
    enum uf_status status = UF_OK;
    plan->stations = NULL;
    plan->n_stations = 0;
    for (size_t i = 0; i < n && status == UF_OK; i++) {
        const bool folder = strncmp(rows_given[i].file, "folder:", 7) == 0;
        struct uf_study_station *station = folder ? NULL : uf_study_plan_new_station(plan);
        if (folder) {
            status = list_folder(plan, rows_given[i].file + 7, err);
        } else if (station == NULL) {
            status = uf_fail(err, UF_E_MEMORY, "out of memory for the stations");
        } else {
            *station = rows_given[i];
        }
    }
    free(rows_given);
    return status;
}

static enum uf_status take_text(struct uf_study_plan *plan, struct uf_error *err)
{
    struct uf_site_leaves leaves = {0};
    enum uf_status status = uf_site_leaves(&leaves, plan->text, NULL, err);
    if (status == UF_OK && leaves.cut) {
        status =
            uf_fail(err, UF_E_INPUT,
                    "the plan has 4000 keys or more, or a list of so many values: stations may "
                    "stand in a folder, [{folder: NAME}], values as a range, {from, to, steps}");
    }
    if (status == UF_OK) {
        status = take_all(plan, &leaves, err);
    }
    if (status == UF_OK) {
        status = expand_folders(plan, err);
    }
    uf_site_leaves_free(&leaves);
    if (status == UF_E_INPUT && err != NULL && err->fault.key[0] != '\0') {
        err->fault.line = uf_site_leaves_line(plan->text, err->fault.key, NULL);
    }
    return status;
}

enum uf_status uf_study_plan_parse(struct uf_study_plan **out, const char *name, const char *text,
                                   struct uf_error *err)
{
    const size_t size = strlen(text) + 1;
    struct uf_study_plan *plan = calloc(1, sizeof *plan);
    *out = NULL;
    if (plan == NULL || (plan->text = malloc(size)) == NULL) {
        uf_study_plan_free(plan);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a plan");
    }
    memcpy(plan->text, text, size);
    (void)snprintf(plan->path, sizeof plan->path, "%s", name);
    plan->options = true;
    plan->reliability_years = NAN;
    plan->life_years = 50.0;
    const enum uf_status status = take_text(plan, err);
    if (status != UF_OK) {
        uf_study_plan_free(plan);
        return status;
    }
    *out = plan;
    return UF_OK;
}

enum uf_status uf_study_plan_read(struct uf_study_plan **out, const char *path,
                                  struct uf_error *err)
{
    FILE *file = NULL;
    char *text = NULL;
    *out = NULL;
    enum uf_status status = uf_input_open(&file, path, err);
    if (status == UF_OK) {
        status = uf_part_file_rest(&text, file, path, err);
        (void)fclose(file);
    }
    if (status == UF_OK) {
        status = uf_study_plan_parse(out, path, text, err);
    }
    free(text);
    return status;
}

void uf_study_plan_free(struct uf_study_plan *plan)
{
    if (plan != NULL) {
        for (size_t i = 0; i < plan->n_axes; i++) {
            free(plan->axes[i].values);
        }
        free(plan->axes);
        free(plan->sets);
        free(plan->winters);
        free(plan->stations);
        free(plan->text);
        free(plan);
    }
}
