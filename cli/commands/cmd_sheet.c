#include "cli/command.h"
#include "cli/site_open.h"
#include "cli/tell/assumed.h"
#include "cli/tell/faults.h"
#include "cli/tell/quantities_show.h"
#include "cli/tell/today.h"
#include "io/drawing/draft.h"
#include "sheet.h"

#include <stdio.h>
#include <string.h>

#define PATH_SIZE 1100

/* underfrost sheet SITE.yaml [-o FILE.html]: what is ordered, and the installation sheet of the
   design as written. */

static enum uf_status write_field(const struct uf_arguments *args, const struct uf_site *site,
                                  struct uf_error *err)
{
    return uf_sheet_field(args->output, site, args->units, err);
}

static enum uf_status write_drawing(const struct uf_arguments *args, const struct uf_site *site,
                                    struct uf_error *err)
{
    char today[16];
    struct uf_draft *draft = NULL;
    enum uf_status status =
        uf_draft_open(&draft, site, args->units, uf_today(today, sizeof today), err);
    if (status == UF_OK) {
        status = uf_draft_write(args->output, draft, err);
    }
    uf_draft_free(draft);
    return status;
}

static enum uf_status write_page(const struct uf_arguments *args, const struct uf_site *site,
                                 struct uf_error *err)
{
    struct uf_report *report = NULL;
    struct uf_assumed assumed;
    enum uf_status status = uf_report_create(&report, site->design.name, "Installation sheet", err);
    uf_assumed(&assumed, &site->design, true, args->units);
    for (size_t i = 0; status == UF_OK && i < assumed.n; i++) {
        uf_report_paragraph(report, "%s", assumed.lines[i]);
    }
    if (status == UF_OK) {
        status = uf_sheet_sections(report, site, args->units, true, err);
    }
    if (status == UF_OK) {
        status = uf_report_write(args->output, report, err);
    }
    uf_report_free(report);
    return status;
}

/* What is written: its option, what that needs, and who writes it; the last one where no option is
   given. */
static const struct kind {
    unsigned option;
    const char *name, *wanted;
    enum uf_status (*write)(const struct uf_arguments *args, const struct uf_site *site,
                            struct uf_error *err);
} kinds[] = {
    {UF_OPTION_FIELD, "Field record", "--field: nowhere to write: add -o FILE.html", write_field},
    {UF_OPTION_DRAWING, "Drawing", "--drawing: nowhere to write: add -o FILE.pdf or FILE.svg",
     write_drawing},
    {0, "Installation sheet", NULL, write_page}};

static const struct kind *kind_of(const struct uf_arguments *args)
{
    const struct kind *kind = kinds;
    while (kind->option != 0 && (args->given & kind->option) == 0) {
        kind++;
    }
    return kind;
}

/* The second sheet of a drawing, where it is a file of its own. */
static bool has_second(const struct uf_arguments *args, char second[PATH_SIZE])
{
    return args->output != NULL && (args->given & UF_OPTION_DRAWING) != 0 &&
           strcmp(uf_draft_path(second, PATH_SIZE, args->output, 1), args->output) != 0;
}

static int tell(const struct uf_arguments *args, const struct uf_quantities_found *found)
{
    char second[PATH_SIZE];
    if (args->json) {
        cJSON *answer = cJSON_CreateObject();
        uf_assumed_answer(answer, &found->site->design, true);
        uf_answer_text(answer, "sheet", args->output);
        uf_answer_text(answer, "sheet_2", has_second(args, second) ? second : NULL);
        uf_quantities_show_answer(uf_answer_object(answer, "quantities"), found);
        uf_sheet_backfill_answer(answer, found->site);
        return uf_site_open_answer(args, answer);
    }
    if (!args->quiet) {
        uf_site_open_heading(args, found->site, "Pit and quantities");
        uf_assumed_show(&found->site->design, true, args->units);
        uf_quantities_show_text(args, found);
        if (args->output != NULL) {
            (void)printf("\n%s: %s\n", kind_of(args)->name, args->output);
            if (has_second(args, second)) {
                (void)printf("%s: %s\n", kind_of(args)->name, second);
            }
        }
    }
    return UF_EXIT_DONE;
}

static int run(const struct uf_arguments *args)
{
    struct uf_site *site = NULL;
    struct uf_quantities_found found = {.ok = true};
    struct uf_error err = {0};
    int code = uf_site_open(&site, NULL, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    enum uf_status status = UF_OK;
    if (!uf_case_has_tank(&site->design)) {
        status = uf_fail_key(&err, UF_E_INPUT, "tank", UF_PLAIN("there is no tank to install"),
                             UF_PLAIN("give a tank block"));
    }
    if (status == UF_OK && args->output == NULL && kind_of(args)->wanted != NULL) {
        status = uf_fail(&err, UF_E_INPUT, "%s", kind_of(args)->wanted);
    }
    if (status == UF_OK) {
        status = uf_quantities_show_find(&found, site, &err);
    }
    if (status == UF_OK && args->output != NULL) {
        status = kind_of(args)->write(args, site, &err);
    }
    code = status == UF_OK ? tell(args, &found) : uf_faults_error(args, args->operands[0], &err);
    uf_site_free(site);
    return code == UF_EXIT_DONE && !found.ok ? UF_EXIT_LIMIT : code;
}

const struct uf_command uf_cmd_sheet = {
    .name = "sheet",
    .summary = "quantities to order and, with -o, the installation sheet",
    .synopsis = "SITE.yaml [-o FILE] [--field | --drawing]",
    .detail =
        "From the design as written: volumes of the pit, fill by layer in place and loose, "
        "truckloads, geotextile, a cut plan of the board, concrete, spoil, costs. What "
        "depends on the products bought stands in the quantities block.\n"
        "-o FILE.html writes one page to take to the pit: views of the drawing, levels with a "
        "place for the reading, setting out, what to order, lifting, the order of work with a "
        "check and a signature at each stage, anchors, backfill and ballast lift by lift, an "
        "open pit filled with water, roundness, cautions. What belongs to the tank's "
        "manufacturer appears only where the site file gives it.\n"
        "--field -o FILE.html writes a page for a phone without network: diameters at each "
        "station and level of both ends at each stage, judged as they are typed, kept in the "
        "browser, downloaded as CSV for check roundness --readings.\n"
        "--drawing -o FILE.pdf or FILE.svg draws two A3 sheets to scale, 11 by 17 inches in US "
        "units: plan, long section and cross-section; then details, the board layer by "
        "layer, levels and setting out. FILE.pdf holds both, FILE.svg the first and "
        "FILE-2.svg the second. The title block is that of the project block; the block "
        "drawing holds what only a drawing shows, and the sheet names what lacks. "
        "Draughting conventions are common practice.\n"
        "Exit 1 where the pit's slope is steeper than its soil class allows, or the sieve "
        "list misses its grading.",
    .options = UF_OPTIONS_SITE | UF_OPTION_OUTPUT | UF_OPTION_FIELD | UF_OPTION_DRAWING,
    .least_operands = 1,
    .most_operands = 1,
    .run = run};
