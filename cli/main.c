#include "cli/tell/faults.h"
#include "command.h"
#include "io/result/result_file.h"
#include "io/signals.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

/* One JSON answer was asked for, even if the rest of the line cannot be read. */
static bool wants_json(int argc, char *const *argv)
{
    for (int i = 1; i < argc; i++) {
        if (strcmp(argv[i], "--json") == 0) {
            return true;
        }
    }
    return false;
}

static int unknown_command(const struct uf_arguments *args, const char *word)
{
    struct uf_error err = {0};
    const char *near = uf_command_nearest(word);

    if (near != NULL) {
        (void)uf_fail(&err, UF_E_INPUT, "'%.60s' is no command: did you mean '%s'?", word, near);
    } else {
        (void)uf_fail(&err, UF_E_INPUT,
                      "'%.60s' is no command: 'underfrost --help' lists what there is", word);
    }
    return uf_faults_error(args, NULL, &err);
}

/* Units that the command line does not name are those of the site file. */
static void take_units(struct uf_arguments *args)
{
    const struct uf_site_overrides sets = {args->sets, args->n_sets};
    const bool reads_site = (args->command->options & UF_OPTION_SET) != 0;
    if (reads_site && args->n_operands > 0 && (args->given & UF_OPTION_UNITS) == 0) {
        uf_site_units(&args->units, args->operands[0], &sets);
    }
}

static bool is_one_file(const char *a, const char *b)
{
    struct stat one, other;
    return a != NULL && b != NULL && stat(a, &one) == 0 && stat(b, &other) == 0 &&
           S_ISREG(one.st_mode) && one.st_dev == other.st_dev && one.st_ino == other.st_ino;
}

/* What is written must not take the place of what is read, whatever a command writes. */
static enum uf_status check_output(const struct uf_arguments *args, struct uf_error *err)
{
    bool read = is_one_file(args->output, args->readings);
    for (size_t i = 0; i < args->n_operands; i++) {
        read = read || is_one_file(args->output, args->operands[i]);
    }
    return read ? uf_fail(err, UF_E_INPUT, "-o %.200s: is the file that is read: give another name",
                          args->output)
                : UF_OK;
}

static int run(const struct uf_command *command, int argc, char **argv)
{
    struct uf_arguments args;
    struct uf_error err = {0};

    if (uf_options_parse(&args, command, argc - 2, (const char *const *)argv + 2, &err) != UF_OK) {
        args.json = wants_json(argc, argv);
        return uf_faults_error(&args, NULL, &err);
    }
    if (args.help) {
        uf_command_help(stdout, command);
        return UF_EXIT_DONE;
    }
    if (command->result && args.output != NULL && uf_result_file_name(args.output, &err) != UF_OK) {
        return uf_faults_error(&args, NULL, &err);
    }
    if (check_output(&args, &err) != UF_OK) {
        return uf_faults_error(&args, NULL, &err);
    }
    take_units(&args);
    uf_signals_catch();
    return command->run(&args);
}

static int choose(int argc, char **argv)
{
    const struct uf_arguments bare = {.json = wants_json(argc, argv)};
    const char *word = argc > 1 ? argv[1] : "";

    if (argc < 2) {
        uf_command_help(stderr, NULL);
        return UF_EXIT_INPUT;
    }
    if (strcmp(word, "--version") == 0) {
        (void)printf("underfrost %s\n", UF_VERSION);
        return UF_EXIT_DONE;
    }
    if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0) {
        uf_command_help(stdout, NULL);
        return UF_EXIT_DONE;
    }
    const struct uf_command *command = uf_command_find(word);
    return command != NULL ? run(command, argc, argv) : unknown_command(&bare, word);
}

int main(int argc, char **argv)
{
    const int code = choose(argc, argv);

    if (fflush(stdout) != 0 || ferror(stdout) != 0) {
        if (errno != EPIPE) {
            (void)fprintf(stderr, "underfrost: standard output could not be written: %s\n",
                          strerror(errno));
        }
        return UF_EXIT_FILE;
    }
    return code;
}
