#include "sheet.h"

#include "cli/check/pit_water.h"
#include "cli/tell/order.h"
#include "io/text/message_text.h"
#include "io/text/quantity.h"
#include "solver/base/constants.h"
#include "solver/design/anchor.h"
#include "solver/design/shape.h"
#include "solver/statics/lifting.h"
#include "solver/statics/uplift.h"
#include "solver/works/quantities.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define RAD_DEG (180.0 / UF_PI)

/* What is computed once for all sections. A part that cannot be known for want of a value
   is left out of the sheet, and says why. */
struct sheet {
    struct uf_report *report;
    const struct uf_site *site;
    enum uf_units units;
    bool alone; /* else the parts stand under one heading of the report */
    struct uf_quantities quantities;
    bool has_uplift, has_lifting;
    struct uf_uplift uplift;
    struct uf_lifting lifting;
    struct uf_error no_uplift, no_lifting;
};

static enum uf_status compute(struct sheet *s, struct uf_error *err)
{
    const struct uf_case *d = &s->site->design;
    struct uf_column_soils soils;
    const enum uf_status status = uf_quantities(&s->quantities, d, &s->site->works.quantities, err);
    if (status != UF_OK) {
        return status;
    }
    s->has_uplift = uf_column_soils(&soils, d, &s->no_uplift) == UF_OK &&
                    uf_uplift(&s->uplift, d, &soils, &s->no_uplift) == UF_OK;
    s->has_lifting = uf_lifting(&s->lifting, &s->site->works.lifting, d->tank.empty_mass_kg,
                                &s->no_lifting) == UF_OK;
    return UF_OK;
}

static void begin(const struct sheet *s, const char *heading)
{
    if (s->alone) {
        uf_report_section(s->report, heading);
    } else {
        uf_report_subheading(s->report, heading);
    }
}

static void write_lifting(const struct sheet *s)
{
    const struct uf_lifting *l = &s->lifting;
    const struct uf_lifting_legs *legs = isnan(l->given.two_N) ? &l->at_least : &l->given;
    const enum uf_units units = s->units;
    begin(s, "Lifting the empty tank");
    if (!s->has_lifting) {
        uf_report_paragraph(s->report, "Not given: %s.", s->no_lifting.text);
        return;
    }
    uf_report_point(s->report, "The tank weighs %s on the hook.", UF_TEXT(FORCE, units, l->load_N));
    uf_report_point(s->report,
                    "Sling legs at least %s long, so that two opposite legs stand no more "
                    "than 60 degrees apart.",
                    UF_TEXT(LENGTH, units, l->least_sling_m));
    uf_report_point(
        s->report,
        "Force in each leg %s, two legs taken to carry it all, at %.0f degrees from the "
        "horizontal (%.0f from the vertical); headroom %s from pick points to hook.",
        UF_TEXT(FORCE, units, legs->two_N), legs->from_horizontal_rad * RAD_DEG,
        legs->from_vertical_rad * RAD_DEG, UF_TEXT(LENGTH, units, legs->headroom_m));
    if (isfinite(l->hoist_use)) {
        uf_report_point(s->report, "Utilization of the hoist: %s.",
                        UF_TEXT(SHARE, units, l->hoist_use));
    }
    uf_report_point(s->report, "Tag lines; nobody under the load; not in wind that moves the tank; "
                               "never with water in it.");
}

/* What resists flotation, piece by piece. */
static void write_anchors(const struct sheet *s)
{
    const enum uf_units units = s->units;
    const struct uf_anchors *a = &s->site->design.anchors;
    if (a->straps > 0) {
        uf_report_point(
            s->report,
            "%zu straps; each leg carries up to %s (before backfilling) at "
            "the required factor of safety of %.2f.",
            a->straps,
            UF_TEXT(FORCE, units, fmax(s->uplift.straps.leg_N, s->uplift.straps.bare_leg_N)),
            s->uplift.required);
    }
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        struct uf_message said;
        if (row->body(&s->site->design).count > 0.0) {
            row->say(&said, &s->site->design);
            uf_report_point(s->report, "%s.", UF_MESSAGE(units, &said));
        }
    }
    if (a->straps == 0 && s->uplift.straps.bare_net_N > 0.0) {
        uf_report_point(
            s->report,
            "NO STRAPS are given: the anchors count only where something else fastens "
            "the tank to them, designed for %s (before backfilling) at the "
            "required factor of safety of %.2f.",
            UF_TEXT(FORCE, units, fmax(s->uplift.straps.net_N, s->uplift.straps.bare_net_N)),
            s->uplift.required);
    }
}

