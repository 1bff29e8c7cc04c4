#include "recommend_report.h"

#include "cli/commands/sheet.h"
#include "cli/tell/assumed.h"
#include "cli/tell/outcome.h"
#include "io/picture/plot.h"
#include "io/text/message_text.h"
#include "recommend_drawing.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Draws into the report by put; what the result cannot fill is left out. */
static void draw(const struct uf_recommend_page *page, const char *name, const char *caption,
                 double small,
                 void (*put)(struct uf_report *report, const char *svg, const char *caption))
{
    const struct uf_plot *plot = uf_plot_find(name);
    const struct uf_plot_look look = {
        .us = page->units == UF_UNITS_US, .format = "svg", .bare = true, .small = small};
    char *svg = NULL;
    if (plot == NULL || !plot->has(page->result)) {
        return;
    }
    (void)uf_plot_text(&svg, plot, page->result, &look, NULL);
    put(page->report, svg, caption);
    free(svg);
}

void uf_recommend_report_picture(const struct uf_recommend_page *page, const char *name,
                                 const char *caption)
{
    draw(page, name, caption, 0.75, uf_report_picture);
}

void uf_recommend_report_half_picture(const struct uf_recommend_page *page, const char *name,
                                      const char *caption)
{
    draw(page, name, caption, 0.7, uf_report_half_picture);
}

static void write_question(const struct uf_recommend_page *page)
{
    const struct uf_case *d = &page->r->run.site->design;
    uf_report_section(page->report, "Question");
    uf_report_paragraph(
        page->report,
        "%s: how deep is the tank to lie, and how much foam board is to lie over it, so that it meets "
        "every limit of the site file (see the clause list) in the design winter and, empty, with the "
        "water table at its highest (%s)?",
        d->name, UF_LEVEL(page->units, d->ground.water_highest_m));
    for (size_t k = 0; k < uf_limit_count; k++) {
        const char *unchecked = uf_limit_unchecked(&uf_limits[k], d);
        if (unchecked != NULL) {
            uf_report_paragraph(page->report, "%s", unchecked);
        }
    }
    struct uf_assumed assumed;
    uf_assumed(&assumed, d, false, page->units);
    for (size_t i = 0; i < assumed.n; i++) {
        uf_report_paragraph(page->report, "%s", assumed.lines[i]);
    }
    uf_report_paragraph(page->report, "Design winter: %s.",
                        UF_MESSAGE(page->units, &page->r->run.weather->text));
}

/* What is to be seen first: the verdict, and what it does not survive. */
static void write_lead(const struct uf_recommend_page *page)
{
    const struct uf_recommend *r = page->r;
    char verdict[1600];
    if (r->choices->pick >= 0) {
        (void)snprintf(
            verdict, sizeof verdict, "%s %s", r->why[0],
            page->args->nominal
                ? "Every limit is met in the design winter; sensitivity is not judged."
                : "Every limit is met with a margin of at least the model's own error, and in every "
                  "sensitivity case.");
    } else {
        (void)snprintf(verdict, sizeof verdict, "NOT MET: %s %s", r->why[0],
                       r->n_why > 1 ? r->why[1] : "");
    }
    uf_report_lead(page->report, verdict, uf_outcome_cautions);
}

static void write_answer(const struct uf_recommend_page *page)
{
    const struct uf_recommend *r = page->r;
    uf_report_section(page->report, "Answer");
    for (size_t i = 1; i < r->n_why; i++) {
        if (i < r->sure_from || i >= r->sure_to) {
            uf_report_point(page->report, "%s", r->why[i]);
        }
    }
    uf_recommend_report_picture(
        page, "section",
        "Section through the middle of the tank, to scale, on the day with most "
        "frozen ground: frozen ground hatched, the line of freezing in bold, tank, "
        "board, pit and water table.");
}

