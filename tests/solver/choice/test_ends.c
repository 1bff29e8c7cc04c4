#include "solver/choice/ends.h"
#include "solver/choice/robust.h"
#include "tests/runs.h"

#include <string.h>

/* Screening by plane sections against a search whose every run is in three dimensions. */

/* Ten small sites, coarse, each of its own kind; the limit lies where some options hold. */
struct place {
    enum uf_shape shape;
    enum uf_heads heads;
    double length_m, level_m;
    double mean_degC, amplitude_K;
    double least_degC;
    double beyond_m;
    enum uf_water_kind water;
    bool risers; /* two, whose sides lose more than the shell: the plane section is the cold side */
};
static const struct place PLACES[] = {
    {UF_HORIZONTAL_CYLINDER, UF_FLAT, 4.0, 1.2, 7.0, 14.0, 2.5, 0.6, UF_WATER_MIXED, false},
    {UF_HORIZONTAL_CYLINDER, UF_HEMISPHERICAL, 2.0, 1.2, 8.0, 15.0, 3.0, 0.9, UF_WATER_MIXED,
     false},
    {UF_BOX, UF_FLAT, 1.6, 1.0, 8.0, 16.0, 1.5, 0.6, UF_WATER_MIXED, false},
    {UF_BOX, UF_FLAT, 6.0, 1.3, 7.0, 13.0, 2.5, 0.3, UF_WATER_MIXED, false},
    {UF_HORIZONTAL_CYLINDER, UF_ELLIPSOIDAL_2_TO_1, 3.0, 1.4, 9.0, 18.0, 4.0, 1.2, UF_WATER_MIXED,
     false},
    {UF_HORIZONTAL_CYLINDER, UF_FLAT, 2.5, 1.2, 8.0, 14.0, 2.0, 0.6, UF_WATER_LAYERED, false},
    {UF_BOX, UF_FLAT, 3.0, 1.2, 9.0, 16.0, 2.5, 0.9, UF_WATER_LAYERED, false},
    {UF_HORIZONTAL_CYLINDER, UF_FLAT, 12.0, 0.8, 7.0, 15.0, 2.0, 0.6, UF_WATER_MIXED, false},
    {UF_BOX, UF_FLAT, 2.0, 0.6, 7.0, 12.0, 1.5, 0.0, UF_WATER_MIXED, false},
    {UF_HORIZONTAL_CYLINDER, UF_HEMISPHERICAL, 5.0, 1.3, 8.0, 13.0, 1.0, 0.6, UF_WATER_UNMIXED,
     false},
    {UF_BOX, UF_FLAT, 1.6, 1.0, 8.0, 15.0, 1.2, 0.6, UF_WATER_LAYERED, true},
};
enum { N_PLACES = sizeof PLACES / sizeof PLACES[0] };

static struct uf_case design_of(const struct place *p)
{
    struct uf_case d = runs_tank();
    d.tank.shape = p->shape;
    d.tank.heads = p->heads;
    d.tank.length_m = p->length_m;
    d.tank.level_m = p->level_m;
    d.tank.water = p->water;
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    d.grid.finest_m = 0.4;
    d.board.beyond_tank_m = p->beyond_m;
    for (size_t i = 0; i < 2 && p->risers; i++) {
        d.tank.n_risers = 2;
        d.tank.risers[i] = d.tank.risers[0];
        d.tank.risers[i].lid_at = UF_LID_TOP;
        d.tank.risers[i].shell =
            (struct uf_shell){.sleeve_m = 0.1, .sleeve_W_mK = 0.03, .sleeve_length_m = INFINITY};
    }
    d.tank.empty_mass_kg = 30000.0; /* lies still */
    d.limits.water_degC = p->least_degC;
    d.limits.ice_share = 1.0;
    d.sensitivity.temperature_K = 0.2;
    d.choices.n_cover = 2;
    d.choices.cover_m[0] = 0.9;
    d.choices.cover_m[1] = 1.5;
    d.choices.n_thickness = 3;
    d.choices.thickness_m[1] = 0.1;
    d.choices.thickness_m[2] = 0.2;
    d.choices.n_beyond = 1;
    d.choices.beyond_m[0] = p->beyond_m;
    for (size_t v = 0; v < UF_VARIANTS; v++) { /* two cases are enough to carry */
        const bool kept = strcmp(uf_variants[v].name, "wetter soil") == 0 ||
                          strcmp(uf_variants[v].name, "lowest level") == 0;
        d.sensitivity.left_out |= kept ? 0UL : 1UL << v;
    }
    return d;
}

