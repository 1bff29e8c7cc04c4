#include "lifting.h"

#include "solver/base/constants.h"

#include <math.h>

void uf_lifting_init(struct uf_lifting_input *input)
{
    *input = (struct uf_lifting_input){.spacing_m = NAN,
                                       .width_m = NAN,
                                       .sling_m = NAN,
                                       .hoist_N = NAN,
                                       .rigging_kg = 0.0,
                                       .mass_kg = NAN};
}

double uf_lifting_leg_N(double load_N, double legs, double from_horizontal_rad)
{
    return load_N / (legs * sin(from_horizontal_rad));
}

static struct uf_lifting_legs legs_of(double load_N, double reach_m, double sling_m, bool four)
{
    const double angle = acos(reach_m / sling_m);
    return (struct uf_lifting_legs){
        .from_horizontal_rad = angle,
        .from_vertical_rad = 0.5 * UF_PI - angle,
        .included_rad = UF_PI - 2.0 * angle,
        .two_N = uf_lifting_leg_N(load_N, 2.0, angle),
        .three_N = four ? uf_lifting_leg_N(load_N, 3.0, angle) : (double)NAN,
        .four_N = four ? uf_lifting_leg_N(load_N, 4.0, angle) : (double)NAN,
        .headroom_m = sling_m * sin(angle),
        .allowed = angle >= UF_LIFTING_LEAST_RAD - 1e-9,
        .preferred = angle >= UF_LIFTING_PREFERRED_RAD - 1e-9};
}

static enum uf_status check(const struct uf_lifting_input *input, double mass_kg,
                            struct uf_error *err)
{
    if (input->picks != 2 && input->picks != 4) {
        return uf_fail_key(err, UF_E_INPUT, "lifting.picks",
                           UF_SAID("{} are given", UF_COUNT(input->picks)),
                           UF_PLAIN("2 or 4, as the tank's manufacturer has them"));
    }
    if (!(input->spacing_m > 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "lifting.spacing", UF_PLAIN("is not given"),
                           UF_PLAIN("the distance between the picks"));
    }
    if (input->picks == 4 && !(input->width_m > 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "lifting.width", UF_PLAIN("is not given"),
                           UF_PLAIN("the distance across between four picks"));
    }
    if (!(mass_kg > 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "lifting.mass", UF_PLAIN("is not given"),
                           UF_PLAIN("give it, or tank.empty_mass"));
    }
    return UF_OK;
}

enum uf_status uf_lifting(struct uf_lifting *out, const struct uf_lifting_input *input,
                          double empty_mass_kg, struct uf_error *err)
{
    const double mass_kg = isnan(input->mass_kg) ? empty_mass_kg : input->mass_kg;
    const bool four = input->picks == 4;
    const enum uf_status status = check(input, mass_kg, err);
    *out = (struct uf_lifting){0};
    if (status != UF_OK) {
        return status;
    }
    out->load_N = mass_kg * UF_GRAVITY_M_S2;
    out->reach_m = 0.5 * hypot(input->spacing_m, four ? input->width_m : 0.0);
    out->least_sling_m = out->reach_m / cos(UF_LIFTING_PREFERRED_RAD);
    out->at_least = legs_of(out->load_N, out->reach_m, out->least_sling_m, four);
    out->given = legs_of(out->load_N, out->reach_m, input->sling_m, four);
    out->hoist_use = (out->load_N + input->rigging_kg * UF_GRAVITY_M_S2) / input->hoist_N;
    if (!isnan(input->sling_m) && !(input->sling_m > out->reach_m)) {
        return uf_fail_key(
            err, UF_E_RANGE, "lifting.sling",
            UF_SAID("{} does not reach from the hook to the picks", UF_OF(LENGTH, input->sling_m)),
            UF_SAID("at least {} for 60 degrees between opposite legs",
                    UF_OF(LENGTH, out->least_sling_m)));
    }
    return UF_OK;
}
