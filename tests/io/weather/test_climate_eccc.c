#include "solver/base/calendar.h"
#include "tests/climate_sample.h"

#include <math.h>

#define HEAD                                                                                       \
    "\"Station Name\",\"Latitude (y)\",\"Date/Time\",\"Mean Temp (\xB0"                            \
    "C)\",\"Mean Temp Flag\",\"Snow on Grnd (cm)\",\"Snow on Grnd Flag\"\n"

Test(climate_eccc, both_layouts)
{
    /* Montreal, as published: daily means and snow on the ground */
    struct uf_weather *weather = sample_file("eccc_old.csv");
    static const double january[] = {-22.1, -19.5, -13.2, -10.4};
    cr_expect_eq(weather->start_day, uf_calendar_day(2018, 1, 1));
    cr_assert_eq(weather->days, 4);
    for (size_t i = 0; i < 4; i++) {
        cr_expect_float_eq(weather->air_degC[i], january[i], 1e-12);
    }
    cr_expect_float_eq(weather->snow_m[3], 0.23, 1e-12);
    cr_expect_float_eq(weather->latitude_deg, 45.47, 1e-12);
    cr_expect_float_eq(weather->longitude_deg, -73.74, 1e-12);
    cr_expect_float_eq(weather->elevation_m, 32.1, 1e-12);
    cr_expect_str_eq(weather->station, "MONTREAL");
    uf_weather_free(weather);
    weather = sample_file("eccc_new.csv");
    cr_assert_eq(weather->days, 3);
    cr_expect_float_eq(weather->air_degC[2], -3.1, 1e-12);
    cr_expect_float_eq(weather->snow_m[0], 0.02, 1e-12);
    cr_expect_float_eq(weather->latitude_deg, 45.47, 1e-12);
    uf_weather_free(weather);
}

Test(climate_eccc, flags_empty_days_and_joined_years)
{
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    cr_assert_eq(sample_read(&weather, &uf_climate_eccc,
                             HEAD "Hill,45,2018-12-30,-5,E,,T\nHill,45,2018-12-31,-7,M,3,\n" HEAD
                                  "Hill,45,2019-01-01,-6.5,,4,\nHill,45,2019-01-02,,,,\n",
                             "", &err),
                 UF_OK, "%s", err.text);
    cr_assert_eq(weather->days, 3, "the empty day at the end is no day");
    cr_expect_float_eq(weather->air_degC[0], -5.0, 1e-12);
    cr_expect_float_eq(weather->snow_m[0], 0.0, 0.0, "a trace of snow");
    cr_expect(isnan(weather->air_degC[1]), "flagged as missing");
    cr_expect_float_eq(weather->air_degC[2], -6.5, 1e-12);
    cr_expect_str_eq(weather->note, "values left out by their flag: 1; temperatures "
                                    "flagged as estimated, kept: 1");
    uf_weather_free(weather);
}

Test(climate_eccc, a_day_whose_least_is_above_its_largest_is_left_out_and_counted)
{
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    cr_assert_eq(sample_read(&weather, &uf_climate_eccc,
                             "\"Date/Time\",\"Max Temp (\xB0"
                             "C)\",\"Min Temp (\xB0"
                             "C)\",\"Mean Temp (\xB0"
                             "C)\",\"Snow on Grnd (cm)\"\r\n2019-02-28,-2,-8,-5,3\r\n"
                             "2019-03-01,-8,-2,-5,4\r\n2019-03-02,-1,-7,,5\r\n",
                             "", &err),
                 UF_OK, "%s", err.text);
    cr_assert_eq(weather->days, 3);
    cr_expect_float_eq(weather->air_degC[0], -5.0, 1e-12);
    cr_expect(isnan(weather->air_degC[1]), "%g", weather->air_degC[1]);
    cr_expect_float_eq(weather->snow_m[1], 0.04, 1e-12, "its snow is as good as ever");
    cr_expect_float_eq(weather->air_degC[2], -4.0, 1e-12, "half the sum");
    cr_expect_str_eq(weather->note, "days with Min Temp above Max Temp, left out: 1");
    uf_weather_free(weather);
}

Test(climate_eccc, wrong_files)
{
    sample_refused(&uf_climate_eccc,
                   "\"Date/Heure\",\"Temp moy.(\xB0"
                   "C)\"\n",
                   "x:1: ", "English");
    sample_refused(&uf_climate_eccc, "\"Date/Time\",\"Year\",\"Rain\"\n", "x:1: ", "no Mean Temp");
    sample_refused(&uf_climate_eccc, HEAD "Hill,45,2018-12,-5,,,\n", "x:2: date \"2018-12\"",
                   "daily");
    sample_refused(&uf_climate_eccc, HEAD "Hill,45,2018-12-01,-5\n", "x:2: ", "4 fields");
    sample_refused(&uf_climate_eccc, HEAD "Hill,45,2018-12-01,\"-5,1\",,,\n", "x:2: Mean Temp",
                   "number");
    sample_refused(&uf_climate_eccc, HEAD "Hill,45,2018-12-01,-95,,,\n", "x:2: Mean Temp",
                   "impossible");
    sample_refused(&uf_climate_eccc, HEAD "Hill,45,2018-12-01,-5,,-3,\n", "x:2: Snow",
                   "impossible");
    sample_refused(&uf_climate_eccc, HEAD "Hill,45,2018-12-02,-5,,,\nHill,45,2018-12-01,-5,,,\n",
                   "x:3: ", "order");
    sample_refused(&uf_climate_eccc, HEAD, "x: ", "no day");
}

Test(climate_eccc, other_files_are_not_taken_for_it)
{
    cr_expect_not(uf_climate_eccc.matches("a.csv", "date,tair_mean\n2001-01-01,3\n"));
    cr_expect(uf_climate_eccc.matches("a.csv", HEAD));
}
