#include "outcome.h"

#include "cli/command.h"
#include "cli/recommend/recommend.h"
#include "io/text/fact_text.h"
#include "io/text/show.h"
#include "remarks.h"
#include "solver/base/calendar.h"
#include "spent.h"

#include <math.h>
#include <stdio.h>

const char uf_outcome_cautions[] =
    "An aid to design, not a design: excavation, lifting, entry into the tank, an uplift "
    "failure and a frozen fire main can kill. Follow the local codes and the tank manufacturer's "
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

void uf_outcome_show_facts(const struct uf_fact *facts, const struct uf_summary *summary,
                           enum uf_units units, bool verbose)
{
    static const struct uf_show_column columns[] = {{"", 'l'}, {"", 'r'}, {"on", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    for (const struct uf_fact *fact = facts; fact->key != NULL; fact++) {
        for (size_t i = 0; i < uf_facts_count(fact, summary); i++) {
            char text[3][120];
            if ((fact->role != UF_FACT_ANSWER && !verbose) || !uf_fact_text_has(fact, summary, i)) {
                continue;
            }
            uf_show_table_cell(table, "%s",
                               uf_fact_text_label(text[0], sizeof text[0], fact, summary, i));
            uf_show_table_cell(table, "%s",
                               uf_fact_text(text[1], sizeof text[1], fact, summary, i, units));
            uf_show_table_cell(
                table, "%s",
                fact->date_key == NULL
                    ? ""
                    : uf_fact_text_day(text[2], sizeof text[2], uf_facts_day(fact, summary, i)));
        }
    }
    uf_show_table_end(stdout, table);
}

void uf_outcome_show(const struct uf_arguments *args, const struct uf_case *design,
                     const struct uf_summary *s)
{
    struct uf_remarks remarks;
    (void)putchar('\n');
    uf_outcome_show_facts(uf_facts, s, args->units, args->verbose);
    if (isfinite(s->water.degC)) {
        uf_show_line(stdout, "water taken as", "%s", uf_outcome_water(design));
    }
    (void)putchar('\n');
    if (args->verbose) {
        uf_spent_show("run", s->counters.simulated_days, s->counters.cpu_s);
    }
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
    uf_show_table_end(stdout, table);
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
