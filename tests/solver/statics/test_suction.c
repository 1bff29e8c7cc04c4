#include "solver/design/tank.h"
#include "solver/statics/suction.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

#define FOOT_M    0.3048
#define INCH_M    0.0254
#define GPM_M3S   (3.785411784e-3 / 60.0)
#define GALLON_M3 3.785411784e-3

/* NRCS NE-ENG-76: strainer and standpipe 1.2, 4.8, 10.8 ft; feet lost in 100 ft of pipe. */
Test(suction, published_losses)
{
    static const double flow_gpm[] = {250.0, 500.0, 750.0}, intake_ft[] = {1.2, 4.8, 10.8};
    static const double size_in[] = {6.0, 8.0, 10.0, 12.0};
    static const double pipe_ft[3][4] = {{0.5852, 0.1257, 0.0382, 0.0145},
                                         {2.3408, 0.5027, 0.1530, 0.0578},
                                         {5.267, 1.131, 0.344, 0.130}};
    for (size_t i = 0; i < 3; i++) {
        near(uf_suction_intake_loss_m(flow_gpm[i] * GPM_M3S, 6.0 * INCH_M) / FOOT_M, intake_ft[i],
             1e-9, "intake");
        for (size_t j = 0; j < 4; j++) {
            near(
                uf_suction_pipe_loss_m(flow_gpm[i] * GPM_M3S, size_in[j] * INCH_M, 100.0 * FOOT_M) /
                    FOOT_M,
                pipe_ft[i][j], 5e-3 * pipe_ft[i][j], "pipe");
        }
    }
}

/* 9.6 velocity heads whatever the pipe: 1000 gpm lose 19.2 ft in 6 in., a sixteenth of it in
   12 in. */
Test(suction, intake_loss_goes_with_velocity_head)
{
    near(uf_suction_intake_loss_m(1000.0 * GPM_M3S, 6.0 * INCH_M) / FOOT_M, 19.2, 1e-9, "6 in.");
    near(uf_suction_intake_loss_m(1000.0 * GPM_M3S, 12.0 * INCH_M) / FOOT_M, 1.2, 1e-9, "12 in.");
    const double area_m2 = 0.25 * 3.14159265358979 * 0.15 * 0.15, velocity = 0.01 / area_m2;
    near(uf_suction_intake_loss_m(0.01, 0.15) / (velocity * velocity / (2.0 * 9.80665)), 9.59, 0.02,
         "velocity heads");
}

Test(suction, air_and_altitude)
{
    near(uf_suction_air_m(0.0) / FOOT_M, 33.91, 0.03, "sea level, ft of water");
    const double lost_ft = (uf_suction_air_m(0.0) - uf_suction_air_m(1000.0 * FOOT_M)) / FOOT_M;
    cr_expect(lost_ft > 0.9 && lost_ft < 1.3, "about 1 ft in 1000 ft: %.2f", lost_ft);
}

static struct uf_case design;
static struct uf_suction_input input;

static void setup(void)
{
    uf_case_init(&design);
    design.tank.shape = UF_HORIZONTAL_CYLINDER;
    design.tank.diameter_m = 2.4;
    design.tank.length_m = 12.0;
    design.tank.level_m = 2.2;
    design.burial.cover_m = 1.2;
    uf_suction_init(&input);
    input.flow_m3_s = 250.0 * GPM_M3S;
    input.pipe_m = 6.0 * INCH_M;
    input.length_m = 100.0 * FOOT_M;
    input.pump_above_grade_m = 0.9;
    input.intake_above_invert_m = 0.15;
}
TestSuite(suction, .init = setup);

