#include "io/text/quantity.h"
#include "recommend_report.h"
#include "solver/base/constants.h"
#include "solver/statics/flotation.h"

#include <math.h>
#include <stdio.h>

static const struct uf_choice *row_of(const struct uf_recommend_page *page)
{
    return &page->r->choices->rows[page->r->shown];
}

static void write_force_row(const struct uf_recommend_page *page, const char *what,
                            double submerged_N, double total_N)
{
    uf_report_cell(page->report, "%s", what);
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, page->units, submerged_N));
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, page->units, total_N));
}

static void write_parts(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {
        {"", 'l'}, {"buoyant weights", 'r'}, {"total weights", 'r'}};
    const struct uf_holddown *b = &row_of(page)->uplift.highest;
    uf_report_table(
        page->report,
        "Forces part by part, water table at its highest. Submerged weights: "
        "what lies in water counts less the water it displaces, against the "
        "uplift on tank, risers and board. Whole weights: against the water that all of it "
        "displaces.",
        columns, 3);
    for (size_t i = 0; i < b->n_parts; i++) {
        write_force_row(page, b->parts[i].part, b->parts[i].submerged_N, b->parts[i].total_N);
    }
    uf_report_strong_row(page->report);
    write_force_row(page, "resisting forces", b->submerged_N, b->total_N);
    write_force_row(page, "lifts", b->uplift_N, UF_WATER_UNIT_N_M3 * b->total_below_m3);
    uf_report_strong_row(page->report);
    uf_report_cell(page->report, "factor");
    uf_report_cell(page->report, "%s", UF_NUMBER(FACTOR, page->units, b->factor_submerged));
    uf_report_cell(page->report, "%s", UF_NUMBER(FACTOR, page->units, b->factor_total));
}

static void write_form(const struct uf_recommend_page *page, const char *check, const char *result,
                       const char *asked, const char *source)
{
    uf_report_cell(page->report, "%s", check);
    uf_report_cell(page->report, "%s", result);
    uf_report_cell(page->report, "%s", asked);
    uf_report_cell(page->report, "%s", source);
}

static void write_forms(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {
        {"check", 'l'}, {"result", 'r'}, {"asked", 'l'}, {"source", 'l'}};
    const struct uf_uplift *u = &row_of(page)->uplift;
    char asked[40];
    uf_report_table(page->report, "The same forces in published forms", columns, 4);
    (void)snprintf(asked, sizeof asked, "at least %.2f", u->required);
    uf_report_strong_row(page->report);
    write_form(page, "factor of safety, buoyant weights: the one judged",
               UF_NUMBER(FACTOR, page->units, u->highest.factor_submerged), asked,
               "FEMA P-259, appendix C, for the factor asked");
    write_form(page, "factor of safety, total weights",
               UF_NUMBER(FACTOR, page->units, u->highest.factor_total),
               "more than 1; nears 1 the more soil counts",
               "the other way to count the same forces");
    write_form(page, "factor of safety, structure total and soil buoyant weight",
               UF_NUMBER(FACTOR, page->units, u->highest.factor_em),
               "1.3 usual, 1.2 unusual, 1.1 extreme (from memory)",
               "USACE EM 1110-2-2100, eq. 3-2");
    (void)snprintf(asked, sizeof asked, "at factor %.2f", u->required);
    write_form(page, "to be held down where no soil counts, tank all under water",
               UF_TEXT(FORCE, page->units, fmax(0.0, u->fema.net_N)), asked,
               "FEMA P-259, appendix C, example C7");
    for (size_t i = 0; i < UF_FLOTATION_PARTIALS; i++) {
        char check[120];
        (void)snprintf(check, sizeof check,
                       "%s: lifting times %.2f over holding down times %.2f, submerged",
                       uf_flotation_partials[i].name, uf_flotation_partials[i].destabilising,
                       uf_flotation_partials[i].stabilising);
        const double use = u->upl_submerged[i].use;
        char result[40]; /* near 1 with as many digits as tell on which side it is */
        (void)snprintf(result, sizeof result, "%.*f", fabs(use - 1.0) < 0.005 ? 4 : 2, use);
        write_form(page, check, isfinite(use) ? result : "-",
                   use <= 1.0 ? "at most 1: holds" : "at most 1: does NOT hold",
                   uf_flotation_partials[i].source);
    }
}

static void write_solved(const struct uf_recommend_page *page)
{
    const struct uf_uplift *u = &row_of(page)->uplift;
    const enum uf_units units = page->units;
    if (isfinite(u->straps.leg_N)) {
        uf_report_point(page->report,
                        "Each strap leg carries %s in the finished ground at the required "
                        "factor, and %s before any soil lies on the tank.",
                        UF_TEXT(FORCE, units, u->straps.leg_N),
                        UF_TEXT(FORCE, units, u->straps.bare_leg_N));
    }
    if (page->r->run.site->design.anchors.straps == 0 && u->straps.bare_net_N > 0.0) {
        uf_report_point(page->report,
                        "NO STRAPS are given: the anchors count only where something else fastens "
                        "the tank to them, made for %s in the finished ground at the required "
                        "factor, and for %s before any soil lies on the tank.",
                        UF_TEXT(FORCE, units, u->straps.net_N),
                        UF_TEXT(FORCE, units, u->straps.bare_net_N));
    }
    if (u->needed_ballast_m3 > 0.0) {
        uf_report_point(page->report, "Concrete to add for the factor asked: %s.",
                        UF_TEXT(VOLUME, units, u->needed_ballast_m3));
    } else {
        uf_report_point(page->report, "No more concrete is needed.");
    }
    if (isfinite(u->least_cover_m)) {
        uf_report_point(page->report,
                        "The least cover that gives the factor, all else as designed: %s.",
                        UF_TEXT(LENGTH, units, u->least_cover_m));
    } else {
        uf_report_point(page->report, "No cover gives the factor, all else as designed.");
    }
}

