#include "io/result/every_file.h"
#include "solver/base/calendar.h"
#include "solver/choice/every.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Fourteen made-up winters, 1980/81 to 1993/94, colder and warmer in turn, from a cosine
   year; the fifth has a gap. */
enum { FIRST = 1980, WINTERS = 14, GAP = 4 };

struct world {
    struct uf_weather *weather;
    struct uf_winter_list *list;
    struct uf_winter_mean_year mean;
    struct uf_case design;
};

static void world_create(struct world *w, bool gap)
{
    const long start = uf_calendar_day(FIRST, 8, 1);
    const size_t days = (size_t)(uf_calendar_day(FIRST + WINTERS, 8, 1) - start);
    cr_assert(uf_weather_create(&w->weather, start, days, false, NULL) == UF_OK);
    for (size_t i = 0; i < days; i++) {
        const struct uf_date date = uf_calendar_date(start + (long)i);
        const int winter = date.month >= 8 ? date.year : date.year - 1;
        const double swing = (date.month <= 4 || date.month >= 10)
                                 ? 1.5 * cos(2.1 * (winter - FIRST)) /* K, by winter */
                                 : 0.0;
        w->weather->air_degC[i] =
            6.0 + swing - 16.0 * cos(2.0 * 3.14159265 * ((double)i + 200.0) / 365.25);
    }
    if (gap) {
        const long hole = uf_calendar_day(FIRST + GAP, 12, 1) - start;
        for (long i = hole; i < hole + 20; i++) {
            w->weather->air_degC[i] = NAN;
        }
    }
    cr_assert(uf_winter_list_create(&w->list, w->weather, false, NULL) == UF_OK);
    cr_assert(uf_winter_mean_year(&w->mean, w->weather, w->list, NULL) == UF_OK);
    uf_case_init(&w->design);
    w->design.ground.n_layers = 1;
    w->design.ground.layers[0].to_m = 15.0;
    w->design.ground.layers[0].spec.soil = uf_soil_find("silt");
    w->design.n_probes = 1;
    w->design.probes[0] = (struct uf_probe){"deep", 0.0, 1.0, NAN, NAN, 0.0};
}

static void world_free(struct world *w)
{
    uf_winter_list_free(w->list);
    uf_weather_free(w->weather);
}

static struct uf_every *every_of(const struct world *w, bool series)
{
    const struct uf_every_input input = {.design = &w->design,
                                         .record = w->weather,
                                         .winters = w->list,
                                         .mean = &w->mean,
                                         .options = uf_run_defaults(),
                                         .keep_series = series};
    struct uf_every *every = NULL;
    struct uf_error err = {0};
    cr_assert(uf_every_create(&every, &input, &err) == UF_OK, "%s", err.text);
    return every;
}

Test(every, whole_winters_in_stretches)
{
    struct world w;
    world_create(&w, true);
    struct uf_every *every = every_of(&w, true);
    cr_expect_eq(every->n, WINTERS - 1);
    cr_expect_eq(every->n_unusable, 1);
    cr_expect_eq(every->n_stretches, 2, "the gap parts them");
    cr_expect_eq(every->winters[GAP].year, FIRST + GAP + 1);
    cr_expect_eq(every->stretches[0].lead_days, 61, "no year before the first");
    cr_assert(uf_every_run(every, NULL) == UF_OK);
    for (size_t i = 0; i < every->n; i++) {
        const struct uf_every_winter *winter = &every->winters[i];
        cr_assert(winter->done);
        double deepest_m = 0.0;
        double least = INFINITY;
        cr_assert_eq((long)winter->record->nt, winter->last_day - winter->first_day + 1);
        for (size_t d = 0; d < winter->record->nt; d++) {
            deepest_m = fmax(deepest_m, winter->record->frost_depth_m[d]);
            least = fmin(least, winter->record->probe_degC[d]);
        }
        cr_expect_float_eq(deepest_m, winter->summary.frost_undisturbed_m, 1e-12);
        cr_expect_float_eq(least, winter->summary.probes[0].least.degC, 1e-12);
        cr_expect(winter->summary.frost_undisturbed_day >= winter->first_day &&
                  winter->summary.frost_undisturbed_day <= winter->last_day);
        cr_expect_float_eq(winter->record->time_day[0], (double)winter->first_day + 1.0, 1e-9);
        cr_expect(winter->summary.heat_balance_relative < 1e-4);
    }
    uf_every_free(every);
    world_free(&w);
}

