#include "io/site_weather.h"
#include "solver/run.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The start against a long plain repetition on three sites of cli/examples, whole domains
   of 15 m: not merely repeating, but within 0.02 K of what 60 more years settle to,
   everywhere, at four dates of the year. The slow mode of 15 m of ground shrinks by a
   fifth a year, so that 60 years leave one part in a million. */

enum { LONG_YEARS = 60, QUARTERS = 4 };

struct place {
    struct uf_site *site;
    struct uf_site_weather *weather;
    struct uf_forcing *forcing;
    struct uf_section *section;
    struct uf_season *season;
};

static struct place open_place(const char *name)
{
    struct place p = {0};
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    char path[512];
    const struct uf_season_options options = uf_season_defaults();
    (void)snprintf(path, sizeof path, "%s/cli/examples/%s", UF_SOURCE_DIR, name);
    cr_assert(uf_site_read(&p.site, path, NULL, &faults, &err) == UF_OK, "%s", err.text);
    struct uf_case *d = &p.site->design;
    d->grid.finest_m = 0.15;
    cr_assert(uf_site_weather_create(&p.weather, p.site, NULL, &err) == UF_OK, "%s",
              err.text);
    cr_assert(uf_forcing_create(&p.forcing, &d->surface, &p.weather->weather, &err) ==
              UF_OK);
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

static void expect_settled(const char *name)
{
    struct place p = open_place(name);
    struct uf_startup_result result;
    struct uf_error err = {0};
    const size_t n = p.section->heat->n;
    const struct uf_drive *year = &p.forcing->year;
    const double days = (double)year->days;
    double *kept = calloc(QUARTERS * n, sizeof *kept);
    cr_assert_not_null(kept);
    cr_assert(uf_startup(p.season, p.section, &p.site->design, year, 0.02, &result,
                         &err) == UF_OK,
              "%s", err.text);
    cr_expect(result.years <= 2.0, "%s took %g years", name, result.years);
    for (int q = 0; q < QUARTERS; q++) {
        memcpy(kept + (size_t)q * n, uf_season_T_degC(p.season), n * sizeof *kept);
        cr_assert(uf_season_advance(p.season, year->start_day + days * (q + 1) / QUARTERS,
                                    &err) == UF_OK);
    }
    cr_assert(uf_season_advance(p.season, year->start_day + days * LONG_YEARS, &err) ==
              UF_OK);
    for (int q = 0; q < QUARTERS; q++) {
        const double off_K = difference_K(&p, kept + (size_t)q * n);
        cr_expect(off_K < 0.02, "%s, quarter %d: %.4f K from the settled state", name, q,
                  off_K);
        cr_assert(uf_season_advance(p.season,
                                    year->start_day +
                                        days * (LONG_YEARS + (q + 1.0) / QUARTERS),
                                    &err) == UF_OK);
    }
    free(kept);
    close_place(&p);
}

Test(startup_sites, cistern_with_board)
{
    expect_settled("larch_hollow.yaml");
}

Test(startup_sites, box)
{
    if (getenv("UF_TEST_LIGHT") == NULL) {
        expect_settled("alder_lane.yaml");
    }
}

Test(startup_sites, standing_tank)
{
    if (getenv("UF_TEST_LIGHT") == NULL) {
        expect_settled("mill_race.yaml");
    }
}
