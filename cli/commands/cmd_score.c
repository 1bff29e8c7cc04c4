#include "cli/drawing.h"
#include "cli/score/score.h"
#include "cli/site_open.h"
#include "cli/tell/faults.h"
#include "io/signals.h"

#include <stdio.h>
#include <stdlib.h>

/* underfrost score SITE.yaml: the run held against the user's own measurements. */

static enum uf_status score(struct uf_scoring *s, struct uf_error *err)
{
    if (s->run.every) {
        return uf_fail_key(err, UF_E_INPUT, "climate.winter",
                           UF_PLAIN("score runs the days that were measured"),
                           UF_PLAIN("initial.profile, initial.date and initial.end"));
    }
    return uf_site_score(&s->score, s->run.site, &s->run.weather->weather, s->run.forcing,
                         &s->run.options, err);
}

static int run(const struct uf_arguments *args)
{
    struct uf_scoring s = {.score = {.n = 0}};
    struct uf_error err = {0};
    int code = uf_site_run_open(&s.run, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    enum uf_status status = score(&s, &err);
    if (status == UF_OK && args->output != NULL) {
        status = uf_score_tell_keep(&s, args, &err);
    }
    if (status == UF_OK && args->json) {
        status = uf_answer_print(uf_score_tell_answer(&s), &err);
    } else if (status == UF_OK) {
        uf_score_tell_show(&s, args);
    }
    code = status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, args->operands[0], &err);
    uf_site_score_free(&s.score);
    uf_site_run_close(&s.run);
    return code;
}

const struct uf_command uf_cmd_score = {
    .name = "score",
    .summary = "hold a run against your own measurements",
    .synopsis = "SITE.yaml [-o DIR]",
    .detail =
        "Runs the design through the days that were measured and holds it against every series "
        "under `observed`: temperatures of the ground at their depths, frost depth, water. For "
        "each: bias (computed less measured), root mean square and mean absolute error, and "
        "the efficiency of Nash and Sutcliffe; for the frost: how deep and when at its deepest, and "
        "when it was gone, measured and computed.\n"
        "Give initial.profile, initial.date and initial.end, so that the run goes through the "
        "recorded weather itself, and climate.surface_temperature where a sensor near the surface "
        "is to drive it. A day compares the mean of its two ends. Readings that cannot be, "
        "and those of a sensor that stands still for 30 days while the run moves, are "
        "left out and told, and so is a string of sensors that ends in frozen ground.\n"
        "-o DIR keeps score.csv, day by day, and score.png.",
    .options = UF_OPTIONS_SITE | UF_OPTION_OUTPUT | UF_OPTION_INTEGRATOR,
    .least_operands = 1,
    .most_operands = 1,
    .run = run};
