#include "drawing.h"

#include "io/signals.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum uf_status uf_drawing_open(struct uf_drawing *out, const struct uf_arguments *args,
                               struct uf_error *err)
{
    *out =
        (struct uf_drawing){.look = {.us = args->units == UF_UNITS_US, .format = args->terminal},
                            .text = args->terminal != NULL && strcmp(args->terminal, "text") == 0};
    if (args->terminal != NULL && uf_plot_format_find(args->terminal) == NULL) {
        return uf_fail(err, UF_E_INPUT, "--terminal %.60s: png, svg, pdf, text or gif",
                       args->terminal);
    }
    return UF_OK;
}

enum uf_status uf_drawing_folder(struct uf_drawing *drawing, const char *folder,
                                 struct uf_error *err)
{
    if (drawing->text) {
        return UF_OK;
    }
    if (snprintf(drawing->folder, sizeof drawing->folder, "%s", folder) >=
        (int)sizeof drawing->folder) {
        return uf_fail(err, UF_E_INPUT, "%.60s...: the name of the folder is too long", folder);
    }
    const char *dot = strrchr(folder, '.');
    if (dot != NULL && uf_plot_format_find(dot + 1) != NULL) {
        return uf_fail(err, UF_E_INPUT,
                       "%s: -o names the folder that pictures go into, not a picture: leave out %s",
                       folder, dot);
    }
    if (mkdir(drawing->folder, 0777) != 0 && errno != EEXIST) {
        return uf_fail(err, UF_E_FILE, "%s: could not be made: %s", drawing->folder,
                       strerror(errno));
    }
    return UF_OK;
}

static enum uf_status draw_file(struct uf_drawing *drawing, const struct uf_plot *plot,
                                struct uf_error *err)
{
    char path[UF_DRAWING_PATH_SIZE + 80];
    const struct uf_plot_format *format = drawing->look.format != NULL
                                              ? uf_plot_format_find(drawing->look.format)
                                              : uf_plot_usual(plot);
    (void)snprintf(path, sizeof path, "%s/%s.%s", drawing->folder, plot->name, format->ending);
    const enum uf_status status = uf_plot_draw(path, plot, drawing->result, &drawing->look, err);
    if (status == UF_OK && drawing->files != NULL) {
        (void)cJSON_AddItemToArray(drawing->files, cJSON_CreateString(path));
    } else if (status == UF_OK) {
        (void)puts(path);
    }
    return status;
}

static enum uf_status draw_text(struct uf_drawing *drawing, const struct uf_plot *plot,
                                struct uf_error *err)
{
    char *text = NULL;
    const enum uf_status status = uf_plot_text(&text, plot, drawing->result, &drawing->look, err);
    if (status == UF_OK) {
        (void)puts(text);
    }
    free(text);
    return status;
}

enum uf_status uf_drawing_one(struct uf_drawing *drawing, const struct uf_plot *plot,
                              struct uf_error *err)
{
    if (uf_signals_stopped()) {
        return uf_fail(err, UF_E_STOPPED, "interrupted");
    }
    return drawing->text ? draw_text(drawing, plot, err) : draw_file(drawing, plot, err);
}
