#include "recommend_report.h"

#include "cli/commands/sheet.h"
#include "cli/tell/assumed.h"
#include "cli/tell/outcome.h"
#include "io/picture/plot.h"
#include "io/text/message_text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

void uf_recommend_report_picture(const struct uf_recommend_page *page, const char *name,
                                 const char *caption)
{
    const struct uf_plot *plot = uf_plot_find(name);
    const struct uf_plot_look look = {
        .us = page->units == UF_UNITS_US, .format = "svg", .bare = true};
    char *svg = NULL;
    if (plot == NULL || !plot->has(page->result)) {
        return;
    }
    (void)uf_plot_text(&svg, plot, page->result, &look, NULL);
    uf_report_picture(page->report, svg, caption);
    free(svg);
}

static void write_question(const struct uf_recommend_page *page)
{
    const struct uf_case *d = &page->r->run.site->design;
    uf_report_section(page->report, "The question");
    uf_report_paragraph(
        page->report,
        "%s: how deep must the tank lie, and how much foam board must lie over it, so that in the "
        "design winter, and empty with the water table at its highest (%s), it meets every limit? "
        "%s",
        d->name, UF_LEVEL(page->units, d->ground.water_highest_m),
        isfinite(d->limits.greatest_cover_m)
            ? ""
            : "No greatest cover from the tank's manufacturer was given: the shell is unchecked.");
    struct uf_assumed assumed;
    uf_assumed(&assumed, d, false, page->units);
    for (size_t i = 0; i < assumed.n; i++) {
        uf_report_paragraph(page->report, "%s", assumed.lines[i]);
    }
    for (size_t i = 0; page->r->shown >= 0 && i < uf_limit_count; i++) {
        const struct uf_limit *limit = &uf_limits[i];
        const struct uf_verdict *verdict = &page->r->choices->rows[page->r->shown].verdict;
        char text[40];
        if (!isnan(verdict->margin[i])) {
            uf_report_point(page->report, "%s: %s %s", limit->label,
                            limit->at_least ? "at least" : "at most",
                            uf_quantity_text(text, sizeof text, limit->quantity, page->units,
                                             verdict->asked[i]));
        }
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
    uf_report_section(page->report, "The answer");
    char brief[UF_RECOMMEND_BRIEF * sizeof r->why[0]] = "";
    for (size_t i = 0; i < r->n_brief; i++) {
        uf_recommend_add(brief, sizeof brief, "%s%s", i > 0 ? " " : "", r->why[i]);
    }
    uf_report_frame(page->report, "%s", brief);
    for (size_t i = r->n_brief; i < r->n_why; i++) {
        if (i < r->sure_from || i >= r->sure_to) {
            uf_report_point(page->report, "%s", r->why[i]);
        }
    }
    uf_recommend_report_picture(page, "section",
                                "Section through the middle of the tank, to scale, on "
                                "the day with most frozen ground: frozen ground "
                                "hatched, the line of freezing in bold, tank, board, pit "
                                "and water table.");
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
    uf_report_turn_page(page->report);
    if (uf_sheet_sections(page->report, &site, page->units, false, &err) != UF_OK) {
        uf_report_section(page->report, "Installation sheet");
        uf_report_paragraph(page->report, "Not written: %s.", err.text);
    }
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
    uf_report_paragraph(page->report,
                        "%s replaces burial.cover, board.thickness and "
                        "board.beyond_tank of the file below.",
                        page->r->choices->pick >= 0 ? "The recommended option" : "Each option");
    uf_report_verbatim(page->report, page->r->run.site->text);
}

static void write_end(const struct uf_recommend_page *page)
{
    uf_report_cautions(page->report);
    uf_report_not_computed(page->report);
    uf_report_sources(page->report);
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
                         "Burial depth, foam board and uplift of a buried tank", err);
    if (status != UF_OK) {
        return status;
    }
    write_lead(&page);
    write_question(&page);
    write_answer(&page);
    uf_recommend_report_choices(&page);
    if (r->shown >= 0) {
        uf_recommend_report_how_sure(&page);
        uf_recommend_report_winter(&page);
        uf_recommend_report_uplift(&page);
        uf_recommend_report_board(&page);
        uf_recommend_report_pit(&page);
    }
    uf_recommend_report_weather(&page);
    uf_recommend_report_soils(&page);
    if (r->shown >= 0) {
        uf_recommend_report_numbers(&page);
        write_sheet(&page);
    }
    write_end(&page);
    status = uf_report_write(path, page.report, err);
    uf_report_free(page.report);
    return status;
}
