#include "solver/base/constants.h"
#include "solver/heat/standpipe.h"

#include <criterion/criterion.h>

#include <math.h>

/* Ground whose temperature goes straight from its surface down. */
struct ground {
    double surface_degC, per_m;
};

static double degC(const void *who, double depth_m)
{
    const struct ground *g = who;
    return g->surface_degC + g->per_m * depth_m;
}

static double W_mK(const void *who, double depth_m)
{
    (void)who;
    (void)depth_m;
    return 2.0;
}

static struct uf_standpipe_ground seen(const struct ground *g)
{
    return (struct uf_standpipe_ground){degC, W_mK, g, g->surface_degC};
}

static struct uf_shaft_side line(double sleeve_m)
{
    return (struct uf_shaft_side){
        .diameter_m = 0.15,
        .buried_m = 3.0,
        .shell = {.sleeve_m = sleeve_m, .sleeve_W_mK = 0.032, .sleeve_length_m = INFINITY}};
}

/* Autumn at 6 degC, then so many days of frozen ground above 2 m. */
static struct uf_standpipe_water winter(double sleeve_m, double surface_m, int days, double step_s)
{
    const struct ground autumn = {6.0, 0.0}, cold = {-2.0, 1.0};
    const struct uf_standpipe_ground before = seen(&autumn), after = seen(&cold);
    const struct uf_shaft_side side = line(sleeve_m);
    struct uf_standpipe_water p;
    uf_standpipe_begin(&p, &side, surface_m, &before);
    p.cap_m2K_W = 5.0;
    for (double t = 0.0; t < days * UF_DAY_S - 1.0; t += step_s) {
        uf_standpipe_step(&p, &after, step_s);
    }
    return p;
}

Test(standpipe, bare_water_in_frozen_ground_freezes_shut)
{
    const struct uf_standpipe_water p = winter(0.0, 1.0, 30, 3600.0);
    cr_expect_float_eq(uf_standpipe_most_ice(&p), 1.0, 0.0);
    cr_expect(uf_standpipe_coldest_degC(&p) < 0.0 && uf_standpipe_coldest_degC(&p) > -2.0);
    cr_expect_float_eq(p.ice[p.n - 1], 0.0, 0.0, "not below the frost");
}

/* Less ice behind a thicker sleeve, none behind one that lets nothing through. */
Test(standpipe, a_sleeve_keeps_it_open)
{
    double before = 1.1;
    for (double sleeve_m = 0.05; sleeve_m < 0.6; sleeve_m *= 2.0) {
        const struct uf_standpipe_water p = winter(sleeve_m, 1.0, 30, 3600.0);
        cr_expect(uf_standpipe_most_ice(&p) < before, "%g m: %g", sleeve_m,
                  uf_standpipe_most_ice(&p));
        before = uf_standpipe_most_ice(&p);
    }
    const struct uf_standpipe_water none = winter(0.0, 2.5, 30, 3600.0);
    cr_expect_float_eq(uf_standpipe_most_ice(&none), 0.0, 0.0, "water below the frost needs none");
}

Test(standpipe, above_the_water_it_is_dry)
{
    const struct uf_standpipe_water dry = winter(0.0, 3.0, 30, 3600.0);
    cr_expect_eq(dry.n, 0);
    cr_expect(isnan(uf_standpipe_coldest_degC(&dry)));
    cr_expect_float_eq(uf_standpipe_most_ice(&dry), 0.0, 0.0);
}

static double held_J(const struct uf_standpipe_water *p)
{
    double sum_J = 0.0;
    for (size_t i = 0; i < p->n; i++) {
        sum_J += p->E_J[i];
    }
    return sum_J;
}

/* Of long steps and short ones the same ice: freezing is not stepped over. */
Test(standpipe, long_steps_and_short_ones_agree)
{
    const struct uf_standpipe_water fine = winter(0.1, 1.0, 30, 600.0);
    const struct uf_standpipe_water coarse = winter(0.1, 1.0, 30, 21600.0);
    cr_expect(uf_standpipe_most_ice(&fine) > 0.1 && uf_standpipe_most_ice(&fine) < 1.0, "%g",
              uf_standpipe_most_ice(&fine));
    cr_expect_float_eq(held_J(&coarse) / held_J(&fine), 1.0, 0.02, "%g %g", held_J(&coarse),
                       held_J(&fine));
    for (size_t i = 0; i < fine.n; i++) {
        cr_expect_float_eq(fine.ice[i], coarse.ice[i], 0.01, "row %zu: %g %g", i, fine.ice[i],
                           coarse.ice[i]);
    }
}

/* Water at 8 degC cooled from above turns over: no row is heavier than the one below it. */
Test(standpipe, heavier_water_sinks)
{
    const struct ground autumn = {8.0, 0.0}, cool = {4.0, 1.0};
    const struct uf_standpipe_ground before = seen(&autumn), after = seen(&cool);
    const struct uf_shaft_side side = line(0.0);
    struct uf_standpipe_water p;
    uf_standpipe_begin(&p, &side, 0.5, &before);
    for (int day = 0; day < 40; day++) {
        uf_standpipe_step(&p, &after, 21600.0);
        for (size_t i = 1; i < p.n; i++) {
            cr_expect(p.T_degC[i] <= p.T_degC[i - 1] + 1e-6 || p.T_degC[i] < 3.99, "day %d row %zu",
                      day, i);
        }
    }
}
