#include "cli/command.h"
#include "cli/tell/faults.h"
#include "manual_tables.h"
#include "solver/base/name.h"

#include <string.h>

/* Pages made from the same tables as --help: manual page, completion, keys, soils and boards. */

static void man_text(FILE *out, const char *text)
{
    bool line_start = true;

    for (; *text != '\0'; text++) {
        if (line_start && (*text == '.' || *text == '\'')) {
            (void)fputs("\\&", out);
        }
        line_start = *text == '\n';
        if (*text == '\n') {
            (void)fputs("\n.PP\n", out);
        } else if (*text == '-' || *text == '\\') {
            (void)fprintf(out, "\\%c", *text == '-' ? '-' : 'e');
        } else {
            (void)fputc(*text, out);
        }
    }
    (void)fputc('\n', out);
}

static void man_option(void *payload, const char *name, char letter, const char *value,
                       const char *help)
{
    FILE *out = payload;

    (void)fprintf(out, ".TP\n");
    if (letter != 0) {
        (void)fprintf(out, "\\fB\\-%c\\fR, ", letter);
    }
    (void)fprintf(out, "\\fB\\-\\-%s\\fR", name);
    if (value != NULL) {
        (void)fprintf(out, " \\fI%s\\fR", value);
    }
    (void)fputc('\n', out);
    man_text(out, help);
}

static int print_man(const struct uf_arguments *args)
{
    FILE *out = stdout;
    (void)args;
    (void)fprintf(out,
                  ".TH UNDERFROST 1 \"\" \"underfrost %s\" \"User commands\"\n"
                  ".SH NAME\nunderfrost \\- frost, foam board and groundwater uplift for buried "
                  "tanks\n.SH SYNOPSIS\n.B underfrost\n.I COMMAND\n[\\fIOPTIONS\\fR] "
                  "\\fIFILE\\fR\n.SH COMMANDS\n",
                  UF_VERSION);
    for (size_t i = 0; uf_command_list[i] != NULL; i++) {
        const struct uf_command *command = uf_command_list[i];
        (void)fprintf(out, ".SS \"%s %s\"\n", command->name, command->synopsis);
        man_text(out, command->summary);
        if (command->detail != NULL) {
            (void)fprintf(out, ".PP\n");
            man_text(out, command->detail);
        }
        struct uf_command_word word;
        for (size_t k = 0; command->word != NULL && command->word(k, &word); k++) {
            (void)fprintf(out, ".TP\n.B %s\n", word.word);
            man_text(out, word.doc);
        }
        uf_options_each(command->options, man_option, out);
    }
    (void)fprintf(out, ".SH OPTIONS OF EVERY COMMAND\n");
    uf_options_each(UF_OPTIONS_COMMON, man_option, out);
    (void)fprintf(
        out,
        ".SH EXIT STATUS\n0 done and every limit met; 1 done, some limit not met; 2 the "
        "input is wrong; 3 could not read or write; 4 the solver gave up; 130 "
        "interrupted.\n.SH ENVIRONMENT\n.TP\n.B NO_COLOR\nwhen set, no colour on the terminal\n");
    return UF_EXIT_DONE;
}

static void word_option(void *payload, const char *name, char letter, const char *value,
                        const char *help)
{
    (void)letter;
    (void)value;
    (void)help;
    (void)fprintf(payload, " --%s", name);
}

/* One line of a shell's case: what may follow an option that takes one of a few words. */
static void word_values(void *payload, const char *name, char letter, const char *value,
                        const char *help)
{
    const char *words = uf_options_words(name);
    (void)letter;
    (void)value;
    (void)help;
    if (words != NULL) {
        (void)fprintf(payload, "        --%s) list='", name);
        for (const char *at = words; *at != '\0'; at++) {
            (void)fputc(*at == '|' ? ' ' : *at, payload);
        }
        (void)fprintf(payload, "' ;;\n");
    }
}

