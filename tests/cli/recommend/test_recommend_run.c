#include "cli/command.h"
#include "cli/jobs.h"
#include "cli/recommend/recommend.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The search and the closer looks at the pick, without folder or text. */

#define SITE(climate, more)                                                                        \
    "site: {name: Crane Hill cistern, latitude: 50 degrees_north}\n"                               \
    "climate: " climate "\n"                                                                       \
    "surface: {film: 15 W/m2/K, snow: none}\n"                                                     \
    "ground: [{to: 8 m, soil: silt}]\n"                                                            \
    "groundwater: {winter: 3 m, highest: 1.5 m}\n"                                                 \
    "tank: {shape: horizontal_cylinder, diameter: 1.6 m, length: 4 m, "                            \
    "ends: plane, empty_mass: 600 kg, contents: {level: 1.4 m, start: 6 degC}" more "}\n"          \
    "burial: {cover: 1.2 m, bedding: 0.2 m}\n"                                                     \
    "board: {type: XPS_IV, thickness: 80 mm, beyond_tank: 0.6 m, above_crown: 0.15 m}\n"           \
    "grid: {finest: 400 mm, width: 8 m, depth: 8 m}\n"                                             \
    "limits: {water: 0.5 degC, uplift_factor: 1.05}\n"                                             \
    "choices: {cover: [1.2 m, 1.6 m], thickness: [0 mm, 80 mm]}\n"

#define CYCLE "{cycle: {mean: 5 degC, amplitude: 16 K, coldest: 20 day}}"

static struct uf_arguments args;
static char path[64];

/* Opens the site, searches, and looks at what it found. */
static struct uf_recommend *made_as(const char *site, bool nominal)
{
    struct uf_recommend *r = calloc(1, sizeof *r);
    struct uf_error err = {0};
    (void)snprintf(path, sizeof path, "/tmp/uf_run_XXXXXX");
    const int file = mkstemp(path);
    cr_assert(file >= 0 && r != NULL);
    cr_assert_eq(write(file, site, strlen(site)), (ssize_t)strlen(site));
    (void)close(file);
    args = (struct uf_arguments){.command = uf_command_find("recommend"),
                                 .operands = {path},
                                 .n_operands = 1,
                                 .quiet = true,
                                 .nominal = nominal,
                                 .jobs = 2};
    r->shown = -1;
    cr_assert_eq(uf_site_run_open(&r->run, &args), UF_EXIT_DONE);
    cr_assert(uf_recommend_search(r, &args, &err) == UF_OK, "%s", err.text);
    cr_assert(uf_recommend_look(r, &args, &err) == UF_OK, "%s", err.text);
    return r;
}

static struct uf_recommend *made(const char *site)
{
    return made_as(site, true);
}

static struct uf_recommend *made_robust(const char *site)
{
    return made_as(site, false);
}

static void forget(struct uf_recommend *r)
{
    uf_recommend_free(r);
    free(r);
    (void)unlink(path);
}

static const struct uf_robust_case *variant(const struct uf_recommend *r, const char *name)
{
    for (size_t i = 0; i < r->n_variants; i++) {
        if (strcmp(r->variants[i].row->name, name) == 0) {
            return &r->variants[i];
        }
    }
    return NULL;
}

Test(recommend_run, the_pick_is_looked_at_from_all_sides)
{
    struct uf_recommend *r = made(SITE(CYCLE, ", inflow: {rate: 0.5 m3/day, temperature: 8 degC}"));
    cr_assert_geq(r->choices->pick, 0);
    cr_expect_eq(r->shown, r->choices->pick);
    const struct uf_job *kept = &r->jobs[UF_RECOMMEND_KEPT];
    const struct uf_job *other = &r->jobs[UF_RECOMMEND_REFERENCE];
    const struct uf_job *inflow = &r->jobs[UF_RECOMMEND_INFLOW];
    const struct uf_summary *pick = uf_choice_summary(r->choices, (size_t)r->shown);
    cr_expect_not_null(kept->record);
    cr_expect_eq(kept->summary.water.degC, pick->water.degC, "the same run once more");
    cr_expect_neq(kept->options.season.integrator, other->options.season.integrator);
    cr_expect_float_eq(kept->summary.frost_undisturbed_m, other->summary.frost_undisturbed_m, 0.02);
    cr_expect_float_eq(kept->summary.water.degC, other->summary.water.degC, 0.1);
    cr_expect(inflow->done && inflow->summary.water.degC > pick->water.degC);
    /* Without board: only where the pick has one. */
    const bool board = r->choices->rows[r->shown].thickness_m > 0.0;
    cr_expect_eq(r->jobs[UF_RECOMMEND_BARE].done, board);
    cr_expect_eq(r->jobs[UF_RECOMMEND_BARE].record != NULL, board);
    cr_expect(r->bare.uplift.highest.factor_submerged > 0.0 && !r->bare.load.present);
    forget(r);
}

