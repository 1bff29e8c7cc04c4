#include "cli/verify/exact/box.h"
#include "solver/base/constants.h"
#include "solver/heat/spectrum.h"
#include "solver/time/season.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A chain of n stone cells of dz, insulated below and at the sides. Eigenvalues of its
   second difference are 4 a/dz^2 sin^2(theta/2), theta from the boundary conditions. */
static void chain_rates(size_t n, double h_W_m2K, double *fastest)
{
    const double depth_m = 0.1 * (double)n;
    const struct uf_grid_zone zone = {depth_m, 0.1};
    const struct uf_grid_axis x = {.end_m = 1.0,
                                   .zones = &(struct uf_grid_zone){1.0, 1.0},
                                   .n_zones = 1,
                                   .growth = 1.5,
                                   .largest_m = 9.0};
    const struct uf_grid_axis z = {
        .end_m = depth_m, .zones = &zone, .n_zones = 1, .growth = 1.5, .largest_m = 9.0};
    struct uf_box *box = NULL;
    struct uf_material stone;
    cr_assert(uf_box_create(&box, &x, &z, false, 0, NULL) == UF_OK);
    uf_material_inert(&stone, "stone", 2.0, 2e6);
    uf_box_fill(box, &stone, (struct uf_box_part){0.0, 1.0, 0.0, depth_m});
    uf_box_connect(box);
    uf_box_open_top(box);
    cr_assert_eq(box->heat->n, n);
    *fastest = uf_spectrum_fastest_1_s(box->heat, h_W_m2K);
    uf_box_free(box);
}

Test(spectrum, uniform_chain_has_its_known_rates)
{
    const double a_dz2 = 1e-6 / 0.01; /* 1/s */
    const double row_sum = 4.0 * a_dz2 * (1.0 + 1e-9);
    for (size_t n = 3; n <= 40; n += 37) {
        double fastest = 0.0;
        /* No heat through the top: theta = pi (n - 1)/n. */
        chain_rates(n, 0.0, &fastest);
        double exact = 4.0 * a_dz2 * pow(sin(0.5 * UF_PI * (double)(n - 1) / (double)n), 2);
        cr_expect(fastest >= exact && fastest <= fmin(row_sum, 1.051 * exact),
                  "%zu insulated: %g, exact %g", n, fastest, exact);
        /* Surface at a temperature half a cell away: theta = pi (n - 1/2)/n. */
        chain_rates(n, INFINITY, &fastest);
        exact = 4.0 * a_dz2 * pow(sin(0.5 * UF_PI * ((double)n - 0.5) / (double)n), 2);
        cr_expect(fastest >= exact && fastest <= fmin(row_sum, 1.051 * exact),
                  "%zu open: %g, exact %g", n, fastest, exact);
    }
}

/* d(dH_i/dt)/dT_j / (dH/dT)_j by differences at a state: the matrix whose largest
   eigenvalue an explicit step must survive. a [n][n] */
static void relaxation(const struct uf_heat *h, const struct uf_heat_now *now, const double *T_degC,
                       double *a)
{
    struct uf_heat_flow flow;
    double *T = calloc(3 * h->n, sizeof *T);
    cr_assert_not_null(T);
    double *up = T + h->n;
    double *down = up + h->n;
    for (size_t i = 0; i < h->n; i++) {
        T[i] = T_degC[i];
    }
    for (size_t j = 0; j < h->n; j++) {
        const struct uf_material *m = &h->materials[h->material[j]];
        T[j] = T_degC[j] + 0.01;
        uf_heat_rate(h, now, T, up, &flow);
        T[j] = T_degC[j] - 0.01;
        uf_heat_rate(h, now, T, down, &flow);
        T[j] = T_degC[j];
        const double dH =
            uf_material_H_J_m3(m, T_degC[j] + 0.01) - uf_material_H_J_m3(m, T_degC[j] - 0.01);
        for (size_t i = 0; i < h->n; i++) {
            const bool both = h->volume_m3[i] > 0.0 && h->volume_m3[j] > 0.0;
            a[i * h->n + j] = both ? -(up[i] - down[i]) / (dH * h->volume_m3[i]) : 0.0;
        }
    }
    free(T);
}

