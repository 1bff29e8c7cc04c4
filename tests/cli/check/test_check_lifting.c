#include "tests/program.h"

#define LIFT "lifting: {picks: 2, spacing: 4 m, sling: 3.2 m, hoist: 20 kN, rigging: 100 kg}\n"

/* 4.0 m between picks: a sling of 4.000 m, 3.464 m of headroom at 60 degrees between the legs. */
Test(check_lifting, json)
{
    struct program_answer got =
        program_check("lifting", "--json", PROGRAM_SITE(PROGRAM_BURIED LIFT));
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 0);
    cr_expect_float_eq(program_number(got.json, "least_sling_m"), 4.0, 1e-9);
    const cJSON *least = cJSON_GetObjectItem(got.json, "with_least_sling");
    cr_expect_float_eq(program_number(least, "headroom_m"), 3.464, 5e-4);
    cr_expect_float_eq(program_number(least, "between_opposite_legs_degree"), 60.0, 1e-9);
    cr_expect_float_eq(program_number(got.json, "hoist_use"), 1000.0 * 9.80665 / 20000.0, 1e-9);
    program_forget(&got);
}

Test(check_lifting, a_flat_sling_or_a_small_hoist_exits_1)
{
    struct program_answer got = program_check("lifting", "--json --set 'lifting.sling=2.2 m'",
                                              PROGRAM_SITE(PROGRAM_BURIED LIFT));
    cr_expect_eq(got.code, 1, "%s", got.text);
    program_forget(&got);
    got = program_check("lifting", "--json --set 'lifting.hoist=9 kN'",
                        PROGRAM_SITE(PROGRAM_BURIED LIFT));
    cr_expect_eq(got.code, 1, "%s", got.text);
    program_forget(&got);
    got = program_check("lifting", "", PROGRAM_SITE(PROGRAM_BURIED));
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "give lifting") != NULL, "%s", got.text);
    program_forget(&got);
}

Test(check_lifting, text_names_every_angle)
{
    static const char *const arguments[] = {"", "--units us"};
    for (size_t i = 0; i < 2; i++) {
        struct program_answer got =
            program_check("lifting", arguments[i], PROGRAM_SITE(PROGRAM_BURIED LIFT));
        program_expect_fits(got.text);
        cr_expect(strstr(got.text, "from the horizontal") != NULL &&
                      strstr(got.text, "vertical") != NULL && strstr(got.text, "wind") != NULL,
                  "%s", got.text);
        program_forget(&got);
    }
}
