#include "suction.h"

#include "solver/base/constants.h"
#include "solver/design/tank.h"

#include <math.h>

void uf_suction_init(struct uf_suction_input *input)
{
    *input = (struct uf_suction_input){.flow_m3_s = NAN,
                                       .pipe_m = NAN,
                                       .length_m = NAN,
                                       .pump_above_grade_m = NAN,
                                       .intake_above_invert_m = NAN,
                                       .cover_m = 2.0 * UF_FOOT_M,
                                       .intake_loss_m = NAN};
}

double uf_suction_intake_loss_m(double flow_m3_s, double pipe_m)
{
    const double share = flow_m3_s / (250.0 * UF_GPM_M3_S) * pow(6.0 * UF_INCH_M / pipe_m, 2.0);
    return 1.2 * UF_FOOT_M * share * share;
}

double uf_suction_pipe_loss_m(double flow_m3_s, double pipe_m, double length_m)
{
    static const double manning = 0.010 * 0.558 / 0.55701;
    const double share =
        manning * flow_m3_s / (UF_PI * pow(0.25, 5.0 / 3.0) * pow(pipe_m, 8.0 / 3.0));
    return length_m * share * share;
}

double uf_suction_equivalent_m(const struct uf_suction_input *input)
{
    const double extra_ft = 20.0 * (double)input->elbows_90 + 10.0 * (double)input->elbows_45 +
                            10.0 * (double)input->reducers;
    return input->length_m + extra_ft * UF_FOOT_M;
}

double uf_suction_air_m(double altitude_m)
{
    return 10.33 * pow(1.0 - 2.25577e-5 * altitude_m, 5.25588);
}

static enum uf_status check(const struct uf_suction_input *input, const struct uf_case *design,
                            struct uf_error *err)
{
    if (!uf_case_has_tank(design)) {
        return uf_fail_key(err, UF_E_INPUT, "tank", UF_PLAIN("there is no tank to draw from"),
                           UF_PLAIN("give a tank block"));
    }
    if (!(input->flow_m3_s >= 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "suction.flow", UF_PLAIN("is not given"),
                           UF_PLAIN("the flow wanted, such as 500 gpm"));
    }
    if (!(input->pipe_m > 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "suction.pipe", UF_PLAIN("is not given"),
                           UF_PLAIN("the pipe's inside diameter, such as 150 mm"));
    }
    if (!(input->length_m >= 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "suction.length", UF_PLAIN("is not given"),
                           UF_PLAIN("the length of the pipe"));
    }
    if (isnan(input->pump_above_grade_m) || !(input->intake_above_invert_m >= 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "suction", UF_PLAIN("pump or intake has no place"),
                           UF_PLAIN("give pump_above_grade and intake_above_invert"));
    }
    if (!(input->ice_m >= 0.0) || !(input->cover_m >= 0.0) || !(fabs(input->altitude_m) < 6000.0)) {
        return uf_fail_key(
            err, UF_E_RANGE, "suction", UF_PLAIN("ice, cover or altitude is out of range"),
            UF_SAID("ice and cover zero or more, altitude below {}", UF_OF(LENGTH, 6000.0)));
    }
    return UF_OK;
}

/* Nominal sizes in either system of units count as the same: 150 mm is 6 in. */
static bool in_range(double value, double least, double most)
{
    return value >= 0.98 * least && value <= 1.02 * most;
}

/* What is below the ice and above the lowest water the intake can use. */
static void set_volume(struct uf_suction *out, const struct uf_suction_input *input,
                       const struct uf_tank *tank, double lowest_m)
{
    const double below_ice_m = tank->level_m - input->ice_m;
    out->full_m3 = uf_tank_content_m3(tank, tank->level_m);
    out->available_m3 =
        fmax(0.0, uf_tank_content_m3(tank, below_ice_m) - uf_tank_content_m3(tank, lowest_m));
    out->two_hours_m3 = 7200.0 * input->flow_m3_s;
    out->minutes =
        input->flow_m3_s > 0.0 ? out->available_m3 / input->flow_m3_s / 60.0 : (double)INFINITY;
    out->enough = out->available_m3 >= out->two_hours_m3;
}

enum uf_status uf_suction(struct uf_suction *out, const struct uf_suction_input *input,
                          const struct uf_case *design, struct uf_error *err)
{
    const struct uf_tank *tank = &design->tank;
    const double wall_m = isnan(tank->wall_thickness_m) ? 0.0 : tank->wall_thickness_m;
    const double lost_m = uf_suction_air_m(0.0) - uf_suction_air_m(input->altitude_m);
    const enum uf_status status = check(input, design, err);
    *out = (struct uf_suction){0};
    if (status != UF_OK) {
        return status;
    }
    const double lowest_m = input->intake_above_invert_m + input->cover_m;
    out->static_m = input->pump_above_grade_m + uf_case_invert_m(design) - wall_m - lowest_m;
    out->intake_loss_m = isnan(input->intake_loss_m)
                             ? uf_suction_intake_loss_m(input->flow_m3_s, input->pipe_m)
                             : input->intake_loss_m;
    out->pipe_loss_m =
        uf_suction_pipe_loss_m(input->flow_m3_s, input->pipe_m, uf_suction_equivalent_m(input));
    out->total_m = out->static_m + out->intake_loss_m + out->pipe_loss_m;
    out->most_m = 22.0 * UF_FOOT_M - lost_m;
    out->recommended_m = 20.0 * UF_FOOT_M - lost_m;
    out->preferred_m = 15.0 * UF_FOOT_M - lost_m;
    out->greatest_static_m = 15.0 * UF_FOOT_M;
    out->ok = out->total_m <= out->most_m;
    out->recommended = out->total_m < out->recommended_m;
    out->preferred = out->total_m <= out->preferred_m;
    out->static_ok = out->static_m <= out->greatest_static_m;
    out->published = in_range(input->pipe_m / UF_INCH_M, 6.0, 12.0) &&
                     in_range(input->flow_m3_s / UF_GPM_M3_S, 250.0, 750.0);
    set_volume(out, input, tank, lowest_m);
    return UF_OK;
}
