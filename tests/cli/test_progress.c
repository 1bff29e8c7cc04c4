#include "cli/progress.h"

#include <criterion/criterion.h>
#include <criterion/redirect.h>

#include <math.h>
#include <string.h>

Test(progress, text_tells_share_and_time_left)
{
    char text[96];

    cr_expect_str_eq(uf_progress_text(text, sizeof text, "choices", 6, 24, 10.0),
                     "choices: 6 of 24, 25 %, 30 s left");
    cr_expect_str_eq(uf_progress_text(text, sizeof text, "days", 50, 500, 60.0),
                     "days: 50 of 500, 10 %, 9 min 00 s left");
    cr_expect_str_eq(uf_progress_text(text, sizeof text, "days", 500, 500, 60.0),
                     "days: 500 of 500, 100 %, 0 s left");
}

Test(progress, nothing_is_foretold_from_nothing)
{
    char text[96];

    cr_expect_str_eq(uf_progress_text(text, sizeof text, "days", 0, 500, 60.0),
                     "days: 0 of 500, 0 %");
    cr_expect_str_eq(uf_progress_text(text, sizeof text, "days", 5, 500, 0.1),
                     "days: 5 of 500, 1 %");
    cr_expect_str_eq(uf_progress_text(text, sizeof text, "choices", 2.9, 10, 0.1),
                     "choices: 2 of 10, 29 %", "a run begun is not a run done");
}

Test(progress, asked_for_it_writes_a_line, .init = cr_redirect_stderr)
{
    const struct uf_arguments args = {.progress = true};
    struct uf_progress progress;

    uf_progress_begin(&progress, &args, "days");
    progress.terminal = false;
    uf_progress_update(&progress, 3, 12);
    uf_progress_update(&progress, 4, 12); /* too soon after the first */
    uf_progress_end(&progress);
    (void)fflush(stderr);
    cr_assert_stderr_eq_str("days: 3 of 12, 25 %\n");
}

Test(progress, quiet_is_silent_and_no_total_draws_nothing, .init = cr_redirect_stderr)
{
    const struct uf_arguments quiet = {.progress = true, .quiet = true};
    const struct uf_arguments loud = {.progress = true};
    struct uf_progress progress;

    uf_progress_begin(&progress, &quiet, "days");
    uf_progress_update(&progress, 3, 12);
    uf_progress_end(&progress);
    uf_progress_begin(&progress, &loud, "days");
    uf_progress_update(&progress, 3, 0);
    uf_progress_end(&progress);
    (void)fflush(stderr);
    cr_assert_stderr_eq_str("");
}

Test(progress, a_long_run_says_so_before_it_starts, .init = cr_redirect_stderr)
{
    const struct uf_arguments args = {.jobs = 1};
    struct uf_progress progress;

    uf_progress_begin(&progress, &args, "options");
    progress.on = progress.terminal = false;
    progress.between_s = 5.0;
    uf_progress_foretell(&progress, 59.0);
    uf_progress_update(&progress, 1, 12); /* nobody asked */
    uf_progress_foretell(&progress, NAN);
    uf_progress_foretell(&progress, 125.0);
    uf_progress_update(&progress, 3, 12);
    uf_progress_end(&progress);
    (void)fflush(stderr);
    cr_assert_stderr_eq_str("options: about 3 minutes\noptions: 3 of 12, 25 %\n");
}

Test(progress, a_long_run_is_silent_when_quiet_is_asked, .init = cr_redirect_stderr)
{
    const struct uf_arguments quiet = {.quiet = true};
    struct uf_progress progress;

    uf_progress_begin(&progress, &quiet, "options");
    uf_progress_foretell(&progress, 1e6);
    uf_progress_update(&progress, 3, 12);
    uf_progress_end(&progress);
    (void)fflush(stderr);
    cr_assert_stderr_eq_str("");
}
