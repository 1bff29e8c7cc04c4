#include "io/weather/climate.h"
#include "solver/weather/winter.h"

#include <cjson/cJSON.h>
#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* What the program prints; *code is its exit code. Free the text. */
static char *output_of(const char *arguments, int *code)
{
    char command[2048];
    char *text = calloc(1, 1 << 20);
    (void)snprintf(command, sizeof command, "'%s' %s", UF_PROGRAM, arguments);
    FILE *pipe = popen(command, "r");
    cr_assert(pipe != NULL && text != NULL);
    text[fread(text, 1, (1 << 20) - 1, pipe)] = '\0';
    const int status = pclose(pipe);
    *code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return text;
}

static double number(const cJSON *object, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    cr_assert_not_null(item, "%s", key);
    return cJSON_IsNumber(item) ? item->valuedouble : (double)NAN;
}

Test(cmd_climate, json_holds_what_the_library_computes)
{
    int code = -1;
    struct uf_weather *weather = NULL;
    struct uf_winter_list *list = NULL;
    char *text = output_of("climate --json --column winnipeg winnipeg.csv", &code);
    cJSON *answer = cJSON_Parse(text);
    cr_assert_eq(code, 0);
    cr_assert_not_null(answer);
    cr_assert_eq(uf_climate_read(&weather, "winnipeg.csv", "winnipeg", NULL, NULL), UF_OK);
    cr_assert_eq(uf_winter_list_create(&list, weather, false, NULL), UF_OK);
    cr_expect_float_eq(number(answer, "mean_degC_day"), list->mean_degC_day, 1e-6);
    cr_expect_float_eq(number(answer, "coldest_three_in_thirty_degC_day"),
                       list->coldest_three_in_thirty_degC_day, 1e-6);
    cr_expect_float_eq(number(answer, "filled_days"), (double)weather->filled_days, 0.0);
    cr_expect_float_eq(number(answer, "missing_days"), (double)weather->missing_days, 0.0);
    const cJSON *winters = cJSON_GetObjectItem(answer, "winters"), *row = NULL;
    cr_assert_eq((size_t)cJSON_GetArraySize(winters), list->n);
    row = cJSON_GetArrayItem(winters, 0);
    cr_expect(isnan(number(row, "freezing_index_degC_day")), "1939/40 is not whole");
    cr_expect_str_eq(cJSON_GetObjectItem(row, "why_unusable")->valuestring,
                     "153 days without air temperature");
    row = cJSON_GetArrayItem(winters, 39);
    cr_expect_str_eq(cJSON_GetObjectItem(row, "winter")->valuestring, "1978/79");
    cr_expect_float_eq(number(row, "freezing_index_degC_day"), 2556.7, 0.01);
    cJSON_ArrayForEach(row, cJSON_GetObjectItem(answer, "return_periods"))
    {
        cr_expect_float_eq(number(row, "freezing_index_degC_day"),
                           uf_winter_return_degC_day(list, number(row, "years")), 1e-6);
    }
    const cJSON *year = cJSON_GetObjectItem(answer, "mean_year");
    cr_expect_eq(cJSON_GetArraySize(cJSON_GetObjectItem(year, "daily_air_degC")), 366);
    cr_expect_eq(cJSON_GetArraySize(cJSON_GetObjectItem(year, "months")), 12);
    cJSON_Delete(answer);
    free(text);
    uf_winter_list_free(list);
    uf_weather_free(weather);
}

Test(cmd_climate, text_fits_80_columns_in_both_units)
{
    static const char *const asked[][2] = {
        {"climate madison.csv", "degC day"},
        {"climate --units us valdez.csv", "degF day"},
        {"climate sodankyla.csv", "No return period"},
        {"climate --column calgary winnipeg.csv", "2010/11"},
    };
    for (size_t i = 0; i < sizeof asked / sizeof asked[0]; i++) {
        int code = -1;
        char *text = output_of(asked[i][0], &code);
        cr_expect_eq(code, 0, "%s", asked[i][0]);
        cr_expect(strstr(text, asked[i][1]) != NULL, "%s", asked[i][0]);
        for (const char *line = text; *line != '\0'; line += strspn(line, "\n")) {
            const size_t width = strcspn(line, "\n");
            cr_expect(width <= 80, "%.*s", (int)width, line);
            line += width;
        }
        free(text);
    }
}

