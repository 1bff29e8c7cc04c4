#include "io/site/site_file.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

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

/* A megabyte is read, a byte more is no site file. */
Test(site_depth, a_file_over_a_megabyte_is_refused)
{
    enum { MOST = 1024 * 1024 };
    char path[] = "/tmp/uf-large-XXXXXX";
    const int id = mkstemp(path);
    cr_assert(id >= 0);
    FILE *file = fdopen(id, "w");
    for (size_t i = 0; i < MOST; i++) {
        (void)fputc(i % 80 == 79 ? '\n' : '#', file);
    }
    for (size_t more = 0; more < 2; more++) {
        struct uf_site *site = NULL;
        struct uf_site_faults faults = {0};
        struct uf_error err = {0};
        (void)fflush(file);
        const enum uf_status status = uf_site_read(&site, path, NULL, &faults, &err);
        cr_expect_eq(status, more > 0 ? UF_E_FILE : UF_E_INPUT, "%zu: %d", more, (int)status);
        cr_expect((strstr(err.text, "megabyte") != NULL) == (more > 0), "%s", err.text);
        uf_site_faults_clear(&faults);
        uf_site_free(site);
        (void)fputc('#', file);
    }
    (void)fclose(file);
    (void)remove(path);
}
