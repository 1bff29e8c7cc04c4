#include "io/weather/climate.h"
#include "solver/base/calendar.h"
#include "solver/weather/winter.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct uf_winter_list *winters_of(const char *file, const char *column, double *mean_degC)
{
    struct uf_weather *weather = NULL;
    struct uf_winter_list *list = NULL;
    struct uf_winter_mean_year year;
    struct uf_error err = {0};
    cr_assert_eq(uf_climate_read(&weather, file, column, NULL, &err), UF_OK, "%s", err.text);
    cr_assert_eq(uf_winter_list_create(&list, weather, false, &err), UF_OK);
    cr_assert_eq(uf_winter_mean_year(&year, weather, list, &err), UF_OK);
    *mean_degC = year.mean_air_degC;
    uf_weather_free(weather);
    return list;
}

/* AHCCD homogenised monthly means, winters 1949/50 to 2010/11, index from monthly means:
   Winnipeg 1700, Calgary 854; such an index lies about 3 % (Winnipeg), 6 % (Calgary) and
   11 % (Toronto) under the daily one (note in the data set). Yearly means 3.3 and 4.7
   degC, 1981-2010. */
Test(climate, canadian_stations_have_the_freezing_index_of_the_homogenised_series)
{
    static const struct {
        const char *column;
        double monthly_degC_day, monthly_short_by, maat_degC;
    } stations[] = {{"winnipeg", 1700.0, 0.03, 3.3}, {"calgary", 854.0, 0.06, 4.7}};
    for (size_t i = 0; i < sizeof stations / sizeof stations[0]; i++) {
        double maat = 0.0, sum = 0.0;
        size_t n = 0;
        struct uf_winter_list *list = winters_of("winnipeg.csv", stations[i].column, &maat);
        for (size_t w = 0; w < list->n; w++) {
            const struct uf_winter *row = &list->rows[w];
            if (row->usable && row->year >= 1949 && row->year <= 2010) {
                sum += row->freezing_index_degC_day;
                n++;
            }
        }
        const double expected = stations[i].monthly_degC_day / (1.0 - stations[i].monthly_short_by);
        cr_expect(n > 55, "%zu winters", n);
        cr_expect_float_eq(sum / (double)n, expected, 0.06 * expected, "%s: %g", stations[i].column,
                           sum / (double)n);
        cr_expect_float_eq(maat, stations[i].maat_degC, 0.8, "%s: %g", stations[i].column, maat);
        uf_winter_list_free(list);
    }
}

/* Mean index, number of usable winters and filled days of every shipped long record,
   computed once apart from this program by a short script from the same files. */
Test(climate, shipped_records)
{
    static const struct {
        const char *file, *column;
        size_t usable, filled;
        double mean_degC_day, coldest_degC_day;
        int coldest_year;
    } rows[] = {
        {"winnipeg.csv", "winnipeg", 77, 109, 1751.0, 2556.7, 1978},
        {"winnipeg.csv", "calgary", 78, 183, 937.0, 1775.0, 1955},
        {"winnipeg.csv", "toronto", 79, 74, 505.0, 827.1, 1977},
        {"madison.csv", "", 150, 0, 699.0, 1377.8, 1884},
        {"fort_collins.csv", "", 99, 0, 250.0, 550.25, 1948},
        {"valdez.csv", "", 75, 288, 662.0, 1349.3, 1917},
        {"toolik.csv", "", 30, 0, 3990.0, 4724.7, 2011},
        {"cssl.csv", "", 12, 0, 207.0, 301.42, 2016},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct uf_weather *weather = NULL;
        struct uf_winter_list *list = NULL;
        struct uf_error err = {0};
        cr_assert_eq(uf_climate_read(&weather, rows[i].file, rows[i].column, NULL, &err), UF_OK,
                     "%s", err.text);
        cr_assert_eq(uf_winter_list_create(&list, weather, false, &err), UF_OK);
        cr_expect_eq(list->n_usable, rows[i].usable, "%s %s: %zu", rows[i].file, rows[i].column,
                     list->n_usable);
        cr_expect_eq(weather->filled_days, rows[i].filled);
        cr_expect_float_eq(list->mean_degC_day, rows[i].mean_degC_day, 0.6, "%s %s: %g",
                           rows[i].file, rows[i].column, list->mean_degC_day);
        const struct uf_winter *coldest = NULL;
        for (size_t w = 0; w < list->n; w++) {
            if (list->rows[w].usable && (coldest == NULL || list->rows[w].freezing_index_degC_day >
                                                                coldest->freezing_index_degC_day)) {
                coldest = &list->rows[w];
            }
        }
        cr_expect_eq(coldest->year, rows[i].coldest_year, "%s %d", rows[i].file, coldest->year);
        cr_expect_float_eq(coldest->freezing_index_degC_day, rows[i].coldest_degC_day, 0.01);
        cr_expect(strlen(weather->source) > 10 && strlen(weather->licence) > 4);
        cr_expect(weather->latitude_deg > 35.0 && weather->latitude_deg < 70.0);
        uf_winter_list_free(list);
        uf_weather_free(weather);
    }
}

