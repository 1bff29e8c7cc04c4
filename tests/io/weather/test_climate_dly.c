#include "solver/base/calendar.h"
#include "tests/climate_sample.h"

#include <math.h>

Test(climate_dly, sample)
{
    /* TMAX of January 1926 as recorded; TMIN and snow are made up, as a sample of the format */
    struct uf_weather *weather = sample_file("sample.dly");
    const size_t day_21 = 2;
    cr_expect_eq(weather->start_day, uf_calendar_day(1926, 1, 19));
    cr_expect_eq(weather->start_day + (long)weather->days - 1, uf_calendar_day(1926, 2, 28));
    cr_expect(isnan(weather->air_degC[0]), "only TMIN on the 19th");
    cr_expect_float_eq(weather->air_degC[day_21], 0.5 * (23.9 + 3.9), 1e-9);
    cr_expect_float_eq(weather->air_degC[day_21 + 2], 0.5 * (5.0 - 5.0), 1e-9);
    cr_expect_float_eq(weather->air_degC[day_21 + 1], 0.5 * (13.9 + 0.0), 1e-9,
                       "the 22nd is flagged, so filled between its neighbours");
    cr_expect_float_eq(weather->air_degC[day_21 + 11], 10.0, 1e-9, "1 February");
    cr_expect_float_eq(weather->snow_m[day_21], 0.051, 1e-12);
    cr_expect_str_eq(weather->station, "USC00011084");
    cr_expect(strstr(weather->note, "quality flag: 1") != NULL, "%s", weather->note);
    uf_weather_free(weather);
}

/* March before February, the latter of a leap year and with something in the columns of
   its 30th, which is no day; lines end as on Windows; the 29th carries the value of its
   date. */
Test(climate_dly, months_in_any_order_leap_days_and_windows_line_ends)
{
    static const int months[] = {3, 2};
    char text[1024];
    size_t used = 0;
    for (size_t m = 0; m < 2; m++) {
        used +=
            (size_t)snprintf(text + used, sizeof text - used, "USC000110842004%02dTAVG", months[m]);
        for (int day = 1; day <= 31; day++) {
            used +=
                (size_t)snprintf(text + used, sizeof text - used, "%5d  W", -100 * months[m] - day);
        }
        used += (size_t)snprintf(text + used, sizeof text - used, "\r\n");
    }
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    cr_assert_eq(sample_read(&weather, &uf_climate_dly, text, "", &err), UF_OK, "%s", err.text);
    cr_expect_eq(weather->start_day, uf_calendar_day(2004, 2, 1));
    cr_assert_eq(weather->days, 29 + 31);
    cr_expect_float_eq(weather->air_degC[28], -22.9, 1e-9, "29 February");
    cr_expect_float_eq(weather->air_degC[29], -30.1, 1e-9, "1 March");
    cr_expect_float_eq(weather->air_degC[59], -33.1, 1e-9, "31 March");
    uf_weather_free(weather);
}

Test(climate_dly, told_by_ending_or_by_content)
{
    static const char row[] = "USC00011084192601TMAX-9999   -9999   \n";
    cr_expect(uf_climate_dly.matches("a.dly", ""));
    cr_expect(uf_climate_dly.matches("a.txt", row));
    cr_expect_not(uf_climate_dly.matches("a.csv", "date,tair_mean\n2001-01-01,3\n"));
    cr_expect_not(uf_climate_dly.matches("a.csv", "USW00014922,20140101,TMAX,-171,,,W,2400\n"));
}

Test(climate_dly, wrong_lines)
{
    sample_refused(&uf_climate_dly, "USC00011084192601TMAX", "x:1: ", "fixed columns");
    sample_refused(&uf_climate_dly, "USC00011084192613TMAX  239  6\n", "x:1: ", "192613");
    sample_refused(&uf_climate_dly, "USC00011084192601TMAX  2x9  6\n",
                   "x:1: day 1: columns 22 to 26", "no number");
    sample_refused(&uf_climate_dly, "USC00011084192601TMAX     \n", "x:1: day 1", "no number");
    sample_refused(&uf_climate_dly,
                   "USC00011084192601TAVG  239  6\nUSC00011085192601TAVG  239  6\n",
                   "x:2: ", "second station");
    sample_refused(&uf_climate_dly, "USC00011084192601PRCP  239  6\n", "x: ", "no day");
    sample_refused(&uf_climate_dly, "", "x: ", "no day");
}
