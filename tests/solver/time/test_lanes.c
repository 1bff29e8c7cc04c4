#include "solver/base/constants.h"
#include "solver/time/lanes_kernel.h"
#include "solver/time/season.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Seasons beside each other against the same seasons alone. */

enum { DAYS = 150, MOST = 20 };

/* A place: soils drawn round those of the design, weather of its own. */
struct place {
    struct uf_section *section;
    double outside_degC[DAYS], h_W_m2K[DAYS], air_degC[DAYS], snow_m[DAYS];
    double *T_degC;                          /* at the end */
    double leak_J, surface_J, steps_per_day; /* 0: the default */
    long rhs;
};

struct places {
    struct place *rows;
    size_t n, next;
};

static void make_place(struct place *p, const struct uf_case *like, size_t number)
{
    struct uf_case d = *like;
    struct uf_error err = {0};
    struct uf_thermal *soil = &d.ground.layers[0].spec.thermal;
    soil->k_frozen_W_mK *= 1.0 + 0.02 * (double)number;
    soil->latent_J_m3 *= 1.0 + 0.03 * (double)(number % 4);
    cr_assert(uf_section_create(&p->section, &d, 1.5, &err) == UF_OK, "%s", err.text);
    for (size_t i = 0; i < DAYS; i++) {
        const double day = (double)i;
        p->outside_degC[i] = 4.0 - (12.0 + 0.3 * (double)number) * sin(UF_PI * day / DAYS) +
                             5.0 * sin(2.0 * UF_PI * day / 9.0);
        p->air_degC[i] = p->outside_degC[i] - 1.0;
        p->snow_m[i] = number % 3 == 0 && i > 40 && i < 120 ? 0.1 : 0.0;
        p->h_W_m2K[i] = p->snow_m[i] > 0.0 ? 1.5 : 12.0;
    }
    p->T_degC = calloc(p->section->heat->n, sizeof *p->T_degC);
    cr_assert_not_null(p->T_degC);
}

static struct places *make(const struct uf_case *like, size_t n)
{
    struct places *all = calloc(1, sizeof *all);
    all->rows = calloc(n, sizeof *all->rows);
    all->n = n;
    for (size_t i = 0; i < n; i++) {
        make_place(&all->rows[i], like, i);
    }
    return all;
}

static void drop(struct places *all)
{
    for (size_t i = 0; i < all->n; i++) {
        uf_section_free(all->rows[i].section);
        free(all->rows[i].T_degC);
    }
    free(all->rows);
    free(all);
}

static void run_place(struct place *p, struct uf_lanes *lanes)
{
    const struct uf_heat *h = p->section->heat;
    const struct uf_drive drive = {.start_day = 1000.0,
                                   .days = DAYS,
                                   .outside_degC = p->outside_degC,
                                   .h_W_m2K = p->h_W_m2K,
                                   .air_degC = p->air_degC,
                                   .snow_m = p->snow_m};
    struct uf_season_options options = uf_season_defaults();
    struct uf_season *season = NULL;
    struct uf_error err = {0};
    options.lanes = lanes;
    options.steps_per_day = p->steps_per_day > 0.0 ? p->steps_per_day : options.steps_per_day;
    for (size_t i = 0; i < h->n; i++) {
        p->T_degC[i] = 5.0;
    }
    cr_assert(uf_season_create(&season, h, &options, &err) == UF_OK, "%s", err.text);
    uf_season_drive(season, &drive);
    uf_season_set(season, 1000.0, p->T_degC);
    for (int day = 1; day < DAYS; day++) {
        cr_assert(uf_season_advance(season, 1000.0 + day, &err) == UF_OK, "%s", err.text);
    }
    memcpy(p->T_degC, uf_season_T_degC(season), h->n * sizeof *p->T_degC);
    p->leak_J = uf_season_leak_J(season);
    p->surface_J = uf_season_heat_J(season).surface_J;
    p->rhs = uf_season_counters(season).rhs;
    uf_season_free(season);
}

static void work(void *who, struct uf_lanes *lanes)
{
    struct places *all = who;
    while (all->next < all->n) {
        run_place(&all->rows[all->next++], lanes);
    }
}

static void run_beside(struct places *all)
{
    all->next = 0;
    cr_assert(uf_lanes_run(work, all, NULL) == UF_OK);
}

