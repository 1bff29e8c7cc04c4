#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>

/* 1 US gallon = 231 cubic inches, exact by definition. */
#define GALLON_M3 (231.0 * 0.0254 * 0.0254 * 0.0254)
#define INCH_M    0.0254

static struct uf_tank tank_of(enum uf_shape shape, enum uf_heads heads)
{
    struct uf_case design;
    uf_case_init(&design);
    design.tank.shape = shape;
    design.tank.heads = heads;
    design.tank.diameter_m = 2.4;
    design.tank.length_m = 6.0;
    design.tank.height_m = 3.1;
    design.tank.width_m = 1.7;
    return design.tank;
}

/* Shares of a cylinder and of a sphere or ellipsoid by depth; computed from the formulas. */
Test(tank, fill_table)
{
    static const double rows[][3] = {
        {0.05, 0.018693, 0.007250}, {0.10, 0.052044, 0.028000}, {0.15, 0.094060, 0.060750},
        {0.20, 0.142378, 0.104000}, {0.25, 0.195501, 0.156250}, {0.30, 0.252316, 0.216000},
        {0.35, 0.311919, 0.281750}, {0.40, 0.373530, 0.352000}, {0.45, 0.436444, 0.425250},
        {0.50, 0.500000, 0.500000}, {0.60, 0.626470, 0.648000}, {0.75, 0.804499, 0.843750},
        {0.90, 0.947956, 0.972000}, {0.95, 0.981307, 0.992750}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double area_m2 = uf_tank_segment_m2(1.3, 2.6 * rows[i][0]);
        near(area_m2 / (UF_PI * 1.3 * 1.3), rows[i][1], 6e-7, "cylinder");
        near(uf_tank_heads_share(rows[i][0]), rows[i][2], 1e-12, "heads");
    }
}

/* Published: 40 in. across, 100 in. shell, 2:1 heads: 616.5 gal; 228.7 gal, 37.1 % at 16 in. */
Test(tank, published_content)
{
    struct uf_tank tank = tank_of(UF_HORIZONTAL_CYLINDER, UF_ELLIPSOIDAL_2_TO_1);
    tank.diameter_m = 40.0 * INCH_M;
    tank.length_m = 100.0 * INCH_M;
    near(uf_tank_volume_m3(&tank) / GALLON_M3, 616.532, 5e-4, "gallons");
    near(uf_tank_content_m3(&tank, 16.0 * INCH_M) / GALLON_M3, 228.732, 5e-4, "at 16 in.");
    static const double share[][2] = {{0.05, 1.735}, {0.10, 4.922}, {0.25, 19.088}, {0.75, 80.912}};
    for (size_t i = 0; i < 4; i++) {
        const double content_m3 = uf_tank_content_m3(&tank, share[i][0] * tank.diameter_m);
        near(100.0 * content_m3 / uf_tank_volume_m3(&tank), share[i][1], 5e-4, "percent");
    }
}

Test(tank, volumes_of_shapes_and_heads)
{
    struct uf_tank tank = tank_of(UF_HORIZONTAL_CYLINDER, UF_FLAT);
    near(uf_tank_volume_m3(&tank), UF_PI * 1.44 * 6.0, 1e-12, "flat");
    tank.heads = UF_HEMISPHERICAL;
    near(uf_tank_volume_m3(&tank), UF_PI * 1.44 * 6.0 + UF_PI * pow(2.4, 3) / 6.0, 1e-12, "hemi");
    tank.heads = UF_ELLIPSOIDAL_2_TO_1;
    near(uf_tank_volume_m3(&tank), UF_PI * 1.44 * 6.0 + UF_PI * pow(2.4, 3) / 12.0, 1e-12, "2:1");
    tank = tank_of(UF_BOX, UF_FLAT);
    near(uf_tank_volume_m3(&tank), 1.7 * 3.1 * 6.0, 1e-12, "box");
    tank = tank_of(UF_VERTICAL_CYLINDER, UF_FLAT);
    near(uf_tank_volume_m3(&tank), UF_PI * 1.44 * 3.1, 1e-12, "upright");
    tank.heads = UF_ELLIPSOIDAL_2_TO_1;
    near(uf_tank_volume_m3(&tank), UF_PI * 1.44 * (3.1 - 1.2) + UF_PI * pow(2.4, 3) / 12.0, 1e-12,
         "upright 2:1");
    tank.shape = UF_NO_TANK;
    near(uf_tank_volume_m3(&tank), 0.0, 0.0, "none");
}

/* A septic tank 67 in. across and 65 in. high displaces 132.6 ft3 (published); a box
   tank of 68 x 126 x 64 in. is 317.33 ft3. */
Test(tank, published_outside_volumes)
{
    const double foot3_m3 = pow(12.0 * INCH_M, 3.0);
    struct uf_tank tank = tank_of(UF_VERTICAL_CYLINDER, UF_FLAT);
    tank.diameter_m = 67.0 * INCH_M;
    tank.height_m = 65.0 * INCH_M;
    near(uf_tank_volume_m3(&tank) / foot3_m3, 132.6, 0.05, "upright, ft3");
    tank = tank_of(UF_BOX, UF_FLAT);
    tank.width_m = 68.0 * INCH_M;
    tank.length_m = 126.0 * INCH_M;
    tank.height_m = 64.0 * INCH_M;
    near(uf_tank_volume_m3(&tank) / foot3_m3, 317.333, 1e-3, "box, ft3");
    near(uf_tank_plan_area_m2(&tank) / foot3_m3 * 12.0 * INCH_M, 59.5, 1e-9, "footprint, ft2");
}

