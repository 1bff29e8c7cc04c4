#include "solver/weather/surface.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_surface_input plain(enum uf_surface_kind kind)
{
    struct uf_case design;
    uf_case_init(&design);
    design.surface.kind = kind;
    return design.surface;
}

/* Sturm et al. (1997), computed from the printed regression, 5 digits. */
Test(surface, snow_conductivity_follows_sturm)
{
    const double rows[][2] = {{100, 0.04640}, {156, 0.05912}, {200, 0.06532}, {250, 0.08756},
                              {300, 0.12597}, {350, 0.18054}, {400, 0.25128}, {500, 0.44125}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        cr_expect_float_eq(uf_surface_snow_W_mK(rows[i][0]), rows[i][1], 6e-6, "%g kg/m3",
                           rows[i][0]);
    }
    cr_expect(isnan(uf_surface_snow_W_mK(9.0)) && isnan(uf_surface_snow_W_mK(601.0)));
    cr_expect(isnan(uf_surface_snow_W_mK(NAN)));
}

/* No arrangement of ice and air conducts less than the two in series, nor more than side by side
   (Wiener's bounds; ice 2.22, air at 0 degC 0.0243 W/mK, from memory). */
Test(surface, snow_conducts_between_ice_and_air_in_series_and_side_by_side)
{
    for (double density = 10.0; density <= 600.0; density += 5.0) {
        const double ice = density / 917.0;
        const double series = 1.0 / (ice / 2.22 + (1.0 - ice) / 0.0243);
        const double parallel = ice * 2.22 + (1.0 - ice) * 0.0243;
        const double got = uf_surface_snow_W_mK(density);
        cr_expect(got > series && got < parallel, "%g kg/m3: %g within %g and %g", density, got,
                  series, parallel);
    }
}

/* UFC 3-130-04 table 4-1. */
Test(surface, table_holds_the_published_n_factors)
{
    const struct {
        const char *name;
        double freezing, thawing;
    } rows[] = {{"concrete", 0.75, 1.5}, {"asphalt", 0.7, 1.6}, {"bare_soil", 0.7, 1.4},
                {"shaded", 0.9, 1.0},    {"turf", 0.5, 0.8},    {"trees", 0.3, 0.4}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct uf_cover_row *row = uf_surface_find(rows[i].name);
        cr_assert_not_null(row, "%s", rows[i].name);
        cr_expect_eq(row->n_freezing, rows[i].freezing);
        cr_expect_eq(row->n_thawing, rows[i].thawing);
    }
    cr_expect_eq(uf_surface_find("snow")->n_freezing, 1.0);
    cr_expect_null(uf_surface_find("lava"));
    for (const struct uf_cover_row *row = uf_surface_table; row->name != NULL; row++) {
        cr_expect(strlen(row->source) > 20, "%s", row->name);
        cr_expect(row->n_freezing > 0.0 && row->n_thawing >= row->n_freezing, "%s", row->name);
    }
}

Test(surface, film_and_snow_act_in_series)
{
    struct uf_surface_input surface = plain(UF_SURFACE_FILM);
    struct uf_face_law law = uf_surface_law(&surface, -7.0, 0.0);
    cr_expect_float_eq(law.h_W_m2K, 15.0, 1e-12);
    cr_expect_eq(law.outside_degC, -7.0);
    surface.snow_density_kg_m3 = 300.0; /* k = 0.12597 */
    law = uf_surface_law(&surface, -7.0, 0.4);
    cr_expect_float_eq(1.0 / law.h_W_m2K, 1.0 / 15.0 + 0.4 / 0.12597, 1e-6);
    law = uf_surface_law(&surface, 6.0, 0.4);
    cr_expect_eq(law.outside_degC, 0.0, "snow melts at 0 degC");
    law = uf_surface_law(&surface, 6.0, 0.0);
    cr_expect_eq(law.outside_degC, 6.0);
    law = uf_surface_law(&surface, -7.0, NAN);
    cr_expect_float_eq(law.h_W_m2K, 15.0, 1e-12, "unknown snow counts as none");
}

