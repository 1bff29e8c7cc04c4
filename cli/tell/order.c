#include "order.h"

#include "io/text/quantity.h"
#include "io/text/show.h"
#include "io/text/spelling.h"
#include "solver/design/anchor.h"
#include "solver/design/foam.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

struct order {
    struct uf_report *report; /* NULL: lines of text */
    const struct uf_site *site;
    const struct uf_quantities *quantities;
    enum uf_units units;
};

__attribute__((format(printf, 4, 5))) static void row(const struct order *o, const char *what,
                                                      const char *amount, const char *format, ...)
{
    char note[240];
    va_list args;
    va_start(args, format);
    (void)vsnprintf(note, sizeof note, format, args);
    va_end(args);
    if (o->report == NULL) {
        uf_show_line(stdout, what, "%s, %s", amount, note);
        return;
    }
    uf_report_cell(o->report, "%s", what);
    uf_report_cell(o->report, "%s", amount);
    uf_report_cell(o->report, "%s", note);
}

/* How much of it comes, loose and by the truck. */
static void haul_row(const struct order *o, const char *what, double place_m3, double loose_m3,
                     double trucks)
{
    char loads[80] = "";
    const char *amount = UF_TEXT(VOLUME, o->units, place_m3);
    if (!(place_m3 > 0.0)) {
        row(o, what, "none", "all of the dug ground goes back");
        return;
    }
    if (isnan(loose_m3)) {
        row(o, what, amount, "in place; swell not given");
        return;
    }
    if (!isnan(trucks)) {
        (void)snprintf(loads, sizeof loads, ", %.0f truckload%s of %s", trucks,
                       trucks > 1.0 ? "s" : "",
                       UF_TEXT(VOLUME, o->units, o->site->works.quantities.truck_m3));
    }
    row(o, what, amount, "in place; x %.3f = %s loose%s", loose_m3 / place_m3,
        UF_TEXT(VOLUME, o->units, loose_m3), loads);
}

static void write_earth(const struct order *o)
{
    const struct uf_quantities *q = o->quantities;
    const struct uf_burial *burial = &o->site->design.burial;
    row(o, "excavation", UF_TEXT(VOLUME, o->units, q->pit.excavation_m3), "in the bank");
    for (size_t i = 0; i < UF_QUANTITIES_LAYERS; i++) {
        const struct uf_ground_spec *spec =
            i == 0 && burial->has_bedding_soil ? &burial->bedding_soil : &burial->backfill;
        char soil[UF_NAME_SIZE];
        if (q->layers[i].place_m3 > 0.0) {
            row(o, q->layers[i].name, UF_TEXT(VOLUME, o->units, q->layers[i].place_m3),
                "%s, from %s up to %s",
                uf_spelling_words(soil, sizeof soil,
                                  spec->soil != NULL ? spec->soil->name : "soil as measured"),
                UF_TEXT(LENGTH, o->units, q->layers[i].bottom_m),
                UF_TEXT(LENGTH, o->units, q->layers[i].top_m));
        }
    }
    if (q->fill_m3 > 0.0) {
        haul_row(o, "fill brought in", q->fill_m3, q->fill_loose_m3, q->fill_trucks);
    } else {
        row(o, "fill brought in", "none", "the dug ground goes back");
    }
    row(o, "goes back", UF_TEXT(VOLUME, o->units, q->pit.native_m3), "of what was dug, in place");
    haul_row(o, "spoil to haul", q->pit.spoil_m3, q->spoil_loose_m3, q->spoil_trucks);
    if (q->pit.lack_m3 > 0.0) {
        row(o, "ground like the dug one", UF_TEXT(VOLUME, o->units, q->pit.lack_m3),
            "in place, brought in: what was dug shrinks when it is compacted");
    }
    if (q->geotextile_lapped_m2 > 0.0) {
        const double roll_m = o->site->works.quantities.roll_m;
        row(o, "geotextile", UF_TEXT(AREA, o->units, q->geotextile_lapped_m2),
            "floor, sides and top of the fill, with laps; %s from a roll %s wide",
            UF_TEXT(LENGTH, o->units, q->geotextile_lapped_m2 / roll_m),
            UF_TEXT(LENGTH, o->units, roll_m));
    }
}

