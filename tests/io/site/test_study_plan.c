#include "io/site/study_plan.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct uf_study_plan *read_text(const char *text, struct uf_error *err)
{
    char path[] = "/tmp/uf_plan_XXXXXX";
    struct uf_study_plan *plan = NULL;
    const int file = mkstemp(path);
    cr_assert_eq(write(file, text, strlen(text)), (ssize_t)strlen(text));
    (void)close(file);
    (void)uf_study_plan_read(&plan, path, err);
    (void)unlink(path);
    return plan;
}

Test(study_plan, everything_is_read)
{
    struct uf_error err = {0};
    struct uf_study_plan *p =
        read_text("site: a.yaml\n"
                  "stations: [{file: x.csv, column: y}, {file: z.csv}]\n"
                  "winters: [1 in 30, coldest recorded]\n"
                  "set: {tank.ends: plane, choices.cover: [0.9 m, 1.2 m]}\n"
                  "vary:\n"
                  "  burial.cover: [0.9 m, 1.2 m]\n"
                  "  ground[1].moisture: {from: 10 percent, to: 30 percent, steps: 5}\n"
                  "draws:\n"
                  "  correlations: [[\"ground[0].dry_density\", \"ground[0].moisture\", -0.6]]\n"
                  "  members: 20\n"
                  "  seed: 7\n"
                  "  keys:\n"
                  "    ground[0].dry_density: {normal: [1600 kg/m3, 80 kg/m3]}\n"
                  "    ground[0].moisture: {triangular: [10 percent, 15 percent, 30 percent]}\n"
                  "reliability: 1 in 100 years\n"
                  "life: 30 years\n",
                  &err);
    cr_assert_not_null(p, "%s", err.text);
    cr_expect_str_eq(p->site, "/tmp/a.yaml");
    cr_expect(p->n_stations == 2 && strcmp(p->stations[0].column, "y") == 0);
    cr_expect(p->n_winters == 2 && strcmp(p->winters[1], "coldest recorded") == 0 && !p->every);
    cr_expect(p->n_sets == 2 && strcmp(p->sets[1], "choices.cover=[0.9 m, 1.2 m]") == 0);
    cr_assert_eq(p->n_axes, 2);
    cr_expect(p->axes[0].n == 2 && p->axes[1].n == 5);
    cr_expect_str_eq(p->axes[1].key, "ground[1].moisture");
    cr_expect_str_eq(p->axes[1].values[1], "15 percent");
    cr_expect(p->members == 20 && p->seed == 7 && p->n_drawn == 2 && p->correlated);
    cr_expect_str_eq(p->drawn[1].key, "ground[0].moisture");
    cr_expect_str_eq(p->drawn[1].unit, "percent");
    cr_expect_eq(p->drawn[1].law.kind, UF_DRAW_TRIANGULAR);
    cr_expect_float_eq(p->correlation[1], -0.6, 1e-12);
    cr_expect_float_eq(p->reliability_years, 100.0, 1e-12);
    cr_expect_float_eq(p->life_years, 30.0, 1e-12);
    cr_expect(p->options);
    uf_study_plan_free(p);
}

Test(study_plan, a_bare_plan_is_one_member)
{
    struct uf_error err = {0};
    struct uf_study_plan *p = read_text("site: a.yaml\nwinters: every\noptions: no\n", &err);
    cr_assert_not_null(p, "%s", err.text);
    cr_expect(p->members == 1 && p->every && !p->options && isnan(p->reliability_years));
    uf_study_plan_free(p);
}

