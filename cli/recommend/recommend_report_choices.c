#include "io/text/message_text.h"
#include "io/text/quantity.h"
#include "recommend_report.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Every option, and what the answer rests on. */

static void write_choice(const struct uf_recommend_page *page, size_t i)
{
    const struct uf_choice *row = &page->r->choices->rows[i];
    if ((long)i == page->r->choices->pick) {
        uf_report_strong_row(page->report);
    }
    for (const struct uf_choice_fact *fact = uf_choice_facts; fact->key != NULL; fact++) {
        char text[UF_NAME_SIZE];
        if (uf_choice_fact_has_column(fact, &page->r->run.site->design)) {
            uf_report_cell(page->report, "%s",
                           fact->heat && !row->ran ? "not run"
                                                   : uf_recommend_cell(text, sizeof text, page->r,
                                                                       fact, i, page->units));
        }
    }
    uf_report_cell(page->report, "%s", row->ok ? "yes" : "NO");
    uf_report_cell(page->report, "%s",
                   uf_recommend_governs_words((char[400]){0}, 400, row, page->units));
}

/* "cover, m" of a fact's heading and what it is shown in. */
static const char *heading(char *text, size_t size, const struct uf_recommend_page *page,
                           const struct uf_choice_fact *fact)
{
    const char *unit = fact->money          ? page->r->run.site->design.costs.currency
                       : fact->word != NULL ? ""
                                            : uf_quantity_unit(fact->quantity, page->units);
    (void)snprintf(text, size, "%s%s%s", fact->head, unit[0] != '\0' ? ", " : "", unit);
    for (char *at = strchr(text, '\n'); at != NULL; at = strchr(at, '\n')) {
        *at = ' ';
    }
    return text;
}

/* Those that were judged without a winter, and why that is enough. */
static void write_not_run(const struct uf_recommend_page *page)
{
    size_t skipped = 0;
    bool plane = false;
    for (size_t i = 0; i < page->r->choices->n; i++) {
        skipped += !page->r->choices->rows[i].ran;
        plane = plane || uf_recommend_is_plane(page->r, i);
    }
    if (plane) {
        uf_report_paragraph(page->report, "%s.", uf_recommend_plane_note);
    }
    if (skipped > 0) {
        uf_report_paragraph(
            page->report,
            "\"Not run\": an option that fails on flotation, board load or cover, or does not fit "
            "below grade, fails whatever the winter does, so no winter was computed for it.");
    }
}

void uf_recommend_report_choices(const struct uf_recommend_page *page)
{
    char heads[UF_CHOICE_FACTS_MOST][40];
    struct uf_show_column columns[UF_CHOICE_FACTS_MOST + 2];
    size_t n = 0;
    for (const struct uf_choice_fact *fact = uf_choice_facts; fact->key != NULL; fact++) {
        if (uf_choice_fact_has_column(fact, &page->r->run.site->design)) {
            columns[n] = (struct uf_show_column){heading(heads[n], sizeof heads[n], page, fact),
                                                 fact->word != NULL ? 'l' : 'r'};
            n++;
        }
    }
    columns[n++] = (struct uf_show_column){"met", 'l'};
    columns[n++] = (struct uf_show_column){"closest limit", 'l'};
    uf_report_section(page->report, "All options");
    uf_recommend_report_picture(
        page, "choices",
        "Every option: cover downward against thickness of the board, one panel for each "
        "extension beyond the tank. A disc meets every limit, a cross does not; the recommended "
        "option is ringed.");
    uf_recommend_report_picture(
        page, "costs",
        "Cost against cover, a line for each thickness of board: of each pair the cheapest option "
        "that is robust, else that meets every limit, else that was priced.");
    uf_report_table(
        page->report,
        "Every option; met: every limit is met. Beyond tank: extension of the board. Water or "
        "wall: the coldest water or wetted wall. Uplift factor: factor of safety against flotation by buoyant "
        "weights, tank empty, water at its highest. Board use: utilization, of the "
        "allowable long-term stress, met up to 1.",
        columns, n);
    for (size_t i = 0; i < page->r->choices->n; i++) {
        write_choice(page, i);
    }
    write_not_run(page);
    uf_recommend_report_neighbours(page);
}

