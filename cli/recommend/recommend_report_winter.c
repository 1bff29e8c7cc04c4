#include "cli/tell/outcome.h"
#include "io/text/quantity.h"
#include "io/text/quantity_words.h"
#include "recommend_report.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The design winter: what it did, and where its weather comes from. */

/* One line of the table of extremes: with board, without. */
struct extreme_row {
    const char *label;
    enum uf_quantity kind;
    double with;
    long with_day;
    double without;
    long without_day;
};

static const struct uf_summary *bare_summary(const struct uf_recommend_page *page)
{
    const struct uf_job *bare = &page->r->jobs[UF_RECOMMEND_BARE];
    return bare->skip ? NULL : &bare->summary;
}

static void write_value(const struct uf_recommend_page *page, enum uf_quantity kind, double value,
                        long day)
{
    char date[16];
    char text[40];
    const char *when = isfinite(value) ? uf_outcome_date(day, date) : NULL;
    uf_report_cell(page->report, "%s", uf_quantity_text(text, 40, kind, page->units, value));
    uf_report_cell(page->report, "%s", when != NULL ? when : "-");
}

static void write_extremes(const struct uf_recommend_page *page)
{
    const struct uf_summary *a = &page->r->jobs[UF_RECOMMEND_KEPT].summary;
    const bool both = bare_summary(page) != NULL;
    const struct uf_summary *b = both ? bare_summary(page) : a;
    const struct uf_report_column columns[] = {{"", 'l'},
                                               {both ? "with board" : "as designed", 'r'},
                                               {"on", 'r'},
                                               {"without board", 'r'},
                                               {"on", 'r'}};
    const struct extreme_row rows[] = {
        {"deepest frost far from the tank", UF_QUANTITY_LENGTH, a->frost_undisturbed_m,
         a->frost_undisturbed_day, b->frost_undisturbed_m, b->frost_undisturbed_day},
        {"deepest frost over the tank (to its crown)", UF_QUANTITY_LENGTH, a->frost_above_m,
         a->frost_above_day, b->frost_above_m, b->frost_above_day},
        {"coldest water, mixed", UF_QUANTITY_TEMPERATURE, a->water.degC, a->water.day,
         b->water.degC, b->water.day},
        {"coldest wetted wall", UF_QUANTITY_TEMPERATURE, a->wall.degC, a->wall.day, b->wall.degC,
         b->wall.day},
        {"coldest wall at the crown", UF_QUANTITY_TEMPERATURE, a->crown.degC, a->crown.day,
         b->crown.degC, b->crown.day},
        {"coldest wall at the invert", UF_QUANTITY_TEMPERATURE, a->invert.degC, a->invert.day,
         b->invert.degC, b->invert.day},
        {"largest share of the water that is ice", UF_QUANTITY_SHARE, a->ice_share, UF_NO_DAY,
         b->ice_share, UF_NO_DAY},
        {"that ice as an even layer on the wetted wall", UF_QUANTITY_THICKNESS, a->ice_thickness_m,
         UF_NO_DAY, b->ice_thickness_m, UF_NO_DAY}};
    uf_report_table(page->report, "Extremes of the run, and their dates", columns, both ? 5 : 3);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (isnan(rows[i].with) && isnan(rows[i].without)) {
            continue;
        }
        uf_report_cell(page->report, "%s", rows[i].label);
        write_value(page, rows[i].kind, rows[i].with, rows[i].with_day);
        if (both) {
            write_value(page, rows[i].kind, rows[i].without, rows[i].without_day);
        }
    }
}

/* A probe of the site file can come to lie over the board of another choice: say so. */
static const char *place_kind(const struct uf_recommend_page *page, const char *name,
                              const char *kind)
{
    const struct uf_case *d = &page->r->jobs[UF_RECOMMEND_KEPT].design;
    for (size_t i = 0; i < d->n_probes && uf_case_has_board(d); i++) {
        const double board_top_m = uf_case_board_bottom_m(d) - d->board.thickness_m;
        if (strcmp(d->probes[i].name, name) == 0 && d->probes[i].depth_m < board_top_m &&
            fabs(d->probes[i].x_m) <= uf_case_half_width_m(d) + d->board.beyond_tank_m) {
            return "probe, above the board";
        }
    }
    return kind;
}

static void write_points(const struct uf_recommend_page *page, const char *kind,
                         const struct uf_probe_summary *a, const struct uf_probe_summary *b,
                         size_t n)
{
    for (size_t i = 0; i < n; i++) {
        uf_report_cell(page->report, "%s", a[i].name);
        uf_report_cell(page->report, "%s", place_kind(page, a[i].name, kind));
        write_value(page, UF_QUANTITY_TEMPERATURE, a[i].least.degC, a[i].least.day);
        uf_report_cell(page->report, "%ld", a[i].days_below_zero);
        uf_report_cell(page->report, "%s",
                       isnan(a[i].limit_degC) ? "none"
                                              : UF_TEXT(TEMPERATURE, page->units, a[i].limit_degC));
        if (b != NULL) {
            uf_report_cell(page->report, "%s", UF_TEXT(TEMPERATURE, page->units, b[i].least.degC));
        }
    }
}

