#include "solver/base/calendar.h"
#include "solver/weather/winter.h"
#include "tests/climate_sample.h"

#include <math.h>
#include <stdlib.h>

#define TOP(latitude)                                                                              \
    "LOCATION,Hill,XX,None,TMY,0," latitude                                                        \
    ",-90,-6,300\nDATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\n"

/* A whole year, an hour a row: 10 degC below nought in the months told, 15 above otherwise. */
static char *year_text(const char *latitude, int cold_from, int cold_to)
{
    const size_t size = 600000;
    char *text = malloc(size);
    size_t used = (size_t)snprintf(text, size,
                                   "LOCATION,Hill,XX,None,TMY,0,%s,-90,-6,300\n"
                                   "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\n",
                                   latitude);
    for (long day = uf_calendar_day(2001, 1, 1); day <= uf_calendar_day(2001, 12, 31); day++) {
        const struct uf_date date = uf_calendar_date(day);
        for (int hour = 1; hour <= 24; hour++) {
            const bool cold = date.month >= cold_from && date.month <= cold_to;
            used +=
                (size_t)snprintf(text + used, size - used, "19%d,%d,%d,%d,0,?,%s,-7,50\n",
                                 70 + date.month, date.month, date.day, hour, cold ? "-10" : "15");
        }
    }
    return text;
}

Test(climate_epw, first_days_of_a_typical_year)
{
    /* daily means of the file's hours, computed apart */
    struct uf_weather *weather = sample_file("typical.epw");
    const long at = uf_calendar_day(2002, 1, 1) - weather->start_day;
    cr_expect_eq(weather->start_day, uf_calendar_day(2001, 8, 1));
    cr_assert_eq(weather->days, 365);
    cr_expect_float_eq(weather->air_degC[at], -3.33333333, 1e-6);
    cr_expect_float_eq(weather->air_degC[at + 1], -7.09166667, 1e-6);
    cr_expect_float_eq(weather->air_degC[at + 2], -1.175, 1e-9);
    cr_expect(isnan(weather->air_degC[at + 3]));
    cr_expect(weather->typical_year);
    cr_expect_null(weather->snow_m);
    cr_expect(strstr(weather->note, "snow depth is not read") != NULL, "%s", weather->note);
    cr_expect_float_eq(weather->latitude_deg, 42.27, 1e-9);
    cr_expect_float_eq(weather->longitude_deg, -71.88, 0.01);
    cr_expect(weather->elevation_m > 200.0 && weather->elevation_m < 400.0, "%g m",
              weather->elevation_m);
    uf_weather_free(weather);
}

Test(climate_epw, one_whole_winter_in_either_half_of_the_world)
{
    static const struct {
        const char *latitude;
        bool south;
        int from, to;
        double days;
    } rows[] = {{"45.5", false, 1, 2, 59.0}, {"-45.5", true, 6, 7, 61.0}};
    for (size_t i = 0; i < 2; i++) {
        struct uf_weather *weather = NULL;
        struct uf_winter_list *list = NULL;
        struct uf_error err = {0};
        char *text = year_text(rows[i].latitude, rows[i].from, rows[i].to);
        cr_assert_eq(sample_read(&weather, &uf_climate_epw, text, "", &err), UF_OK, "%s", err.text);
        cr_assert_eq(uf_winter_list_create(&list, weather, rows[i].south, NULL), UF_OK);
        cr_expect_eq(list->n, 1);
        cr_expect_eq(list->n_usable, 1);
        cr_expect_float_eq(list->mean_degC_day, 10.0 * rows[i].days, 1e-9);
        uf_winter_list_free(list);
        uf_weather_free(weather);
        free(text);
    }
}

Test(climate_epw, wrong_files)
{
    sample_refused(&uf_climate_epw, "LOCATION,Hill\n", "x:1: ", "latitude");
    sample_refused(&uf_climate_epw, "LOCATION,Hill,XX,None,TMY,0,north,-90\n", "x:1: ", "latitude");
    sample_refused(&uf_climate_epw, "LOCATION,Hill,XX,None,TMY,0,45,-90\nHOLIDAYS\n",
                   "x:3: ", "before DATA PERIODS");
    sample_refused(&uf_climate_epw, "LOCATION,Hill,XX,None,TMY,0,45,-90\nDATA PERIODS,2,1,Data\n",
                   "x:2: ", "DATA PERIODS,1");
    sample_refused(&uf_climate_epw, TOP("45") "1976,1,1,1\n", "x:3: ", "cut off");
    sample_refused(&uf_climate_epw, TOP("45") "1976,13,1,1,0,?,-1,0\n", "x:3: month 13", "no such");
    sample_refused(&uf_climate_epw, TOP("45") "1976,4,31,1,0,?,-1,0\n", "x:3: ", "no such");
    sample_refused(&uf_climate_epw, TOP("45") "1976,1,1,1,0,?,cold,0\n", "x:3: dry bulb \"cold\"",
                   "number");
    sample_refused(&uf_climate_epw, TOP("45") "1976,1,1,1,0,?,-95,0\n", "x:3: ", "outside");
    sample_refused(&uf_climate_epw, TOP("45") "1976,1,1,1,0,?,99.9,0\n", "x: ", "no day");
    sample_refused(&uf_climate_epw, "", "x:1: ", "LOCATION");
}

Test(climate_epw, a_second_year_is_refused)
{
    char *once = year_text("45", 1, 2), *row = strstr(once, "1971,1,1,1,");
    char *twice = malloc(2 * strlen(once) + 1);
    (void)snprintf(twice, 2 * strlen(once) + 1, "%s%s", once, row);
    sample_refused(&uf_climate_epw, twice, "x:8763: ", "25th hour");
    free(once);
    free(twice);
}