/* A colder winter freezes deeper, whatever was before. */
Test(every, depth_follows_the_index)
{
    struct world w;
    world_create(&w, false);
    struct uf_every *every = every_of(&w, false);
    cr_assert(uf_every_run(every, NULL) == UF_OK);
    size_t coldest = 0;
    size_t mildest = 0;
    for (size_t i = 1; i < every->n; i++) {
        const double index = every->winters[i].index_degC_day;
        coldest = index > every->winters[coldest].index_degC_day ? i : coldest;
        mildest = index < every->winters[mildest].index_degC_day ? i : mildest;
    }
    cr_expect(every->winters[coldest].summary.frost_undisturbed_m >
              every->winters[mildest].summary.frost_undisturbed_m + 0.1);
    uf_every_free(every);
    world_free(&w);
}

/* What a cut between stretches costs: the same fourteen winters as one run without a cut.
   The lead-in year leaves less than a centimetre. */
Test(every, a_stretch_forgets_little)
{
    struct world w;
    world_create(&w, false);
    struct uf_every *every = every_of(&w, false);
    cr_expect_eq(every->n_stretches, 2);
    cr_expect_gt(every->stretches[1].lead_days, 400, "a year and two months before");
    cr_assert(uf_every_run(every, NULL) == UF_OK);
    double year_air[UF_WINTER_YEAR_DAYS];
    double year_snow[UF_WINTER_YEAR_DAYS];
    uf_winter_mean_days(&w.mean, w.weather->start_day, year_air, year_snow);
    const struct uf_forcing_weather whole = {.start_day = w.weather->start_day,
                                             .days = w.weather->days,
                                             .air_degC = w.weather->air_degC,
                                             .year_days = UF_WINTER_YEAR_DAYS,
                                             .year_air_degC = year_air};
    struct uf_forcing *forcing = NULL;
    struct uf_run *run = NULL;
    const struct uf_run_options options = every->jobs[0].options;
    cr_assert(uf_forcing_create(&forcing, &w.design.surface, &whole, NULL) == UF_OK);
    cr_assert(uf_run_create(&run, &w.design, forcing, &options, NULL) == UF_OK);
    for (size_t i = 0; !uf_run_done(run);) {
        cr_assert(uf_run_next(run, NULL) == UF_OK);
        const long day = w.weather->start_day + (long)uf_run_day(run) - 1;
        if (day == every->winters[i].last_day) {
            const double uncut_m = uf_run_summary(run).frost_undisturbed_m;
            cr_expect_float_eq(every->winters[i].summary.frost_undisturbed_m, uncut_m, 0.01,
                               "%d: %g, not %g", every->winters[i].year,
                               every->winters[i].summary.frost_undisturbed_m, uncut_m);
            i += i + 1 < every->n;
        }
        if (day + 1 == every->winters[i].first_day) {
            uf_run_forget(run);
        }
    }
    uf_run_free(run);
    uf_forcing_free(forcing);
    uf_every_free(every);
    world_free(&w);
}

Test(every, limits_are_counted_by_winter)
{
    struct world w;
    world_create(&w, false);
    w.design.probes[0].depth_m = 1.5;
    struct uf_every *every = every_of(&w, false);
    cr_assert(uf_every_run(every, NULL) == UF_OK);
    const struct uf_limit_facts facts = {.design = &w.design};
    const struct uf_every_limits limits = uf_every_limits(every, &facts);
    size_t below = 0;
    double least = INFINITY;
    for (size_t i = 0; i < every->n; i++) {
        below += every->winters[i].summary.probes[0].least.degC < 0.0;
        least = fmin(least, every->winters[i].summary.probes[0].least.degC);
    }
    cr_expect_eq(limits.winters, WINTERS);
    cr_expect_eq(limits.any, below);
    cr_expect(below > 0 && below < WINTERS, "%zu", below);
    for (size_t l = 0; l < uf_limit_count; l++) {
        if (strcmp(uf_limits[l].key, "probes.least") == 0) {
            cr_expect_eq(limits.broken[l], below);
            cr_expect_float_eq(limits.least[l], least, 1e-12);
        } else if (strcmp(uf_limits[l].key, "limits.water") == 0) {
            cr_expect(isnan(limits.least[l]), "there is no water");
        }
    }
    uf_every_free(every);
    world_free(&w);
}

