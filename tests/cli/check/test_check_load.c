#include "tests/program.h"

#define BOARD "board: {type: XPS_IV, thickness: 100 mm, beyond_tank: 1 m, above_crown: 0.15 m}\n"

/* XPS IV bears 57.7 kPa of soil and 34.6 kPa of wheel (a third and a fifth of 173 kPa). */
Test(check_load, json)
{
    struct program_answer got =
        program_check("load", "--json", PROGRAM_SITE(PROGRAM_BURIED BOARD "load: {wheel: H20}\n"));
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_float_eq(program_number(got.json, "dead_kPa"), 0.95 * 19.81, 1e-9);
    cr_expect_float_eq(program_number(got.json, "dead_limit_kPa"), 57.7, 0.05);
    cr_expect_float_eq(program_number(got.json, "live_limit_kPa"), 34.6, 0.05);
    cr_expect_eq(cJSON_GetArraySize(cJSON_GetObjectItem(got.json, "methods")), 5);
    cr_expect_eq(got.code, program_number(got.json, "board_use") > 1.0 ? 1 : 0);
    program_forget(&got);
}

Test(check_load, no_wheel)
{
    struct program_answer got = program_check("load", "--json", PROGRAM_SITE(PROGRAM_BURIED BOARD));
    cr_expect_eq(got.code, 0, "%s", got.text);
    cr_expect_float_eq(program_number(got.json, "board_use"), 0.95 * 19.81 * 3.0 / 173.0, 2e-3);
    program_forget(&got);
}

Test(check_load, text_fits)
{
    static const char *const arguments[] = {"", "--units us"};
    for (size_t i = 0; i < 2; i++) {
        struct program_answer got = program_check(
            "load", arguments[i], PROGRAM_SITE(PROGRAM_BURIED BOARD "load: {wheel: 71 kN}\n"));
        program_expect_fits(got.text);
        cr_expect(strstr(got.text, "1.75 H") != NULL && strstr(got.text, "Boussinesq") != NULL &&
                      strstr(got.text, "licensed") != NULL,
                  "%s", got.text);
        program_forget(&got);
    }
}
