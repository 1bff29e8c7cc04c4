#include "pit_water.h"

#include "io/text/show.h"

#include <math.h>
#include <stdio.h>

enum uf_status uf_pit_water_find(struct uf_pit_water *out, const struct uf_site *site,
                                 const struct uf_pit *pit, struct uf_error *err)
{
    const struct uf_case *design = &site->design;
    const struct uf_dewater_input *input = &site->works.dewater;
    struct uf_column_soils soils;
    *out = (struct uf_pit_water){.has_low = !isnan(design->ground.water_winter_m)};
    enum uf_status status = uf_column_soils(&soils, design, err);
    if (status == UF_OK) {
        status =
            uf_dewater(&out->high, design, &soils, pit, input, design->ground.water_highest_m, err);
    }
    if (status == UF_OK && out->has_low) {
        status =
            uf_dewater(&out->low, design, &soils, pit, input, design->ground.water_winter_m, err);
    }
    return status;
}

bool uf_pit_water_holds(const struct uf_pit_water *found)
{
    return !found->has_low || (found->low.reasons & UF_DEWATER_BLOWOUT) == 0;
}

static void answer_one(cJSON *object, const char *key, const struct uf_dewater *d)
{
    cJSON *row = uf_answer_object(object, key);
    uf_answer_number(row, "table_m", d->table_m);
    uf_answer_bool(row, "wet", d->wet);
    uf_answer_number(row, "drawdown_m", d->drawdown_m);
    uf_answer_number(row, "influence_m", d->influence_m);
    uf_answer_number(row, "inflow_m3_s", d->inflow_m3_s);
    uf_answer_number(row, "pump_m3_s", d->pump_m3_s);
    uf_answer_number(row, "blowout_factor", d->blowout_factor);
    uf_answer_number(row, "required_factor", UF_DEWATER_FACTOR);
    uf_answer_number(row, "allowed_slope", d->slope);
    cJSON *list = uf_answer_array(row, "designer");
    for (size_t i = 0; i < UF_DEWATER_REASONS; i++) {
        if ((d->reasons & 1U << i) != 0) {
            (void)cJSON_AddItemToArray(list, cJSON_CreateString(uf_dewater_reasons[i]));
        }
    }
}

void uf_pit_water_answer(cJSON *object, const struct uf_pit_water *found)
{
    if (found->has_low) {
        answer_one(object, "water_in_frost_season", &found->low);
    }
    answer_one(object, "water_highest", &found->high);
}

/* One line of words; said once for text and sheet. */
typedef void say(void *to, const char *what, const char *text);

static void say_flow(say *out, void *to, const struct uf_dewater *d, enum uf_units units)
{
    char text[500];
    if (isnan(d->inflow_m3_s)) {
        return;
    }
    (void)snprintf(
        text, sizeof text,
        "%s (%.2g l/s) while lowered by %s, to %s under the floor; pump %s (%.2g l/s), "
        "and as much in reserve. Q = pi k (H^2 - h^2) / ln(R / r), k = %.3g m/s, H = %s and h = %s over the "
        "layer's base far off and in the pit, r = %s, a well of the floor's area (Dupuit, TM 5-818-5); R = r + "
        "3000 s k^0.5 = %s, s lowered in m (Sichardt, from memory; within a factor of three at best)",
        UF_TEXT(FLOW, units, d->inflow_m3_s), 1e3 * d->inflow_m3_s,
        UF_TEXT(LENGTH, units, d->drawdown_m), UF_TEXT(LENGTH, units, UF_DEWATER_BELOW_M),
        UF_TEXT(FLOW, units, d->pump_m3_s), 1e3 * d->pump_m3_s, d->permeability_m_s,
        UF_TEXT(LENGTH, units, d->far_m), UF_TEXT(LENGTH, units, d->pit_m),
        UF_TEXT(LENGTH, units, d->radius_m), UF_TEXT(LENGTH, units, d->influence_m));
    out(to, "inflow", text);
}

static void say_one(say *out, void *to, const char *when, const struct uf_dewater *d,
                    enum uf_units units)
{
    char text[300];
    (void)snprintf(text, sizeof text, "%s, %s: %s the floor", when, UF_LEVEL(units, d->table_m),
                   d->wet ? "stands over" : "below");
    out(to, "water table", text);
    say_flow(out, to, d, units);
    if (!isnan(d->blowout_factor)) {
        (void)snprintf(
            text, sizeof text,
            "factor of safety %s / %s = %.2f, required %.2f, total weight over the confined layer "
            "and its water's pressure (EN 1997-1, eq. 2.9a; factors of table A.17 from memory)",
            UF_TEXT(PRESSURE, units, d->soaked_N_m2), UF_TEXT(PRESSURE, units, d->head_N_m2),
            d->blowout_factor, UF_DEWATER_FACTOR);
        out(to, "floor, blow-out", text);
    }
    if (d->wet) {
        (void)snprintf(text, sizeof text,
                       "%g : 1 unless the water is lowered before it is dug: seeping or submerged "
                       "ground is class C (29 CFR 1926 subpart P)%s",
                       d->slope, d->too_steep ? "; the slope given is STEEPER" : "");
        out(to, "slope when wet", text);
    }
    for (size_t i = 0; i < UF_DEWATER_REASONS; i++) {
        if ((d->reasons & 1U << i) != 0) {
            out(to, "DESIGNER NEEDED", uf_dewater_reasons[i]);
        }
    }
}

static void say_all(say *out, void *to, const struct uf_pit_water *found, enum uf_units units)
{
    if (found->has_low) {
        say_one(out, to, "in the frost season", &found->low, units);
    }
    say_one(out, to, "at its highest", &found->high, units);
}

static void say_line(void *to, const char *what, const char *text)
{
    uf_show_line(to, what, "%s", text);
}

void uf_pit_water_show(const struct uf_pit_water *found, enum uf_units units)
{
    uf_show_heading(stdout, "Water in the pit");
    say_all(say_line, stdout, found, units);
}

static void say_point(void *to, const char *what, const char *text)
{
    uf_report_point(to, "%s: %s.", what, text);
}

void uf_pit_water_report(struct uf_report *report, const struct uf_pit_water *found,
                         enum uf_units units)
{
    uf_report_subheading(report, "Water in the pit");
    say_all(say_point, report, found, units);
}
