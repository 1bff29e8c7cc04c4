#include "cli/command.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "cli/verify/field/verify_ground.h"
#include "cli/verify/verify.h"
#include "io/text/show.h"
#include "solver/base/name.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The program held against exact solutions and published values. */

static const char *word(bool ok)
{
    return ok ? "ok" : "FAILS";
}

/* Prints the rows from .. to-1 of one topic, then each of their sources once. */
static void tell_topic(const struct uf_arguments *args, const struct uf_verify *verify,
                       const struct uf_verify_topic *topic, size_t from, size_t to)
{
    static const struct uf_show_column columns[] = {{"check", 'l'},    {"got", 'r'},
                                                    {"expected", 'r'}, {"allowed", 'r'},
                                                    {"unit", 'l'},     {"ok", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 6);
    char heading[160];
    (void)snprintf(heading, sizeof heading, "%s: %s", topic->name, topic->doc);
    uf_show_heading(stdout, heading);
    for (size_t i = from; i < to; i++) {
        const struct uf_verify_check *row = &verify->rows[i];
        uf_show_table_cell(table, "%s", row->name);
        uf_show_table_cell(table, "%.6g", row->got);
        uf_show_table_cell(table, "%.6g", row->expected);
        uf_show_table_cell(table, "%.2g", row->allowed);
        uf_show_table_cell(table, "%s", row->unit);
        if (row->ok) {
            uf_show_table_cell(table, "%s", word(true));
        } else {
            uf_show_table_cell(table, "%s", UF_TONE(args->colour, BAD, word(false)));
        }
    }
    uf_show_table_end(stdout, table);
    for (size_t i = from; i < to; i++) {
        bool told = false;
        for (size_t k = from; k < i; k++) {
            told = told || (strcmp(verify->rows[k].source, verify->rows[i].source) == 0);
        }
        if (!told) {
            uf_show_line(stdout, "source", "%s", verify->rows[i].source);
        }
    }
    for (size_t i = from; i < to; i++) {
        bool told = false;
        for (size_t k = from; k < i; k++) {
            told = told || (strcmp(verify->rows[k].why, verify->rows[i].why) == 0);
        }
        if (!told) {
            uf_show_line(stdout, "allowed", "%s", verify->rows[i].why);
        }
    }
}

/* Tables that go with a topic's checks. */
static const struct {
    const char *topic;
    void (*tell)(void);
} tables[] = {{"ground", uf_verify_ground_tell}};

static void tell_tables(const struct uf_verify_topic *topic)
{
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        if (strcmp(tables[i].topic, topic->name) == 0) {
            tables[i].tell();
        }
    }
}

static bool of_topic(const struct uf_verify_check *row, const struct uf_verify_topic *topic)
{
    const size_t length = strlen(topic->name);
    return strncmp(row->name, topic->name, length) == 0 && row->name[length] == '.';
}

static size_t count_failed(const struct uf_verify *verify)
{
    size_t failed = 0;
    for (size_t i = 0; i < verify->n; i++) {
        failed += !verify->rows[i].ok;
    }
    return failed;
}

static void tell(const struct uf_arguments *args, const struct uf_verify *verify)
{
    const size_t failed = count_failed(verify);
    size_t from = 0;
    for (size_t k = 0; uf_verify_topics[k] != NULL && !args->quiet; k++) {
        size_t to = from;
        while (to < verify->n && of_topic(&verify->rows[to], uf_verify_topics[k])) {
            to++;
        }
        if (to > from) {
            tell_topic(args, verify, uf_verify_topics[k], from, to);
            tell_tables(uf_verify_topics[k]);
            (void)fputc('\n', stdout);
        }
        from = to;
    }
    for (size_t i = 0; i < verify->n && failed > 0; i++) {
        const struct uf_verify_check *row = &verify->rows[i];
        if (!row->ok) {
            (void)printf("%s: %s: got %.8g %s, expected %.8g within %.3g\n", word(false), row->name,
                         row->got, row->unit, row->expected, row->allowed);
        }
    }
    (void)printf("%zu checks, %zu failed\n", verify->n, failed);
}

