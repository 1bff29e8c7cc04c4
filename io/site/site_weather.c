#include "site_weather.h"

#include "io/weather/climate.h"
#include "site_leaves.h"
#include "solver/base/calendar.h"
#include "solver/base/constants.h"
#include "solver/weather/surface.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { AUTUMN_DAYS = 30, AFTER_SUMMER_DAYS = 61, YEAR_DAYS = UF_WINTER_YEAR_DAYS };

/* Midsummer where no record tells it: the warmest time of a mid-latitude year. */
static const struct uf_date NORTH_MIDSUMMER = {2000, 7, 20}, SOUTH_MIDSUMMER = {2000, 1, 20};

void uf_site_weather_folder(char *folder, size_t size, const struct uf_site *site)
{
    const char *slash = strrchr(site->path, '/');
    const size_t length = slash == NULL ? 0 : (size_t)(slash - site->path);
    (void)snprintf(folder, size, "%.*s", (int)(length < size ? length : size - 1), site->path);
}

static bool is_south(const struct uf_site *site)
{
    return site->design.latitude_deg < 0.0;
}

/* The run's last day plus one: as given, or two months after the next midsummer. */
static long end_day(const struct uf_site *site, long from_day)
{
    const struct uf_date summer = is_south(site) ? SOUTH_MIDSUMMER : NORTH_MIDSUMMER;
    if (site->design.initial.end != UF_NO_DAY) {
        return site->design.initial.end;
    }
    int year = uf_calendar_date(from_day).year;
    long end = uf_calendar_day(year, summer.month, summer.day) + AFTER_SUMMER_DAYS;
    while (end < from_day + YEAR_DAYS / 2) {
        end = uf_calendar_day(++year, summer.month, summer.day) + AFTER_SUMMER_DAYS;
    }
    return end;
}

static enum uf_status attach_year(struct uf_site_weather *w, struct uf_error *err)
{
    w->block = calloc((size_t)2 * YEAR_DAYS, sizeof *w->block);
    if (w->block == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the weather");
    }
    uf_winter_mean_days(&w->mean, w->weather.start_day, w->block, w->block + YEAR_DAYS);
    w->weather.year_days = YEAR_DAYS;
    w->weather.year_air_degC = w->block;
    w->weather.year_snow_m = w->record->snow_m == NULL ? NULL : w->block + YEAR_DAYS;
    return UF_OK;
}

/* The record itself between two days, every one of which must be there; and the mean of its
   years, where it holds one. */
static enum uf_status take_recorded(struct uf_site_weather *w, const struct uf_site *site,
                                    const char *file, struct uf_error *err)
{
    const long from = site->design.initial.date;
    const long last = w->record->start_day + (long)w->record->days;
    long to = end_day(site, from);
    char first_text[16], last_text[16];
    if (site->design.initial.end == UF_NO_DAY && to > last) {
        to = last;
    }
    if (from < w->record->start_day || to > last || to <= from) {
        return uf_fail(err, UF_E_INPUT,
                       "%s does not cover initial.date to initial.end: it goes from %s to %s", file,
                       uf_calendar_text(w->record->start_day, first_text, sizeof first_text),
                       uf_calendar_text(last - 1, last_text, sizeof last_text));
    }
    const size_t offset = (size_t)(from - w->record->start_day);
    w->weather.start_day = from;
    w->weather.days = (size_t)(to - from);
    w->weather.air_degC = w->record->air_degC + offset;
    w->weather.snow_m = w->record->snow_m == NULL ? NULL : w->record->snow_m + offset;
    for (size_t i = 0; i < w->weather.days; i++) {
        if (!isfinite(w->weather.air_degC[i])) {
            return uf_fail(err, UF_E_INPUT, "%s has no temperature on %s, within the run", file,
                           uf_calendar_text(from + (long)i, first_text, sizeof first_text));
        }
    }
    if (uf_winter_mean_record(&w->mean, w->record)) {
        const enum uf_status status = attach_year(w, err);
        if (status != UF_OK) {
            return status;
        }
    }
    uf_message_set(&w->text,
                   UF_SAID("the record itself, from {} on",
                           UF_WORD(uf_calendar_text(from, first_text, sizeof first_text))));
    return UF_OK;
}

static enum uf_status take_winter(struct uf_site_weather *w, const struct uf_winter_choice *choice,
                                  struct uf_error *err)
{
    enum uf_status status = uf_winter_season_create(&w->season, w->record, w->winters, choice, err);
    if (status != UF_OK) {
        return status;
    }
    w->winter = *choice;
    w->weather.start_day = w->season->start_day;
    w->weather.days = w->season->days;
    w->weather.air_degC = w->season->air_degC;
    w->weather.snow_m = w->record->snow_m == NULL ? NULL : w->season->snow_m;
    w->text = w->season->text;
    (void)snprintf(w->note, sizeof w->note, "%s", w->season->warning);
    return attach_year(w, err);
}

