#include "check_rows.h"
#include "io/text/quantity.h"
#include "solver/base/constants.h"
#include "solver/design/tank.h"

#include <math.h>

#define DEGREE (180.0 / UF_PI)
#define KILO   1e-3

/* Lifting the empty tank: sling legs, headroom and utilization of the hoist. */

static const struct uf_lifting_input *given_of(const struct uf_check *check)
{
    return &check->site->works.lifting;
}

UF_CHECK_WHERE(has_sling, !isnan(given_of(check)->sling_m))

/* The shortest sling in a report only where no other is given. */
UF_CHECK_WHERE(tells_least, !check->brief || !has_sling(check))
UF_CHECK_WHERE(has_four, given_of(check)->picks == 4 && !check->brief)
UF_CHECK_VALUE(double, sling, given_of(check)->sling_m)

/* A film of water left inside runs to one end. */
static const double LEFT_M = 0.1;

UF_CHECK_VALUE(double, left, UF_WATER_UNIT_N_M3 *uf_tank_content_m3(&check->design->tank, LEFT_M))

UF_CHECK_VALUE(double, least_angle, UF_LIFTING_LEAST_RAD)
UF_CHECK_VALUE(double, whole, 1.0)

UF_CHECK_WORDS(work_load)
{
    (void)snprintf(text, size, "%s x g, on %zu pick points",
                   UF_TEXT(MASS, check->units, check->design->tank.empty_mass_kg),
                   given_of(check)->picks);
}

static void work_angle(char *text, size_t size, const struct uf_check *check,
                       const struct uf_lifting_legs *legs)
{
    const char *verdict = legs->preferred ? "good, 60 degrees or steeper"
                          : legs->allowed ? "flat, allowed down to 30 degrees; 60 is better"
                                          : "NOT ALLOWED, flatter than 30 degrees";
    if (check->brief) {
        (void)snprintf(text, size, "from the horizontal: %s", verdict);
    } else {
        (void)snprintf(
            text, size,
            "from the horizontal = %.1f degrees from the vertical = %.1f degrees between "
            "two opposite legs: %s",
            legs->from_vertical_rad * DEGREE, legs->included_rad * DEGREE, verdict);
    }
}

UF_CHECK_WORDS(work_least)
{
    work_angle(text, size, check, &check->lifting.at_least);
}

UF_CHECK_WORDS(work_given)
{
    work_angle(text, size, check, &check->lifting.given);
}

UF_CHECK_WORDS(work_hoist)
{
    if (isnan(check->lifting.hoist_use)) {
        (void)snprintf(text, size, "lifting.hoist is not given: not judged");
    } else {
        (void)snprintf(text, size, "load and rigging of %s over the hoist's %s: %s",
                       UF_TEXT(MASS, check->units, given_of(check)->rigging_kg),
                       UF_TEXT(FORCE, check->units, given_of(check)->hoist_N),
                       check->lifting.hoist_use <= 1.0 ? "met" : "NOT MET");
    }
}

UF_CHECK_WORDS(work_left)
{
    (void)snprintf(text, size, "more to lift where it stands %s deep, and it runs to one end",
                   UF_TEXT(LENGTH, check->units, LEFT_M));
}

static const struct uf_check_clause steep_enough = {"ASME B30.9", NULL, UF_CHECK_READ,
                                                    .required = least_angle},
                                    carried = {"lifting.hoist", NULL, UF_CHECK_SITE,
                                               .at_most = true, .required = whole};

/* What hangs from legs of one length. */
#define LEG(key, label, kind, member, ...)                                                         \
    {                                                                                              \
        key, label, UF_QUANTITY_##kind, UF_CHECK_FOUND(lifting.member), __VA_ARGS__                \
    }
#define LEGS(block, legs, work, when, tells)                                                       \
    LEG(block ".from_horizontal_degree", "angle of a leg", ANGLE, legs.from_horizontal_rad,        \
        .scale = DEGREE, .applies = when, .told = tells, .worked = work, .clause = &steep_enough), \
        LEG(block ".from_vertical_degree", NULL, ANGLE, legs.from_vertical_rad, .scale = DEGREE,   \
            .applies = when),                                                                      \
        LEG(block ".between_opposite_legs_degree", NULL, ANGLE, legs.included_rad,                 \
            .scale = DEGREE, .applies = when),                                                     \
        LEG(block ".leg_as_two_kN", "force in each leg", FORCE, legs.two_N, .scale = KILO,         \
            .applies = when, .told = tells, .note = "two legs carry it all"),                      \
        LEG(block ".leg_as_three_kN", "where three share it", FORCE, legs.three_N, .scale = KILO,  \
            .applies = when, .told = has_four, .note = "for comparison"),                          \
        LEG(block ".leg_as_four_kN", "where all four do", FORCE, legs.four_N, .scale = KILO,       \
            .applies = when, .told = has_four, .note = "a stiff tank hangs on two: order by two"), \
        LEG(block ".headroom_m", "headroom", LENGTH, legs.headroom_m, .applies = when,             \
            .told = uf_check_rows_in_full, .note = "from the pick points to the hook"),            \
        LEG(block ".allowed", NULL, LENGTH, legs.allowed, .type = UF_CHECK_YES, .applies = when)

static const struct uf_check_row rows[] = {
    LEG("load_kN", "load", FORCE, load_N, .scale = KILO, .worked = work_load),
    LEG("hook_to_pick_m", "hook to pick point", LENGTH, reach_m, .note = "horizontal"),
    LEG("least_sling_m", "shortest sling leg", LENGTH, least_sling_m, .told = tells_least,
        .note = "for 60 degrees between opposite legs"),
    LEGS("with_least_sling", at_least, work_least, NULL, tells_least),
    {NULL, "sling leg given", UF_QUANTITY_LENGTH, .number = sling, .applies = has_sling},
    LEGS("with_given_sling", given, work_given, has_sling, NULL),
    LEG("hoist_use", "hoist, utilization", SHARE, hoist_use, .worked = work_hoist,
        .clause = &carried),
    {NULL, "water left inside", UF_QUANTITY_FORCE, .number = left, .worked = work_left,
     .told = uf_check_rows_in_full},
    {.key = NULL}};

static const char *const cautions[] = {
    "Force in a leg = load / (legs x sine of the angle from the horizontal). Least angle of 30 degrees: "
    "ASME B30.9.",
    "Two legs of four counted under a stiff load: common practice, no source.",
    "Lift only the empty tank, only by the pick points its manufacturer gives, with tag lines, in no "
    "wind that moves it, and with nobody under it or in the pit.",
    NULL};

UF_CHECK_WHERE(given, given_of(check)->picks > 0)

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    const struct uf_lifting *l = &check->lifting;
    const enum uf_status status =
        uf_lifting(&check->lifting, given_of(check), check->design->tank.empty_mass_kg, err);
    check->ok =
        (isnan(l->hoist_use) || l->hoist_use <= 1.0) && (!has_sling(check) || l->given.allowed);
    return status;
}

const struct uf_check_topic uf_check_lifting = {
    .name = "lifting",
    .doc = "Lifting the empty tank: sling legs, headroom, hoist",
    .needs = "lifting",
    .given = given,
    .run = run,
    .rows = rows,
    .cautions = cautions,
};
