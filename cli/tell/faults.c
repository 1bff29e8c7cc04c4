#include "faults.h"

#include "answer.h"
#include "cli/command.h"
#include "io/signals.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int uf_faults_exit(enum uf_status status)
{
    static const int codes[UF_STATUS_COUNT] = {
        [UF_OK] = UF_EXIT_DONE,
        [UF_E_MEMORY] = UF_EXIT_SOLVER,
        [UF_E_INPUT] = UF_EXIT_INPUT,
        [UF_E_RANGE] = UF_EXIT_INPUT,
        [UF_E_FILE] = UF_EXIT_FILE,
        [UF_E_SOLVER] = UF_EXIT_SOLVER,
        [UF_E_STOPPED] = UF_EXIT_INTERRUPTED,
    };
    return (int)status >= 0 && status < UF_STATUS_COUNT ? codes[status] : UF_EXIT_SOLVER;
}

/* A value given by --set stands on no line of the file. */
static bool is_override(const struct uf_site_fault *fault)
{
    return fault->line == 0 && fault->key[0] != '\0';
}

static void add_error(cJSON *errors, const char *file, const struct uf_site_fault *fault)
{
    cJSON *row = uf_answer_item(errors);

    uf_answer_text(row, "file", is_override(fault) ? "--set" : file);
    uf_answer_number(row, "line", fault->line > 0 ? (double)fault->line : (double)NAN);
    uf_answer_text(row, "key", fault->key[0] != '\0' ? fault->key : NULL);
    uf_answer_text(row, "what", fault->what);
    uf_answer_text(row, "allowed", fault->allowed[0] != '\0' ? fault->allowed : NULL);
}

static void print_error(const char *file, const struct uf_site_fault *fault)
{
    if (is_override(fault)) {
        file = "--set";
    }
    (void)fprintf(stderr, "%s:", file != NULL ? file : "underfrost");
    if (fault->line > 0) {
        (void)fprintf(stderr, "%d:", fault->line);
    }
    if (fault->key[0] != '\0') {
        (void)fprintf(stderr, " %s:", fault->key);
    }
    (void)fprintf(stderr, " %s%s%s\n", fault->what, fault->allowed[0] != '\0' ? ": " : "",
                  fault->allowed);
}

/* What the file's lines are at odds with may be a value of --set, which has no line. */
static void print_sets(const struct uf_arguments *args, const struct uf_site_faults *faults)
{
    for (size_t i = 0; i < faults->n; i++) {
        if (is_override(&faults->rows[i])) {
            return;
        }
    }
    for (size_t i = 0; i < args->n_sets; i++) {
        (void)fprintf(stderr, "--set: %s lies over the file%s\n", args->sets[i].text,
                      i + 1 == args->n_sets ? ": the faults above may follow from it" : "");
    }
}

int uf_faults_site(const struct uf_arguments *args, const char *file,
                   const struct uf_site_faults *faults)
{
    cJSON *answer = args->json ? cJSON_CreateObject() : NULL;
    cJSON *errors = args->json ? uf_answer_array(answer, "errors") : NULL;

    for (size_t i = 0; i < faults->n; i++) {
        if (args->json) {
            add_error(errors, file, &faults->rows[i]);
        } else {
            print_error(file, &faults->rows[i]);
        }
    }
    if (args->json) {
        (void)uf_answer_print(answer, NULL);
    } else {
        print_sets(args, faults);
    }
    return UF_EXIT_INPUT;
}

/* Takes a reader's message "FILE:LINE: what" apart; 0 and the whole text where there is
   no such place in it. */
static const char *take_place(const char *text, char *file, size_t size, int *line)
{
    for (const char *at = strchr(text, ':'); at != NULL; at = strchr(at + 1, ':')) {
        const size_t digits = strspn(at + 1, "0123456789");
        if (digits > 0 && digits < 9 && strncmp(at + 1 + digits, ": ", 2) == 0) {
            *line = (int)strtol(at + 1, NULL, 10);
            (void)snprintf(file, size, "%.*s", (int)(at - text), text);
            return at + digits + 3;
        }
    }
    *line = 0;
    return text;
}

int uf_faults_error(const struct uf_arguments *args, const char *file, const struct uf_error *err)
{
    const enum uf_status status = err->code == UF_OK ? UF_E_SOLVER : err->code;
    const char *what = err->text[0] != '\0' ? err->text : uf_status_text(status);
    char place[sizeof err->text];
    int line = 0;

    if (file == NULL) {
        what = take_place(what, place, sizeof place, &line);
        file = line > 0 ? place : NULL;
    }
    if (args->json) {
        cJSON *answer = cJSON_CreateObject();
        cJSON *row = uf_answer_item(uf_answer_array(answer, "errors"));
        uf_answer_text(row, "file", file);
        uf_answer_number(row, "line", line > 0 ? (double)line : (double)NAN);
        uf_answer_text(row, "key", NULL);
        uf_answer_text(row, "what", what);
        uf_answer_text(row, "allowed", NULL);
        (void)uf_answer_print(answer, NULL);
    } else if (line > 0) {
        (void)fprintf(stderr, "%s:%d: %s\n", file, line, what);
    } else if (file != NULL) {
        (void)fprintf(stderr, "%s: %s\n", file, what);
    } else {
        (void)fprintf(stderr, "underfrost: %s\n", what);
    }
    /* gnuplot hears the same interrupt and fails by it. */
    return uf_signals_stopped() ? UF_EXIT_INTERRUPTED : uf_faults_exit(status);
}
