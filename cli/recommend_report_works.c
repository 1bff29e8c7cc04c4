#include "io/quantity.h"
#include "recommend_report.h"
#include "solver/flotation.h"

#include <math.h>

static const struct uf_choice *row_of(const struct uf_recommend_page *page)
{
    return &page->r->choices->rows[page->r->shown];
}

static void write_parts(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {
        {"holds down", 'l'}, {"submerged weight", 'r'}, {"whole weight", 'r'}};
    const struct uf_holddown *b = &row_of(page)->uplift.highest;
    uf_report_table(page->report, "Hold-down, part by part, water table at its highest",
                    columns, 3);
    for (size_t i = 0; i < b->n_parts; i++) {
        uf_report_cell(page->report, "%s", b->parts[i].part);
        uf_report_cell(page->report, "%s",
                       UF_TEXT(FORCE, page->units, b->parts[i].submerged_N));
        uf_report_cell(page->report, "%s",
                       UF_TEXT(FORCE, page->units, b->parts[i].total_N));
    }
    uf_report_strong_row(page->report);
    uf_report_cell(page->report, "sum");
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, page->units, b->submerged_N));
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, page->units, b->total_N));
}

static void write_forms(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {
        {"check", 'l'}, {"result", 'r'}, {"source", 'l'}};
    const struct uf_uplift *u = &row_of(page)->uplift;
    uf_report_table(page->report, "The same forces in published forms", columns, 3);
    uf_report_cell(page->report, "factor, submerged weights (judged)");
    uf_report_cell(page->report, "%.2f, asked %.2f", u->highest.factor_submerged,
                   u->required);
    uf_report_cell(page->report, "FEMA P-259, appendix C, for the factor");
    uf_report_cell(page->report, "factor, whole weights");
    uf_report_cell(page->report, "%.2f", u->highest.factor_total);
    uf_report_cell(page->report, "the other book-keeping; compare only with itself");
    uf_report_cell(page->report, "tank alone, no soil: to be held down");
    uf_report_cell(page->report, "%s",
                   UF_TEXT(FORCE, page->units, fmax(0.0, u->fema.net_N)));
    uf_report_cell(page->report, "FEMA P-259, example C7 form");
    uf_report_cell(page->report, "factor, structure whole and soil submerged");
    uf_report_cell(page->report, "%.2f", u->highest.factor_em);
    uf_report_cell(page->report, "USACE EM 1110-2-2100, eq. 3-2");
    for (size_t i = 0; i < UF_FLOTATION_PARTIALS; i++) {
        uf_report_cell(page->report, "UPL, %s: use", uf_flotation_partials[i].name);
        uf_report_cell(page->report, "%.2f %s", u->upl_submerged[i].use,
                       u->upl_submerged[i].use <= 1.0 ? "holds" : "does NOT hold");
        uf_report_cell(page->report, "%s", uf_flotation_partials[i].source);
    }
}

void uf_recommend_report_uplift(const struct uf_recommend_page *page)
{
    const struct uf_uplift *u = &row_of(page)->uplift;
    const enum uf_units units = page->units;
    uf_report_section(page->report, "Uplift");
    uf_report_paragraph(page->report,
                        "The tank is taken empty, whatever its level. Water at %s "
                        "displaces %s and lifts with %s. "
                        "Soil counts as a vertical prism in the tank's shadow; its "
                        "friction, suction and frozen "
                        "ground never count.",
                        UF_TEXT(LENGTH, units, u->highest.water_m),
                        UF_TEXT(VOLUME, units, u->highest.displaced_m3),
                        UF_TEXT(FORCE, units, u->highest.uplift_N));
    write_parts(page);
    write_forms(page);
    if (isfinite(u->straps.leg_N)) {
        uf_report_paragraph(
            page->report,
            "Each strap leg carries %s in the finished ground at the required "
            "factor, and %s before any soil lies on the tank.",
            UF_TEXT(FORCE, units, u->straps.leg_N),
            UF_TEXT(FORCE, units, u->straps.bare_leg_N));
    }
    uf_report_paragraph(
        page->report, "Concrete to add: %s. Least cover for the factor: %s.",
        UF_TEXT(VOLUME, units, u->needed_ballast_m3),
        isfinite(u->least_cover_m) ? UF_TEXT(LENGTH, units, u->least_cover_m)
                                   : "not reached");
    uf_recommend_report_picture(
        page, "uplift",
        "Factor against uplift with the water table at each depth, and the "
        "factor asked for.");
}

