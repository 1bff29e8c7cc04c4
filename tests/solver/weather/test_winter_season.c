#include "solver/base/calendar.h"
#include "solver/weather/winter.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

/* Twelve to forty winters, each colder or milder than the mean by its own factor, with a
   daily unrest of a fixed seed. */
static struct uf_weather *record(int winters, bool south)
{
    struct uf_weather *weather = NULL;
    const int month = south ? 2 : 8;
    const long start = uf_calendar_day(1961, month, 1);
    const long end = uf_calendar_day(1961 + winters, month, 1);
    const double coldest = south ? 202.0 : 20.0;
    unsigned seed = 12345;
    cr_assert_eq(uf_weather_create(&weather, start, (size_t)(end - start), true, NULL), UF_OK);
    for (size_t i = 0; i < weather->days; i++) {
        const struct uf_date date = uf_calendar_date(start + (long)i);
        const int winter = date.year - (date.month < month ? 1 : 0);
        const double of_year = (double)(start + (long)i - uf_calendar_day(date.year, 1, 1));
        const double wave = cos(2.0 * PI * (of_year - coldest) / 365.25);
        seed = seed * 1103515245U + 12345U;
        const double unrest = (double)(seed >> 16) / 65536.0 - 0.5;
        weather->air_degC[i] =
            4.0 - 14.0 * wave - ((winter * 7) % 11 - 5) * 0.6 * fmax(wave, 0.0) + 8.0 * unrest;
        weather->snow_m[i] = 0.3 * fmax(wave, 0.0);
    }
    return weather;
}

struct fixture {
    struct uf_weather *weather;
    struct uf_winter_list *list;
    struct uf_winter_mean_year year;
    struct uf_error err;
};

static struct fixture begin(int winters, bool south)
{
    struct fixture f = {.weather = record(winters, south)};
    cr_assert_eq(uf_winter_list_create(&f.list, f.weather, south, NULL), UF_OK);
    cr_assert_eq(uf_winter_mean_year(&f.year, f.weather, f.list, NULL), UF_OK);
    return f;
}

static void end(struct fixture *f)
{
    uf_winter_list_free(f->list);
    uf_weather_free(f->weather);
}

static struct uf_winter_season *season_of(struct fixture *f, const char *words)
{
    struct uf_winter_choice choice;
    struct uf_winter_season *season = NULL;
    cr_assert(uf_winter_parse(words, &choice));
    cr_assert_eq(uf_winter_season_create(&season, f->weather, f->list, &choice, &f->err), UF_OK,
                 "%s: %s", words, f->err.text);
    return season;
}

static double mean_year_of(const struct fixture *f, long day)
{
    const struct uf_date date = uf_calendar_date(day);
    return f->year
        .air_degC[uf_calendar_day(2000, date.month, date.day) - uf_calendar_day(2000, 1, 1)];
}

/* Index over the season, without its own last autumn. */
static double index_of(const struct uf_winter_season *season)
{
    return uf_winter_index(season->air_degC, season->days);
}

Test(winter_season, asked_index_is_met_within_a_tenth)
{
    static const char *const words[] = {"1 in 2", "1 in 10", "1 in 30", "1 in 100",
                                        "coldest three in thirty"};
    struct fixture f = begin(40, false);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        struct uf_winter_season *season = season_of(&f, words[i]);
        cr_expect_float_eq(season->got_index_degC_day, season->asked_index_degC_day, 0.1);
        cr_expect_float_eq(index_of(season), season->asked_index_degC_day, 0.1, "%s", words[i]);
        cr_expect(season->scale > 0.2 && season->scale < 2.0, "%s: %g", words[i], season->scale);
        cr_expect_str_eq(season->warning, "");
        uf_winter_season_free(season);
    }
    struct uf_winter_season *season = season_of(&f, "1 in 30");
    cr_expect_float_eq(season->asked_index_degC_day, uf_winter_return_degC_day(f.list, 30.0), 1e-9);
    uf_winter_season_free(season);
    end(&f);
}

