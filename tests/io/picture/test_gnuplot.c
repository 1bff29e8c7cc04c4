#include "io/picture/gnuplot.h"
#include "io/signals.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

#include <pthread.h>
#include <signal.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static char folder[1000];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    cr_assert_eq(chdir(folder), 0); /* what gnuplot might be tricked into lands here */
    cr_assert_eq(setenv("UNDERFROST_PLOTS", folder, 1), 0);
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(gnuplot, .init = open_folder, .fini = close_folder);

static void script(const char *text)
{
    FILE *file = fopen("mine.gp", "w");
    cr_assert(file != NULL && fputs(text, file) >= 0 && fclose(file) == 0);
}

/* Runs what was sent and gives back what was drawn or printed. */
static enum uf_status run(struct uf_gnuplot *plot, char *text, size_t size, struct uf_error *err)
{
    FILE *out = tmpfile();
    cr_assert_not_null(out);
    const enum uf_status status = uf_gnuplot_run(plot, out, err);
    (void)fseek(out, 0, SEEK_SET);
    text[fread(text, 1, size - 1, out)] = '\0';
    (void)fclose(out);
    return status;
}

Test(gnuplot, numbers_texts_and_data_arrive)
{
    struct uf_gnuplot *plot = NULL;
    struct uf_error err = {0};
    char text[4000];
    script("set print '-'\nprint sprintf('%.3f|%s', a, b)\n"
           "stats $d using 1 nooutput\nprint STATS_sum, STATS_invalid\n");
    cr_assert_eq(uf_gnuplot_open(&plot, NULL), UF_OK);
    uf_gnuplot_number(plot, "a", 2.125);
    uf_gnuplot_text(plot, "b", "it's");
    uf_gnuplot_data(plot, "d");
    for (int i = 1; i <= 3; i++) {
        uf_gnuplot_cell(plot, i == 2 ? (double)NAN : 3.5 * i);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    cr_assert_eq(uf_gnuplot_script(plot, "mine", &err), UF_OK, "%s", err.text);
    cr_assert_eq(run(plot, text, sizeof text, &err), UF_OK, "%s", err.text);
    cr_expect_not_null(strstr(text, "2.125|it\xe2\x80\x99s"), "%s", text);
    cr_expect_not_null(strstr(text, "14.0"), "%s", text);
    uf_gnuplot_free(plot);
}

/* Everything by which gnuplot runs a command or leaves a string, in one name. */
static const char *const hostile =
    "'; system('touch one'); x = '\n\"`touch two`\" `touch three` $(touch four) "
    "@touch \\ %s <script>\x01\xff\nEOD\nsystem(\"touch five\")\n";

Test(gnuplot, text_of_users_is_never_run)
{
    struct uf_gnuplot *plot = NULL;
    struct uf_error err = {0};
    char text[40000];
    script("set encoding utf8\nset terminal svg noenhanced\nset title b\nset label 1 b at 1,1\n"
           "plot $d using 1:1:2 with labels title b\n");
    cr_assert_eq(uf_gnuplot_open(&plot, NULL), UF_OK);
    uf_gnuplot_text(plot, "b", hostile);
    uf_gnuplot_data(plot, "d");
    for (int i = 0; i < 2; i++) {
        uf_gnuplot_cell(plot, i);
        uf_gnuplot_word(plot, hostile);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    cr_assert_eq(uf_gnuplot_script(plot, "mine", &err), UF_OK);
    cr_assert_eq(run(plot, text, sizeof text, &err), UF_OK, "%s", err.text);
    static const char *const made[] = {"one", "two", "three", "four", "five"};
    for (size_t i = 0; i < sizeof made / sizeof made[0]; i++) {
        cr_expect_neq(access(made[i], F_OK), 0, "gnuplot ran: touch %s", made[i]);
    }
    cr_expect_not_null(strstr(text, "`touch three` $(touch four)"), "%s", text);
    cr_expect_null(strstr(text, "<script>"));
    uf_gnuplot_free(plot);
}

Test(gnuplot, an_error_in_a_script_is_told)
{
    struct uf_gnuplot *plot = NULL;
    struct uf_error err = {0};
    char text[100];
    script("set terminal svg\nplot nothing_of_the_kind\n");
    cr_assert_eq(uf_gnuplot_open(&plot, NULL), UF_OK);
    cr_assert_eq(uf_gnuplot_script(plot, "mine", NULL), UF_OK);
    /* More than a pipe holds: gnuplot stops long before it has read this. */
    for (int i = 0; i < 40000; i++) {
        uf_gnuplot_number(plot, "a", i);
    }
    cr_expect_eq(run(plot, text, sizeof text, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "nothing_of_the_kind"), "%s", err.text);
    uf_gnuplot_free(plot);
}

Test(gnuplot, a_missing_program_or_script_is_told)
{
    struct uf_gnuplot *plot = NULL;
    struct uf_error err = {0};
    char text[100];
    cr_assert_eq(uf_gnuplot_open(&plot, NULL), UF_OK);
    cr_expect_eq(uf_gnuplot_script(plot, "no_such_picture", &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "UNDERFROST_PLOTS"), "%s", err.text);
    cr_assert_eq(setenv("PATH", folder, 1), 0);
    cr_expect_eq(run(plot, text, sizeof text, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "gnuplot-nox"), "%s", err.text);
    cr_assert_eq(setenv("PATH", "/usr/bin:/bin", 1), 0);
    uf_gnuplot_free(plot);
}

/* A gnuplot of our own making, first in PATH. */
static void stand_in(const char *text)
{
    FILE *file = fopen("gnuplot", "w");
    cr_assert(file != NULL && fputs(text, file) >= 0 && fclose(file) == 0);
    cr_assert_eq(chmod("gnuplot", 0755), 0);
    char path[1100];
    (void)snprintf(path, sizeof path, "%s:/usr/bin:/bin", folder);
    cr_assert_eq(setenv("PATH", path, 1), 0);
}

static void *raise_soon(void *unused)
{
    (void)unused;
    const struct timespec moment = {0, 300000000};
    (void)nanosleep(&moment, NULL);
    (void)kill(getpid(), SIGTERM);
    return NULL;
}

/* With what it has started itself. */
Test(gnuplot, one_that_hangs_ends_with_a_request_to_end, .timeout = 20)
{
    struct uf_gnuplot *plot = NULL;
    struct uf_error err = {0};
    char text[100];
    pthread_t thread;
    stand_in("#!/bin/sh\nsleep 300 &\necho $! > child\nwait\n");
    uf_signals_catch();
    cr_assert_eq(uf_gnuplot_open(&plot, NULL), UF_OK);
    cr_assert_eq(pthread_create(&thread, NULL, raise_soon, NULL), 0);
    cr_expect_eq(run(plot, text, sizeof text, &err), UF_E_STOPPED, "%s", err.text);
    (void)pthread_join(thread, NULL);
    FILE *file = fopen("child", "r");
    int child = 0;
    cr_assert(file != NULL && fscanf(file, "%d", &child) == 1);
    (void)fclose(file);
    const struct timespec moment = {0, 200000000};
    (void)nanosleep(&moment, NULL);
    char state[64];
    (void)snprintf(state, sizeof state, "grep -q '^State:.[SR]' /proc/%d/status 2>/dev/null",
                   child);
    cr_expect_neq(system(state), 0, "the child %d of gnuplot still runs", child);
    uf_gnuplot_free(plot);
}
