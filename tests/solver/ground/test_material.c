#include "solver/ground/material.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

/* Soil N1 of the checks with a linear range; the enthalpy of each state is sensible heat
   by the two capacities plus the latent heat of the water that froze: exact by hand. */
static struct uf_thermal linear_soil(void)
{
    return (struct uf_thermal){.k_thawed_W_mK = 1.5,
                               .k_frozen_W_mK = 2.5,
                               .c_thawed_J_m3K = 3.0e6,
                               .c_frozen_J_m3K = 1.9e6,
                               .latent_J_m3 = 150.0e6,
                               .freezing_from_degC = -0.1,
                               .freezing_to_degC = -0.6};
}

/* Fairbanks silt, A = 4.8 %, B = -0.326 (Anderson, Tice & McKim 1973), 20 % of water. */
static struct uf_thermal curved_soil(void)
{
    struct uf_thermal soil = linear_soil();
    soil.unfrozen_A_percent = 4.8;
    soil.unfrozen_B = -0.326;
    soil.water_percent = 20.0;
    return soil;
}

static struct uf_material make(const struct uf_thermal *thermal)
{
    struct uf_material m;
    struct uf_error err = {0};
    cr_assert(uf_material_from_thermal(&m, "soil", thermal, &err) == UF_OK, "%s", err.text);
    return m;
}

static struct uf_material make_blend(void)
{
    const struct uf_thermal a = linear_soil();
    const struct uf_thermal b = curved_soil();
    const struct uf_material first = make(&a);
    const struct uf_material second = make(&b);
    struct uf_material wall;
    struct uf_material out;
    uf_material_inert(&wall, "wall", 0.25, 2.0e6);
    const struct uf_material *const parts[] = {&first, &second, &wall};
    const double shares[] = {0.5, 0.3, 0.2};
    cr_assert(uf_material_blend(&out, "blend", parts, shares, 3, NULL) == UF_OK);
    return out;
}

static void round_trip(const struct uf_material *m)
{
    for (double T = -60.0; T < 40.0; T += 0.0137) {
        const double H = uf_material_H_J_m3(m, T);
        cr_assert(fabs(uf_material_T_degC(m, H) - T) < 1e-11, "%s at %g", m->name, T);
        cr_assert(uf_material_H_J_m3(m, T + 1e-4) > H, "%s does not rise at %g", m->name, T);
    }
    for (size_t j = 0; j < m->n; j++) { /* and on the very corners */
        const double T = uf_material_T_degC(m, m->H_J_m3[j]);
        cr_assert(fabs(T - m->T_degC[j]) < 1e-12 * (1.0 + fabs(T)));
    }
}

Test(material, temperature_and_enthalpy_invert_each_other)
{
    const struct uf_thermal a = linear_soil();
    const struct uf_thermal b = curved_soil();
    const struct uf_material linear = make(&a);
    const struct uf_material curved = make(&b);
    const struct uf_material blend = make_blend();
    cr_expect(linear.simple);
    cr_expect(!curved.simple);
    round_trip(&linear);
    round_trip(&curved);
    round_trip(&blend);
}

Test(material, heat_of_a_linear_range_is_exact)
{
    const struct uf_thermal soil = linear_soil();
    const struct uf_material m = make(&soil);
    const double mean_J_m3K = 0.5 * (1.9e6 + 3.0e6);
    const double got = uf_material_H_J_m3(&m, 4.0) - uf_material_H_J_m3(&m, -10.0);
    const double want = 4.1 * 3.0e6 + 0.5 * mean_J_m3K + 150.0e6 + 9.4 * 1.9e6;
    cr_expect(fabs(got - want) < 1e-6 * want * 1e-6, "%.12g %.12g", got, want);
    cr_expect(uf_material_H_J_m3(&m, -0.1) == 0.0);
}

/* Anderson & Tice: liquid water A |T|^B at the breakpoints; all latent heat down to the
   cold end is the ice that formed, whatever the shape between. */
