#include "io/result/part_file.h"

#include <criterion/criterion.h>

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* What the writer asks of the disk, in order; the linker hands these calls to us (tests/CMakeLists.txt). */
int __real_fsync(int file);
int __wrap_fsync(int file);
int __real_rename(const char *from, const char *to);
int __wrap_rename(const char *from, const char *to);

enum what { FILE_SETTLED, RENAMED, FOLDER_SETTLED };
static struct event {
    enum what what;
    ino_t node;  /* of what was settled */
    off_t bytes; /* that it held then */
} events[8];     /* the first ones of a test */
static size_t n_events;
static bool disk_fails;

static void note(enum what what, const struct stat *about)
{
    if (n_events < sizeof events / sizeof events[0]) {
        events[n_events] = (struct event){what, about->st_ino, about->st_size};
    }
    n_events++;
}

int __wrap_fsync(int file)
{
    struct stat about = {0};
    cr_assert_eq(fstat(file, &about), 0);
    note(S_ISDIR(about.st_mode) ? FOLDER_SETTLED : FILE_SETTLED, &about);
    if (disk_fails) {
        errno = EIO;
        return -1;
    }
    return __real_fsync(file);
}

int __wrap_rename(const char *from, const char *to)
{
    note(RENAMED, &(struct stat){0});
    return __real_rename(from, to);
}

static enum uf_status written(const char *path, enum uf_status status, struct uf_error *err)
{
    struct uf_part_file part;
    const enum uf_status opened = uf_part_file_open(&part, path, err);
    if (opened != UF_OK) {
        return opened;
    }
    (void)fputs("new", part.file);
    const enum uf_status closed = uf_part_file_close(&part, status, err);
    cr_expect_neq(access(part.name, F_OK), 0, "no part stays");
    return closed;
}

static bool holds(const char *path, const char *text)
{
    char got[16] = "";
    FILE *file = fopen(path, "r");
    cr_assert_not_null(file);
    (void)fread(got, 1, sizeof got - 1, file);
    (void)fclose(file);
    return strcmp(got, text) == 0;
}

/* A file that is there is replaced by a whole one only; one that is not yet is made. */
Test(part_file, a_plain_file_may_be_replaced)
{
    char path[] = "/tmp/uf_part_XXXXXX";
    struct uf_error err = {0};
    const int file = mkstemp(path);
    cr_assert(file >= 0 && write(file, "old", 3) == 3);
    (void)close(file);
    cr_expect_eq(written(path, UF_E_SOLVER, &err), UF_E_SOLVER);
    cr_expect(holds(path, "old"));
    cr_expect_eq(written(path, UF_OK, &err), UF_OK, "%s", err.text);
    cr_expect(holds(path, "new"));
    cr_assert_eq(unlink(path), 0);
    cr_expect_eq(written(path, UF_OK, &err), UF_OK, "%s", err.text);
    cr_expect(holds(path, "new"));
    cr_assert_eq(unlink(path), 0);
    cr_expect_eq(written("", UF_OK, &err), UF_E_FILE);
    cr_expect_eq(written("/nowhere/at/all", UF_OK, &err), UF_E_FILE);
}

/* Whoever may write in the folder cannot wait for the part's name with a link of his own. */
Test(part_file, a_part_has_a_name_that_is_never_the_same)
{
    char path[] = "/tmp/uf_part_XXXXXX";
    struct uf_part_file parts[8];
    const int file = mkstemp(path);
    cr_assert_geq(file, 0);
    (void)close(file);
    for (size_t i = 0; i < 8; i++) {
        cr_assert_eq(uf_part_file_open(&parts[i], path, NULL), UF_OK);
        cr_expect_eq(strspn(parts[i].name + strlen(path) + 5, "0123456789abcdef"), 16, "%s",
                     parts[i].name);
        for (size_t k = 0; k < i; k++) {
            cr_expect_str_neq(parts[i].name, parts[k].name);
        }
    }
    for (size_t i = 0; i < 8; i++) {
        cr_expect_eq(uf_part_file_close(&parts[i], UF_E_SOLVER, NULL), UF_E_SOLVER);
    }
    cr_assert_eq(unlink(path), 0);
}

/* Renamed over a device, a file would take its place for the whole machine. */
Test(part_file, a_device_a_folder_and_a_pipe_stay)
{
    char pipe_path[] = "/tmp/uf_pipe_XXXXXX";
    struct uf_error err = {0};
    cr_assert_not_null(mkdtemp(pipe_path));
    cr_expect_eq(written(pipe_path, UF_OK, &err), UF_E_FILE);
    cr_assert_eq(rmdir(pipe_path), 0);
    cr_assert_eq(mkfifo(pipe_path, 0600), 0);
    cr_expect_eq(written(pipe_path, UF_OK, &err), UF_E_FILE);
    cr_assert_eq(unlink(pipe_path), 0);
    cr_expect_eq(written("/dev/null", UF_OK, &err), UF_E_FILE);
    cr_expect(strstr(err.text, "/dev/null") != NULL && strstr(err.text, "plain file"), "%s",
              err.text);
}

