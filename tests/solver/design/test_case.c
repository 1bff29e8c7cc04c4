#include "solver/design/case.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <string.h>

enum { MOST = 16 };

/* A design with nothing wrong. */
static struct uf_case sound(void)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 1.2);
    d.grid.width_m = d.grid.depth_m = 10.0;
    return d;
}

static void expect_fault(const struct uf_case *d, const char *key)
{
    struct uf_fault faults[MOST];
    const size_t n = uf_case_check(d, faults, MOST);
    cr_expect_eq(n, 1u, "%s: %zu faults, first %s", key, n, n > 0 ? faults[0].key : "");
    if (n > 0) {
        cr_expect_str_eq(faults[0].key, key);
        cr_expect(faults[0].what.text[0] != '\0' && faults[0].allowed.text[0] != '\0');
    }
}

static void expect_sound(const struct uf_case *d, const char *what)
{
    struct uf_fault faults[MOST];
    const size_t n = uf_case_check(d, faults, MOST);
    cr_expect_eq(n, 0u, "%s: %s %s", what, n > 0 ? faults[0].key : "",
                 n > 0 ? faults[0].what.text : "");
}

/* Defaults of the contract: section 1 of the site file. */
Test(case, begins_with_the_defaults)
{
    struct uf_case d;
    uf_case_init(&d);
    cr_expect_eq(d.ground.method, UF_COTE_KONRAD);
    cr_expect_eq(d.surface.kind, UF_SURFACE_FILM);
    cr_expect_eq(d.surface.snow, UF_SNOW_NONE);
    cr_expect_eq(d.limits.water_degC, 1.0);
    cr_expect_eq(d.limits.ice_share, 0.0);
    cr_expect_eq(d.limits.uplift_factor, 1.3); /* FEMA P-259 */
    cr_expect(isnan(d.limits.greatest_cover_m));
    cr_expect_eq(d.ground.water_highest_m, 0.0);
    cr_expect(isnan(d.ground.water_winter_m));
    cr_expect_eq(d.anchors.concrete_N_m3, 23500.0);
    cr_expect(d.tank.ends == UF_ENDS_PLANE && d.tank.shape == UF_NO_TANK);
    cr_expect(isnan(d.tank.hold_degC) && isnan(d.tank.mixing_W_mK));
    cr_expect(!d.board.present && d.n_probes == 0 && d.initial.date == UF_NO_DAY);
}

Test(case, depths_follow_from_the_shape)
{
    struct uf_case d = sound();
    cr_expect_float_eq(uf_case_crown_m(&d), 1.0, 1e-12);
    cr_expect_float_eq(uf_case_invert_m(&d), 1.0 + 1.6, 1e-12);
    cr_expect_float_eq(uf_case_half_width_m(&d), 0.8, 1e-12);
    cr_expect_float_eq(uf_case_board_bottom_m(&d), 0.8, 1e-12);
    cr_expect_float_eq(uf_case_board_top_m(&d), 0.7, 1e-12);
    cr_expect_float_eq(uf_case_board_half_width_m(&d), 1.4, 1e-12);
    d.tank.shape = UF_VERTICAL_CYLINDER;
    cr_expect_float_eq(uf_case_tank_height_m(&d), 1.4, 1e-12);
    cr_expect_float_eq(uf_case_half_width_m(&d), 0.8, 1e-12);
    d.tank.shape = UF_BOX;
    d.tank.width_m = 2.2;
    cr_expect_float_eq(uf_case_invert_m(&d), 2.4, 1e-12);
    cr_expect_float_eq(uf_case_half_width_m(&d), 1.1, 1e-12);
    d.tank.shape = UF_NO_TANK;
    cr_expect_eq(uf_case_tank_height_m(&d), 0.0);
    cr_expect_eq(uf_case_half_width_m(&d), 0.0);
    cr_expect(uf_case_has_board(&d));
    d.board.thickness_m = 0.0;
    cr_expect(!uf_case_has_board(&d));
    d.board.thickness_m = 0.1;
    d.board.present = false;
    cr_expect(!uf_case_has_board(&d));
}

Test(case, layers_in_order)
{
    struct uf_case d = sound();
    expect_sound(&d, "as it is");
    d.ground.n_layers = 2;
    d.ground.layers[1] = d.ground.layers[0];
    expect_fault(&d, "ground[1].to"); /* no thickness */
    d.ground.layers[1].to_m = 8.001;
    expect_sound(&d, "a thin one");
    d.ground.layers[0].to_m = 0.0;
    expect_fault(&d, "ground[0].to");
    d.ground.n_layers = 0;
    expect_fault(&d, "ground");
}

