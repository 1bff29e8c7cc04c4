#include "io/result/study_part.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>
#include <unistd.h>

static char path[64];

static void open_folder(void)
{
    (void)snprintf(path, sizeof path, "/tmp/uf_part_XXXXXX");
    const int file = mkstemp(path);
    cr_assert_geq(file, 0);
    (void)close(file);
}

static void close_folder(void)
{
    (void)unlink(path);
}

TestSuite(study_part, .init = open_folder, .fini = close_folder);

static const struct uf_study_part_kind kind = {0x123456789abcdefULL, 3};

struct got {
    size_t n, ids[20];
    double last[3];
    char message[UF_STUDY_MESSAGE];
};

static void take(void *payload, const struct uf_study_row *row)
{
    struct got *got = payload;
    got->ids[got->n++] = row->id;
    memcpy(got->last, row->values, sizeof got->last);
    (void)snprintf(got->message, sizeof got->message, "%s", row->message);
}

static void add(FILE *part, size_t id, const char *message)
{
    double values[] = {1.0 / 3.0, NAN, -1e-300};
    struct uf_study_row row = {.id = id, .status = UF_STUDY_FAILED, .values = values};
    (void)snprintf(row.message, sizeof row.message, "%s", message);
    cr_assert_eq(uf_study_part_append(part, &kind, &row, NULL), UF_OK);
}

static void write_three(void)
{
    struct got got = {0};
    FILE *part = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_study_part_open(&part, path, &kind, take, &got, &err), UF_OK, "%s", err.text);
    cr_assert_eq(got.n, 0);
    add(part, 5, "board: is out\nof the ground | so");
    add(part, 0, "");
    add(part, 9, "last");
    (void)fclose(part);
}

Test(study_part, numbers_come_back_to_the_last_bit)
{
    struct got got = {0};
    write_three();
    cr_assert_eq(uf_study_part_read(path, &kind, take, &got, NULL), UF_OK);
    cr_assert_eq(got.n, 3);
    cr_expect(got.ids[0] == 5 && got.ids[1] == 0 && got.ids[2] == 9);
    cr_expect_eq(got.last[0], 1.0 / 3.0);
    cr_expect(isnan(got.last[1]));
    cr_expect_eq(got.last[2], -1e-300);
    cr_expect_str_eq(got.message, "last");
}

/* Killed in the middle of a line, at every byte of the last one: what is whole stays, the rest is
   cut off, and the next case is written where it was. */
Test(study_part, a_torn_line_is_run_again)
{
    write_three();
    FILE *file = fopen(path, "r");
    char text[2000];
    const size_t size = fread(text, 1, sizeof text, file);
    (void)fclose(file);
    size_t start = size - 1;
    while (text[start - 1] != '\n') {
        start--;
    }
    for (size_t cut = start; cut < size; cut += 7) {
        struct got got = {0}, after = {0};
        FILE *part = NULL;
        cr_assert_eq(truncate(path, 0), 0);
        file = fopen(path, "w");
        cr_assert_eq(fwrite(text, 1, cut, file), cut);
        (void)fclose(file);
        cr_assert_eq(uf_study_part_open(&part, path, &kind, take, &got, NULL), UF_OK);
        cr_expect_eq(got.n, 2, "cut at %zu", cut);
        add(part, 9, "last");
        (void)fclose(part);
        cr_assert_eq(uf_study_part_read(path, &kind, take, &after, NULL), UF_OK);
        cr_expect(after.n == 3 && after.ids[2] == 9, "cut at %zu", cut);
    }
}

Test(study_part, a_changed_number_is_not_read)
{
    struct got got = {0};
    write_three();
    FILE *file = fopen(path, "r+");
    char text[2000] = "";
    cr_assert_gt(fread(text, 1, sizeof text - 1, file), 0);
    char *third = strstr(text, "0x1.5555");
    cr_assert_not_null(third);
    (void)fseek(file, third - text + 4, SEEK_SET);
    (void)fputc('6', file);
    (void)fclose(file);
    cr_expect_eq(uf_study_part_read(path, &kind, take, &got, NULL), UF_OK);
    cr_expect_eq(got.n, 0);
}

Test(study_part, a_part_of_another_manifest_is_refused)
{
    const struct uf_study_part_kind other = {kind.key + 1, 3};
    struct got got = {0};
    FILE *part = NULL;
    write_three();
    cr_expect_eq(uf_study_part_read(path, &other, take, &got, NULL), UF_E_INPUT);
    cr_expect_eq(uf_study_part_open(&part, path, &other, take, &got, NULL), UF_E_INPUT);
    cr_expect_eq(got.n, 0);
    cr_expect_null(part);
}
