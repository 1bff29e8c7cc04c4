#include "cli/command.h"
#include "cli/jobs.h"
#include "cli/tell/answer.h"
#include "cli/tell/assumed.h"
#include "cli/tell/faults.h"
#include "cli/tell/outcome.h"
#include "cli/tell/spent.h"
#include "io/text/message_text.h"
#include "io/text/show.h"
#include "solver/choice/choice.h"
#include "winters.h"

#include <stdio.h>
#include <stdlib.h>

/* underfrost simulate SITE.yaml: the design as written through its winter, and, where
   water flows in, the same once more with the inflow (an inhabited house beside an empty
   one). */

struct simulation {
    struct uf_site_run run;
    struct uf_job jobs[2];
    size_t n;
    struct uf_choice checks;
    bool weighed; /* checks hold uplift and load */
    struct uf_verdict verdict;
};

static enum uf_status judge(struct simulation *s, struct uf_error *err)
{
    const struct uf_case *design = &s->run.site->design;
    struct uf_limit_facts facts = {.design = design, .summary = &s->jobs[0].summary};
    enum uf_status status = uf_jobs_first_failure(s->jobs, s->n, err);
    if (status == UF_OK && uf_case_has_tank(design)) {
        struct uf_error why = {0};
        s->checks.buildable = true;
        /* Weights may be unknown where only heat was asked for: then the limit does not apply. */
        if (uf_choice_static(&s->checks, design, &why) == UF_OK) {
            s->weighed = true;
            facts.uplift = &s->checks.uplift;
            facts.load = &s->checks.load;
        }
    }
    s->verdict = uf_limit_verdict(&facts);
    return status;
}

static enum uf_status tell(const struct simulation *s, const struct uf_arguments *args,
                           struct uf_error *err)
{
    const struct uf_case *design = &s->run.site->design;
    if (args->json) {
        cJSON *answer = cJSON_CreateObject();
        uf_answer_text(answer, "name", design->name);
        uf_assumed_answer(answer, design, true);
        uf_answer_text(answer, "winter", s->run.weather->text.text);
        uf_outcome_answer(answer, design, &s->jobs[0].summary, args->verbose);
        uf_outcome_answer_limits(answer, &s->verdict);
        if (s->n > 1) {
            uf_outcome_answer(uf_answer_object(answer, "with_inflow"), design, &s->jobs[1].summary,
                              args->verbose);
        }
        uf_answer_text(answer, "note", s->run.weather->note);
        return uf_answer_print(answer, err);
    }
    char words[900];
    uf_outcome_words(words, sizeof words, design, &s->jobs[0].summary, &s->verdict, args->units);
    uf_show_heading(stdout, design->name[0] != '\0' ? design->name : "The run");
    uf_assumed_show(design, true, args->units);
    uf_show_text(stdout, 0, words);
    (void)putchar('\n');
    uf_show_line(stdout, "winter", "%s", UF_MESSAGE(args->units, &s->run.weather->text));
    uf_outcome_show(args, design, &s->jobs[0].summary);
    uf_spent_show_file(args->output);
    if (s->n > 1) {
        uf_show_line(stdout, "with the inflow", "coldest water %s",
                     UF_TEXT(TEMPERATURE, args->units, s->jobs[1].summary.water.degC));
    }
    (void)putchar('\n');
    uf_outcome_show_limits(args, &s->verdict);
    if (s->run.weather->note[0] != '\0') {
        uf_show_text(stdout, 0, s->run.weather->note);
    }
    (void)printf("\n");
    uf_show_text(stdout, 0, uf_outcome_cautions);
    return UF_OK;
}

static int run(const struct uf_arguments *args)
{
    struct simulation s = {.n = 1};
    struct uf_error err = {0};
    int code = uf_site_run_open(&s.run, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    if (s.run.every) {
        code = uf_winters_simulate(&s.run, args);
        uf_site_run_close(&s.run);
        return code;
    }
    const struct uf_case *design = &s.run.site->design;
    for (size_t i = 0; i < 2; i++) {
        s.jobs[i] =
            (struct uf_job){.design = *design, .forcing = s.run.forcing, .options = s.run.options};
    }
    if (args->output != NULL) {
        uf_jobs_keep(&s.jobs[0], args);
    }
    if (uf_case_has_inflow(design)) {
        s.jobs[1].options.inflow = true;
        s.n = 2;
    }
    enum uf_status status = uf_jobs_run(s.jobs, s.n, args, "runs", &err);
    if (status == UF_OK) {
        status = judge(&s, &err);
    }
    if (status == UF_OK && args->output != NULL) {
        status = uf_outcome_keep(&s.run, &s.jobs[0], NULL, s.weighed ? &s.checks.uplift : NULL,
                                 args, &err);
    }
    if (status == UF_OK) {
        status = tell(&s, args, &err);
    }
    code = status != UF_OK ? uf_faults_error(args, args->operands[0], &err)
                           : (s.verdict.ok ? UF_EXIT_DONE : UF_EXIT_LIMIT);
    uf_record_free(s.jobs[0].record);
    uf_site_run_close(&s.run);
    return code;
}

const struct uf_command uf_cmd_simulate = {
    .name = "simulate",
    .summary = "run the design as written through its winter",
    .synopsis = "SITE.yaml [-o FILE.h5]",
    .detail = "Frost depth in undisturbed ground and over the tank, coldest water and wall, ice, "
              "every probe and "
              "pipe with its date, the heat balance of the run, and the margin to each "
              "limit. With -o fields and series are kept in an HDF5 file that opens as netCDF-4.\n"
              "With climate.winter: every, each winter on file, one after the other: its "
              "frost depth and coldest water, and how often limits were broken; with -o the series "
              "alone. An interrupted run goes on where it stopped, given the same -o.\n"
              "--integrator reference runs the error-controlled integrator in place of "
              "the fast one.",
    .options = UF_OPTIONS_SITE | UF_OPTION_OUTPUT | UF_OPTION_JOBS | UF_OPTION_PROGRESS |
               UF_OPTION_INTEGRATOR | UF_OPTION_THIN,
    .least_operands = 1,
    .most_operands = 1,
    .result = true,
    .every = true,
    .run = run};
