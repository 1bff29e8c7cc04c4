#include "cli/command.h"
#include "cli/jobs.h"
#include "cli/tell/answer.h"
#include "cli/tell/assumed.h"
#include "cli/tell/faults.h"
#include "cli/tell/outcome.h"
#include "cli/tell/spent.h"
#include "compare.h"
#include "io/text/input.h"
#include "io/text/message_text.h"
#include "io/text/show.h"
#include "solver/choice/choice.h"
#include "winters.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* underfrost compare SITE.yaml: the design with its board and without.
   underfrost compare A.h5 B.h5: two results side by side. */

enum { WITH, WITHOUT };

static enum uf_status keep(const struct uf_site_run *run, const struct uf_job *jobs,
                           const struct uf_arguments *args, struct uf_error *err)
{
    struct uf_choice statics = {.buildable = true};
    /* Weights may be unknown where only heat was asked for. */
    const bool weighed = uf_choice_static(&statics, &jobs[WITH].design, NULL) == UF_OK;
    return uf_outcome_keep(run, &jobs[WITH], &jobs[WITHOUT], weighed ? &statics.uplift : NULL, args,
                           err);
}

static void show(const struct uf_arguments *args, const struct uf_site_run *run,
                 const struct uf_job *jobs)
{
    static const struct uf_show_column columns[] = {
        {"", 'l'}, {"without board", 'r'}, {"with board", 'r'}, {"difference", 'r'}};
    const struct uf_summary *a = &jobs[WITH].summary;
    const struct uf_summary *b = &jobs[WITHOUT].summary;
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    uf_compare_show_facts(table, uf_facts, b, a, args->units, args->verbose);
    uf_show_heading(stdout, run->site->design.name);
    uf_assumed_show(&run->site->design, true, args->units);
    uf_show_line(stdout, "winter", "%s", UF_MESSAGE(args->units, &run->weather->text));
    (void)putchar('\n');
    uf_show_table_end(stdout, table);
    (void)printf("\n");
    if (args->verbose) {
        uf_spent_show("both runs", a->counters.simulated_days + b->counters.simulated_days,
                      a->counters.cpu_s + b->counters.cpu_s);
    }
    uf_spent_show_file(args->output);
    (void)printf("\n");
    uf_show_text(stdout, 0, uf_outcome_cautions);
}

static enum uf_status tell(const struct uf_arguments *args, const struct uf_site_run *run,
                           const struct uf_job *jobs, struct uf_error *err)
{
    if (!args->json) {
        show(args, run, jobs);
        return UF_OK;
    }
    cJSON *answer = cJSON_CreateObject();
    uf_answer_text(answer, "name", run->site->design.name);
    uf_assumed_answer(answer, &run->site->design, true);
    uf_answer_text(answer, "winter", run->weather->text.text);
    uf_outcome_answer(uf_answer_object(answer, "with_board"), &jobs[WITH].design,
                      &jobs[WITH].summary, args->verbose);
    uf_outcome_answer(uf_answer_object(answer, "without_board"), &jobs[WITHOUT].design,
                      &jobs[WITHOUT].summary, args->verbose);
    return uf_answer_print(answer, err);
}

/* One winter with the board and without; the exit code. */
static int compare_site(const struct uf_site_run *site, const struct uf_arguments *args)
{
    struct uf_job jobs[2];
    struct uf_error err = {0};
    for (size_t i = 0; i < 2; i++) {
        jobs[i] = (struct uf_job){
            .design = site->site->design, .forcing = site->forcing, .options = site->options};
        if (args->output != NULL) {
            uf_jobs_keep(&jobs[i], args);
        }
    }
    jobs[WITHOUT].design.board.present = false;
    jobs[WITHOUT].design.board.thickness_m = 0.0;
    enum uf_status status = uf_jobs_run(jobs, 2, args, "runs", &err);
    if (status == UF_OK) {
        status = uf_jobs_first_failure(jobs, 2, &err);
    }
    if (status == UF_OK && args->output != NULL) {
        status = keep(site, jobs, args, &err);
    }
    if (status == UF_OK) {
        status = tell(args, site, jobs, &err);
    }
    const struct uf_limit_facts facts = {.design = &site->site->design,
                                         .summary = &jobs[WITH].summary};
    const int code = status != UF_OK               ? uf_faults_error(args, args->operands[0], &err)
                     : uf_limit_verdict(&facts).ok ? UF_EXIT_DONE
                                                   : UF_EXIT_LIMIT;
    uf_record_free(jobs[WITH].record);
    uf_record_free(jobs[WITHOUT].record);
    return code;
}

