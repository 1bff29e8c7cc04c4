#include "solver/base/constants.h"
#include "tests/program.h"

#define PIPES                                                                                      \
    "pipes: [{name: suction, diameter: 150 mm, depth: 1.0 m}]\n"                                   \
    "groundwater: {winter: 5 m}\n"

Test(check_fittings, json_with_a_frost_depth_given)
{
    struct program_answer got =
        program_check("fittings",
                      "--json --set 'frost.depth=1.0 m' --set "
                      "'tank.risers=[{diameter: 0.6 m, height: 1.4 m, lid: 0.5 m2.K/W}]'",
                      PROGRAM_SITE(PROGRAM_BURIED PIPES));
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 1, "the pipe's top lies in the frost");
    cr_expect_float_eq(program_number(got.json, "jacking_kN"), 65.0 * UF_PI * 0.6, 1e-9);
    const cJSON *pipe = cJSON_GetArrayItem(cJSON_GetObjectItem(got.json, "pipes"), 0);
    cr_expect_float_eq(program_number(pipe, "below_frost_m"), -0.075, 1e-9);
    cr_expect_float_eq(program_number(pipe, "least_depth_m"), 1.075, 1e-9);
    program_forget(&got);
    got =
        program_check("fittings", "--set 'frost.depth=0.8 m'", PROGRAM_SITE(PROGRAM_BURIED PIPES));
    cr_expect_eq(got.code, 0, "%s", got.text);
    program_expect_fits(got.text);
    cr_expect(strstr(got.text, "as given by frost.depth") != NULL &&
                  strstr(got.text, "frost group") != NULL,
              "%s", got.text);
    program_forget(&got);
}

#define COARSE " --set grid.finest=200mm"

/* Without frost.depth the design winter is run; the answer is the run's. */
Test(check_fittings, frost_depth_by_a_run)
{
    struct program_answer frost =
        program_run("simulate --json --quiet" COARSE, PROGRAM_SITE(PROGRAM_BURIED PIPES));
    struct program_answer got =
        program_check("fittings", "--json --quiet" COARSE, PROGRAM_SITE(PROGRAM_BURIED PIPES));
    cr_assert(frost.json != NULL && got.json != NULL, "%s%s", frost.text, got.text);
    const cJSON *depth =
        cJSON_GetObjectItem(cJSON_GetObjectItem(frost.json, "frost_depth"), "undisturbed");
    cr_expect_float_eq(program_number(got.json, "frost_depth_m"), program_number(depth, "max_m"),
                       1e-9);
    cr_expect(cJSON_IsTrue(cJSON_GetObjectItem(got.json, "frost_computed")));
    program_forget(&frost);
    program_forget(&got);
}