Test(cmd_climate, mean_index_in_us_units_is_nine_fifths)
{
    int code = -1;
    /* Madison: mean of 150 winters, 1.8 times the value in degC day */
    char *text = output_of("climate --units us madison.csv", &code);
    cr_expect(strstr(text, "1258 degF day") != NULL);
    free(text);
    text = output_of("climate madison.csv", &code);
    cr_expect(strstr(text, "699 degC day") != NULL);
    free(text);
}

Test(cmd_climate, wrong_use)
{
    static const struct {
        const char *arguments;
        int code;
        const char *tells;
    } rows[] = {
        {"climate winnipeg.csv 2>&1", 2, "it has: winnipeg, calgary, toronto"},
        {"climate --column oslo winnipeg.csv 2>&1", 2, "winnipeg.csv:9: has no column \"oslo\""},
        {"climate nowhere.csv 2>&1", 3, "no such weather file"},
        {"climate / 2>&1", 3, "folder"},
        {"climate --json --column oslo winnipeg.csv", 2, "\"line\":\t9"},
        {"climate 2>&1", 2, "FILE"},
        {"climate --south madison.csv 2>&1", 2, "else leave it out"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        int code = -1;
        char *text = output_of(rows[i].arguments, &code);
        cr_expect_eq(code, rows[i].code, "%s: %d", rows[i].arguments, code);
        cr_expect(strstr(text, rows[i].tells) != NULL, "%s: %s", rows[i].arguments, text);
        free(text);
    }
}

Test(cmd_climate, draws_every_shipped_station)
{
    static const struct {
        const char *arguments;
        bool winters; /* some winter is whole */
    } rows[] = {
        {"madison.csv", true},    {"winnipeg.csv --column toronto", true},
        {"valdez.csv", true},     {"toolik.csv", true},
        {"cssl.csv", true},       {"fort_collins.csv", true},
        {"sodankyla.csv", false}, {"uscrn_pierre.csv", false},
    };
    char folder[] = "/tmp/uf_climate_XXXXXX", arguments[300], path[100];
    cr_assert_not_null(mkdtemp(folder));
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        int code = -1;
        (void)snprintf(arguments, sizeof arguments,
                       "climate %s -o %s --units us --terminal svg --json", rows[i].arguments,
                       folder);
        char *text = output_of(arguments, &code);
        cr_expect_eq(code, 0, "%s", rows[i].arguments);
        cr_expect_not_null(strstr(text, "weather.svg"), "%s", rows[i].arguments);
        cr_expect_eq(strstr(text, "winters.svg") != NULL, rows[i].winters, "%s", rows[i].arguments);
        free(text);
        (void)snprintf(path, sizeof path, "%s/weather.svg", folder);
        FILE *file = fopen(path, "r");
        char start[1 << 12] = "";
        cr_assert_not_null(file);
        start[fread(start, 1, sizeof start - 1, file)] = '\0';
        (void)fclose(file);
        cr_expect_not_null(strstr(start, "<svg"));
        cr_expect_eq(remove(path), 0);
        (void)snprintf(path, sizeof path, "%s/winters.svg", folder);
        cr_expect_eq(remove(path) == 0, rows[i].winters);
    }
    (void)rmdir(folder);
}

Test(cmd_climate, pictures_that_cannot_be)
{
    int code = -1;
    char *text = output_of("climate madison.csv --terminal png 2>&1", &code);
    cr_expect_eq(code, 2);
    cr_expect_not_null(strstr(text, "name a folder with -o"), "%s", text);
    free(text);
    text = output_of("climate madison.csv --terminal gif -o x 2>&1", &code);
    cr_expect_eq(code, 2);
    cr_expect_not_null(strstr(text, "stand still"), "%s", text);
    free(text);
    text = output_of("climate madison.csv --terminal text", &code);
    cr_expect_eq(code, 0);
    cr_expect_not_null(strstr(text, "three coldest of the latest thirty"));
    free(text);
}
