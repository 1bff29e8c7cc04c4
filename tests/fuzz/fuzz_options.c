#include "cli/command.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* The command line: a command by the first byte, then one word a line. Any words: arguments within
   their bounds, or an error of one line. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool truth)
{
    if (!truth) {
        __builtin_trap();
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    enum { MOST_WORDS = 100 };
    const char *words[MOST_WORDS];
    struct uf_arguments args;
    struct uf_error err = {0};
    size_t commands = 0;
    int n = 0;
    if (size == 0) {
        return 0;
    }
    while (uf_command_list[commands] != NULL) {
        commands++;
    }
    char *text = strndup((const char *)data + 1, size - 1);
    for (char *at = text; at != NULL && n < MOST_WORDS;) {
        char *end = strchr(at, '\n');
        words[n++] = at;
        if (end != NULL) {
            *end++ = '\0';
        }
        at = end;
    }
    const enum uf_status status =
        uf_options_parse(&args, uf_command_list[data[0] % commands], n, words, &err);
    must(status == UF_OK || (status == UF_E_INPUT && err.text[0] != '\0'));
    must(args.n_operands <= UF_MAX_OPERANDS && args.n_sets <= UF_MAX_SETS);
    must(args.jobs <= 1024 && args.thin <= 1024);
    must(args.jobs == 0 || uf_options_jobs(&args) >= 1); /* else the system is asked: slow */
    must(memchr(args.command_line, '\0', sizeof args.command_line) != NULL);
    free(text);
    return 0;
}
