#include "io/result/result_file.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

#include <sys/wait.h>

static char folder[1000], file[1100], output[100000];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    (void)snprintf(file, sizeof file, "%s/alder.h5", folder);
    struct uf_result *r = synthetic_result();
    cr_assert_eq(uf_result_file_write(file, r, NULL), UF_OK);
    uf_result_free(r);
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(cmd_plot, .init = open_folder, .fini = close_folder);

/* Runs "underfrost plot" with what follows; the exit code, and the text in output. */
static int plot(const char *arguments)
{
    char command[3000];
    (void)snprintf(command, sizeof command, "'%s' plot %s 2>&1", UF_PROGRAM, arguments);
    FILE *pipe = popen(command, "r");
    cr_assert_not_null(pipe);
    output[fread(output, 1, sizeof output - 1, pipe)] = '\0';
    const int status = pclose(pipe);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static bool there(const char *name)
{
    char path[2200];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    return access(path, R_OK) == 0;
}

Test(cmd_plot, draws_every_picture_beside_the_file)
{
    cr_assert_eq(plot(file), 0, "%s", output);
    cr_expect(there("alder/section.png"));
    cr_expect(there("alder/winters.png"));
    cr_expect_not_null(strstr(output, "alder/uplift.png"));
    cr_expect(!there("alder/animation.gif"), "it takes long");
}

Test(cmd_plot, draws_what_is_named_where_it_is_asked)
{
    char arguments[3000];
    (void)snprintf(arguments, sizeof arguments,
                   "'%s' frost water -o '%s/here' --terminal svg --units us --json", file, folder);
    cr_assert_eq(plot(arguments), 0, "%s", output);
    cr_expect(there("here/frost.svg"));
    cr_expect(there("here/water.svg"));
    cr_expect(!there("here/section.svg"));
    cr_expect_not_null(strstr(output, "\"files\""), "%s", output);
}

/* A month of it, at a frame a day. */
Test(cmd_plot, animation_comes_when_named)
{
    char arguments[3000];
    struct uf_result *r = synthetic_result();
    r->record->nt = 6;
    r->without_board->nt = 6;
    cr_assert_eq(uf_result_file_write(file, r, NULL), UF_OK);
    uf_result_free(r);
    (void)snprintf(arguments, sizeof arguments, "'%s' animation frost", file);
    cr_assert_eq(plot(arguments), 0, "%s", output);
    cr_expect(there("alder/animation.gif"));
    (void)snprintf(arguments, sizeof arguments, "'%s' --terminal gif -o '%s/moving'", file, folder);
    cr_assert_eq(plot(arguments), 0, "%s", output);
    cr_expect(there("moving/animation.gif"));
    cr_expect(!there("moving/frost.gif") && !there("moving/frost.png"));
}

/* Of a file only what it can fill. */
Test(cmd_plot, lists_what_a_file_can_fill)
{
    char arguments[3000], bare[1100];
    struct uf_result *r = synthetic_result();
    (void)snprintf(bare, sizeof bare, "%s/bare.h5", folder);
    r->n_choices = 0;
    r->n_levels = 0;
    cr_assert_eq(uf_result_file_write(bare, r, NULL), UF_OK);
    uf_result_free(r);
    (void)snprintf(arguments, sizeof arguments, "--list '%s'", bare);
    cr_assert_eq(plot(arguments), 0, "%s", output);
    cr_expect_null(strstr(output, "  choices"), "%s", output);
    cr_expect_null(strstr(output, "  uplift"), "%s", output);
    cr_expect_not_null(strstr(output, "  section"), "%s", output);
    (void)snprintf(arguments, sizeof arguments, "--list --json '%s'", bare);
    cr_assert_eq(plot(arguments), 0, "%s", output);
    cr_expect_null(strstr(output, "\"choices\""), "%s", output);
    cr_assert_eq(plot("--list"), 0);
    cr_expect_not_null(strstr(output, "  choices"), "%s", output);
    (void)snprintf(arguments, sizeof arguments, "--list '%s/none.h5'", folder);
    cr_expect_eq(plot(arguments), 3, "%s", output);
}

Test(cmd_plot, draws_on_the_terminal)
{
    char arguments[3000];
    (void)snprintf(arguments, sizeof arguments, "'%s' section --terminal text", file);
    cr_assert_eq(plot(arguments), 0, "%s", output);
    cr_expect_not_null(strstr(output, "Section on 2015-01-29"), "%s", output);
    cr_expect(!there("alder"));
}

Test(cmd_plot, lists_its_pictures)
{
    cr_assert_eq(plot("--list"), 0);
    cr_expect_not_null(strstr(output, "section"));
    cr_expect_not_null(strstr(output, "winters"));
}

Test(cmd_plot, tells_what_is_wrong)
{
    char arguments[3000];
    cr_expect_eq(plot(""), 2);
    cr_expect_eq(plot("/nowhere/at/all.h5"), 3);
    cr_expect_not_null(strstr(output, "/nowhere/at/all.h5"));
    (void)snprintf(arguments, sizeof arguments, "'%s' no_such_picture", file);
    cr_expect_eq(plot(arguments), 2);
    cr_expect_not_null(strstr(output, "--list"), "%s", output);
    (void)snprintf(arguments, sizeof arguments, "'%s' --terminal bmp", file);
    cr_expect_eq(plot(arguments), 2);
    cr_expect_not_null(strstr(output, "png, svg, pdf, text or gif"), "%s", output);
    (void)snprintf(arguments, sizeof arguments, "'%s' animation --terminal pdf", file);
    cr_expect_eq(plot(arguments), 2);
    cr_expect_not_null(strstr(output, "always a gif"), "%s", output);
    (void)snprintf(arguments, sizeof arguments, "'%s' section -o '%s.png'", file, file);
    cr_expect_eq(plot(arguments), 2);
    cr_expect_not_null(strstr(output, "names the folder"), "%s", output);
}
