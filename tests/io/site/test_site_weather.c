#include "io/site/site_weather.h"
#include "solver/base/calendar.h"
#include "solver/base/constants.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A folder with a station of twelve winters, 2000 to 2012, one of them colder; its snow
   stands in a second column, and a sensor's record in a third. */
static char folder[64];

static double station_degC(long day)
{
    const struct uf_date date = uf_calendar_date(day);
    const double t = (double)(day - uf_calendar_day(date.year, 1, 20));
    return (date.year == 2007 ? 2.0 : 4.0) - 16.0 * cos(2.0 * UF_PI * t / 365.25);
}

static void make_folder(void)
{
    char path[128];
    char text[16];
    (void)snprintf(folder, sizeof folder, "/tmp/uf_weather_XXXXXX");
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/station.csv", folder);
    FILE *file = fopen(path, "w");
    cr_assert_not_null(file);
    (void)fputs("# units: degC\ndate,tair_mean,snow_cm,ts_005cm\n", file);
    for (long day = uf_calendar_day(2000, 7, 1); day < uf_calendar_day(2012, 9, 1); day++) {
        const double degC = station_degC(day);
        (void)uf_calendar_text(day, text, sizeof text);
        if (day >= uf_calendar_day(2010, 2, 10) && day < uf_calendar_day(2010, 2, 20)) {
            (void)fprintf(file, "%s,,,\n", text); /* ten days without a reading */
        } else {
            (void)fprintf(file, "%s,%.3f,%d,%.3f\n", text, degC, degC < 0.0 ? 20 : 0, 0.5 * degC);
        }
    }
    cr_assert_eq(fclose(file), 0);
}

static void drop_folder(void)
{
    char command[96];
    (void)snprintf(command, sizeof command, "rm -rf '%s'", folder);
    cr_expect_eq(system(command), 0);
}

TestSuite(site_weather, .init = make_folder, .fini = drop_folder);

static struct uf_site station_site(void)
{
    struct uf_site site = {.source = UF_SOURCE_FILE,
                           .winter = {.kind = UF_WINTER_RETURN, .return_years = 20.0}};
    uf_case_init(&site.design);
    site.design.latitude_deg = 50.0;
    (void)snprintf(site.path, sizeof site.path, "%s/site.yaml", folder);
    (void)snprintf(site.climate_file, sizeof site.climate_file, "station.csv");
    return site;
}

static struct uf_site_weather *good(const struct uf_site *site,
                                    const struct uf_winter_choice *winter)
{
    struct uf_site_weather *w = NULL;
    struct uf_error err = {0};
    cr_assert(uf_site_weather_create(&w, site, winter, &err) == UF_OK, "%s", err.text);
    return w;
}

static void expect_refused(const struct uf_site *site, const char *tells)
{
    struct uf_site_weather *w = NULL;
    struct uf_error err = {0};
    cr_expect_eq(uf_site_weather_create(&w, site, NULL, &err), UF_E_INPUT);
    cr_expect_null(w);
    cr_expect(strstr(err.text, tells) != NULL, "no %s in: %s", tells, err.text);
}

/* The largest drop of the cumulated degree-days of what the run is driven by. */
static double driven_index(const struct uf_site_weather *w)
{
    return uf_winter_index(w->weather.air_degC, w->weather.days);
}

Test(site_weather, a_design_winter_from_a_file_beside_the_site)
{
    const struct uf_site site = station_site();
    struct uf_site_weather *w = good(&site, NULL);
    cr_expect(w->record != NULL && w->winters != NULL && w->has_mean && w->season != NULL);
    cr_expect_eq(w->winters->n_usable, 11u, "2009/10 has a gap of ten days");
    const double asked = uf_winter_return_degC_day(w->winters, 20.0);
    cr_expect_float_eq(driven_index(w), asked, 0.2);
    cr_expect_float_eq(w->season->got_index_degC_day, driven_index(w), 0.2);
    cr_expect(strstr(w->text.text, "20") != NULL, "%s", w->text.text);
    /* The year before is the mean year from the very date of the first day on. */
    cr_assert_eq(w->weather.year_days, 365u);
    const struct uf_date first = uf_calendar_date(w->weather.start_day);
    const size_t slot =
        (size_t)(uf_calendar_day(2000, first.month, first.day) - uf_calendar_day(2000, 1, 1));
    cr_expect_eq(w->weather.year_air_degC[0], w->mean.air_degC[slot]);
    cr_expect_float_eq(w->weather.air_degC[0], w->weather.year_air_degC[0], 1e-9,
                       "the run begins in a normal autumn");
    double year_mean = 0.0;
    for (size_t i = 0; i < 365; i++) {
        year_mean += w->weather.year_air_degC[i] / 365.0;
    }
    cr_expect_float_eq(year_mean, w->mean.mean_air_degC, 0.05);
    cr_expect(w->weather.snow_m != NULL && w->weather.year_snow_m != NULL);
    /* From autumn to two months after midsummer. */
    cr_expect(w->weather.days > 365 && w->weather.days < 430, "%zu", w->weather.days);
    uf_site_weather_free(w);
    uf_site_weather_free(NULL);
}

