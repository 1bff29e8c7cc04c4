#include "answer.h"
#include "command.h"
#include "faults.h"
#include "io/plot.h"
#include "io/result_file.h"
#include "show.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* The pictures of a result file, drawn again from what it holds. */

#define PATH_SIZE 1100

struct drawing {
    struct uf_result *result;
    struct uf_plot_look look;
    char folder[PATH_SIZE];
    bool text;    /* on the terminal, into no folder */
    cJSON *files; /* names of what was drawn; NULL without --json */
};

static int list_pictures(const struct uf_arguments *args)
{
    if (!args->json) {
        for (const struct uf_plot *p = uf_plot_table; p->name != NULL; p++) {
            uf_show_entry(stdout, p->name, p->doc);
        }
        return UF_EXIT_DONE;
    }
    struct uf_error err = {0};
    cJSON *answer = cJSON_CreateObject();
    cJSON *pictures = uf_answer_array(answer, "pictures");
    for (const struct uf_plot *p = uf_plot_table; p->name != NULL; p++) {
        cJSON *row = uf_answer_item(pictures);
        uf_answer_text(row, "name", p->name);
        uf_answer_text(row, "doc", p->doc);
    }
    return uf_answer_print(answer, &err) == UF_OK ? UF_EXIT_DONE
                                                  : uf_faults_error(args, NULL, &err);
}

/* The folder asked for, else the file's name without its ending. */
static enum uf_status find_folder(struct drawing *drawing,
                                  const struct uf_arguments *args, struct uf_error *err)
{
    const char *from = args->output != NULL ? args->output : args->operands[0];
    (void)snprintf(drawing->folder, sizeof drawing->folder, "%s", from);
    char *dot = strrchr(drawing->folder, '.'), *slash = strrchr(drawing->folder, '/');
    if (args->output == NULL) {
        if (dot == NULL || (slash != NULL && dot < slash) || dot == drawing->folder) {
            return uf_fail(err, UF_E_INPUT, "%s: name a folder for the pictures with -o",
                           from);
        }
        *dot = '\0';
    }
    if (mkdir(drawing->folder, 0777) != 0 && errno != EEXIST) {
        return uf_fail(err, UF_E_FILE, "%s: could not be made: %s", drawing->folder,
                       strerror(errno));
    }
    return UF_OK;
}

static enum uf_status draw_file(struct drawing *drawing, const struct uf_plot *plot,
                                struct uf_error *err)
{
    char path[PATH_SIZE + 80];
    const struct uf_plot_format *format = drawing->look.format != NULL
                                              ? uf_plot_format_find(drawing->look.format)
                                              : uf_plot_usual(plot);
    (void)snprintf(path, sizeof path, "%s/%s.%s", drawing->folder, plot->name,
                   format->ending);
    const enum uf_status status =
        uf_plot_draw(path, plot, drawing->result, &drawing->look, err);
    if (status == UF_OK && drawing->files != NULL) {
        (void)cJSON_AddItemToArray(drawing->files, cJSON_CreateString(path));
    } else if (status == UF_OK) {
        (void)puts(path);
    }
    return status;
}

static enum uf_status draw_text(struct drawing *drawing, const struct uf_plot *plot,
                                struct uf_error *err)
{
    char *text = NULL;
    const enum uf_status status =
        uf_plot_text(&text, plot, drawing->result, &drawing->look, err);
    if (status == UF_OK) {
        (void)puts(text);
    }
    free(text);
    return status;
}

static enum uf_status draw_one(struct drawing *drawing, const struct uf_plot *plot,
                               struct uf_error *err)
{
    return drawing->text ? draw_text(drawing, plot, err) : draw_file(drawing, plot, err);
}

/* Without a name: what stands still, or what the format asked for can show. */
static bool is_meant(const struct drawing *drawing, const struct uf_plot *plot)
{
    return plot->has(drawing->result) &&
           (drawing->look.format != NULL ? uf_plot_takes(plot, drawing->look.format)
                                         : plot->format == NULL);
}

/* The pictures named after the file, or all that the result can fill. */
static enum uf_status draw_asked(struct drawing *drawing, const struct uf_arguments *args,
                                 struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t i = 1; status == UF_OK && i < args->n_operands; i++) {
        const struct uf_plot *plot = uf_plot_find(args->operands[i]);
        status = plot != NULL ? draw_one(drawing, plot, err)
                              : uf_fail(err, UF_E_INPUT,
                                        "%s: no such picture: plot --list names them",
                                        args->operands[i]);
    }
    for (const struct uf_plot *p = uf_plot_table;
         status == UF_OK && args->n_operands == 1 && p->name != NULL; p++) {
        if (is_meant(drawing, p)) {
            status = draw_one(drawing, p, err);
        }
    }
    return status;
}

static enum uf_status draw_all(const struct uf_arguments *args, struct uf_error *err)
{
    struct drawing drawing = {
        .look = {.us = args->units == UF_UNITS_US, .format = args->terminal},
        .text = args->terminal != NULL && strcmp(args->terminal, "text") == 0};
    if (args->n_operands == 0) {
        return uf_fail(
            err, UF_E_INPUT,
            "underfrost plot needs a result file (.h5), or --list; see --help");
    }
    if (args->terminal != NULL && uf_plot_format_find(args->terminal) == NULL) {
        return uf_fail(err, UF_E_INPUT, "--terminal %s: png, svg, pdf, text or gif",
                       args->terminal);
    }
    enum uf_status status = uf_result_file_read(&drawing.result, args->operands[0], err);
    cJSON *answer = args->json && !drawing.text ? cJSON_CreateObject() : NULL;
    drawing.files = answer != NULL ? uf_answer_array(answer, "files") : NULL;
    if (status == UF_OK && !drawing.text) {
        status = find_folder(&drawing, args, err);
    }
    if (status == UF_OK) {
        status = draw_asked(&drawing, args, err);
    }
    if (status == UF_OK && answer != NULL) {
        status = uf_answer_print(answer, err);
    } else {
        cJSON_Delete(answer);
    }
    uf_result_free(drawing.result);
    return status;
}

static int run(const struct uf_arguments *args)
{
    struct uf_error err = {0};
    if (args->list) {
        return list_pictures(args);
    }
    return draw_all(args, &err) == UF_OK ? UF_EXIT_DONE
                                         : uf_faults_error(args, NULL, &err);
}

const struct uf_command uf_cmd_plot = {
    .name = "plot",
    .summary = "draw the pictures of a result file",
    .synopsis = "FILE.h5 [PICTURE...] [-o DIR] [--terminal T]",
    .detail =
        "FILE is what simulate, compare or recommend wrote, however old. Without "
        "names every picture is drawn that the file can fill; --list names them. The "
        "animation is drawn when it is named: it takes longer.\n"
        "T is png (default), svg, pdf, text for pictures of letters on the terminal, "
        "or gif, which is for the animation alone. The "
        "files go into DIR, which is made where it is missing; default is FILE "
        "without its ending.",
    .options = UF_OPTION_OUTPUT | UF_OPTION_TERMINAL | UF_OPTION_LIST,
    .least_operands = 0,
    .most_operands = UF_MAX_OPERANDS,
    .run = run,
};
