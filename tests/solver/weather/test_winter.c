#include "solver/base/calendar.h"
#include "solver/weather/winter.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

#define PI 3.14159265358979323846

/* CRREL Report 96-14 table 20: seasonal freezing indexes of the winters 1969/70 to 1989/90, C
   day */
static const double crrel[] = {1191, 1152, 1274, 839,  923, 968,  931, 1256, 1331, 1477, 903,
                               666,  1227, 589,  1179, 942, 1197, 467, 898,  1032, 750};
#define N_CRREL (sizeof crrel / sizeof crrel[0])

static struct uf_winter_list crrel_list(struct uf_winter *rows)
{
    struct uf_winter_list list = {.rows = rows, .n = N_CRREL};
    for (size_t i = 0; i < N_CRREL; i++) {
        rows[i] = (struct uf_winter){
            .year = 1969 + (int)i, .usable = true, .freezing_index_degC_day = crrel[i]};
    }
    return list;
}

/* A record of whole winters that never freezes nor changes. */
static struct uf_weather *even_record(int first_year, int years)
{
    struct uf_weather *weather = NULL;
    const long start = uf_calendar_day(first_year, 8, 1);
    const long end = uf_calendar_day(first_year + years, 8, 1);
    cr_assert_eq(uf_weather_create(&weather, start, (size_t)(end - start), false, NULL), UF_OK);
    for (size_t i = 0; i < weather->days; i++) {
        weather->air_degC[i] = 5.0;
    }
    return weather;
}

Test(winter, published_list_of_indexes)
{
    struct uf_winter rows[N_CRREL];
    struct uf_winter_list list = crrel_list(rows);
    uf_winter_list_statistics(&list);
    cr_expect_eq(list.n_usable, N_CRREL);
    /* the list's own mean and three coldest, computed by hand from the table */
    cr_expect_float_eq(list.mean_degC_day, 21192.0 / 21.0, 1e-9);
    cr_expect_float_eq(list.coldest_three_in_thirty_degC_day, 4082.0 / 3.0, 1e-9);
}

Test(winter, gumbel_by_moments_in_closed_form)
{
    struct uf_winter rows[N_CRREL];
    struct uf_winter_list list = crrel_list(rows);
    uf_winter_list_statistics(&list);
    /* the Gumbel law's own mean, location + 0.5772 scale, and sd, pi scale / sqrt 6 */
    cr_expect_float_eq(list.gumbel_location + 0.5772156649 * list.gumbel_scale, list.mean_degC_day,
                       1e-6);
    cr_expect_float_eq(PI * list.gumbel_scale / sqrt(6.0), list.sd_degC_day, 1e-9);
    /* F(x) = exp(-exp(-(x - location) / scale)) gives back 1 - 1/N */
    static const double years[] = {1.7, 10.0, 30.0, 50.0, 100.0};
    for (size_t i = 0; i < sizeof years / sizeof years[0]; i++) {
        const double x = uf_winter_return_degC_day(&list, years[i]);
        const double below = exp(-exp(-(x - list.gumbel_location) / list.gumbel_scale));
        cr_expect_float_eq(below, 1.0 - 1.0 / years[i], 1e-12, "1 in %g", years[i]);
    }
    /* frequency factor of 100 years, 3.1367: tabulated for the Gumbel law (Chow 1951) */
    cr_expect_float_eq((uf_winter_return_degC_day(&list, 100.0) - list.mean_degC_day) /
                           list.sd_degC_day,
                       3.1367, 1e-4);
    cr_expect(isnan(uf_winter_return_degC_day(&list, 1.0)));
    cr_expect(isnan(uf_winter_return_degC_day(&list, NAN)));
}

Test(winter, few_winters_have_no_statistics_and_only_the_latest_thirty_count)
{
    struct uf_winter rows[40];
    struct uf_winter_list list = {.rows = rows, .n = 40};
    for (int i = 0; i < 40; i++) {
        rows[i] = (struct uf_winter){
            .year = 1950 + i, .usable = true, .freezing_index_degC_day = 2000.0 - 10.0 * i};
    }
    rows[15].usable = false; /* so the latest thirty reach back to row 9 */
    uf_winter_list_statistics(&list);
    cr_expect_float_eq(list.coldest_three_in_thirty_degC_day, (1910.0 + 1900.0 + 1890.0) / 3, 1e-9);
    list.n = 9;
    uf_winter_list_statistics(&list);
    cr_expect_float_eq(list.mean_degC_day, 1960.0, 1e-9);
    cr_expect(isnan(list.coldest_three_in_thirty_degC_day));
    cr_expect(isnan(uf_winter_return_degC_day(&list, 30.0)));
    list.n = 0;
    uf_winter_list_statistics(&list);
    cr_expect(isnan(list.mean_degC_day) && isnan(list.sd_degC_day));
}

Test(winter, index_of_a_sine_is_its_integral)
{
    /* -3 - 11 cos: frost while cos > -3/11; index = 3 T + 2 (11 P / 2 pi) sin(pi T / P),
       T = (P / pi) acos(-3/11), by integration over the frost season */
    double air[730];
    const double period = 365.0;
    for (int i = 0; i < 730; i++) {
        air[i] = -3.0 - 11.0 * cos(2.0 * PI * (i - 182.0) / period);
    }
    const double season = period / PI * acos(-3.0 / 11.0);
    const double exact = 3.0 * season + 11.0 * period / PI * sin(PI * season / period);
    cr_expect_float_eq(uf_winter_index(air, 365), exact, 0.5);
    const struct uf_winter_drop drop = uf_winter_drop(air, 365);
    cr_expect_float_eq((double)(drop.to - drop.from), season, 1.5);
    cr_expect_float_eq(0.5 * (double)(drop.to + drop.from - 1), 182.0, 1.0);
}

