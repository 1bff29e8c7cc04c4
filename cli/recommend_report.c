#include "recommend_report.h"

#include "io/plot.h"
#include "sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

void uf_recommend_report_picture(const struct uf_recommend_page *page, const char *name,
                                 const char *caption)
{
    const struct uf_plot *plot = uf_plot_find(name);
    const struct uf_plot_look look = {.us = page->units == UF_UNITS_US, .format = "svg"};
    char *svg = NULL;
    if (plot == NULL || !plot->has(page->result)) {
        return;
    }
    (void)uf_plot_text(&svg, plot, page->result, &look, NULL);
    uf_report_picture(page->report, svg, caption);
    free(svg);
}

static const struct uf_choice *shown_row(const struct uf_recommend_page *page)
{
    return page->r->shown < 0 ? NULL : &page->r->choices->rows[page->r->shown];
}

static void write_question(const struct uf_recommend_page *page)
{
    const struct uf_case *d = &page->r->run.site->design;
    const struct uf_limits *limits = &d->limits;
    char greatest[96] =
        "no greatest cover from the tank's maker was given, so the shell is "
        "unchecked";
    if (isfinite(limits->greatest_cover_m)) {
        (void)snprintf(greatest, sizeof greatest,
                       "cover no more than the %s its maker allows",
                       UF_TEXT(LENGTH, page->units, limits->greatest_cover_m));
    }
    uf_report_section(page->report, "The question");
    uf_report_paragraph(
        page->report,
        "How deep must the tank at %s lie, and how much foam board must lie over "
        "it, so that in the design winter its water and wetted wall stay at or "
        "above %s, no more than %s of the water freezes, and the empty tank "
        "stays down with the water table at its highest with a factor of at least "
        "%.2f; %s?",
        d->name, UF_TEXT(TEMPERATURE, page->units, limits->water_degC),
        UF_TEXT(SHARE, page->units, limits->ice_share), limits->uplift_factor, greatest);
    uf_report_paragraph(page->report, "Design winter: %s. %s", page->r->run.weather->text,
                        page->r->run.weather->note);
}

static void write_answer(const struct uf_recommend_page *page)
{
    const struct uf_recommend *r = page->r;
    uf_report_section(page->report, "The answer");
    uf_report_frame(page->report, "%s %s %s", r->n_why > 0 ? r->why[0] : "",
                    r->sure_from > 1 ? r->why[1] : "", r->sure_from > 2 ? r->why[2] : "");
    for (size_t i = 3; i < r->n_why; i++) {
        if (i < r->sure_from || i >= r->sure_to) {
            uf_report_point(page->report, "%s", r->why[i]);
        }
    }
    uf_recommend_report_picture(page, "section",
                                "Section to scale on the day with most frozen ground: "
                                "the 0 degC line in bold, tank, board, "
                                "pit and water table.");
}

/* Margins of the row that is shown, one line a limit. */
static void write_margins(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {{"limit", 'l'},
                                                      {"key in the site file", 'l'},
                                                      {"margin left", 'r'},
                                                      {"met", 'l'}};
    const struct uf_choice *row = shown_row(page);
    if (row == NULL) {
        return;
    }
    uf_report_table(page->report,
                    page->r->choices->pick >= 0
                        ? "The pick against every limit"
                        : "The nearest choice against every limit",
                    columns, 4);
    for (size_t i = 0; i < UF_LIMITS; i++) {
        char text[64];
        if (!isnan(row->verdict.margin[i])) {
            uf_report_cell(page->report, "%s", uf_limits[i].doc);
            uf_report_cell(page->report, "%s", uf_limits[i].key);
            uf_report_cell(page->report, "%s",
                           uf_recommend_margin(text, sizeof text, i,
                                               row->verdict.margin[i], page->units));
            uf_report_cell(page->report, "%s",
                           row->verdict.margin[i] >= 0.0 ? "yes" : "NO");
        }
    }
}

static void write_choice(const struct uf_recommend_page *page, size_t i)
{
    const struct uf_choice *row = &page->r->choices->rows[i];
    const struct uf_job *job = &page->r->choices->jobs[i];
    struct uf_report *report = page->report;
    const char *governs = uf_recommend_governs(row);
    if ((long)i == page->r->choices->pick) {
        uf_report_strong_row(report);
    }
    uf_report_cell(report, "%s", UF_NUMBER(LENGTH, page->units, row->cover_m));
    uf_report_cell(report, "%s", UF_NUMBER(THICKNESS, page->units, row->thickness_m));
    uf_report_cell(report, "%s",
                   row->thickness_m > 0.0 ? UF_NUMBER(LENGTH, page->units, row->beyond_m)
                                          : "-");
    uf_report_cell(
        report, "%s",
        row->ran ? UF_NUMBER(TEMPERATURE, page->units, uf_limit_water_degC(&job->summary))
                 : "not run");
    uf_report_cell(report, "%s",
                   UF_NUMBER(FACTOR, page->units, row->uplift.highest.factor_submerged));
    uf_report_cell(report, "%s",
                   row->load.present ? UF_NUMBER(FACTOR, page->units, row->load.board_use)
                                     : "-");
    if (isfinite(row->cost.total)) {
        uf_report_cell(report, "%.0f", row->cost.total);
    } else {
        uf_report_cell(report, "-");
    }
    uf_report_cell(report, "%s", row->ok ? "yes" : "no");
    uf_report_cell(report, "%s", governs != NULL ? governs : "");
}