/* One line of the sensitivity table: coldest, then the margins the winter decides. */
static void write_sure_row(const struct uf_recommend_page *page, const char *what,
                           double water_degC, const struct uf_verdict *verdict,
                           const size_t *limits, size_t n)
{
    uf_report_cell(page->report, "%s", what);
    uf_report_cell(page->report, "%s", UF_TEXT(TEMPERATURE, page->units, water_degC));
    for (size_t k = 0; k < n; k++) {
        const double margin = verdict->margin[limits[k]];
        char text[64] = "-";
        if (!isnan(margin)) {
            (void)uf_recommend_margin(text, sizeof text, limits[k], margin, page->units);
        }
        uf_report_cell(page->report, "%s%s", text, margin < 0.0 ? " (not met)" : "");
    }
    uf_report_cell(page->report, "%s", verdict->ok ? "yes" : "NO");
}

/* The limits that the winter decides, of those that are there at all. */
static size_t winter_limits(size_t out[UF_LIMIT_MOST], const struct uf_verdict *verdict)
{
    size_t n = 0;
    for (size_t i = 0; i < uf_limit_count; i++) {
        if (uf_limits[i].winter && !isnan(verdict->margin[i])) {
            out[n++] = i;
        }
    }
    return n;
}

/* The recorded winters as a test of the choice shown. */
static void write_seasons(const struct uf_recommend_page *page)
{
    static const struct uf_show_column columns[] = {
        {"limit", 'l'}, {"not met in", 'r'}, {"share of winters", 'r'}, {"worst winter", 'l'}};
    const struct uf_winters *w = page->r->winters;
    if (w == NULL) {
        return;
    }
    uf_report_paragraph(
        page->report,
        "Run through every winter on file, one after the other: every limit was met in %zu of %zu.",
        w->limits.winters - w->limits.any, w->limits.winters);
    uf_report_table(page->report, "Winters on file in which a limit would not have been met",
                    columns, 4);
    for (size_t l = 0; l < uf_limit_count; l++) {
        char name[16];
        if (isnan(w->limits.least[l])) {
            continue;
        }
        uf_report_cell(page->report, "%s", uf_limits[l].label);
        uf_report_cell(page->report, "%zu", w->limits.broken[l]);
        uf_report_cell(
            page->report, "%s",
            UF_TEXT(SHARE, page->units, (double)w->limits.broken[l] / (double)w->limits.winters));
        uf_report_cell(page->report, "%s",
                       uf_winters_name(w, w->limits.least_winter[l], name, sizeof name));
    }
}

void uf_recommend_report_how_sure(const struct uf_recommend_page *page)
{
    const struct uf_recommend *r = page->r;
    const struct uf_choice *row = &r->choices->rows[r->shown];
    struct uf_show_column columns[UF_LIMIT_MOST + 3] = {{"case: if", 'l'},
                                                        {"coldest water or wall", 'r'}};
    char heads[UF_LIMIT_MOST][80];
    size_t limits[UF_LIMIT_MOST];
    const size_t n = winter_limits(limits, &row->verdict);
    for (size_t k = 0; k < n; k++) {
        (void)snprintf(heads[k], sizeof heads[k], "margin: %s", uf_limits[limits[k]].brief);
        columns[k + 2] = (struct uf_show_column){heads[k], 'r'};
    }
    columns[n + 2] = (struct uf_show_column){"every limit met", 'l'};
    uf_report_section(page->report, "Sensitivity");
    uf_report_paragraph(page->report,
                        "The %s once more with one thing changed at a time. Soil data are rarely "
                        "known better than by a quarter; conductivity methods differ by 10 to 30 "
                        "percent for frozen fine soil (common practice, no source).",
                        r->choices->pick >= 0 ? "recommended option" : "nearest option");
    uf_report_table(page->report, "Margin left on each limit that the winter decides, case by case",
                    columns, n + 3);
    uf_report_strong_row(page->report);
    write_sure_row(page, "nothing is changed: the design case",
                   uf_limit_water_degC(&r->jobs[UF_RECOMMEND_KEPT].summary), &row->verdict, limits,
                   n);
    for (size_t i = 0; i < r->n_variants; i++) {
        char words[120];
        write_sure_row(page, uf_recommend_variant_words(words, sizeof words, r, r->variants[i].row),
                       r->variants[i].water_degC, &r->variants[i].verdict, limits, n);
    }
    uf_recommend_report_picture(page, "sensitivity",
                                "The decisive margin in each sensitivity case, bars from that of "
                                "the design case; left of zero the limit is not met.");
    if (r->rarer_weather != NULL) {
        const struct uf_winter_season *mine = r->run.weather->season;
        const struct uf_winter_season *rarer = r->rarer_weather->season;
        uf_report_paragraph(page->report, "The next rarer winter: %s.%s",
                            UF_MESSAGE(page->units, &r->rarer_weather->text),
                            mine->recorded_year != rarer->recorded_year
                                ? " It has the shape of another recorded winter, so the "
                                  "water can even come out warmer in it."
                                : "");
    }
    write_seasons(page);
}
