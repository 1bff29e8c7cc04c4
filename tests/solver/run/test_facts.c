#include "solver/run/facts.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void mark(bool *told, size_t offset, size_t size)
{
    for (size_t i = offset; i < offset + size; i++) {
        told[i] = true;
    }
}

/* Every byte of the summary that some fact, its date, its list or the list's count tells. */
static void mark_all(bool *told)
{
    for (const struct uf_fact *fact = uf_facts; fact->key != NULL; fact++) {
        const bool list = fact->list != NULL;
        for (size_t i = 0; i < (list ? fact->list->most : 1); i++) {
            const size_t start = list ? fact->list->offset + i * fact->list->row_size : 0;
            mark(told, start + fact->offset, fact->size);
            if (fact->date_key != NULL) {
                mark(told, start + fact->day_offset, sizeof(long));
            }
        }
        if (list) {
            mark(told, fact->list->count_offset, sizeof(size_t));
        }
    }
}

/* Whoever adds a member adds its fact. What the compiler puts after a bool is no member. */
Test(facts, every_member_of_the_summary_is_one)
{
    static bool told[sizeof(struct uf_summary)];
    mark_all(told);
    for (const struct uf_fact *fact = uf_facts; fact->key != NULL; fact++) {
        if (fact->type == UF_FACT_BOOL) {
            const size_t after = fact->offset + fact->size;
            mark(told, after, (sizeof(double) - after % sizeof(double)) % sizeof(double));
        }
    }
    for (size_t i = 0; i < sizeof told; i++) {
        cr_assert(told[i], "byte %zu of struct uf_summary belongs to no fact", i);
    }
}

Test(facts, a_row_says_what_it_needs_and_no_key_stands_twice)
{
    char word[2][96];
    for (const struct uf_fact *fact = uf_facts; fact->key != NULL; fact++) {
        cr_expect(fact->label != NULL && fact->label[0] != '\0', "%s", fact->key);
        cr_expect_eq(strstr(fact->key, "[]") != NULL, fact->list != NULL, "%s", fact->key);
        cr_expect(fact->type != UF_FACT_DOUBLE || fact->size == sizeof(double), "%s", fact->key);
        cr_expect(fact->type != UF_FACT_LONG || fact->size == sizeof(long), "%s", fact->key);
        for (const struct uf_fact *other = fact + 1; other->key != NULL; other++) {
            cr_expect_str_neq(uf_facts_word(word[0], sizeof word[0], fact->key, 0),
                              uf_facts_word(word[1], sizeof word[1], other->key, 0));
        }
    }
}

static const struct uf_fact *find(const char *key)
{
    for (const struct uf_fact *fact = uf_facts; fact->key != NULL; fact++) {
        if (strcmp(fact->key, key) == 0) {
            return fact;
        }
    }
    cr_assert_fail("no fact %s", key);
    return NULL;
}

/* What is written into a cleared summary is read again, and nothing else is known. */
Test(facts, a_cleared_summary_knows_what_is_set)
{
    static struct uf_summary s;
    char text[64];
    uf_facts_clear(&s);
    cr_expect(isnan(s.water.degC) && s.water.day == UF_NO_DAY && isnan(s.hold_J));
    cr_expect(!uf_facts_known(find("water.min_degC"), &s, 0));
    const struct uf_fact *total = find("hold.total_kWh");
    uf_facts_set_value(total, &s, 0, 2.0);
    cr_expect_eq(s.hold_J, 7.2e6);
    cr_expect_eq(uf_facts_value(total, &s, 0), 2.0);
    cr_expect_eq(uf_facts_number(total, &s, 0), 7.2e6);
    cr_expect_str_eq(uf_facts_unit(total), "kWh");

    const struct uf_fact *coldest = find("probes[].min_degC");
    const struct uf_fact *name = find("probes[].name");
    cr_expect_eq(uf_facts_count(coldest, &s), 0u);
    uf_facts_set_count(coldest, &s, 1000);
    cr_expect_eq(s.n_probes, (size_t)UF_MAX_PROBES, "never more than there is room for");
    uf_facts_set_count(coldest, &s, 2);
    uf_facts_set_text(name, &s, 1, "outlet");
    uf_facts_set_value(coldest, &s, 1, -1.5);
    uf_facts_set_day(coldest, &s, 1, 16000);
    cr_expect(s.probes[1].least.degC == -1.5 && s.probes[1].least.day == 16000);
    cr_expect_str_eq(uf_facts_name(coldest, &s, 1), "outlet");
    cr_expect_eq(uf_facts_find(coldest, &s, "outlet"), 1u);
    cr_expect_eq(uf_facts_find(coldest, &s, "inlet"), 2u);
    cr_expect_str_eq(uf_facts_key(text, sizeof text, coldest->date_key, 1), "probes[1].min_date");
    cr_expect_str_eq(uf_facts_word(text, sizeof text, coldest->key, 1), "probes_1_min_degC");
}

/* Of bare ground no answer says whether frost reached a tank, of a tank it is yes or no. */
Test(facts, what_does_not_apply_is_not_told)
{
    static struct uf_summary s;
    const struct uf_fact *reaches = find("frost_depth.above_tank.reaches_tank");
    const struct uf_fact *thaw = find("thaw_out_date");
    uf_facts_clear(&s);
    s.frost_reaches_tank = true;
    cr_expect(!uf_facts_applies(reaches, &s) && !uf_facts_known(reaches, &s, 0));
    s.frost_above_m = 0.4;
    cr_expect_eq(uf_facts_number(reaches, &s, 0), 1.0);
    s.frost_undisturbed_m = 0.0;
    s.thaw_out_day = 16000;
    cr_expect(!uf_facts_known(thaw, &s, 0), "ground that never froze has nothing to thaw");
    s.frost_undisturbed_m = 1.0;
    cr_expect_eq(uf_facts_day(thaw, &s, 0), 16000);
}
