#include "result_private.h"
#include "solver/base/calendar.h"

#include <math.h>
#include <stdlib.h>

/* A summary in a file: each fact an attribute named by its key as one word, in the unit of the key,
   its date beside it as text. What is not known, or another in each run, is left out. */

#define WORD 120

static bool put_fact(hid_t holder, const struct uf_fact *fact, const struct uf_summary *s, size_t i)
{
    char word[WORD];
    const double value = uf_facts_value(fact, s, i);
    const long whole = isfinite(value) ? lround(value) : 0;
    const int8_t yes = whole != 0;
    (void)uf_facts_word(word, sizeof word, fact->key, i);
    switch (fact->type) {
    case UF_FACT_TEXT:
        return uf_result_hdf5_put_text(holder, word, uf_facts_name(fact, s, i));
    case UF_FACT_BOOL:
        return uf_result_hdf5_put_number(holder, word, UF_KIND_BOOL, &yes, 1);
    case UF_FACT_LONG:
        return uf_result_hdf5_put_number(holder, word, UF_KIND_LONG, &whole, 1);
    case UF_FACT_DOUBLE:
        return uf_result_hdf5_put_number(holder, word, UF_KIND_DOUBLE, &value, 1);
    default:
        return true;
    }
}

static bool put_day(hid_t holder, const char *key, size_t i, long day)
{
    char word[WORD];
    char text[16];
    return day == UF_NO_DAY ||
           uf_result_hdf5_put_text(holder, uf_facts_word(word, sizeof word, key, i),
                                   uf_calendar_text(day, text, sizeof text));
}

bool uf_result_facts_write(hid_t group, const struct uf_fact *facts, const struct uf_summary *s)
{
    const hid_t holder = uf_result_hdf5_holder(group, "summary_numbers");
    bool good = holder >= 0;
    for (const struct uf_fact *fact = facts; good && fact->key != NULL; fact++) {
        const size_t n = fact->role == UF_FACT_MACHINE ? 0 : uf_facts_count(fact, s);
        for (size_t i = 0; good && i < n; i++) {
            const char *dated = fact->type == UF_FACT_DAY ? fact->key : fact->date_key;
            good = (!uf_facts_known(fact, s, i) || put_fact(holder, fact, s, i)) &&
                   (dated == NULL || put_day(holder, dated, i, uf_facts_day(fact, s, i)));
        }
    }
    (void)H5Dclose(holder);
    return good;
}

static void get_fact(hid_t holder, const struct uf_fact *fact, struct uf_summary *s, size_t i)
{
    char word[WORD];
    double value = NAN;
    long whole = 0;
    int8_t yes = 0;
    (void)uf_facts_word(word, sizeof word, fact->key, i);
    if (fact->type == UF_FACT_TEXT) {
        char *text = uf_result_hdf5_get_text(holder, word);
        uf_facts_set_text(fact, s, i, text != NULL ? text : "");
        free(text);
    } else if (fact->type == UF_FACT_BOOL &&
               uf_result_hdf5_get_number(holder, word, UF_KIND_BOOL, &yes)) {
        value = yes;
    } else if (fact->type == UF_FACT_LONG &&
               uf_result_hdf5_get_number(holder, word, UF_KIND_LONG, &whole)) {
        value = (double)whole;
    } else if (fact->type == UF_FACT_DOUBLE) {
        (void)uf_result_hdf5_get_number(holder, word, UF_KIND_DOUBLE, &value);
    }
    uf_facts_set_value(fact, s, i, value);
}

static void get_day(hid_t holder, const struct uf_fact *fact, struct uf_summary *s, size_t i)
{
    char word[WORD];
    const char *dated = fact->type == UF_FACT_DAY ? fact->key : fact->date_key;
    long day = UF_NO_DAY;
    char *text = dated == NULL
                     ? NULL
                     : uf_result_hdf5_get_text(holder, uf_facts_word(word, sizeof word, dated, i));
    if (text != NULL && uf_calendar_parse(text, &day)) {
        uf_facts_set_day(fact, s, i, day);
    }
    free(text);
}

/* As many of a list as have a name in the file. */
static void find_count(hid_t holder, const struct uf_fact *fact, struct uf_summary *s)
{
    char word[WORD];
    size_t n = 0;
    while (n < fact->list->most &&
           uf_result_hdf5_has_attribute(holder, uf_facts_word(word, sizeof word, fact->key, n))) {
        n++;
    }
    uf_facts_set_count(fact, s, n);
}

bool uf_result_facts_read(hid_t group, const struct uf_fact *facts, struct uf_summary *s)
{
    if (!uf_result_hdf5_exists(group, "summary_numbers")) {
        return false;
    }
    const hid_t holder = H5Dopen2(group, "summary_numbers", H5P_DEFAULT);
    uf_facts_clear(s);
    for (const struct uf_fact *fact = facts; fact->key != NULL; fact++) {
        if (fact->type == UF_FACT_TEXT) {
            find_count(holder, fact, s);
        }
        for (size_t i = 0; i < uf_facts_count(fact, s); i++) {
            get_fact(holder, fact, s, i);
            get_day(holder, fact, s, i);
        }
    }
    (void)H5Dclose(holder);
    return true;
}

bool uf_result_limits_write(hid_t group, const struct uf_result_design *design)
{
    const hid_t holder = uf_result_hdf5_holder(group, "limits");
    bool good = holder >= 0;
    for (size_t i = 0; good && i < design->n_limits; i++) {
        const struct uf_result_limit *limit = &design->limits[i];
        char word[WORD], unit[WORD + 8];
        (void)snprintf(unit, sizeof unit, "%s_unit",
                       uf_facts_word(word, sizeof word, limit->key, 0));
        good = uf_result_hdf5_put_number(holder, word, UF_KIND_DOUBLE, &limit->asked, 1) &&
               uf_result_hdf5_put_text(holder, unit,
                                       uf_quantity_kinds[uf_limit_find(limit->key)->quantity].held);
    }
    (void)H5Dclose(holder);
    return good;
}

bool uf_result_limits_read(hid_t group, struct uf_result_design *design)
{
    if (!uf_result_hdf5_exists(group, "limits")) {
        return false;
    }
    const hid_t holder = H5Dopen2(group, "limits", H5P_DEFAULT);
    for (size_t i = 0; i < uf_limit_count; i++) {
        struct uf_result_limit *limit = &design->limits[design->n_limits];
        char word[WORD];
        (void)uf_facts_word(word, sizeof word, uf_limits[i].key, 0);
        if (uf_result_hdf5_get_number(holder, word, UF_KIND_DOUBLE, &limit->asked)) {
            (void)snprintf(limit->key, sizeof limit->key, "%s", uf_limits[i].key);
            design->n_limits++;
        }
    }
    (void)H5Dclose(holder);
    return true;
}