static void write_backfill(const struct sheet *s)
{
    const enum uf_units units = s->units;
    begin(s, "Anchors, backfill and ballast");
    if (!s->has_uplift) {
        uf_report_paragraph(s->report, "Not known: %s.", s->no_uplift.text);
        return;
    }
    write_anchors(s);
    uf_report_point(
        s->report,
        "Finished, water at its highest (%s): factor of safety against flotation %.2f, required %.2f.",
        UF_LEVEL(units, s->uplift.highest.water_m), s->uplift.highest.factor_submerged,
        s->uplift.required);
    uf_sheet_backfill(s->report, s->site, units);
}

static void write_water(const struct sheet *s)
{
    struct uf_pit_water water;
    struct uf_error err = {0};
    if (uf_pit_water_find(&water, s->site, &s->quantities.pit, &err) == UF_OK) {
        uf_pit_water_report(s->report, &water, s->units);
    } else {
        uf_report_paragraph(s->report, "Water in the pit: not known: %s.", err.text);
    }
}

static void write_roundness(const struct sheet *s)
{
    const struct uf_roundness_input *r = &s->site->works.roundness;
    if (!uf_shape_is_round(&s->site->design.tank) && !uf_shape_is_radial(&s->site->design.tank)) {
        return; /* a box has walls, not a round to keep */
    }
    begin(s, "Roundness");
    if (isfinite(r->limit)) {
        uf_report_paragraph(
            s->report,
            "Stop when the inside diameter, top to bottom, has changed by more than "
            "%s of its first reading (limit from the manufacturer's sheet). "
            "`underfrost check SITE.yaml roundness` keeps the record.",
            UF_TEXT(SHARE, s->units, r->limit));
    } else {
        uf_report_paragraph(
            s->report,
            "No limit of deflection was given: take it from the manufacturer's sheet and "
            "write it here: ____________ . `underfrost check SITE.yaml roundness` keeps the record.");
    }
}

static void write_signatures(const struct sheet *s)
{
    static const struct uf_show_column columns[] = {
        {"role", 'l'}, {"name", 'l'}, {"signature", 'l'}, {"date", 'l'}};
    static const char *const roles[] = {"installer", "supervisor", "licensed practitioner",
                                        "owner"};
    begin(s, "Signed");
    uf_report_table(s->report, "", columns, 4);
    for (size_t i = 0; i < sizeof roles / sizeof roles[0]; i++) {
        uf_report_cell(s->report, "%s", roles[i]);
        for (int k = 0; k < 3; k++) {
            uf_report_cell(s->report, "______________________");
        }
    }
}

enum uf_status uf_sheet_sections(struct uf_report *report, const struct uf_site *site,
                                 enum uf_units units, bool alone, struct uf_error *err)
{
    struct sheet s = {.report = report, .site = site, .units = units, .alone = alone};
    enum uf_status status = compute(&s, err);
    if (status != UF_OK) {
        return status;
    }
    if (!alone) {
        uf_report_section(report, "Installation sheet");
    }
    begin(&s, "Layout");
    status = uf_sheet_layout(report, site, units, alone, err);
    if (status != UF_OK) {
        return status;
    }
    begin(&s, "Quantities");
    uf_order_report(report, site, &s.quantities, s.has_uplift ? &s.uplift : NULL, units);
    write_lifting(&s);
    begin(&s, "Order of work");
    uf_sheet_steps(report, &site->design, &s.quantities, units);
    write_water(&s);
    write_backfill(&s);
    write_roundness(&s);
    if (alone) {
        uf_report_cautions(report);
    }
    write_signatures(&s);
    return UF_OK;
}
