#include "io/picture/child.h"

#include <criterion/criterion.h>

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>

static enum uf_status run(const struct uf_child *child, const char *text, char *said, int *state,
                          struct uf_error *err)
{
    FILE *out = tmpfile(), *errors = tmpfile();
    cr_assert(out != NULL && errors != NULL);
    const enum uf_status status = uf_child_run(child, text, strlen(text), out, errors, state, err);
    rewind(out);
    said[fread(said, 1, 99, out)] = '\0';
    (void)fclose(out);
    (void)fclose(errors);
    return status;
}

Test(child, reads_what_it_is_fed_and_its_end_is_told)
{
    char said[100];
    int state = -1;
    struct uf_error err = {0};
    const struct uf_child cat = {"cat", NULL, NULL, "", 60.0};
    cr_expect_eq(run(&cat, "a line\n", said, &state, &err), UF_OK, "%s", err.text);
    cr_expect_str_eq(said, "a line\n");
    cr_expect(WIFEXITED(state) && WEXITSTATUS(state) == 0);
    const struct uf_child missing = {"no_such_program", NULL, NULL, "install it", 60.0};
    cr_expect_eq(run(&missing, "", said, &state, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "install it"), "%s", err.text);
}

/* Without an interrupt too, and nothing of it is left: its process is waited for, so there is none. */
Test(child, one_that_hangs_is_stopped_at_its_limit, .timeout = 20)
{
    char said[100];
    int state = -1;
    struct uf_error err = {0};
    const struct uf_child hangs = {"sleep", "300", NULL, "", 0.2};
    cr_expect_eq(run(&hangs, "", said, &state, &err), UF_E_FILE);
    cr_expect_not_null(strstr(err.text, "sleep did not end"), "%s", err.text);
    cr_expect(WIFSIGNALED(state) && WTERMSIG(state) == SIGKILL, "%d", state);
    cr_expect_eq(waitpid(-1, NULL, WNOHANG), -1, "a child is left");
}
