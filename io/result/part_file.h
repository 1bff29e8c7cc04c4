#ifndef UF_PART_FILE_H
#define UF_PART_FILE_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stdio.h>

/* Files that appear whole or not at all: written under a temporary name in the same
   folder, then renamed. Whoever reads the folder meanwhile sees the earlier file or the
   new one, never half. */

struct uf_part_file {
    char path[1024]; /* of the file to come */
    char name[1064]; /* of the part: the same folder, a name nobody can guess */
    FILE *file;      /* to write to */
    bool replaces;   /* a file is there: its mode, and its owner where that is allowed, are kept */
};

/* Opens the part that belongs to path. Errors: UF_E_FILE for a path that is empty, too long, no
   plain file, a symbolic link (who means the file behind it names that) or not to be written. */
enum uf_status uf_part_file_open(struct uf_part_file *part, const char *path, struct uf_error *err);

/* Closes the part, sees it on the disk and gives it its real name where status, that of what was
   written, is UF_OK. Otherwise, or when the disk is full, the part is removed and an earlier file
   at path is as it was. Returns status. Errors: UF_E_FILE. */
enum uf_status uf_part_file_close(struct uf_part_file *part, enum uf_status status,
                                  struct uf_error *err);

/* What is left in an open file as a text ended by '\0'; *out is the caller's to free.
   name stands for the file in messages. Errors: UF_E_FILE, UF_E_MEMORY. */
enum uf_status uf_part_file_rest(char **out, FILE *file, const char *name, struct uf_error *err);

#endif