static void run_jobs(struct uf_job *jobs, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct uf_job *job = &jobs[i];
        job->status = uf_run_all(&job->summary, NULL, &job->design, job->forcing, &job->options,
                                 NULL, &job->err);
        job->done = true;
        cr_assert(job->status == UF_OK, "%s", job->err.text);
    }
}

struct outcome {
    long pick, next_best;
    size_t solid, plane; /* runs */
    double water_degC;   /* of the pick */
};

static struct outcome search(const struct uf_case *d, const struct uf_forcing *forcing, bool whole)
{
    struct uf_choices_result *choices = NULL;
    struct uf_robust *robust = NULL;
    const struct uf_run_options options = uf_run_defaults();
    size_t n = 0;
    struct uf_job *jobs = NULL;
    const struct uf_choice_input input = {
        .design = d, .forcing = forcing, .options = options, .whole = whole};
    cr_assert(uf_choice_create(&choices, &input, NULL) == UF_OK);
    jobs = uf_bank_pending(&choices->bank, &n);
    run_jobs(jobs, n);
    cr_assert(uf_choice_judge(choices, NULL) == UF_OK);
    const struct uf_robust_input more = {
        .design = d, .forcing = forcing, .options = options, .whole = whole};
    cr_assert(uf_robust_create(&robust, choices, &more, NULL) == UF_OK);
    do {
        cr_assert(uf_robust_next(&jobs, &n, robust, NULL) == UF_OK);
        run_jobs(jobs, n);
    } while (n > 0);
    struct outcome out = {.pick = choices->pick, .next_best = choices->next_best};
    for (size_t i = 0; i < choices->bank.n; i++) {
        const bool plane = choices->bank.jobs[i].design.tank.ends == UF_ENDS_PLANE;
        out.plane += plane ? 1 : 0;
        out.solid += plane ? 0 : 1;
    }
    out.water_degC = out.pick < 0
                         ? (double)NAN
                         : uf_limit_water_degC(uf_choice_summary(choices, (size_t)out.pick));
    cr_expect(out.pick < 0 || choices->rows[out.pick].solid);
    uf_robust_free(robust);
    uf_choice_free(choices);
    return out;
}

/* The recommendation, the next best, and the very number: three dimensions either way. */
Test(ends, screening_drops_nothing_that_the_whole_search_picks)
{
    size_t picked = 0;
    size_t spared = 0;
    size_t tried = 0;
    for (size_t k = 0; k < (getenv("UF_TEST_LIGHT") != NULL ? 2 : N_PLACES); k++) {
        const struct uf_case d = design_of(&PLACES[k]);
        struct runs_weather *w = runs_weather_create(PLACES[k].mean_degC, PLACES[k].amplitude_K);
        struct uf_forcing *forcing = runs_forcing(&d, w);
        const struct outcome whole = search(&d, forcing, true);
        const struct outcome quick = search(&d, forcing, false);
        cr_expect(quick.pick == whole.pick, "place %zu: %ld, whole %ld", k, quick.pick, whole.pick);
        cr_expect(quick.next_best == whole.next_best, "place %zu: %ld, whole %ld", k,
                  quick.next_best, whole.next_best);
        cr_expect(whole.pick < 0 || quick.water_degC == whole.water_degC);
        picked += whole.pick >= 0 ? 1 : 0;
        tried += quick.solid;
        spared += whole.solid > quick.solid ? whole.solid - quick.solid : 0;
        uf_forcing_free(forcing);
        free(w);
    }
    cr_expect(picked >= 2, "nothing to drop: %zu picks", picked);
    cr_expect(tried > 2 * picked, "no option holds as a plane section alone");
    cr_expect(spared > 0, "%zu runs spared, %zu made", spared, tried);
}

