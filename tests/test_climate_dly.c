#include "climate_sample.h"
#include "solver/calendar.h"

#include <math.h>

Test(climate_dly, sample)
{
    /* TMAX of January 1926 as recorded; TMIN and snow are made up, as a sample of the
     * format */
    struct uf_weather *weather = sample_file("sample.dly");
    const size_t day_21 = 2;
    cr_expect_eq(weather->start_day, uf_calendar_day(1926, 1, 19));
    cr_expect_eq(weather->start_day + (long)weather->days - 1,
                 uf_calendar_day(1926, 2, 28));
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

Test(climate_dly, told_by_ending_or_by_content)
{
    static const char row[] = "USC00011084192601TMAX-9999   -9999   \n";
    cr_expect(uf_climate_dly.matches("a.dly", ""));
    cr_expect(uf_climate_dly.matches("a.txt", row));
    cr_expect_not(uf_climate_dly.matches("a.csv", "date,tair_mean\n2001-01-01,3\n"));
    cr_expect_not(
        uf_climate_dly.matches("a.csv", "USW00014922,20140101,TMAX,-171,,,W,2400\n"));
}

Test(climate_dly, wrong_lines)
{
    sample_refused(&uf_climate_dly, "USC00011084192601TMAX", "x:1: ", "fixed columns");
    sample_refused(&uf_climate_dly, "USC00011084192613TMAX  239  6\n", "x:1: ", "192613");
    sample_refused(&uf_climate_dly, "USC00011084192601TMAX  2x9  6\n",
                   "x:1: day 1: columns 22 to 26", "no number");
    sample_refused(&uf_climate_dly, "USC00011084192601TMAX     \n", "x:1: day 1",
                   "no number");
    sample_refused(&uf_climate_dly,
                   "USC00011084192601TAVG  239  6\nUSC00011085192601TAVG  239  6\n",
                   "x:2: ", "second station");
    sample_refused(&uf_climate_dly, "USC00011084192601PRCP  239  6\n", "x: ", "no day");
    sample_refused(&uf_climate_dly, "", "x: ", "no day");
}
