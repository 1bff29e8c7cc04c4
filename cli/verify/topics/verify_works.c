#include "cli/verify/verify.h"
#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "solver/statics/flotation.h"
#include "solver/statics/lifting.h"
#include "solver/statics/load.h"
#include "solver/statics/roundness.h"
#include "solver/statics/suction.h"
#include "solver/works/pit.h"

#include <math.h>

/* Everything but heat: tank volumes, uplift, wheel loads, pit, lifting, suction. Formulas
   without a grid, so what is allowed is half the last digit that was printed. */

#define FOOT3_M3 (UF_FOOT_M * UF_FOOT_M * UF_FOOT_M)
#define PSF_PA   47.88026
#define DEGREE   (UF_PI / 180.0)

static const char digits[] = "half the last digit printed";
static const char computed[] = "half the last digit of the value computed from the formula";

/* One published number. */
struct row {
    const char *name, *source, *why, *unit;
    double got, expected, allowed;
};

static void add_rows(struct uf_verify *verify, const char *topic, const struct row *rows, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const struct uf_verify_check check = {.source = rows[i].source,
                                              .why = rows[i].why,
                                              .unit = rows[i].unit,
                                              .got = rows[i].got,
                                              .expected = rows[i].expected,
                                              .allowed = rows[i].allowed};
        uf_verify_add(verify, &check, "%s.%s", topic, rows[i].name);
    }
}
#define ADD(topic, rows) add_rows(verify, topic, rows, sizeof(rows) / sizeof(rows)[0])

/* ---- Tank volumes */

static enum uf_status tank(struct uf_verify *verify, struct uf_error *err)
{
    static const char gauge[] = "published gauge formula for 2:1 heads, a public page";
    static const char onsite[] = "on-site tank article";
    struct uf_tank lying = {.shape = UF_HORIZONTAL_CYLINDER,
                            .heads = UF_ELLIPSOIDAL_2_TO_1,
                            .diameter_m = 40.0 * UF_INCH_M,
                            .length_m = 100.0 * UF_INCH_M,
                            .wall_thickness_m = NAN};
    const double whole_m3 = uf_tank_volume_m3(&lying);
    const double part_m3 = uf_tank_content_m3(&lying, 16.0 * UF_INCH_M);
    const struct uf_tank upright = {.shape = UF_VERTICAL_CYLINDER,
                                    .diameter_m = 67.0 * UF_INCH_M,
                                    .height_m = 65.0 * UF_INCH_M};
    const struct uf_tank box = {.shape = UF_BOX,
                                .width_m = 68.0 * UF_INCH_M,
                                .length_m = 126.0 * UF_INCH_M,
                                .height_m = 64.0 * UF_INCH_M};
    const struct row rows[] = {
        {"heads_2_to_1.whole", gauge, digits, "gal", whole_m3 / UF_GALLON_M3, 616.5, 0.05},
        {"heads_2_to_1.at_16in", gauge, digits, "gal", part_m3 / UF_GALLON_M3, 228.7, 0.05},
        {"heads_2_to_1.share_16in", gauge, digits, "percent", 100.0 * part_m3 / whole_m3, 37.1,
         0.05},
        {"upright", onsite, digits, "ft3", uf_tank_volume_m3(&upright) / FOOT3_M3, 132.6, 0.05},
        {"box", "an engineer's worked box tank", digits, "ft3", uf_tank_volume_m3(&box) / FOOT3_M3,
         317.0, 0.5},
        {"segment_quarter", "circular segment, exact", computed, "1",
         uf_tank_segment_m2(1.0, 0.5) / UF_PI, 0.195501, 5e-7},
        {"heads_quarter", "cap of a sphere or ellipsoid, exact", computed, "1",
         uf_tank_heads_share(0.25), 0.156250, 5e-7}};
    (void)err;
    ADD("tank", rows);
    return UF_OK;
}

/* ---- Uplift */

static enum uf_status uplift(struct uf_verify *verify, struct uf_error *err)
{
    static const char c7[] = "FEMA P-259, appendix C, example C7";
    static const char ec7[] =
        "published Eurocode 7 check of a ballasted structure, UK factors; forces "
        "implied by its two figures";
    static const char exact[] = "geometry, exact";
    const double pcf = UF_POUND_N / FOOT3_M3, tank_m3 = 250.0 * 0.134 * FOOT3_M3;
    const struct uf_flotation_fema fema =
        uf_flotation_fema(tank_m3, 670.0 * UF_POUND_N, 1.3, 62.4 * pcf, 150.0 * pcf);
    const double whole =
        uf_flotation_em_factor(670.0 * UF_POUND_N + fema.concrete_m3 * 150.0 * pcf, 0.0, 0.0,
                               62.4 * pcf * (tank_m3 + fema.concrete_m3), 0.0);
    const double submerged =
        (670.0 * UF_POUND_N + fema.concrete_m3 * 87.6 * pcf) / (62.4 * pcf * tank_m3);
    const struct uf_flotation_upl plain = uf_flotation_upl(&uf_flotation_partials[0], 838.7, 933.1);
    const struct uf_flotation_upl uk = uf_flotation_upl(&uf_flotation_partials[1], 838.7, 933.1);
    const struct row rows[] = {
        {"fema_c7.net", c7, digits, "lb", fema.net_N / UF_POUND_N, 2048.0, 0.5},
        {"fema_c7.concrete", c7, digits, "ft3", fema.concrete_m3 / FOOT3_M3, 23.4, 0.05},
        {"fema_c7.factor_submerged", c7, computed, "1", submerged, 1.300, 5e-4},
        {"fema_c7.factor_whole", c7, computed, "1", whole, 1.177, 5e-4},
        {"upl_uk.destabilising", ec7, digits, "kN/m", uk.dst_N, 922.6, 0.05},
        {"upl_uk.stabilising", ec7, digits, "kN/m", uk.stb_N, 839.8, 0.05},
        {"upl_uk.use", ec7, digits, "percent", 100.0 * uk.use, 109.9, 0.05},
        {"upl.use", ec7, digits, "percent", 100.0 * plain.use, 99.9, 0.05},
        {"frustum", exact, computed, "ft3",
         uf_flotation_frustum_m3(1.0, 26.6, 11.0, 30.0 * DEGREE, false), 2812.3, 0.05},
        {"weightless_cover", exact, computed, "1", uf_flotation_bare_cover_share(1.0, 1.0),
         0.25 * UF_PI - 0.1073009, 5e-8}};
    (void)err;
    ADD("uplift", rows);
    return UF_OK;
}

