#include "io/weather/climate.h"
#include "solver/base/calendar.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Reads a text as if it were the file "x.csv". */
static enum uf_status read_text(struct uf_weather **out, const char *text, size_t size,
                                const char *column, struct uf_error *err)
{
    FILE *file = tmpfile();
    cr_assert_not_null(file);
    cr_assert_eq(fwrite(text, 1, size, file), size);
    rewind(file);
    const struct uf_climate_request request = {file, "x.csv", column, false};
    const enum uf_status status = uf_climate_csv.read(out, &request, err);
    (void)fclose(file);
    return status;
}

static struct uf_weather *good(const char *text, const char *column)
{
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    cr_assert_eq(read_text(&weather, text, strlen(text), column, &err), UF_OK, "%s", err.text);
    return weather;
}

Test(climate_csv, mean_and_notes)
{
    struct uf_weather *weather =
        good("# A title\n# source: an office\n# licence: open\n"
             "# station: Hill 7, 49.9 N, 97.2 W\n# units: degC\n"
             "date,tair_mean,snow_cm\n2001-02-27,-3.5,12\n2001-03-02,1e1,\n\n",
             "");
    cr_expect_eq(weather->start_day, uf_calendar_day(2001, 2, 27));
    cr_expect_eq(weather->days, 4);
    cr_expect_float_eq(weather->air_degC[0], -3.5, 1e-12);
    cr_expect(isnan(weather->air_degC[1]) && isnan(weather->air_degC[2]));
    cr_expect_float_eq(weather->air_degC[3], 10.0, 1e-12);
    cr_expect_float_eq(weather->snow_m[0], 0.12, 1e-12);
    cr_expect(isnan(weather->snow_m[3]));
    cr_expect_str_eq(weather->source, "an office");
    cr_expect_str_eq(weather->licence, "open");
    cr_expect_str_eq(weather->station, "Hill 7, 49.9 N, 97.2 W");
    cr_expect_float_eq(weather->latitude_deg, 49.9, 1e-12);
    uf_weather_free(weather);
}

Test(climate_csv, mark_line_ends_quotes_and_half_sum)
{
    struct uf_weather *weather = good("\xEF\xBB\xBF\"date\" , tair_min,tair_max,snow_mm\r\n"
                                      "2001-02-27, \"-7\" ,2.5,40\r\n2001-02-28,,3,\r\n",
                                      "");
    cr_expect_float_eq(weather->air_degC[0], -2.25, 1e-12);
    cr_expect(isnan(weather->air_degC[1]), "half a sum is no mean");
    cr_expect_float_eq(weather->snow_m[0], 0.04, 1e-12);
    cr_expect(isnan(weather->latitude_deg));
    uf_weather_free(weather);
}

/* 14 degF is -10 degC and 50 degF is 10 degC; snow keeps the unit of its name. */
Test(climate_csv, degrees_fahrenheit_when_the_file_says_so)
{
    struct uf_weather *weather = good("# units: degF, inch\n# dates: month/day/year\n"
                                      "DATE,AVG_TEMP,snow_cm\n2/27/2001,14,10\n02/28/2001,50,\n",
                                      "AVG_TEMP");
    cr_expect_float_eq(weather->air_degC[0], -10.0, 1e-12);
    cr_expect_float_eq(weather->air_degC[1], 10.0, 1e-12);
    cr_expect_float_eq(weather->snow_m[0], 0.1, 1e-12);
    cr_expect(strstr(weather->station, "dates") == NULL, "a note is no title");
    uf_weather_free(weather);
}

/* 10 in are 0.254 m; the leap day of 2004 is a day like another. */
Test(climate_csv, snow_in_inches_and_a_leap_day)
{
    struct uf_weather *weather = good("date,tair_mean,snow_in\r2004-02-28,-1,10\r"
                                      "2004-02-29,-2,0.5\r2004-03-01,-3,0\r",
                                      "");
    cr_assert_eq(weather->days, 3);
    cr_expect_float_eq(weather->air_degC[1], -2.0, 1e-12);
    cr_expect_float_eq(weather->snow_m[0], 0.254, 1e-12);
    cr_expect_float_eq(weather->snow_m[1], 0.0127, 1e-12);
    uf_weather_free(weather);
}

