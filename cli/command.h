#ifndef UF_COMMAND_H
#define UF_COMMAND_H

#include "options.h"

/* A word that an operand may be. */
struct uf_command_word {
    const char *word;
    char doc[200];
};

/* A command is one file, cmd_<name>.c, that ends in a constant uf_cmd_<name>, and one
   line in command_list.h. */
struct uf_command {
    const char *name;
    const char *summary;  /* one line for the list of commands */
    const char *synopsis; /* what follows the name, such as "SITE.yaml [-o DIR]" */
    const char *detail;   /* what a person should know, one paragraph a line; wrapped when shown */
    unsigned options;     /* bits of enum uf_option beside UF_OPTIONS_COMMON */
    size_t least_operands, most_operands;
    bool result; /* what -o names is a result file: .h5 or .nc */
    bool every;  /* runs a site whose climate.winter is `every` */
    /* Words that operands may be, for help, manual page and completion: their heading, and the
       i'th of them, false past the last. NULL: none. */
    const char *words;
    bool (*word)(size_t i, struct uf_command_word *out);
    /* Does the work; returns one of enum uf_exit. */
    int (*run)(const struct uf_arguments *args);
};

/* What the shell is told. */
enum uf_exit {
    UF_EXIT_DONE = 0,   /* done, every limit met */
    UF_EXIT_LIMIT = 1,  /* done, some limit not met; verify: some check failed */
    UF_EXIT_INPUT = 2,  /* the input is wrong */
    UF_EXIT_FILE = 3,   /* could not read or write */
    UF_EXIT_SOLVER = 4, /* the solver gave up */
    UF_EXIT_INTERRUPTED = 130
};

/* Ended by NULL. */
extern const struct uf_command *const uf_command_list[];

/* The command of that name, or NULL. */
const struct uf_command *uf_command_find(const char *name);

/* Nearest name to a mistyped one, or NULL. */
const char *uf_command_nearest(const char *name);

/* The help of one command; of the program, with its list of commands, for NULL. */
void uf_command_help(FILE *out, const struct uf_command *command);

#endif
