#ifndef UF_OPTIONS_H
#define UF_OPTIONS_H

#include "io/site/site_file.h"
#include "io/text/quantity.h"

#include <stdbool.h>
#include <stdio.h>

/* What stands on the command line, read by one table of options. A command names the
   options it takes as a set of bits; the common ones are taken by every command. */

#define UF_MAX_OPERANDS 32
#define UF_MAX_SETS     64

enum uf_option {
    UF_OPTION_HELP = 1 << 0,
    UF_OPTION_JSON = 1 << 1,
    UF_OPTION_QUIET = 1 << 2,
    UF_OPTION_PROGRESS = 1 << 3,
    UF_OPTION_UNITS = 1 << 4,
    UF_OPTION_SET = 1 << 5,
    UF_OPTION_OUTPUT = 1 << 6,
    UF_OPTION_JOBS = 1 << 7,
    UF_OPTION_COLUMN = 1 << 8,
    UF_OPTION_TERMINAL = 1 << 9,
    UF_OPTION_ALL = 1 << 10,
    UF_OPTION_LIST = 1 << 11,
    UF_OPTION_INTEGRATOR = 1 << 12,
    UF_OPTION_SEASONS = 1 << 13,
    UF_OPTION_SOUTH = 1 << 14,
    UF_OPTION_SHAPE = 1 << 15,
    UF_OPTION_CLIMATE = 1 << 16,
    UF_OPTION_THIN = 1 << 17, /* and --fields: what a result file keeps */
    UF_OPTION_NOMINAL = 1 << 18,
    UF_OPTION_READINGS = 1 << 19,
    UF_OPTION_VERBOSE = 1 << 20,
    UF_OPTION_FORCE = 1 << 21,
    UF_OPTION_CSV = 1 << 22,
    UF_OPTION_DEPTHS = 1 << 23,
    UF_OPTION_FIELD = 1 << 24,
    UF_OPTION_SHARD = 1 << 25,
    UF_OPTION_ENGINE = 1 << 26,
    UF_OPTION_DRAWING = 1 << 27
};
#define UF_OPTIONS_COMMON                                                                          \
    (UF_OPTION_HELP | UF_OPTION_JSON | UF_OPTION_QUIET | UF_OPTION_VERBOSE | UF_OPTION_UNITS)
#define UF_OPTIONS_SITE (UF_OPTION_SET) /* of a command that reads a site file */

struct uf_command;

/* Everything that was asked. Texts point into argv; NULL or 0 = not given. */
struct uf_arguments {
    const struct uf_command *command;
    const char *operands[UF_MAX_OPERANDS]; /* files, checks: what is no option, in order */
    size_t n_operands;
    bool help, json, quiet, verbose, progress, all, list, south, nominal, force, csv, field,
        drawing, slurm, parallel;
    enum uf_units units;
    const char *output, *column, *terminal, *integrator, *seasons, *shape, *climate, *readings,
        *depths, *shard, *fields;
    unsigned given; /* the options that were given, bits of enum uf_option */
    size_t jobs;    /* 0: not given, see uf_options_jobs */
    size_t shards;  /* 0: not given */
    size_t thin;    /* 0: not given, see uf_jobs_keep */
    struct uf_site_override sets[UF_MAX_SETS];
    size_t n_sets;
    bool colour;             /* standard output is a terminal and NO_COLOR is not set */
    char command_line[1024]; /* as typed, for the record; cut when longer */
};

/* Reads what follows the command's name. Options and operands may be mixed; "--" ends the
   options; a value follows after a blank or "=". Errors: UF_E_INPUT with the remedy.
   --help ends the reading at once, without looking for missing operands. */
enum uf_status uf_options_parse(struct uf_arguments *out, const struct uf_command *command,
                                int argc, const char *const *argv, struct uf_error *err);

/* How many runs at once: --jobs, else the processors of the machine. At least 1. */
size_t uf_options_jobs(const struct uf_arguments *args);

/* The rows of the options in the set, one a line, for --help. */
void uf_options_print(FILE *out, unsigned set);

/* The name, without dashes, of the first option of the set. */
const char *uf_options_name(unsigned set);

/* The words, split by '|', that the option of that name takes as its value; NULL: any
   text, or no value. */
const char *uf_options_words(const char *name);

/* Calls visit for each option of the set, for completion and the manual page. letter is 0
   and value NULL where there is none. */
typedef void uf_options_visit(void *payload, const char *name, char letter, const char *value,
                              const char *help);
void uf_options_each(unsigned set, uf_options_visit *visit, void *payload);

#endif
