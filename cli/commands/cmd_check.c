#include "cli/check/check_rows.h"
#include "cli/command.h"
#include "cli/site_open.h"
#include "cli/tell/assumed.h"
#include "cli/tell/faults.h"
#include "io/text/show.h"
#include "solver/base/name.h"

#include <math.h>
#include <string.h>

/* underfrost check SITE.yaml [TOPIC ...]: statics, topic by topic. */

#define NAME(topic) #topic,
static const char *const names[] = {UF_CHECK_LIST(NAME) NULL};
#undef NAME

/* What became of a topic. */
enum fate { NOT_ASKED, ASKED, NO_DATA, FAILED, MET, NOT_MET };

struct findings {
    bool named; /* topics were asked for by name */
    enum fate fates[UF_CHECK_TOPICS];
    char why[UF_CHECK_TOPICS][sizeof((struct uf_error *)NULL)->text]; /* of NO_DATA and FAILED */
};

static enum uf_status ask(struct findings *out, const char *word, struct uf_error *err)
{
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        if (strcmp(names[i], word) == 0) {
            out->fates[i] = ASKED;
            return UF_OK;
        }
    }
    const char *near = uf_name_nearest(word, names);
    return uf_fail(err, UF_E_INPUT,
                   near != NULL ? "'%.60s' is no topic of check: did you mean '%s'?"
                                : "'%.60s' is no topic of check: 'underfrost check --help' lists "
                                  "them%s",
                   word, near != NULL ? near : "");
}

/* An option of one topic alone goes with that topic. */
static enum uf_status check_options(const struct findings *found, const struct uf_arguments *args,
                                    struct uf_error *err)
{
    unsigned asked = 0;
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        asked |= found->fates[i] == ASKED ? uf_check_topics[i]->options : 0;
    }
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        const unsigned astray = args->given & uf_check_topics[i]->options & ~asked;
        if (astray != 0) {
            return uf_fail(err, UF_E_INPUT,
                           "--%s belongs to the topic %s: name %s too, or leave --%s out",
                           uf_options_name(astray), names[i], names[i], uf_options_name(astray));
        }
    }
    return UF_OK;
}

static enum uf_status read_topics(struct findings *out, const struct uf_arguments *args,
                                  struct uf_error *err)
{
    enum uf_status status = UF_OK;
    *out = (struct findings){.named = args->n_operands > 1};
    for (size_t i = 1; i < args->n_operands && status == UF_OK; i++) {
        status = ask(out, args->operands[i], err);
    }
    for (size_t i = 0; i < UF_CHECK_TOPICS && !out->named; i++) {
        out->fates[i] = ASKED;
    }
    return status == UF_OK ? check_options(out, args, err) : status;
}

/* What the site file gives no data for is told; it is a fault where it was asked for by name, or
   where nothing is left to check. */
static enum uf_status find_data(struct findings *found, const struct uf_check *check,
                                struct uf_error *err)
{
    size_t left = 0;
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        if (found->fates[i] == ASKED && !uf_check_topics[i]->given(check)) {
            found->fates[i] = NO_DATA;
            (void)snprintf(found->why[i], sizeof found->why[i], "no data: give %s",
                           uf_check_topics[i]->needs);
            if (found->named) {
                return uf_fail(err, UF_E_INPUT,
                               "the site file gives no data for the topic %s: give %s", names[i],
                               uf_check_topics[i]->needs);
            }
        }
        left += found->fates[i] == ASKED;
    }
    return left > 0 ? UF_OK
                    : uf_fail(err, UF_E_INPUT, "there is nothing to check: give a tank block");
}

static enum uf_status run_topic(struct findings *found, size_t i, struct uf_check *check,
                                struct uf_error *err)
{
    check->ok = true;
    check->blamed = check->args->operands[0];
    const enum uf_status status = uf_check_topics[i]->run(check, err);
    if (status == UF_OK) {
        found->fates[i] = check->ok ? MET : NOT_MET;
        return UF_OK;
    }
    if (found->named || (status != UF_E_INPUT && status != UF_E_RANGE)) {
        return status;
    }
    found->fates[i] = FAILED;
    (void)snprintf(found->why[i], sizeof found->why[i], "%s", err->text);
    return UF_OK;
}

static enum uf_status answer(struct findings *found, struct uf_check *check, cJSON *out,
                             struct uf_error *err)
{
    bool ok = true;
    uf_answer_text(out, "name", check->site->design.name);
    uf_assumed_answer(out, &check->site->design, true);
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        if (found->fates[i] == ASKED) {
            check->answer = cJSON_CreateObject();
            const enum uf_status status = run_topic(found, i, check, err);
            if (status != UF_OK || found->fates[i] == FAILED) {
                cJSON_Delete(check->answer);
                check->answer = NULL;
            }
            if (status != UF_OK) {
                return status;
            }
            if (check->answer != NULL) {
                if (uf_check_topics[i]->rows != NULL) {
                    uf_check_rows_answer(check->answer, uf_check_topics[i]->rows, check);
                }
                uf_answer_bool(check->answer, "ok", check->ok);
                (void)cJSON_AddItemToObject(out, names[i], check->answer);
                ok = ok && check->ok;
            }
        }
        if (found->fates[i] == NO_DATA || found->fates[i] == FAILED) {
            uf_answer_text(out, names[i], NULL);
        }
    }
    cJSON *list = uf_answer_array(out, "unchecked");
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        if (found->fates[i] == NO_DATA || found->fates[i] == FAILED) {
            cJSON *row = uf_answer_item(list);
            uf_answer_text(row, "topic", names[i]);
            uf_answer_text(row, "why", found->why[i]);
        }
    }
    uf_answer_bool(out, "ok", ok);
    return UF_OK;
}

