#include "solver/choice/limit.h"
#include "tests/runs.h"

#include <string.h>

/* Facts of a design that meets every limit with a wide margin. */
struct facts {
    struct uf_case design;
    struct uf_summary summary;
    struct uf_uplift uplift;
    struct uf_load load;
};

static void good(struct facts *f)
{
    memset(f, 0, sizeof *f);
    f->design = runs_tank();
    f->design.limits.greatest_cover_m = 2.0;
    f->summary.water.degC = 4.0;
    f->summary.wall.degC = 3.5;
    f->uplift.highest.factor_submerged = 1.8;
    f->uplift.straps.use = 0.5;
    f->load.present = true;
    f->load.board_use = 0.5;
    f->summary.n_probes = f->summary.n_pipes = 1;
    f->summary.probes[0].least.degC = 3.0;
    f->summary.pipes[0].least.degC = 2.0;
}

static struct uf_verdict judge(const struct facts *f)
{
    const struct uf_limit_facts facts = {&f->design, &f->summary, &f->uplift, &f->load};
    return uf_limit_verdict(&facts);
}

static size_t row_of(const char *key)
{
    for (size_t i = 0; i < uf_limit_count; i++) {
        if (strcmp(uf_limits[i].key, key) == 0) {
            return i;
        }
    }
    cr_assert_fail("no limit %s", key);
    return uf_limit_count;
}

Test(limit, all_met_and_the_least_margin_governs)
{
    struct facts f;
    good(&f);
    const struct uf_verdict v = judge(&f);
    cr_expect(v.ok);
    cr_expect_float_eq(v.margin[row_of("limits.water")], 2.5, 1e-12);
    cr_expect_float_eq(v.margin[row_of("limits.uplift_factor")], 0.5, 1e-12);
    cr_expect_float_eq(v.margin[row_of("board.type")], 0.5, 1e-12);
    cr_expect_float_eq(v.margin[row_of("limits.greatest_cover")], 1.0, 1e-12);
    /* 2 K at the pipe is the fewest of comfortable sizes: 2 against 2.5, 3, 5, 5, 10. */
    cr_expect_eq(v.governs, row_of("pipes.depth"));
}

Test(limit, each_one_fails_alone)
{
    static const char *const keys[] = {
        "limits.water", "limits.ice",   "limits.uplift_factor", "limits.greatest_cover",
        "board.type",   "probes.least", "pipes.depth",          "anchors.strap_strength"};
    for (size_t k = 0; k < sizeof keys / sizeof keys[0]; k++) {
        struct facts f;
        good(&f);
        double *const spoil[] = {&f.summary.wall.degC,
                                 &f.summary.ice_share,
                                 &f.uplift.highest.factor_submerged,
                                 &f.design.burial.cover_m,
                                 &f.load.board_use,
                                 &f.summary.probes[0].least.degC,
                                 &f.summary.pipes[0].least.degC,
                                 &f.uplift.straps.use};
        const double bad[] = {0.4, 0.2, 1.2, 2.5, 1.1, -0.5, -0.3, 1.2};
        *spoil[k] = bad[k];
        const struct uf_verdict v = judge(&f);
        cr_expect(!v.ok && v.governs == row_of(keys[k]), "%s: governs %zu", keys[k], v.governs);
        for (size_t i = 0; i < uf_limit_count; i++) {
            cr_expect((v.margin[i] < 0.0) == (i == row_of(keys[k])), "%s and %s", keys[k],
                      uf_limits[i].key);
        }
    }
}

Test(limit, what_does_not_apply_is_no_number_and_no_ice_never_governs)
{
    struct facts f;
    good(&f);
    f.summary.water.degC = f.summary.wall.degC = NAN;
    f.load.present = false;
    f.summary.n_probes = f.summary.n_pipes = 0;
    f.design.limits.greatest_cover_m = NAN;
    f.design.board.present = false;
    f.uplift.highest.factor_submerged = f.uplift.straps.use = NAN;
    const struct uf_verdict v = judge(&f);
    cr_expect(v.ok && v.governs == uf_limit_count, "governs %zu", v.governs);
    cr_expect(isnan(v.margin[row_of("limits.water")]) && isnan(v.margin[row_of("board.type")]));
}

/* Each margin is zero at its limit, which is met, and below zero a hair beyond. */
Test(limit, each_turns_at_its_limit)
{
    static const char *const keys[] = {
        "limits.water", "limits.ice",   "limits.uplift_factor", "limits.greatest_cover",
        "board.type",   "probes.least", "pipes.depth",          "anchors.strap_strength"};
    for (size_t k = 0; k < sizeof keys / sizeof keys[0]; k++) {
        struct facts f;
        good(&f);
        f.summary.probes[0].limit_degC = 0.5;
        double *const turn[] = {&f.summary.wall.degC,
                                &f.summary.ice_share,
                                &f.uplift.highest.factor_submerged,
                                &f.design.burial.cover_m,
                                &f.load.board_use,
                                &f.summary.probes[0].least.degC,
                                &f.summary.pipes[0].least.degC,
                                &f.uplift.straps.use};
        const double at[] = {1.0, 0.0, 1.3, 2.0, 1.0, 0.5, 0.0, 1.0};
        const double beyond[] = {-1e-9, 1e-9, -1e-9, 1e-9, 1e-9, -1e-9, -1e-9, 1e-9};
        *turn[k] = at[k];
        struct uf_verdict v = judge(&f);
        cr_expect(v.margin[row_of(keys[k])] == 0.0 && v.ok, "%s: %g", keys[k],
                  v.margin[row_of(keys[k])]);
        *turn[k] = at[k] + beyond[k];
        v = judge(&f);
        cr_expect(v.margin[row_of(keys[k])] < 0.0 && !v.ok && v.governs == row_of(keys[k]), "%s",
                  keys[k]);
    }
}

