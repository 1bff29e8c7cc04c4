#include "io/text/quantity.h"
#include "recommend_report.h"
#include "solver/base/constants.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The appendix from which another office does the statics again: what each weight, load, force and
   volume of the body is the sum of, in numbers. */

static const struct uf_case *design_of(const struct uf_recommend_page *page)
{
    return &page->r->jobs[UF_RECOMMEND_KEPT].design;
}

static const struct uf_uplift *uplift_of(const struct uf_recommend_page *page)
{
    return &page->r->choices->rows[page->r->shown].uplift;
}

static const char *soil_name(const struct uf_case *d, int layer)
{
    const struct uf_ground_spec *spec =
        layer == UF_COLUMN_BACKFILL ? &d->burial.backfill : &d->ground.layers[layer].spec;
    return spec->soil != NULL            ? spec->soil->name
           : layer == UF_COLUMN_BACKFILL ? "backfill"
                                         : "ground";
}

static void unit_weight_cell(const struct uf_recommend_page *page, bool has, double N_m3)
{
    char text[48];
    uf_report_cell(page->report, "%s",
                   has ? uf_recommend_report_unit_weight(text, sizeof text, page->units, N_m3)
                       : "-");
}

static void reach_cell(const struct uf_recommend_page *page, double top_m, double bottom_m)
{
    uf_report_cell(page->report, "%s to %s", UF_NUMBER(LENGTH, page->units, top_m),
                   UF_TEXT(LENGTH, page->units, bottom_m));
}

static void volume_cell(const struct uf_recommend_page *page, double m3)
{
    uf_report_cell(page->report, "%s", m3 > 0.0 ? UF_TEXT(VOLUME_FINE, page->units, m3) : "-");
}

static void write_share(const struct uf_recommend_page *page, const struct uf_column_share *share)
{
    const struct uf_column_segment *soil = &share->soil;
    const double dry_N = share->dry_m3 > 0.0 ? share->dry_m3 * soil->moist_N_m3 : 0.0;
    const double wet_N = share->wet_m3 > 0.0 ? share->wet_m3 * soil->saturated_N_m3 : 0.0;
    uf_report_cell(page->report, "%s", share->part);
    uf_report_cell(page->report, "%s", soil_name(design_of(page), soil->layer));
    reach_cell(page, soil->top_m, soil->bottom_m);
    volume_cell(page, share->dry_m3);
    unit_weight_cell(page, share->dry_m3 > 0.0, soil->moist_N_m3);
    volume_cell(page, share->wet_m3);
    unit_weight_cell(page, share->wet_m3 > 0.0, soil->saturated_N_m3);
    uf_report_cell(page->report, "%s", UF_TEXT(FORCE, page->units, dry_N + wet_N));
    uf_report_cell(page->report, "%s",
                   UF_TEXT(FORCE, page->units, dry_N + wet_N - UF_WATER_UNIT_N_M3 * share->wet_m3));
}

static void write_shares(const struct uf_recommend_page *page, const struct uf_column_log *log,
                         const char *when)
{
    static const struct uf_show_column columns[] = {
        {"part", 'l'},       {"soil", 'l'},           {"below grade", 'r'},
        {"moist V", 'r'},    {"moist weight", 'r'},   {"saturated V'", 'r'},
        {"its weight", 'r'}, {"total weight W", 'r'}, {"buoyant weight", 'r'}};
    char caption[300];
    (void)snprintf(
        caption, sizeof caption,
        "Soils of the flotation check, layer by layer, water table %s: W = V x moist unit weight + "
        "V' x saturated unit weight, buoyant W less the water of V'",
        when);
    uf_report_table(page->report, caption, columns, 9);
    for (size_t i = 0; i < log->n; i++) {
        write_share(page, &log->shares[i]);
    }
}