Test(climate_csv, named_column_and_its_station)
{
    const char *text = "# station hill: Hill, 41 S\n# station dale: Dale, 12.5 N\n"
                       "date,hill,dale\n2001-07-01,-1,5\n";
    struct uf_weather *weather = good(text, "hill");
    cr_expect_float_eq(weather->air_degC[0], -1.0, 1e-12);
    cr_expect_str_eq(weather->station, "Hill, 41 S");
    cr_expect_float_eq(weather->latitude_deg, -41.0, 1e-12);
    cr_expect_null(weather->snow_m);
    uf_weather_free(weather);
    weather = good(text, "dale");
    cr_expect_float_eq(weather->air_degC[0], 5.0, 1e-12);
    uf_weather_free(weather);
}

Test(climate_csv, stated_orders_of_the_date)
{
    static const char *const texts[] = {
        "# dates: day/month/year\ndate,tair_mean\n3/12/2014,1\n04/12/2014,2\n",
        "# dates: day.month.year\ndate,tair_mean\n3.12.2014,1\n4.12.2014,2\n",
        "# dates: month/day/year\ndate,tair_mean\n12/3/2014,1\n12/4/2014,2\n",
        "# dates: year/month/day\ndate,tair_mean\n2014/12/03,1\n2014/12/04,2\n",
        "# dates: year-month-day\ndate,tair_mean\n2014-12-03,1\n2014-12-04,2\n",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        struct uf_weather *weather = good(texts[i], "");
        cr_expect_eq(weather->start_day, uf_calendar_day(2014, 12, 3), "%s", texts[i]);
        cr_expect_eq(weather->days, 2);
        uf_weather_free(weather);
    }
}

