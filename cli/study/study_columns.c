#include "study.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The numbers of a case: every fact of a run that is one number, with its day; the margin of every
   limit; the price; the freezing index of its winter. */

static struct uf_study_column *add(struct uf_study *s)
{
    struct uf_study_column *larger = realloc(s->columns, (s->n_columns + 1) * sizeof *larger);
    if (larger == NULL) {
        return NULL;
    }
    s->columns = larger;
    struct uf_study_column *column = &s->columns[s->n_columns++];
    *column = (struct uf_study_column){.units = "1"};
    return column;
}

/* CF's words for a unit of a fact. */
static const char *units_of(const char *unit)
{
    static const char *const none[] = {"", "share", "factor", "count"};
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
        if (strcmp(unit, none[i]) == 0) {
            return "1";
        }
    }
    return unit;
}

static bool add_fact(struct uf_study *s, const struct uf_fact *fact)
{
    if (fact->list != NULL || fact->role == UF_FACT_MACHINE || fact->type == UF_FACT_TEXT) {
        return true;
    }
    struct uf_study_column *value = fact->type != UF_FACT_DAY ? add(s) : NULL;
    if (value != NULL) {
        value->fact = fact;
        value->units = units_of(uf_facts_unit(fact));
        value->long_name = fact->label;
        (void)uf_facts_word(value->name, sizeof value->name, fact->key, 0);
    }
    const char *day_key = fact->type == UF_FACT_DAY ? fact->key : fact->date_key;
    struct uf_study_column *day = day_key != NULL ? add(s) : NULL;
    if (day != NULL) {
        day->fact = fact;
        day->day = true;
        day->units = "days since 1970-01-01 00:00:00";
        day->long_name = fact->label;
        (void)uf_facts_word(day->name, sizeof day->name, day_key, 0);
    }
    return (value != NULL || fact->type == UF_FACT_DAY) && (day != NULL || day_key == NULL);
}

static bool add_plain(struct uf_study *s, enum uf_study_column_kind kind, const char *name,
                      const char *units, const char *long_name)
{
    struct uf_study_column *column = add(s);
    if (column != NULL) {
        column->kind = kind;
        column->units = units;
        column->long_name = long_name;
        (void)snprintf(column->name, sizeof column->name, "%s", name);
    }
    return column != NULL;
}

enum uf_status uf_study_columns(struct uf_study *s, struct uf_error *err)
{
    bool good = true;
    for (const struct uf_fact *fact = uf_facts; good && fact->key != NULL; fact++) {
        good = add_fact(s, fact);
    }
    for (size_t i = 0; good && i < uf_limit_count; i++) {
        char key[80], word[100];
        (void)uf_facts_word(key, sizeof key, uf_limits[i].key, 0);
        (void)snprintf(word, sizeof word, "margin_%s", key);
        good = add_plain(s, UF_STUDY_MARGIN, word, units_of(uf_limit_unit(&uf_limits[i])),
                         uf_limits[i].label);
        if (good) {
            s->columns[s->n_columns - 1].limit = i;
        }
    }
    good = good && add_plain(s, UF_STUDY_COST, "cost", "1", "cost in the site file's currency") &&
           add_plain(s, UF_STUDY_INDEX, "freezing_index", "K day",
                     "freezing index of the air of the winter run");
    return good ? UF_OK : uf_fail(err, UF_E_MEMORY, "out of memory for a study");
}

size_t uf_study_columns_find(const struct uf_study *s, const char *name)
{
    size_t i = 0;
    while (i < s->n_columns && strcmp(s->columns[i].name, name) != 0) {
        i++;
    }
    return i;
}