static void write_board(const struct order *o)
{
    const struct uf_quantities *q = o->quantities;
    const struct uf_board *board = &o->site->design.board;
    char count[32], skirt[48] = "", other[60] = "";
    row(o, "board", UF_TEXT(VOLUME, o->units, q->pit.board_m3), "%s, %s by %s%s",
        board->row != NULL ? board->row->name : "as given",
        UF_TEXT(LENGTH, o->units, q->pit.board_width_m),
        UF_TEXT(LENGTH, o->units, q->pit.board_length_m),
        q->board_layers == 0 ? ", in staggered layers; sheets: quantities.sheet is not given" : "");
    if (q->board_layers == 0) {
        return;
    }
    if (q->skirt_sheets > 0) {
        (void)snprintf(skirt, sizeof skirt, ", and %zu for the skirt", q->skirt_sheets);
    }
    if (q->board_layers > 1 && q->staggered.sheets != q->cut.sheets) {
        (void)snprintf(other, sizeof other, ", every second %zu", q->staggered.sheets);
    }
    (void)snprintf(count, sizeof count, "%zu sheets", q->sheets);
    row(o, "board as sold", count, "%zu layer%s of %zu%s%s%s", q->board_layers,
        q->board_layers == 1 ? "" : "s", q->cut.sheets, other, skirt,
        q->board_layers == 1 ? "; thinner sheets would let two layers stagger" : "");
}

static void write_tank(const struct order *o)
{
    const struct uf_tank *tank = &o->site->design.tank;
    const struct uf_shape_row *shape = uf_shape_of(tank);
    const enum uf_units units = o->units;
    const double wide_m = uf_tank_plan_width_m(tank);
    const double along_m = shape->radial ? uf_tank_height_m(tank) : tank->length_m;
    const bool box = !shape->radial && !shape->round_section;
    row(o, "tank", "1", "outside %s%s%s%s, %s%s%s%s%s", box ? shape->across : "diameter ",
        UF_TEXT(LENGTH, units, wide_m), box ? ", height " : "",
        box ? UF_TEXT(LENGTH, units, uf_tank_height_m(tank)) : "", shape->along,
        UF_TEXT(LENGTH, units, along_m),
        shape->has_heads && uf_tank_head_depth_m(tank) > 0.0 ? " between its heads" : "",
        isfinite(tank->empty_mass_kg) ? ", empty " : "",
        isfinite(tank->empty_mass_kg) ? UF_TEXT(MASS, units, tank->empty_mass_kg) : "");
    for (size_t i = 0; i < tank->n_risers; i++) {
        const struct uf_riser *riser = &tank->risers[i];
        const double deep_m = uf_case_riser_top_m(&o->site->design, riser);
        char what[48], sleeve[64] = "no sleeve", top[96] = "";
        (void)snprintf(what, sizeof what, "riser %zu, gasket, lid", i + 1);
        if (riser->shell.sleeve_m > 0.0) {
            (void)snprintf(sleeve, sizeof sleeve, "foam sleeve %s all round",
                           UF_TEXT(THICKNESS, units, riser->shell.sleeve_m));
        }
        if (deep_m > 0.0) {
            (void)snprintf(top, sizeof top,
                           ", which is %s BELOW grade: longer, or its place marked",
                           UF_TEXT(LENGTH, units, deep_m));
        }
        row(o, what, "1", "outside %s, %s from the crown to its top%s; lid R %s; %s",
            UF_TEXT(LENGTH, units, riser->diameter_m),
            UF_TEXT(LENGTH, units, uf_case_riser_height_m(&o->site->design, riser)), top,
            UF_TEXT(RESISTANCE, units, riser->lid_m2K_W), sleeve);
    }
}