/* What the plane run found is what a run in three dimensions looks for itself: the same numbers. */
Test(ends, a_run_begins_with_what_its_plane_section_found)
{
    const struct uf_case d = design_of(&PLACES[6]);
    struct runs_weather *w = runs_weather_create(PLACES[6].mean_degC, PLACES[6].amplitude_K);
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_job jobs[3] = {{.design = uf_ends_plane(&d),
                              .forcing = forcing,
                              .options = uf_run_defaults(),
                              .keep_found = true},
                             {.design = d, .forcing = forcing, .options = uf_run_defaults()},
                             {.design = d, .forcing = forcing, .options = uf_run_defaults()}};
    double *nothing_K = NULL;
    for (size_t i = 0; i < 4; i++) {
        struct uf_job *job = &jobs[i < 3 ? i : 2];
        struct uf_pool *pool = NULL;
        cr_assert(uf_pool_create(&pool, job, 1, 1, NULL) == UF_OK);
        uf_pool_free(pool); /* waits */
        cr_assert(job->status == UF_OK, "%s", job->err.text);
        jobs[1].options.plane_K = jobs[0].found_K;
        jobs[1].options.n_plane = jobs[0].n_found;
        if (i == 2) {
            cr_expect_eq(jobs[1].summary.water.degC, jobs[2].summary.water.degC);
            cr_expect_eq(jobs[1].summary.counters.rhs, jobs[2].summary.counters.rhs);
            nothing_K = calloc(jobs[0].n_found, sizeof *nothing_K);
            jobs[2].options.plane_K = nothing_K; /* ... and it is used: none at all is another */
            jobs[2].options.n_plane = jobs[0].n_found;
        }
    }
    cr_expect(jobs[1].summary.water.degC != jobs[2].summary.water.degC);
    cr_expect(jobs[0].n_found > 0);
    free(nothing_K);
    uf_pool_forget(&jobs[0]);
    uf_forcing_free(forcing);
    free(w);
}

/* By hand: the case at its own plane water, lower by what the ends take from the design's. */
Test(ends, a_case_carries_what_the_ends_change)
{
    const size_t water = (size_t)(uf_limit_find("limits.water") - uf_limits);
    const size_t ice = (size_t)(uf_limit_find("limits.ice") - uf_limits);
    struct uf_verdict plane = {.ok = true};
    for (size_t k = 0; k < uf_limit_count; k++) {
        plane.margin[k] = plane.got[k] = plane.asked[k] = NAN;
    }
    plane.got[water] = 5.0;
    plane.margin[water] = 4.0;
    struct uf_verdict solid = plane;
    struct uf_verdict other = plane;
    solid.got[water] = 4.7;
    solid.margin[water] = 3.7;
    other.got[water] = 1.2;
    other.margin[water] = 0.2;
    const struct uf_verdict carried = uf_ends_carried(&other, &plane, &solid);
    cr_expect_float_eq(carried.margin[water], -0.1, 1e-12);
    cr_expect(!carried.ok && carried.governs == water);
    cr_expect(uf_ends_near(&carried, 0.9) && !uf_ends_near(&solid, 4.7));
    struct uf_case design = {.tank = {.shape = UF_BOX, .length_m = 2.6, .width_m = 1.5}};
    struct uf_summary run = {.riser_share = NAN};
    cr_expect(uf_ends_warmest(&carried, &design, &run).margin[water] < 0.0);
    run.riser_share = 1.0; /* a tank that loses its heat by risers may gain by its ends */
    cr_expect(uf_ends_warmest(&carried, &design, &run).margin[water] > 0.0);
    other.margin[ice] = -0.05;
    cr_expect(uf_ends_warmest(&other, &design, &run).margin[ice] > 0.0);
    solid.margin[ice] = 0.0; /* none, plane: says nothing of a case at freezing */
    cr_expect(!uf_ends_near(&solid, 4.7) && uf_ends_near(&solid, 0.1));
}
