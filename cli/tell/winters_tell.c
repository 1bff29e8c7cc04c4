#include "cli/commands/winters.h"
#include "cli/recommend/recommend.h"
#include "io/text/show.h"
#include "outcome.h"
#include "remarks.h"

#include <math.h>
#include <stdio.h>

static void answer_winter(cJSON *list, const struct uf_winters *w, size_t index, bool verbose)
{
    const struct uf_every_winter *winter = &w->every->winters[index];
    cJSON *row = uf_answer_item(list);
    char name[16];
    uf_answer_text(row, "winter", uf_winters_name(w, index, name, sizeof name));
    uf_answer_number(row, "freezing_index_degC_day", winter->index_degC_day);
    uf_answer_facts(row, uf_facts, &winter->summary, verbose);
}

void uf_winters_answer(cJSON *object, const struct uf_winters *w, bool verbose)
{
    cJSON *list = uf_answer_array(object, "winters");
    for (size_t i = 0; i < w->every->n; i++) {
        answer_winter(list, w, i, verbose);
    }
    uf_answer_count(object, "winters_with_gaps", (long)w->every->n_unusable);
    uf_answer_count(object, "winters_run", (long)w->limits.winters);
    uf_answer_count(object, "winters_that_broke_a_limit", (long)w->limits.any);
    cJSON *limits = uf_answer_array(object, "limits_broken");
    for (size_t l = 0; l < uf_limit_count; l++) {
        if (!isnan(w->limits.least[l])) {
            cJSON *row = uf_answer_item(limits);
            char name[16];
            uf_answer_text(row, "key", uf_limits[l].key);
            uf_answer_count(row, "winters", (long)w->limits.broken[l]);
            uf_answer_number(row, "share", (double)w->limits.broken[l] / (double)w->limits.winters);
            uf_answer_number(row, "least_margin", w->limits.least[l]);
            uf_answer_text(row, "unit", uf_limit_unit(&uf_limits[l]));
            uf_answer_text(row, "least_in",
                           uf_winters_name(w, w->limits.least_winter[l], name, sizeof name));
        }
    }
    struct uf_remarks remarks;
    uf_remarks(&remarks, &w->design, &w->every->winters[w->worst].summary);
    uf_remarks_answer(object, &remarks);
    uf_answer_number(object, "simulated_days", w->simulated_days);
    if (verbose) {
        uf_answer_number(object, "seconds", w->cpu_s);
    }
}

/* Is it a column of the table, with a number in some winter? */
static bool is_column(const struct uf_fact *fact, const struct uf_winters *w)
{
    bool known = false;
    for (size_t i = 0; fact->head != NULL && fact->head[0] != '\0' && i < w->every->n; i++) {
        known = known || uf_facts_known(fact, &w->every->winters[i].summary, 0);
    }
    return known;
}

static void show_winter(struct uf_show_table *table, const struct uf_winters *w, size_t index,
                        enum uf_units units)
{
    const struct uf_every_winter *winter = &w->every->winters[index];
    char text[40], date[16];
    uf_show_table_cell(table, "%s", uf_winters_name(w, index, text, sizeof text));
    uf_show_table_cell(table, "%s", UF_NUMBER(INDEX, units, winter->index_degC_day));
    for (const struct uf_fact *fact = uf_facts; fact->key != NULL; fact++) {
        if (is_column(fact, w)) {
            uf_show_table_cell(table, "%s",
                               uf_quantity_number(text, sizeof text, fact->quantity, units,
                                                  uf_facts_number(fact, &winter->summary, 0)));
        }
        if (is_column(fact, w) && fact->day_head != NULL) {
            const char *when = uf_outcome_date(uf_facts_day(fact, &winter->summary, 0), date);
            uf_show_table_cell(table, "%s", when != NULL ? when : "-");
        }
    }
}

#define MOST_COLUMNS 12

static void show_each(const struct uf_winters *w, enum uf_units units)
{
    struct uf_show_column columns[MOST_COLUMNS] = {{"winter", 'l'}, {"freezing\nindex", 'r'}};
    size_t n = 2;
    for (const struct uf_fact *fact = uf_facts; fact->key != NULL && n + 1 < MOST_COLUMNS; fact++) {
        if (is_column(fact, w)) {
            columns[n++] = (struct uf_show_column){fact->head, 'r'};
        }
        if (is_column(fact, w) && fact->day_head != NULL) {
            columns[n++] = (struct uf_show_column){fact->day_head, 'l'};
        }
    }
    struct uf_show_table *table = uf_show_table_create(columns, n);
    for (size_t i = 0; i < w->every->n; i++) {
        show_winter(table, w, i, units);
    }
    uf_show_table_end(stdout, table);
    uf_show_text(stdout, 0,
                 units == UF_UNITS_US ? "index in degF day, depths in ft, temperatures in degF"
                                      : "index in degC day, depths in m, temperatures in degC");
}

static void show_limits(const struct uf_winters *w, const struct uf_arguments *args)
{
    static const struct uf_show_column columns[] = {{"limit", 'l'},
                                                    {"broken in", 'r'},
                                                    {"share", 'r'},
                                                    {"least margin", 'r'},
                                                    {"in winter", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 5);
    for (size_t l = 0; l < uf_limit_count; l++) {
        char name[16];
        if (isnan(w->limits.least[l])) {
            continue;
        }
        uf_show_table_cell(table, "%s", uf_limits[l].key);
        uf_show_table_cell(table, "%zu of %zu", w->limits.broken[l], w->limits.winters);
        uf_show_table_cell(
            table, "%s",
            UF_TEXT(SHARE, args->units, (double)w->limits.broken[l] / (double)w->limits.winters));
        char margin[64];
        uf_show_table_cell(
            table, "%s",
            uf_recommend_margin(margin, sizeof margin, l, w->limits.least[l], args->units));
        uf_show_table_cell(table, "%s",
                           uf_winters_name(w, w->limits.least_winter[l], name, sizeof name));
    }
    uf_show_table_end(stdout, table);
}

/* Frost that summers do not end is no winter's own. */
static size_t lasting(const struct uf_every *every)
{
    size_t n = 0;
    for (size_t i = 0; i + 1 < every->n; i++) {
        const struct uf_summary *s = &every->winters[i].summary;
        n += s->frost_undisturbed_m > 0.0 && s->thaw_out_day == UF_NO_DAY;
    }
    return n;
}

void uf_winters_show(const struct uf_winters *w, const struct uf_arguments *args, bool each)
{
    const size_t left = lasting(w->every);
    if (each) {
        show_each(w, args->units);
        (void)putchar('\n');
    }
    if (w->limits.winters > 0) {
        show_limits(w, args);
        uf_show_line(stdout, "every limit met", "in %zu of %zu winters",
                     w->limits.winters - w->limits.any, w->limits.winters);
    }
    if (w->every->n_unusable > 0) {
        uf_show_line(stdout, "left out", "%zu winters with gaps in their air temperature",
                     w->every->n_unusable);
    }
    if (w->taken_over > 0) {
        uf_show_line(stdout, "taken over", "%zu winters of the run that was interrupted",
                     w->taken_over);
    }
    if (left > 0) {
        uf_show_line(stdout, "lasting frost",
                     "after %zu winters frost outlasted the summer: the next winter's depth "
                     "then counts it too",
                     left);
    }
    struct uf_remarks remarks;
    uf_remarks(&remarks, &w->design, &w->every->winters[w->worst].summary);
    uf_remarks_show(&remarks, args->units);
}