/* What the risers take of the prisms. */
static void write_risers(const struct uf_recommend_page *page)
{
    const struct uf_case *d = design_of(page);
    for (size_t i = 0; i < d->tank.n_risers; i++) {
        const struct uf_riser *riser = &d->tank.risers[i];
        const double top_m = fmax(0.0, uf_case_riser_top_m(d, riser));
        const double foot_m = fmin(uf_case_crown_m(d), riser->shell.sleeve_length_m);
        uf_report_point(page->report,
                        "Riser %zu: outside diameter %s, from %s below grade to the crown.", i + 1,
                        UF_TEXT(LENGTH, page->units, riser->diameter_m),
                        UF_TEXT(LENGTH, page->units, top_m));
        if (riser->shell.sleeve_m > 0.0 && foot_m > top_m) {
            uf_report_point(page->report, "Its sleeve: %s thick, from %s to %s below grade.",
                            UF_TEXT(THICKNESS, page->units, riser->shell.sleeve_m),
                            UF_TEXT(LENGTH, page->units, top_m),
                            UF_TEXT(LENGTH, page->units, foot_m));
        }
    }
}

/* Dead load on board and crown. */
static void write_loads(const struct uf_recommend_page *page, const struct uf_column_log *log)
{
    static const struct uf_show_column columns[] = {{"soil", 'l'},
                                                    {"below grade", 'r'},
                                                    {"unit weight, the heavier", 'r'},
                                                    {"pressure at its foot", 'r'}};
    double sum_Pa = 0.0;
    uf_report_table(
        page->report,
        "Dead load from grade to the crown: the sum of unit weight x thickness; foam counts "
        "nothing",
        columns, 4);
    for (size_t i = 0; i < log->n; i++) {
        const struct uf_column_share *share = &log->shares[i];
        const bool wet = share->wet_m3 > 0.0;
        const double N_m3 = wet ? share->soil.saturated_N_m3 : share->soil.moist_N_m3;
        sum_Pa += N_m3 * (share->dry_m3 + share->wet_m3);
        uf_report_cell(page->report, "%s", soil_name(design_of(page), share->soil.layer));
        reach_cell(page, share->soil.top_m, share->soil.bottom_m);
        unit_weight_cell(page, true, N_m3);
        uf_report_cell(page->report, "%s", UF_TEXT(PRESSURE, page->units, sum_Pa));
    }
}

/* Sums and results of the straps' legs. */
static void write_legs(const struct uf_recommend_page *page)
{
    const struct uf_uplift *u = uplift_of(page);
    const struct uf_uplift_straps *s = &u->straps;
    const struct uf_case *d = design_of(page);
    const enum uf_units units = page->units;
    const bool round = uf_shape_is_round(&d->tank);
    if (!isfinite(s->net_N)) {
        return;
    }
    uf_report_paragraph(
        page->report,
        "Force to be tied down: N = required factor x uplift of tank and board over it - buoyant weights of "
        "tank, that board, soil above and shoulder soil = %s (0: they are enough); before any soil lies on "
        "the tank N = required factor x uplift of the tank, all under water - its weight = %s.",
        UF_TEXT(FORCE, units, s->net_N), UF_TEXT(FORCE, units, s->bare_net_N));
    if (!isfinite(s->leg_N)) {
        return;
    }
    uf_report_paragraph(
        page->report,
        round
            ? "Strap leg = N / (2 n cos a), n = %zu straps; a leg leaves the shell as a tangent to its anchor x = "
              "%s beside and y = %s below the tank's axis, R = %s: a = arctan(x / y) - arcsin(R / (x^2 + "
              "y^2)^0.5) = %.1f degrees from the vertical. Finished %s, before backfilling %s."
            : "Strap leg = N / (2 n cos a), n = %zu straps; a leg runs from the roof's edge to its anchor x = %s "
              "beside the tank's middle and y = %s below the roof, half width R = %s: a = arctan((x - R) / y) = "
              "%.1f degrees from the vertical. Finished %s, before backfilling %s.",
        d->anchors.straps, UF_TEXT(LENGTH, units, s->tie_x_m),
        UF_TEXT(LENGTH, units, s->tie_below_m), UF_TEXT(LENGTH, units, uf_case_half_width_m(d)),
        s->leg_angle_rad * 180.0 / UF_PI, UF_TEXT(FORCE, units, s->leg_N),
        UF_TEXT(FORCE, units, s->bare_leg_N));
}

