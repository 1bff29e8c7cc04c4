#include "cli/tell/outcome.h"
#include "io/text/fact_text.h"
#include "io/text/message_text.h"
#include "io/text/quantity.h"
#include "recommend_report.h"
#include "solver/choice/remark.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The design winter: what it did, and where its weather comes from. */

static const struct uf_summary *bare_summary(const struct uf_recommend_page *page)
{
    const struct uf_job *bare = &page->r->jobs[UF_RECOMMEND_BARE];
    return bare->done ? &bare->summary : NULL;
}

/* Value and date of one of a fact. */
static void write_fact(struct uf_report *report, const struct uf_fact *fact,
                       const struct uf_summary *s, size_t i, bool dated, enum uf_units units)
{
    char text[120];
    uf_report_cell(report, "%s", uf_fact_text(text, sizeof text, fact, s, i, units));
    if (dated) {
        uf_report_cell(report, "%s",
                       fact->date_key == NULL
                           ? ""
                           : uf_fact_text_day(text, sizeof text, uf_facts_day(fact, s, i)));
    }
}

/* Has any of the facts a date of its own? */
static bool is_dated(const struct uf_fact *facts, bool (*wanted)(const struct uf_fact *fact))
{
    bool dated = false;
    for (const struct uf_fact *fact = facts; fact->key != NULL; fact++) {
        dated = dated || (wanted(fact) && fact->date_key != NULL);
    }
    return dated;
}

static void write_facts(struct uf_report *report, const struct uf_fact *facts,
                        bool (*wanted)(const struct uf_fact *fact), const char *caption,
                        const struct uf_summary *a, const struct uf_summary *b, enum uf_units units)
{
    const bool dated = is_dated(facts, wanted);
    const struct uf_show_column on = {"on", 'r'};
    struct uf_show_column columns[5] = {{"", 'l'}, {b != NULL ? "with board" : "as designed", 'r'}};
    size_t n = 2;
    if (dated) {
        columns[n++] = on;
    }
    if (b != NULL) {
        columns[n++] = (struct uf_show_column){"without board", 'r'};
    }
    if (dated && b != NULL) {
        columns[n++] = on;
    }
    uf_report_table(report, caption, columns, n);
    for (const struct uf_fact *fact = facts; fact->key != NULL; fact++) {
        for (size_t i = 0; i < uf_facts_count(fact, a) && wanted(fact); i++) {
            char text[120];
            if (!uf_fact_text_has(fact, a, i) && (b == NULL || !uf_fact_text_has(fact, b, i))) {
                continue;
            }
            uf_report_cell(report, "%s", uf_fact_text_label(text, sizeof text, fact, a, i));
            write_fact(report, fact, a, i, dated, units);
            if (b != NULL) {
                write_fact(report, fact, b, i, dated, units);
            }
        }
    }
}

static bool is_numerics(const struct uf_fact *fact)
{
    return fact->role == UF_FACT_NUMERICS;
}

static bool is_told(const struct uf_fact *fact)
{
    return fact->role == UF_FACT_ANSWER;
}

void uf_recommend_report_facts(struct uf_report *report, const struct uf_fact *facts,
                               enum uf_fact_role role, const struct uf_summary *a,
                               const struct uf_summary *b, enum uf_units units)
{
    const bool answer = role == UF_FACT_ANSWER;
    write_facts(report, facts, answer ? is_told : is_numerics,
                answer ? "What came of the run, extremes with their dates"
                       : "What the numbers rest on",
                a, b, units);
}

/* A probe of the site file can come to lie over the board of another choice: say so. */
static void write_places(const struct uf_recommend_page *page)
{
    const struct uf_case *d = &page->r->jobs[UF_RECOMMEND_KEPT].design;
    for (size_t i = 0; i < d->n_probes && uf_case_has_board(d); i++) {
        if (d->probes[i].depth_m < uf_case_board_top_m(d) &&
            fabs(d->probes[i].x_m) <= uf_case_board_half_width_m(d)) {
            uf_report_paragraph(page->report, "Probe %s lies above the board.", d->probes[i].name);
        }
    }
    if (d->n_pipes > 0) {
        uf_report_paragraph(page->report,
                            "A pipe leaves through an end of the tank: it is judged by "
                            "the ground at its own depth.");
    }
}

static bool is_of_the_body(const struct uf_fact *fact)
{
    return fact->head != NULL;
}

void uf_recommend_report_winter(const struct uf_recommend_page *page)
{
    const struct uf_job *kept = &page->r->jobs[UF_RECOMMEND_KEPT];
    const struct uf_job *inflow = &page->r->jobs[UF_RECOMMEND_INFLOW];
    struct uf_remarks remarks;
    uf_report_section(page->report, "Frost and water through the design winter");
    uf_recommend_report_half_picture(
        page, "frost",
        bare_summary(page) != NULL
            ? "Frost depth in undisturbed ground and over the tank, with board and without; "
              "where board and crown lie."
            : "Frost depth in undisturbed ground and over the tank; where the crown lies.");
    uf_recommend_report_half_picture(
        page, "water", "Water and coldest wetted wall through the winter, and the limit.");
    write_facts(page->report, uf_facts, is_of_the_body, "Extremes of the design winter",
                &kept->summary, bare_summary(page), page->units);
    if (inflow->done) {
        uf_report_paragraph(
            page->report,
            "The verdict counts no inflow (an empty house). With it the water would fall "
            "no lower than %s.",
            UF_TEXT(TEMPERATURE, page->units, inflow->summary.water.degC));
    }
    uf_remarks(&remarks, &kept->design, &kept->summary);
    for (size_t i = 0; i < remarks.n; i++) {
        uf_report_point(page->report, "Caution: %s.", UF_MESSAGE(page->units, &remarks.rows[i]));
    }
}

void uf_recommend_report_run(const struct uf_recommend_page *page)
{
    const struct uf_job *kept = &page->r->jobs[UF_RECOMMEND_KEPT];
    uf_report_section(page->report, "The run of the design winter in full");
    uf_recommend_report_facts(page->report, uf_facts, UF_FACT_ANSWER, &kept->summary,
                              bare_summary(page), page->units);
    write_places(page);
    if (isfinite(kept->summary.water.degC)) {
        uf_report_paragraph(page->report, "%s", uf_outcome_water_why(&kept->design));
    }
    uf_recommend_report_picture(
        page, "long",
        "Long section through the tank's axis on the same day as the section: frozen ground hatched, "
        "the line of freezing in bold, isotherms dotted.");
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
                        record->station[0] != '\0' ? record->station : "not stated",
                        record->source[0] != '\0' ? record->source : "not stated",
                        record->licence[0] != '\0' ? record->licence : "not stated");
    if (record->filled_days > 0) {
        uf_report_paragraph(page->report, "%zu days in short gaps were filled by straight lines.",
                            record->filled_days);
    }
    if (record->note[0] != '\0') {
        uf_report_paragraph(page->report, "%s", record->note);
    }
}

static void write_returns(const struct uf_recommend_page *page,
                          const struct uf_winter_list *winters)
{
    static const struct uf_show_column columns[] = {{"", 'l'}, {"air freezing index", 'r'}};
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
    uf_report_paragraph(page->report, "Design winter: %s.", UF_MESSAGE(page->units, &w->text));
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
    uf_recommend_report_half_picture(
        page, "winters",
        "Air freezing index of every winter on file, return periods and the "
        "design winter; a winter with gaps has no bar.");
}
