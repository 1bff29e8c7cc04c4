#include "io/site/site_leaves.h"

#include <criterion/criterion.h>

#include <string.h>

static const char text[] = "site: {name: Larch Hollow}\n"
                           "ground:\n"
                           "  - {to: 1 m, soil: silt}\n"
                           "  - {to: 15 m, soil: clay, moisture: 20 percent}\n"
                           "burial: {cover: 1.2 m}\n"
                           "board:\n"
                           "initial: {profile: [[0 m, 5 degC], [10 m, 6 degC]]}\n"
                           "choices: {cover: [0.9 m, 1.2 m]}\n";

static struct uf_site_leaves read(const char *what, const char *changes)
{
    struct uf_site_leaves leaves;
    struct uf_error err = {0};
    cr_assert_eq(uf_site_leaves(&leaves, what, changes, &err), UF_OK, "%s", err.text);
    return leaves;
}

static void expect(const struct uf_site_leaves *leaves, const char *key, const char *value)
{
    const char *got = uf_site_leaves_value(leaves, key);
    cr_assert_not_null(got, "%s is not there", key);
    cr_expect_str_eq(got, value, "%s: %s", key, got);
}

Test(site_leaves, every_key_has_its_path_and_value)
{
    struct uf_site_leaves leaves = read(text, NULL);
    expect(&leaves, "site.name", "Larch Hollow");
    expect(&leaves, "ground[0].soil", "silt");
    expect(&leaves, "ground[1].moisture", "20 percent");
    expect(&leaves, "choices.cover", "[0.9 m, 1.2 m]");
    expect(&leaves, "initial.profile", "[[0 m, 5 degC], [10 m, 6 degC]]");
    cr_expect_null(uf_site_leaves_value(&leaves, "board"), "an empty block is none");
    cr_expect_eq(leaves.n, 9, "%zu", leaves.n);
    uf_site_leaves_free(&leaves);
}

Test(site_leaves, changes_lie_over_the_text)
{
    struct uf_site_leaves leaves =
        read(text, "burial.cover=1.5m\nboard.thickness=50 mm\nground[1].to=9 m\n"
                   "ground[7].to=9 m\nnonsense\nchoices.cover=[2 m, 3 m]\n");
    expect(&leaves, "burial.cover", "1.5m");
    expect(&leaves, "board.thickness", "50 mm");
    expect(&leaves, "ground[1].to", "9 m");
    expect(&leaves, "choices.cover", "[2 m, 3 m]");
    cr_expect_null(uf_site_leaves_value(&leaves, "ground[7].to"));
    uf_site_leaves_free(&leaves);
}

Test(site_leaves, a_value_can_be_put_in_place)
{
    struct uf_site_leaves leaves = read(text, NULL);
    const size_t before = leaves.n;
    cr_expect_eq(uf_site_leaves_put(&leaves, "burial.cover", "9 m", NULL), UF_OK);
    cr_expect_eq(leaves.n, before);
    cr_expect_eq(uf_site_leaves_put(&leaves, "load.wheel", "H20", NULL), UF_OK);
    cr_expect_eq(leaves.n, before + 1);
    expect(&leaves, "burial.cover", "9 m");
    expect(&leaves, "load.wheel", "H20");
    uf_site_leaves_free(&leaves);
}

/* 1.5 m is 150 cm and 59.0551... in; 0 degC is 32 degF: by definition. */
Test(site_leaves, values_are_the_same_by_size)
{
    cr_expect(uf_site_leaves_same("burial.cover", "1.5 m", "150 cm"));
    cr_expect(uf_site_leaves_same("burial.cover", "1.5m", "1.5 m"));
    cr_expect(!uf_site_leaves_same("burial.cover", "1.5 m", "1.5 ft"));
    cr_expect(uf_site_leaves_same("ground[12].to", "2 ft", "24 in"));
    cr_expect(uf_site_leaves_same("limits.water", "0 degC", "32 degF"));
    cr_expect(!uf_site_leaves_same("limits.water", "0 degC", "33 degF"));
    cr_expect(uf_site_leaves_same("burial.pit.slope", "1", "1.0"));
    cr_expect(uf_site_leaves_same("choices.cover", "[1 m, 2 m]", "[1 m,2 m]"));
    cr_expect(!uf_site_leaves_same("choices.cover", "[1 m, 2 m]", "[1 m, 3 m]"));
    cr_expect(!uf_site_leaves_same("ground[0].soil", "silt", "clay"));
    cr_expect(!uf_site_leaves_same("no.such_key", "1.5 m", "150 cm"),
              "a key of another version is told apart by its letters");
    cr_expect(!uf_site_leaves_same("burial.cover", "1.5 m", NULL));
    cr_expect(uf_site_leaves_same("burial.cover", NULL, NULL));
}

Test(site_leaves, what_is_no_site_is_said)
{
    static const char *const rows[] = {"",         "just words",        "[1, 2]",
                                       "a: {b: [", "a: 1\n---\nb: 2\n", "\x01\xff"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct uf_site_leaves leaves;
        struct uf_error err = {0};
        const enum uf_status status = uf_site_leaves(&leaves, rows[i], NULL, &err);
        if (i == 4) { /* a second document is left alone, the first is read */
            cr_expect_eq(status, UF_OK);
        } else {
            cr_expect_eq(status, UF_E_INPUT, "%zu", i);
            cr_expect(strstr(err.text, "site file") != NULL, "%s", err.text);
            cr_expect_eq(leaves.n, 0);
        }
        uf_site_leaves_free(&leaves);
    }
}

/* A damaged file may hold a text that points into itself. */
Test(site_leaves, a_knot_of_aliases_ends)
{
    struct uf_site_leaves leaves = read("a: &a {b: 1 m, c: [&d [1, 2], *d]}\ne: *a\n", "a.b=2 m");
    expect(&leaves, "a.b", "2 m");
    expect(&leaves, "e.c", "[[1, 2], [1, 2]]");
    uf_site_leaves_free(&leaves);
    char laughs[600] = "a0: &a0 [x, x]\n";
    for (int i = 1; i < 20; i++) {
        const size_t used = strlen(laughs);
        (void)snprintf(laughs + used, sizeof laughs - used, "a%d: &a%d [*a%d, *a%d]\n", i, i, i - 1,
                       i - 1);
    }
    leaves = read(laughs, NULL);
    cr_expect_eq(leaves.n, 20);
    cr_expect(strlen(uf_site_leaves_value(&leaves, "a19")) < 1100, "cut, not endless");
    uf_site_leaves_free(&leaves);
}

Test(site_leaves, a_key_is_found_on_its_line)
{
    const char *plan = "site: a.yaml\nvary:\n  burial.cover: {from: 1 m, to: 2 m, steps: 3}\n"
                       "observed:\n  - {file: x.csv}\n  - {file: y.csv}\n";
    cr_expect_eq(uf_site_leaves_line(plan, "burial.cover", NULL), 3);
    cr_expect_eq(uf_site_leaves_line(plan, "observed[1].file", "y.csv"), 6);
    cr_expect_eq(uf_site_leaves_line(plan, "observed[1].file", "by_set.csv"), 0);
    cr_expect_eq(uf_site_leaves_line(plan, "cover", NULL), 3);
    cr_expect_eq(uf_site_leaves_line(plan, "over", NULL), 0, "part of a word");
    cr_expect_eq(uf_site_leaves_line(NULL, "site", NULL), 0);
}