static enum uf_status answer(const struct uf_verify *verify, struct uf_error *err)
{
    cJSON *object = cJSON_CreateObject();
    cJSON *checks = uf_answer_array(object, "checks");
    for (size_t i = 0; i < verify->n; i++) {
        const struct uf_verify_check *row = &verify->rows[i];
        cJSON *item = uf_answer_item(checks);
        uf_answer_text(item, "name", row->name);
        uf_answer_text(item, "source", row->source);
        uf_answer_number(item, "got", row->got);
        uf_answer_number(item, "expected", row->expected);
        uf_answer_number(item, "allowed", row->allowed);
        uf_answer_text(item, "unit", row->unit);
        uf_answer_text(item, "why_allowed", row->why);
        uf_answer_bool(item, "ok", row->ok);
    }
    return uf_answer_print(object, err);
}

static int list_topics(void)
{
    for (size_t k = 0; uf_verify_topics[k] != NULL; k++) {
        uf_show_entry(stdout, uf_verify_topics[k]->name, uf_verify_topics[k]->doc);
    }
    return UF_EXIT_DONE;
}

static const char *nearest(const char *only)
{
    const char *names[64] = {NULL};
    for (size_t k = 0; k < 63 && uf_verify_topics[k] != NULL; k++) {
        names[k] = uf_verify_topics[k]->name;
    }
    return uf_name_nearest(only, names);
}

static enum uf_status unknown(const struct uf_verify *verify, struct uf_error *err)
{
    const char *near = nearest(verify->only);
    return uf_fail(err, UF_E_INPUT,
                   "there is no check '%.60s'%s%s%s: 'underfrost verify --list' names the topics",
                   verify->only, near != NULL ? "; did you mean '" : "", near != NULL ? near : "",
                   near != NULL ? "'?" : "");
}

static struct uf_verify prepare(const struct uf_arguments *args)
{
    struct uf_verify verify = {.only = args->n_operands > 0 ? args->operands[0] : NULL,
                               .integrators = {UF_FAST, UF_BDF},
                               .n_integrators = 2};
    if (args->integrator != NULL) {
        verify.n_integrators = 1;
        verify.integrators[0] = strcmp(args->integrator, "reference") == 0 ? UF_BDF : UF_FAST;
    }
    return verify;
}

static int run(const struct uf_arguments *args)
{
    struct uf_verify verify = prepare(args);
    struct uf_error err = {0};
    if (args->list) {
        return list_topics();
    }
    enum uf_status status = uf_verify_run(&verify, &err);
    if (status == UF_OK && verify.n == 0) {
        status = unknown(&verify, &err);
    }
    if (status == UF_OK && args->json) {
        status = answer(&verify, &err);
    } else if (status == UF_OK) {
        tell(args, &verify);
    }
    if (status == UF_OK && args->output != NULL) {
        status = uf_verify_ground_index_draw(args->output, args->units, &err);
    }
    const int exit_code = status != UF_OK             ? uf_faults_error(args, NULL, &err)
                          : count_failed(&verify) > 0 ? UF_EXIT_LIMIT
                                                      : UF_EXIT_DONE;
    free(verify.rows);
    return exit_code;
}

const struct uf_command uf_cmd_verify = {
    .name = "verify",
    .summary = "hold the program against exact solutions and published values",
    .synopsis = "[CHECK] [-o FILE.svg]",
    .detail =
        "CHECK is a topic or the beginning of a check's name, such as neumann or "
        "neumann.N1; --list names the topics. Each check shows what the program got, "
        "what is expected by which source, and how much it may differ and why.\n"
        "Transient checks run on both integrators; those whose name ends in .reference ran on "
        "the error-controlled one. --integrator takes one of them.\n"
        "-o FILE.svg (or png, pdf) draws frost depth against freezing index at the shipped "
        "stations beside two published relations.\n"
        "Ends with 1 when a check fails.",
    .options = UF_OPTION_LIST | UF_OPTION_INTEGRATOR | UF_OPTION_OUTPUT,
    .most_operands = 1,
    .run = run,
};
