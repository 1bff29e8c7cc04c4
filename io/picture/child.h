#ifndef UF_CHILD_H
#define UF_CHILD_H

#include "solver/base/error.h"

#include <stddef.h>
#include <stdio.h>

/* Another program, fed through its standard input and watched until it ends. */
struct uf_child {
    const char *program;        /* found along PATH; also its name in messages */
    const char *option, *input; /* its arguments: an option, and what it reads its input from */
    const char *remedy;         /* what to do where it is not installed */
    double limit_s;             /* a longer run is ended */
};

/* Runs it in a process group of its own: what it starts itself ends with it.
   text     what it reads [size]
   out      takes its standard output, errors its standard error
   state    of waitpid; set when UF_OK comes back
   Errors: UF_E_FILE where it cannot be started or takes longer than its limit; UF_E_STOPPED when
   the person asked to stop meanwhile. In both nothing of it is left running. */
enum uf_status uf_child_run(const struct uf_child *child, const char *text, size_t size, FILE *out,
                            FILE *errors, int *state, struct uf_error *err);

#endif