/* Temperatures, heat and steps of places beside each other are those of each alone: to the
   rounding of single precision and what conductances of a step's start do, which is far below the
   0.01 K and the 2 mm of frost that are allowed. */
static void hold_against_single(const struct uf_case *like)
{
    struct places *beside = make(like, MOST), *alone = make(like, MOST);
    run_beside(beside);
    for (size_t k = 0; k < MOST; k++) {
        struct place *a = &alone->rows[k];
        const struct place *b = &beside->rows[k];
        const struct uf_heat *h = a->section->heat;
        run_place(a, NULL);
        double worst_K = 0.0;
        for (size_t i = 0; i < h->n; i++) {
            worst_K =
                h->volume_m3[i] > 0.0 ? fmax(worst_K, fabs(a->T_degC[i] - b->T_degC[i])) : worst_K;
        }
        cr_expect_lt(worst_K, 0.01, "place %zu: %g K", k, worst_K);
        cr_expect_lt(fabs(b->leak_J), 1e-6 * fabs(b->surface_J));
        cr_expect_lt(fabs(b->surface_J - a->surface_J), 1e-3 * fabs(a->surface_J));
        cr_expect_eq(a->rhs, b->rhs);
    }
    drop(beside);
    drop(alone);
}

Test(lanes, soils_with_a_linear_freezing_range)
{
    const struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    hold_against_single(&d);
}

/* The curved law at the surface, under snow and without it, and in links. */
Test(lanes, soils_with_a_curve)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.ground.layers[0].spec.thermal = designs_curved_soil();
    hold_against_single(&d);
}

Test(lanes, water_in_rows)
{
    struct uf_case d = designs_tank(UF_BOX, 1.1);
    d.tank.water = UF_WATER_LAYERED;
    hold_against_single(&d);
}

Test(lanes, water_that_is_cells)
{
    struct uf_case d = designs_tank(UF_VERTICAL_CYLINDER, 1.1);
    d.tank.water = UF_WATER_UNMIXED;
    hold_against_single(&d);
}

/* Out of the water where it is the warmer, not back. */
Test(lanes, a_riser_whose_side_counts)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.tank.risers[0].lid_at = UF_LID_TOP;
    hold_against_single(&d);
}

/* A standpipe's water stirs by a law of its own: such a network runs beside the others, not in a lane. */
Test(lanes, a_standpipe_is_not_taken)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.n_standpipes = 1;
    d.standpipes[0] = (struct uf_standpipe){
        .diameter_m = 0.15, .bottom_m = 2.2, .from_axis_m = NAN, .shell.sleeve_length_m = INFINITY};
    struct uf_section *section = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_section_create(&section, &d, 1.0, &err), UF_OK, "%s", err.text);
    cr_expect(section->heat->n_shafts > 0);
    cr_expect_not(uf_lanes_takes(section->heat));
    uf_section_free(section);
}

/* To the last bit, beside fewer, beside others, in another lane, beside some with more stages. */
Test(lanes, a_place_does_not_hang_on_those_beside_it)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.tank.water = UF_WATER_LAYERED;
    d.ground.layers[0].spec.thermal = designs_curved_soil();
    struct places *many = make(&d, MOST), *few = make(&d, 3);
    for (size_t k = 3; k < MOST; k++) {
        many->rows[k].steps_per_day = 1.0;
    }
    run_beside(many);
    run_beside(few);
    for (size_t k = 0; k < 3; k++) {
        const struct uf_heat *h = few->rows[k].section->heat;
        cr_expect(memcmp(few->rows[k].T_degC, many->rows[k].T_degC, h->n * sizeof(double)) == 0);
        cr_expect_eq(few->rows[k].surface_J, many->rows[k].surface_J);
    }
    drop(many);
    drop(few);
}