Test(site_weather, another_winter_in_place_of_the_sites_own)
{
    const struct uf_site site = station_site();
    struct uf_site_weather *own = good(&site, NULL);
    struct uf_site_weather *mean = good(&site, &(struct uf_winter_choice){.kind = UF_WINTER_MEAN});
    struct uf_site_weather *recorded =
        good(&site, &(struct uf_winter_choice){.kind = UF_WINTER_RECORDED, .year = 2006});
    struct uf_site_weather *rarer =
        good(&site, &(struct uf_winter_choice){.kind = UF_WINTER_RETURN, .return_years = 50.0});
    cr_expect(driven_index(rarer) > driven_index(own) + 1.0);
    cr_expect(driven_index(own) > driven_index(mean) + 10.0);
    for (size_t i = 0; i < mean->weather.days && i < 365; i++) {
        cr_expect_float_eq(mean->weather.air_degC[i], mean->weather.year_air_degC[i], 0.2);
    }
    /* The recorded winter is the record: the coldest day of January 2007. */
    const long day = uf_calendar_day(2007, 1, 20);
    cr_expect_float_eq(recorded->weather.air_degC[day - recorded->weather.start_day],
                       station_degC(day), 1e-3);
    cr_expect(strstr(recorded->text.text, "2006/07") != NULL, "%s", recorded->text.text);
    uf_site_weather_free(own);
    uf_site_weather_free(mean);
    uf_site_weather_free(recorded);
    uf_site_weather_free(rarer);
}

Test(site_weather, a_run_as_recorded_between_two_dates)
{
    struct uf_site site = station_site();
    site.design.initial.date = uf_calendar_day(2004, 10, 2);
    site.design.initial.end = uf_calendar_day(2005, 6, 30);
    struct uf_site_weather *w = good(&site, NULL);
    cr_expect_null(w->season, "no design winter is made");
    cr_expect_eq(w->weather.start_day, site.design.initial.date);
    cr_expect_eq(w->weather.days, 271u);
    cr_expect_eq(w->weather.year_days, 365u, "below a profile the mean year goes on");
    for (size_t i = 0; i < w->weather.days; i++) {
        const double degC = station_degC(site.design.initial.date + (long)i);
        cr_expect_float_eq(w->weather.air_degC[i], degC, 1e-3);
        cr_expect_float_eq(w->weather.snow_m[i], degC < 0.0 ? 0.2 : 0.0, 1e-12);
    }
    cr_expect(strstr(w->text.text, "2004-10-02") != NULL, "%s", w->text.text);
    uf_site_weather_free(w);
}

/* Under a year there is no mean year; a record of one year that is cut in two by summer has one. */
Test(site_weather, a_year_needs_a_year)
{
    struct uf_weather record = {.start_day = uf_calendar_day(2004, 1, 1)};
    static double degC[366];
    struct uf_winter_mean_year year;
    record.air_degC = degC;
    for (record.days = 364; record.days < 367; record.days++) {
        for (size_t i = 0; i < record.days; i++) {
            degC[i] = i == 200 ? (double)NAN : station_degC(record.start_day + (long)i);
        }
        cr_expect_eq(uf_winter_mean_record(&year, &record), record.days > 364, "%zu", record.days);
    }
    cr_expect_float_eq(year.mean_air_degC, 4.0, 0.05);
    for (size_t i = 80; i < 150; i++) {
        degC[i] = NAN;
    }
    record.days = 366;
    cr_expect_not(uf_winter_mean_record(&year, &record), "70 days are missing");
}

/* Two months after the next midsummer that is at least half a year away; not past what is
   on file. */
Test(site_weather, the_end_where_none_is_given)
{
    struct uf_site site = station_site();
    site.design.initial.date = uf_calendar_day(2004, 10, 2);
    struct uf_site_weather *w = good(&site, NULL);
    cr_expect_eq(w->weather.start_day + (long)w->weather.days, uf_calendar_day(2005, 9, 19));
    uf_site_weather_free(w);
    site.design.latitude_deg = -45.0;
    site.design.initial.date = uf_calendar_day(2004, 4, 2);
    w = good(&site, NULL);
    cr_expect_eq(w->weather.start_day + (long)w->weather.days, uf_calendar_day(2005, 3, 22));
    uf_site_weather_free(w);
    site.design.latitude_deg = 50.0;
    site.design.initial.date = uf_calendar_day(2011, 10, 2);
    w = good(&site, NULL);
    cr_expect_eq(w->weather.start_day + (long)w->weather.days, uf_calendar_day(2012, 9, 1),
                 "the record ends before midsummer is past");
    uf_site_weather_free(w);
}