/* Sanitized runs take fewer sections. */
static bool light(void)
{
    return getenv("UF_TEST_LIGHT") != NULL;
}

/* Spectral radius by long power iteration on what is not zero of the full matrix. */
static double radius_1_s(const double *a, size_t n)
{
    struct entry {
        size_t i, j;
        double value;
    } *const entries = calloc(n * n, sizeof *entries);
    double *x = calloc(2 * n, sizeof *x);
    cr_assert(entries != NULL && x != NULL);
    double *y = x + n;
    double norm = 0.0;
    size_t n_entries = 0;
    for (size_t k = 0; k < n * n; k++) {
        if (a[k] != 0.0) {
            entries[n_entries++] = (struct entry){k / n, k % n, a[k]};
        }
    }
    for (size_t i = 0; i < n; i++) {
        x[i] = cos(1.0 + 2.0 * (double)i);
    }
    for (int k = 0; k < 2000; k++) {
        double sum = 0.0;
        memset(y, 0, n * sizeof *y);
        for (size_t e = 0; e < n_entries; e++) {
            y[entries[e].i] += entries[e].value * x[entries[e].j];
        }
        for (size_t i = 0; i < n; i++) {
            sum += y[i] * y[i];
        }
        norm = sqrt(sum);
        for (size_t i = 0; i < n; i++) {
            x[i] = y[i] / norm;
        }
    }
    free(entries);
    free(x);
    return norm;
}

/* A tank in a small domain: few enough nodes for a full matrix. */
static struct uf_section *small_section(enum uf_shape shape, double mixing_W_mK)
{
    struct uf_case d = designs_tank(shape, 0.9);
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    d.tank.mixing_W_mK = mixing_W_mK;
    d.burial.bedding_soil.thermal = uf_verify_silt();
    d.grid.finest_m = 0.3;
    d.grid.width_m = 4.0;
    d.grid.depth_m = 4.0;
    cr_assert(uf_section_create(&s, &d, 1.0, &err) == UF_OK, "%s", err.text);
    return s;
}

/* States all thawed, all frozen, and shaken node by node over the freezing range. */
static double state_degC(unsigned state, unsigned *noise)
{
    if (state == 0 || state == 1) {
        return state == 0 ? 5.0 : -5.0;
    }
    return 3.0 * designs_noise(noise);
}

Test(spectrum, never_below_the_rate_of_any_state)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER};
    const struct uf_heat_now now = {.outside_degC = -8.0, .h_W_m2K = INFINITY, .air_degC = -8.0};
    for (unsigned k = 0; k < 4; k += light() ? 3 : 1) {
        struct uf_section *s = small_section(shapes[k / 2], k % 2 == 0 ? (double)NAN : 20.0);
        const struct uf_heat *h = s->heat;
        const double fastest = uf_spectrum_fastest_1_s(h, INFINITY);
        double *a = calloc(h->n * h->n + h->n, sizeof *a);
        cr_assert_not_null(a);
        double *T = a + h->n * h->n;
        double most = 0.0;
        for (unsigned state = 0; state < (light() ? 3 : 5); state++) {
            unsigned noise = state;
            for (size_t i = 0; i < h->n; i++) {
                T[i] = state_degC(state, &noise);
            }
            relaxation(h, &now, T, a);
            const double exact = radius_1_s(a, h->n);
            most = fmax(most, exact);
            cr_expect(fastest >= 0.999 * exact, "section %u state %u: %g below %g", k, state,
                      fastest, exact);
        }
        cr_expect(fastest < 3.0 * most, "section %u: %g, true %g", k, fastest, most);
        free(a);
        uf_section_free(s);
    }
}

