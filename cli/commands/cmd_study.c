#include "cli/folder.h"
#include "cli/site_open.h"
#include "cli/study/study.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "io/text/show.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* underfrost study VERB PLAN.yaml: many cases, in shards, resumable. */

#define MOST_TOLD 20 /* missing cases named */

static int plan(struct uf_study *s, const struct uf_arguments *args)
{
    struct uf_error err = {0};
    const enum uf_status status = uf_study_manifest_write(s, args->force, &err);
    if (status != UF_OK) {
        return uf_faults_error(args, args->operands[1], &err);
    }
    const struct {
        const char *name;
        size_t n;
    } parts[] = {{"stations", s->stations},
                 {"variants", s->variants},
                 {"members", s->members},
                 {"options", s->options},
                 {"winters", s->winters}};
    char path[1100];
    (void)uf_folder_path(path, sizeof path, s->folder, "manifest.txt");
    if (args->json) {
        cJSON *answer = cJSON_CreateObject();
        uf_answer_count(answer, "cases", (long)s->cases);
        for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
            uf_answer_count(answer, parts[i].name, (long)parts[i].n);
        }
        uf_answer_text(answer, "manifest", path);
        return uf_site_open_answer(args, answer);
    }
    if (args->quiet) {
        return UF_EXIT_DONE;
    }
    (void)printf("%zu cases", s->cases);
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        (void)printf("%s %s: %zu", i == 0 ? " =" : " x", parts[i].name, parts[i].n);
    }
    (void)printf("\n%s\n", path);
    return UF_EXIT_DONE;
}

/* "3/8" */
static bool read_shard(struct uf_study_shard *shard, const char *text)
{
    char rest = '\0';
    *shard = (struct uf_study_shard){1, 1, NULL};
    return text == NULL || (sscanf(text, "%zu/%zu%c", &shard->at, &shard->of, &rest) == 2 &&
                            shard->at >= 1 && shard->at <= shard->of && shard->of <= 1000000 &&
                            strspn(text, "0123456789/") == strlen(text));
}

static int work(struct uf_study *s, const struct uf_arguments *args)
{
    struct uf_study_shard shard;
    struct uf_error err = {0};
    if (!read_shard(&shard, args->shard)) {
        (void)uf_fail(&err, UF_E_INPUT, "--shard: '%.40s' is no share: I/N, such as 3/8",
                      args->shard);
        return uf_faults_error(args, NULL, &err);
    }
    return uf_study_run(s, &shard, args);
}

/* What is missing, in runs: "12 to 40"; into array, or as text where it is NULL. */
static void tell_missing(cJSON *array, const struct uf_study *s, const struct uf_study_results *r)
{
    size_t told = 0;
    for (size_t i = 0; i < s->cases && (array != NULL || told < MOST_TOLD); i++) {
        size_t to = i;
        while (to < s->cases && r->status[to] == UF_STUDY_MISSING) {
            to++;
        }
        if (to > i && array != NULL) {
            cJSON *run = uf_answer_item(array);
            uf_answer_count(run, "first", (long)i);
            uf_answer_count(run, "last", (long)to - 1);
        } else if (to > i) {
            (void)printf("missing: cases %zu to %zu%s\n", i, to - 1,
                         ++told == MOST_TOLD ? ", and perhaps more" : "");
        }
        i = to > i ? to : i;
    }
}

static int tell_gathered(const struct uf_study *s, const struct uf_study_results *r,
                         const struct uf_arguments *args)
{
    char path[1100];
    cJSON *answer = args->json ? cJSON_CreateObject() : NULL;
    cJSON *counts = args->json ? uf_answer_object(answer, "cases") : NULL;
    int code = UF_EXIT_DONE;
    (void)uf_folder_path(path, sizeof path, s->folder, "study.nc");
    for (size_t i = 0; i < UF_STUDY_STATUSES; i++) {
        if (args->json) {
            uf_answer_count(counts, uf_study_status_words[i], (long)r->counts[i]);
        } else if (!args->quiet) {
            (void)printf("%s: %zu\n", uf_study_status_words[i], r->counts[i]);
        }
    }
    if (args->json) {
        tell_missing(uf_answer_array(answer, "missing"), s, r);
        uf_answer_text(answer, "file", path);
        code = uf_site_open_answer(args, answer);
    } else if (!args->quiet) {
        tell_missing(NULL, s, r);
        (void)printf("%s\n", path);
    }
    return code == UF_EXIT_DONE && r->counts[UF_STUDY_MISSING] > 0 ? UF_EXIT_LIMIT : code;
}

