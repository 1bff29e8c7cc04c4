#include "options.h"

#include "command.h"
#include "io/text/show.h"
#include "solver/base/name.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum kind { FLAG, TEXT, WHOLE, UNITS, SET };

struct row {
    unsigned bit;
    const char *name; /* without the dashes */
    char letter;      /* 0: none */
    enum kind kind;
    size_t member;       /* where in struct uf_arguments */
    const char *value;   /* what stands for the value in --help; NULL: takes none */
    const char *choices; /* of a text that is one of a few words, "a|b"; NULL: any */
    const char *help;
};

#define AT(member) offsetof(struct uf_arguments, member)

static const struct row rows[] = {
    {UF_OPTION_JSON, "json", 0, FLAG, AT(json), NULL, NULL,
     "one JSON object on standard output, in SI"},
    {UF_OPTION_UNITS, "units", 0, UNITS, AT(units), "us|si", NULL, "units of the text (si)"},
    {UF_OPTION_OUTPUT, "output", 'o', TEXT, AT(output), "PATH", NULL, "where to write, see above"},
    {UF_OPTION_SET, "set", 0, SET, AT(sets), "KEY=VALUE", NULL,
     "take another value for a key of the site file, such as burial.cover=1.5m; repeatable"},
    {UF_OPTION_JOBS, "jobs", 'j', WHOLE, AT(jobs), "N", NULL,
     "runs at the same time (the processors of this machine)"},
    {UF_OPTION_THIN, "thin", 0, WHOLE, AT(thin), "DAYS", NULL,
     "keep each so many'th day in the result file (1); extremes still see every day"},
    {UF_OPTION_THIN, "fields", 0, TEXT, AT(fields), "sections|all", "sections|all",
     "keep the section at mid-tank and the long section in the result file, or every slice as well "
     "(sections)"},
    {UF_OPTION_SHAPE, "shape", 0, TEXT, AT(shape), "SHAPE",
     "horizontal_cylinder|vertical_cylinder|box|none",
     "horizontal_cylinder, vertical_cylinder, box, or none for bare ground (horizontal_cylinder)"},
    {UF_OPTION_CLIMATE, "climate", 0, TEXT, AT(climate), "FILE", NULL,
     "daily weather: a path, or a file of climates/"},
    {UF_OPTION_COLUMN, "column", 0, TEXT, AT(column), "NAME", NULL,
     "station, where the file holds several"},
    {UF_OPTION_SOUTH, "south", 0, FLAG, AT(south), NULL, NULL,
     "station south of the equator: a winter runs February to January"},
    {UF_OPTION_TERMINAL, "terminal", 0, TEXT, AT(terminal), "T", NULL,
     "picture format or terminal of gnuplot, as said above"},
    {UF_OPTION_LIST, "list", 0, FLAG, AT(list), NULL, NULL, "list what there is, do nothing"},
    {UF_OPTION_ALL, "all", 0, FLAG, AT(all), NULL, NULL, "run everything, leave nothing out"},
    {UF_OPTION_NOMINAL, "nominal", 0, FLAG, AT(nominal), NULL, NULL,
     "judge the design case alone: no allowance, no sensitivity cases"},
    {UF_OPTION_READINGS, "readings", 0, TEXT, AT(readings), "FILE.csv", NULL,
     "roundness: readings from a CSV file (at,diameter,level, or as sheet --field makes it) in place "
     "of those in the site file"},
    {UF_OPTION_FIELD, "field", 0, FLAG, AT(field), NULL, NULL,
     "the record page for a phone in place of the installation sheet"},
    {UF_OPTION_DRAWING, "drawing", 0, FLAG, AT(drawing), NULL, NULL,
     "the works to scale on two sheets (SVG or PDF) in place of the installation sheet"},
    {UF_OPTION_FORCE, "force", 0, FLAG, AT(force), NULL, NULL,
     "replace the earlier study that the folder holds"},
    {UF_OPTION_CSV, "csv", 0, FLAG, AT(csv), NULL, NULL, "comma-separated tables"},
    {UF_OPTION_DEPTHS, "depths", 0, TEXT, AT(depths), "LIST", NULL,
     "depths of the fields below grade, such as 0.1m,0.5m,1m"},
    {UF_OPTION_SHARD, "shard", 0, TEXT, AT(shard), "I/N", NULL,
     "the I'th of N equal shares of the cases (1/1)"},
    {UF_OPTION_ENGINE, "slurm", 0, FLAG, AT(slurm), NULL, NULL,
     "submit: a job array of Slurm, and a job that gathers"},
    {UF_OPTION_ENGINE, "shards", 0, WHOLE, AT(shards), "N", NULL,
     "submit: how many shards, in place of those of 15 minutes"},
    {UF_OPTION_ENGINE, "parallel", 0, FLAG, AT(parallel), NULL, NULL,
     "submit: GNU parallel, on this machine or within one allocation"},
    {UF_OPTION_INTEGRATOR, "integrator", 0, TEXT, AT(integrator), "fast|reference",
     "fast|reference", "time integration: the fast one, or the error-controlled reference"},
    {UF_OPTION_SEASONS, "seasons", 0, TEXT, AT(seasons), "design|every", "design|every",
     "the design winter, or every winter on record as well"},
    {UF_OPTION_PROGRESS, "progress", 0, FLAG, AT(progress), NULL, NULL,
     "show progress on standard error even if that is no terminal"},
    {UF_OPTION_QUIET, "quiet", 'q', FLAG, AT(quiet), NULL, NULL, "no progress, no remarks"},
    {UF_OPTION_VERBOSE, "verbose", 'v', FLAG, AT(verbose), NULL, NULL,
     "also what the solver did: its counters, its speed, what the answer rests on"},
    {UF_OPTION_HELP, "help", 'h', FLAG, AT(help), NULL, NULL, "print this and stop"},
};
static const size_t n_rows = sizeof rows / sizeof rows[0];