Test(material, heat_of_a_curve_is_the_ice_formed)
{
    const struct uf_thermal soil = curved_soil();
    const struct uf_material m = make(&soil);
    double sensible_J_m3 = 0.0;
    for (size_t j = 0; j + 1 < m.n; j++) {
        const double liquid = 0.5 * (m.liquid[j] + m.liquid[j + 1]);
        sensible_J_m3 += (m.T_degC[j + 1] - m.T_degC[j]) * (1.9e6 + liquid * (3.0e6 - 1.9e6));
        const double want = fmin(1.0, 4.8 * pow(-m.T_degC[j], -0.326) / 20.0);
        cr_expect(fabs(m.liquid[j] - want) < 1e-12);
    }
    const double latent_J_m3 = -m.H_J_m3[0] - sensible_J_m3;
    const double ice = 1.0 - 4.8 * pow(40.0, -0.326) / 20.0;
    cr_expect(fabs(latent_J_m3 - 150.0e6 * ice) < 1.0, "%.9g", latent_J_m3);
    /* 4.8 % at -1 degC (the table's wu -1), 2.8404 % at -5: straight lines between
       breakpoints lie above the curve by less than 1 % of it. */
    const double at_1 = 20.0 * (1.0 - uf_material_ice(&m, -1.0));
    const double at_5 = 20.0 * (1.0 - uf_material_ice(&m, -5.0));
    cr_expect(at_1 >= 4.8 && at_1 < 4.85, "%g", at_1);
    cr_expect(at_5 >= 2.8404 - 1e-4 && at_5 < 2.87, "%g", at_5);
    cr_expect(fabs(uf_material_ice(&m, -100.0) - ice) < 1e-12);
    cr_expect(uf_material_ice(&m, 1.0) == 0.0);
}

Test(material, slope_of_U_is_k)
{
    const struct uf_thermal a = linear_soil();
    const struct uf_thermal b = curved_soil();
    const struct uf_material mats[] = {make(&a), make(&b), make_blend()};
    for (size_t k = 0; k < 3; k++) {
        for (double T = -45.0; T < 10.0; T += 0.0611) {
            const double d = 1e-5;
            const double slope =
                (uf_material_U_W_m(&mats[k], T + d) - uf_material_U_W_m(&mats[k], T - d)) /
                (2.0 * d);
            cr_assert(fabs(slope - uf_material_k_W_mK(&mats[k], T)) < 2e-4,
                      "material %zu at %g: %g", k, T, slope);
            const double rise =
                (uf_material_H_J_m3(&mats[k], T + d) - uf_material_H_J_m3(&mats[k], T)) / d;
            const double at = uf_material_slope_J_m3K(&mats[k], T);
            const double next = uf_material_slope_J_m3K(&mats[k], T + d);
            cr_assert(rise > fmin(at, next) * (1.0 - 1e-3) && rise < fmax(at, next) * (1.0 + 1e-3));
        }
    }
}

Test(material, secant_is_the_mean_conductivity)
{
    const struct uf_thermal soil = linear_soil();
    const struct uf_material m = make(&soil);
    /* -0.6 .. -0.1 linear from 2.5 to 1.5: mean 2.0; 1 K below and 2 K above it. */
    const double want = (1.0 * 2.5 + 0.5 * 2.0 + 2.0 * 1.5) / 3.5;
    cr_expect(fabs(uf_material_secant_W_mK(&m, -1.6, 1.9) - want) < 1e-12);
    cr_expect(fabs(uf_material_secant_W_mK(&m, 1.9, -1.6) - want) < 1e-12);
    cr_expect(fabs(uf_material_secant_W_mK(&m, -0.35, -0.35) - 2.0) < 1e-12);
    cr_expect(fabs(uf_material_secant_W_mK(&m, -5.0, -5.0 + 1e-9) - 2.5) < 1e-12);
}

Test(material, ice_goes_linearly_with_temperature_in_a_linear_range)
{
    const struct uf_thermal soil = linear_soil();
    const struct uf_material m = make(&soil);
    cr_expect(fabs(uf_material_ice(&m, -0.35) - 0.5) < 1e-12);
    cr_expect(fabs(uf_material_ice(&m, -0.2) - 0.2) < 1e-12);
    cr_expect(uf_material_ice(&m, -0.6) == 1.0);
    cr_expect(uf_material_ice(&m, -30.0) == 1.0);
    cr_expect(fabs(uf_material_k_W_mK(&m, -0.2) - 1.7) < 1e-12);
}

