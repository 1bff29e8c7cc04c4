#include "solver/choice/choice_facts.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <string.h>

Test(choice_facts, each_has_a_key_of_its_own_and_one_source)
{
    for (const struct uf_choice_fact *a = uf_choice_facts; a->key != NULL; a++) {
        cr_expect((a->number != NULL) != (a->word != NULL), "%s", a->key);
        for (const struct uf_choice_fact *b = uf_choice_facts; b < a; b++) {
            cr_expect_str_neq(a->key, b->key);
        }
    }
}

/* What has no board has no extension; what was not run has no water; what one option has is its own. */
Test(choice_facts, what_is_not_there_is_no_number)
{
    struct uf_choice rows[2] = {{.cover_m = 1.0, .thickness_m = 0.0, .beyond_m = 1.2},
                                {.cover_m = 1.5, .thickness_m = 0.1, .beyond_m = 1.2}};
    const struct uf_choices_result choices = {.rows = rows, .n = 2};
    size_t seen = 0;
    for (const struct uf_choice_fact *fact = uf_choice_facts; fact->key != NULL; fact++) {
        const double bare = uf_choice_fact_number(fact, &choices, 0);
        const double with = uf_choice_fact_number(fact, &choices, 1);
        if (fact->board) {
            cr_expect(isnan(bare) && isfinite(with), "%s", fact->key);
            seen++;
        }
        if (fact->heat) {
            cr_expect(isnan(bare) && isnan(with), "%s", fact->key);
            seen++;
        }
        if (strcmp(fact->key, "cover_m") == 0) {
            cr_expect(bare == 1.0 && with == 1.5);
            seen++;
        }
    }
    cr_expect_geq(seen, 6);
}

Test(choice_facts, a_column_is_there_where_it_says_something)
{
    struct uf_case design;
    uf_case_init(&design);
    for (const struct uf_choice_fact *fact = uf_choice_facts; fact->key != NULL; fact++) {
        const bool plain = fact->head != NULL && !fact->money && fact->varied == NULL;
        cr_expect_eq(uf_choice_fact_has_column(fact, &design), plain, "%s", fact->key);
    }
    design.costs.given = true;
    design.choices.n_type = design.choices.n_anchors = design.choices.n_sleeve = 2;
    for (const struct uf_choice_fact *fact = uf_choice_facts; fact->key != NULL; fact++) {
        cr_expect_eq(uf_choice_fact_has_column(fact, &design), fact->head != NULL, "%s", fact->key);
    }
}