Test(winter_season, outside_the_winter_it_is_the_mean_year_and_there_is_no_jump)
{
    struct fixture f = begin(40, false);
    struct uf_winter_season *season = season_of(&f, "1 in 100");
    size_t outside = 0;
    for (size_t i = 0; i < season->days; i++) {
        const long day = season->start_day + (long)i;
        cr_assert(isfinite(season->air_degC[i]) && season->snow_m[i] >= 0.0);
        if (day < season->winter_first - 7 || day > season->winter_last + 7) {
            cr_assert_float_eq(season->air_degC[i], mean_year_of(&f, day), 1e-12);
            outside++;
        }
    }
    cr_expect(outside > 90, "%zu days", outside);
    /* one day before the winter the departure still counts for seven eighths */
    const size_t at = (size_t)(season->winter_first - 1 - season->start_day);
    const long day = season->winter_first - 1;
    const double departure =
        f.weather->air_degC[uf_calendar_day(season->recorded_year, 8, 1) - f.weather->start_day +
                            (day - uf_calendar_day(season->recorded_year, 8, 1))] -
        mean_year_of(&f, day);
    cr_expect_float_eq(season->air_degC[at] - mean_year_of(&f, day),
                       season->scale * departure * 7.0 / 8.0, 1e-9);
    uf_winter_season_free(season);
    end(&f);
}

Test(winter_season, begins_30_days_after_the_warmest_day_and_ends_61_after_the_next)
{
    struct fixture f = begin(20, false);
    struct uf_winter_season *season = season_of(&f, "1965/66");
    const long warmest = uf_calendar_day(1965, 1, 1) + f.year.warmest_day; /* within a day */
    cr_expect(labs(season->start_day - warmest - 30) <= 1);
    cr_expect(labs(season->start_day + (long)season->days - 1 - warmest - 365 - 61) <= 2);
    uf_winter_season_free(season);
    end(&f);
}

Test(winter_season, a_recorded_winter_is_left_as_it_was)
{
    struct fixture f = begin(20, false);
    struct uf_winter_season *season = season_of(&f, "1965/66");
    cr_expect_eq(season->recorded_year, 1965);
    cr_expect_float_eq(season->scale, 1.0, 0.0);
    for (long day = season->winter_first; day <= season->winter_last; day++) {
        cr_assert_float_eq(season->air_degC[day - season->start_day],
                           f.weather->air_degC[day - f.weather->start_day], 1e-9);
        cr_assert_float_eq(season->snow_m[day - season->start_day],
                           f.weather->snow_m[day - f.weather->start_day], 1e-9);
    }
    cr_expect_float_eq(season->got_index_degC_day, season->recorded_index_degC_day,
                       0.01 * season->recorded_index_degC_day);
    uf_winter_season_free(season);
    season = season_of(&f, "coldest recorded");
    for (size_t i = 0; i < f.list->n; i++) {
        cr_expect(f.list->rows[i].freezing_index_degC_day <= season->recorded_index_degC_day);
    }
    cr_expect(strstr(season->warning, "only 20 winters") != NULL, "%s", season->warning);
    uf_winter_season_free(season);
    end(&f);
}

Test(winter_season, mean_is_the_mean_year_all_through)
{
    struct fixture f = begin(20, false);
    struct uf_winter_season *season = season_of(&f, "mean");
    for (size_t i = 0; i < season->days; i++) {
        cr_assert_float_eq(season->air_degC[i], mean_year_of(&f, season->start_day + (long)i),
                           1e-12);
    }
    cr_expect_float_eq(season->asked_index_degC_day, f.list->mean_degC_day, 1e-9);
    cr_expect_float_eq(season->got_index_degC_day, f.list->mean_degC_day,
                       0.1 * f.list->mean_degC_day);
    uf_winter_season_free(season);
    end(&f);
}