Test(climate_csv, wrong_input_names_file_line_and_remedy)
{
    static const struct {
        const char *text, *column, *begins, *tells;
    } rows[] = {
        {"date,tair_mean\n2001-01-01,1,4\n", "", "x.csv:2: ", "not 1,4"},
        {"date,tair_mean\n2001-01-01,\"1,4\"\n", "", "x.csv:2: tair_mean = \"1,4\"", "point"},
        {"date,tair_mean\n2001-01-01,cold\n", "", "x.csv:2: tair_mean = \"cold\"", "number"},
        {"date,tair_mean\n2001-01-01,nan\n", "", "x.csv:2: ", "empty"},
        {"date,tair_mean\n2001-01-01,inf\n", "", "x.csv:2: ", "number"},
        {"date,tair_mean\n2001-01-01,0x10\n", "", "x.csv:2: ", "number"},
        {"date,tair_mean\n2001-01-01,1e999\n", "", "x.csv:2: ", "number"},
        {"date,tair_mean\n2001-01-01,3 K\n", "", "x.csv:2: ", "number"},
        {"date,tair_mean\n2001-01-01,-9999\n", "", "x.csv:2: ", "outside -80 to 60 degC"},
        {"date,tair_mean\n2001-01-01,84\n", "", "x.csv:2: ", "degF"},
        {"date,tair_min,tair_max\n2001-01-01,5,-5\n", "", "x.csv:2: ", "above tair_max"},
        {"date,tair_mean,snow_cm\n2001-01-01,5,-1\n", "", "x.csv:2: ", "snow_cm = -1"},
        {"date,tair_mean,snow_m\n2001-01-01,5,35\n", "", "x.csv:2: ", "snow_mm, snow_cm, snow_m"},
        {"date,tair_mean\n2001-01-01\n", "", "x.csv:2: ", "1 fields"},
        {"date,tair_mean\n01/02/2001,3\n", "", "x.csv:2: date \"01/02/2001\"", "# dates:"},
        {"date,tair_mean\n2001-02-29,3\n", "", "x.csv:2: date", "expected a date"},
        {"# dates: day/month/year\ndate,tair_mean\n12/31/2001,3\n", "", "x.csv:3: ", "day/month"},
        {"# dates: day/month/year\ndate,tair_mean\n1/1/01,3\n", "", "x.csv:3: ", "date"},
        {"# dates: mm/dd/yy\ndate,tair_mean\n", "", "x.csv:1: dates \"mm/dd/yy\"", "day/month"},
        {"# units: K\ndate,tair_mean\n", "", "x.csv:1: units", "degC or degF"},
        {"# units: degF\ndate,tair_mean\n2001-07-01,141\n", "", "x.csv:3: ", "60 degC"},
        {"date,tair_mean\n2001-01-02,1\n2001-01-01,1\n", "", "x.csv:3: ", "goes back"},
        {"date,tair_mean\n2001-01-02,1\n2001-01-02,1\n", "", "x.csv:3: ", "comes twice"},
        {"date,tair_mean\n0201-01-02,1\n2001-01-02,1\n", "", "x.csv:3: ", "400 years"},
        {"date,hill,dale\n2001-01-02,1,2\n", "", "x.csv:1: ", "it has: hill, dale"},
        {"date,hill,dale\n2001-01-02,1,2\n", "Hill", "x.csv:1: ", "it has: hill, dale"},
        {"date,tair_min\n2001-01-02,1\n", "", "x.csv:1: ", "tair_max"},
        {"date,tair_mean,tair_mean\n2001-01-02,1,2\n", "", "x.csv:1: ", "twice"},
        {"date;tair_mean\n2001-01-02;1\n", "", "x.csv:1: ", "commas"},
        {"tair_mean,date\n1,2001-01-02\n", "", "x.csv:1: ", "first column"},
        {"# only notes\n", "", "x.csv:2: ", "before its header"},
        {"", "", "x.csv:1: ", "before its header"},
        {"date,tair_mean\n", "", "x.csv: ", "no day"},
        {"date,tair_mean\n2001-01-02,\n", "", "x.csv: ", "no day"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct uf_weather *weather = NULL;
        struct uf_error err = {0};
        cr_expect_eq(read_text(&weather, rows[i].text, strlen(rows[i].text), rows[i].column, &err),
                     UF_E_INPUT, "%s", rows[i].text);
        cr_expect_null(weather);
        cr_expect_eq(strncmp(err.text, rows[i].begins, strlen(rows[i].begins)), 0, "%s -> %s",
                     rows[i].text, err.text);
        cr_expect(strstr(err.text, rows[i].tells) != NULL, "%s -> %s", rows[i].text, err.text);
    }
}

Test(climate_csv, bytes_that_are_no_text)
{
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    static const char wide[] = "\xFF\xFE"
                               "d\0a\0t\0e\0";
    cr_expect_eq(read_text(&weather, wide, sizeof wide, "", &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "plain text") != NULL, "%s", err.text);
    char *longer = malloc(100000);
    memset(longer, 'x', 100000);
    cr_expect_eq(read_text(&weather, longer, 100000, "", &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "longer than") != NULL, "%s", err.text);
    free(longer);
    cr_expect_eq(read_text(&weather, "date,\x1b[31m,b\n", 14, "", &err), UF_E_INPUT);
    cr_expect_null(strchr(err.text, '\x1b'), "no control character reaches the terminal");
}

Test(climate_csv, many_columns_are_refused_not_overrun)
{
    char text[2000] = "date", row[8];
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    for (int i = 0; i < 70; i++) {
        (void)snprintf(row, sizeof row, ",c%d", i);
        strcat(text, row);
    }
    strcat(text, "\n");
    cr_expect_eq(read_text(&weather, text, strlen(text), "c3", &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "71 columns") != NULL, "%s", err.text);
}
