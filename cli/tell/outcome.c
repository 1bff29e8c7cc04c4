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

void uf_outcome_answer(cJSON *object, const struct uf_case *design, const struct uf_summary *s,
                       bool verbose)
{
    struct uf_remarks remarks;
    uf_answer_facts(object, uf_facts, s, verbose);
    uf_remarks(&remarks, design, s);
    uf_remarks_answer(object, &remarks);
}

static const double J_PER_KWH = 3.6e6;

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