/* A file that only its owner may read does not become everybody's. What a link points to is replaced
   where it is named itself, not by way of the link. */
Test(part_file, a_mode_is_kept_and_a_link_is_refused)
{
    char folder[] = "/tmp/uf_link_XXXXXX", target[64], link[64], dead[64];
    struct uf_error err = {0};
    struct stat info;
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(target, sizeof target, "%s/target", folder);
    (void)snprintf(link, sizeof link, "%s/link", folder);
    (void)snprintf(dead, sizeof dead, "%s/dead", folder);
    FILE *file = fopen(target, "w");
    cr_assert(file != NULL && fputs("old", file) >= 0 && fclose(file) == 0);
    cr_assert(chmod(target, 0640) == 0 && symlink(target, link) == 0);
    cr_assert(symlink("/nowhere/at/all", dead) == 0);
    cr_expect_eq(written(link, UF_OK, &err), UF_E_FILE);
    cr_expect(strstr(err.text, "symbolic link") != NULL && strstr(err.text, target) != NULL, "%s",
              err.text);
    cr_expect(holds(target, "old") && lstat(link, &info) == 0 && S_ISLNK(info.st_mode));
    cr_expect_eq(written(dead, UF_OK, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "link"), "%s", err.text);
    cr_expect_eq(written(target, UF_OK, &err), UF_OK, "%s", err.text);
    cr_expect(holds(target, "new") && stat(target, &info) == 0 && (info.st_mode & 07777) == 0640,
              "%o", (unsigned)info.st_mode);
    cr_expect(unlink(link) == 0 && unlink(dead) == 0 && unlink(target) == 0 && rmdir(folder) == 0,
              "a part was left");
}

/* After a loss of power a name must not stand for what never reached the disk: first all bytes of the
   file, then its name, then the folder that holds the name. What came to nothing is not put there. */
Test(part_file, is_on_the_disk_before_it_has_its_name_and_the_name_after)
{
    char folder[] = "/tmp/uf_disk_XXXXXX", path[64];
    struct uf_error err = {0};
    struct stat file, holder;
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/name", folder);
    for (int round = 0; round < 2; round++) { /* made, then replaced */
        n_events = 0;
        cr_expect_eq(written(path, UF_OK, &err), UF_OK, "%s", err.text);
        cr_assert(stat(path, &file) == 0 && stat(folder, &holder) == 0);
        cr_assert_eq(n_events, 3);
        cr_expect(events[0].what == FILE_SETTLED && events[0].node == file.st_ino &&
                  events[0].bytes == 3);
        cr_expect(events[1].what == RENAMED);
        cr_expect(events[2].what == FOLDER_SETTLED && events[2].node == holder.st_ino);
    }
    n_events = 0;
    cr_expect_eq(written(path, UF_E_SOLVER, &err), UF_E_SOLVER);
    cr_expect_eq(n_events, 0);
    cr_assert_eq(chdir(folder), 0); /* a name without a folder is in this one */
    cr_expect_eq(written("name", UF_OK, &err), UF_OK, "%s", err.text);
    cr_expect(n_events == 3 && events[2].what == FOLDER_SETTLED && events[2].node == holder.st_ino);
    cr_expect(chdir("/") == 0 && unlink(path) == 0 && rmdir(folder) == 0, "a part was left");
}

/* A disk that says only then that it has no room, or is broken: the earlier file stays. */
Test(part_file, what_the_disk_refuses_at_the_end_replaces_nothing)
{
    char path[] = "/tmp/uf_part_XXXXXX";
    struct uf_error err = {0};
    const int file = mkstemp(path);
    cr_assert(file >= 0 && write(file, "old", 3) == 3);
    (void)close(file);
    disk_fails = true;
    cr_expect_eq(written(path, UF_OK, &err), UF_E_FILE);
    cr_expect(strstr(err.text, path) != NULL && strstr(err.text, "disk") != NULL, "%s", err.text);
    cr_expect(n_events == 1 && holds(path, "old"));
    cr_assert_eq(unlink(path), 0);
}

/* Root replaces a file of somebody else's: it stays theirs, as its mode does. */
Test(part_file, an_owner_is_kept_by_who_may)
{
    enum { OWNER = 12345, GROUP = 23456 };
    char path[] = "/tmp/uf_part_XXXXXX";
    struct uf_error err = {0};
    struct stat about;
    if (geteuid() != 0) {
        cr_skip("only root may give a file away");
    }
    const int file = mkstemp(path);
    cr_assert(file >= 0 && write(file, "old", 3) == 3 && fchown(file, OWNER, GROUP) == 0 &&
              fchmod(file, 0640) == 0);
    (void)close(file);
    cr_expect_eq(written(path, UF_OK, &err), UF_OK, "%s", err.text);
    cr_expect(holds(path, "new") && stat(path, &about) == 0);
    cr_expect(about.st_uid == OWNER && about.st_gid == GROUP && (about.st_mode & 07777) == 0640,
              "%u:%u %o", (unsigned)about.st_uid, (unsigned)about.st_gid, (unsigned)about.st_mode);
    cr_assert_eq(unlink(path), 0);
}