Test(site_weather, a_window_the_record_does_not_fill_is_refused)
{
    struct uf_site site = station_site();
    site.design.initial.date = uf_calendar_day(2000, 6, 30);
    site.design.initial.end = uf_calendar_day(2001, 6, 30);
    expect_refused(&site, "2000-07-01");
    site.design.initial.date = uf_calendar_day(2012, 1, 1);
    site.design.initial.end = uf_calendar_day(2012, 9, 2);
    expect_refused(&site, "does not cover");
    site.design.initial.date = uf_calendar_day(2014, 1, 1);
    site.design.initial.end = UF_NO_DAY;
    expect_refused(&site, "does not cover");
    site.design.initial.date = uf_calendar_day(2009, 10, 1);
    expect_refused(&site, "2010-02-10"); /* the first day of the gap */
    site.design.initial.end = uf_calendar_day(2010, 2, 10);
    uf_site_weather_free(good(&site, NULL)); /* up to the gap it can be done */
}

Test(site_weather, a_sensor_in_the_ground)
{
    struct uf_site site = station_site();
    site.source = UF_SOURCE_NONE;
    site.design.surface.kind = UF_SURFACE_MEASURED;
    (void)snprintf(site.measured_file, sizeof site.measured_file, "station.csv");
    (void)snprintf(site.measured_column, sizeof site.measured_column, "ts_005cm");
    expect_refused(&site, "initial.date");
    site.design.initial.date = uf_calendar_day(2003, 10, 1);
    site.design.initial.end = uf_calendar_day(2004, 5, 1);
    struct uf_site_weather *w = good(&site, NULL);
    cr_expect_eq(w->weather.days, 213u, "2004 has a 29 February");
    cr_expect_float_eq(w->weather.air_degC[100], 0.5 * station_degC(site.design.initial.date + 100),
                       1e-3);
    cr_expect_null(w->weather.snow_m);
    uf_site_weather_free(w);
    (void)snprintf(site.measured_column, sizeof site.measured_column, "ts_500cm");
    expect_refused(&site, "ts_500cm");
}

Test(site_weather, a_yearly_cycle)
{
    struct uf_site site = station_site();
    site.source = UF_SOURCE_CYCLE;
    site.cycle_mean_degC = 3.0;
    site.cycle_amplitude_K = 16.0;
    site.cycle_coldest_day = 20.0;
    site.cycle_period_day = 365.2425;
    struct uf_site_weather *w = good(&site, NULL);
    double coldest = 99.0;
    long coldest_day = 0;
    for (size_t i = 0; i < w->weather.days; i++) {
        const double noon = (double)(w->weather.start_day + (long)i) + 0.5;
        const double t = noon - (double)uf_calendar_day(2001, 1, 1) - 20.0;
        cr_expect_float_eq(w->weather.air_degC[i], 3.0 - 16.0 * cos(2.0 * UF_PI * t / 365.2425),
                           1e-9);
        if (w->weather.air_degC[i] < coldest) {
            coldest = w->weather.air_degC[i];
            coldest_day = w->weather.start_day + (long)i;
        }
    }
    cr_expect_float_eq(coldest, -13.0, 0.01);
    cr_expect(labs(coldest_day - uf_calendar_day(2002, 1, 21)) <= 1, "%ld", coldest_day);
    cr_expect_eq(w->weather.year_days, 365u);
    cr_expect_eq(w->weather.year_air_degC[7], w->weather.air_degC[7]);
    cr_expect_null(w->record);
    uf_site_weather_free(w);
    /* A window of its own; a cycle has no end on file. */
    site.design.initial.date = uf_calendar_day(2030, 10, 1);
    w = good(&site, NULL);
    cr_expect_eq(w->weather.start_day, site.design.initial.date);
    cr_expect_eq(w->weather.start_day + (long)w->weather.days, uf_calendar_day(2031, 9, 19));
    uf_site_weather_free(w);
}

Test(site_weather, no_weather_or_no_file_is_told)
{
    struct uf_site site = station_site();
    struct uf_site_weather *w = NULL;
    struct uf_error err = {0};
    char text[32];
    (void)snprintf(site.climate_file, sizeof site.climate_file, "not_there.csv");
    cr_expect_eq(uf_site_weather_create(&w, &site, NULL, &err), UF_E_FILE);
    cr_expect(strstr(err.text, "not_there.csv") != NULL && w == NULL, "%s", err.text);
    site.source = UF_SOURCE_NONE;
    expect_refused(&site, "climate.file");
    uf_site_weather_folder(text, sizeof text, &site);
    cr_expect_str_eq(text, folder);
    (void)snprintf(site.path, sizeof site.path, "site.yaml");
    uf_site_weather_folder(text, sizeof text, &site);
    cr_expect_str_eq(text, "");
}