/* While nothing is frozen and nothing can freeze, that bound holds too, and it is lower. */
Test(spectrum, thawed_never_below_the_rate_of_thawed_ground)
{
    const struct uf_heat_now now = {.outside_degC = 8.0, .h_W_m2K = INFINITY, .air_degC = 8.0};
    struct uf_section *s = small_section(UF_HORIZONTAL_CYLINDER, (double)NAN);
    const struct uf_heat *h = s->heat;
    const double thawed = uf_spectrum_thawed_1_s(h, INFINITY);
    double *a = calloc(h->n * h->n + h->n, sizeof *a);
    cr_assert_not_null(a);
    double *T = a + h->n * h->n;
    for (size_t i = 0; i < h->n; i++) {
        T[i] = 5.0;
    }
    relaxation(h, &now, T, a);
    const double exact = radius_1_s(a, h->n);
    cr_expect(thawed >= 0.999 * exact, "%g below %g", thawed, exact);
    cr_expect(thawed < 0.9 * uf_spectrum_fastest_1_s(h, INFINITY));
    free(a);
    uf_section_free(s);
}

/* A year that freezes, thaws and freezes again every twelve days under the strongest
   film, the stages as the estimate says. Nothing may be colder or warmer than what it met
   outside: an unstable stage count breaks that within days. */
static void expect_stable(const struct uf_section *s, double steps_per_day, double allowed_K)
{
    enum { DAYS = 365 };
    static double outside[DAYS], film[DAYS];
    struct uf_season *season = NULL;
    struct uf_season_options options = uf_season_defaults();
    double coldest = 0.0;
    double warmest = 0.0;
    options.steps_per_day = steps_per_day;
    for (int i = 0; i < DAYS; i++) {
        outside[i] = i / 6 % 2 == 0 ? -25.0 : 20.0;
        film[i] = INFINITY;
    }
    const struct uf_drive drive = {
        .days = DAYS, .outside_degC = outside, .h_W_m2K = film, .air_degC = outside};
    double *T = calloc(s->heat->n, sizeof *T);
    cr_assert_not_null(T);
    for (size_t i = 0; i < s->heat->n; i++) {
        T[i] = 2.0;
    }
    cr_assert(uf_season_create(&season, s->heat, &options, NULL) == UF_OK);
    uf_season_drive(season, &drive);
    uf_season_set(season, 0.0, T);
    for (int day = 5; day <= DAYS; day += 5) {
        struct uf_error err = {0};
        cr_assert(uf_season_advance(season, day, &err) == UF_OK, "%s", err.text);
        const double *now = uf_season_T_degC(season);
        for (size_t i = 0; i < s->heat->n; i++) {
            coldest = fmin(coldest, now[i]);
            warmest = fmax(warmest, now[i]);
        }
    }
    cr_expect(coldest > -25.0 - allowed_K && warmest < 20.0 + allowed_K, "%g to %g degC", coldest,
              warmest);
    cr_expect(coldest < -10.0 && warmest > 10.0, "the swings are felt");
    free(T);
    uf_season_free(season);
}

Test(spectrum, its_stages_stay_stable_through_freezing_and_thawing)
{
    struct uf_section *mixed = small_section(UF_HORIZONTAL_CYLINDER, NAN);
    struct uf_section *still = small_section(UF_VERTICAL_CYLINDER, 20.0);
    expect_stable(mixed, 4.0, 0.5);
    expect_stable(still, 4.0, 0.5);
    expect_stable(mixed, 1.0, 0.5);
    uf_section_free(mixed);
    uf_section_free(still);
}

/* Stirred water right under a lid at grade, k of 2000 W/mK where it is liquid: as ice it
   holds half the heat, and the lid's conductance does not fall with it; cells freeze through
   between two stages, so that steps are halved. */
Test(spectrum, its_stages_stay_stable_under_a_lid_over_stirred_water)
{
    struct uf_case d = designs_tank(UF_VERTICAL_CYLINDER, 3.0);
    struct uf_section *s = NULL;
    d.board.present = false;
    d.burial.cover_m = 0.0;
    d.tank.n_risers = 0;
    d.tank.wall_thickness_m = 0.0;
    d.tank.mixing_W_mK = 2000.0;
    d.grid.finest_m = 0.2;
    d.grid.width_m = d.grid.depth_m = 4.0;
    cr_assert(uf_section_create(&s, &d, 1.0, NULL) == UF_OK);
    expect_stable(s, 4.0, 1.0);
    expect_stable(s, 1.0, 1.0);
    uf_section_free(s);
}