Test(recommend_run, only_variants_that_change_something)
{
    struct uf_recommend *r = made(SITE(CYCLE, ""));
    cr_assert_geq(r->shown, 0);
    cr_expect(!r->jobs[UF_RECOMMEND_INFLOW].done, "there is no inflow");
    cr_expect_null(variant(r, "no snow"), "there is none");
    cr_expect_null(variant(r, "rarer winter"), "a cycle has no rarer one");
    const struct uf_robust_case *still = variant(r, "unmixed water");
    const struct uf_robust_case *drier = variant(r, "drier soil");
    const struct uf_robust_case *wetter = variant(r, "wetter soil");
    const struct uf_robust_case *lowest = variant(r, "lowest level");
    cr_assert(still != NULL && drier != NULL && wetter != NULL && lowest != NULL);
    cr_expect_neq(lowest->water_degC, r->jobs[UF_RECOMMEND_KEPT].summary.water.degC);
    /* Above its highest water table the soil holds the tank down by its moist weight:
       less where it is drier. */
    size_t uplift = 0;
    while (strcmp(uf_limits[uplift].key, "limits.uplift_factor") != 0) {
        uplift++;
    }
    const double own = r->choices->rows[r->shown].verdict.margin[uplift];
    cr_expect(drier->verdict.margin[uplift] < own - 1e-3, "%g against %g",
              drier->verdict.margin[uplift], own);
    cr_expect(wetter->verdict.margin[uplift] > own + 1e-3);
    cr_expect_eq(still->verdict.margin[uplift], own);
    forget(r);
}

/* The cases whose surface is another are driven by it, not by the design's. */
Test(recommend_run, another_surface_is_another_winter)
{
    char site[2048];
    (void)snprintf(site, sizeof site, "%s", SITE(CYCLE, ""));
    char *at = strstr(site, "snow: none");
    cr_assert_not_null(at);
    memmove(at + 21, at + 10, strlen(at + 10) + 1);
    memcpy(at, "snow: {depth: 300 mm}", 21);
    struct uf_recommend *r = made(site);
    cr_assert_geq(r->shown, 0);
    const struct uf_robust_case *cleared = variant(r, "no snow");
    cr_assert_not_null(cleared);
    cr_expect_gt(fabs(cleared->water_degC - r->jobs[UF_RECOMMEND_KEPT].summary.water.degC), 0.3);
    forget(r);
}

Test(recommend_run, the_rarer_winter_is_colder)
{
    struct uf_recommend *r =
        made(SITE("{file: winnipeg.csv, column: calgary, winter: 1 in 20}", ""));
    cr_assert_geq(r->shown, 0);
    const struct uf_robust_case *rarer = variant(r, "rarer winter");
    cr_assert_not_null(rarer);
    cr_assert(r->rarer_weather != NULL && r->rarer_weather->season != NULL);
    cr_expect(r->rarer_weather->season->asked_index_degC_day >
              r->run.weather->season->asked_index_degC_day + 10.0);
    cr_expect(rarer->water_degC < r->jobs[UF_RECOMMEND_KEPT].summary.water.degC);
    forget(r);
}

/* Each limit held by one choice as a run of its own shows it: variants applied by hand. */
static bool holds_alone(struct uf_recommend *r, const struct uf_case *design)
{
    bool ok = true;
    for (size_t i = 0; i < UF_VARIANTS && ok; i++) {
        struct uf_job job = {
            .design = *design, .forcing = r->run.forcing, .options = r->run.options};
        struct uf_choice row = {.buildable = true};
        if (uf_variants[i].weather != UF_VARIANT_DESIGN || !uf_variants[i].apply(&job.design)) {
            continue;
        }
        cr_assert_eq(uf_jobs_run(&job, 1, &args, "test", NULL), UF_OK);
        cr_assert_eq(job.status, UF_OK);
        cr_assert_eq(uf_choice_static(&row, &job.design, NULL), UF_OK);
        const struct uf_limit_facts facts = {&job.design, &job.summary, &row.uplift, &row.load};
        ok = uf_limit_verdict(&facts).ok;
    }
    return ok;
}

/* The recommended option holds in every case run by hand, and no better one does. */
static void expect_robust(const char *limit, bool found)
{
    char site[2048];
    (void)snprintf(site, sizeof site, "%s", SITE(CYCLE, ""));
    char *at = strstr(site, "water: 0.5 degC");
    cr_assert_not_null(at);
    memcpy(at, limit, strlen(limit));
    struct uf_recommend *r = made_robust(site);
    const struct uf_choices_result *c = r->choices;
    cr_assert_eq(c->pick >= 0, found, "%s: row %ld", limit, c->pick);
    for (size_t i = 0; i < c->n; i++) {
        const bool spare = c->rows[i].ok && uf_robust_spare(&c->designs[i], uf_choice_summary(c, i),
                                                            &c->rows[i].verdict);
        if (spare && (!found || ((long)i != c->pick &&
                                 uf_choice_better(&c->rows[i], &c->rows[c->pick], c->priced)))) {
            cr_expect_not(holds_alone(r, &c->designs[i]), "%s: row %zu", limit, i);
        }
    }
    if (found) {
        cr_expect(holds_alone(r, &c->designs[c->pick]), "%s", limit);
        cr_expect_eq(c->rows[c->pick].trial, UF_CHOICE_ROBUST);
    } else {
        cr_expect_geq(uf_robust_measure(r->robust)->from, 0, "measures were tried");
    }
    forget(r);
}

Test(recommend_run, the_recommended_option_is_the_best_that_holds_in_every_case)
{
    expect_robust("water: -1. degC", true);
    if (getenv("UF_TEST_LIGHT") == NULL) { /* the same code, seen by a sanitizer already */
        expect_robust("water: 1.5 degC", false);
    }
}