void uf_recommend_report_uplift(const struct uf_recommend_page *page)
{
    const struct uf_uplift *u = &row_of(page)->uplift;
    const enum uf_units units = page->units;
    uf_report_section(page->report, "Uplift");
    uf_report_paragraph(
        page->report,
        "The tank is taken empty, whatever its level. With the water table %s "
        "it displaces %s of water, which lifts it with %s. Soil counts as a "
        "vertical prism within the tank's footprint, of the board only what lies within it; "
        "friction, suction and frozen ground never count.",
        UF_LEVEL(units, u->highest.water_m), UF_TEXT(VOLUME, units, u->highest.displaced_m3),
        UF_TEXT(FORCE, units, u->highest.uplift_N));
    write_parts(page);
    write_forms(page);
    write_solved(page);
    uf_recommend_report_picture(
        page, "uplift",
        "Factor against uplift with the water table at each depth, and the factor asked for.");
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
        "The top of the board lies %s below grade, where the soil above presses with %s. "
        "The board's allowable long-term stress is %s under dead load (a third of its strength) "
        "and %s under live load (a fifth; common practice, no source).",
        UF_TEXT(LENGTH, page->units, load->depth_m), UF_TEXT(PRESSURE, page->units, load->dead_Pa),
        UF_TEXT(PRESSURE, page->units, load->dead_limit_Pa),
        UF_TEXT(PRESSURE, page->units, load->live_limit_Pa));
    if (!(page->r->run.site->design.wheel_N > 0.0)) {
        uf_report_paragraph(page->report,
                            "No wheel was asked for: soil alone takes %s of that, and "
                            "holds up to 1.",
                            UF_NUMBER(FACTOR, page->units, load->board_use));
        return;
    }
    uf_report_table(
        page->report,
        "The wheel by every method, impact included. Utilization: dead and live load, each over "
        "its allowable stress; at most 1. The verdict goes by the method in bold.",
        columns, 4);
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        if ((enum uf_load_method)i == load->method) {
            uf_report_strong_row(page->report);
        }
        uf_report_cell(page->report, "%s", uf_load_methods[i].name);
        uf_report_cell(page->report, "%s", UF_TEXT(PRESSURE, page->units, load->live_Pa[i]));
        uf_report_cell(page->report, "%s", UF_NUMBER(FACTOR, page->units, load->use[i]));
        uf_report_cell(page->report, "%s", uf_load_methods[i].source);
    }
}

static void write_quantity(const struct uf_recommend_page *page, const char *what,
                           enum uf_quantity kind, double amount, double cost)
{
    char text[64];
    uf_report_cell(page->report, "%s", what);
    uf_report_cell(page->report, "%s",
                   uf_quantity_text(text, sizeof text, kind, page->units, amount));
    if (page->r->run.site->design.costs.given && isfinite(cost)) {
        uf_report_cell(page->report, "%.0f", cost);
    } else if (page->r->run.site->design.costs.given) {
        uf_report_cell(page->report, "-");
    }
}

void uf_recommend_report_pit(const struct uf_recommend_page *page)
{
    const struct uf_choice *row = row_of(page);
    const struct uf_pit *pit = &row->pit;
    const struct uf_costs *costs = &page->r->run.site->design.costs;
    const struct uf_report_column columns[] = {
        {"", 'l'}, {"in place", 'r'}, {costs->currency, 'r'}};
    uf_report_section(page->report, "Pit and quantities");
    uf_report_paragraph(
        page->report, "The pit is %s deep, %s by %s at its floor and %s by %s at grade.%s%s",
        UF_TEXT(LENGTH, page->units, pit->depth_m), UF_TEXT(LENGTH, page->units, pit->base_width_m),
        UF_TEXT(LENGTH, page->units, pit->base_length_m),
        UF_TEXT(LENGTH, page->units, pit->top_width_m),
        UF_TEXT(LENGTH, page->units, pit->top_length_m),
        pit->needs_engineer ? " Deeper than 20 ft (6.1 m): a registered engineer designs its sides."
        : pit->needs_protection
            ? " It needs sloping, shoring or a shield (from 5 ft, 29 CFR 1926 subpart P)."
            : "",
        pit->too_steep ? " Its sides are STEEPER than table B-1 allows for the soil class." : "");
    if (!pit->given) {
        uf_report_paragraph(page->report,
                            "No pit was described (burial.pit): it is counted with no "
                            "room beside the tank and sides of %.2g across to 1 down.",
                            page->r->run.site->design.burial.pit_slope);
    }
    uf_report_table(page->report,
                    costs->given
                        ? "Volumes in place, without swell, and what they cost at the prices given"
                        : "Volumes in place, without swell (no prices were given)",
                    columns, costs->given ? 3 : 2);
    for (size_t i = 0; i < UF_COST_ITEMS; i++) {
        if (row->cost.part[i] > 0.0 || (uf_cost_rows[i].needed && row->cost.amount[i] > 0.0)) {
            write_quantity(page, uf_cost_rows[i].name, uf_cost_rows[i].quantity,
                           row->cost.amount[i], row->cost.part[i]);
        }
    }
    write_quantity(page, "dug ground that goes back", UF_QUANTITY_VOLUME, pit->native_m3, NAN);
    write_quantity(page, "spoil", UF_QUANTITY_VOLUME, pit->spoil_m3, NAN);
    if (costs->given) {
        uf_report_strong_row(page->report);
        uf_report_cell(page->report, "sum%s", row->cost.complete ? "" : " of what has a price");
        uf_report_cell(page->report, "%s", "");
        uf_report_cell(page->report, "%.0f", row->cost.total);
    }
}
