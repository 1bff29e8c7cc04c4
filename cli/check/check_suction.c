#include "check_rows.h"
#include "io/text/quantity.h"
#include "solver/design/tank.h"

#include <math.h>

/* Suction for fire use: can a pump draw the flow, and how long does the water last. */

static const struct uf_suction_input *given_of(const struct uf_check *check)
{
    return &check->site->works.suction;
}

UF_CHECK_VALUE(double, flow, given_of(check)->flow_m3_s)
UF_CHECK_VALUE(double, most_static, check->suction.greatest_static_m)
UF_CHECK_VALUE(double, most_total, check->suction.most_m)
UF_CHECK_VALUE(double, two_hours, check->suction.two_hours_m3)

UF_CHECK_WORDS(work_static)
{
    const struct uf_suction_input *in = given_of(check);
    (void)snprintf(text, size,
                   "pump axis %s above grade + depth of the intake %s - water kept over it %s",
                   UF_TEXT(LENGTH, check->units, in->pump_above_grade_m),
                   UF_TEXT(LENGTH, check->units,
                           check->suction.static_m - in->pump_above_grade_m + in->cover_m),
                   UF_TEXT(LENGTH, check->units, in->cover_m));
}

UF_CHECK_WORDS(work_intake)
{
    (void)snprintf(text, size,
                   isnan(given_of(check)->intake_loss_m)
                       ? "1.2 ft (Q / 250 gpm)^2 (6 in. / d)^4, d = %s"
                       : "suction.intake_loss, from the manufacturer (d = %s)",
                   UF_TEXT(THICKNESS, check->units, given_of(check)->pipe_m));
}

UF_CHECK_WORDS(work_pipe)
{
    (void)snprintf(text, size,
                   "Manning, n = 0.010, straight %s + fittings %s: "
                   "4^(10/3) n^2 Q^2 L / (pi^2 d^(16/3))",
                   UF_TEXT(LENGTH, check->units, given_of(check)->length_m),
                   UF_TEXT(LENGTH, check->units, uf_suction_equivalent_m(given_of(check))));
}

UF_CHECK_WORDS(work_total)
{
    (void)snprintf(text, size, "sum of the three: %s",
                   check->suction.preferred     ? "as preferred"
                   : check->suction.recommended ? "within what is recommended"
                   : check->suction.ok          ? "at the edge of what can be drawn"
                                                : "MORE THAN CAN BE DRAWN");
}

UF_CHECK_WORDS(work_most)
{
    (void)snprintf(text, size,
                   "22 ft - 10.33 m (1 - (1 - 2.25577e-5 z/m)^5.25588), altitude z = %s; under %s "
                   "recommended, %s preferred",
                   UF_TEXT(LENGTH, check->units, given_of(check)->altitude_m),
                   UF_TEXT(LENGTH, check->units, check->suction.recommended_m),
                   UF_TEXT(LENGTH, check->units, check->suction.preferred_m));
}

UF_CHECK_WORDS(work_published)
{
    (void)snprintf(text, size, "%s",
                   check->suction.published
                       ? "the loss taken as that of a 6 in. pipe, by velocity head for others"
                       : "OUTSIDE 6 to 12 in. and 250 to 750 gpm: carried on by velocity head and "
                         "Manning's n");
}

UF_CHECK_WHERE(tells_published, !check->brief || !check->suction.published)

UF_CHECK_WORDS(work_water)
{
    const struct uf_suction_input *in = given_of(check);
    const struct uf_tank *tank = &check->design->tank;
    const double high_m = tank->level_m - in->ice_m,
                 low_m = in->intake_above_invert_m + in->cover_m;
    (void)snprintf(text, size,
                   "of %s; what it holds to %s, under %s of ice, less what it holds to %s, %s over "
                   "the intake: %s - %s",
                   UF_TEXT(LIQUID, check->units, check->suction.full_m3),
                   UF_TEXT(LENGTH, check->units, high_m),
                   UF_TEXT(THICKNESS, check->units, in->ice_m),
                   UF_TEXT(LENGTH, check->units, low_m), UF_TEXT(LENGTH, check->units, in->cover_m),
                   UF_TEXT(LIQUID, check->units, uf_tank_content_m3(tank, high_m)),
                   UF_TEXT(LIQUID, check->units, uf_tank_content_m3(tank, low_m)));
}

