#include "cli/tell/outcome.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_case tank(void)
{
    struct uf_case c;
    uf_case_init(&c);
    c.tank.shape = UF_HORIZONTAL_CYLINDER;
    c.tank.diameter_m = 2.4;
    c.burial.cover_m = 1.2;
    return c;
}

static struct uf_verdict none(void)
{
    struct uf_verdict verdict = {.ok = true};
    for (size_t i = 0; i < uf_limit_count; i++) {
        verdict.margin[i] = NAN;
    }
    return verdict;
}

static const struct uf_summary mild = {.frost_undisturbed_m = 1.9,
                                       .frost_above_m = 1.06,
                                       .water = {3.5, 16131}, /* 2014-03-02 */
                                       .ice_share = 0.0};

Test(outcome_words, a_tank_in_two_units)
{
    char text[900];
    const struct uf_case c = tank();
    struct uf_verdict verdict = none();
    verdict.margin[0] = 1.4;
    uf_outcome_words(text, sizeof text, &c, &mild, &verdict, UF_UNITS_SI);
    cr_expect_str_eq(text,
                     "Frost goes down to 1.90 m in open ground and to 1.06 m over the "
                     "tank, whose crown at 1.20 m stays unfrozen. The water is coldest on "
                     "2014-03-02, at 3.5 degC, and none of it freezes. Every limit is met.",
                     "%s", text);
    uf_outcome_words(text, sizeof text, &c, &mild, &verdict, UF_UNITS_US);
    cr_expect(strstr(text, "6.23 ft") != NULL && strstr(text, "38.3 degF") != NULL, "%s", text);
    cr_expect(strstr(text, "degC") == NULL, "%s", text);
}

Test(outcome_words, what_is_broken_is_named)
{
    char text[900];
    const struct uf_case c = tank();
    struct uf_summary hard = mild;
    struct uf_verdict verdict = none();
    hard.frost_reaches_tank = true;
    hard.ice_share = 0.2;
    verdict.margin[0] = -1.0;
    verdict.margin[1] = 0.5;
    verdict.margin[uf_limit_find("limits.uplift_factor") - uf_limits] = -0.2;
    uf_outcome_words(text, sizeof text, &c, &hard, &verdict, UF_UNITS_SI);
    cr_expect(strstr(text, "reaches the tank's crown at 1.20 m") != NULL, "%s", text);
    cr_expect(strstr(text, "turns to ice") != NULL, "%s", text);
    cr_expect(strstr(text,
                     "NOT met: coldest water or wetted wall (limits.water); factor "
                     "of safety against flotation, tank empty (limits.uplift_factor).") != NULL,
              "%s", text);
}

Test(outcome_words, bare_ground_and_no_frost)
{
    char text[900];
    struct uf_case c;
    struct uf_summary s = mild;
    const struct uf_verdict verdict = none();
    uf_case_init(&c);
    c.tank.shape = UF_NO_TANK;
    s.water.degC = NAN;
    uf_outcome_words(text, sizeof text, &c, &s, &verdict, UF_UNITS_SI);
    cr_expect_str_eq(text, "Frost goes down to 1.90 m. No limit is given to judge it by.", "%s",
                     text);
    s.frost_undisturbed_m = 0.0;
    uf_outcome_words(text, sizeof text, &c, &s, &verdict, UF_UNITS_SI);
    cr_expect(strncmp(text, "The ground does not freeze.", 27) == 0, "%s", text);
}