Test(case, water_and_wall_fit_the_tank)
{
    struct uf_case d = sound();
    d.tank.level_m = 1.6 - 2.0 * 0.02;
    expect_sound(&d, "full to the inside of the crown");
    d.tank.level_m += 0.001;
    expect_fault(&d, "tank.contents.level");
    d.tank.level_m = 1.0;
    d.tank.lowest_m = 1.0;
    expect_sound(&d, "drawn down to the level itself");
    d.tank.lowest_m = 1.001;
    expect_fault(&d, "tank.contents.lowest");
    d.tank.lowest_m = NAN;
    d.tank.level_m = 0.3;
    d.tank.wall_thickness_m = 0.399;
    expect_sound(&d, "just under a quarter of 1.6 m");
    d.tank.wall_thickness_m = 0.4;
    expect_fault(&d, "tank.wall.thickness");
}

Test(case, tank_and_board_stay_in_the_ground)
{
    struct uf_case d = sound();
    d.burial.cover_m = 8.0 - 1.6 - 0.3 - 0.001;
    expect_sound(&d, "bedding just above 0.8 of the depth");
    d.burial.cover_m += 0.002;
    expect_fault(&d, "burial.cover");
    d = sound();
    d.tank.risers[0].diameter_m = 1.6;
    expect_sound(&d, "a riser as wide as the tank");
    d.tank.risers[0].diameter_m = 1.61;
    expect_fault(&d, "tank.risers[0].diameter");
    d = sound();
    d.board.beyond_tank_m = 8.19;
    expect_sound(&d, "board just inside 0.9 of the width");
    d.board.beyond_tank_m = 8.2;
    expect_fault(&d, "board.beyond_tank");
    d = sound();
    d.board.above_crown_m = -0.01;
    expect_fault(&d, "board.above_crown");
    d = sound();
    d.board.thickness_m = 0.79;
    expect_sound(&d, "board just below grade");
    d.board.thickness_m = 0.81;
    expect_fault(&d, "board.thickness");
    d.board.present = false;
    expect_sound(&d, "no board, no fault of it");
    d = sound();
    d.board.skirt_m = 9.2;
    expect_fault(&d, "board.skirt");
    d = sound();
    d.grid.width_m = 1.6;
    d.board.present = false;
    expect_fault(&d, "grid.width");
}

Test(case, deadmen_stand_beside_or_below_the_tank)
{
    struct uf_case d = sound();
    d.anchors.deadmen = 2;
    d.anchors.deadman_width_m = d.anchors.deadman_height_m = 0.4;
    d.anchors.deadman_length_m = 4.0;
    expect_sound(&d, "on the pit's floor, just outside");
    const double centre_m = d.burial.cover_m + 0.8;
    d.anchors.deadman_height_m = 1.2; /* 0.3 of bedding and 0.8 to the widest level */
    expect_fault(&d, "anchors.deadmen.height");
    d.anchors.deadman_height_m = 0.4;
    d.anchors.deadman_top_m = centre_m;
    expect_sound(&d, "beside the widest level");
    d.anchors.deadman_top_m = centre_m - 0.1;
    expect_fault(&d, "anchors.deadmen.top");
    d.anchors.deadman_top_m = centre_m + 0.48; /* 0.6, 0.8, 1: a triangle of Pythagoras */
    d.anchors.deadman_offset_m = 0.2 + 0.64 + 0.001;
    expect_sound(&d, "under the haunch");
    d.anchors.deadman_offset_m -= 0.002;
    expect_fault(&d, "anchors.deadmen.offset");
    d.anchors.deadman_top_m = centre_m + 0.8;
    expect_fault(&d, "anchors.deadmen.top"); /* 0.4 high in 0.3 of bedding */
    d.burial.bedding_m = 0.4;
    expect_sound(&d, "under the invert");
    d.tank.shape = UF_BOX;
    d.anchors.deadman_top_m = d.burial.cover_m + 0.5;
    expect_fault(&d, "anchors.deadmen.offset");
    d.anchors.deadman_offset_m = 1.0;
    expect_sound(&d, "beside the box");
    d.anchors.deadmen = 4;
    expect_sound(&d, "two of 4 m along 4 m");
    d.anchors.deadmen = 5;
    expect_fault(&d, "anchors.deadmen.count");
}

Test(case, points_lie_in_the_domain)
{
    struct uf_case d = sound();
    d.n_probes = 1;
    d.probes[0] = (struct uf_probe){"edge", -10.0, 10.0, NAN, NAN, NAN};
    expect_sound(&d, "on the corner");
    d.probes[0].x_m = 10.01;
    expect_fault(&d, "probes[0]");
    d.probes[0] = (struct uf_probe){"in the air", 0.0, -0.1, NAN, NAN, NAN};
    expect_fault(&d, "probes[0]");
    d.probes[0].depth_m = NAN;
    expect_sound(&d, "a depth that was told of where it was read");
    d.n_pipes = 1;
    d.pipes[0] = (struct uf_pipe){"suction", 0.2, 0.101, false};
    expect_sound(&d, "just covered");
    d.pipes[0].depth_m = 0.1;
    expect_fault(&d, "pipes[0].depth");
}

