#include "io/text/quantity.h"
#include "recommend_report.h"
#include "solver/works/pit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The clause list: what each limit and each code asks, what the recommended option gives, their ratio,
   and whether the clause was read when the program was written. A ratio is what is asked over what is
   given where a least is asked, the other way where a most is: met up to 1. */

/* Marks of a source. */
static const char is_read[] = "read", is_memory[] = "from memory", is_site[] = "site file",
                  is_quoted[] = "read as quoted", is_practice[] = "common practice";

/* One clause; ratio NAN: has none. */
struct clause {
    const char *code, *what, *mark;
    enum uf_quantity kind;
    double asked, given;
    bool at_least;
    const char *mark_of_numbers; /* where it differs from the clause's; NULL */
};

static const char *format_ratio(char *text, size_t size, double ratio)
{
    if (!isfinite(ratio)) {
        (void)snprintf(text, size, "-");
    } else { /* near 1 with as many digits as tell on which side it is */
        (void)snprintf(text, size, "%.*f", fabs(ratio - 1.0) < 0.005 ? 4 : 2, ratio);
    }
    return text;
}

static void write(const struct uf_recommend_page *page, const struct clause *c)
{
    const bool met = c->at_least ? c->given >= c->asked : c->given <= c->asked;
    const bool level = c->kind == UF_QUANTITY_TEMPERATURE; /* degrees have no ratio */
    const double ratio = level         ? (double)NAN
                         : c->at_least ? c->asked / c->given
                                       : c->given / c->asked;
    char text[4][48];
    if (!isfinite(c->asked) || isnan(c->given)) {
        return;
    }
    (void)snprintf(text[3], sizeof text[3], "%s",
                   level ? uf_quantity_text(text[2], sizeof text[2], UF_QUANTITY_DIFFERENCE,
                                            page->units,
                                            c->at_least ? c->given - c->asked : c->asked - c->given)
                         : format_ratio(text[2], sizeof text[2], ratio));
    uf_report_cell(page->report, "%s", c->code);
    uf_report_cell(page->report, "%s", c->what);
    uf_report_cell(page->report, "%s %s", c->at_least ? "at least" : "at most",
                   uf_quantity_text(text[0], sizeof text[0], c->kind, page->units, c->asked));
    uf_report_cell(page->report, "%s",
                   uf_quantity_text(text[1], sizeof text[1], c->kind, page->units, c->given));
    uf_report_cell(page->report, "%s%s", level ? "margin " : "", text[3]);
    uf_report_cell(page->report, "%s", met ? "yes" : "NO");
    uf_report_cell(page->report, "%s%s%s", c->mark, c->mark_of_numbers != NULL ? "; numbers " : "",
                   c->mark_of_numbers != NULL ? c->mark_of_numbers : "");
}

static const struct uf_choice *row_of(const struct uf_recommend_page *page)
{
    return &page->r->choices->rows[page->r->shown];
}

static void write_limits(const struct uf_recommend_page *page)
{
    const struct uf_verdict *v = &row_of(page)->verdict;
    for (size_t i = 0; i < uf_limit_count; i++) {
        const struct uf_limit *limit = &uf_limits[i];
        if (!isnan(v->margin[i])) {
            write(page, &(struct clause){limit->key, limit->label, is_site, limit->quantity,
                                         v->asked[i], v->got[i], limit->at_least, NULL});
        }
    }
}

/* Buoyant weights of anchors and of the soil over them: what holds where no soil over the tank counts. */
static double anchors_N(const struct uf_holddown *b)
{
    static const char *const tanks_own[] = {"tank", "soil above", "shoulder soil", "board"};
    double sum_N = 0.0;
    for (size_t i = 0; i < b->n_parts; i++) {
        bool own = false;
        for (size_t k = 0; k < sizeof tanks_own / sizeof tanks_own[0]; k++) {
            own = own || strcmp(b->parts[i].part, tanks_own[k]) == 0;
        }
        sum_N += own ? 0.0 : b->parts[i].submerged_N;
    }
    return sum_N;
}

static void write_flotation(const struct uf_recommend_page *page)
{
    const struct uf_uplift *u = &row_of(page)->uplift;
    write(page,
          &(struct clause){"USACE EM 1110-2-2100, eq. 3-2, table 3-4",
                           "flotation, structure whole and soil buoyant, usual condition", is_read,
                           UF_QUANTITY_FACTOR, 1.3, u->highest.factor_em, true, is_memory});
    write(page,
          &(struct clause){"FEMA P-259, app. C, example C7",
                           "net buoyancy to be held by anchors, no soil over the tank counted",
                           is_read, UF_QUANTITY_FORCE, fmax(0.0, u->fema.net_N),
                           anchors_N(&u->highest), true, NULL});
    for (size_t i = 0; i < UF_FLOTATION_PARTIALS; i++) {
        char what[160];
        (void)snprintf(what, sizeof what, "%.2f x uplift against %.2f x buoyant weights",
                       uf_flotation_partials[i].destabilising,
                       uf_flotation_partials[i].stabilising);
        write(page,
              &(struct clause){uf_flotation_partials[i].name, what, i == 0 ? is_read : is_quoted,
                               UF_QUANTITY_FORCE, u->upl_submerged[i].dst_N,
                               u->upl_submerged[i].stb_N, true, i == 0 ? is_quoted : NULL});
    }
}