/* Where the drawing is, or what it lacks. */
static void write_drawing(const struct uf_recommend_page *page)
{
    struct uf_recommend_drawing drawing;
    struct uf_error err = {0};
    if (uf_recommend_drawing_open(&drawing, page->r, page->units, &err) == UF_OK) {
        uf_report_paragraph(page->report,
                            "Plan and sections to scale, %s, then details, board and setting out: "
                            "sheet.pdf beside this report, or sheet.svg and sheet-2.svg.",
                            uf_draft_scale_of(drawing.draft)->text);
    } else {
        uf_report_paragraph(page->report, "No drawing to scale: %s.", err.text);
    }
    uf_recommend_drawing_close(&drawing);
}

/* The installation sheet of the recommended option; without one there is nothing to install. */
static void write_sheet(const struct uf_recommend_page *page)
{
    struct uf_site site = *page->r->run.site; /* borrowed but for the design */
    struct uf_error err = {0};
    if (page->r->choices->pick < 0) {
        return;
    }
    site.design = page->r->choices->designs[page->r->choices->pick];
    if (uf_sheet_sections(page->report, &site, page->units, false, &err) != UF_OK) {
        uf_report_section(page->report, "Installation sheet");
        uf_report_paragraph(page->report, "Not written: %s.", err.text);
    }
    write_drawing(page);
}

/* The site file as read, what was changed beside it, and what the recommended option replaces. */
static void write_site(const struct uf_recommend_page *page)
{
    const struct uf_arguments *args = page->args;
    uf_report_paragraph(page->report, "underfrost %s; %s.", UF_VERSION,
                        page->result->libraries != NULL ? page->result->libraries : "");
    for (size_t i = 0; i < args->n_sets; i++) {
        uf_report_point(page->report, "Changed by --set, over what the file says: %s",
                        args->sets[i].text);
    }
    uf_report_paragraph(
        page->report,
        "%s replaces burial.cover, board.thickness and board.beyond_tank of the file "
        "below.",
        page->r->choices->pick >= 0 ? "The recommended option" : "Each option");
    uf_report_verbatim(page->report, page->r->run.site->text);
}

/* What is signed: the calculation, eight pages for the example. */
static void write_body(const struct uf_recommend_page *page)
{
    write_question(page);
    write_answer(page);
    if (page->r->shown >= 0) {
        uf_recommend_report_matrix(page);
        uf_recommend_report_winter(page);
        uf_recommend_report_how_sure(page);
        uf_recommend_report_uplift(page);
        uf_recommend_report_board(page);
        uf_recommend_report_topics(page);
    }
    uf_recommend_report_weather(page);
    if (page->r->shown >= 0) {
        uf_recommend_report_clauses(page);
    }
}

/* What it rests on. */
static void write_appendices(const struct uf_recommend_page *page)
{
    uf_report_appendices(page->report);
    uf_recommend_report_choices(page);
    uf_recommend_report_soils(page);
    if (page->r->shown >= 0) {
        uf_recommend_report_run(page);
        uf_recommend_report_worked(page);
        uf_recommend_report_pit(page);
        uf_recommend_report_numbers(page);
    }
    uf_report_cautions(page->report);
    uf_report_not_computed(page->report);
    uf_report_sources(page->report);
    if (page->r->shown >= 0) {
        write_sheet(page);
    }
    uf_report_section(page->report, "Program and site file");
    write_site(page);
}

enum uf_status uf_recommend_report(const struct uf_recommend *r, const struct uf_arguments *args,
                                   const struct uf_result *result, const char *path,
                                   struct uf_error *err)
{
    struct uf_recommend_page page = {.r = r, .result = result, .args = args, .units = args->units};
    enum uf_status status =
        uf_report_create(&page.report, r->run.site->design.name,
                         "Burial depth, foam board and flotation of a buried tank", err);
    if (status != UF_OK) {
        return status;
    }
    if (r->shown >= 0) {
        uf_recommend_report_topics_find(&page);
    }
    uf_recommend_report_title(&page);
    write_lead(&page);
    write_body(&page);
    write_appendices(&page);
    status = uf_report_write(path, page.report, err);
    uf_report_free(page.report);
    return status;
}