static const struct row *find(unsigned set, const char *name, size_t size, char letter)
{
    for (size_t i = 0; i < n_rows; i++) {
        const struct row *row = &rows[i];
        if ((row->bit & set) == 0) {
            continue;
        }
        if (letter != 0 ? row->letter == letter
                        : strlen(row->name) == size && strncmp(row->name, name, size) == 0) {
            return row;
        }
    }
    return NULL;
}

static enum uf_status unknown(const struct uf_command *command, unsigned set, const char *word,
                              struct uf_error *err)
{
    const char *known[sizeof rows / sizeof rows[0] + 1];
    char bare[64];
    size_t n = 0;

    for (size_t i = 0; i < n_rows; i++) {
        if ((rows[i].bit & set) != 0) {
            known[n++] = rows[i].name;
        }
    }
    known[n] = NULL;
    (void)snprintf(bare, sizeof bare, "%.*s", (int)strcspn(word, "="), word);
    const char *near = uf_name_nearest(bare + strspn(bare, "-"), known);
    if (near != NULL) {
        return uf_fail(err, UF_E_INPUT, "%.60s is no option of %s: did you mean --%s?", bare,
                       command->name, near);
    }
    const struct row *row =
        find(~0U, word + 2, strcspn(word + 2, "="), word[1] == '-' ? 0 : word[1]);
    for (size_t i = 0; row != NULL && uf_command_list[i] != NULL; i++) {
        if ((uf_command_list[i]->options & row->bit) != 0) {
            return uf_fail(err, UF_E_INPUT,
                           "%.60s is no option of %s: it belongs to %s, see 'underfrost %s --help'",
                           bare, command->name, uf_command_list[i]->name, uf_command_list[i]->name);
        }
    }
    return uf_fail(err, UF_E_INPUT,
                   "%.60s is no option of %s: 'underfrost %s --help' lists what it takes", bare,
                   command->name, command->name);
}

