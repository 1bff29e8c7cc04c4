#include "solver/time/fast.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

static const struct uf_heat_now winter = {.outside_degC = -12.0, .h_W_m2K = 9.0, .air_degC = -14.0};

/* Largest difference between the fast rate and the plain one over the largest rate of any
   node, at `states` random states; enthalpies shaken through the whole freezing range. */
static double worst(const struct uf_case *design, unsigned states)
{
    struct uf_section *s = NULL;
    struct uf_fast *fast = NULL;
    struct uf_error err = {0};
    cr_assert(uf_section_create(&s, design, 1.5, &err) == UF_OK, "%s", err.text);
    cr_assert(uf_fast_create(&fast, s->heat, NULL) == UF_OK);
    const struct uf_heat *h = s->heat;
    double *H = calloc(4 * h->n, sizeof *H);
    double *T = H + h->n;
    double *into = T + h->n;
    double *rate = into + h->n;
    double error = 0.0;
    cr_assert(H != NULL);
    for (unsigned seed = 1; seed <= states; seed++) {
        struct uf_heat_flow flow;
        struct uf_heat_flow fast_flow;
        unsigned noise = seed;
        double size = 0.0;
        double off = 0.0;
        for (size_t i = 0; i < h->n; i++) {
            H[i] = 6e7 * designs_noise(&noise) - 3e7;
        }
        uf_heat_temperatures(h, H, T);
        struct uf_heat_now now = winter;
        now.snow = seed % 2 == 0;
        uf_heat_rate(h, &now, T, into, &flow);
        uf_fast_rate(fast, &now, H, rate, &fast_flow);
        for (size_t i = 0; i < h->n; i++) {
            const double want = h->volume_m3[i] > 0.0 ? into[i] / h->volume_m3[i] : 0.0;
            size = fmax(size, fabs(want));
            off = fmax(off, fabs(rate[i] - want));
        }
        error = fmax(error, off / size);
        const double total = designs_total_W(&flow);
        cr_expect(fabs(designs_total_W(&fast_flow) - total) < 1e-4 * fabs(total));
    }
    free(H);
    uf_fast_free(fast);
    uf_section_free(s);
    return error;
}

/* Slices along the axis, of a tank with heads, mixed and still; the bedding has a curved law,
   whose table is good to 1e-6. */
Test(fast, same_rates_in_three_dimensions)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    d.tank.heads = UF_ELLIPSOIDAL_2_TO_1;
    cr_expect(worst(&d, 4) < 1e-6, "%g", worst(&d, 4));
    d.tank.mixing_W_mK = 5.0;
    cr_expect(worst(&d, 4) < 1e-6, "%g", worst(&d, 4));
}

Test(fast, same_rates_as_the_plain_network)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    for (size_t k = 0; k < 3; k++) {
        struct uf_case d = designs_tank(shapes[k], 0.9);
        d.burial.bedding_soil.thermal = uf_verify_silt();
        d.burial.backfill = d.burial.bedding_soil;
        cr_expect(worst(&d, 6) < 1e-10, "shape %zu, mixed: %g", k, worst(&d, 1));
        d.tank.mixing_W_mK = 3.0;
        cr_expect(worst(&d, 6) < 1e-10, "shape %zu, still: %g", k, worst(&d, 1));
        d.tank.level_m = 0.0;
        cr_expect(worst(&d, 6) < 1e-10, "shape %zu, empty: %g", k, worst(&d, 1));
        d.board.present = false;
        d.burial.cover_m = 0.0;
        cr_expect(worst(&d, 6) < 1e-10, "shape %zu, at grade: %g", k, worst(&d, 1));
        d.tank.level_m = 3.0;
        d.tank.mixing_W_mK = NAN;
        cr_expect(worst(&d, 6) < 1e-10, "shape %zu, full at grade: %g", k, worst(&d, 1));
        d.tank.hold_degC = 5.0;
        cr_expect(worst(&d, 6) < 1e-10, "shape %zu, held at grade: %g", k, worst(&d, 1));
    }
}

