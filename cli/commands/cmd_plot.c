#include "cli/command.h"
#include "cli/drawing.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "io/result/result_file.h"
#include "io/site/site_leaves.h"
#include "io/text/show.h"

#include <stdio.h>
#include <string.h>

/* The pictures of a result file, drawn again from what it holds. */

/* All there are; of a file those that it can fill. */
static enum uf_status list_pictures(const struct uf_arguments *args, struct uf_error *err)
{
    struct uf_result *result = NULL;
    if (args->n_operands > 0) {
        const enum uf_status status = uf_result_file_read(&result, args->operands[0], err);
        if (status != UF_OK) {
            return status;
        }
    }
    cJSON *answer = args->json ? cJSON_CreateObject() : NULL;
    cJSON *pictures = args->json ? uf_answer_array(answer, "pictures") : NULL;
    for (const struct uf_plot *p = uf_plot_table; p->name != NULL; p++) {
        if (result != NULL && !p->has(result)) {
            continue;
        }
        if (args->json) {
            cJSON *row = uf_answer_item(pictures);
            uf_answer_text(row, "name", p->name);
            uf_answer_text(row, "doc", p->doc);
        } else {
            uf_show_entry(stdout, p->name, p->doc);
        }
    }
    uf_result_free(result);
    return args->json ? uf_answer_print(answer, err) : UF_OK;
}

/* The folder asked for, else the file's name without its ending. */
static enum uf_status find_folder(struct uf_drawing *drawing, const struct uf_arguments *args,
                                  struct uf_error *err)
{
    char folder[UF_DRAWING_PATH_SIZE];
    if (args->output != NULL || drawing->text) {
        return uf_drawing_folder(drawing, args->output, err);
    }
    (void)snprintf(folder, sizeof folder, "%s", args->operands[0]);
    char *dot = strrchr(folder, '.'), *slash = strrchr(folder, '/');
    if (dot == NULL || (slash != NULL && dot < slash) || dot == folder) {
        return uf_fail(err, UF_E_INPUT, "%s: name a folder for the pictures with -o",
                       args->operands[0]);
    }
    *dot = '\0';
    return uf_drawing_folder(drawing, folder, err);
}

/* Without a name: what stands still, or what the format asked for can show. */
static bool is_meant(const struct uf_drawing *drawing, const struct uf_plot *plot)
{
    return plot->has(drawing->result) &&
           (drawing->look.format != NULL ? uf_plot_takes(plot, drawing->look.format)
                                         : plot->format == NULL);
}

/* The pictures named after the file, or all that the result can fill. */
static enum uf_status draw_asked(struct uf_drawing *drawing, const struct uf_arguments *args,
                                 struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t i = 1; status == UF_OK && i < args->n_operands; i++) {
        const struct uf_plot *plot = uf_plot_find(args->operands[i]);
        status = plot != NULL
                     ? uf_drawing_one(drawing, plot, err)
                     : uf_fail(err, UF_E_INPUT, "%s: no such picture: plot --list names them",
                               args->operands[i]);
    }
    for (const struct uf_plot *p = uf_plot_table;
         status == UF_OK && args->n_operands == 1 && p->name != NULL; p++) {
        if (is_meant(drawing, p)) {
            status = uf_drawing_one(drawing, p, err);
        }
    }
    return status;
}

/* Does the site file that the result holds ask for US customary units? */
static bool is_us(const struct uf_result *result)
{
    struct uf_site_leaves leaves = {.rows = NULL, .n = 0};
    const char *units = NULL;
    if (result->site_text != NULL &&
        uf_site_leaves(&leaves, result->site_text, result->site_changes, NULL) == UF_OK) {
        units = uf_site_leaves_value(&leaves, "units");
    }
    const bool us = units != NULL && strcmp(units, "us") == 0;
    uf_site_leaves_free(&leaves);
    return us;
}

static enum uf_status draw_all(const struct uf_arguments *args, struct uf_error *err)
{
    struct uf_drawing drawing;
    struct uf_result *result = NULL;
    if (args->n_operands == 0) {
        return uf_fail(err, UF_E_INPUT,
                       "underfrost plot needs a result file (.h5), or --list; see --help");
    }
    enum uf_status status = uf_drawing_open(&drawing, args, err);
    if (status == UF_OK) {
        status = uf_result_file_read(&result, args->operands[0], err);
    }
    drawing.result = result;
    if (result != NULL && (args->given & UF_OPTION_UNITS) == 0) {
        drawing.look.us = is_us(result);
    }
    cJSON *answer = args->json && !drawing.text ? cJSON_CreateObject() : NULL;
    drawing.files = answer != NULL ? uf_answer_array(answer, "files") : NULL;
    if (status == UF_OK) {
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
    uf_result_free(result);
    return status;
}

static int run(const struct uf_arguments *args)
{
    struct uf_error err = {0};
    const enum uf_status status = args->list ? list_pictures(args, &err) : draw_all(args, &err);
    return status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, NULL, &err);
}

const struct uf_command uf_cmd_plot = {
    .name = "plot",
    .summary = "draw the pictures of a result file",
    .synopsis = "FILE.h5 [PICTURE...] [-o DIR] [--terminal T]",
    .detail =
        "FILE is what simulate, compare or recommend wrote. Without "
        "names every picture is drawn that the file can fill; --list FILE.h5 names those, --list "
        "alone all there are. The "
        "animation is drawn when it is named: it takes longer.\n"
        "T is png (default), svg, pdf, text for pictures of letters on the terminal, "
        "or gif, which is for the animation alone. The "
        "files go into DIR, which is made where it is missing; default is FILE without its ending.",
    .options = UF_OPTION_OUTPUT | UF_OPTION_TERMINAL | UF_OPTION_LIST,
    .least_operands = 0,
    .most_operands = UF_MAX_OPERANDS,
    .run = run,
};