/* Networks of other shapes, and of kinds that have no lanes, run beside the others. */
Test(lanes, other_shapes_beside_each_other)
{
    struct uf_case d[4] = {designs_tank(UF_HORIZONTAL_CYLINDER, 0.9), designs_tank(UF_BOX, 0.9),
                           designs_tank(UF_HORIZONTAL_CYLINDER, 0.9),
                           designs_tank(UF_HORIZONTAL_CYLINDER, 0.9)};
    d[2].tank.hold_degC = 4.0;
    d[3].tank.risers[0].lid_at = UF_LID_TOP; /* a shape of its own */
    struct places *beside = make(&d[0], 9), *alone = make(&d[0], 9);
    for (size_t k = 0; k < 9; k++) {
        struct places *const both[] = {beside, alone};
        for (int i = 0; i < 2; i++) {
            uf_section_free(both[i]->rows[k].section);
            free(both[i]->rows[k].T_degC);
            make_place(&both[i]->rows[k], &d[k % 4], k);
        }
    }
    cr_expect(uf_lanes_takes(alone->rows[0].section->heat));
    cr_expect_not(uf_lanes_takes(alone->rows[2].section->heat));
    cr_expect(uf_lanes_takes(alone->rows[3].section->heat));
    run_beside(beside);
    for (size_t k = 0; k < 9; k++) {
        run_place(&alone->rows[k], NULL);
        const size_t n = alone->rows[k].section->heat->n;
        const double *a = alone->rows[k].T_degC, *b = beside->rows[k].T_degC;
        cr_expect_float_eq(a[n - 1], b[n - 1], 0.01);
        cr_expect(k % 4 != 2 || memcmp(a, b, n * sizeof *a) == 0);
    }
    drop(beside);
    drop(alone);
}

/* A shape of places one a lane, thawed and frozen ones beside each other. */
static struct uf_lanes_shape *make_shape(const struct places *all)
{
    struct uf_lanes_shape *s = uf_lanes_shape_create(all->rows[0].section->heat);
    cr_assert_not_null(s);
    for (size_t lane = 0; lane < UF_LANES; lane++) {
        const struct uf_heat *h = all->rows[lane].section->heat;
        cr_assert(uf_lanes_shape_fits(s, h));
        uf_lanes_load(s, lane, h);
        for (size_t i = 0; i < h->n; i++) {
            const double degC = 4.0 * sin(0.7 * (double)i + (double)lane) - 0.3 * (double)lane;
            s->start[i * UF_LANES + lane] =
                (float)uf_material_H_J_m3(&h->materials[h->material[i]], degC);
        }
    }
    return s;
}

/* One stage, its rates, flows and what the ranges tell, by one kernel. */
static float *stage_by(struct uf_lanes_shape *s, const struct uf_lanes_kernel *kernel,
                       struct uf_lanes_flow *flow)
{
    struct uf_lanes_now now;
    float c[4][UF_LANES];
    float *all = calloc((s->n + 2) * UF_LANES, sizeof *all);
    for (size_t lane = 0; lane < UF_LANES; lane++) {
        now.outside[lane] = -9.0F + (float)lane;
        now.air[lane] = -8.0F;
        now.film[lane] = 0.1F;
        now.snow[lane] = lane % 2 == 0 ? 1.0F : 0.0F;
        c[0][lane] = c[1][lane] = c[3][lane] = 0.0F;
        c[2][lane] = 1.0F;
    }
    s->kernel = kernel;
    uf_lanes_stage(s, &now, c, true, flow);
    memcpy(all, s->turn, s->n * UF_LANES * sizeof *all);
    kernel->beyond(s, all + s->n * UF_LANES);
    kernel->cold(s, all + (s->n + 1) * UF_LANES);
    return all;
}

/* Four lanes a vector, eight and sixteen: those that this machine has. */
Test(lanes, every_kind_of_machine_gives_the_same_digits)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.tank.risers[0].lid_at = UF_LID_TOP;
    d.ground.layers[0].spec.thermal = designs_curved_soil();
    struct places *places = make(&d, UF_LANES);
    const struct uf_lanes_kernel *const best = uf_lanes_kernel();
    const struct uf_lanes_kernel *kernels[] = {&uf_lanes_kernel_any, best, best};
#if UF_LANES_KINDS
    kernels[1] = best == &uf_lanes_kernel_any ? best : &uf_lanes_kernel_v3;
#endif
    struct uf_lanes_shape *s = make_shape(places);
    struct uf_lanes_flow first, other;
    float *expected = stage_by(s, kernels[0], &first);
    cr_expect_neq(expected[0], 0.0F);
    for (size_t k = 1; k < sizeof kernels / sizeof *kernels; k++) {
        float *got = stage_by(s, kernels[k], &other);
        cr_expect(memcmp(got, expected, (s->n + 2) * UF_LANES * sizeof *got) == 0, "kernel %zu", k);
        cr_expect(memcmp(&first, &other, sizeof first) == 0, "flows of kernel %zu", k);
        free(got);
    }
    free(expected);
    uf_lanes_shape_free(s);
    drop(places);
}
