#include "cli/check/check_rows.h"
#include "io/text/quantity.h"
#include "recommend_report.h"

#include <math.h>
#include <stdio.h>

/* The clause list: what each limit and each code asks, what the recommended option gives, their ratio,
   and whether the clause was read when the program was written. A ratio is what is asked over what is
   given where a least is asked, the other way where a most is: met up to 1. The limits are the rows of
   their table, the codes stand at the rows of the topics of check. */

UF_CHECK_VALUE(double, allowed_slope, check->pit.allowed_slope)
UF_CHECK_VALUE(double, engineer, UF_PIT_ENGINEER_M)
UF_CHECK_WHERE(has_slope, check->pit.given)

/* Of the pit, whose topic has no rows. */
static const struct uf_check_row pit_rows[] = {
    {NULL, "slope of the pit, horizontal per vertical", UF_QUANTITY_FACTOR,
     UF_CHECK_FOUND(pit.dig.slope), .told = has_slope,
     .clause = &(const struct uf_check_clause){"29 CFR 1926 subpart P, table B-1", NULL,
                                               UF_CHECK_READ, .required = allowed_slope}},
    {NULL, "depth of the pit, deeper by a registered engineer", UF_QUANTITY_LENGTH,
     UF_CHECK_FOUND(pit.depth_m),
     .clause =
         &(const struct uf_check_clause){"29 CFR 1926 subpart P, table B-1", NULL, UF_CHECK_READ,
                                         .at_most = true, .required = engineer}},
    {.key = NULL}};

static const char *format_ratio(char *text, size_t size, double ratio)
{
    if (!isfinite(ratio)) {
        (void)snprintf(text, size, "-");
    } else { /* near 1 with as many digits as tell on which side it is */
        (void)snprintf(text, size, "%.*f", fabs(ratio - 1.0) < 0.005 ? 4 : 2, ratio);
    }
    return text;
}

static void write_claim(const void *to, const struct uf_check_claim *claim)
{
    const struct uf_recommend_page *page = to;
    const struct uf_check_clause *c = &claim->clause;
    const double asked = claim->required, given = claim->provided;
    const bool met = c->at_most ? given <= asked : given >= asked;
    const bool level = claim->quantity == UF_QUANTITY_TEMPERATURE; /* degrees have no ratio */
    char text[48];
    if (!isfinite(asked) || isnan(given)) {
        return;
    }
    uf_report_cell(page->report, "%s", c->code);
    uf_report_cell(page->report, "%s", c->what);
    uf_report_cell(page->report, "%s %s", c->at_most ? "at most" : "at least",
                   uf_quantity_text(text, sizeof text, claim->quantity, page->units, asked));
    uf_report_cell(page->report, "%s",
                   uf_quantity_text(text, sizeof text, claim->quantity, page->units, given));
    if (level) {
        uf_report_cell(
            page->report, "margin %s",
            UF_TEXT(DIFFERENCE, page->units, c->at_most ? asked - given : given - asked));
    } else {
        uf_report_cell(page->report, "%s",
                       format_ratio(text, sizeof text, c->at_most ? given / asked : asked / given));
    }
    uf_report_cell(page->report, "%s", met ? "yes" : "NO");
    uf_report_cell(page->report, "%s%s%s", c->known, c->numbers != NULL ? "; numbers " : "",
                   c->numbers != NULL ? c->numbers : "");
}

static void write_limits(const struct uf_recommend_page *page)
{
    const struct uf_verdict *v = &page->r->choices->rows[page->r->shown].verdict;
    for (size_t i = 0; i < uf_limit_count; i++) {
        const struct uf_limit *limit = &uf_limits[i];
        if (!isnan(v->margin[i])) {
            write_claim(page, &(struct uf_check_claim){{limit->key, limit->label, UF_CHECK_SITE,
                                                        .at_most = !limit->at_least},
                                                       limit->quantity,
                                                       v->asked[i],
                                                       v->got[i]});
        }
    }
}

static void write_codes(const struct uf_recommend_page *page)
{
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        const struct uf_check_topic *topic = uf_check_topics[i];
        if (page->found[i] || (topic->own_chapter && topic->given(&page->check))) {
            uf_check_rows_clauses(topic->rows, &page->check, write_claim, page);
        }
    }
    uf_check_rows_clauses(pit_rows, &page->check, write_claim, page);
}

void uf_recommend_report_clauses(const struct uf_recommend_page *page)
{
    static const struct uf_show_column columns[] = {
        {"clause", 'w'}, {"what", 'w'}, {"required", 'r'}, {"provided", 'r'},
        {"ratio", 'r'},  {"met", 'l'},  {"known", 'w'}};
    uf_report_section(page->report, "Clause list");
    uf_report_table(
        page->report,
        "What the limits of the site file and the codes that the program evaluates ask, and "
        "what is provided. Ratio: required over provided where a least is asked, provided over "
        "required where a most is; met up to 1. Known: read in its own text, read as quoted by "
        "another, or from memory: check before quoting.",
        columns, 7);
    write_limits(page);
    write_codes(page);
    uf_report_paragraph(
        page->report,
        "The verdict rests on the limits of the site file; the codes stand beside them for "
        "whoever must answer to one, and a NO there is not hidden.");
}