/* Ice cannot be better than none: just met, it does not govern before what can be. */
Test(limit, capped_ice_governs_only_when_missed)
{
    struct facts f;
    good(&f);
    f.summary.ice_share = 0.0;
    cr_expect_neq(judge(&f).governs, row_of("limits.ice"));
    f.design.limits.ice_share = 0.1;
    f.summary.ice_share = 0.1;
    cr_expect_neq(judge(&f).governs, row_of("limits.ice"));
    f.summary.ice_share = 0.4;
    cr_expect_eq(judge(&f).governs, row_of("limits.ice"));
}

/* Of several, the coldest against its own limit counts; one without a limit never. */
Test(limit, the_worst_of_several_probes)
{
    struct facts f;
    good(&f);
    f.summary.n_probes = 3;
    f.summary.probes[0] = (struct uf_probe_summary){"a", {-5.0, 0}, 0, NAN};
    f.summary.probes[1] = (struct uf_probe_summary){"b", {2.0, 0}, 0, 1.5};
    f.summary.probes[2] = (struct uf_probe_summary){"c", {0.8, 0}, 0, 0.0};
    cr_expect_float_eq(judge(&f).margin[row_of("probes.least")], 0.5, 1e-12);
    f.summary.n_probes = 1;
    cr_expect(isnan(judge(&f).margin[row_of("probes.least")]));
    f.summary.wall.degC = NAN; /* still water that touches no wall that is watched */
    cr_expect_eq(uf_limit_water_degC(&f.summary), 4.0);
}

/* Whatever tells of a limit has it all from its row: a row without words or source would tell less. */
Test(limit, a_row_says_everything_and_the_margin_is_between_asked_and_got)
{
    struct facts f;
    good(&f);
    const struct uf_verdict v = judge(&f);
    cr_assert(uf_limit_count > 0 && uf_limit_count <= UF_LIMIT_MOST);
    for (size_t i = 0; i < uf_limit_count; i++) {
        const struct uf_limit *limit = &uf_limits[i];
        cr_expect(limit->key[0] != '\0' && limit->label[0] != '\0' && limit->brief[0] != '\0' &&
                      limit->source[0] != '\0' && limit->scale > 0.0,
                  "%s", limit->key);
        cr_expect_eq(uf_limit_find(limit->key), limit);
        if (!isnan(v.margin[i])) {
            const double sign = limit->at_least ? 1.0 : -1.0;
            cr_expect_float_eq(v.margin[i], sign * (v.got[i] - v.asked[i]), 1e-12, "%s",
                               limit->key);
        }
    }
    const size_t water = row_of("limits.water");
    cr_expect(v.got[water] == 3.5 && v.asked[water] == 1.0 && uf_limits[water].at_least);
    cr_expect_str_eq(uf_limit_unit(&uf_limits[water]), "K");
    cr_expect_str_eq(uf_limit_unit(&uf_limits[row_of("board.type")]), "share");
    cr_expect_str_eq(uf_limit_unit(&uf_limits[row_of("limits.uplift_factor")]), "factor");
    cr_expect_null(uf_limit_find("limits.of_no_kind"));
}

/* Of several places the one that decides tells its own limit. */
Test(limit, the_probe_that_decides_tells_what_was_asked_of_it)
{
    struct facts f;
    good(&f);
    f.summary.n_probes = 2;
    f.summary.probes[0] = (struct uf_probe_summary){"a", {2.0, 0}, 0, 1.5};
    f.summary.probes[1] = (struct uf_probe_summary){"b", {3.0, 0}, 0, 2.8};
    const struct uf_verdict v = judge(&f);
    const size_t probe = row_of("probes.least");
    cr_expect(v.asked[probe] == 2.8 && v.got[probe] == 3.0);
}

/* A designer may allow a skin of ice where the outlet keeps open: each by its own figure, neither
   where it was not asked for. */
Test(limit, ice_at_the_top_and_water_at_the_outlet)
{
    const size_t skin = row_of("limits.ice_thickness");
    const size_t outlet = row_of("limits.outlet");
    struct facts f;
    good(&f);
    f.summary.outlet.degC = 3.9;
    f.summary.ice_thickness_m = 0.04;
    f.design.limits.ice_share = 1.0;
    struct uf_verdict v = judge(&f);
    cr_expect(v.ok && isnan(v.margin[skin]) && isnan(v.margin[outlet]), "neither was asked for");
    f.design.limits.ice_thickness_m = 0.05;
    f.design.limits.outlet_degC = 2.0;
    v = judge(&f);
    cr_expect(v.ok);
    cr_expect_float_eq(v.margin[skin], 0.01, 1e-12);
    cr_expect_float_eq(v.margin[outlet], 1.9, 1e-12);
    f.summary.ice_thickness_m = 0.06;
    v = judge(&f);
    cr_expect(!v.ok && v.governs == skin);
    f.summary.ice_thickness_m = 0.0;
    f.summary.outlet.degC = 1.5;
    v = judge(&f);
    cr_expect(!v.ok && v.governs == outlet);
    cr_expect_float_eq(v.margin[outlet], -0.5, 1e-12);
}
