#include "check.h"
#include "io/text/show.h"
#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "solver/statics/lifting.h"

#include <math.h>

/* Lifting the empty tank: sling legs, headroom and utilization of the hoist. */

#define RAD_DEG (180.0 / UF_PI)

static void answer_legs(cJSON *object, const char *key, const struct uf_lifting_legs *legs)
{
    cJSON *row = uf_answer_object(object, key);
    uf_answer_number(row, "from_horizontal_degree", legs->from_horizontal_rad * RAD_DEG);
    uf_answer_number(row, "from_vertical_degree", legs->from_vertical_rad * RAD_DEG);
    uf_answer_number(row, "between_opposite_legs_degree", legs->included_rad * RAD_DEG);
    uf_answer_number(row, "leg_as_two_kN", 1e-3 * legs->two_N);
    uf_answer_number(row, "leg_as_three_kN", 1e-3 * legs->three_N);
    uf_answer_number(row, "leg_as_four_kN", 1e-3 * legs->four_N);
    uf_answer_number(row, "headroom_m", legs->headroom_m);
    uf_answer_bool(row, "allowed", legs->allowed);
}

static void answer(cJSON *object, const struct uf_site *site, const struct uf_lifting *lifting)
{
    uf_answer_number(object, "load_kN", 1e-3 * lifting->load_N);
    uf_answer_number(object, "hook_to_pick_m", lifting->reach_m);
    uf_answer_number(object, "least_sling_m", lifting->least_sling_m);
    answer_legs(object, "with_least_sling", &lifting->at_least);
    if (!isnan(site->works.lifting.sling_m)) {
        answer_legs(object, "with_given_sling", &lifting->given);
    }
    uf_answer_number(object, "hoist_use", lifting->hoist_use);
}

static void show_legs(const struct uf_arguments *args, const struct uf_lifting_legs *legs,
                      double sling_m, const char *what)
{
    uf_show_heading(stdout, what);
    uf_show_line(stdout, "sling leg", "%s long", UF_TEXT(LENGTH, args->units, sling_m));
    uf_show_line(stdout, "angle",
                 "%.1f degrees from the horizontal = %.1f degrees from the vertical = %.1f degrees "
                 "between two opposite legs",
                 legs->from_horizontal_rad * RAD_DEG, legs->from_vertical_rad * RAD_DEG,
                 legs->included_rad * RAD_DEG);
    uf_show_line(stdout, "judged", "%s",
                 legs->preferred ? "good: 60 degrees from the horizontal or steeper"
                 : legs->allowed
                     ? "flat: allowed down to 30 degrees from the horizontal; 60 is better"
                     : "NOT ALLOWED: flatter than 30 degrees from the horizontal");
    uf_show_line(stdout, "force in each leg", "%s, two legs carrying it all",
                 UF_TEXT(FORCE, args->units, legs->two_N));
    if (!isnan(legs->four_N)) {
        uf_show_line(stdout, "",
                     "for comparison %s where three share it, %s where all four do; a stiff tank "
                     "hangs on two: order by two",
                     UF_TEXT(FORCE, args->units, legs->three_N),
                     UF_TEXT(FORCE, args->units, legs->four_N));
    }
    uf_show_line(stdout, "headroom", "%s from the pick points to the hook",
                 UF_TEXT(LENGTH, args->units, legs->headroom_m));
}

static void show(const struct uf_arguments *args, const struct uf_site *site,
                 const struct uf_lifting *lifting)
{
    const struct uf_lifting_input *input = &site->works.lifting;
    const double water_N = UF_WATER_UNIT_N_M3 * uf_tank_content_m3(&site->design.tank, 0.1);
    uf_show_line(stdout, "load", "%s on %zu pick points",
                 UF_TEXT(FORCE, args->units, lifting->load_N), input->picks);
    if (isnan(lifting->hoist_use)) {
        uf_show_line(stdout, "hoist", "lifting.hoist is not given: not judged");
    } else {
        uf_show_line(stdout, "hoist", "utilization %.0f percent of %s, rigging included: %s",
                     100.0 * lifting->hoist_use, UF_TEXT(FORCE, args->units, input->hoist_N),
                     lifting->hoist_use <= 1.0 ? "met" : "NOT MET");
    }
    show_legs(args, &lifting->at_least, lifting->least_sling_m,
              "Shortest sling for 60 degrees between opposite legs");
    if (!isnan(input->sling_m)) {
        show_legs(args, &lifting->given, input->sling_m, "The sling given");
    }
    uf_show_heading(stdout, "Sources and cautions");
    uf_show_text(
        stdout, 0,
        "Force in a leg = load / (legs x sine of the angle from the horizontal). Least angle "
        "of 30 degrees: ASME B30.9. Two legs of four counted under a stiff load: "
        "common practice, no source.");
    uf_show_text(
        stdout, 0,
        "Lift only the empty tank, only by the pick points its manufacturer gives, with tag lines, "
        "in no wind that moves it, and with nobody under it or in the pit.");
    (void)printf("Water left inside runs to one end: %s deep it weighs %s more.\n",
                 UF_TEXT(LENGTH, args->units, 0.1), UF_TEXT(FORCE, args->units, water_N));
}

static bool is_ok(const struct uf_site *site, const struct uf_lifting *lifting)
{
    const bool hoist = isnan(lifting->hoist_use) || lifting->hoist_use <= 1.0;
    return hoist && (isnan(site->works.lifting.sling_m) || lifting->given.allowed);
}

static bool given(const struct uf_check *check)
{
    return check->site->works.lifting.picks > 0;
}

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    const struct uf_site *site = check->site;
    struct uf_lifting lifting;
    const enum uf_status status =
        uf_lifting(&lifting, &site->works.lifting, site->design.tank.empty_mass_kg, err);
    if (status != UF_OK) {
        return status;
    }
    check->ok = is_ok(site, &lifting);
    if (check->answer != NULL) {
        answer(check->answer, site, &lifting);
    } else {
        show(check->args, site, &lifting);
    }
    return UF_OK;
}

const struct uf_check_topic uf_check_lifting = {
    .name = "lifting",
    .doc = "Lifting the empty tank: sling legs, headroom, hoist",
    .needs = "lifting",
    .given = given,
    .run = run,
};