static void write_works(const struct uf_recommend_page *page)
{
    static const char *const methods[UF_LOAD_METHODS] = {[UF_LOAD_TABLE] = is_quoted,
                                                         [UF_LOAD_SPREAD] = is_quoted,
                                                         [UF_LOAD_POINT] = is_quoted,
                                                         [UF_LOAD_PATCH] = is_quoted,
                                                         [UF_LOAD_LRFD] =
                                                             "read as quoted, impact from memory"};
    const struct uf_choice *row = row_of(page);
    const struct uf_pit *pit = &row->pit;
    const struct uf_load *load = &row->load;
    if (load->present) {
        write(page, &(struct clause){"a third of the board's strength", "dead load on the board",
                                     is_practice, UF_QUANTITY_PRESSURE, load->dead_limit_Pa,
                                     load->dead_Pa, false, NULL});
    }
    if (load->present && page->r->run.site->design.wheel_N > 0.0) {
        write(page, &(struct clause){"a fifth of the board's strength", "live load on the board",
                                     is_practice, UF_QUANTITY_PRESSURE, load->live_limit_Pa,
                                     load->live_Pa[load->method], false, methods[load->method]});
    }
    write(page, &(struct clause){"29 CFR 1926 subpart P, table B-1",
                                 "slope of the pit, horizontal per vertical", is_read,
                                 UF_QUANTITY_FACTOR, pit->allowed_slope,
                                 pit->given ? pit->dig.slope : (double)NAN, true, NULL});
    write(page, &(struct clause){"29 CFR 1926 subpart P, table B-1",
                                 "depth of the pit, deeper by a registered engineer", is_read,
                                 UF_QUANTITY_LENGTH, UF_PIT_ENGINEER_M, pit->depth_m, false, NULL});
}

static void write_suction(const struct uf_recommend_page *page)
{
    const struct uf_suction *s = &page->check.suction;
    write(page, &(struct clause){"NRCS NE-ENG-76 (2004)", "total suction head at this altitude",
                                 is_read, UF_QUANTITY_LENGTH, s->most_m, s->total_m, false, NULL});
    write(page,
          &(struct clause){"NRCS Code 432 (South Dakota 2004)", "static lift", is_read,
                           UF_QUANTITY_LENGTH, s->greatest_static_m, s->static_m, false, NULL});
    write(page,
          &(struct clause){"NRCS Code 432 (South Dakota 2004)", "the flow for two hours", is_read,
                           UF_QUANTITY_LIQUID, s->two_hours_m3, s->available_m3, true, NULL});
}

static void write_topics(const struct uf_recommend_page *page)
{
    const struct uf_check *t = &page->check;
    const struct uf_roundness_input *round = &page->r->run.site->works.roundness;
    const struct uf_lifting_legs *legs =
        isnan(t->lifting.given.from_horizontal_rad) ? &t->lifting.at_least : &t->lifting.given;
    if (page->found[UF_CHECK_suction]) {
        write_suction(page);
    }
    if (page->found[UF_CHECK_fittings] && page->r->run.site->design.tank.n_risers > 0) {
        write(page, &(struct clause){
                        "Canadian Foundation Engineering Manual, bond",
                        "frost-jacking force on the risers against the resisting force", is_quoted,
                        UF_QUANTITY_FORCE, t->fittings.jacking_N, t->fittings.spare_N, true, NULL});
    }
    if (page->found[UF_CHECK_lifting]) {
        write(page, &(struct clause){"ASME B30.9", "sine of a leg's angle from the horizontal",
                                     is_read, UF_QUANTITY_FACTOR, sin(UF_LIFTING_LEAST_RAD),
                                     sin(legs->from_horizontal_rad), true, NULL});
        write(page, &(struct clause){"lifting.hoist", "load and rigging on the hoist", is_site,
                                     UF_QUANTITY_SHARE, 1.0, t->lifting.hoist_use, false, NULL});
    }
    if (t->has_forecast) {
        write(page, &(struct clause){"roundness.limit", "deflection by the modified Iowa formula",
                                     is_site, UF_QUANTITY_SHARE, round->limit,
                                     t->forecast.deflection, false, is_memory});
    }
    if (t->has_readings) {
        double most = 0.0;
        for (size_t i = 0; i < t->roundness.n; i++) {
            most = fmax(most, fabs(t->roundness.rows[i].deflection));
        }
        write(page, &(struct clause){"roundness.limit", "deflection measured", is_site,
                                     UF_QUANTITY_SHARE, round->limit, most, false, NULL});
    }
}

void uf_recommend_report_clauses(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {
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
    write_flotation(page);
    write_works(page);
    write_topics(page);
    uf_report_paragraph(
        page->report,
        "The verdict rests on the limits of the site file; the codes stand beside them for "
        "whoever must answer to one, and a NO there is not hidden.");
}