static enum uf_status from_file(struct uf_site_weather *w, const struct uf_site *site,
                                const struct uf_winter_choice *winter, struct uf_error *err)
{
    char folder[UF_CLIMATE_PATH_SIZE];
    uf_site_weather_folder(folder, sizeof folder, site);
    enum uf_status status =
        uf_climate_read(&w->record, site->climate_file, site->climate_column, folder, err);
    if (status == UF_E_FILE || status == UF_E_INPUT) {
        uf_site_leaves_blame(err, site->path, site->text, "climate.file", site->climate_file);
    }
    if (status == UF_OK) {
        status = uf_winter_list_create(&w->winters, w->record, is_south(site), err);
    }
    if (status != UF_OK) {
        return status;
    }
    if (site->design.initial.date != UF_NO_DAY) {
        return take_recorded(w, site, site->climate_file, err);
    }
    status = uf_winter_mean_year(&w->mean, w->record, w->winters, err);
    w->has_mean = status == UF_OK;
    return status == UF_OK ? take_winter(w, winter, err) : status;
}

static enum uf_status from_sensor(struct uf_site_weather *w, const struct uf_site *site,
                                  struct uf_error *err)
{
    char folder[UF_CLIMATE_PATH_SIZE];
    if (site->design.initial.date == UF_NO_DAY) {
        return uf_fail_key(err, UF_E_INPUT, "climate.surface_temperature",
                           UF_PLAIN("a sensor's record has no mean year to start from"),
                           UF_PLAIN("with initial.profile and initial.date"));
    }
    uf_site_weather_folder(folder, sizeof folder, site);
    const enum uf_status status =
        uf_climate_read_series(&w->record, site->measured_file, site->measured_column, folder, err);
    if (status == UF_E_FILE || status == UF_E_INPUT) {
        uf_site_leaves_blame(err, site->path, site->text, "climate.surface_temperature.file",
                             site->measured_file);
    }
    return status == UF_OK ? take_recorded(w, site, site->measured_file, err) : status;
}

static double cycle_degC(const struct uf_site *site, double day)
{
    const double t = day - (double)uf_calendar_day(2001, 1, 1);
    return site->cycle_mean_degC -
           site->cycle_amplitude_K *
               cos(2.0 * UF_PI * (t - site->cycle_coldest_day) / site->cycle_period_day);
}

/* A cosine year: the whole run, and one period of it before. */
static enum uf_status from_cycle(struct uf_site_weather *w, const struct uf_site *site,
                                 struct uf_error *err)
{
    const double period = site->cycle_period_day;
    const double warmest = site->cycle_coldest_day + 0.5 * period;
    long from = uf_calendar_day(2001, 1, 1) + lround(warmest) + AUTUMN_DAYS;
    long to = uf_calendar_day(2001, 1, 1) + lround(warmest + period) + AFTER_SUMMER_DAYS;
    if (site->design.initial.date != UF_NO_DAY) {
        from = site->design.initial.date;
        to = end_day(site, from);
    }
    const size_t days = (size_t)(to - from);
    const size_t year_days = (size_t)fmax(1.0, round(period));
    w->block = calloc(days + year_days, sizeof *w->block);
    if (w->block == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the weather");
    }
    for (size_t i = 0; i < days + year_days; i++) {
        const size_t day = i < days ? i : i - days;
        w->block[i] = cycle_degC(site, (double)from + (double)day + 0.5);
    }
    w->weather = (struct uf_forcing_weather){.start_day = from,
                                             .days = days,
                                             .air_degC = w->block,
                                             .year_days = year_days,
                                             .year_air_degC = w->block + days};
    uf_message_set(&w->text, UF_SAID("a yearly cycle of {} +- {}",
                                     UF_ROUND(TEMPERATURE, site->cycle_mean_degC),
                                     UF_ROUND(DIFFERENCE, site->cycle_amplitude_K)));
    return UF_OK;
}

enum uf_status uf_site_weather_create(struct uf_site_weather **out, const struct uf_site *site,
                                      const struct uf_winter_choice *winter, struct uf_error *err)
{
    struct uf_site_weather *w = calloc(1, sizeof *w);
    enum uf_status status = UF_OK;
    *out = NULL;
    if (w == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the weather");
    }
    w->source = site->source;
    if (uf_surface_of(&site->design.surface)->own_record) {
        status = from_sensor(w, site, err);
    } else if (site->source == UF_SOURCE_FILE) {
        status = from_file(w, site, winter != NULL ? winter : &site->winter, err);
    } else if (site->source == UF_SOURCE_CYCLE) {
        status = from_cycle(w, site, err);
    } else {
        status =
            uf_fail_key(err, UF_E_INPUT, "climate", UF_PLAIN("no weather"),
                        UF_PLAIN("climate.file, climate.cycle or climate.surface_temperature"));
    }
    if (status != UF_OK) {
        uf_site_weather_free(w);
        return status;
    }
    *out = w;
    return UF_OK;
}

void uf_site_weather_free(struct uf_site_weather *weather)
{
    if (weather != NULL) {
        uf_winter_season_free(weather->season);
        uf_winter_list_free(weather->winters);
        uf_weather_free(weather->record);
        free(weather->block);
        free(weather);
    }
}
