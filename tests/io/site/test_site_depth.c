#include "io/site/site_file.h"

#include <criterion/criterion.h>

#include <stdlib.h>
#include <string.h>

/* 400 kB of brackets, closed or not, once cost minutes; the time limit is what fails. */
Test(site_depth, brackets_without_end_are_refused_at_once, .timeout = 5)
{
    enum { N = 200000 };
    char *text = malloc(2 * N + 8);
    cr_assert_not_null(text);
    memcpy(text, "a:\n  ", 5);
    memset(text + 5, '[', N);
    memset(text + 5 + N, ']', N);
    for (size_t size = 2 * N + 5; size >= N + 5; size -= N) {
        struct uf_site *site = NULL;
        struct uf_site_faults faults = {0};
        struct uf_error err = {0};
        cr_expect_eq(uf_site_parse(&site, "x", text, size, NULL, &faults, &err), UF_E_INPUT);
        cr_assert_eq(faults.n, 1);
        cr_expect_eq(faults.rows[0].line, 2);
        cr_expect_not_null(strstr(faults.rows[0].what.text, "sixteen"), "%s",
                           faults.rows[0].what.text);
        uf_site_faults_clear(&faults);
    }
    free(text);
}