static int run_site(const struct uf_arguments *args)
{
    struct uf_site_run site = {0};
    struct uf_error err = {0};
    int code = uf_site_run_open(&site, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    if (!uf_case_has_board(&site.site->design)) {
        (void)uf_fail_key(&err, UF_E_INPUT, "board", UF_PLAIN("nothing to compare"),
                          UF_PLAIN("a board block with a thickness"));
        code = uf_faults_error(args, args->operands[0], &err);
    } else {
        code = site.every ? uf_winters_compare(&site, args) : compare_site(&site, args);
    }
    uf_site_run_close(&site);
    return code;
}

static int run_files(const struct uf_arguments *args)
{
    struct uf_compare compare;
    struct uf_error err = {0};
    enum uf_status status = UF_OK;
    memset(&compare, 0, sizeof compare);
    if (args->n_sets > 0 || args->output != NULL || args->integrator != NULL ||
        (args->given & UF_OPTION_THIN) != 0) {
        status = uf_fail(&err, UF_E_INPUT,
                         "two result files are set side by side as they are: leave out "
                         "--set, -o, --integrator, --thin and --fields, or give one site file");
    }
    if (status == UF_OK) {
        status = uf_compare_read(&compare, args->operands, &err);
    }
    if (status == UF_OK) {
        status = uf_compare_tell(&compare, args, &err);
    }
    uf_compare_free(&compare);
    return status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, NULL, &err);
}

/* A result file begins as every HDF5 file does. */
static bool is_result(const char *path)
{
    static const unsigned char head[] = {0x89, 'H', 'D', 'F', '\r', '\n', 0x1a, '\n'};
    unsigned char bytes[sizeof head] = {0};
    FILE *file = NULL;
    if (uf_input_open(&file, path, NULL) != UF_OK) {
        return false;
    }
    const bool same = fread(bytes, 1, sizeof bytes, file) == sizeof bytes &&
                      memcmp(bytes, head, sizeof head) == 0;
    (void)fclose(file);
    return same;
}

static int run(const struct uf_arguments *args)
{
    struct uf_error err = {0};
    if (args->n_operands == 2) {
        return run_files(args);
    }
    if (is_result(args->operands[0])) {
        (void)uf_fail(&err, UF_E_INPUT,
                      "is a result file: give a second one to set beside it, or a site "
                      "file to run with its board and without");
        return uf_faults_error(args, args->operands[0], &err);
    }
    return run_site(args);
}

const struct uf_command uf_cmd_compare = {
    .name = "compare",
    .summary = "the design with its board and without, or two results",
    .synopsis = "SITE.yaml [-o FILE.h5] | A.h5 B.h5",
    .detail =
        "Runs the same tank through the same winter twice, once without the board, and "
        "sets the two side by side. With -o both are kept in one file, the bare one as "
        "the group without_board. With climate.winter: every, both go through each winter "
        "on file, and how often each breaks a limit is told.\n"
        "Of two result files, as simulate, compare and recommend write them: which keys "
        "of the site files differ, and frost, water, wall, ice, probes, pipes, flotation "
        "and heat balance side by side, B less A. Of a file that holds several runs the "
        "one at its root is taken: the design with its board, the recommended option. No limit is "
        "judged: exit 0.",
    .options = UF_OPTIONS_SITE | UF_OPTION_OUTPUT | UF_OPTION_JOBS | UF_OPTION_PROGRESS |
               UF_OPTION_INTEGRATOR | UF_OPTION_THIN,
    .least_operands = 1,
    .most_operands = 2,
    .result = true,
    .every = true,
    .run = run};