Test(study_plan, what_is_wrong_is_told_by_its_key)
{
    static const struct {
        const char *text, *word;
    } wrong[] = {
        {"winters: every\n", "site"},
        {"site: a\nsites: b\n", "sites"},
        {"site: a\nvary: {burial.cover: {from: 1 m, to: 200 cm, steps: 3}}\n", "one unit"},
        {"site: a\nvary.: r\n", "is not written so: a block such as {burial"},
        {"site: a\nvary: {burial.cover: {from: 1 m, to: 2 m}}\n", "has no from, to or steps"},
        {"site: a\nvary: {burial.cover: {uniform: [1 m, 2 m]}}\n", "under draws.keys"},
        {"site: a\nvary:\n  a.b: [1 m]\n  a.b.to: 3 m\n", "both a list and a range"},
        {"site: a\nvary:\n  a.b.to: 3 m\n  a.b: [1 m]\n", "both a list and a range"},
        {"site: a\nstations: [madison.csv]\n", "is not written so: a list such as [{file:"},
        {"site: a\ndraws: 3\n", "is not written so: a block of members"},
        {"site: a\nset: 3\n", "is not written so: a block such as {tank"},
        {"site: a\nvary: {burial.cover: {from: 1 m, to: 2 m, steps: 1}}\n", "range"},
        {"site: a\ndraws: {members: 5, keys: {a.b: {gumbel: [1, 2]}}}\n", "lognormal"},
        {"site: a\ndraws: {members: 5, keys: {a.b: {normal: [1 m]}}}\n", "standard deviation"},
        {"site: a\ndraws: {members: 5, keys: {a.b: {uniform: [2 m, 1 m]}}}\n", "less"},
        {"site: a\ndraws: {keys: {a.b: {uniform: [1 m, 2 m]}}}\n", "members"},
        {"site: a\ndraws: {members: 5, keys: {a.b: {uniform: [1, 2], normal: [1, 2]}}}\n",
         "is drawn twice"},
        {"site: a\nvary: {a.b: [1, 2]}\ndraws: {members: 5, keys: {a.b: {uniform: [1, 2]}}}\n",
         "is drawn too"},
        {"site: a\ndraws: {members: 5, keys: {'': {uniform: [1 m, 2 m]}}}\n", "has no name"},
        {"site: a\ndraws: {members: 5, keys: {uniform: [1 m, 2 m]}}\n", "no such distribution"},
        {"site: a\ndraws: {members: 1.5}\n", "members"},
        {"site: a\ndraws: {members: 5, keys: {a.b: {uniform: [1, 2]}}, correlations: [[a.b, c, "
         "0.5]]}\n",
         "drawn key"},
        {"site: a\nreliability: 100 years\n", "1 in 100 years"},
        {"site: a\nstations: [{folder: /no/such/folder}]\n", "no such folder"},
        {"site: [a\n", "YAML"},
        {"site: a\nset: {ground[0].moisture: 5 percent}\n", "in quotes"},
        {"site: a\nwinters: []\n", "has no value"},
        {"site: a\nstations: []\n", "is not written so: a list such as [{file:"},
        {"site: a\nvary: {burial.cover: []}\n", "has no value"},
        {"site: a\nvary: {tank.ends: [plane, three_dimensional, plane]}\n",
         "'plane' is there twice"},
        {"site: a\nvary: {burial.cover: {from: 1 m, to: 1 m, steps: 3}}\n", "is there twice"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        struct uf_error err = {0};
        cr_expect_null(read_text(wrong[i].text, &err), "%zu", i);
        cr_expect_eq(err.code, UF_E_INPUT);
        cr_expect(strstr(err.text, wrong[i].word) != NULL, "%zu: %s", i, err.text);
    }
}

/* Its cases would count twice in every share; by what it means, however it is written, on its own line. */
Test(study_plan, a_value_that_is_varied_twice_is_refused)
{
    struct uf_error err = {0};
    cr_expect_null(read_text("site: a\nset: {burial.cover: 1 m}\nvary:\n  tank.ends: [plane]\n"
                             "  burial.cover: [1 m, 2 m, 100 cm]\n",
                             &err));
    cr_expect_eq(err.fault.line, 5);
    cr_expect_str_eq(err.fault.key, "vary.burial.cover");
    cr_expect(strstr(err.text, "'100 cm' is there twice") != NULL, "%s", err.text);
}

/* What does not fit is told: a plan of 5000 stations ran 4000 of them, one of 5000 values 4000. */
Test(study_plan, a_plan_too_long_is_refused_not_cut)
{
    static const struct {
        const char *head, *before, *after;
    } plans[] = {{"site: a\nstations:\n", "  - {file: s", ".csv}\n"},
                 {"site: a\nvary:\n  burial.cover:\n", "    - ", " mm\n"}};
    for (size_t i = 0; i < sizeof plans / sizeof plans[0]; i++) {
        for (int n = 3000; n <= 5000; n += 2000) {
            struct uf_error err = {0};
            char *text = calloc(5001, 40);
            cr_assert_not_null(text);
            size_t used = (size_t)sprintf(text, "%s", plans[i].head);
            for (int k = 0; k < n; k++) {
                used += (size_t)sprintf(text + used, "%s%d%s", plans[i].before, k, plans[i].after);
            }
            struct uf_study_plan *plan = read_text(text, &err);
            cr_expect_eq(plan != NULL, n == 3000, "%d of %zu: %s", n, i, err.text);
            cr_expect(plan != NULL || strstr(err.text, "4000") != NULL, "%s", err.text);
            uf_study_plan_free(plan);
            free(text);
        }
    }
}