Test(material, blend_adds_heat_by_share_of_volume)
{
    const struct uf_thermal a = linear_soil();
    const struct uf_thermal b = curved_soil();
    const struct uf_material first = make(&a);
    const struct uf_material second = make(&b);
    const struct uf_material blend = make_blend();
    for (double T = -50.0; T < 20.0; T += 0.0371) {
        const double got = uf_material_H_J_m3(&blend, T) - uf_material_H_J_m3(&blend, -20.0);
        const double want =
            0.5 * (uf_material_H_J_m3(&first, T) - uf_material_H_J_m3(&first, -20.0)) +
            0.3 * (uf_material_H_J_m3(&second, T) - uf_material_H_J_m3(&second, -20.0)) +
            0.2 * 2.0e6 * (T + 20.0);
        cr_assert(fabs(got - want) < 1e-3 + 1e-9 * fabs(want), "at %g", T);
        const double ice = uf_material_ice(&blend, T);
        const double parts =
            (0.5 * uf_material_ice(&first, T) + 0.3 * uf_material_ice(&second, T)) / 0.8;
        cr_assert(fabs(ice - parts) < 1e-9, "ice at %g: %g %g", T, ice, parts);
    }
    cr_expect(fabs(blend.water_J_m3 - 0.8 * 150.0e6) < 1e-6);
}

Test(material, inert_holds_no_latent_heat)
{
    struct uf_material m;
    uf_material_inert(&m, "foam", 0.034, 4.2e4);
    cr_expect(fabs(uf_material_H_J_m3(&m, 7.0) - uf_material_H_J_m3(&m, -7.0) - 14.0 * 4.2e4) <
              1e-6);
    cr_expect(uf_material_ice(&m, -20.0) == 0.0);
    cr_expect(uf_material_k_W_mK(&m, -20.0) == 0.034);
    cr_expect(strcmp(m.name, "foam") == 0);
}

Test(material, wrong_numbers_are_refused)
{
    static const struct {
        size_t at;
        double value;
    } wrong[] = {{offsetof(struct uf_thermal, k_thawed_W_mK), 0.0},
                 {offsetof(struct uf_thermal, k_frozen_W_mK), -1.0},
                 {offsetof(struct uf_thermal, c_thawed_J_m3K), NAN},
                 {offsetof(struct uf_thermal, c_frozen_J_m3K), INFINITY},
                 {offsetof(struct uf_thermal, latent_J_m3), -1.0},
                 {offsetof(struct uf_thermal, latent_J_m3), NAN},
                 {offsetof(struct uf_thermal, freezing_to_degC), -0.1},
                 {offsetof(struct uf_thermal, unfrozen_B), 0.3}};
    for (size_t k = 0; k < sizeof wrong / sizeof wrong[0]; k++) {
        struct uf_thermal soil = linear_soil();
        struct uf_material m;
        struct uf_error err = {0};
        memcpy((char *)&soil + wrong[k].at, &wrong[k].value, sizeof(double));
        cr_expect(uf_material_from_thermal(&m, "clay", &soil, &err) == UF_E_RANGE,
                  "row %zu was taken", k);
        cr_expect(strncmp(err.text, "clay: ", 6) == 0, "%s", err.text);
    }
}

Test(material, too_many_corners_are_refused)
{
    const struct uf_thermal b = curved_soil();
    struct uf_thermal c = curved_soil();
    c.unfrozen_A_percent = 6.0; /* another start, so other corners */
    const struct uf_material first = make(&b);
    const struct uf_material second = make(&c);
    const struct uf_material *const parts[] = {&first, &second};
    const double shares[] = {0.5, 0.5};
    struct uf_material out;
    struct uf_error err = {0};
    cr_expect(uf_material_blend(&out, "cell", parts, shares, 2, &err) == UF_E_RANGE);
    cr_expect(strstr(err.text, "cell") != NULL);
}
