#include "solver/base/constants.h"
#include "solver/ground/soil.h"
#include "solver/heat/front.h"
#include "solver/time/season.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

/* The front on rows of 7.5 cm against the same ground on rows of 1.25 cm, day by day. Six
   soils of the table; air 3 +- 14 K through a film, start at 8 degC in October. */

enum { DAYS = 250 };

static void column_case(struct uf_case *d, const char *soil, double finest_m)
{
    uf_case_init(d);
    d->ground.n_layers = 1;
    d->ground.layers[0].to_m = 15.0;
    d->ground.layers[0].spec.soil = uf_soil_find(soil);
    d->grid.finest_m = finest_m;
}

/* Frost depth on every evening of a run into depth [DAYS]. */
static void run(const char *soil, double finest_m, double *depth)
{
    double outside[DAYS + 2];
    double h[DAYS + 2];
    struct uf_case d;
    struct uf_section *s = NULL;
    struct uf_season *season = NULL;
    struct uf_error err = {0};
    const struct uf_season_options options = uf_season_defaults();
    for (int i = 0; i < DAYS + 2; i++) {
        outside[i] = 3.0 - 14.0 * cos(2.0 * UF_PI * (273.0 + i + 0.5 - 20.0) / 365.0);
        h[i] = 15.0;
    }
    const struct uf_drive drive = {
        .days = DAYS + 2, .outside_degC = outside, .h_W_m2K = h, .air_degC = outside};
    column_case(&d, soil, finest_m);
    cr_assert(uf_section_create(&s, &d, 2.8, &err) == UF_OK, "%s", err.text);
    cr_assert(uf_season_create(&season, s->heat, &options, &err) == UF_OK, "%s", err.text);
    double *T = calloc(s->heat->n, sizeof *T);
    for (size_t i = 0; i < s->heat->n; i++) {
        T[i] = 8.0 - 0.1 * s->grid->z_m[i];
    }
    uf_season_drive(season, &drive);
    uf_season_set(season, 0.0, T);
    for (int day = 1; day <= DAYS; day++) {
        cr_assert(uf_season_advance(season, day, &err) == UF_OK, "%s", err.text);
        const double *now = uf_season_T_degC(season);
        const struct uf_heat_now outer = uf_season_now(&drive, day);
        depth[day - 1] =
            uf_front_frost_m(s, uf_season_H_J_m3(season), now, 0,
                             uf_heat_surface_degC(s->heat, &s->heat->tops[0], &outer, now[0]));
    }
    free(T);
    uf_season_free(season);
    uf_section_free(s);
}

Test(front, within_two_centimetres_every_day_on_six_soils)
{
    static const char *const soils[] = {"gravel", "sand", "silty_sand", "silt", "clay", "peat"};
    const bool light = getenv("UF_TEST_LIGHT") != NULL;
    for (size_t k = 0; k < (light ? 2 : 6); k++) {
        double coarse[DAYS];
        double fine[DAYS];
        double worst_m = 0.0;
        double deepest_m = 0.0;
        run(soils[k], 0.075, coarse);
        run(soils[k], light ? 0.025 : 0.0125, fine);
        for (int day = 0; day < DAYS; day++) {
            /* The last evening of the frost is left out: what is left then thins to nothing. */
            if (day + 1 == DAYS || fine[day + 1] > 0.0 || fine[day] <= 0.0) {
                worst_m = fmax(worst_m, fabs(coarse[day] - fine[day]));
            }
            deepest_m = fmax(deepest_m, fine[day]);
        }
        cr_log_info("%s: worst day %.1f mm, deepest %.2f m", soils[k], 1e3 * worst_m, deepest_m);
        cr_expect(deepest_m > 0.4, "%s froze only %g m", soils[k], deepest_m);
        cr_expect(worst_m < 0.02, "%s: off by %.1f mm", soils[k], 1e3 * worst_m);
    }
}

