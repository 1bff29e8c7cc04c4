#include "outcome.h"

#include "cli/command.h"
#include "cli/recommend/recommend.h"
#include "io/text/show.h"
#include "remarks.h"
#include "solver/base/calendar.h"
#include "spent.h"

#include <math.h>
#include <stdio.h>

const char uf_outcome_cautions[] =
    "An aid to design, not a design: excavation, lifting, entry into the tank, an uplift "
    "failure and a frozen fire main can kill. Follow the local codes and the tank maker's "
    "instructions, and have a licensed practitioner check and sign what is built.";

const char *uf_outcome_date(long day, char *text)
{
    return day == UF_NO_DAY ? NULL : uf_calendar_text(day, text, 16);
}

static const double J_PER_KWH = 3.6e6;

static void answer_date(cJSON *object, const char *key, long day)
{
    char text[16];
    uf_answer_text(object, key, uf_outcome_date(day, text));
}

static void answer_depths(cJSON *object, const struct uf_case *design, const struct uf_summary *s)
{
    cJSON *frost = uf_answer_object(object, "frost_depth");
    cJSON *far = uf_answer_object(frost, "undisturbed");
    uf_answer_number(far, "max_m", s->frost_undisturbed_m);
    answer_date(far, "date", s->frost_undisturbed_day);
    cJSON *above = uf_answer_object(frost, "above_tank");
    uf_answer_number(above, "max_m", s->frost_above_m);
    answer_date(above, "date", s->frost_above_day);
    if (design->tank.shape != UF_NO_TANK) {
        uf_answer_bool(above, "reaches_tank", s->frost_reaches_tank);
    } else {
        (void)cJSON_AddNullToObject(above, "reaches_tank");
    }
    answer_date(object, "thaw_out_date", s->thaw_out_day);
}

static void answer_points(cJSON *object, const char *key, const struct uf_probe_summary *points,
                          size_t n)
{
    cJSON *list = uf_answer_array(object, key);
    for (size_t i = 0; i < n; i++) {
        cJSON *row = uf_answer_item(list);
        uf_answer_text(row, "name", points[i].name);
        uf_answer_number(row, "min_degC", points[i].least.degC);
        answer_date(row, "min_date", points[i].least.day);
        uf_answer_count(row, "days_below_zero", points[i].days_below_zero);
        uf_answer_number(row, "limit_degC", points[i].limit_degC);
    }
}

static void answer_extreme(cJSON *object, const char *key, const struct uf_extreme *extreme)
{
    cJSON *row = uf_answer_object(object, key);
    uf_answer_number(row, "min_degC", extreme->degC);
    answer_date(row, "date", extreme->day);
}

/* Heat that keeps the tank warm; null where none is asked for. */
static void answer_hold(cJSON *object, const struct uf_case *design, const struct uf_summary *s)
{
    if (isnan(design->tank.hold_degC)) {
        (void)cJSON_AddNullToObject(object, "hold");
        return;
    }
    cJSON *hold = uf_answer_object(object, "hold");
    uf_answer_number(hold, "most_W", s->hold_most_W);
    answer_date(hold, "date", s->hold_most_day);
    uf_answer_number(hold, "total_kWh", s->hold_J / J_PER_KWH);
}

void uf_outcome_answer(cJSON *object, const struct uf_case *design, const struct uf_summary *s)
{
    answer_depths(object, design, s);
    answer_extreme(object, "water", &s->water);
    cJSON *water = cJSON_GetObjectItem(object, "water");
    uf_answer_number(water, "max_ice_fraction", s->ice_share);
    uf_answer_number(water, "ice_thickness_m", s->ice_thickness_m);
    uf_answer_number(object, "wall_min_degC", s->wall.degC);
    answer_date(object, "wall_min_date", s->wall.day);
    answer_extreme(object, "crown", &s->crown);
    answer_extreme(object, "invert", &s->invert);
    answer_hold(object, design, s);
    answer_points(object, "probes", s->probes, s->n_probes);
    answer_points(object, "pipes", s->pipes, s->n_pipes);
    uf_answer_number(object, "riser_share_of_loss", s->riser_share);
    uf_answer_number(object, "heat_balance_relative", s->heat_balance_relative);
    uf_answer_number(object, "side_effect_K", s->side_effect_K);
    uf_answer_number(object, "side_effect_m", s->side_effect_m);
    uf_answer_number(object, "bottom_effect_K", s->bottom_effect_K);
    uf_answer_count(object, "cells", s->counters.cells);
    uf_answer_count(object, "steps", s->counters.steps);
    uf_answer_count(object, "right_hand_sides", s->counters.rhs);
    uf_answer_count(object, "factorisations", s->counters.factorisations);
    uf_answer_count(object, "newton_failures", s->counters.newton_failures);
    uf_answer_number(object, "simulated_days", s->counters.simulated_days);
    uf_answer_number(object, "seconds", s->counters.cpu_s);
    struct uf_remarks remarks;
    uf_remarks(&remarks, design, s);
    uf_remarks_answer(object, &remarks);
}

static void show_extreme(const char *label, enum uf_units units, const struct uf_extreme *extreme)
{
    char date[16];
    if (isfinite(extreme->degC)) {
        const char *when = uf_outcome_date(extreme->day, date);
        uf_show_line(stdout, label, "%s on %s", UF_TEXT(TEMPERATURE, units, extreme->degC),
                     when != NULL ? when : "-");
    }
}

