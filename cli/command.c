#include "command.h"

#include "command_list.h"
#include "io/text/show.h"
#include "solver/base/name.h"

#include <string.h>

#define DECLARE(name) extern const struct uf_command uf_cmd_##name;
UF_COMMAND_LIST(DECLARE)
#undef DECLARE

#define ENTRY(name) &uf_cmd_##name,
const struct uf_command *const uf_command_list[] = {UF_COMMAND_LIST(ENTRY) NULL};
#undef ENTRY

#define NAME(name) #name,
static const char *const names[] = {UF_COMMAND_LIST(NAME) NULL};
#undef NAME

const struct uf_command *uf_command_find(const char *name)
{
    for (size_t i = 0; uf_command_list[i] != NULL; i++) {
        if (strcmp(uf_command_list[i]->name, name) == 0) {
            return uf_command_list[i];
        }
    }
    return NULL;
}

const char *uf_command_nearest(const char *name)
{
    return uf_name_nearest(name, names);
}

static const char exit_codes[] =
    "Exit: 0 done and every limit met; 1 done, some limit not met; 2 the input is wrong; "
    "3 could not read or write; 4 the solver gave up; 130 interrupted.";

static void help_program(FILE *out)
{
    (void)fprintf(out, "usage: underfrost COMMAND [OPTIONS] FILE\n\n");
    uf_show_text(out, 0,
                 "Frost in the ground around a buried tank, with and without foam board, and "
                 "the tank's factor of safety against flotation.");
    (void)fprintf(out, "\nCommands:\n");
    for (size_t i = 0; uf_command_list[i] != NULL; i++) {
        uf_show_entry(out, uf_command_list[i]->name, uf_command_list[i]->summary);
    }
    (void)fprintf(out, "\nOptions of every command:\n");
    uf_options_print(out, UF_OPTIONS_COMMON);
    uf_show_entry(out, "--version", "print the version");
    (void)fprintf(out, "\n");
    uf_show_text(out, 0, exit_codes);
    uf_show_text(out, 0, "More on a command: underfrost COMMAND --help");
}

void uf_command_help(FILE *out, const struct uf_command *command)
{
    if (command == NULL) {
        help_program(out);
        return;
    }
    (void)fprintf(out, "usage: underfrost %s [OPTIONS] %s\n\n", command->name, command->synopsis);
    uf_show_text(out, 0, command->summary);
    (void)fprintf(out, "\n");
    if (command->detail != NULL) {
        uf_show_text(out, 0, command->detail);
        (void)fprintf(out, "\n");
    }
    struct uf_command_word word;
    for (size_t i = 0; command->word != NULL && command->word(i, &word); i++) {
        if (i == 0) {
            (void)fprintf(out, "%s:\n", command->words);
        }
        uf_show_entry(out, word.word, word.doc);
    }
    (void)fprintf(out, "%sOptions:\n", command->word != NULL ? "\n" : "");
    uf_options_print(out, UF_OPTIONS_COMMON | command->options);
    (void)fprintf(out, "\n");
    uf_show_text(out, 0, exit_codes);
}
