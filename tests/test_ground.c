#include "io/ground.h"
#include "solver/calendar.h"
#include "solver/exact.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

/* A record made by hand: five sensors, 30 days from 2020-10-01, water readings that stop.
 */
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

Test(ground, water_is_what_stood_before_the_frost)
{
    const struct uf_ground_part *late = &uf_ground_parts[0], *early = &uf_ground_parts[1];
    struct uf_ground_record r = hand_made();
    cr_assert(early->autumn && !late->autumn);
    cr_expect_float_eq(uf_ground_water_m3_m3(&r, 0, late), 0.20, 1e-12);
    /* Autumn: readings stop on day 320; the two days before stand below 0.3 degC. */
    for (size_t i = 306; i < 320; i++) {
        sm[1][i] = 0.30;
        ts[1][i] = i < 318 ? 2.0 : 0.1;
    }
    sm[1][318] = sm[1][319] = 0.10;
    sm[1][320] = NAN;
    cr_expect_float_eq(uf_ground_water_m3_m3(&r, 1, early), 0.30, 1e-12);
    /* Frozen on 1 January: the first readings after the thaw. */
    for (size_t i = 0; i < 90; i++) {
        sm[2][i] = NAN;
        ts[2][i] = -2.0;
    }
    sm[2][90] = 0.34;
    cr_expect_float_eq(uf_ground_water_m3_m3(&r, 2, late), (0.34 + 6.0 * 0.20) / 7.0,
                       1e-12);
    for (size_t i = 0; i < DAYS; i++) {
        sm[3][i] = NAN;
    }
    cr_expect(isnan(uf_ground_water_m3_m3(&r, 3, late)));
}

Test(ground, frost_between_sensors_is_a_straight_line)
{
    const double T[UF_GROUND_SENSORS] = {-4.0, -3.0, -1.0, 2.0, 4.0};
    const double all[UF_GROUND_SENSORS] = {-4.0, -3.0, -1.0, -0.5, -0.1};
    const double none[UF_GROUND_SENSORS] = {0.0, 1.0, 1.0, 2.0, 4.0};
    cr_expect_float_eq(uf_ground_frost_m(uf_ground_depth_m, T, UF_GROUND_SENSORS), 0.30,
                       1e-12);
    cr_expect_float_eq(uf_ground_frost_m(uf_ground_depth_m, all, UF_GROUND_SENSORS), 1.0,
                       1e-12);
    cr_expect_eq(uf_ground_frost_m(uf_ground_depth_m, none, UF_GROUND_SENSORS), 0.0);
}

/* The wave of a cosine year is that year; below, exp(-x) and a lag of x. */
Test(ground, profile_goes_on_as_a_damped_wave)
{
    double T[731];
    const double w = 2.0 * 3.14159265358979 / 365.2425;
    for (size_t i = 0; i < 731; i++) {
        T[i] = 8.0 - 10.0 * cos(w * ((double)i + 0.5 - 20.0));
    }
    const struct uf_ground_wave wave = uf_ground_wave(T, 731);
    cr_expect_float_eq(wave.mean_degC, 8.0, 0.02);
    cr_expect_float_eq(hypot(wave.a_K, wave.b_K), 10.0, 0.03);
    const struct uf_thermal soil = {.k_thawed_W_mK = 1.5, .c_thawed_J_m3K = 2.0e6};
    struct uf_initial profile = {.n_profile = 1, .depth_m = {1.0}};
    profile.degC[0] = 8.0 - 10.0 * cos(w * (100.0 - 20.0));
    uf_ground_extend(&profile, &wave, &soil, 100);
    const double damping_m = sqrt(1.5 / 2.0e6 * 365.2425 * 86400.0 / 3.14159265358979);
    for (size_t i = 1; i < profile.n_profile; i++) {
        const double x = (profile.depth_m[i] - 1.0) / damping_m;
        cr_expect_float_eq(profile.degC[i], 8.0 - 10.0 * exp(-x) * cos(w * 80.0 - x),
                           0.06, "%g m: %g", profile.depth_m[i], profile.degC[i]);
    }
    cr_expect_float_eq(profile.depth_m[profile.n_profile - 1], 15.0, 1e-12);
}