/* Kept, read back, and gone on with: the numbers are those of a run in one piece. */
Test(every, an_interrupted_run_goes_on)
{
    struct world w;
    char path[64];
    (void)snprintf(path, sizeof path, "/tmp/uf_test_every_%ld", (long)getpid());
    world_create(&w, false);
    struct uf_every *whole = every_of(&w, true);
    struct uf_every *first = every_of(&w, true);
    struct uf_every *second = every_of(&w, true);
    cr_assert(uf_every_run(whole, NULL) == UF_OK);
    first->jobs[1].skip = true;
    cr_assert(uf_every_run(first, NULL) == UF_OK);
    const unsigned long long key = uf_every_file_key(0, "a design", 8);
    cr_assert(uf_every_file_write(path, first, key, NULL) == UF_OK);
    cr_expect_eq(uf_every_file_read(path, second, key + 1), 0, "another design");
    cr_expect_eq(uf_every_file_read(path, second, key), UF_EVERY_STRETCH);
    uf_every_skip_done(second);
    cr_expect(second->jobs[0].skip && !second->jobs[1].skip);
    cr_assert(uf_every_run(second, NULL) == UF_OK);
    for (size_t i = 0; i < whole->n; i++) {
        const struct uf_every_winter *a = &whole->winters[i];
        const struct uf_every_winter *b = &second->winters[i];
        cr_assert(b->done && b->record != NULL);
        cr_expect_eq(a->summary.frost_undisturbed_m, b->summary.frost_undisturbed_m);
        cr_expect_eq(memcmp(a->record->frost_depth_m, b->record->frost_depth_m,
                            a->record->nt * sizeof(double)),
                     0);
        cr_expect_str_eq(a->record->probe_names[0], b->record->probe_names[0]);
    }
    uf_every_free(whole);
    uf_every_free(first);
    uf_every_free(second);
    (void)remove(path);
    world_free(&w);
}

static void flip(const char *path, long at)
{
    FILE *file = fopen(path, "rb+");
    cr_assert(file != NULL && fseek(file, at, SEEK_SET) == 0);
    const int byte = getc(file);
    cr_assert(fseek(file, at, SEEK_SET) == 0 && putc(byte ^ (1 << at % 8), file) != EOF);
    cr_assert_eq(fclose(file), 0);
}

/* A file cut anywhere, or with one bit turned, gives no winter at all. */
Test(every, a_damaged_file_does_no_harm)
{
    struct world w;
    char path[64];
    (void)snprintf(path, sizeof path, "/tmp/uf_test_every_cut_%ld", (long)getpid());
    world_create(&w, true);
    struct uf_every *every = every_of(&w, true);
    cr_assert(uf_every_run(every, NULL) == UF_OK);
    cr_assert(uf_every_file_write(path, every, 7, NULL) == UF_OK);
    FILE *file = fopen(path, "rb");
    cr_assert(file != NULL && fseek(file, 0, SEEK_END) == 0);
    const long size = ftell(file);
    (void)fclose(file);
    struct uf_every *again = every_of(&w, true);
    for (long k = 0; k < 60; k++) {
        flip(path, k * (size - 1) / 59);
        cr_expect_eq(uf_every_file_read(path, again, 7), 0, "a flipped bit at %ld", k);
        flip(path, k * (size - 1) / 59);
    }
    for (long keep = size - 1; keep >= 0; keep -= size / 7) {
        cr_assert_eq(truncate(path, keep), 0);
        cr_expect_eq(uf_every_file_read(path, again, 7), 0, "cut to %ld", keep);
    }
    for (size_t i = 0; i < again->n; i++) {
        cr_expect_not(again->winters[i].done);
    }
    cr_expect_eq(uf_every_file_read("/nowhere/at/all", again, 7), 0);
    uf_every_free(again);
    uf_every_free(every);
    (void)remove(path);
    world_free(&w);
}

Test(every, nothing_to_run_is_said)
{
    struct world w;
    struct uf_every *every = NULL;
    struct uf_error err = {0};
    world_create(&w, false);
    struct uf_every_input input = {.design = &w.design,
                                   .record = w.weather,
                                   .winters = w.list,
                                   .mean = &w.mean,
                                   .options = uf_run_defaults()};
    w.design.initial.n_profile = 2;
    cr_expect_eq(uf_every_create(&every, &input, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "initial") != NULL);
    w.design.initial.n_profile = 0;
    for (size_t i = 0; i < w.list->n; i++) {
        w.list->rows[i].usable = false;
    }
    cr_expect_eq(uf_every_create(&every, &input, &err), UF_E_INPUT);
    cr_expect(every == NULL && strstr(err.text, "no whole winter") != NULL);
    uf_every_free(NULL);
    world_free(&w);
}
