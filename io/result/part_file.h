#ifndef UF_PART_FILE_H
#define UF_PART_FILE_H

#include "solver/base/error.h"

#include <stdio.h>

/* Files that appear whole or not at all: written under a temporary name in the same
   folder, then renamed. Whoever reads the folder meanwhile sees the earlier file or the
   new one, never half. */

#define UF_PART_FILE_SIZE 1200

/* The temporary name that belongs to path: the same folder, marked with this process's
   number. part      room for UF_PART_FILE_SIZE bytes Errors: UF_E_FILE for a path that is
   empty or too long. */
enum uf_status uf_part_file_name(char *part, const char *path, struct uf_error *err);

/* Gives the finished part its real name; on failure the part is removed and an earlier
   file at path is left as it was. Errors: UF_E_FILE. */
enum uf_status uf_part_file_keep(const char *part, const char *path, struct uf_error *err);

/* Removes a part that came to nothing. One that does not exist is fine. */
void uf_part_file_drop(const char *part);

/* What is left in an open file as a text ended by '\0'; *out is the caller's to free.
   name stands for the file in messages. Errors: UF_E_FILE, UF_E_MEMORY. */
enum uf_status uf_part_file_rest(char **out, FILE *file, const char *name, struct uf_error *err);

#endif