/* Probes and pipes: only where the site has any. */
static void write_places(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {{"place", 'l'},
                                                      {"", 'l'},
                                                      {"coldest", 'r'},
                                                      {"on", 'r'},
                                                      {"days below freezing", 'r'},
                                                      {"limit: at least", 'r'},
                                                      {"coldest without board", 'r'}};
    const struct uf_summary *a = &page->r->jobs[UF_RECOMMEND_KEPT].summary;
    const struct uf_summary *b = bare_summary(page);
    if (a->n_probes + a->n_pipes == 0) {
        return;
    }
    uf_report_table(page->report,
                    a->n_pipes == 0 ? "Probes"
                                    : "Probes and pipes. A pipe leaves through an end of the tank: "
                                      "it is judged by the ground at its own depth.",
                    columns, b != NULL ? 7 : 6);
    write_points(page, "probe", a->probes, b != NULL ? b->probes : NULL, a->n_probes);
    write_points(page, "ground at the pipe's crown", a->pipes, b != NULL ? b->pipes : NULL,
                 a->n_pipes);
}

void uf_recommend_report_winter(const struct uf_recommend_page *page)
{
    const struct uf_job *inflow = &page->r->jobs[UF_RECOMMEND_INFLOW];
    uf_report_section(page->report, "Frost and water through the design winter");
    uf_recommend_report_picture(
        page, "frost",
        bare_summary(page) != NULL
            ? "Depth of frost far from the tank and over it, with board and without; "
              "where board and crown lie."
            : "Depth of frost far from the tank and over it; where the crown lies.");
    uf_recommend_report_picture(page, "water",
                                "Water and coldest wetted wall through the winter, and the limit.");
    write_extremes(page);
    write_places(page);
    if (!inflow->skip) {
        uf_report_paragraph(
            page->report,
            "The verdict counts no inflow (an empty house). With it the water would fall "
            "no lower than %s.",
            UF_TEXT(TEMPERATURE, page->units, inflow->summary.water.degC));
    }
}

/* Winters of the record that cannot be used, by name. */
static void write_unusable(const struct uf_recommend_page *page,
                           const struct uf_winter_list *winters)
{
    char names[240] = "";
    const size_t n = winters->n - winters->n_usable;
    for (size_t i = 0; i < winters->n; i++) {
        const size_t used = strlen(names);
        char label[16];
        if (!winters->rows[i].usable && used + 16 < sizeof names) {
            (void)snprintf(
                names + used, sizeof names - used, "%s%s", used > 0 ? ", " : "",
                uf_winter_label(winters->rows[i].year, winters->south, label, sizeof label));
        }
    }
    if (n > 0) {
        uf_report_paragraph(page->report,
                            "%zu winters on file are left out, for days that are missing: %s%s.", n,
                            names, strlen(names) + 16 >= sizeof names ? " ..." : "");
    }
}

static void write_record(const struct uf_recommend_page *page, const struct uf_weather *record)
{
    uf_report_paragraph(page->report, "Station: %s. Source: %s. Licence: %s.",
                        record->station[0] != '\0' ? UF_WORDS(page->units, record->station)
                                                   : "not stated",
                        record->source[0] != '\0' ? record->source : "not stated",
                        record->licence[0] != '\0' ? record->licence : "not stated");
    if (record->filled_days > 0) {
        uf_report_paragraph(page->report, "%zu days in short gaps were filled by straight lines.",
                            record->filled_days);
    }
    if (record->note[0] != '\0') {
        uf_report_paragraph(page->report, "%s", UF_WORDS(page->units, record->note));
    }
}

static void write_returns(const struct uf_recommend_page *page,
                          const struct uf_winter_list *winters)
{
    static const struct uf_report_column columns[] = {{"", 'l'}, {"air freezing index", 'r'}};
    const enum uf_units units = page->units;
    uf_report_table(page->report,
                    "Air freezing index of the winters on file; return periods by Gumbel's "
                    "distribution, fitted by moments",
                    columns, 2);
    uf_report_cell(page->report, "mean of %zu winters", winters->n_usable);
    uf_report_cell(page->report, "%s", UF_TEXT(INDEX, units, winters->mean_degC_day));
    if (isfinite(winters->coldest_three_in_thirty_degC_day)) {
        uf_report_cell(page->report, "mean of the coldest three in the last thirty");
        uf_report_cell(page->report, "%s",
                       UF_TEXT(INDEX, units, winters->coldest_three_in_thirty_degC_day));
    }
    for (size_t i = 0; i < page->result->n_returns; i++) {
        uf_report_cell(page->report, "one winter in %.0f", page->result->returns[i].years);
        uf_report_cell(page->report, "%s",
                       UF_TEXT(INDEX, units, page->result->returns[i].freezing_index_degC_day));
    }
}

void uf_recommend_report_weather(const struct uf_recommend_page *page)
{
    const struct uf_site_weather *w = page->r->run.weather;
    uf_report_section(page->report, "Weather");
    uf_report_paragraph(page->report, "The run is driven by: %s.", UF_WINTER_WORDS(w, page->units));
    if (w->season != NULL) {
        uf_report_paragraph(
            page->report,
            "How a design winter is made: of the winters on file the one whose freezing "
            "index is nearest to the index asked for keeps its shape; how far each of its "
            "days is from the mean year is scaled until its own index is the one asked "
            "for. Before and after it the mean year runs.");
    }
    if (w->record != NULL) {
        write_record(page, w->record);
    }
    if (w->winters != NULL && w->winters->n_usable > 0) {
        write_unusable(page, w->winters);
        write_returns(page, w->winters);
    }
    uf_recommend_report_picture(
        page, "winters",
        "Air freezing index of every winter on file, return periods and the "
        "design winter; a winter with gaps has no bar.");
}