static int gather(struct uf_study *s, const struct uf_arguments *args)
{
    struct uf_study_results results;
    struct uf_error err = {0};
    enum uf_status status = uf_study_gather(&results, s, &err);
    if (status == UF_OK) {
        status = uf_study_gather_write(s, &results, &err);
    }
    const int code =
        status == UF_OK ? tell_gathered(s, &results, args) : uf_faults_error(args, NULL, &err);
    uf_study_gather_free(&results, s);
    return code;
}

static int show(struct uf_study *s, const struct uf_arguments *args)
{
    struct uf_study_results results;
    struct uf_error err = {0};
    const enum uf_status status = uf_study_gather(&results, s, &err);
    const int code =
        status == UF_OK ? uf_study_show(s, &results, args) : uf_faults_error(args, NULL, &err);
    uf_study_gather_free(&results, s);
    return code;
}

static int submit(struct uf_study *s, const struct uf_arguments *args)
{
    return uf_study_submit(s, args);
}

static const struct verb {
    const char *name, *doc;
    bool frozen; /* needs the manifest */
    int (*work)(struct uf_study *study, const struct uf_arguments *args);
} verbs[] = {
    {"plan", "count the cases and freeze the manifest", false, plan},
    {"run", "work all cases, or a share of them with --shard; running again goes on", true, work},
    {"gather", "put all parts into study.nc; ends with 1 where something is missing", true, gather},
    {"show", "print and draw what came out", true, show},
    {"submit", "write the script for --parallel or --slurm", true, submit},
};
static const size_t n_verbs = sizeof verbs / sizeof verbs[0];

static bool word(size_t i, struct uf_command_word *out)
{
    if (i >= n_verbs) {
        return false;
    }
    out->word = verbs[i].name;
    (void)snprintf(out->doc, sizeof out->doc, "%s", verbs[i].doc);
    return true;
}

static int run(const struct uf_arguments *args)
{
    struct uf_study study;
    struct uf_error err = {0};
    size_t i = 0;
    while (i < n_verbs && strcmp(verbs[i].name, args->operands[0]) != 0) {
        i++;
    }
    if (i == n_verbs) {
        (void)uf_fail(&err, UF_E_INPUT, "'%.40s': plan, run, gather, show or submit comes first",
                      args->operands[0]);
        return uf_faults_error(args, NULL, &err);
    }
    int code = uf_study_open(&study, args, verbs[i].frozen);
    if (code == UF_EXIT_DONE) {
        code = verbs[i].work(&study, args);
        uf_study_close(&study);
    }
    return code;
}

const struct uf_command uf_cmd_study = {
    .name = "study",
    .summary = "run many cases, in shards, on one machine or many",
    .synopsis = "VERB PLAN.yaml [-o DIR]",
    .detail =
        "A plan names a site file and what is varied of it: stations, winters, any key by list or "
        "range, keys drawn together from distributions by Latin hypercube with a seed, all of them "
        "times the options of `choices`.\n"
        "plan freezes a manifest in DIR (the plan's name without its ending): the sums of site, "
        "plan and weather, the version of the program, every value drawn. run works the cases, or "
        "the share --shard I/N of them, and appends each to one part file a shard; a case that fails "
        "is noted with its reason and stops nothing. Stopped or killed, it goes on when it is run "
        "again. gather writes DIR/study.nc (netCDF-4, CF) with the status of every case: the "
        "same bytes however the work was shared.\n"
        "show tells distributions, how often each limit fails with its 95 % interval, and the "
        "smallest option that fails less often than `reliability` asks, and draws distributions and a "
        "map into DIR. submit writes the script that shares the work out under GNU parallel or Slurm.",
    .options = UF_OPTION_OUTPUT | UF_OPTION_JOBS | UF_OPTION_PROGRESS | UF_OPTION_SHARD |
               UF_OPTION_FORCE | UF_OPTION_ENGINE,
    .least_operands = 2,
    .most_operands = 2,
    .words = "Verbs",
    .word = word,
    .run = run};
