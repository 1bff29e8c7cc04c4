#include "io/picture/plot.h"
#include "io/result/result_file.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>
#include <hdf5.h>

/* Anchors and limits go through a file and into pictures as rows: nothing here names one. */

static char folder[1000], path[1100];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    (void)snprintf(path, sizeof path, "%s/result.h5", folder);
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(result_design, .init = open_folder, .fini = close_folder);

/* A result whose design has one kind of anchor; UF_ANCHORS: none. */
static struct uf_result *anchored(int kind)
{
    struct uf_result *r = synthetic_result();
    struct uf_case design = synthetic_case();
    if (kind < UF_ANCHORS) {
        uf_anchor_at((enum uf_anchor_kind)kind)->put(&design, 0.5);
    }
    uf_result_design_fill(&r->design, &design);
    return r;
}

static size_t count_of(const struct uf_result *r, const char *picture, const char *part)
{
    const struct uf_plot_look look = {.format = "svg"};
    char *text = NULL;
    size_t n = 0;
    cr_assert_eq(uf_plot_text(&text, uf_plot_find(picture), r, &look, NULL), UF_OK);
    for (const char *at = text; (at = strstr(at, part)) != NULL; at++) {
        n++;
    }
    free(text);
    return n;
}

Test(result_design, every_kind_of_anchor_comes_back_and_is_drawn)
{
    struct uf_result *bare = anchored(UF_ANCHORS);
    cr_assert_eq(bare->design.n_anchors, 0);
    for (int kind = 0; kind < UF_ANCHORS; kind++) {
        struct uf_result *made = anchored(kind), *read = NULL;
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)kind);
        cr_assert_eq(made->design.n_anchors, 1);
        cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
        cr_assert_eq(uf_result_file_read(&read, path, NULL), UF_OK);
        cr_assert_eq(read->design.n_anchors, 1);
        const struct uf_result_anchor *anchor = &read->design.anchors[0];
        cr_expect_str_eq(anchor->name, row->one);
        cr_expect_eq(anchor->under_bedding, row->under_bedding);
        cr_expect_arr_eq(&anchor->body, &made->design.anchors[0].body, sizeof anchor->body);
        const size_t sides = anchor->body.axis_m > 0.0 ? 2 : 1;
        const char *const concrete = "fill = 'rgb(200, 200, 200)'";
        cr_expect_eq(count_of(read, "section", concrete) - count_of(bare, "section", concrete),
                     sides, "%s", row->word);
        uf_result_free(made);
        uf_result_free(read);
    }
    uf_result_free(bare);
}

Test(result_design, every_limit_that_the_design_asks_for_comes_back)
{
    struct uf_result *made = anchored(UF_ANCHORS), *read = NULL;
    const struct uf_case design = synthetic_case();
    struct uf_summary summary = {.n_probes = 0};
    const struct uf_limit_facts facts = {.design = &design, .summary = &summary};
    size_t n = 0;
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    cr_assert_eq(uf_result_file_read(&read, path, NULL), UF_OK);
    for (size_t i = 0; i < uf_limit_count; i++) {
        const double asked = uf_limits[i].asked(&facts);
        if (isfinite(asked)) {
            cr_expect_str_eq(read->design.limits[n].key, uf_limits[i].key);
            cr_expect_eq(read->design.limits[n].asked, asked, "%s", uf_limits[i].key);
            n++;
        }
    }
    cr_expect(n > 2 && n == read->design.n_limits);
    uf_result_free(made);
    uf_result_free(read);
}

static void change_layout(long to)
{
    const hid_t file = H5Fopen(path, H5F_ACC_RDWR, H5P_DEFAULT);
    const hid_t layout = H5Aopen(file, "layout", H5P_DEFAULT);
    cr_assert(layout >= 0 && H5Awrite(layout, H5T_NATIVE_LONG, &to) >= 0);
    (void)H5Aclose(layout);
    if (to == 0) {
        (void)H5Adelete(file, "layout");
    }
    cr_assert(H5Fclose(file) >= 0);
}

Test(result_design, a_file_of_another_layout_is_refused_and_says_so)
{
    struct uf_result *made = anchored(UF_ANCHORS), *read = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    change_layout(3);
    cr_expect_eq(uf_result_file_read(&read, path, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "its layout is 3"), "%s", err.text);
    change_layout(0);
    cr_expect_eq(uf_result_file_read(&read, path, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "earlier version"), "%s", err.text);
    cr_expect_null(read);
    uf_result_free(made);
}