static bool among(const char *word, const char *choices)
{
    const size_t size = strlen(word);

    while (*choices != '\0') {
        const size_t n = strcspn(choices, "|");
        if (n == size && strncmp(word, choices, n) == 0) {
            return true;
        }
        choices += n + (choices[n] == '|');
    }
    return false;
}

static enum uf_status store_whole(size_t *member, const struct row *row, const char *value,
                                  struct uf_error *err)
{
    char *end = NULL;

    errno = 0;
    const long number = strtol(value, &end, 10);
    if (end == value || *end != '\0' || errno != 0 || number < 1 || number > 1024) {
        return uf_fail(err, UF_E_INPUT, "--%s: '%.60s' will not do: a whole number, 1 to 1024",
                       row->name, value);
    }
    *member = (size_t)number;
    return UF_OK;
}

static enum uf_status store_set(struct uf_arguments *args, const char *value, struct uf_error *err)
{
    const char *equals = strchr(value, '=');

    if (equals == NULL || equals == value) {
        return uf_fail(err, UF_E_INPUT,
                       "--set: '%.60s' has no key and value: KEY=VALUE, such as burial.cover=1.5m",
                       value);
    }
    if (args->n_sets == UF_MAX_SETS) {
        return uf_fail(err, UF_E_INPUT, "--set: given too often: at most %d times", UF_MAX_SETS);
    }
    args->sets[args->n_sets++].text = value;
    return UF_OK;
}

static enum uf_status store_text(const char **member, const struct row *row, const char *value,
                                 struct uf_error *err)
{
    if (value[0] == '\0') {
        return uf_fail(err, UF_E_INPUT, "--%s: the value is empty: give %s", row->name, row->value);
    }
    if (row->choices != NULL && !among(value, row->choices)) {
        return uf_fail(err, UF_E_INPUT, "--%s: '%.60s' is not known: one of %s", row->name, value,
                       row->choices);
    }
    *member = value;
    return UF_OK;
}

static enum uf_status store(struct uf_arguments *args, const struct row *row, const char *value,
                            struct uf_error *err)
{
    void *member = (char *)args + row->member;

    args->given |= row->bit;
    switch (row->kind) {
    case FLAG:
        *(bool *)member = true;
        return UF_OK;
    case TEXT:
        return store_text(member, row, value, err);
    case WHOLE:
        return store_whole(member, row, value, err);
    case UNITS:
        if (!among(value, "us|si")) {
            return uf_fail(err, UF_E_INPUT, "--units: '%.60s' is not known: us or si", value);
        }
        args->units = value[0] == 'u' ? UF_UNITS_US : UF_UNITS_SI;
        return UF_OK;
    case SET:
        return store_set(args, value, err);
    }
    return UF_OK;
}

/* Reads the option at argv[*i]; moves *i on over a value of its own. */
static enum uf_status read_option(struct uf_arguments *args, unsigned set, int argc,
                                  const char *const *argv, int *i, struct uf_error *err)
{
    const char *word = argv[*i];
    const bool is_long = word[1] == '-';
    const char *name = word + 2;
    const size_t size = is_long ? strcspn(name, "=") : 0;
    const char letter = *(is_long ? "" : word + 1);
    const struct row *row = find(set, name, size, letter);
    const char *rest = is_long ? (name[size] == '=' ? name + size + 1 : NULL)
                               : (word[2] != '\0' ? word + 2 : NULL);

    if (row == NULL) {
        return unknown(args->command, set, word, err);
    }
    if (row->value == NULL) {
        if (rest != NULL) {
            return uf_fail(err, UF_E_INPUT, "--%s takes no value: leave '%.60s' out", row->name,
                           rest);
        }
        return store(args, row, "", err);
    }
    if (rest == NULL) {
        if (*i + 1 >= argc) {
            return uf_fail(err, UF_E_INPUT, "--%s needs a value: --%s %s", row->name, row->name,
                           row->value);
        }
        *i += 1;
        rest = argv[*i];
    }
    return store(args, row, rest, err);
}

static enum uf_status check_operands(const struct uf_arguments *args, struct uf_error *err)
{
    const struct uf_command *command = args->command;

