#ifndef UF_FOLDER_H
#define UF_FOLDER_H

#include "solver/base/error.h"

#include <stdbool.h>
#include <stddef.h>

/* The folder a recommendation goes to. It is ours when it holds our mark; another's is refused. */

/* Default name: the site file's name without folder and ending, in the current folder. */
char *uf_folder_default(char *text, size_t size, const char *site_file);

/* Makes the folder, or accepts an empty one or one we made before; one that holds a study
   (result.h5 or report.html) only with force. Errors: UF_E_FILE for that, for a folder made by
   someone else, a file in the way, or no permission. */
enum uf_status uf_folder_open(const char *folder, bool force, struct uf_error *err);

/* "folder/name" into text; returns text. */
char *uf_folder_path(char *text, size_t size, const char *folder, const char *name);

#endif