UF_CHECK_WORDS(work_minutes)
{
    (void)snprintf(text, size, "water over flow; two hours take %s: %s",
                   UF_TEXT(LIQUID, check->units, check->suction.two_hours_m3),
                   check->suction.enough               ? "there"
                   : check->suction.available_m3 > 0.0 ? "not there from this tank alone"
                                                       : "NOTHING CAN BE DRAWN below the ice");
}

static const char code_432[] = "NRCS Code 432 (South Dakota 2004)";

static const struct uf_check_row rows[] = {
    {"flow_m3_s", "flow", UF_QUANTITY_PUMPED, .number = flow},
    {"static_lift_m", "static lift", UF_QUANTITY_LENGTH, UF_CHECK_FOUND(suction.static_m),
     .worked = work_static,
     .clause = &(const struct uf_check_clause){code_432, NULL, UF_CHECK_READ, .at_most = true,
                                               .required = most_static}},
    {"intake_loss_m", "strainer and standpipe", UF_QUANTITY_LENGTH,
     UF_CHECK_FOUND(suction.intake_loss_m), .worked = work_intake},
    {"pipe_loss_m", "pipe and fittings", UF_QUANTITY_LENGTH, UF_CHECK_FOUND(suction.pipe_loss_m),
     .worked = work_pipe},
    {"total_lift_m", "total lift", UF_QUANTITY_LENGTH, UF_CHECK_FOUND(suction.total_m),
     .worked = work_total,
     .clause = &(const struct uf_check_clause){"NRCS NE-ENG-76 (2004)", NULL, UF_CHECK_READ,
                                               .at_most = true, .required = most_total}},
    {"greatest_lift_m", "greatest lift here", UF_QUANTITY_LENGTH, UF_CHECK_FOUND(suction.most_m),
     .worked = work_most},
    {"recommended_lift_m", .quantity = UF_QUANTITY_LENGTH, UF_CHECK_FOUND(suction.recommended_m)},
    {"preferred_lift_m", .quantity = UF_QUANTITY_LENGTH, UF_CHECK_FOUND(suction.preferred_m)},
    {"static_lift_ok", "static lift is allowed", .type = UF_CHECK_YES,
     UF_CHECK_FOUND(suction.static_ok), .note = "15 ft at most", .told = uf_check_rows_in_full},
    {"losses_published", "losses are published", .type = UF_CHECK_YES,
     UF_CHECK_FOUND(suction.published), .told = tells_published, .worked = work_published},
    {"full_m3", .quantity = UF_QUANTITY_LIQUID, UF_CHECK_FOUND(suction.full_m3)},
    {"available_m3", "water to be drawn", UF_QUANTITY_LIQUID, UF_CHECK_FOUND(suction.available_m3),
     .worked = work_water,
     .clause = &(const struct uf_check_clause){code_432, "water to be drawn, two hours of the flow",
                                               UF_CHECK_READ, .required = two_hours}},
    {"available_minute", "lasts", UF_QUANTITY_MINUTES, UF_CHECK_FOUND(suction.minutes),
     .worked = work_minutes},
    {"two_hours_m3", .quantity = UF_QUANTITY_LIQUID, UF_CHECK_FOUND(suction.two_hours_m3)},
    {"two_hours_ok", .type = UF_CHECK_YES, UF_CHECK_FOUND(suction.enough)},
    {.key = NULL}};

static const char *const cautions[] = {
    "Lift and losses: NRCS NE-ENG-76 (2004). Static lift of 15 ft and two hours: NRCS Code 432 (South "
    "Dakota 2004).",
    "Lift: 22 ft at most, under 20 recommended, 15 preferred, less what the altitude takes (standard "
    "atmosphere, from memory). Two feet over the intake: the same method. "
    "suction.intake_loss takes what the manufacturer gives for strainer and standpipe.",
    "The fire department that will draw from it has the last word. The pipe must run below the frost: "
    "see the topic fittings.",
    NULL};

UF_CHECK_WHERE(given, !isnan(given_of(check)->flow_m3_s))

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    struct uf_suction *s = &check->suction;
    const enum uf_status status = uf_suction(s, given_of(check), check->design, err);
    check->ok = s->ok && s->static_ok && s->available_m3 > 0.0;
    return status;
}

const struct uf_check_topic uf_check_suction = {
    .name = "suction",
    .doc = "Suction lift for fire use, and the water that can be drawn",
    .needs = "suction",
    .given = given,
    .run = run,
    .rows = rows,
    .cautions = cautions,
};
