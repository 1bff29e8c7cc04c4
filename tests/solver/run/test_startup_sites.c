#include "io/site/site_weather.h"
#include "solver/run/run.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The start against a long plain repetition on the sites of cli/examples and on two that
   are just above perennial frost, whole domains of 15 m: not merely repeating, but within
   0.02 K of what 60 more years settle to, everywhere, in every month. The slow mode of
   15 m of ground shrinks by a fifth a year, so that 60 years leave one part in a million.
   The cost, the column's years by their share of the cells, is at most 3.1 years. */

enum { LONG_YEARS = 60, MONTHS = 12, COLUMN_YEARS_MOST = 6 };
static const double COST_MOST_YEARS =
    3.1; /* layered water takes a year more: see the first guess */

struct place {
    struct uf_site *site;
    struct uf_site_weather *weather;
    struct uf_forcing *forcing;
    struct uf_section *section;
    struct uf_season *season;
};

/* Ground at the temperature of Winnipeg's air, kept clear of snow: 3 degC in the mean. */
static void make_cold(struct uf_site *site)
{
    site->design.surface = (struct uf_surface_input){.kind = UF_SURFACE_FILM, .film_W_m2K = 15.0};
}

/* overrides: NULL, or keys of the file with other values; cold: see make_cold */
static struct place open_place(const char *name, const struct uf_site_overrides *overrides,
                               bool cold)
{
    struct place p = {0};
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    char path[512];
    const struct uf_season_options options = uf_season_defaults();
    (void)snprintf(path, sizeof path, "%s/cli/examples/%s", UF_SOURCE_DIR, name);
    cr_assert(uf_site_read(&p.site, path, overrides, &faults, &err) == UF_OK, "%s", err.text);
    struct uf_case *d = &p.site->design;
    if (cold) {
        make_cold(p.site);
    }
    d->grid.finest_m = 0.15;
    d->tank.ends = UF_ENDS_PLANE;
    cr_assert(uf_site_weather_create(&p.weather, p.site, NULL, &err) == UF_OK, "%s", err.text);
    cr_assert(uf_forcing_create(&p.forcing, &d->surface, &p.weather->weather, &err) == UF_OK);
    cr_assert(uf_section_create(&p.section, d,
                                uf_run_frost_guess_m(d, p.forcing->freezing_degC_day),
                                &err) == UF_OK,
              "%s", err.text);
    cr_assert(uf_season_create(&p.season, p.section->heat, &options, &err) == UF_OK);
    return p;
}

static void close_place(struct place *p)
{
    uf_season_free(p->season);
    uf_section_free(p->section);
    uf_forcing_free(p->forcing);
    uf_site_weather_free(p->weather);
    uf_site_free(p->site);
}

/* Largest difference between the present state and `kept` [n] over the nodes in use. */
static double difference_K(const struct place *p, const double *kept)
{
    const double *T = uf_season_T_degC(p->season);
    double most = 0.0;
    for (size_t i = 0; i < p->section->heat->n; i++) {
        if (p->section->heat->volume_m3[i] > 0.0) {
            most = fmax(most, fabs(T[i] - kept[i]));
        }
    }
    return most;
}

static double month_day(const struct uf_drive *year, int years, int month)
{
    return year->start_day + (double)year->days * years +
           floor((double)year->days * month / MONTHS);
}

/* Water that turns over is a kink as a front is: a twentieth of a kelvin more may be left. */
static void expect_settled(const char *name, struct place p)
{
    const bool layered = uf_case_water(&p.site->design) == UF_WATER_LAYERED;
    const double left_K = layered ? 0.05 : 0.02;
    struct uf_startup_result result;
    struct uf_error err = {0};
    const size_t n = p.section->heat->n;
    const struct uf_drive *year = &p.forcing->year;
    double *kept = calloc(MONTHS * n, sizeof *kept);
    cr_assert_not_null(kept);
    cr_assert(uf_startup(p.season, p.section, &p.site->design, year, 0.02, &result, &err) == UF_OK,
              "%s", err.text);
    const double column_years = COLUMN_YEARS_MOST * (double)p.section->grid->nz / (double)n;
    cr_expect(p.section->grid->nx == 1 || result.years + column_years <= COST_MOST_YEARS,
              "%s took %.2f years and %.2f of the column", name, result.years, column_years);
    cr_expect(uf_season_day(p.season) == year->start_day);
    for (int m = 0; m < MONTHS; m++) {
        memcpy(kept + (size_t)m * n, uf_season_T_degC(p.season), n * sizeof *kept);
        cr_assert(uf_season_advance(p.season, month_day(year, 0, m + 1), &err) == UF_OK);
    }
    cr_assert(uf_season_advance(p.season, month_day(year, LONG_YEARS, 0), &err) == UF_OK);
    for (int m = 0; m < MONTHS; m++) {
        const double off_K = difference_K(&p, kept + (size_t)m * n);
        cr_expect(off_K < left_K, "%s, month %d: %.4f K from the settled state", name, m, off_K);
        cr_assert(uf_season_advance(p.season, month_day(year, LONG_YEARS, m + 1), &err) == UF_OK);
    }
    free(kept);
    close_place(&p);
}

static bool light(void)
{
    return getenv("UF_TEST_LIGHT") != NULL;
}

static const struct uf_site_override WINNIPEG[] = {{"climate.column=winnipeg"}};
static const struct uf_site_override BARE_WINNIPEG[] = {{"climate.file=winnipeg.csv"},
                                                        {"climate.column=winnipeg"}};

Test(startup_sites, cistern_with_board_in_calgary)
{
    expect_settled("larch_hollow", open_place("larch_hollow.yaml", NULL, false));
}

Test(startup_sites, box_in_madison)
{
    if (!light()) {
        expect_settled("alder_lane", open_place("alder_lane.yaml", NULL, false));
    }
}

Test(startup_sites, standing_tank_under_recorded_snow)
{
    if (!light()) {
        expect_settled("mill_race", open_place("mill_race.yaml", NULL, false));
    }
}

Test(startup_sites, cistern_with_board_just_above_perennial_frost)
{
    const struct uf_site_overrides overrides = {WINNIPEG, 1};
    if (!light()) {
        struct place p = open_place("larch_hollow.yaml", &overrides, true);
        cr_expect(p.forcing->year_surface_degC > 2.0 && p.forcing->year_surface_degC < 3.5,
                  "%g degC", p.forcing->year_surface_degC);
        expect_settled("a cistern in Winnipeg", p);
    }
}

Test(startup_sites, bare_ground_just_above_perennial_frost)
{
    const struct uf_site_overrides overrides = {BARE_WINNIPEG, 2};
    expect_settled("bare ground in Winnipeg", open_place("bare_ground.yaml", &overrides, true));
}
