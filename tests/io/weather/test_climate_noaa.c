#include "solver/base/calendar.h"
#include "tests/climate_sample.h"

#include <math.h>

#define LONG_HEAD "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n"
#define WIDE_HEAD                                                                                  \
    "\"STATION\",\"DATE\",\"LATITUDE\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_"              \
    "ATTRIBUTES\"\n"

Test(climate_noaa, by_year_as_stored)
{
    /* Rochester, January 2014: means and snow depth read off the file */
    struct uf_weather *weather = sample_file("noaa_by_year.csv");
    double sum = 0.0;
    cr_expect_eq(weather->start_day, uf_calendar_day(2014, 1, 1));
    cr_assert_eq(weather->days, 31);
    cr_expect_float_eq(weather->air_degC[0], -19.6, 1e-9);
    for (size_t i = 0; i < 31; i++) {
        sum += weather->air_degC[i];
    }
    cr_expect_float_eq(sum, -411.55, 1e-6);
    cr_expect_float_eq(weather->snow_m[0], 0.15, 1e-12);
    cr_expect_float_eq(weather->snow_m[30], 0.41, 1e-12);
    uf_weather_free(weather);
}

Test(climate_noaa, by_year_with_stations)
{
    static const char *const texts[] = {
        LONG_HEAD "XX000000001,20030104,TMAX,-50,,,W,2400\nXX000000001,20030104,TMIN,-170,,,W,\n"
                  "XX000000002,20030104,TAVG,30,,,W,\n",
        "XX000000001,20030104,TMAX,-50,,,W,2400\nXX000000001,20030104,TMIN,-170,,,W,\n"
        "XX000000002,20030104,TAVG,30,,,W,\n",
    };
    for (size_t i = 0; i < 2; i++) {
        struct uf_weather *weather = NULL;
        struct uf_error err = {0};
        cr_expect(uf_climate_noaa_long.matches("a.csv", texts[i]));
        cr_assert_eq(sample_read(&weather, &uf_climate_noaa_long, texts[i], "XX000000001", &err),
                     UF_OK, "%s", err.text);
        cr_expect_float_eq(weather->air_degC[0], -11.0, 1e-12);
        cr_expect_str_eq(weather->station, "XX000000001");
        uf_weather_free(weather);
        cr_assert_eq(sample_read(&weather, &uf_climate_noaa_long, texts[i], "XX000000002", &err),
                     UF_OK);
        cr_expect_float_eq(weather->air_degC[0], 3.0, 1e-12);
        uf_weather_free(weather);
        sample_refused(&uf_climate_noaa_long, texts[i], "x:", "name one of them");
    }
}

Test(climate_noaa, by_station)
{
    struct uf_weather *weather = sample_file("noaa_by_station.csv");
    cr_expect_eq(weather->start_day, uf_calendar_day(2003, 1, 4));
    cr_assert_eq(weather->days, 5);
    cr_expect_float_eq(weather->air_degC[0], -11.0, 1e-12);
    cr_expect_float_eq(weather->air_degC[1], -12.0, 1e-12, "TMAX carries a quality flag");
    cr_expect_float_eq(weather->air_degC[2], -9.5, 1e-12, "the 6th is filled between neighbours");
    cr_expect_float_eq(weather->air_degC[3], -7.0, 1e-12);
    cr_expect(isnan(weather->air_degC[4]), "TMAX is missing");
    cr_expect_eq(weather->filled_days, 1);
    cr_expect_float_eq(weather->snow_m[1], 0.16, 1e-12);
    cr_expect_str_eq(weather->station, "XX000000001 INVENTED HILL, XX");
    cr_expect_float_eq(weather->latitude_deg, 44.25, 1e-12);
    cr_expect_float_eq(weather->longitude_deg, -90.5, 1e-12);
    cr_expect_float_eq(weather->elevation_m, 310.0, 1e-12);
    uf_weather_free(weather);
}

Test(climate_noaa, an_export_without_its_unit_is_refused)
{
    static const char export[] =
        "\"STATION\",\"NAME\",\"DATE\",\"SNWD\",\"TMAX\",\"TMIN\"\n"
        "\"XX000000001\",\"HILL, XX\",\"2003-01-04\",\"10\",\"32\",\"14\"\n";
    char text[512];
    struct uf_weather *weather = NULL;
    sample_refused(&uf_climate_noaa_wide, export, "x:1: ", "# units: degF");
    (void)snprintf(text, sizeof text, "# units: degF\n%s", export);
    cr_expect(uf_climate_noaa_wide.matches("a.csv", text));
    cr_assert_eq(sample_read(&weather, &uf_climate_noaa_wide, text, "", NULL), UF_OK);
    cr_expect_float_eq(weather->air_degC[0], -5.0, 1e-12); /* 0 and -10 degC */
    cr_expect_float_eq(weather->snow_m[0], 0.254, 1e-12);
    uf_weather_free(weather);
    (void)snprintf(text, sizeof text, "# units: degC\n%s", export);
    cr_assert_eq(sample_read(&weather, &uf_climate_noaa_wide, text, "", NULL), UF_OK);
    cr_expect_float_eq(weather->air_degC[0], 23.0, 1e-12);
    uf_weather_free(weather);
}

Test(climate_noaa, wrong_rows)
{
    sample_refused(&uf_climate_noaa_long, LONG_HEAD "XX000000001,2003014,TMAX,1,,,W,\n",
                   "x:2: date \"2003014\"", "20140101");
    sample_refused(&uf_climate_noaa_long, LONG_HEAD "XX000000001,20030230,TMAX,1,,,W,\n",
                   "x:2: ", "date");
    sample_refused(&uf_climate_noaa_long, LONG_HEAD "XX000000001,20030104,TMAX\n",
                   "x:2: ", "fields");
    sample_refused(&uf_climate_noaa_long, LONG_HEAD "XX000000001,20030104,TMAX,cold,,,W,\n",
                   "x:2: TMAX = \"cold\"", "number");
    sample_refused(&uf_climate_noaa_long, LONG_HEAD, "x: ", "no day");
    sample_refused(&uf_climate_noaa_wide, WIDE_HEAD "XX000000001,2003-01-04,44\n",
                   "x:2: ", "3 fields where the header has 7");
    sample_refused(&uf_climate_noaa_wide, WIDE_HEAD "XX000000001,2003-01-04,44,1 0,,5,\n",
                   "x:2: TMAX", "number");
    sample_refused(&uf_climate_noaa_wide, "# units: K\n" WIDE_HEAD, "x:1: units \"K\"", "degF");
    sample_refused(&uf_climate_noaa_wide, "STATION,TMAX\nXX,1\n", "x:1: ", "units");
    sample_refused(&uf_climate_noaa_wide, "# units: degC\nSTATION,TMAX\nXX,1\n", "x:2: ", "DATE");
}

Test(climate_noaa, other_files_are_not_taken_for_it)
{
    cr_expect_not(uf_climate_noaa_long.matches("a.csv", "date,tair_mean\n2001-01-01,3\n"));
    cr_expect_not(uf_climate_noaa_wide.matches("a.csv", "date,tair_mean\n2001-01-01,3\n"));
    cr_expect_not(uf_climate_noaa_long.matches("a.csv", ""));
}
