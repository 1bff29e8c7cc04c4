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
    "empty_mass: 600 kg, contents: {level: 1.4 m, start: 6 degC}" more "}\n"                       \
    "burial: {cover: 1.2 m, bedding: 0.2 m}\n"                                                     \
    "board: {type: XPS_IV, thickness: 80 mm, beyond_tank: 0.6 m, above_crown: 0.15 m}\n"           \
    "grid: {finest: 250 mm, width: 8 m, depth: 8 m}\n"                                             \
    "limits: {water: 0.5 degC, uplift_factor: 1.05}\n"                                             \
    "choices: {cover: [1.2 m, 1.6 m], thickness: [0 mm, 80 mm]}\n"

#define CYCLE "{cycle: {mean: 5 degC, amplitude: 16 K, coldest: 20 day}}"

static struct uf_arguments args;
static char path[64];

/* Opens the site, searches, and looks at what it found. */
static struct uf_recommend *made(const char *site)
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
                                 .jobs = 2};
    r->shown = -1;
    cr_assert_eq(uf_site_run_open(&r->run, &args), UF_EXIT_DONE);
    cr_assert(uf_recommend_search(r, &args, &err) == UF_OK, "%s", err.text);
    cr_assert(uf_recommend_look(r, &args, &err) == UF_OK, "%s", err.text);
    return r;
}

static void forget(struct uf_recommend *r)
{
    uf_recommend_free(r);
    free(r);
    (void)unlink(path);
}

static const struct uf_recommend_variant *variant(const struct uf_recommend *r, const char *name)
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
    const struct uf_summary *pick = &r->choices->jobs[r->shown].summary;
    cr_expect_not_null(kept->record);
    cr_expect_eq(kept->summary.water.degC, pick->water.degC, "the same run once more");
    cr_expect_neq(kept->options.season.integrator, other->options.season.integrator);
    cr_expect_float_eq(kept->summary.frost_undisturbed_m, other->summary.frost_undisturbed_m, 0.02);
    cr_expect_float_eq(kept->summary.water.degC, other->summary.water.degC, 0.1);
    cr_expect(!inflow->skip && inflow->summary.water.degC > pick->water.degC);
    /* Without board: only where the pick has one. */
    const bool board = r->choices->rows[r->shown].thickness_m > 0.0;
    cr_expect_eq(r->jobs[UF_RECOMMEND_BARE].skip, !board);
    cr_expect_eq(r->jobs[UF_RECOMMEND_BARE].record != NULL, board);
    cr_expect(r->bare.uplift.highest.factor_submerged > 0.0 && !r->bare.load.present);
    forget(r);
}

Test(recommend_run, only_variants_that_change_something)
{
    struct uf_recommend *r = made(SITE(CYCLE, ""));
    cr_assert_geq(r->shown, 0);
    cr_expect(r->jobs[UF_RECOMMEND_INFLOW].skip, "there is no inflow");
    cr_expect_null(variant(r, "no snow"), "there is none");
    cr_expect_null(variant(r, "rarer winter"), "a cycle has no rarer one");
    const struct uf_recommend_variant *still = variant(r, "still water");
    const struct uf_recommend_variant *drier = variant(r, "drier soil");
    const struct uf_recommend_variant *wetter = variant(r, "wetter soil");
    const struct uf_recommend_variant *lowest = variant(r, "lowest level");
    cr_assert(still != NULL && drier != NULL && wetter != NULL && lowest != NULL);
    cr_expect(!isnan(still->job->design.tank.mixing_W_mK));
    cr_expect_eq(lowest->job->design.tank.level_m, 0.7);
    cr_expect_neq(lowest->water_degC, r->jobs[UF_RECOMMEND_KEPT].summary.water.degC);
    for (size_t i = 0; i < r->n_variants; i++) {
        const struct uf_recommend_variant *v = &r->variants[i];
        cr_expect_eq(v->water_degC, uf_limit_water_degC(&v->job->summary));
        cr_expect(v->job->done && v->job->status == UF_OK);
    }
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

Test(recommend_run, the_rarer_winter_is_colder)
{
    struct uf_recommend *r =
        made(SITE("{file: winnipeg.csv, column: calgary, winter: 1 in 20}", ""));
    cr_assert_geq(r->shown, 0);
    const struct uf_recommend_variant *rarer = variant(r, "rarer winter");
    cr_assert_not_null(rarer);
    cr_assert(r->rarer_weather != NULL && r->rarer_weather->season != NULL);
    cr_expect(r->rarer_weather->season->asked_index_degC_day >
              r->run.weather->season->asked_index_degC_day + 10.0);
    cr_expect(rarer->job->forcing == r->rarer_forcing);
    cr_expect(rarer->job->summary.frost_undisturbed_m >
              r->jobs[UF_RECOMMEND_KEPT].summary.frost_undisturbed_m);
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
        if (uf_variants[i].rarer_winter || !uf_variants[i].apply(&job.design)) {
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

/* The named choice holds with every change, and no better one does. */
static void expect_sturdy(const char *limit, bool found)
{
    char site[2048];
    struct uf_error err = {0};
    (void)snprintf(site, sizeof site, "%s", SITE(CYCLE, ""));
    char *at = strstr(site, "water: 0.5 degC");
    cr_assert_not_null(at);
    memcpy(at, limit, strlen(limit));
    struct uf_recommend *r = made(site);
    cr_assert_geq(r->choices->pick, 0);
    args.sturdy = true;
    cr_assert(uf_recommend_sturdy(r, &args, &err) == UF_OK, "%s", err.text);
    const struct uf_choices_result *c = r->choices;
    cr_assert(r->sturdy.sought);
    cr_assert_eq(r->sturdy.row >= 0, found, "%s: row %ld", limit, r->sturdy.row);
    for (size_t i = 0; i < c->n; i++) {
        const bool better =
            c->rows[i].ok &&
            (!found || ((long)i != r->sturdy.row &&
                        uf_choice_better(&c->rows[i], &c->rows[r->sturdy.row], c->priced)));
        if (better) {
            cr_expect_not(holds_alone(r, &c->jobs[i].design), "%s: row %zu", limit, i);
        }
    }
    if (found) {
        cr_expect(holds_alone(r, &c->jobs[r->sturdy.row].design), "%s", limit);
    }
    forget(r);
}

Test(recommend_run, the_sturdy_choice_is_the_best_that_holds_with_every_change)
{
    expect_sturdy("water: 0.2 degC", true);
    expect_sturdy("water: 0.5 degC", false);
}