/* More faults than there is room for are counted, and the room is not overrun. */
Test(case, faults_beyond_the_room_are_counted)
{
    struct uf_case d = sound();
    struct uf_fault faults[2];
    memset(faults, 'x', sizeof faults);
    d.ground.n_layers = 0;
    d.tank.level_m = 5.0;
    d.board.above_crown_m = -0.1;
    d.n_pipes = 1;
    d.pipes[0].diameter_m = 1.0;
    cr_expect_eq(uf_case_check(&d, faults, 1), 4u);
    cr_expect_str_eq(faults[0].key, "ground");
    cr_expect_eq(faults[1].key[0], 'x');
    cr_expect_eq(uf_case_check(&d, NULL, 0), 4u);
}

/* A probe by one of three names that lies in the tank; else the height given, else 0.1 m, above the
   inside of the invert. */
Test(case, where_the_outlet_is)
{
    struct uf_case d = sound();
    d.tank.wall_thickness_m = 0.02;
    const double floor_m = uf_case_invert_m(&d) - 0.02;
    cr_expect_float_eq(uf_case_outlet_m(&d), floor_m - 0.1, 1e-12);
    d.tank.outlet_m = 0.35;
    cr_expect_float_eq(uf_case_outlet_m(&d), floor_m - 0.35, 1e-12);
    d.n_probes = 2;
    d.probes[0] = (struct uf_probe){"suction", 0.0, floor_m + 0.5, NAN, NAN, NAN};
    d.probes[1] = (struct uf_probe){"other", 0.0, floor_m - 0.6, NAN, NAN, NAN};
    cr_expect_float_eq(uf_case_outlet_m(&d), floor_m - 0.35, 1e-12, "below the tank, or no outlet");
    static const char *const names[] = {"outlet", "suction", "intake"};
    for (size_t k = 0; k < 3; k++) {
        (void)strcpy(d.probes[1].name, names[k]);
        cr_expect_float_eq(uf_case_outlet_m(&d), floor_m - 0.6, 1e-12, "%s", names[k]);
    }
    d.probes[1].x_m = uf_case_half_width_m(&d) + 0.1;
    cr_expect_float_eq(uf_case_outlet_m(&d), floor_m - 0.35, 1e-12, "beside the tank");
}

Test(case, a_riser_keeps_a_bore)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 1.0);
    struct uf_fault fault;
    d.tank.risers[0].shell.wall_m = 0.14;
    cr_expect_eq(uf_case_check(&d, &fault, 1), 0);
    d.tank.risers[0].shell.wall_m = 0.15;
    cr_assert_eq(uf_case_check(&d, &fault, 1), 1);
    cr_expect_str_eq(fault.key, "tank.risers[0].wall.thickness");
}

/* At every cover that is offered. */
Test(case, a_riser_ends_above_the_crown)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 1.0); /* cover 1 m */
    struct uf_fault fault;
    d.tank.risers[0].height_m = NAN; /* not asked by its height */
    d.tank.risers[0].above_grade_m = -0.8;
    cr_assert_eq(uf_case_check(&d, &fault, 1), 0);
    d.choices.n_cover = 1;
    d.choices.cover_m[0] = 0.7;
    cr_assert_eq(uf_case_check(&d, &fault, 1), 1);
    cr_expect_str_eq(fault.key, "tank.risers[0].above_grade");
}

/* What a sleeve would do, a frost cover at the crown takes from it: priced, and not counted. */
Test(case, a_sleeve_needs_a_riser_that_is_open_to_the_tank)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 1.0);
    struct uf_fault fault;
    d.tank.risers[0].shell.sleeve_m = 0.1;
    d.tank.risers[0].lid_at = UF_LID_TOP;
    cr_expect_eq(uf_case_check(&d, &fault, 1), 0);
    d.tank.risers[0].lid_at = UF_LID_CROWN;
    cr_assert_eq(uf_case_check(&d, &fault, 1), 1);
    cr_expect_str_eq(fault.key, "tank.risers[0].sleeve.thickness");
}

Test(case, a_standpipe_does_not_run_through_the_tank)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 1.0);
    struct uf_fault fault;
    d.n_standpipes = 1;
    d.standpipes[0].diameter_m = 0.15;
    d.standpipes[0].from_axis_m = 0.1;
    d.standpipes[0].bottom_m = uf_case_invert_m(&d) - 0.1;
    cr_expect_eq(uf_case_check(&d, &fault, 1), 0, "into the tank");
    d.standpipes[0].bottom_m = uf_case_invert_m(&d) + 0.1;
    cr_assert_eq(uf_case_check(&d, &fault, 1), 1);
    cr_expect_str_eq(fault.key, "standpipes[0].bottom");
    d.standpipes[0].from_axis_m = uf_case_half_width_m(&d) + 0.1;
    cr_expect_eq(uf_case_check(&d, &fault, 1), 0, "beside it");
}
