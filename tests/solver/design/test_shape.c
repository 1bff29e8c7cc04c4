#include "solver/design/case.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <criterion/criterion.h>

#include <math.h>

/* Every row answers all that is asked of it, and its whole volume lies below its top. */
Test(shape, every_row_is_whole)
{
    size_t n = 0;
    for (long word = UF_NO_TANK + 1; uf_shape_at(word) != NULL; word++, n++) {
        const struct uf_shape_row *row = uf_shape_at(word);
        struct uf_tank tank = {.shape = (enum uf_shape)word,
                               .diameter_m = 2.0,
                               .width_m = 2.0,
                               .height_m = 2.5,
                               .length_m = 6.0,
                               .heads = UF_HEMISPHERICAL};
        cr_assert(row->keys != NULL && row->across != NULL && row->along != NULL);
        cr_expect(row->keys[0].needed, "a size is asked for first");
        const double top_m = row->height_m(&tank);
        cr_expect(top_m > 0.0 && row->widest_m(&tank) > 0.0 && row->widest_m(&tank) <= top_m);
        cr_expect(row->plan_area_m2(&tank) <=
                  row->plan_length_m(&tank) * row->plan_width_m(&tank) + 1e-9);
        cr_expect(row->end_area_m2(&tank) > 0.0);
        cr_expect_float_eq(uf_tank_volume_m3(&tank), row->below_m3(&tank, 0.0, top_m), 1e-12);
        cr_expect(row->below_m3(&tank, 0.01, 0.5 * top_m) < row->below_m3(&tank, 0.0, 0.5 * top_m));
        cr_expect_eq(row->below_m3(&tank, 0.0, 0.0), 0.0);
    }
    cr_expect(n >= 3);
}

Test(shape, no_tank_and_a_word_out_of_a_damaged_file_have_no_row)
{
    const struct uf_tank none = {.shape = UF_NO_TANK};
    cr_expect_null(uf_shape_at(-1));
    cr_expect_null(uf_shape_at(99));
    cr_expect(!uf_shape_is_round(&none) && !uf_shape_is_radial(&none));
    cr_expect_eq(uf_tank_volume_m3(&none), 0.0);
    cr_expect_eq(uf_tank_plan_area_m2(&none), 0.0);
}