/* Length in plan, where the way is known. */
static void pipe_row(const struct order *o, const char *name, double diameter_m, double up_m)
{
    const struct uf_site_route *route = uf_site_drawing_route(&o->site->drawing, name);
    double long_m = up_m;
    for (size_t i = 1; route != NULL && i < route->n_along; i++) {
        long_m += hypot(route->along_m[i] - route->along_m[i - 1],
                        route->across_m[i] - route->across_m[i - 1]);
    }
    row(o, name, route != NULL ? UF_TEXT(LENGTH, o->units, long_m) : "________",
        "outside %s; joints, bends and warning tape along it%s",
        UF_TEXT(THICKNESS, o->units, diameter_m),
        route != NULL ? "" : "; its route is not given (drawing.routes)");
}

static void write_pipes(const struct order *o)
{
    const struct uf_case *d = &o->site->design;
    for (size_t i = 0; i < d->n_pipes; i++) {
        pipe_row(o, d->pipes[i].name, d->pipes[i].diameter_m, 0.0);
    }
    for (size_t i = 0; i < d->n_standpipes; i++) {
        pipe_row(o, d->standpipes[i].name, d->standpipes[i].diameter_m, d->standpipes[i].bottom_m);
    }
}

static void write_anchors(const struct order *o, const struct uf_uplift *uplift)
{
    const struct uf_case *d = &o->site->design;
    char count[32];
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *kind = uf_anchor_at((enum uf_anchor_kind)i);
        const struct uf_anchor_body body = kind->body(d);
        if (body.count > 0.0) {
            (void)snprintf(count, sizeof count, "%.0f", body.count);
            row(o, kind->word, count, "%s wide, %s high, %s long; reinforced as its designer says",
                UF_TEXT(LENGTH, o->units, body.width_m), UF_TEXT(LENGTH, o->units, body.height_m),
                UF_TEXT(LENGTH, o->units, body.length_m));
        }
    }
    if (o->quantities->pit.concrete_m3 > 0.0) {
        row(o, "concrete of the anchors", UF_TEXT(VOLUME, o->units, o->quantities->pit.concrete_m3),
            "of %s or more, as counted", UF_TEXT(UNIT_WEIGHT, o->units, d->anchors.concrete_N_m3));
    }
    if (uplift != NULL && uplift->needed_ballast_m3 > 0.0) {
        row(o, "concrete to add", UF_TEXT(VOLUME, o->units, uplift->needed_ballast_m3),
            "under water, for the required factor of safety against flotation");
    }
    if (d->anchors.straps > 0) {
        const double leg_N =
            uplift != NULL ? fmax(uplift->straps.leg_N, uplift->straps.bare_leg_N) : (double)NAN;
        (void)snprintf(count, sizeof count, "%zu", d->anchors.straps);
        row(o, "straps with ends", count,
            "each leg for %s or more; working load by the manufacturer: %s",
            isnan(leg_N) ? "________" : UF_TEXT(FORCE, o->units, leg_N),
            isnan(d->anchors.strap_strength_N)
                ? "________"
                : UF_TEXT(FORCE, o->units, d->anchors.strap_strength_N));
    }
}

static void write_all(const struct order *o, const struct uf_uplift *uplift)
{
    write_earth(o);
    write_tank(o);
    write_pipes(o);
    if (uf_case_has_board(&o->site->design)) {
        write_board(o);
    }
    write_anchors(o, uplift);
}

void uf_order_report(struct uf_report *report, const struct uf_site *site,
                     const struct uf_quantities *quantities, const struct uf_uplift *uplift,
                     enum uf_units units)
{
    static const struct uf_show_column columns[] = {
        {"to order", 'l'}, {"amount", 'r'}, {"note", 'l'}};
    uf_report_table(report, "Volumes in place unless said", columns, 3);
    write_all(&(struct order){report, site, quantities, units}, uplift);
}

void uf_order_show(const struct uf_site *site, const struct uf_quantities *quantities,
                   const struct uf_uplift *uplift, enum uf_units units)
{
    uf_show_heading(stdout, "To order, volumes in place unless said");
    write_all(&(struct order){NULL, site, quantities, units}, uplift);
}
