#include "cli/folder.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A folder of its own, in which the tests make theirs. */
static char *make_place(char *path, size_t size)
{
    (void)snprintf(path, size, "/tmp/uf_folder_XXXXXX");
    cr_assert_not_null(mkdtemp(path));
    return path;
}

static void remove_place(const char *path)
{
    char command[128];
    (void)snprintf(command, sizeof command, "rm -rf '%s'", path);
    cr_expect_eq(system(command), 0);
}

static void write_file(const char *folder, const char *name, const char *text)
{
    char path[256];
    FILE *file = fopen(uf_folder_path(path, sizeof path, folder, name), "w");
    cr_assert_not_null(file);
    cr_assert(fputs(text, file) >= 0 && fclose(file) == 0);
}

static bool holds(const char *folder, const char *name, const char *text)
{
    char path[256];
    char line[64] = "";
    FILE *file = fopen(uf_folder_path(path, sizeof path, folder, name), "r");
    if (file == NULL) {
        return false;
    }
    const bool same = fgets(line, sizeof line, file) != NULL && strcmp(line, text) == 0;
    (void)fclose(file);
    return same;
}

Test(folder, is_named_after_the_site_file)
{
    char text[64];
    cr_expect_str_eq(uf_folder_default(text, sizeof text, "larch.yaml"), "larch");
    cr_expect_str_eq(uf_folder_default(text, sizeof text, "a.b/c/larch.v2.yaml"), "larch.v2");
    /* Without an ending it would be the site file itself. */
    cr_expect_str_eq(uf_folder_default(text, sizeof text, "sites/larch"), "larch.out");
    cr_expect_str_eq(uf_folder_default(text, sizeof text, "sites/.larch"), ".larch.out");
    cr_expect_str_eq(uf_folder_path(text, sizeof text, "larch", "result.h5"), "larch/result.h5");
}

Test(folder, is_made_and_accepted_again)
{
    char place[64];
    char path[128];
    struct stat info;
    struct uf_error err = {0};
    uf_folder_path(path, sizeof path, make_place(place, sizeof place), "larch");
    cr_assert(uf_folder_open(path, false, &err) == UF_OK, "%s", err.text);
    cr_expect(stat(path, &info) == 0 && S_ISDIR(info.st_mode));
    write_file(path, "winters.part", "an interrupted run");
    cr_expect(uf_folder_open(path, false, &err) == UF_OK, "our own, again: %s", err.text);
    remove_place(place);
}

/* A study is replaced only where that is asked for. */
Test(folder, a_study_is_kept)
{
    static const char *const files[] = {"result.h5", "report.html"};
    for (size_t i = 0; i < 2; i++) {
        char place[64];
        char path[128];
        struct uf_error err = {0};
        uf_folder_path(path, sizeof path, make_place(place, sizeof place), "larch");
        cr_assert(uf_folder_open(path, false, &err) == UF_OK, "%s", err.text);
        write_file(path, files[i], "the last answer");
        cr_expect_eq(uf_folder_open(path, false, &err), UF_E_FILE);
        cr_expect(strstr(err.text, "--force") != NULL && strstr(err.text, "-o") != NULL, "%s",
                  err.text);
        cr_expect(holds(path, files[i], "the last answer"));
        cr_expect(uf_folder_open(path, true, &err) == UF_OK, "%s", err.text);
        remove_place(place);
    }
}

Test(folder, an_empty_one_is_taken)
{
    char place[64];
    struct uf_error err = {0};
    cr_expect(uf_folder_open(make_place(place, sizeof place), false, &err) == UF_OK, "%s",
              err.text);
    remove_place(place);
}

Test(folder, another_ones_is_refused_and_untouched)
{
    char place[64];
    char path[128];
    struct uf_error err = {0};
    write_file(make_place(place, sizeof place), "thesis.txt", "years of work");
    cr_expect_eq(uf_folder_open(place, true, &err), UF_E_FILE);
    cr_expect(strstr(err.text, place) != NULL && strstr(err.text, "-o") != NULL, "%s", err.text);
    cr_expect(holds(place, "thesis.txt", "years of work"));
    cr_expect_neq(access(uf_folder_path(path, sizeof path, place, ".underfrost"), F_OK), 0,
                  "no mark is left in it");
    /* A hidden file counts as well. */
    cr_assert_eq(unlink(uf_folder_path(path, sizeof path, place, "thesis.txt")), 0);
    write_file(place, ".notes", "hidden");
    cr_expect_eq(uf_folder_open(place, true, &err), UF_E_FILE);
    remove_place(place);
}

Test(folder, a_file_or_nowhere_is_refused)
{
    char place[64];
    char path[128];
    char endless[1200];
    struct uf_error err = {0};
    write_file(make_place(place, sizeof place), "larch", "a file");
    uf_folder_path(path, sizeof path, place, "larch");
    cr_expect_eq(uf_folder_open(path, false, &err), UF_E_FILE);
    cr_expect(strstr(err.text, "is a file") != NULL, "%s", err.text);
    cr_expect(holds(place, "larch", "a file"));
    uf_folder_path(path, sizeof path, place, "not/there");
    cr_expect_eq(uf_folder_open(path, false, &err), UF_E_FILE);
    cr_expect(strstr(err.text, "-o") != NULL, "%s", err.text);
    cr_expect_eq(uf_folder_open("", false, &err), UF_E_FILE);
    memset(endless, 'a', sizeof endless - 1);
    endless[sizeof endless - 1] = '\0';
    cr_expect_eq(uf_folder_open(endless, false, &err), UF_E_FILE);
    remove_place(place);
}