void uf_recommend_report_board(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {{"wheel spread by", 'l'},
                                                      {"live pressure", 'r'},
                                                      {"use of the board", 'r'},
                                                      {"source", 'l'}};
    const struct uf_load *load = &row_of(page)->load;
    if (!load->present) {
        return;
    }
    uf_report_section(page->report, "Board under load");
    uf_report_paragraph(
        page->report,
        "Top of the board at %s: soil above presses with %s; long-term strength "
        "is taken as %s under dead and %s under live load. The verdict goes by: %s.",
        UF_TEXT(LENGTH, page->units, load->depth_m),
        UF_TEXT(PRESSURE, page->units, load->dead_Pa),
        UF_TEXT(PRESSURE, page->units, load->dead_limit_Pa),
        UF_TEXT(PRESSURE, page->units, load->live_limit_Pa),
        uf_load_methods[load->method].name);
    uf_report_table(page->report, "All methods side by side; use holds up to 1", columns,
                    4);
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        if ((enum uf_load_method)i == load->method) {
            uf_report_strong_row(page->report);
        }
        uf_report_cell(page->report, "%s", uf_load_methods[i].name);
        uf_report_cell(page->report, "%s",
                       UF_TEXT(PRESSURE, page->units, load->live_Pa[i]));
        uf_report_cell(page->report, "%s", UF_NUMBER(FACTOR, page->units, load->use[i]));
        uf_report_cell(page->report, "%s", uf_load_methods[i].source);
    }
}

static void write_quantity(const struct uf_recommend_page *page, const char *what,
                           double m3, double cost)
{
    uf_report_cell(page->report, "%s", what);
    uf_report_cell(page->report, "%s", UF_TEXT(VOLUME, page->units, m3));
    if (isfinite(cost)) {
        uf_report_cell(page->report, "%.0f", cost);
    } else {
        uf_report_cell(page->report, "-");
    }
}

void uf_recommend_report_pit(const struct uf_recommend_page *page)
{
    const struct uf_choice *row = row_of(page);
    const struct uf_pit *pit = &row->pit;
    const struct uf_report_column columns[] = {
        {"", 'l'},
        {"in place", 'r'},
        {page->r->run.site->design.costs.given ? page->r->run.site->design.costs.currency
                                               : "cost",
         'r'}};
    uf_report_section(page->report, "Pit and quantities");
    uf_report_paragraph(
        page->report,
        "The pit is %s deep, %s by %s at its floor and %s by %s at grade.%s%s",
        UF_TEXT(LENGTH, page->units, pit->depth_m),
        UF_TEXT(LENGTH, page->units, pit->base_width_m),
        UF_TEXT(LENGTH, page->units, pit->base_length_m),
        UF_TEXT(LENGTH, page->units, pit->top_width_m),
        UF_TEXT(LENGTH, page->units, pit->top_length_m),
        pit->needs_engineer
            ? " Deeper than 20 ft (6.1 m): a registered engineer designs its sides."
        : pit->needs_protection
            ? " It needs sloping, shoring or a shield (from 5 ft, 29 CFR 1926 subpart P)."
            : "",
        pit->too_steep
            ? " Its sides are STEEPER than table B-1 allows for the soil class."
            : "");
    uf_report_table(page->report, "Volumes in place, without swell", columns, 3);
    write_quantity(page, "digging", pit->excavation_m3, row->cost.excavation);
    write_quantity(page, "bedding and backfill brought in",
                   pit->bedding_m3 + pit->backfill_m3, row->cost.backfill);
    write_quantity(page, "board", pit->board_m3, row->cost.board);
    write_quantity(page, "concrete, anchors and what is missing",
                   pit->concrete_m3 + row->uplift.needed_ballast_m3, row->cost.concrete);
    write_quantity(page, "dug ground that goes back", pit->native_m3, NAN);
    write_quantity(page, "spoil", pit->spoil_m3, NAN);
}
