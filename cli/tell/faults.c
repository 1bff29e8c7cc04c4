#include "faults.h"

#include "answer.h"
#include "cli/command.h"
#include "io/signals.h"
#include "io/site/site_leaves.h"
#include "io/text/message_text.h"

#include <math.h>
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
static bool is_override(const struct uf_fault *fault)
{
    return fault->line == 0 && fault->key[0] != '\0';
}

/* As one item of the list of errors, in SI; file may be NULL. */
static void add_error(cJSON *errors, const char *file, const struct uf_fault *fault)
{
    cJSON *row = uf_answer_item(errors);

    uf_answer_text(row, "file", file);
    uf_answer_number(row, "line", fault->line > 0 ? (double)fault->line : (double)NAN);
    uf_answer_text(row, "key", fault->key[0] != '\0' ? fault->key : NULL);
    uf_answer_text(row, "what", fault->what.text);
    uf_answer_text(row, "allowed", fault->allowed.text[0] != '\0' ? fault->allowed.text : NULL);
}

static void print_error(const char *file, const struct uf_fault *fault, enum uf_units units)
{
    (void)fprintf(stderr, "%s:", file != NULL ? file : "underfrost");
    if (fault->line > 0) {
        (void)fprintf(stderr, "%d:", fault->line);
    }
    if (fault->key[0] != '\0') {
        (void)fprintf(stderr, " %s:", fault->key);
    }
    (void)fprintf(stderr, " %s%s%s\n", UF_MESSAGE(units, &fault->what),
                  fault->allowed.text[0] != '\0' ? ": " : "", UF_MESSAGE(units, &fault->allowed));
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
        (void)fprintf(stderr, "--set: %s overrides the file%s\n", args->sets[i].text,
                      i + 1 == args->n_sets ? ": the faults above may follow from it" : "");
    }
}

/* One fault to the list, or to the terminal where there is no list. */
static void tell(cJSON *errors, const char *file, const struct uf_fault *fault,
                 const struct uf_arguments *args)
{
    if (errors != NULL) {
        add_error(errors, file, fault);
    } else {
        print_error(file, fault, args->units);
    }
}

int uf_faults_site(const struct uf_arguments *args, const char *file,
                   const struct uf_site_faults *faults)
{
    cJSON *answer = args->json ? cJSON_CreateObject() : NULL;
    cJSON *errors = args->json ? uf_answer_array(answer, "errors") : NULL;

    for (size_t i = 0; i < faults->n; i++) {
        const struct uf_fault *row = &faults->rows[i];
        const char *own = row->file[0] != '\0' ? row->file : file;
        tell(errors, is_override(row) ? "--set" : own, row, args);
    }
    if (args->json) {
        (void)uf_answer_print(answer, NULL);
    } else {
        print_sets(args, faults);
    }
    return UF_EXIT_INPUT;
}

/* Does a value of --set hold the key: "tank={...}" and "tank.wall=..." that of "tank.wall"? */
static bool is_set(const struct uf_arguments *args, const char *key)
{
    for (size_t i = 0; i < args->n_sets; i++) {
        const size_t n = strcspn(args->sets[i].text, "=");
        if (strncmp(args->sets[i].text, key, n) == 0 && strchr(".[", key[n]) != NULL) {
            return true; /* the end of the key is in that list too */
        }
    }
    return false;
}

/* Where the key of a failure stands that does not say so itself: a line of the file, or --set. */
static const char *locate(struct uf_fault *fault, const char *file, const struct uf_arguments *args)
{
    if (fault->key[0] == '\0' || fault->line > 0 || file == NULL) {
        return file;
    }
    if (is_set(args, fault->key)) {
        return "--set";
    }
    fault->line = uf_site_leaves_line_in(file, fault->key);
    return file;
}

int uf_faults_error(const struct uf_arguments *args, const char *file, const struct uf_error *err)
{
    const enum uf_status status = err->code == UF_OK ? UF_E_SOLVER : err->code;
    cJSON *answer = args->json ? cJSON_CreateObject() : NULL;
    cJSON *errors = args->json ? uf_answer_array(answer, "errors") : NULL;
    struct uf_fault fault = err->fault;

    if (fault.what.text[0] == '\0') {
        uf_message_set(&fault.what, UF_PLAIN(uf_status_text(status)));
    }
    file = fault.file[0] != '\0' ? fault.file : locate(&fault, file, args);
    tell(errors, file, &fault, args);
    if (args->json) {
        (void)uf_answer_print(answer, NULL);
    }
    /* gnuplot hears the same interrupt and fails by it. */
    return uf_signals_stopped() ? UF_EXIT_INTERRUPTED : uf_faults_exit(status);
}