static void write_choices(const struct uf_recommend_page *page)
{
    const bool us = page->units == UF_UNITS_US;
    char cost[24];
    (void)snprintf(cost, sizeof cost, "cost, %s",
                   page->r->run.site->design.costs.given
                       ? page->r->run.site->design.costs.currency
                       : "not given");
    const struct uf_report_column columns[] = {
        {us ? "cover, ft" : "cover, m", 'r'},
        {us ? "board, in" : "board, mm", 'r'},
        {us ? "reach, ft" : "reach, m", 'r'},
        {us ? "coldest, degF" : "coldest, degC", 'r'},
        {"uplift factor", 'r'},
        {"board use", 'r'},
        {cost, 'r'},
        {"met", 'l'},
        {"governs", 'l'}};
    uf_report_section(page->report, "The choices");
    uf_recommend_report_picture(
        page, "choices",
        "Every choice: cover against thickness, one panel for each reach; "
        "the pick is ringed.");
    uf_report_table(
        page->report,
        "Coldest: the colder of mixed water and wetted wall. Uplift factor: submerged "
        "weights, tank empty, water at its highest. Board use: share of the long-term "
        "strength, holds up to 1.",
        columns, 9);
    for (size_t i = 0; i < page->r->choices->n; i++) {
        write_choice(page, i);
    }
    write_margins(page);
}

static void write_how_sure(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {{"what changes", 'l'},
                                                      {"coldest water or wall", 'r'},
                                                      {"holds", 'l'},
                                                      {"in words", 'l'}};
    const struct uf_recommend *r = page->r;
    uf_report_section(page->report, "How sure");
    uf_report_paragraph(
        page->report,
        "The %s once more with one thing changed at a time. Soil data are rarely "
        "known better than by a quarter; conductivity methods differ by 10 to 30 "
        "percent for frozen fine soil.",
        r->choices->pick >= 0 ? "pick" : "nearest choice");
    uf_report_table(page->report, "What the answer rests on", columns, 4);
    for (size_t i = 0; i < r->n_variants; i++) {
        uf_report_cell(page->report, "%s", r->variants[i].name);
        uf_report_cell(page->report, "%s",
                       UF_TEXT(TEMPERATURE, page->units, r->variants[i].water_degC));
        uf_report_cell(page->report, "%s", r->variants[i].verdict.ok ? "yes" : "NO");
        uf_report_cell(page->report, "%s",
                       r->sure_from + i < r->sure_to ? r->why[r->sure_from + i] : "");
    }
}

/* The recorded winters as a test of the choice shown. */
static void write_seasons(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {{"limit", 'l'},
                                                      {"broken in", 'r'},
                                                      {"share of winters", 'r'},
                                                      {"worst winter", 'l'}};
    const struct uf_winters *w = page->r->winters;
    if (w == NULL) {
        return;
    }
    uf_report_paragraph(
        page->report,
        "Run through every winter on file, one after the other: every limit "
        "was met in %zu of %zu.",
        w->limits.winters - w->limits.any, w->limits.winters);
    uf_report_table(page->report, "Winters on file that would have broken a limit",
                    columns, 4);
    for (size_t l = 0; l < UF_LIMITS; l++) {
        char name[16];
        if (isnan(w->limits.least[l])) {
            continue;
        }
        uf_report_cell(page->report, "%s", uf_limits[l].doc);
        uf_report_cell(page->report, "%zu", w->limits.broken[l]);
        uf_report_cell(page->report, "%s",
                       UF_TEXT(SHARE, page->units,
                               (double)w->limits.broken[l] / (double)w->limits.winters));
        uf_report_cell(page->report, "%s",
                       uf_winters_name(w, w->limits.least_winter[l], name, sizeof name));
    }
}

/* The installation sheet of the pick; without one there is nothing to install. */
static void write_sheet(const struct uf_recommend_page *page)
{
    struct uf_site site = *page->r->run.site; /* borrowed but for the design */
    struct uf_error err = {0};
    if (page->r->choices->pick < 0) {
        return;
    }
    site.design = page->r->choices->jobs[page->r->choices->pick].design;
    if (uf_sheet_sections(page->report, &site, page->units, false, &err) != UF_OK) {
        uf_report_section(page->report, "Installation sheet");
        uf_report_paragraph(page->report, "Not written: %s.", err.text);
    }
}

static void write_end(const struct uf_recommend_page *page)
{
    uf_report_cautions(page->report);
    uf_report_not_computed(page->report);
    uf_report_sources(page->report);
    uf_report_section(page->report, "Program and site file");
    uf_report_paragraph(page->report, "underfrost %s; %s.", UF_VERSION,
                        page->result->libraries != NULL ? page->result->libraries : "");
    uf_report_verbatim(page->report, page->r->run.site->text);
}

enum uf_status uf_recommend_report(const struct uf_recommend *r,
                                   const struct uf_arguments *args,
                                   const struct uf_result *result, const char *path,
                                   struct uf_error *err)
{
    struct uf_recommend_page page = {.r = r, .result = result, .units = args->units};
    enum uf_status status =
        uf_report_create(&page.report, r->run.site->design.name,
                         "Burial depth, foam board and uplift of a buried tank", err);
    if (status != UF_OK) {
        return status;
    }
    write_question(&page);
    write_answer(&page);
    write_choices(&page);
    if (r->shown >= 0) {
        write_how_sure(&page);
        write_seasons(&page);
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
