#include "io/result/part_file.h"

#include <criterion/criterion.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A name beside the file itself; a file that is there, or is not yet, may be replaced. */
Test(part_file, a_plain_file_may_be_replaced)
{
    char part[UF_PART_FILE_SIZE], path[] = "/tmp/uf_part_XXXXXX";
    struct uf_error err = {0};
    const int file = mkstemp(path);
    cr_assert(file >= 0);
    (void)close(file);
    cr_expect_eq(uf_part_file_name(part, path, &err), UF_OK, "%s", err.text);
    cr_expect_eq(strncmp(part, path, strlen(path)), 0);
    cr_assert_eq(unlink(path), 0);
    cr_expect_eq(uf_part_file_name(part, path, &err), UF_OK, "%s", err.text);
    cr_expect_eq(uf_part_file_name(part, "", &err), UF_E_FILE);
}

/* Renamed over a device, a file would take its place for the whole machine. */
Test(part_file, a_device_a_folder_and_a_pipe_stay)
{
    char part[UF_PART_FILE_SIZE], pipe_path[] = "/tmp/uf_pipe_XXXXXX";
    struct uf_error err = {0};
    cr_assert_not_null(mkdtemp(pipe_path));
    cr_expect_eq(uf_part_file_name(part, pipe_path, &err), UF_E_FILE);
    cr_assert_eq(rmdir(pipe_path), 0);
    cr_assert_eq(mkfifo(pipe_path, 0600), 0);
    cr_expect_eq(uf_part_file_name(part, pipe_path, &err), UF_E_FILE);
    cr_assert_eq(unlink(pipe_path), 0);
    cr_expect_eq(uf_part_file_name(part, "/dev/null", &err), UF_E_FILE);
    cr_expect(strstr(err.text, "/dev/null") != NULL && strstr(err.text, "plain file"), "%s",
              err.text);
}
