#include "solver/design/anchor.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_case with_tank(void)
{
    struct uf_case d;
    uf_case_init(&d);
    d.tank.shape = UF_BOX;
    d.tank.width_m = d.tank.height_m = 2.0;
    d.tank.length_m = 5.0;
    d.burial.cover_m = 1.0;
    d.burial.bedding_m = 0.3;
    return d;
}

/* Whatever kinds there are: each can be put, is told in words, has its concrete and goes again. */
Test(anchor, every_kind_is_a_whole_row)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        struct uf_case d = with_tank();
        struct uf_message said;
        cr_expect(!uf_anchor_any(&d) && uf_anchor_m3(&d) == 0.0, "%s", row->word);
        row->put(&d, row->most_m);
        const struct uf_anchor_body body = row->body(&d);
        const double m3 = body.count * body.width_m * body.height_m * body.length_m;
        cr_expect(uf_anchor_any(&d) && body.count > 0.0 && m3 > 0.0, "%s", row->word);
        cr_expect_float_eq(uf_anchor_m3(&d), m3, 1e-12, "%s", row->word);
        cr_expect_float_eq(uf_anchor_between_m3(&d, 0.0, body.top_m + 0.5 * body.height_m),
                           0.5 * m3, 1e-9, "%s", row->word);
        cr_expect_eq(row->under_bedding, body.top_m > uf_case_invert_m(&d), "%s", row->word);
        cr_expect(row->under_m2(&d) >= 0.0 &&
                  row->under_m2(&d) <= body.width_m * body.length_m + 1e-9);
        row->say(&said, &d);
        cr_expect(strstr(said.text, row->word) != NULL && said.n >= 3, "%s", said.text);
        cr_expect(strlen(row->check) > 5 && strlen(row->allowed) > 5 && row->sides >= 1.0);
        uf_anchor_clear(&d.anchors);
        cr_expect(!uf_anchor_any(&d), "%s", row->word);
    }
}

Test(anchor, deadmen_stand_beside_and_a_pad_lies_below)
{
    struct uf_case d = with_tank();
    d.anchors.deadmen = 2;
    d.anchors.deadman_width_m = 0.4;
    d.anchors.deadman_height_m = 0.5;
    d.anchors.deadman_length_m = 6.0;
    d.anchors.has_pad = true;
    d.anchors.pad_width_m = 3.0;
    d.anchors.pad_length_m = 4.0;
    d.anchors.pad_thickness_m = 0.25;
    struct uf_anchor_body body = uf_anchor_at(UF_ANCHOR_DEADMEN)->body(&d);
    cr_expect_float_eq(body.axis_m, 1.2, 1e-12);
    cr_expect_eq(body.tie_m, body.axis_m);
    cr_expect_float_eq(body.top_m, 2.8, 1e-12, "on the bedding, 0.3 under the invert");
    cr_expect_float_eq(uf_anchor_floor_m(&d), 3.55, 1e-12, "under the pad");
    cr_expect_float_eq(uf_anchor_at(UF_ANCHOR_DEADMEN)->under_m2(&d), 0.0, 1e-12);
    d.anchors.deadman_offset_m = 1.0;
    cr_expect_float_eq(uf_anchor_at(UF_ANCHOR_DEADMEN)->under_m2(&d), 0.2 * 5.0, 1e-12);
    body = uf_anchor_at(UF_ANCHOR_PAD)->body(&d);
    cr_expect_float_eq(body.top_m, 3.3, 1e-12, "under the bedding");
    cr_expect_float_eq(body.tie_m, 1.0, 1e-12, "straps go straight down");
    cr_expect_float_eq(uf_anchor_at(UF_ANCHOR_PAD)->under_m2(&d), 2.0 * 4.0, 1e-12);
}
