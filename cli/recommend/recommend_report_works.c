#include "io/text/quantity.h"
#include "recommend_report.h"
#include "solver/base/constants.h"
#include "solver/design/anchor.h"
#include "solver/design/dig.h"
#include "solver/design/tank.h"
#include "solver/statics/flotation.h"

#include <math.h>
#include <stdio.h>

static const struct uf_choice *row_of(const struct uf_recommend_page *page)
{
    return &page->r->choices->rows[page->r->shown];
}

const char *uf_recommend_report_unit_weight(char *text, size_t size, enum uf_units units,
                                            double N_m3)
{
    (void)snprintf(text, size, "%.2f %s", uf_quantity_value(UF_QUANTITY_UNIT_WEIGHT, units, N_m3),
                   uf_quantity_unit(UF_QUANTITY_UNIT_WEIGHT, units));
    return text;
}

/* The unit weight of a part and what it comes to, so that every product can be done again. */
static void write_part(const struct uf_recommend_page *page, const struct uf_holddown_part *part)
{
    const enum uf_units units = page->units;
    const bool has = part->volume_m3 > 0.0;
    char text[48];
    uf_report_cell(page->report, "%s", part->part);
    uf_report_cell(page->report, "%s", has ? UF_TEXT(VOLUME_FINE, units, part->volume_m3) : "-");
    uf_report_cell(page->report, "%s",
                   has ? uf_recommend_report_unit_weight(text, sizeof text, units,
                                                         part->total_N / part->volume_m3)
                       : "-");
    uf_report_cell(page->report, "%s", has ? UF_TEXT(VOLUME_FINE, units, part->below_m3) : "-");
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, units, part->total_N));
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, units, part->submerged_N));
    uf_report_cell(page->report, "%s",
                   part->lifts_N > 0.0 ? UF_TEXT(FORCE, units, part->lifts_N) : "-");
}

void uf_recommend_report_parts(const struct uf_recommend_page *page,
                               const struct uf_holddown *balance, const char *caption)
{
    static const struct uf_show_column columns[] = {{"", 'l'},
                                                    {"volume V", 'r'},
                                                    {"unit weight", 'r'},
                                                    {"below water V'", 'r'},
                                                    {"total weight W", 'r'},
                                                    {"buoyant weight", 'r'},
                                                    {"uplift", 'r'}};
    const enum uf_units units = page->units;
    uf_report_table(page->report, caption, columns, 7);
    for (size_t i = 0; i < balance->n_parts; i++) {
        write_part(page, &balance->parts[i]);
    }
    uf_report_strong_row(page->report);
    uf_report_cell(page->report, "sums");
    for (int i = 0; i < 3; i++) {
        uf_report_cell(page->report, "%s", "");
    }
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, units, balance->total_N));
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, units, balance->submerged_N));
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, units, balance->uplift_N));
}