/* What frost jacking is held against. */
static void write_frost_season(const struct uf_recommend_page *page, struct uf_column_log *log,
                               const struct uf_column_soils *soils)
{
    struct uf_error err;
    const struct uf_holddown *balance = &page->check.fittings.balance;
    char caption[300];
    if (!page->found[UF_CHECK_fittings] || design_of(page)->tank.n_risers == 0) {
        return;
    }
    (void)snprintf(
        caption, sizeof caption,
        "Resisting force in the frost season, water table %s: sum of the buoyant weights less "
        "the uplift = %s",
        UF_LEVEL(page->units, balance->water_m),
        UF_TEXT(FORCE, page->units, page->check.fittings.spare_N));
    uf_recommend_report_parts(page, balance, caption);
    if (uf_holddown_shares(log, design_of(page), soils, balance->water_m, &err) == UF_OK) {
        write_shares(page, log, "of the frost season");
    }
}

/* "R = 1.20 m, s = 6.00 m", of the tank shrunk by its wall or not. */
static void sizes_text(char *text, size_t size, const struct uf_recommend_page *page, double wall_m)
{
    const struct uf_tank *tank = &design_of(page)->tank;
    struct uf_shape_size sizes[UF_SHAPE_SIZES];
    uf_shape_of(tank)->below_sizes(sizes, tank, wall_m);
    text[0] = '\0';
    for (size_t i = 0; sizes[i].name != NULL; i++) {
        const size_t used = strlen(text);
        (void)snprintf(text + used, size - used, "%s%s = %s", i > 0 ? ", " : "", sizes[i].name,
                       sizes[i].is_volume ? UF_TEXT(VOLUME_FINE, page->units, sizes[i].value)
                                          : UF_TEXT(THICKNESS, page->units, sizes[i].value));
    }
}

#define LEVELS 8

static void write_levels(const struct uf_recommend_page *page)
{
    static const struct uf_show_column columns[] = {
        {"level above the invert", 'r'}, {"outside", 'r'}, {"content", 'r'}};
    const struct uf_tank *tank = &design_of(page)->tank;
    const double wall_m = isfinite(tank->wall_thickness_m) ? tank->wall_thickness_m : 0.0;
    char outside[200], inside[200];
    sizes_text(outside, sizeof outside, page, 0.0);
    sizes_text(inside, sizeof inside, page, wall_m);
    uf_report_paragraph(page->report,
                        "Volume of the tank below a level h: %s. Outside %s; inside %s.",
                        uf_shape_of(tank)->below, outside, inside);
    uf_report_table(
        page->report,
        "Volume by level, h above the invert, outside and, from the inside of the shell, within",
        columns, 3);
    for (int i = 1; i <= LEVELS; i++) {
        const double h_m = uf_tank_height_m(tank) * i / LEVELS;
        uf_report_cell(page->report, "%s", UF_TEXT(LENGTH, page->units, h_m));
        volume_cell(page, uf_tank_submerged_m3(tank, h_m));
        volume_cell(page, uf_tank_content_m3(tank, h_m));
    }
}

void uf_recommend_report_worked(const struct uf_recommend_page *page)
{
    const struct uf_case *d = design_of(page);
    struct uf_column_log *log = malloc(sizeof *log);
    struct uf_column_soils soils;
    struct uf_error err = {0};
    uf_report_section(page->report, "Statics line by line");
    if (log == NULL || uf_column_soils(&soils, d, &err) != UF_OK) {
        uf_report_paragraph(page->report, "Not written: %s.", log == NULL ? "no memory" : err.text);
        free(log);
        return;
    }
    write_risers(page);
    if (uf_holddown_shares(log, d, &soils, d->ground.water_highest_m, &err) == UF_OK) {
        write_shares(page, log, "at its highest");
    }
    if (uf_load_soil_shares(log, d, &soils, uf_case_crown_m(d), &err) == UF_OK && log->n > 0) {
        write_loads(page, log);
    }
    write_legs(page);
    write_frost_season(page, log, &soils);
    write_levels(page);
    free(log);
}