/* A curved freezing law goes through a table of 4096 steps: temperature is straight
   between its corners, so only the bins that hold a corner differ; the rate is held to
   1e-4 of the largest. */
Test(fast, curved_substances_within_their_table)
{
    const struct uf_thermal soil = designs_curved_soil();
    struct uf_case d = designs_ground(&soil);
    const double bare = worst(&d, 40);
    cr_expect(bare < 1e-4, "%g", bare);
    d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.ground.layers[0].spec.thermal = soil;
    const double tank = worst(&d, 10);
    cr_expect(tank < 1e-4, "%g", tank);
}

Test(fast, held_node_stands_still)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    struct uf_section *s = NULL;
    struct uf_fast *fast = NULL;
    struct uf_heat_flow flow;
    d.tank.hold_degC = 5.0;
    cr_assert(uf_section_create(&s, &d, 1.5, NULL) == UF_OK);
    cr_assert(uf_fast_create(&fast, s->heat, NULL) == UF_OK);
    double *H = calloc(2 * s->heat->n, sizeof *H);
    double *rate = H + s->heat->n;
    cr_assert(H != NULL);
    for (size_t i = 0; i < s->heat->n; i++) {
        H[i] = -5e7 + 1e5 * (double)i;
    }
    uf_fast_rate(fast, &winter, H, rate, &flow);
    cr_expect(s->heat->held != UF_HEAT_NONE && rate[s->heat->held] == 0.0);
    cr_expect(flow.held_W != 0.0);
    free(H);
    uf_fast_free(fast);
    uf_section_free(s);
    uf_fast_free(NULL);
}

/* One pass gives what the rate and the recurrence give one after the other. */
static void expect_recurrence(enum uf_ends ends)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.tank.ends = ends;
    struct uf_section *s = NULL;
    struct uf_fast *fast = NULL;
    const double c[4] = {1.5, -0.5, 20.0, -3.0};
    cr_assert(uf_section_create(&s, &d, 1.5, NULL) == UF_OK);
    cr_assert(uf_fast_create(&fast, s->heat, NULL) == UF_OK);
    const size_t n = s->heat->n;
    double *block = calloc(7 * n, sizeof *block);
    cr_assert_not_null(block);
    double *const start = block;
    double *const now = start + n;
    double *const before = now + n;
    double *const rate0 = before + n;
    double *const turn = rate0 + n;
    double *const H = turn + n;
    double *const rate = H + n;
    unsigned noise = 7;
    for (size_t i = 0; i < n; i++) {
        start[i] = 6e7 * designs_noise(&noise) - 3e7;
        now[i] = 1e6 * designs_noise(&noise);
        before[i] = turn[i] = 1e6 * designs_noise(&noise);
        rate0[i] = 10.0 * designs_noise(&noise);
        H[i] = start[i] + now[i];
    }
    struct uf_heat_flow flow;
    struct uf_heat_flow want_flow;
    uf_fast_rate(fast, &winter, H, rate, &want_flow);
    uf_fast_stage(fast, &winter, c, &(const struct uf_fast_terms){start, now, rate0, turn}, &flow);
    for (size_t i = 0; i < n; i++) {
        const double want = c[0] * now[i] + c[1] * before[i] + c[2] * rate[i] + c[3] * rate0[i];
        cr_expect(fabs(turn[i] - want) < 1e-7, "node %zu: %.12g, %.12g", i, turn[i], want);
    }
    cr_expect(flow.surface_W == want_flow.surface_W && flow.bottom_W == want_flow.bottom_W);
    free(block);
    uf_fast_free(fast);
    uf_section_free(s);
}

Test(fast, stage_is_the_recurrence)
{
    expect_recurrence(UF_ENDS_PLANE);
    expect_recurrence(UF_ENDS_THREE_DIMENSIONAL);
}