static void write_parts(const struct uf_recommend_page *page)
{
    const struct uf_holddown *b = &row_of(page)->uplift.highest;
    const enum uf_units units = page->units;
    char caption[500], water[48];
    (void)uf_recommend_report_unit_weight(water, sizeof water, units, UF_WATER_UNIT_N_M3);
    (void)snprintf(
        caption, sizeof caption,
        "Resisting forces and uplift part by part, water table at its highest. W = unit weight "
        "x V (the mean over the part; its layers: appendix, Statics line by line); buoyant weight = W - "
        "%s x V'. Tank, risers and foam count whole: the water that they displace is the uplift.",
        water);
    uf_recommend_report_parts(page, b, caption);
    uf_report_paragraph(
        page->report,
        "Factor of safety, buoyant weights: %s / %s = %.2f, required %.2f. With total "
        "weights: %s / (%s x %s) = %.2f, the other way to count the same forces; it nears "
        "1 the more soil counts.",
        UF_TEXT(FORCE, units, b->submerged_N), UF_TEXT(FORCE, units, b->uplift_N),
        b->factor_submerged, row_of(page)->uplift.required, UF_TEXT(FORCE, units, b->total_N),
        water, UF_TEXT(VOLUME_FINE, units, b->total_below_m3), b->factor_total);
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
    const size_t straps = page->r->jobs[UF_RECOMMEND_KEPT].design.anchors.straps;
    if (straps > 0 && page->r->run.site->design.anchors.straps == 0) {
        uf_report_point(
            page->report,
            "%zu straps are ASSUMED with the anchors that were solved for: the site file gives "
            "none (anchors.straps). Their number and ends are the tank manufacturer's.",
            straps);
    }
    if (straps == 0 && u->straps.bare_net_N > 0.0) {
        uf_report_point(page->report,
                        "NO STRAPS are given: the anchors count only where something else fastens "
                        "the tank to them, made for %s in the finished ground at the required "
                        "factor, and for %s before any soil lies on the tank.",
                        UF_TEXT(FORCE, units, u->straps.net_N),
                        UF_TEXT(FORCE, units, u->straps.bare_net_N));
    }
    if (u->needed_ballast_m3 > 0.0) {
        uf_report_point(page->report, "Concrete to add for the required factor: %s.",
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

/* How the outside volume comes about. */
static void write_volume(const struct uf_recommend_page *page)
{
    const struct uf_tank *tank = &page->r->run.site->design.tank;
    const enum uf_units units = page->units;
    const double heads_m3 = uf_tank_heads_m3(tank);
    if (!(heads_m3 > 0.0)) {
        return;
    }
    uf_report_paragraph(
        page->report,
        "Of the tank's %s its two heads hold %s: each reaches out h = %s and holds pi D^2 h / 6 = %s (half an "
        "ellipsoid), D = %s. The rest is pi D^2 / 4 times the straight part of %s.",
        UF_TEXT(VOLUME_FINE, units, row_of(page)->uplift.volume_m3),
        UF_TEXT(VOLUME_FINE, units, heads_m3), UF_TEXT(LENGTH, units, uf_tank_head_depth_m(tank)),
        UF_TEXT(VOLUME_FINE, units, 0.5 * heads_m3), UF_TEXT(LENGTH, units, tank->diameter_m),
        UF_TEXT(LENGTH, units,
                (row_of(page)->uplift.volume_m3 - heads_m3) /
                    (0.25 * UF_PI * tank->diameter_m * tank->diameter_m)));
}

static const char *area(char *text, size_t size, enum uf_units units, double m2)
{
    (void)snprintf(text, size, "%.3f %s", uf_quantity_value(UF_QUANTITY_AREA, units, m2),
                   uf_quantity_unit(UF_QUANTITY_AREA, units));
    return text;
}

/* How the prisms and the uplift come about. */
static void write_prisms(const struct uf_recommend_page *page)
{
    const struct uf_case *d = &page->r->jobs[UF_RECOMMEND_KEPT].design;
    const struct uf_uplift *u = &row_of(page)->uplift;
    const struct uf_holddown_part *tank = uf_holddown_find(&u->highest, "tank");
    const enum uf_units units = page->units;
    char plan[48];
    uf_report_paragraph(
        page->report,
        "Prisms: the tank's plan A = %s, cover %s; risers with their sleeves take %s of the ground over "
        "the crown. Soil above = A x cover - risers - board. Shoulder soil (of a lying cylinder) = A x D "
        "/ 2 - half the tank. Uplift of the tank = %.2f %s x (what of tank and risers lies below the "
        "water table, %s).",
        area(plan, sizeof plan, units, uf_tank_plan_area_m2(&d->tank)),
        UF_TEXT(LENGTH, units, uf_case_crown_m(d)),
        UF_TEXT(VOLUME_FINE, units, uf_dig_risers_m3(d, 0.0, uf_case_crown_m(d))),
        uf_quantity_value(UF_QUANTITY_UNIT_WEIGHT, units, UF_WATER_UNIT_N_M3),
        uf_quantity_unit(UF_QUANTITY_UNIT_WEIGHT, units),
        UF_TEXT(VOLUME_FINE, units, tank != NULL ? tank->lifts_N / UF_WATER_UNIT_N_M3 : 0.0));
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_body body = uf_anchor_at((enum uf_anchor_kind)i)->body(d);
        if (body.count > 0.0) {
            uf_report_paragraph(
                page->report,
                "Each of %.0f %s is %s wide, %s high and %s long, its top %s below grade; soil over it "
                "counts outside the tank's footprint.",
                body.count, uf_anchor_at((enum uf_anchor_kind)i)->word,
                UF_TEXT(LENGTH, units, body.width_m), UF_TEXT(LENGTH, units, body.height_m),
                UF_TEXT(LENGTH, units, body.length_m), UF_TEXT(LENGTH, units, body.top_m));
        }
    }
}

void uf_recommend_report_uplift(const struct uf_recommend_page *page)
{
    const struct uf_uplift *u = &row_of(page)->uplift;
    const enum uf_units units = page->units;
    uf_report_section(page->report, "Flotation");
    uf_report_paragraph(
        page->report,
        "The tank (%s outside, without risers) is taken empty, whatever its level. With the water table %s "
        "it displaces %s of water, risers and board included: an uplift force of %s. Soil counts as "
        "vertical prisms within the tank's footprint and over the anchors beside it, of the board only "
        "what lies there; friction, suction and frozen ground are not counted.",
        UF_TEXT(VOLUME_FINE, units, u->volume_m3), UF_LEVEL(units, u->highest.water_m),
        UF_TEXT(VOLUME_FINE, units, u->highest.displaced_m3),
        UF_TEXT(FORCE, units, u->highest.uplift_N));
    write_volume(page);
    write_prisms(page);
    write_parts(page);
    write_solved(page);
    uf_recommend_report_half_picture(
        page, "uplift",
        "Factor of safety against flotation with the water table at each "
        "depth, and the one required.");
}

/* What the live loads above are worked from, so that each can be done again. */
static void write_worked(const struct uf_recommend_page *page)
{
    const struct uf_load *load = &row_of(page)->load;
    const double m = UF_LOAD_TYRE_LONG_M / 2.0 / load->depth_m;
    const double n = UF_LOAD_TYRE_SHORT_M / 2.0 / load->depth_m;
    uf_report_paragraph(
        page->report,
        "Worked: H = %s, P = %s. Impact, on all but the table and the last (which holds its own): 1.50 to 1 ft "
        "(0.30 m), 1.35 to 2 ft, 1.15 to 3 ft, then 1; here %.2f. Newmark: m = 10 in / H = %.4f, n = 5 "
        "in / H = %.4f, V = m^2 + n^2 + 1, W = m^2 n^2, I = [2 m n V^0.5 / (V + W) x (V + 1) / V + "
        "arctan(2 m n V^0.5 / (V - W))] / (4 pi) = %.5f, the angle from 0 to pi.",
        UF_TEXT(LENGTH, page->units, load->depth_m),
        UF_TEXT(FORCE, page->units, page->r->run.site->design.wheel_N),
        uf_load_impact(load->depth_m), m, n, uf_load_corner_share(m, n));
}

void uf_recommend_report_board(const struct uf_recommend_page *page)
{
    static const struct uf_show_column columns[] = {{"wheel spread by", 'l'},
                                                    {"live load", 'r'},
                                                    {"utilization", 'r'},
                                                    {"worked, H below grade; source", 'w'}};
    static const char *const formulas[UF_LOAD_METHODS] = {
        [UF_LOAD_TABLE] = "At 1 to 8 ft 12.5, 5.56, 4.17, 2.78, 1.74, 1.39, 1.22, 0.69 psi",
        [UF_LOAD_SPREAD] =
            "P / s^2, s = 1.75 H; where two wheels' squares meet 2 P / (s (s + 6 ft))",
        [UF_LOAD_POINT] = "3 P / (2 pi H^2)",
        [UF_LOAD_PATCH] = "4 I P / (20 in x 10 in), I as below",
        [UF_LOAD_LRFD] =
            "P (1 + IM) / ((20 in + 1.15 H) (10 in + 1.15 H)), IM = 0.33 (1 - 0.125 H/ft)"};
    const struct uf_load *load = &row_of(page)->load;
    char caption[300];
    if (!load->present) {
        return;
    }
    uf_report_section(page->report, "Board under dead and live load");
    uf_report_paragraph(
        page->report,
        "Strength of the board %s. Its top lies %s below grade under a dead load of %s, the unit "
        "weights of the layers above times their thickness (moist or saturated, the heavier: see the "
        "table of soils). Allowable long-term stress: %s under dead load (a third of the strength), %s "
        "under live load (a fifth; common practice, no source).",
        UF_TEXT(PRESSURE, page->units, page->r->jobs[UF_RECOMMEND_KEPT].design.board.strength_Pa),
        UF_TEXT(LENGTH, page->units, load->depth_m), UF_TEXT(PRESSURE, page->units, load->dead_Pa),
        UF_TEXT(PRESSURE, page->units, load->dead_limit_Pa),
        UF_TEXT(PRESSURE, page->units, load->live_limit_Pa));
    if (!(page->r->run.site->design.wheel_N > 0.0)) {
        uf_report_paragraph(
            page->report,
            "No wheel load was given: utilization %s under dead load alone, met up to "
            "1.",
            UF_NUMBER(FACTOR, page->units, load->board_use));
        return;
    }
    (void)snprintf(
        caption, sizeof caption,
        "Wheel of %s by every method, impact included. Utilization = dead load / %s + live load "
        "/ %s; met up to 1. The method in bold is judged.",
        UF_TEXT(FORCE, page->units, page->r->run.site->design.wheel_N),
        UF_TEXT(PRESSURE, page->units, load->dead_limit_Pa),
        UF_TEXT(PRESSURE, page->units, load->live_limit_Pa));
    uf_report_table(page->report, caption, columns, 4);
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        if ((enum uf_load_method)i == load->method) {
            uf_report_strong_row(page->report);
        }
        uf_report_cell(page->report, "%s", uf_load_methods[i].name);
        uf_report_cell(page->report, "%s", UF_TEXT(PRESSURE, page->units, load->live_Pa[i]));
        uf_report_cell(page->report, "%s", UF_NUMBER(FACTOR, page->units, load->use[i]));
        uf_report_cell(page->report, "%s. %s", formulas[i], uf_load_methods[i].source);
    }
    write_worked(page);
}

static void write_quantity(const struct uf_recommend_page *page, const char *what,
                           enum uf_quantity kind, double amount, double cost)
{
    char text[64];
    const double shown = uf_quantity_value(kind, page->units, amount);
    uf_report_cell(page->report, "%s", what);
    uf_report_cell(page->report, "%s",
                   uf_quantity_text(text, sizeof text, kind, page->units, amount));
    if (page->r->run.site->design.costs.given && isfinite(cost) && shown > 0.0) {
        uf_report_cell(page->report, "%.2f", cost / shown);
        uf_report_cell(page->report, "%.0f", cost);
    } else if (page->r->run.site->design.costs.given) {
        uf_report_cell(page->report, "-");
        uf_report_cell(page->report, "-");
    }
}

/* How the volume dug and the spoil come about. */
static void write_dug(const struct uf_recommend_page *page, const struct uf_pit *pit)
{
    const struct uf_dig *dig = &pit->dig;
    const double shelf_m = dig->shelf_m;
    const bool shelf = uf_dig_half_width_m(dig, shelf_m) < dig->shelf_across_m ||
                       uf_dig_half_length_m(dig, shelf_m) < dig->shelf_along_m;
    if (shelf) {
        uf_report_paragraph(
            page->report,
            "The board lies on a shelf %s below grade, %s by %s; the sides rise anew from there.",
            UF_TEXT(LENGTH, page->units, shelf_m),
            UF_TEXT(LENGTH, page->units, 2.0 * dig->shelf_across_m),
            UF_TEXT(LENGTH, page->units, 2.0 * dig->shelf_along_m));
    }
    uf_report_paragraph(
        page->report,
        "Volume over a floor of a by b, h high, sides m = %.2f across to 1 up: V = h (a b + m h (a + b) + 4/3 m^2 "
        "h^2). What fills a reach: that less tank, risers, concrete and board there. Spoil = excavation - %.3f x "
        "native ground that goes back, what it takes from the bank once compacted%s.",
        dig->slope, uf_pit_bank_share(&page->r->jobs[UF_RECOMMEND_KEPT].design),
        page->r->run.site->design.burial.native_swell < 0 ? " (quantities.native is not given)"
                                                          : "");
}

void uf_recommend_report_pit(const struct uf_recommend_page *page)
{
    const struct uf_choice *row = row_of(page);
    const struct uf_pit *pit = &row->pit;
    const struct uf_costs *costs = &page->r->run.site->design.costs;
    const struct uf_show_column columns[] = {
        {"", 'l'}, {"in place", 'r'}, {"price of one", 'r'}, {costs->currency, 'r'}};
    uf_report_section(page->report, "Excavation, quantities and cost");
    uf_report_paragraph(
        page->report, "The excavation is %s deep, %s by %s at its floor and %s by %s at grade.%s%s",
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
    write_dug(page, pit);
    uf_report_table(page->report,
                    costs->given ? "Volumes in place, without swell, and cost = volume x price"
                                 : "Volumes in place, without swell (no prices were given)",
                    columns, costs->given ? 4 : 2);
    for (size_t i = 0; i < UF_COST_ITEMS; i++) {
        if (row->cost.part[i] > 0.0 || (uf_cost_rows[i].needed && row->cost.amount[i] > 0.0)) {
            write_quantity(page, uf_cost_rows[i].name, uf_cost_rows[i].quantity,
                           row->cost.amount[i], row->cost.part[i]);
        }
    }
    write_quantity(page, "native ground that goes back", UF_QUANTITY_VOLUME, pit->native_m3, NAN);
    write_quantity(page, "spoil", UF_QUANTITY_VOLUME, pit->spoil_m3, NAN);
    if (costs->given) {
        uf_report_strong_row(page->report);
        uf_report_cell(page->report, "sum%s", row->cost.complete ? "" : " of what has a price");
        uf_report_cell(page->report, "%s", "");
        uf_report_cell(page->report, "%s", "");
        uf_report_cell(page->report, "%.0f", row->cost.total);
    }
}