/* ---- Wheels */

static enum uf_status wheel(struct uf_verify *verify, struct uf_error *err)
{
    static const char spread[] = "AASHTO Standard Specifications 6.4 from memory; value computed";
    static const char boussinesq[] = "Boussinesq (1885), Newmark (1935); value computed";
    const double P_N = UF_LOAD_H20_N;
    const struct row rows[] = {{"spread_2ft", spread, computed, "psf",
                                uf_load_spread_Pa(P_N, 2.0 * UF_FOOT_M) / PSF_PA, 1306.1, 0.05},
                               {"spread_6ft", spread, computed, "psf",
                                uf_load_spread_Pa(P_N, 6.0 * UF_FOOT_M) / PSF_PA, 184.7, 0.05},
                               {"point_4ft", boussinesq, computed, "psf",
                                uf_load_point_Pa(P_N, 4.0 * UF_FOOT_M) / PSF_PA, 477.5, 0.05},
                               {"tyre_4ft", boussinesq, computed, "psf",
                                uf_load_patch_Pa(P_N, 4.0 * UF_FOOT_M) / PSF_PA, 456.9, 0.05},
                               {"lrfd_6ft", "AASHTO LRFD from memory; value computed", computed,
                                "psf", uf_load_lrfd_Pa(P_N, 6.0 * UF_FOOT_M) / PSF_PA, 261.4,
                                0.05}};
    (void)err;
    ADD("wheel", rows);
    return UF_OK;
}

/* ---- Pit, lifting, roundness, suction */

static enum uf_status works(struct uf_verify *verify, struct uf_error *err)
{
    static const char pit[] = "prismatoid, exact";
    static const char sling[] = "published sling chart";
    static const char nrcs[] = "NRCS NE-ENG-76 (2004)";
    const double six_m = 6.0 * UF_INCH_M, hundred_m = 100.0 * UF_FOOT_M;
    const struct row rows[] = {
        {"pit_slope_1", pit, computed, "ft3", uf_dig_frustum_m3(12.0, 30.0, 13.0, 1.0), 14707.33,
         0.005},
        {"pit_slope_1.5", pit, computed, "m3", uf_dig_frustum_m3(3.6, 8.0, 4.0, 1.5), 585.6, 0.05},
        {"sling_60", sling, digits, "lb", uf_lifting_leg_N(1000.0, 2.0, 60.0 * DEGREE), 577.0, 0.5},
        {"sling_45", sling, digits, "lb", uf_lifting_leg_N(1000.0, 2.0, 45.0 * DEGREE), 707.0, 0.5},
        {"deflection", "percent vertical deflection, by its definition", computed, "percent",
         100.0 * uf_roundness_deflection(96.0, 95.25), 0.781, 5e-4},
        {"suction_intake_500", nrcs, digits, "ft",
         uf_suction_intake_loss_m(500.0 * UF_GPM_M3_S, six_m) / UF_FOOT_M, 4.8, 0.05},
        {"suction_6in_250", nrcs, digits, "ft",
         uf_suction_pipe_loss_m(250.0 * UF_GPM_M3_S, six_m, hundred_m) / UF_FOOT_M, 0.5852, 5e-5},
        {"suction_6in_750", nrcs, digits, "ft",
         uf_suction_pipe_loss_m(750.0 * UF_GPM_M3_S, six_m, hundred_m) / UF_FOOT_M, 5.267, 5e-4}};
    (void)err;
    ADD("works", rows);
    return UF_OK;
}

const struct uf_verify_topic uf_verify_tank = {
    .name = "tank", .doc = "volumes of tanks, whole and partly full", .run = tank};
const struct uf_verify_topic uf_verify_uplift = {
    .name = "uplift", .doc = "published flotation checks and exact forms", .run = uplift};
const struct uf_verify_topic uf_verify_wheel = {
    .name = "wheel", .doc = "pressure of a wheel at depth, by formula", .run = wheel};
const struct uf_verify_topic uf_verify_works = {
    .name = "works", .doc = "pit volumes, slings, roundness, suction lift", .run = works};
