#include "solver/base/error.h"

#include <criterion/criterion.h>

#include <string.h>

Test(error, fail_fills_code_and_text)
{
    struct uf_error err = {0};
    cr_expect_eq(uf_fail(&err, UF_E_RANGE, "cover = %g m", 3.5), UF_E_RANGE);
    cr_expect_eq(err.code, UF_E_RANGE);
    cr_expect_str_eq(err.text, "cover = 3.5 m");
}

Test(error, fail_accepts_no_error_and_long_text)
{
    struct uf_error err = {0};
    char longer[2000];
    memset(longer, 'x', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    cr_expect_eq(uf_fail(NULL, UF_E_FILE, "nothing"), UF_E_FILE);
    (void)uf_fail(&err, UF_E_FILE, "%s", longer);
    cr_expect_eq(strlen(err.text), sizeof err.text - 1);
}

Test(error, every_status_has_a_text)
{
    for (int code = 0; code < UF_STATUS_COUNT; code++) {
        cr_expect(strlen(uf_status_text((enum uf_status)code)) > 3);
    }
    cr_expect_str_eq(uf_status_text((enum uf_status)99), "unknown status");
}
