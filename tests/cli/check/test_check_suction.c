#include "tests/program.h"

#define PIPE                                                                                       \
    "suction: {flow: 250 gpm, pipe: 6 inch, length: 100 ft, pump_above_grade: 0.9 m, "             \
    "intake_above_invert: 0.15 m, ice: 0.2 m}\n"

/* 250 gpm: 1.2 ft in the strainer, 0.5852 ft in 100 ft of 6 in. pipe (NRCS NE-ENG-76). */
Test(check_suction, json)
{
    struct program_answer got =
        program_check("suction", "--json", PROGRAM_SITE(PROGRAM_BURIED PIPE));
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 0);
    cr_expect_float_eq(program_number(got.json, "intake_loss_m"), 1.2 * 0.3048, 1e-6);
    cr_expect_float_eq(program_number(got.json, "pipe_loss_m"), 0.5852 * 0.3048, 1e-4);
    cr_expect_float_eq(program_number(got.json, "two_hours_m3"), 113.56, 5e-3);
    program_forget(&got);
}

Test(check_suction, a_lift_that_cannot_be_drawn_exits_1)
{
    struct program_answer got = program_check("suction", "--set 'suction.pump_above_grade=6 m'",
                                              PROGRAM_SITE(PROGRAM_BURIED PIPE));
    cr_expect_eq(got.code, 1, "%s", got.text);
    cr_expect(strstr(got.text, "MORE THAN CAN BE DRAWN") != NULL, "%s", got.text);
    program_forget(&got);
    got = program_check("suction", "", PROGRAM_SITE(PROGRAM_BURIED));
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "give suction") != NULL, "%s", got.text);
    program_forget(&got);
}

Test(check_suction, nothing_to_draw_exits_1)
{
    struct program_answer got =
        program_check("suction", "--set 'suction.ice=2 m'", PROGRAM_SITE(PROGRAM_BURIED PIPE));
    cr_expect_eq(got.code, 1, "%s", got.text);
    cr_expect(strstr(got.text, "NOTHING") != NULL, "%s", got.text);
    program_forget(&got);
}

Test(check_suction, text_fits)
{
    static const char *const arguments[] = {"", "--units us"};
    for (size_t i = 0; i < 2; i++) {
        struct program_answer got =
            program_check("suction", arguments[i], PROGRAM_SITE(PROGRAM_BURIED PIPE));
        program_expect_fits(got.text);
        cr_expect(strstr(got.text, i == 0 ? "L/s" : "gpm") != NULL, "%s", got.text);
        cr_expect(strstr(got.text, "NRCS NE-ENG-76") != NULL);
        program_forget(&got);
    }
}