Test(suction, total_lift)
{
    struct uf_suction got;
    input.elbows_90 = 2;
    input.elbows_45 = 1;
    input.reducers = 1;
    cr_assert_eq(uf_suction(&got, &input, &design, NULL), UF_OK);
    near(uf_suction_equivalent_m(&input), 160.0 * FOOT_M, 1e-12, "equivalent length");
    near(got.static_m, 0.9 + 3.6 - 0.15 - 2.0 * FOOT_M, 1e-12, "static");
    near(got.total_m, got.static_m + 1.2 * FOOT_M + 1.6 * 0.5852 * FOOT_M, 1e-4, "total");
    near(got.most_m / FOOT_M, 22.0, 1e-9, "most");
    cr_expect(got.ok && got.recommended && got.preferred && got.static_ok);
    input.altitude_m = 3000.0;
    cr_assert_eq(uf_suction(&got, &input, &design, NULL), UF_OK);
    cr_expect_lt(got.most_m, 13.0 * FOOT_M + 0.2);
    cr_expect_not(got.preferred);
}

Test(suction, any_pipe_is_taken_and_the_published_range_told)
{
    struct uf_suction got;
    input.pipe_m = 0.150;
    cr_assert_eq(uf_suction(&got, &input, &design, NULL), UF_OK);
    cr_expect(got.published, "150 mm is a 6 in. pipe");
    input.pipe_m = 0.125;
    cr_assert_eq(uf_suction(&got, &input, &design, NULL), UF_OK);
    cr_expect_not(got.published);
    cr_expect(got.pipe_loss_m > 0.5852 * FOOT_M, "more than in 6 in.");
    input.pipe_m = 0.150;
    input.flow_m3_s = 1000.0 * GPM_M3S;
    cr_assert_eq(uf_suction(&got, &input, &design, NULL), UF_OK);
    cr_expect_not(got.published);
    input.intake_loss_m = 0.7;
    cr_assert_eq(uf_suction(&got, &input, &design, NULL), UF_OK);
    near(got.intake_loss_m, 0.7, 0.0, "as the manufacturer says");
}

/* 250 gpm for two hours is 30,000 gal = 113.56 m3. */
Test(suction, volume_below_the_ice)
{
    struct uf_suction got;
    input.ice_m = 0.3;
    cr_assert_eq(uf_suction(&got, &input, &design, NULL), UF_OK);
    near(got.two_hours_m3, 113.56, 5e-3, "two hours");
    near(got.two_hours_m3 / GALLON_M3, 30000.0, 1e-6, "two hours, gal");
    near(got.available_m3,
         uf_tank_content_m3(&design.tank, 1.9) -
             uf_tank_content_m3(&design.tank, 0.15 + 2.0 * FOOT_M),
         1e-12, "between ice and intake");
    near(got.minutes, got.available_m3 / (250.0 * GPM_M3S) / 60.0, 1e-9, "minutes");
    cr_expect_not(got.enough);
    input.ice_m = 2.0;
    cr_assert_eq(uf_suction(&got, &input, &design, NULL), UF_OK);
    near(got.available_m3, 0.0, 0.0, "ice down to the intake");
}

Test(suction, what_is_missing_is_named)
{
    struct uf_suction got;
    struct uf_error err = {0};
    input.pipe_m = NAN;
    cr_expect_eq(uf_suction(&got, &input, &design, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "suction.pipe") != NULL);
    setup();
    input.flow_m3_s = NAN;
    cr_expect_eq(uf_suction(&got, &input, &design, &err), UF_E_INPUT);
    setup();
    input.length_m = NAN;
    cr_expect_eq(uf_suction(&got, &input, &design, &err), UF_E_INPUT);
    setup();
    input.pump_above_grade_m = NAN;
    cr_expect_eq(uf_suction(&got, &input, &design, &err), UF_E_INPUT);
    setup();
    input.altitude_m = 9000.0;
    cr_expect_eq(uf_suction(&got, &input, &design, &err), UF_E_RANGE);
    setup();
    design.tank.shape = UF_NO_TANK;
    cr_expect_eq(uf_suction(&got, &input, &design, &err), UF_E_INPUT);
}