Test(surface, snow_lies_as_asked)
{
    struct uf_surface_input surface = plain(UF_SURFACE_FILM);
    surface.snow_depth_m = 0.3;
    cr_expect_eq(uf_surface_snow_m(&surface, 0.4, true), 0.0, "cleared ground has no snow");
    cr_expect(!uf_surface_reads_snow(&surface) && !uf_surface_clear(&surface));
    surface.snow = UF_SNOW_FIXED;
    cr_expect_eq(uf_surface_snow_m(&surface, 0.4, true), 0.3);
    cr_expect_eq(uf_surface_snow_m(&surface, 0.4, false), 0.0);
    cr_expect(!uf_surface_reads_snow(&surface));
    surface.snow = UF_SNOW_RECORDED;
    cr_expect_eq(uf_surface_snow_m(&surface, 0.4, false), 0.4);
    cr_expect_eq(uf_surface_snow_m(&surface, NAN, true), 0.0);
    cr_expect(uf_surface_reads_snow(&surface) && uf_surface_clear(&surface));
    cr_expect_eq(surface.snow, UF_SNOW_NONE);
    surface = plain(UF_SURFACE_MEASURED);
    surface.snow = UF_SNOW_RECORDED;
    cr_expect_eq(uf_surface_snow_m(&surface, 0.4, true), 0.0, "it lies over the sensor");
    cr_expect(!uf_surface_reads_snow(&surface) && !uf_surface_clear(&surface));
}

Test(surface, n_factor_scales_either_side_of_zero)
{
    struct uf_surface_input surface = plain(UF_SURFACE_N_FACTOR);
    surface.row = uf_surface_find("turf");
    cr_expect(isinf(uf_surface_law(&surface, -13.0, 0.5).h_W_m2K));
    cr_expect_float_eq(uf_surface_law(&surface, -13.0, 0.5).outside_degC, -6.5, 1e-12);
    cr_expect_float_eq(uf_surface_law(&surface, 15.0, 0.5).outside_degC, 12.0, 1e-12);
    surface.row = NULL;
    surface.n_freezing = 0.65;
    surface.n_thawing = 1.3;
    cr_expect_float_eq(uf_surface_law(&surface, -10.0, 0.0).outside_degC, -6.5, 1e-12);
    cr_expect_float_eq(uf_surface_law(&surface, 10.0, 0.0).outside_degC, 13.0, 1e-12);
}

Test(surface, measured_ground_is_taken_as_it_is)
{
    const struct uf_surface_input surface = plain(UF_SURFACE_MEASURED);
    const struct uf_face_law law = uf_surface_law(&surface, -1.7, 0.6);
    cr_expect(isinf(law.h_W_m2K));
    cr_expect_eq(law.outside_degC, -1.7);
}

static const char *fault_of(const struct uf_surface_input *surface)
{
    return uf_surface_of(surface)->fault(surface, surface->snow != UF_SNOW_NONE);
}

Test(surface, counting_the_surface_twice_is_a_fault)
{
    struct uf_surface_input surface = plain(UF_SURFACE_FILM);
    cr_expect_null(fault_of(&surface));
    surface.row = uf_surface_find("turf");
    cr_expect_not_null(fault_of(&surface));
    surface.kind = UF_SURFACE_N_FACTOR;
    cr_expect_null(fault_of(&surface));
    cr_expect_not_null(uf_surface_of(&surface)->fault(&surface, true), "turf holds its snow");
    surface = plain(UF_SURFACE_N_FACTOR);
    cr_expect_not_null(fault_of(&surface), "no n at all");
    surface.n_freezing = surface.n_thawing = 1.0;
    cr_expect_null(fault_of(&surface));
    surface.snow = UF_SNOW_RECORDED;
    cr_expect_null(fault_of(&surface), "n = 1 leaves the snow to count once");
    cr_expect_float_eq(uf_surface_law(&surface, -5.0, 0.3).h_W_m2K, 0.0875625 / 0.3, 1e-9);
    surface.n_freezing = 0.7;
    cr_expect_not_null(fault_of(&surface));
}

/* Every law is a row: asked for by keys of its own, told in words. */
Test(surface, every_law_is_a_whole_row)
{
    for (int kind = 0; kind < UF_SURFACE_LAWS; kind++) {
        struct uf_surface_input surface = plain((enum uf_surface_kind)kind);
        const struct uf_surface_row *row = uf_surface_of(&surface);
        struct uf_message said;
        cr_assert(row->takes_snow != NULL && row->outside_degC != NULL && row->fault != NULL &&
                      row->say != NULL,
                  "%s: a function is missing", row->asked);
        row->say(&said, &surface);
        cr_expect(row->keys[0] != NULL && strlen(row->asked) > 5 && strlen(said.text) > 10);
        cr_expect_eq(row, uf_surface_at(surface.kind));
    }
}