    if (args->help || args->list || args->n_operands >= command->least_operands) {
        return UF_OK;
    }
    return uf_fail(err, UF_E_INPUT, "something is missing: underfrost %s %s", command->name,
                   command->synopsis);
}

static enum uf_status add_operand(struct uf_arguments *args, const char *word, struct uf_error *err)
{
    const struct uf_command *command = args->command;

    if (args->n_operands >= command->most_operands || args->n_operands == UF_MAX_OPERANDS) {
        return uf_fail(err, UF_E_INPUT, "'%.60s' is one too many: underfrost %s %s", word,
                       command->name, command->synopsis);
    }
    args->operands[args->n_operands++] = word;
    return UF_OK;
}

static void keep_command_line(struct uf_arguments *args, int argc, const char *const *argv)
{
    size_t used = (size_t)snprintf(args->command_line, sizeof args->command_line, "underfrost %s",
                                   args->command->name);
    for (int i = 0; i < argc && used < sizeof args->command_line; i++) {
        used += (size_t)snprintf(args->command_line + used, sizeof args->command_line - used, " %s",
                                 argv[i]);
    }
}

/* By the custom of NO_COLOR: set to anything, no colour. */
static bool wants_colour(void)
{
    const char *no_color = getenv("NO_COLOR"), *terminal = getenv("TERM");

    return isatty(STDOUT_FILENO) == 1 && (no_color == NULL || no_color[0] == '\0') &&
           (terminal == NULL || strcmp(terminal, "dumb") != 0);
}

enum uf_status uf_options_parse(struct uf_arguments *out, const struct uf_command *command,
                                int argc, const char *const *argv, struct uf_error *err)
{
    const unsigned set = UF_OPTIONS_COMMON | command->options;
    bool options_end = false;
    enum uf_status status = UF_OK;

    *out = (struct uf_arguments){.command = command};
    out->colour = wants_colour();
    keep_command_line(out, argc, argv);
    for (int i = 0; i < argc && status == UF_OK && !out->help; i++) {
        const char *word = argv[i];
        if (!options_end && strcmp(word, "--") == 0) {
            options_end = true;
        } else if (!options_end && word[0] == '-' && word[1] != '\0') {
            status = read_option(out, set, argc, argv, &i, err);
        } else {
            status = add_operand(out, word, err);
        }
    }
    return status == UF_OK ? check_operands(out, err) : status;
}

size_t uf_options_jobs(const struct uf_arguments *args)
{
    if (args->jobs > 0) {
        return args->jobs;
    }
    const long cores = sysconf(_SC_NPROCESSORS_ONLN);
    return cores > 0 ? (size_t)cores : 1;
}

void uf_options_each(unsigned set, uf_options_visit *visit, void *payload)
{
    for (size_t i = 0; i < n_rows; i++) {
        if ((rows[i].bit & set) != 0) {
            visit(payload, rows[i].name, rows[i].letter, rows[i].value, rows[i].help);
        }
    }
}

const char *uf_options_name(unsigned set)
{
    const char *name = "";
    for (size_t i = n_rows; i-- > 0;) {
        name = (rows[i].bit & set) != 0 ? rows[i].name : name;
    }
    return name;
}

const char *uf_options_words(const char *name)
{
    for (size_t i = 0; i < n_rows; i++) {
        if (strcmp(rows[i].name, name) == 0) {
            return rows[i].kind == UNITS ? rows[i].value : rows[i].choices;
        }
    }
    return NULL;
}

static void print_row(void *payload, const char *name, char letter, const char *value,
                      const char *help)
{
    char head[64], letter_text[8] = "";

    if (letter != 0) {
        (void)snprintf(letter_text, sizeof letter_text, "-%c, ", letter);
    }
    (void)snprintf(head, sizeof head, "%s--%s%s%s", letter_text, name, value ? " " : "",
                   value ? value : "");
    uf_show_entry(payload, head, help);
}

void uf_options_print(FILE *out, unsigned set)
{
    uf_options_each(set, print_row, out);
}