Test(winter, index_takes_the_largest_drop_thaws_included)
{
    const double thaw[] = {5, 4, -10, -20, 6, -30, 8, 9, -3};
    const double mild[] = {5, 4, 3};
    const double thaw_wins[] = {-10, 30, -4, -5};
    cr_expect_float_eq(uf_winter_index(thaw, 9), 54.0, 1e-12); /* 10 + 20 - 6 + 30 */
    cr_expect_float_eq(uf_winter_index(mild, 3), 0.0, 0.0);
    cr_expect_float_eq(uf_winter_index(thaw_wins, 4), 10.0, 1e-12);
    cr_expect_float_eq(uf_winter_index(mild, 0), 0.0, 0.0);
}

Test(winter, winters_of_north_and_south_begin_half_a_year_apart)
{
    struct uf_weather *weather = even_record(1990, 3);
    struct uf_winter_list *list = NULL;
    weather->air_degC[400] = NAN;
    cr_assert_eq(uf_winter_list_create(&list, weather, false, NULL), UF_OK);
    cr_assert_eq(list->n, 3);
    cr_expect_eq(list->n_usable, 2);
    cr_expect_eq(list->rows[0].first_day, uf_calendar_day(1990, 8, 1));
    cr_expect_eq(list->rows[0].last_day, uf_calendar_day(1991, 7, 31));
    cr_expect_float_eq(list->rows[0].freezing_index_degC_day, 0.0, 0.0);
    cr_expect(list->rows[0].freeze_start > list->rows[0].freeze_end, "it never froze");
    cr_expect_not(list->rows[1].usable);
    cr_expect_eq(list->rows[1].missing_days, 1);
    cr_expect(isnan(list->rows[1].freezing_index_degC_day));
    uf_winter_list_free(list);
    cr_assert_eq(uf_winter_list_create(&list, weather, true, NULL), UF_OK);
    cr_expect_eq(list->n, 4, "the record touches four southern winters");
    cr_expect_eq(list->rows[1].first_day, uf_calendar_day(1991, 2, 1));
    cr_expect_eq(list->rows[1].last_day, uf_calendar_day(1992, 1, 31));
    cr_expect_not(list->rows[0].usable);
    cr_expect_eq(list->rows[0].missing_days, 181);
    uf_winter_list_free(list);
    uf_weather_free(weather);
}

Test(winter, an_empty_record_is_refused)
{
    struct uf_weather *weather = NULL;
    struct uf_winter_list *list = NULL;
    struct uf_error err;
    cr_assert_eq(uf_weather_create(&weather, 0, 0, false, NULL), UF_OK);
    cr_expect_eq(uf_winter_list_create(&list, weather, false, &err), UF_E_INPUT);
    cr_expect_null(list);
    uf_weather_free(weather);
    uf_winter_list_free(NULL);
}

Test(winter, labels)
{
    char text[16];
    cr_expect_str_eq(uf_winter_label(1978, false, text, sizeof text), "1978/79");
    cr_expect_str_eq(uf_winter_label(1999, false, text, sizeof text), "1999/00");
    cr_expect_str_eq(uf_winter_label(1978, true, text, sizeof text), "1978");
}

Test(winter, words_of_the_site_file)
{
    struct uf_winter_choice choice;
    cr_expect(uf_winter_parse("mean", &choice) && choice.kind == UF_WINTER_MEAN);
    cr_expect(uf_winter_parse("every", &choice) && choice.kind == UF_WINTER_EVERY);
    cr_expect(uf_winter_parse("coldest recorded", &choice) && choice.kind == UF_WINTER_COLDEST);
    cr_expect(uf_winter_parse("coldest three in thirty", &choice) &&
              choice.kind == UF_WINTER_THREE_IN_THIRTY);
    cr_expect(uf_winter_parse("1 in 100", &choice) && choice.kind == UF_WINTER_RETURN &&
              choice.return_years == 100.0);
    cr_expect(uf_winter_parse("1 in 2.5", &choice) && choice.return_years == 2.5);
    cr_expect(uf_winter_parse("1978/79", &choice) && choice.kind == UF_WINTER_RECORDED &&
              choice.year == 1978);
    cr_expect(uf_winter_parse("1999/00", &choice) && choice.year == 1999);
    cr_expect(uf_winter_parse("1978", &choice) && choice.kind == UF_WINTER_RECORDED &&
              choice.year == 1978);
    static const char *const wrong[] = {
        "",         "Mean",     "1 in",     "1 in 1",  "1 in 0",  "1 in -5", "1 in nan",
        "1 in 1e2", "1 in 1,4", "1 in 30 ", "2 in 30", "1978/80", "1978/7",  "1978/790",
        "78/79",    "1978-79",  "197879",   "1978/+9", "0000",    "coldest", "1 in 20000",
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        choice.kind = UF_WINTER_EVERY;
        cr_expect_not(uf_winter_parse(wrong[i], &choice), "%s", wrong[i]);
        cr_expect_eq(choice.kind, UF_WINTER_EVERY, "left alone");
    }
}
