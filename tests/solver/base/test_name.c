#include "solver/base/name.h"

#include <criterion/criterion.h>

Test(name, a_row_is_found_by_its_first_member)
{
    static const struct row {
        const char *name;
        int value;
    } rows[] = {{"one", 1}, {"two", 2}, {NULL, 3}};
    const struct row *found = uf_name_find(rows, sizeof rows[0], "two");
    cr_assert_not_null(found);
    cr_expect_eq(found->value, 2);
    cr_expect_null(uf_name_find(rows, sizeof rows[0], "tw"));
    cr_expect_null(uf_name_find(rows, sizeof rows[0], ""));
}

Test(name, the_nearest_is_near)
{
    static const char *const words[] = {"box", "turf", "horizontal_cylinder", NULL};
    cr_expect_str_eq(uf_name_nearest("horizontal_cilinder", words), "horizontal_cylinder");
    cr_expect_str_eq(uf_name_nearest("bx", words), "box");
    cr_expect_str_eq(uf_name_nearest("tufr", words), "turf");
    cr_expect_null(uf_name_nearest("", words));
    cr_expect_null(
        uf_name_nearest("a-word-of-more-letters-than-any-word-of-a-table-will-ever-have", words));
    cr_expect_null(uf_name_nearest("sand", words));
    static const char *const options[] = {"json", "jobs", "units", NULL};
    cr_expect_str_eq(uf_name_nearest("jsno", options), "json");
    cr_expect_str_eq(uf_name_nearest("unit", options), "units");
    cr_expect_null(uf_name_nearest("o", words));
}
