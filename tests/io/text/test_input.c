#include "io/text/input.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

#include <sys/stat.h>

/* A pipe nobody writes into would hold the program for ever. */
Test(input, only_plain_files_are_opened_and_at_once, .timeout = 10)
{
    char folder[1000], path[1100];
    struct uf_error err = {0};
    FILE *file = NULL;
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    (void)snprintf(path, sizeof path, "%s/pipe", folder);
    cr_assert_eq(mkfifo(path, 0600), 0);
    cr_expect_eq(uf_input_open(&file, path, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "pipe"), "%s", err.text);
    cr_expect_eq(uf_input_open(&file, "/dev/zero", &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "plain"), "%s", err.text);
    cr_expect_eq(uf_input_open(&file, folder, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "folder"), "%s", err.text);
    cr_expect_eq(uf_input_open(&file, "/nowhere/at/all", &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "could not be opened"), "%s", err.text);
    cr_expect_null(file);
    (void)snprintf(path, sizeof path, "%s/plain", folder);
    file = fopen(path, "w");
    cr_assert(file != NULL && fputs("seven", file) >= 0 && fclose(file) == 0);
    cr_assert_eq(uf_input_open(&file, path, &err), UF_OK, "%s", err.text);
    char text[8] = "";
    cr_expect_not_null(fgets(text, sizeof text, file));
    cr_expect_str_eq(text, "seven");
    (void)fclose(file);
    synthetic_remove(folder);
}