Test(winter_season, south_is_half_a_year_later)
{
    struct fixture f = begin(20, true);
    struct uf_winter_season *season = season_of(&f, "1965");
    cr_expect_eq(uf_calendar_date(season->start_day).year, 1965);
    cr_expect_eq(uf_calendar_date(season->start_day).month, 2);
    cr_expect(season->winter_first > uf_calendar_day(1965, 3, 1));
    cr_expect(season->winter_last < uf_calendar_day(1965, 12, 1));
    cr_expect(strstr(season->text.text, "1965") != NULL && strchr(season->text.text, '/') == NULL);
    uf_winter_season_free(season);
    end(&f);
}

Test(winter_season, a_hemisphere_that_does_not_fit_is_refused)
{
    struct uf_weather *weather = record(20, false);
    struct uf_winter_list *list = NULL;
    struct uf_winter_season *season = NULL;
    struct uf_error err = {0};
    const struct uf_winter_choice choice = {.kind = UF_WINTER_MEAN};
    cr_assert_eq(uf_winter_list_create(&list, weather, true, NULL), UF_OK);
    cr_expect_eq(uf_winter_season_create(&season, weather, list, &choice, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "latitude") != NULL);
    cr_expect_null(season);
    uf_winter_list_free(list);
    uf_weather_free(weather);
}

static void expect_refused(struct fixture *f, struct uf_winter_choice choice, const char *word)
{
    struct uf_winter_season *season = NULL;
    cr_expect_eq(uf_winter_season_create(&season, f->weather, f->list, &choice, &f->err),
                 UF_E_INPUT);
    cr_expect_null(season);
    cr_expect(strstr(f->err.text, word) != NULL, "%s", f->err.text);
}

Test(winter_season, what_a_record_cannot_serve)
{
    struct fixture f = begin(9, false);
    const struct uf_winter_choice in_30 = {.kind = UF_WINTER_RETURN, .return_years = 30.0};
    const struct uf_winter_choice three = {.kind = UF_WINTER_THREE_IN_THIRTY};
    const struct uf_winter_choice coldest = {.kind = UF_WINTER_COLDEST};
    const struct uf_winter_choice none = {.kind = UF_WINTER_RECORDED, .year = 1931};
    const struct uf_winter_choice gap = {.kind = UF_WINTER_RECORDED, .year = 1963};
    expect_refused(&f, in_30, "9 usable winters are too few");
    expect_refused(&f, three, "winter: mean");
    expect_refused(&f, none, "runs from 1961/62 to 1969/70");
    expect_refused(&f, (struct uf_winter_choice){.kind = UF_WINTER_EVERY}, "in turn");
    uf_winter_season_free(season_of(&f, "coldest recorded"));
    uf_winter_season_free(season_of(&f, "mean"));
    f.weather->typical_year = true;
    expect_refused(&f, in_30, "typical year");
    expect_refused(&f, coldest, "typical year");
    uf_winter_season_free(season_of(&f, "1962/63"));
    f.weather->typical_year = false;
    f.list->rows[2].usable = false;
    f.list->rows[2].missing_days = 21;
    expect_refused(&f, gap, "lacks 21 days");
    end(&f);
}

Test(winter_season, warns_beyond_three_times_the_record_and_of_missing_snow)
{
    struct fixture f = begin(20, false);
    struct uf_winter_season *season = season_of(&f, "1 in 60");
    cr_expect_str_eq(season->warning, "");
    uf_winter_season_free(season);
    season = season_of(&f, "1 in 61");
    cr_expect(strstr(season->warning, "20 winters on file") != NULL, "%s", season->warning);
    uf_winter_season_free(season);
    const long january = uf_calendar_day(1966, 1, 1) - f.weather->start_day;
    for (long i = 0; i < 10; i++) {
        f.weather->snow_m[january + i] = NAN;
    }
    season = season_of(&f, "1965/66");
    cr_expect(strstr(season->warning, "missing on 10 days") != NULL, "%s", season->warning);
    cr_expect_float_eq(season->snow_m[uf_calendar_day(1966, 1, 5) - season->start_day], 0.0, 0.0);
    uf_winter_season_free(season);
    end(&f);
}
