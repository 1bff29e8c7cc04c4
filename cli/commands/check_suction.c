#include "check.h"
#include "io/text/show.h"
#include "solver/statics/suction.h"

#include <math.h>

/* Suction for fire use: can a pump draw the flow, and how long does the water last. */

#define GPM_M3S (3.785411784e-3 / 60.0)

static void answer(cJSON *object, const struct uf_site *site, const struct uf_suction *suction)
{
    uf_answer_number(object, "flow_m3_s", site->works.suction.flow_m3_s);
    uf_answer_number(object, "static_lift_m", suction->static_m);
    uf_answer_number(object, "intake_loss_m", suction->intake_loss_m);
    uf_answer_number(object, "pipe_loss_m", suction->pipe_loss_m);
    uf_answer_number(object, "total_lift_m", suction->total_m);
    uf_answer_number(object, "greatest_lift_m", suction->most_m);
    uf_answer_number(object, "recommended_lift_m", suction->recommended_m);
    uf_answer_number(object, "preferred_lift_m", suction->preferred_m);
    uf_answer_bool(object, "static_lift_ok", suction->static_ok);
    uf_answer_bool(object, "losses_published", suction->published);
    uf_answer_number(object, "full_m3", suction->full_m3);
    uf_answer_number(object, "available_m3", suction->available_m3);
    uf_answer_number(object, "available_minute", suction->minutes);
    uf_answer_number(object, "two_hours_m3", suction->two_hours_m3);
    uf_answer_bool(object, "two_hours_ok", suction->enough);
}

static void show_lift(const struct uf_arguments *args, const struct uf_suction *suction)
{
    const char *verdict = suction->preferred     ? "as preferred"
                          : suction->recommended ? "within what is recommended"
                          : suction->ok          ? "at the edge of what can be drawn"
                                                 : "MORE THAN CAN BE DRAWN";
    uf_show_line(stdout, "static lift", "%s, water at its lowest%s",
                 UF_TEXT(LENGTH, args->units, suction->static_m),
                 suction->static_ok ? "" : "; MORE than the 15 ft allowed");
    uf_show_line(stdout, "strainer, standpipe", "%s",
                 UF_TEXT(LENGTH, args->units, suction->intake_loss_m));
    uf_show_line(stdout, "pipe and fittings", "%s",
                 UF_TEXT(LENGTH, args->units, suction->pipe_loss_m));
    uf_show_line(stdout, "total lift", "%s: %s", UF_TEXT(LENGTH, args->units, suction->total_m),
                 verdict);
    uf_show_line(stdout, "limits here", "%s at most, under %s recommended, %s preferred",
                 UF_TEXT(LENGTH, args->units, suction->most_m),
                 UF_TEXT(LENGTH, args->units, suction->recommended_m),
                 UF_TEXT(LENGTH, args->units, suction->preferred_m));
}

static void show(const struct uf_arguments *args, const struct uf_site *site,
                 const struct uf_suction *suction)
{
    const struct uf_suction_input *input = &site->works.suction;
    if (args->units == UF_UNITS_US) {
        uf_show_line(stdout, "flow", "%.0f gpm", input->flow_m3_s / GPM_M3S);
    } else {
        uf_show_line(stdout, "flow", "%.1f L/s", 1e3 * input->flow_m3_s);
    }
    show_lift(args, suction);
    uf_show_line(stdout, "water",
                 "%s in the tank, %s below %s of ice and above %s of cover over the intake",
                 UF_TEXT(LIQUID, args->units, suction->full_m3),
                 UF_TEXT(LIQUID, args->units, suction->available_m3),
                 UF_TEXT(THICKNESS, args->units, input->ice_m),
                 UF_TEXT(LENGTH, args->units, input->cover_m));
    uf_show_line(stdout, "lasts", "%.0f minutes; two hours would take %s: %s", suction->minutes,
                 UF_TEXT(LIQUID, args->units, suction->two_hours_m3),
                 suction->enough               ? "there"
                 : suction->available_m3 > 0.0 ? "not there from this tank alone"
                                               : "NOTHING CAN BE DRAWN below the ice");
    uf_show_heading(stdout, "Sources and cautions");
    uf_show_text(stdout, 0,
                 "Lift and losses: NRCS NE-ENG-76 (2004), 22 ft at most, under 20 recommended, "
                 "15 preferred, less what the altitude takes (standard atmosphere, from "
                 "memory). Static lift of 15 ft and two hours: NRCS Code 432 (South Dakota "
                 "2004). Two feet over the intake: the same method.");
    uf_show_text(
        stdout, 0,
        suction->published
            ? "Strainer and standpipe: the published loss taken as that of a 6 in. pipe, by "
              "velocity head for others; suction.intake_loss takes the manufacturer's."
            : "OUTSIDE THE PUBLISHED RANGE of 6 to 12 in. and 250 to 750 gpm: the losses are "
              "carried on by velocity head and Manning's n = 0.010. suction.intake_loss takes "
              "what the manufacturer gives for strainer and standpipe.");
    uf_show_text(stdout, 0,
                 "The fire department that will draw from it has the last word. The pipe must "
                 "run below the frost: see the topic fittings.");
}

static bool given(const struct uf_check *check)
{
    return !isnan(check->site->works.suction.flow_m3_s);
}

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    const struct uf_site *site = check->site;
    struct uf_suction suction;
    const enum uf_status status = uf_suction(&suction, &site->works.suction, &site->design, err);
    if (status != UF_OK) {
        return status;
    }
    check->ok = suction.ok && suction.static_ok && suction.available_m3 > 0.0;
    if (check->answer != NULL) {
        answer(check->answer, site, &suction);
    } else {
        show(check->args, site, &suction);
    }
    return UF_OK;
}

const struct uf_check_topic uf_check_suction = {
    .name = "suction",
    .doc = "Suction lift for fire use, and the water that can be drawn",
    .needs = "suction",
    .given = given,
    .run = run,
};