Test(front, thin_frost_lies_between_surface_and_first_centre)
{
    struct uf_case d;
    struct uf_section *s = NULL;
    column_case(&d, "silt", 0.1);
    cr_assert(uf_section_create(&s, &d, 1.0, NULL) == UF_OK);
    double *H = calloc(2 * s->heat->n, sizeof *H);
    double *T = H + s->heat->n;
    for (size_t i = 0; i < s->heat->n; i++) {
        T[i] = 3.0;
    }
    uf_heat_enthalpies(s->heat, T, H);
    cr_expect_eq(uf_front_frost_m(s, H, T, 0, 1.0), 0.0);
    cr_expect_eq(uf_front_frost_m(s, H, T, 0, NAN), 0.0);
    cr_expect_float_eq(uf_front_frost_m(s, H, T, 0, -1.0), 0.25 * s->grid->z_m[0], 1e-12);
    free(H);
    uf_section_free(s);
}

/* Four rows with centres at 0.5, 1.5, 2.5, 3.5 m of silt. */
static struct uf_section *four_rows(void)
{
    struct uf_case d;
    struct uf_grid *g = NULL;
    struct uf_section *s = NULL;
    double *x = calloc(2, sizeof *x);
    double *z = calloc(5, sizeof *z);
    cr_assert(x != NULL && z != NULL);
    x[1] = 1.0;
    for (size_t j = 0; j < 5; j++) {
        z[j] = (double)j;
    }
    column_case(&d, "silt", 0.1);
    cr_assert(uf_grid_create(&g, x, 1, z, 4, false, NULL) == UF_OK);
    cr_assert(uf_section_create_on(&s, &d, g, NULL) == UF_OK);
    return s;
}

Test(front, depth_of_frost_and_thaw)
{
    static const struct {
        double T[4], frost_m, thaw_m;
    } rows[] = {{{-3.0, 1.0, 2.0, 3.0}, 1.25, 0.0},   /* from the top */
                {{2.0, -2.0, -1.0, 3.0}, 2.75, 1.0},  /* thawing from above */
                {{2.0, 1.0, 2.0, 3.0}, 0.0, 0.0},     /* none */
                {{-3.0, -2.0, -2.0, -1.0}, 4.0, 0.0}, /* to the bottom */
                {{-1.0, 1.0, -1.0, 1.0}, 3.0, 0.0},   /* refrozen at the top */
                {{1.0, 3.0, -1.0, 1.0}, 3.0, 2.25}};
    struct uf_section *s = four_rows();
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        cr_expect(fabs(uf_front_line_m(s->heat, rows[k].T, 0) - rows[k].frost_m) < 1e-12,
                  "frost of row %zu", k);
        cr_expect(fabs(uf_front_thaw_m(s->heat, rows[k].T, 0) - rows[k].thaw_m) < 1e-12,
                  "thaw of row %zu", k);
    }
    uf_section_free(s);
}

/* Board over soil, k 0.03 over 1.5 W/mK: 50 of 51 parts of a temperature difference fall
   in the board. From -1 to 1 degC the edge is at 49/51 degC, the line 51/100 down the
   board's half row; and in the soil when the board's centre is much colder. */
Test(front, line_has_its_kink_between_two_substances)
{
    struct uf_section *s = four_rows();
    struct uf_material *m = &s->heat->materials[s->heat->n_materials];
    const double warm[4] = {-1.0, 1.0, 2.0, 3.0};
    const double cold[4] = {-102.0, 1.0, 2.0, 3.0};
    uf_material_inert(m, "board", 0.03, 4e4);
    uf_material_inert(m + 1, "soil", 1.5, 2e6);
    s->heat->conducts[0] = (uint16_t)s->heat->n_materials;
    s->heat->conducts[1] = (uint16_t)(s->heat->n_materials + 1);
    cr_expect_float_eq(uf_front_line_m(s->heat, warm, 0), 0.5 + 0.5 * 0.51, 1e-12);
    /* 103 K over 51 parts: the edge is at 1 - 103/51 degC, below zero. */
    cr_expect_float_eq(uf_front_line_m(s->heat, cold, 0), 1.0 + 0.5 * (1.0 - 51.0 / 103.0), 1e-12);
    uf_section_free(s);
}
