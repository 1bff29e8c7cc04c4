#ifndef UF_DRAWING_H
#define UF_DRAWING_H

#include "cli/tell/answer.h"
#include "io/picture/plot.h"
#include "options.h"

/* Pictures as a command asks for them: into a folder, or in letters on the terminal. */

#define UF_DRAWING_PATH_SIZE 1100

struct uf_drawing {
    const struct uf_result *result; /* borrowed */
    struct uf_plot_look look;
    char folder[UF_DRAWING_PATH_SIZE];
    bool text;    /* on the terminal, into no folder */
    cJSON *files; /* names of what was drawn go here; NULL: they are printed */
};

/* Takes --units and --terminal. Errors: UF_E_INPUT for a format that there is not. */
enum uf_status uf_drawing_open(struct uf_drawing *out, const struct uf_arguments *args,
                               struct uf_error *err);

/* Makes the folder where it is missing; nothing for pictures in letters. Errors:
   UF_E_FILE. */
enum uf_status uf_drawing_folder(struct uf_drawing *drawing, const char *folder,
                                 struct uf_error *err);

/* One picture. Errors as uf_plot_draw. */
enum uf_status uf_drawing_one(struct uf_drawing *drawing, const struct uf_plot *plot,
                              struct uf_error *err);

#endif