Test(climate, every_shipped_record_serves_every_design_winter)
{
    static const char *const files[][2] = {
        {"winnipeg.csv", "winnipeg"}, {"winnipeg.csv", "toronto"}, {"madison.csv", ""},
        {"fort_collins.csv", ""},     {"valdez.csv", ""},          {"cssl.csv", ""}};
    static const char *const words[] = {
        "mean", "1 in 2", "1 in 30", "1 in 100", "coldest three in thirty", "coldest recorded"};
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        struct uf_weather *weather = NULL;
        struct uf_winter_list *list = NULL;
        struct uf_error err = {0};
        cr_assert_eq(uf_climate_read(&weather, files[i][0], files[i][1], "", &err), UF_OK);
        cr_assert_eq(uf_winter_list_create(&list, weather, false, &err), UF_OK);
        for (size_t k = 0; k < sizeof words / sizeof words[0]; k++) {
            struct uf_winter_choice choice;
            struct uf_winter_season *season = NULL;
            cr_assert(uf_winter_parse(words[k], &choice));
            cr_assert_eq(uf_winter_season_create(&season, weather, list, &choice, &err), UF_OK,
                         "%s %s: %s", files[i][0], words[k], err.text);
            if (choice.kind != UF_WINTER_MEAN) {
                cr_expect_float_eq(
                    season->got_index_degC_day, season->asked_index_degC_day,
                    choice.kind == UF_WINTER_COLDEST ? 0.02 * season->asked_index_degC_day : 0.1);
            }
            cr_expect(season->scale <= 2.0, "%s %s: %s", files[i][0], words[k], season->text.text);
            uf_winter_season_free(season);
        }
        uf_winter_list_free(list);
        uf_weather_free(weather);
    }
}

Test(climate, smoothing_keeps_the_index_of_the_mean_year)
{
    /* first three harmonics against daily means before smoothing, computed apart by a script */
    static const struct {
        const char *file, *column;
        double raw_degC_day, maat_degC;
    } rows[] = {
        {"winnipeg.csv", "winnipeg", 1708.0, 2.91}, {"winnipeg.csv", "calgary", 867.0, 4.02},
        {"winnipeg.csv", "toronto", 460.0, 7.86},   {"madison.csv", "", 646.0, 7.58},
        {"fort_collins.csv", "", 159.0, 8.95},      {"valdez.csv", "", 630.0, 2.96},
        {"toolik.csv", "", 3957.0, -8.33},          {"cssl.csv", "", 138.0, 6.03}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct uf_weather *weather = NULL;
        struct uf_winter_list *list = NULL;
        struct uf_winter_mean_year year;
        cr_assert_eq(uf_climate_read(&weather, rows[i].file, rows[i].column, NULL, NULL), UF_OK);
        cr_assert_eq(uf_winter_list_create(&list, weather, false, NULL), UF_OK);
        cr_assert_eq(uf_winter_mean_year(&year, weather, list, NULL), UF_OK);
        double twice[732];
        for (int s = 0; s < 732; s++) {
            twice[s] = year.air_degC[s % 366];
        }
        const double index = uf_winter_index(twice + 213, 366);
        cr_expect_float_eq(index, rows[i].raw_degC_day, fmax(23.0, 0.03 * rows[i].raw_degC_day),
                           "%s: %g", rows[i].file, index);
        cr_expect_float_eq(year.mean_air_degC, rows[i].maat_degC, 0.006);
        uf_winter_list_free(list);
        uf_weather_free(weather);
    }
}

