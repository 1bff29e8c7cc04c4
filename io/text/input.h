#ifndef UF_INPUT_H
#define UF_INPUT_H

#include "solver/base/error.h"

#include <stdio.h>

/* Opens a file that somebody named, for reading from its start. Only plain files: a pipe or a device
   would make the program wait for what may never come, or never end. *out is the caller's to close.
   Errors: UF_E_FILE, the reason without the path, for the caller says of what it speaks. */
enum uf_status uf_input_open(FILE **out, const char *path, struct uf_error *err);

#endif
