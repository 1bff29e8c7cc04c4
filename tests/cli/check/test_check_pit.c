#include "tests/program.h"

#define PIT                                                                                        \
    "burial: {cover: 1.3 m, bedding: 0.3 m, pit: {clearance: 0.6 m, slope: 1, soil_class: B}}\n"

Test(check_pit, json)
{
    struct program_answer got = program_check("pit", "--json", PROGRAM_SITE(PIT));
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 0);
    cr_expect_float_eq(program_number(got.json, "depth_m"), 4.0, 1e-9);
    cr_expect_float_eq(program_number(got.json, "base_width_m"), 3.6, 1e-9);
    cr_expect_float_eq(program_number(got.json, "top_width_m"), 11.6, 1e-9);
    cr_expect(cJSON_IsTrue(cJSON_GetObjectItem(got.json, "ok")));
    program_forget(&got);
}

Test(check_pit, a_steep_pit_or_a_bad_gravel_exits_1)
{
    struct program_answer got =
        program_check("pit", "--set burial.pit.slope=0.5", PROGRAM_SITE(PIT));
    cr_expect_eq(got.code, 1);
    cr_expect(strstr(got.text, "TOO STEEP") != NULL, "%s", got.text);
    program_forget(&got);
    got = program_check("pit",
                        "--set quantities.grading=no_57 --set "
                        "'quantities.sieves=[{opening: 25 mm, passing: 50 percent}]'",
                        PROGRAM_SITE(PIT));
    cr_expect_eq(got.code, 1);
    cr_expect(strstr(got.text, "OUTSIDE") != NULL && strstr(got.text, "not measured") != NULL, "%s",
              got.text);
    program_forget(&got);
}
