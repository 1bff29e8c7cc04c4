#include "io/weather/climate_ghcn.h"
#include "solver/base/calendar.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static struct uf_climate_text text = {.name = "x", .line = 7};

static void put(struct uf_climate_ghcn *ghcn, long day, const char *element, double value,
                char quality)
{
    struct uf_error err = {0};
    cr_assert_eq(uf_climate_ghcn_put(ghcn, day, element, value, quality, &text, &err), UF_OK, "%s",
                 err.text);
}

Test(climate_ghcn, units_flags_and_half_sums)
{
    struct uf_climate_ghcn ghcn = {.units = &uf_climate_ghcn_tenths, .asked = ""};
    struct uf_weather *weather = NULL;
    put(&ghcn, 100, "TMAX", -50, ' ');
    put(&ghcn, 100, "TMIN", -170, ' ');
    put(&ghcn, 100, "TAVG", -102, ' ');
    put(&ghcn, 100, "SNWD", 150, ' ');
    put(&ghcn, 100, "PRCP", 99999, ' ');
    put(&ghcn, 101, "TMAX", 389, 'G'); /* flagged: not read */
    put(&ghcn, 101, "TMIN", -190, ' ');
    put(&ghcn, 101, "TAVG", -120, ' ');
    put(&ghcn, 102, "TMAX", -9999, ' ');
    put(&ghcn, 102, "TMIN", -1500, ' '); /* -150 degC */
    put(&ghcn, 103, "TMAX", -30, ' ');
    put(&ghcn, 103, "TMIN", -10, ' '); /* crossed */
    put(&ghcn, 98, "TAVG", 20, ' ');   /* earlier than the first day met */
    cr_assert_eq(uf_climate_ghcn_finish(&weather, &ghcn, &text, NULL), UF_OK);
    cr_expect_eq(weather->start_day, 98);
    cr_expect_eq(weather->days, 6);
    cr_expect_float_eq(weather->air_degC[0], 2.0, 1e-12);
    cr_expect(isnan(weather->air_degC[1]));
    cr_expect_float_eq(weather->air_degC[2], -11.0, 1e-12, "half of -5 and -17, not TAVG");
    cr_expect_float_eq(weather->air_degC[3], -12.0, 1e-12, "TAVG, for TMAX is flagged");
    cr_expect(isnan(weather->air_degC[4]) && isnan(weather->air_degC[5]));
    cr_expect_float_eq(weather->snow_m[2], 0.15, 1e-12);
    cr_expect(strstr(weather->note, "quality flag: 1") != NULL, "%s", weather->note);
    cr_expect(strstr(weather->note, "impossible values left out: 1") != NULL);
    cr_expect(strstr(weather->note, "TMIN above TMAX, left out: 1") != NULL);
    cr_expect(strstr(weather->note, "TMIN or TMAX: 2") != NULL);
    uf_weather_free(weather);
    uf_climate_days_clear(&ghcn.days);
}

Test(climate_ghcn, degF_and_inches)
{
    struct uf_climate_ghcn ghcn = {.units = &uf_climate_ghcn_us, .asked = ""};
    struct uf_weather *weather = NULL;
    put(&ghcn, 0, "TMAX", 32, ' ');
    put(&ghcn, 0, "TMIN", -40, ' '); /* -40 on both scales */
    put(&ghcn, 0, "SNWD", 10, ' ');
    cr_assert_eq(uf_climate_ghcn_finish(&weather, &ghcn, &text, NULL), UF_OK);
    cr_expect_float_eq(weather->air_degC[0], -20.0, 1e-12);
    cr_expect_float_eq(weather->snow_m[0], 0.254, 1e-12);
    uf_weather_free(weather);
    uf_climate_days_clear(&ghcn.days);
}

Test(climate_ghcn, one_station_and_one_value_a_day)
{
    struct uf_climate_ghcn ghcn = {.units = &uf_climate_ghcn_tenths, .asked = ""};
    struct uf_error err = {0};
    bool wanted = false;
    cr_expect_eq(uf_climate_ghcn_wants(&wanted, &ghcn, "XX000000001", &text, &err), UF_OK);
    cr_expect(wanted);
    cr_expect_eq(uf_climate_ghcn_wants(&wanted, &ghcn, "XX000000002", &text, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "XX000000002, after XX000000001") != NULL, "%s", err.text);
    ghcn.asked = "XX000000002";
    ghcn.station[0] = '\0';
    cr_expect_eq(uf_climate_ghcn_wants(&wanted, &ghcn, "XX000000001", &text, &err), UF_OK);
    cr_expect_not(wanted);
    put(&ghcn, 5, "TMAX", 10, ' ');
    put(&ghcn, 5, "TMAX", 10, ' '); /* the same again does no harm */
    cr_expect_eq(uf_climate_ghcn_put(&ghcn, 5, "TMAX", 11, ' ', &text, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "x:7: a second value of TMAX") != NULL, "%s", err.text);
    uf_climate_days_clear(&ghcn.days);
}

Test(climate_ghcn, nothing_of_ours_is_an_error)
{
    struct uf_climate_ghcn ghcn = {.units = &uf_climate_ghcn_tenths, .asked = ""};
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    put(&ghcn, 5, "SNWD", 10, ' ');
    cr_expect_eq(uf_climate_ghcn_finish(&weather, &ghcn, &text, &err), UF_E_INPUT);
    cr_expect_null(weather);
    uf_climate_days_clear(&ghcn.days);
}
