#include "cli/tell/winter_words.h"

#include <criterion/criterion.h>

#include <string.h>

/* Which winter drives a run, in words: the text of the run itself in SI, the same winter
   with its indexes in degF day in US units. */

static struct uf_winter_season season = {.asked_index_degC_day = 1000.0,
                                         .got_index_degC_day = 980.0,
                                         .recorded_index_degC_day = 900.0,
                                         .scale = 1.125,
                                         .recorded_year = 1978};

static struct uf_site_weather weather_of(enum uf_winter_kind kind)
{
    struct uf_site_weather w = {.source = UF_SOURCE_FILE, .season = &season};
    w.winter = (struct uf_winter_choice){.kind = kind, .return_years = 50.0};
    (void)strcpy(w.text, "the text of the run");
    return w;
}

static void expect(const struct uf_site_weather *w, const char *part)
{
    const char *text = UF_WINTER_WORDS(w, UF_UNITS_US);
    cr_expect_not_null(strstr(text, part), "\"%s\" is not in: %s", part, text);
    cr_expect_null(strstr(text, "degC"), "%s", text);
}

Test(winter_words, si_is_the_text_of_the_run)
{
    const struct uf_site_weather w = weather_of(UF_WINTER_RETURN);
    cr_expect_str_eq(UF_WINTER_WORDS(&w, UF_UNITS_SI), "the text of the run");
}

Test(winter_words, us_units_have_every_index_in_degF_day)
{
    struct uf_site_weather w = weather_of(UF_WINTER_RETURN);
    season.scale = 1.125;
    expect(&w, "1 in 50 winter, freezing index 1800 degF day: winter 1978/79 (1620 degF");
    expect(&w, "times 1.125");
    w = weather_of(UF_WINTER_THREE_IN_THIRTY);
    expect(&w, "mean of the three coldest in thirty, freezing index 1800 degF day");
    w = weather_of(UF_WINTER_RECORDED);
    season.scale = 1.0;
    expect(&w, "winter 1978/79 as recorded, freezing index 1620 degF day");
    w = weather_of(UF_WINTER_MEAN);
    season.scale = 0.0;
    expect(&w, "mean year, freezing index 1764 degF day (mean of the winters 1800");
}

Test(winter_words, a_cycle_tells_its_range)
{
    static const double days[] = {-10.0, 20.0};
    struct uf_site_weather w = {.source = UF_SOURCE_CYCLE};
    w.weather.year_days = 2;
    w.weather.year_air_degC = days;
    expect(&w, "between 14.0 degF and 68.0 degF");
}
