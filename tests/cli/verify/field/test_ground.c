#include "cli/verify/exact/exact.h"
#include "cli/verify/field/ground.h"
#include "solver/base/calendar.h"
#include "solver/ground/published_depth.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

/* A record made by hand: five sensors, 30 days from 2020-10-01, water readings that stop. */
enum { DAYS = 366 };
static double ts[UF_GROUND_SENSORS][DAYS], sm[UF_GROUND_SENSORS][DAYS];

static struct uf_ground_record hand_made(void)
{
    struct uf_ground_record r = {.start_day = uf_calendar_day(2020, 1, 1), .days = DAYS};
    for (size_t s = 0; s < UF_GROUND_SENSORS; s++) {
        for (size_t i = 0; i < DAYS; i++) {
            ts[s][i] = 5.0;
            sm[s][i] = 0.20;
        }
        r.ts_degC[s] = ts[s];
        r.sm_m3_m3[s] = sm[s];
    }
    r.air_degC = ts[0];
    return r;
}

Test(ground, soil_is_by_thawed_readings_alone)
{
    struct uf_ground_record r = hand_made();
    struct uf_ground_soil soil;
    struct uf_error err = {0};
    sm[1][10] = 0.08;
    sm[1][20] = 0.40;
    sm[1][30] = 0.02; /* partly ice */
    ts[1][30] = 0.2;
    cr_assert(uf_ground_soil_of(&soil, &r, 1, &err) == UF_OK, "%s", err.text);
    cr_expect_float_eq(soil.driest_m3_m3, 0.08, 1e-12);
    cr_expect_float_eq(soil.wettest_m3_m3, 0.40, 1e-12);
    cr_expect_float_eq(soil.sand, 0.65, 1e-12);
    for (size_t i = 0; i < DAYS; i++) {
        sm[2][i] = NAN;
    }
    cr_expect_eq(uf_ground_soil_of(&soil, &r, 2, &err), UF_E_INPUT);
}

/* Every station on file: temperatures within 1 K at the inner sensors over every day, the
   deepest frost of the year, between the sensors in both, within 15 % or 10 cm, or at a
   lowest sensor that froze. Readings: US Climate Reference Network 2020. */
Test(ground, stations_are_met)
{
    const struct uf_season_options options = uf_season_defaults();
    for (const struct uf_ground_site *site = uf_ground_sites; site->key != NULL; site++) {
        struct uf_ground_record *record = NULL;
        struct uf_error err = {0};
        double measured_m = 0.0;
        double got_m = 0.0;
        cr_assert(uf_ground_read(&record, site->file, &err) == UF_OK, "%s", err.text);
        for (const struct uf_ground_part *part = uf_ground_parts; part->key != NULL; part++) {
            const struct uf_ground_setup setup = {.site = site, .part = part};
            struct uf_ground_outcome out;
            cr_assert(uf_ground_run(&out, record, &setup, &options, &err) == UF_OK, "%s", err.text);
            for (size_t s = 1; s + 1 < UF_GROUND_SENSORS; s++) {
                cr_expect(out.rmse_K[s] <= 1.0, "%s %s %g m: %g K", site->key, part->key,
                          uf_ground_depth_m[s], out.rmse_K[s]);
            }
            cr_expect(out.heat_balance_relative < 1e-4);
            if (out.measured_frost_m > measured_m) {
                measured_m = out.measured_frost_m;
                got_m = out.frost_m;
            }
        }
        if (measured_m >= 1.0) {
            cr_expect(got_m >= 1.0, "%s: %g m", site->key, got_m);
        } else {
            cr_expect_float_eq(got_m, measured_m, fmax(0.10, 0.15 * measured_m), "%s: %g m",
                               site->key, got_m);
        }
        uf_ground_record_free(record);
    }
}

Test(ground, a_part_that_is_not_on_file_is_refused)
{
    const struct uf_ground_part later = {
        .key = "later", .doc = "January 2030", .first = {2030, 1, 1}, .end = {2030, 2, 1}};
    struct uf_ground_record r = hand_made();
    const struct uf_ground_setup setup = {.site = uf_ground_sites, .part = &later};
    const struct uf_season_options options = uf_season_defaults();
    struct uf_ground_column *column = NULL;
    struct uf_error err = {0};
    cr_expect_eq(uf_ground_start(&column, &r, &setup, &options, &err), UF_E_INPUT);
    cr_expect(column == NULL);
    cr_expect(strstr(err.text, "January 2030") != NULL, "%s", err.text);
}

/* Winters under deep snow, SNOTEL 428, 14 less one without readings: frost within 10 cm
   of what the sensors show, between them in both. Under the snow the ground stands near 0
   degC, as measured; in 2010 the water sensor at 20 cm was dead (0.5 % from November to
   March), and dry ground keeps warm below. */
Test(ground, deep_snow_keeps_frost_out)
{
    const struct uf_season_options options = uf_season_defaults();
    struct uf_ground_snow out;
    struct uf_error err = {0};
    size_t judged = 0;
    cr_assert(uf_ground_snow_run(&out, &options, &err) == UF_OK, "%s", err.text);
    for (size_t i = 0; i < out.n; i++) {
        const struct uf_ground_winter *w = &out.winters[i];
        if (w->read_days >= UF_GROUND_SNOW_DAYS) {
            cr_expect_float_eq(w->frost_m, w->measured_frost_m, 0.10, "%d: %g m", w->year,
                               w->frost_m);
            cr_expect(w->year == 2010 || fabs(w->least_degC[2] - w->measured_least_degC[2]) < 1.2,
                      "%d: %g", w->year, w->least_degC[2]);
            judged++;
        }
    }
    cr_expect_eq(out.n, 13);
    cr_expect_eq(judged, 13);
    cr_expect(out.heat_balance_relative < 1e-4);
}

/* Every winter of every station whose ground thaws, bare: in bins of 200 degC day the
   depth stays within 30 % of the mean of Chisholm & Phang 1983 and Fair, Geyer & Okun (a
   band of plausibility, not a published tolerance), and rises with the index. */
Test(ground, depth_against_index_lies_among_the_published)
{
    const struct uf_season_options options = uf_season_defaults();
    struct uf_ground_index index;
    struct uf_error err = {0};
    double last_m = 0.0;
    cr_assert(uf_ground_index_run(&index, &options, &err) == UF_OK, "%s", err.text);
    cr_expect_gt(index.n, 500);
    for (double from = 0.0; from < 2400.0; from += 200.0) {
        const struct uf_ground_bin bin = uf_ground_index_bin(&index, from, from + 200.0);
        const double mean_m = 0.5 * (uf_published_depth_chisholm_phang_m(bin.index_degC_day) +
                                     uf_published_depth_fair_m(bin.index_degC_day));
        cr_assert(bin.n >= 5, "%g: %zu", from, bin.n);
        cr_expect_float_eq(bin.frost_m, mean_m, 0.30 * mean_m, "%g: %g m", from, bin.frost_m);
        cr_expect_gt(bin.frost_m, last_m);
        last_m = bin.frost_m;
    }
    cr_expect_eq(uf_ground_index_bin(&index, 9000.0, 9200.0).n, 0);
    uf_ground_index_free(&index);
}