static int print_bash(const struct uf_arguments *args)
{
    FILE *out = stdout;
    (void)args;
    (void)fprintf(out, "# bash completion for underfrost\n_underfrost() {\n"
                       "    local word=${COMP_WORDS[COMP_CWORD]} list= words=\n"
                       "    COMPREPLY=()\n"
                       "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n        list='");
    for (size_t i = 0; uf_command_list[i] != NULL; i++) {
        (void)fprintf(out, "%s ", uf_command_list[i]->name);
    }
    (void)fprintf(out, "--help --version'\n    else\n        case ${COMP_WORDS[1]} in\n");
    for (size_t i = 0; uf_command_list[i] != NULL; i++) {
        (void)fprintf(out, "        %s) list='", uf_command_list[i]->name);
        uf_options_each(UF_OPTIONS_COMMON | uf_command_list[i]->options, word_option, out);
        (void)fprintf(out, "' words='");
        struct uf_command_word word;
        for (size_t k = 0; uf_command_list[i]->word != NULL && uf_command_list[i]->word(k, &word);
             k++) {
            (void)fprintf(out, " %s", word.word);
        }
        (void)fprintf(out, "' ;;\n");
    }
    (void)fprintf(out, "        esac\n        case $word in -*) ;; *) list= ;; esac\n"
                       "        case ${COMP_WORDS[COMP_CWORD - 1]} in\n");
    uf_options_each(~0U, word_values, out);
    (void)fprintf(
        out,
        "        -*) words= ;;\n        esac\n    fi\n"
        "    if [ -n \"$list\" ]; then\n"
        "        mapfile -t COMPREPLY < <(compgen -W \"$list\" -- \"$word\")\n"
        "    else\n"
        "        mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$word\"; compgen -f -- \"$word\")\n    fi\n}\n"
        "complete -o filenames -F _underfrost underfrost\n");
    return UF_EXIT_DONE;
}

static int print_keys(const struct uf_arguments *args)
{
    (void)args;
    uf_site_print_keys(stdout);
    return UF_EXIT_DONE;
}

static const struct page {
    const char *name, *doc;
    int (*print)(const struct uf_arguments *args);
    bool as_json;
} pages[] = {
    {"keys", "the keys of a site file: unit, range, default (what is shown by default)", print_keys,
     false},
    {"tables",
     "soils, boards and surfaces with their sources; a row's name is the word to write in "
     "ground[].soil, board.type, surface.type",
     uf_manual_tables, true},
    {"man", "the manual page, to be read with: underfrost manual man | man -l -", print_man, false},
    {"bash", "completion for bash", print_bash, false},
};
static const size_t n_pages = sizeof pages / sizeof pages[0];

static int run(const struct uf_arguments *args)
{
    const char *name = args->n_operands > 0 ? args->operands[0] : pages[0].name;
    struct uf_error err = {0};

    for (size_t i = 0; i < n_pages; i++) {
        if (strcmp(pages[i].name, name) == 0 && (pages[i].as_json || !args->json)) {
            return pages[i].print(args);
        }
        if (strcmp(pages[i].name, name) == 0) {
            (void)uf_fail(&err, UF_E_INPUT, "manual %s is text alone: leave --json out", name);
            return uf_faults_error(args, NULL, &err);
        }
    }
    (void)uf_fail(&err, UF_E_INPUT,
                  "'%.60s' is an unknown manual page: 'underfrost manual --help' lists them", name);
    return uf_faults_error(args, NULL, &err);
}

static bool word(size_t i, struct uf_command_word *out)
{
    if (i < n_pages) {
        out->word = pages[i].name;
        (void)snprintf(out->doc, sizeof out->doc, "%s", pages[i].doc);
    }
    return i < n_pages;
}

const struct uf_command uf_cmd_manual = {
    .name = "manual",
    .summary = "keys of a site file, tables of soils and boards, the manual page, completion",
    .synopsis = "[PAGE]",
    .detail = "All are made from the same tables that the program reads by. --json is for tables.",
    .most_operands = 1,
    .words = "Pages",
    .word = word,
    .run = run,
};