/* Every station on file: temperatures within 1 K at the inner sensors, the deepest frost
   of the year within 15 % or 10 cm, or past a lowest sensor that froze. Readings: US
   Climate Reference Network 2020. The water must fit the pores of the stated soil. */
Test(ground, stations_are_met)
{
    const struct uf_season_options options = uf_season_defaults();
    for (const struct uf_ground_site *site = uf_ground_sites; site->key != NULL; site++) {
        struct uf_ground_record *record = NULL;
        struct uf_error err = {0};
        double measured_m = 0.0;
        double got_m = 0.0;
        double line_m = 0.0;
        cr_assert(uf_ground_read(&record, site->file, &err) == UF_OK, "%s", err.text);
        for (const struct uf_ground_part *part = uf_ground_parts; part->key != NULL;
             part++) {
            const struct uf_ground_setup setup = {.site = site, .part = part};
            struct uf_ground_outcome out;
            cr_assert(uf_ground_run(&out, record, &setup, &options, &err) == UF_OK, "%s",
                      err.text);
            for (size_t s = 1; s + 1 < UF_GROUND_SENSORS; s++) {
                cr_expect(out.rmse_K[s] <= 1.0, "%s %s %g m: %g K", site->key, part->key,
                          uf_ground_depth_m[s], out.rmse_K[s]);
            }
            cr_expect(out.heat_balance_relative < 1e-4);
            if (out.measured_frost_m > measured_m) {
                measured_m = out.measured_frost_m;
                got_m = out.frost_line_m;
                line_m = out.frost_line_m;
            }
        }
        if (measured_m >= 1.0) {
            cr_expect(line_m > 1.0, "%s: %g m", site->key, line_m);
        } else {
            cr_expect_float_eq(got_m, measured_m, fmax(0.10, 0.15 * measured_m),
                               "%s: %g m", site->key, got_m);
        }
        uf_ground_record_free(record);
    }
}

Test(ground, a_part_that_is_not_on_file_is_refused)
{
    const struct uf_ground_part later = {.key = "later",
                                         .doc = "January 2030",
                                         .first = {2030, 1, 1},
                                         .end = {2030, 2, 1}};
    struct uf_ground_record r = hand_made();
    const struct uf_ground_setup setup = {.site = uf_ground_sites, .part = &later};
    struct uf_case design;
    struct uf_error err = {0};
    cr_expect_eq(uf_ground_case(&design, &r, &setup, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "January 2030") != NULL, "%s", err.text);
}

/* Fourteen winters under deep snow, SNOTEL 428: frost within 10 cm of what the sensors
   show. One winter has no readings. Under the snow the ground stands near 0 degC, as
   measured. */
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
            cr_expect_float_eq(w->frost_line_m, w->measured_frost_m, 0.10, "%d: %g m",
                               w->year, w->frost_line_m);
            cr_expect_float_eq(w->least_degC[2], w->measured_least_degC[2], 1.2, "%d: %g",
                               w->year, w->least_degC[2]);
            judged++;
        }
    }
    cr_expect_eq(out.n, 14);
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
        const double mean_m = 0.5 * (uf_exact_chisholm_phang_m(bin.index_degC_day) +
                                     uf_exact_fair_m(bin.index_degC_day));
        cr_assert(bin.n >= 5, "%g: %zu", from, bin.n);
        cr_expect_float_eq(bin.frost_m, mean_m, 0.30 * mean_m, "%g: %g m", from,
                           bin.frost_m);
        cr_expect_gt(bin.frost_m, last_m);
        last_m = bin.frost_m;
    }
    cr_expect_eq(uf_ground_index_bin(&index, 9000.0, 9200.0).n, 0);
    uf_ground_index_free(&index);
}