Test(climate, a_sensor_column_is_a_series)
{
    struct uf_weather *series = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_climate_read_series(&series, "uscrn_wolf_point.csv", "ts_005cm", NULL, &err),
                 UF_OK, "%s", err.text);
    cr_expect_eq(series->start_day, uf_calendar_day(2020, 1, 1));
    cr_expect_eq(series->days, 366);
    cr_expect_float_eq(series->air_degC[0], -2.4, 1e-12);
    cr_expect_null(series->snow_m);
    uf_weather_free(series);
    cr_expect_eq(uf_climate_read_series(&series, "uscrn_wolf_point.csv", "ts_7cm", NULL, &err),
                 UF_E_INPUT);
    cr_expect(strstr(err.text, "ts_005cm, ts_010cm") != NULL, "%s", err.text);
    cr_expect_eq(uf_climate_read_series(&series, "uscrn_wolf_point.csv", "", NULL, &err),
                 UF_E_INPUT);
    cr_expect_null(series);
}

/* `climate.file: /etc/shadow`: whatever the file's name, no line of what is no weather file is told. */
Test(climate, no_line_of_what_is_no_weather_is_shown)
{
    static const char *const endings[] = {"", ".csv", ".dly", ".epw"};
    static const char *const texts[] = {"root:$6$OPENSESAME:19000:0:99999:7:::\n",
                                        "\n\nOPENSESAME,OPENSESAME\n", "LOCATION,OPENSESAME\n1,2\n",
                                        "OPENSESAME\tOPENSESAME\nOPENSESAME\n"};
    for (size_t i = 0; i < 16; i++) {
        char path[60];
        struct uf_weather *weather = NULL;
        struct uf_error err = {0};
        (void)snprintf(path, sizeof path, "/tmp/uf_secret_%ld%s", (long)getpid(), endings[i % 4]);
        FILE *file = fopen(path, "w");
        cr_assert(file != NULL && fputs(texts[i / 4], file) >= 0 && fclose(file) == 0);
        cr_expect_neq(uf_climate_read(&weather, path, "", NULL, &err), UF_OK);
        cr_expect(err.text[0] != '\0' && strstr(err.text, "OPENSESAME") == NULL, "%s", err.text);
        cr_expect_neq(uf_climate_read_series(&weather, path, "a", NULL, &err), UF_OK);
        cr_expect(strstr(err.text, "OPENSESAME") == NULL, "%s", err.text);
        (void)unlink(path);
    }
}

Test(climate, paths)
{
    char found[UF_CLIMATE_PATH_SIZE];
    struct uf_error err = {0};
    cr_assert_eq(uf_climate_find(found, sizeof found, "madison.csv", "/tmp", &err), UF_OK);
    cr_expect_str_eq(found, UF_SOURCE_DIR "/climates/madison.csv");
    cr_assert_eq(
        uf_climate_find(found, sizeof found, "toolik.csv", UF_SOURCE_DIR "/climates", &err), UF_OK);
    cr_assert_eq(uf_climate_find(found, sizeof found, "climates/toolik.csv", UF_SOURCE_DIR, &err),
                 UF_OK);
    cr_expect_eq(uf_climate_find(found, sizeof found, "elsewhere/toolik.csv", "/tmp", &err),
                 UF_E_FILE);
    cr_expect_eq(uf_climate_find(found, sizeof found, "nowhere.csv", "/tmp", &err), UF_E_FILE);
    cr_expect(strstr(err.text, UF_SOURCE_DIR "/climates") != NULL, "%s", err.text);
    cr_expect_eq(uf_climate_find(found, sizeof found, "", "/tmp", &err), UF_E_FILE);
    cr_assert_eq(setenv("UNDERFROST_CLIMATES", "/tmp", 1), 0);
    cr_expect_eq(uf_climate_find(found, sizeof found, "madison.csv", "/", &err), UF_E_FILE);
    cr_expect(strstr(err.text, "/tmp") != NULL);
    struct uf_weather *weather = NULL;
    cr_expect_eq(uf_climate_read(&weather, UF_SOURCE_DIR, NULL, NULL, &err), UF_E_FILE);
    cr_expect(strstr(err.text, "is a folder") != NULL, "%s", err.text);
    cr_expect_null(weather);
}