static void show_points(const struct uf_arguments *args, const char *kind,
                        const struct uf_probe_summary *points, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        char label[UF_NAME_SIZE + 16];
        char date[16];
        const char *when = uf_outcome_date(points[i].least.day, date);
        (void)snprintf(label, sizeof label, "%s %s", kind, points[i].name);
        uf_show_line(stdout, label, "%s on %s; below freezing on %ld days",
                     UF_TEXT(TEMPERATURE, args->units, points[i].least.degC),
                     when != NULL ? when : "-", points[i].days_below_zero);
    }
}

static void show_tank(const struct uf_arguments *args, const struct uf_summary *s)
{
    char date[16];
    const char *when = uf_outcome_date(s->frost_above_day, date);
    uf_show_line(stdout, "frost over the tank", "%s%s%s%s",
                 UF_TEXT(LENGTH, args->units, s->frost_above_m), when != NULL ? " on " : "",
                 when != NULL ? when : "",
                 s->frost_reaches_tank ? "; it reaches the tank" : "; the crown stays unfrozen");
    show_extreme("coldest water", args->units, &s->water);
    show_extreme("coldest wetted wall", args->units, &s->wall);
    show_extreme("crown", args->units, &s->crown);
    show_extreme("invert", args->units, &s->invert);
    if (isfinite(s->ice_share)) {
        uf_show_line(stdout, "ice", "%s of the water, as an even layer %s",
                     UF_TEXT(SHARE, args->units, s->ice_share),
                     UF_TEXT(THICKNESS, args->units, s->ice_thickness_m));
    }
    if (isfinite(s->riser_share)) {
        uf_show_line(stdout, "risers", "%s of the tank's heat loss while there is frost",
                     UF_TEXT(SHARE, args->units, s->riser_share));
    }
}

static void show_hold(const struct uf_summary *s)
{
    char date[16];
    const char *when = uf_outcome_date(s->hold_most_day, date);
    uf_show_line(stdout, "to keep it warm", "at most %.0f W, on %s; %.0f kWh in the run",
                 s->hold_most_W, when != NULL ? when : "no day", s->hold_J / J_PER_KWH);
}

void uf_outcome_show(const struct uf_arguments *args, const struct uf_case *design,
                     const struct uf_summary *s)
{
    char date[16];
    char thaw[16];
    char rate[32];
    const char *when = uf_outcome_date(s->frost_undisturbed_day, date);
    const char *gone = uf_outcome_date(s->thaw_out_day, thaw);
    if (s->frost_undisturbed_m > 0.0) {
        uf_show_line(stdout, "frost far from the tank", "%s%s%s; %s%s",
                     UF_TEXT(LENGTH, args->units, s->frost_undisturbed_m),
                     when != NULL ? " on " : "", when != NULL ? when : "",
                     gone != NULL ? "gone by " : "not gone within the run",
                     gone != NULL ? gone : "");
    } else {
        uf_show_line(stdout, "frost far from the tank", "none");
    }
    if (design->tank.shape != UF_NO_TANK) {
        show_tank(args, s);
        if (!isnan(design->tank.hold_degC)) {
            show_hold(s);
        }
    }
    show_points(args, "probe", s->probes, s->n_probes);
    show_points(args, "pipe", s->pipes, s->n_pipes);
    uf_show_line(stdout, "heat balance", "%.1e of the heat through the surface%s",
                 s->heat_balance_relative,
                 s->heat_balance_relative <= 1e-4 ? "" : ": NOT within 1e-4, do not use this run");
    uf_show_line(stdout, "run", "%ld cells, %.0f days in %ld steps, %.2f s (%s years a second)",
                 s->counters.cells, s->counters.simulated_days, s->counters.steps,
                 s->counters.cpu_s,
                 uf_spent_rate(rate, sizeof rate, s->counters.simulated_days, s->counters.cpu_s));
    struct uf_remarks remarks;
    uf_remarks(&remarks, design, s);
    uf_remarks_show(&remarks, args->units);
}

void uf_outcome_show_limits(const struct uf_arguments *args, const struct uf_verdict *verdict)
{
    static const struct uf_show_column columns[] = {
        {"limit", 'l'}, {"what it asks", 'l'}, {"margin", 'r'}, {"met", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    for (size_t i = 0; i < uf_limit_count; i++) {
        if (isnan(verdict->margin[i])) {
            continue;
        }
        const bool ok = verdict->margin[i] >= 0.0;
        uf_show_table_cell(table, "%s", uf_limits[i].key);
        uf_show_table_cell(table, "%s", uf_limits[i].label);
        char margin[64];
        uf_show_table_cell(
            table, "%s",
            uf_recommend_margin(margin, sizeof margin, i, verdict->margin[i], args->units));
        uf_show_table_cell(table, "%s",
                           ok ? UF_TONE(args->colour, GOOD, "yes")
                              : UF_TONE(args->colour, BAD, "NO"));
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
}

void uf_outcome_answer_limits(cJSON *object, const struct uf_verdict *verdict)
{
    cJSON *list = uf_answer_array(object, "limits");
    for (size_t i = 0; i < uf_limit_count; i++) {
        if (!isnan(verdict->margin[i])) {
            cJSON *row = uf_answer_item(list);
            uf_answer_text(row, "key", uf_limits[i].key);
            uf_answer_number(row, "margin", verdict->margin[i]);
            uf_answer_text(row, "unit", uf_limit_unit(&uf_limits[i]));
            uf_answer_bool(row, "ok", verdict->margin[i] >= 0.0);
        }
    }
}
