#include "answer.h"
#include "cli/commands/compare.h"
#include "io/text/fact_text.h"
#include "io/text/show.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The facts of two runs side by side, as text and as JSON. */

/* One of a fact in two runs: of a list the two of the same name. at[k] is the count where run k has
   none such. */
struct both {
    const struct uf_fact *fact;
    const struct uf_summary *run[2];
    size_t at[2];
};

/* The k-th of them: those of the first run in their order, then those that the second alone has.
   false: no more. */
static bool pick(struct both *out, size_t k)
{
    const size_t n[2] = {uf_facts_count(out->fact, out->run[0]),
                         uf_facts_count(out->fact, out->run[1])};
    if (k < n[0]) {
        out->at[0] = k;
        out->at[1] =
            uf_facts_find(out->fact, out->run[1], uf_facts_name(out->fact, out->run[0], k));
        return true;
    }
    size_t alone = n[0];
    for (size_t i = 0; i < n[1]; i++) {
        const char *name = uf_facts_name(out->fact, out->run[1], i);
        if (uf_facts_find(out->fact, out->run[0], name) == n[0] && alone++ == k) {
            out->at[0] = n[0];
            out->at[1] = i;
            return true;
        }
    }
    return false;
}

static bool there(const struct both *b, size_t k)
{
    return b->at[k] < uf_facts_count(b->fact, b->run[k]);
}

static double number_of(const struct both *b, size_t k)
{
    return there(b, k) ? uf_facts_number(b->fact, b->run[k], b->at[k]) : (double)NAN;
}

static long day_of(const struct both *b, size_t k)
{
    return there(b, k) ? uf_facts_day(b->fact, b->run[k], b->at[k]) : UF_NO_DAY;
}

static void show_days(struct uf_show_table *table, const char *label, const long day[2])
{
    char text[16];
    if (day[0] == UF_NO_DAY && day[1] == UF_NO_DAY) {
        return;
    }
    uf_show_table_cell(table, "%s", label);
    for (size_t i = 0; i < 2; i++) {
        uf_show_table_cell(table, "%s", uf_fact_text_day(text, sizeof text, day[i]));
    }
    const long later = day[1] - day[0];
    if (day[0] != UF_NO_DAY && day[1] != UF_NO_DAY && labs(later) < 366) {
        uf_show_table_cell(table, "%ld day%s", later, labs(later) == 1 ? "" : "s");
    } else {
        uf_show_table_cell(table, "-");
    }
}

static void show_both(struct uf_show_table *table, const struct both *b, enum uf_units units)
{
    const struct uf_fact *fact = b->fact;
    const size_t side = there(b, 0) ? 0 : 1;
    const long day[2] = {day_of(b, 0), day_of(b, 1)};
    const bool plain = fact->type == UF_FACT_BOOL || fact->quantity == UF_QUANTITY_RESIDUAL;
    char label[120];
    (void)uf_fact_text_label(label, sizeof label, fact, b->run[side], b->at[side]);
    if (fact->type == UF_FACT_DAY) {
        show_days(table, label, day);
        return;
    }
    uf_show_table_cell(table, "%s", label);
    for (size_t k = 0; k < 2; k++) {
        char text[120];
        uf_show_table_cell(
            table, "%s",
            there(b, k) ? uf_fact_text(text, sizeof text, fact, b->run[k], b->at[k], units) : "-");
    }
    char text[40];
    uf_show_table_cell(table, "%s",
                       uf_quantity_text(text, sizeof text,
                                        uf_quantity_kind_difference(fact->quantity), units,
                                        plain ? (double)NAN : number_of(b, 1) - number_of(b, 0)));
    if (fact->date_key != NULL) {
        show_days(table, "- on", day);
    }
}

/* Is there anything to write of either? */
static bool is_told(const struct both *b)
{
    return (there(b, 0) && uf_fact_text_has(b->fact, b->run[0], b->at[0])) ||
           (there(b, 1) && uf_fact_text_has(b->fact, b->run[1], b->at[1]));
}

void uf_compare_show_facts(struct uf_show_table *table, const struct uf_fact *facts,
                           const struct uf_summary *a, const struct uf_summary *b,
                           enum uf_units units, bool verbose)
{
    for (const struct uf_fact *fact = facts; fact->key != NULL; fact++) {
        struct both both = {.fact = fact, .run = {a, b}};
        const bool wanted =
            fact->role == UF_FACT_ANSWER || (fact->role == UF_FACT_NUMERICS && verbose);
        for (size_t k = 0; wanted && pick(&both, k); k++) {
            if (is_told(&both)) {
                show_both(table, &both, units);
            }
        }
    }
}

void uf_compare_answer_numbers(cJSON *object, double a, double b)
{
    uf_answer_number(object, "first", a);
    uf_answer_number(object, "second", b);
    uf_answer_number(object, "difference", b - a);
}

/* One of a fact, into an object of its own. */
static void answer_both(cJSON *object, const struct both *b)
{
    const double per = b->fact->per > 0.0 ? b->fact->per : 1.0;
    const bool day = b->fact->type == UF_FACT_DAY;
    if (!day) {
        uf_compare_answer_numbers(object, number_of(b, 0) / per, number_of(b, 1) / per);
    }
    if (day || b->fact->date_key != NULL) {
        uf_answer_date(object, day ? "first" : "first_date", day_of(b, 0));
        uf_answer_date(object, day ? "second" : "second_date", day_of(b, 1));
    }
}

/* Of a list: item k, by its name; in it what is told of it. */
static void answer_listed(cJSON *answer, const struct both *b, size_t k)
{
    char list[64];
    const size_t side = there(b, 0) ? 0 : 1;
    (void)snprintf(list, sizeof list, "%.*s", (int)strcspn(b->fact->key, "["), b->fact->key);
    cJSON *array = cJSON_GetObjectItemCaseSensitive(answer, list);
    cJSON *item = cJSON_GetArrayItem(array, (int)k);
    const char *name = strrchr(b->fact->key, '.') + 1;
    item = item != NULL ? item : uf_answer_item(array);
    if (b->fact->type == UF_FACT_TEXT) {
        uf_answer_text(item, name, uf_facts_name(b->fact, b->run[side], b->at[side]));
    } else {
        answer_both(uf_answer_object(item, name), b);
    }
}

void uf_compare_answer_facts(cJSON *answer, const struct uf_fact *facts, const struct uf_summary *a,
                             const struct uf_summary *b)
{
    for (const struct uf_fact *fact = facts; fact->key != NULL; fact++) {
        struct both both = {.fact = fact, .run = {a, b}};
        char word[120];
        if (fact->list != NULL) {
            (void)snprintf(word, sizeof word, "%.*s", (int)strcspn(fact->key, "["), fact->key);
            if (!cJSON_HasObjectItem(answer, word)) {
                (void)uf_answer_array(answer, word);
            }
        }
        for (size_t k = 0; fact->role != UF_FACT_MACHINE && pick(&both, k); k++) {
            if (fact->list != NULL) {
                answer_listed(answer, &both, k);
            } else {
                (void)uf_facts_word(word, sizeof word, fact->key, 0);
                answer_both(uf_answer_object(answer, word), &both);
            }
        }
    }
}