/* The plan area is where the volume grows fastest: its derivative at the widest level. */
Test(tank, plan_area_is_the_widest_slice)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    for (size_t s = 0; s < 3; s++) {
        for (int heads = UF_FLAT; heads <= UF_ELLIPSOIDAL_2_TO_1; heads++) {
            struct uf_tank tank = tank_of(shapes[s], (enum uf_heads)heads);
            const double z_m = uf_tank_widest_m(&tank), dz_m = 1e-4;
            const double grown_m3 =
                uf_tank_submerged_m3(&tank, z_m) - uf_tank_submerged_m3(&tank, z_m - dz_m);
            near(grown_m3 / dz_m, uf_tank_plan_area_m2(&tank), 2e-3, "plan");
            cr_expect(uf_tank_plan_area_m2(&tank) <=
                      uf_tank_plan_length_m(&tank) * uf_tank_plan_width_m(&tank) + 1e-12);
        }
    }
}

Test(tank, submerged_is_held_between_empty_and_whole_and_never_falls)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    for (size_t s = 0; s < 3; s++) {
        for (int heads = UF_FLAT; heads <= UF_ELLIPSOIDAL_2_TO_1; heads++) {
            const struct uf_tank tank = tank_of(shapes[s], (enum uf_heads)heads);
            double before_m3 = uf_tank_submerged_m3(&tank, -3.0);
            near(before_m3, 0.0, 0.0, "under the invert");
            for (double h_m = 0.07; h_m < 4.0; h_m += 0.07) {
                const double here_m3 = uf_tank_submerged_m3(&tank, h_m);
                cr_expect(here_m3 >= before_m3 - 1e-12);
                before_m3 = here_m3;
            }
            near(before_m3, uf_tank_volume_m3(&tank), 1e-12, "over the crown");
        }
    }
}

Test(tank, half_full_is_half_for_symmetric_tanks)
{
    struct uf_tank tank = tank_of(UF_VERTICAL_CYLINDER, UF_HEMISPHERICAL);
    near(uf_tank_submerged_m3(&tank, 1.55), 0.5 * uf_tank_volume_m3(&tank), 1e-12, "upright");
    tank = tank_of(UF_HORIZONTAL_CYLINDER, UF_HEMISPHERICAL);
    near(uf_tank_submerged_m3(&tank, 1.2), 0.5 * uf_tank_volume_m3(&tank), 1e-12, "lying");
}

Test(tank, the_shell_takes_room)
{
    struct uf_tank tank = tank_of(UF_HORIZONTAL_CYLINDER, UF_FLAT);
    tank.wall_thickness_m = 0.1;
    near(uf_tank_content_m3(&tank, 9.0), UF_PI * 1.21 * 5.8, 1e-12, "flat");
    tank.heads = UF_HEMISPHERICAL;
    near(uf_tank_content_m3(&tank, 9.0), UF_PI * 1.21 * 6.0 + UF_PI * pow(2.2, 3) / 6.0, 1e-12,
         "hemi");
    tank = tank_of(UF_BOX, UF_FLAT);
    tank.wall_thickness_m = 0.1;
    near(uf_tank_content_m3(&tank, 1.1), 1.5 * 5.8 * 1.1, 1e-12, "box");
    tank = tank_of(UF_VERTICAL_CYLINDER, UF_FLAT);
    tank.wall_thickness_m = 0.1;
    near(uf_tank_content_m3(&tank, 9.0), UF_PI * 1.21 * 2.9, 1e-12, "upright");
}

/* Areas: circle, sphere, and the 2:1 ellipsoid, 2 pi R^2 x 1.380173 (e^2 = 3/4). */
Test(tank, end_areas)
{
    struct uf_tank tank = tank_of(UF_HORIZONTAL_CYLINDER, UF_FLAT);
    near(uf_tank_end_area_m2(&tank), 2.0 * UF_PI * 1.44, 1e-12, "flat");
    tank.heads = UF_HEMISPHERICAL;
    near(uf_tank_end_area_m2(&tank), 4.0 * UF_PI * 1.44, 1e-12, "hemi");
    tank.heads = UF_ELLIPSOIDAL_2_TO_1;
    near(uf_tank_end_area_m2(&tank), 2.0 * UF_PI * 1.44 * 1.380173, 1e-5, "2:1");
    tank = tank_of(UF_BOX, UF_FLAT);
    near(uf_tank_end_area_m2(&tank), 2.0 * 1.7 * 3.1, 1e-12, "box ends");
}

/* Half spheres, 2:1 ellipsoids and flat ends of a radius of 1.2 m: the circle, half of it, nothing. */
Test(tank, half_length_off_the_axis)
{
    for (int i = 0; i <= 10; i++) {
        const double off_m = 0.12 * i;
        const double round_m = sqrt(1.44 - off_m * off_m);
        cr_expect_float_eq(uf_tank_half_length_m(6.0, 1.2, 1.2, off_m), 3.0 + round_m, 1e-9);
        cr_expect_float_eq(uf_tank_half_length_m(6.0, 0.6, 1.2, off_m), 3.0 + 0.5 * round_m, 1e-9);
        cr_expect_float_eq(uf_tank_half_length_m(6.0, 0.0, 1.2, off_m), 3.0, 1e-12);
    }
}