static enum uf_status show(struct findings *found, struct uf_check *check, struct uf_error *err)
{
    static const char *const words[] = {
        [NO_DATA] = "-", [FAILED] = "NOT CHECKED", [MET] = "met", [NOT_MET] = "NOT MET"};
    static const struct uf_show_column columns[] = {{"topic", 'l'}, {"limits", 'l'}, {"", 'l'}};
    uf_site_open_heading(check->args, check->site, "Check of the design");
    uf_assumed_show(&check->site->design, true, check->args->units);
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        if (found->fates[i] == ASKED) {
            uf_show_heading(stdout, uf_check_topics[i]->doc);
            const enum uf_status status = run_topic(found, i, check, err);
            if (status != UF_OK) {
                return status;
            }
            if (found->fates[i] == FAILED) {
                uf_show_text(stdout, 0, found->why[i]);
            } else if (uf_check_topics[i]->rows != NULL) {
                uf_check_rows_tell(NULL, uf_check_topics[i], check);
            }
        }
    }
    uf_show_heading(stdout, "Summary");
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        if (found->fates[i] != NOT_ASKED) {
            uf_show_table_cell(table, "%s", names[i]);
            uf_show_table_cell(table, "%s", words[found->fates[i]]);
            uf_show_table_cell(table, "%s", found->why[i]);
        }
    }
    uf_show_table_end(stdout, table);
    if (!check->args->quiet) {
        (void)printf("\nAn aid to design: local codes and a licensed practitioner decide.\n");
    }
    return UF_OK;
}

/* A topic that could not be checked weighs more than a limit that is not met. */
static int exit_code(const struct findings *found)
{
    int code = UF_EXIT_DONE;
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        if (found->fates[i] == FAILED) {
            return UF_EXIT_INPUT;
        }
        code = found->fates[i] == NOT_MET ? UF_EXIT_LIMIT : code;
    }
    return code;
}

static int run(const struct uf_arguments *args)
{
    struct uf_check check = {
        .args = args, .units = args->units, .frost_m = NAN, .blamed = args->operands[0]};
    struct findings found;
    struct uf_error err = {0};
    if (read_topics(&found, args, &err) != UF_OK) {
        return uf_faults_error(args, NULL, &err);
    }
    int code = uf_site_open(&check.site, NULL, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    check.design = &check.site->design;
    cJSON *out = args->json ? cJSON_CreateObject() : NULL;
    enum uf_status status = find_data(&found, &check, &err);
    if (status == UF_OK) {
        status = args->json ? answer(&found, &check, out, &err) : show(&found, &check, &err);
    }
    if (status != UF_OK) {
        cJSON_Delete(out);
        code = check.faults.n > 0 ? uf_faults_site(args, check.blamed, &check.faults)
                                  : uf_faults_error(args, check.blamed, &err);
    } else {
        code = args->json ? uf_site_open_answer(args, out) : UF_EXIT_DONE;
    }
    uf_site_faults_clear(&check.faults);
    uf_site_free(check.site);
    return code == UF_EXIT_DONE ? exit_code(&found) : code;
}

static bool word(size_t i, struct uf_command_word *out)
{
    if (i < UF_CHECK_TOPICS) {
        (void)snprintf(out->doc, sizeof out->doc, "%s; needs %s", uf_check_topics[i]->doc,
                       uf_check_topics[i]->needs);
        out->word = names[i];
    }
    return i < UF_CHECK_TOPICS;
}

#define TOPIC_OPTIONS                                                                              \
    (UF_OPTION_READINGS | UF_OPTION_JOBS | UF_OPTION_PROGRESS | UF_OPTION_INTEGRATOR)

const struct uf_command uf_cmd_check = {
    .name = "check",
    .summary =
        "statics by topic: flotation, board load, lifting, suction, fittings, roundness, pit",
    .synopsis = "SITE.yaml [TOPIC ...]",
    .detail = "Checks the design as written, without a winter's run (but for fittings, where "
              "frost.depth is not given). All topics by default: one that the site file gives no "
              "data for is told as such; asked for by name it is an error. With --json each topic "
              "is an object under its name, null where it was not checked.\n"
              "Exit 1 where a limit of a topic is not met.",
    .options = UF_OPTIONS_SITE | TOPIC_OPTIONS,
    .least_operands = 1,
    .most_operands = UF_MAX_OPERANDS,
    .words = "Topics",
    .word = word,
    .run = run,
};
