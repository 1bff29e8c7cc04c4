#include "answer.h"
#include "command.h"
#include "faults.h"
#include "io/result_file.h"
#include "jobs.h"
#include "outcome.h"
#include "show.h"
#include "winter_words.h"

#include <math.h>
#include <stdio.h>

/* underfrost compare SITE.yaml: the design with its board and without. */

enum { WITH, WITHOUT };

static enum uf_status keep(const struct uf_site_run *run, const struct uf_job *jobs,
                           const struct uf_arguments *args, struct uf_error *err)
{
    struct uf_result result;
    struct uf_outcome_lists lists;
    uf_outcome_result(&result, &lists, run, args);
    result.record = jobs[WITH].record;
    result.summary = jobs[WITH].summary;
    result.without_board = jobs[WITHOUT].record;
    result.summary_without_board = jobs[WITHOUT].summary;
    const enum uf_status status = uf_result_file_write(args->output, &result, err);
    uf_outcome_lists_free(&lists);
    return status;
}

static void row(struct uf_show_table *table, const char *label, enum uf_quantity kind,
                enum uf_units units, const double values[2])
{
    if (isnan(values[WITH]) && isnan(values[WITHOUT])) {
        return;
    }
    const enum uf_quantity difference =
        kind == UF_QUANTITY_TEMPERATURE ? UF_QUANTITY_DIFFERENCE : kind;
    char text[3][40];
    uf_show_table_cell(table, "%s", label);
    uf_show_table_cell(table, "%s",
                       uf_quantity_text(text[0], 40, kind, units, values[WITH]));
    uf_show_table_cell(table, "%s",
                       uf_quantity_text(text[1], 40, kind, units, values[WITHOUT]));
    uf_show_table_cell(
        table, "%s",
        uf_quantity_text(text[2], 40, difference, units, values[WITH] - values[WITHOUT]));
}

static void show(const struct uf_arguments *args, const struct uf_site_run *run,
                 const struct uf_job *jobs)
{
    static const struct uf_show_column columns[] = {
        {"", 'l'}, {"with board", 'r'}, {"without", 'r'}, {"difference", 'r'}};
    const struct uf_summary *a = &jobs[WITH].summary;
    const struct uf_summary *b = &jobs[WITHOUT].summary;
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    const enum uf_units units = args->units;
    row(table, "frost over the tank", UF_QUANTITY_LENGTH, units,
        (double[2]){a->frost_above_m, b->frost_above_m});
    row(table, "frost far from the tank", UF_QUANTITY_LENGTH, units,
        (double[2]){a->frost_undisturbed_m, b->frost_undisturbed_m});
    row(table, "coldest water", UF_QUANTITY_TEMPERATURE, units,
        (double[2]){a->water.degC, b->water.degC});
    row(table, "coldest wetted wall", UF_QUANTITY_TEMPERATURE, units,
        (double[2]){a->wall.degC, b->wall.degC});
    row(table, "crown", UF_QUANTITY_TEMPERATURE, units,
        (double[2]){a->crown.degC, b->crown.degC});
    row(table, "ice, share of the water", UF_QUANTITY_SHARE, units,
        (double[2]){a->ice_share, b->ice_share});
    for (size_t i = 0; i < a->n_probes; i++) {
        row(table, a->probes[i].name, UF_QUANTITY_TEMPERATURE, units,
            (double[2]){a->probes[i].least.degC, b->probes[i].least.degC});
    }
    uf_show_heading(stdout, run->site->design.name);
    uf_show_line(stdout, "winter", "%s", UF_WINTER_WORDS(run->weather, units));
    (void)putchar('\n');
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
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
    uf_answer_text(answer, "winter", run->weather->text);
    uf_outcome_answer(uf_answer_object(answer, "with_board"), &jobs[WITH].design,
                      &jobs[WITH].summary);
    uf_outcome_answer(uf_answer_object(answer, "without_board"), &jobs[WITHOUT].design,
                      &jobs[WITHOUT].summary);
    return uf_answer_print(answer, err);
}

static int run(const struct uf_arguments *args)
{
    struct uf_site_run site = {0};
    struct uf_job jobs[2];
    struct uf_error err = {0};
    int code = uf_site_run_open(&site, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    enum uf_status status = UF_OK;
    if (!uf_case_has_board(&site.site->design)) {
        status = uf_fail(&err, UF_E_INPUT,
                         "nothing to compare: give a board block with a thickness");
    }
    for (size_t i = 0; i < 2; i++) {
        jobs[i] = (struct uf_job){.design = site.site->design,
                                  .forcing = site.forcing,
                                  .options = site.options,
                                  .keep_every =
                                      args->output != NULL ? uf_options_thin(args) : 0};
    }
    jobs[WITHOUT].design.board.present = false;
    jobs[WITHOUT].design.board.thickness_m = 0.0;
    if (status == UF_OK) {
        status = uf_jobs_run(jobs, 2, args, "runs", &err);
    }
    if (status == UF_OK) {
        status = uf_jobs_first_failure(jobs, 2, &err);
    }
    if (status == UF_OK && args->output != NULL) {
        status = keep(&site, jobs, args, &err);
    }
    if (status == UF_OK) {
        status = tell(args, &site, jobs, &err);
    }
    const struct uf_limit_facts facts = {.design = &site.site->design,
                                         .summary = &jobs[WITH].summary};
    code = status != UF_OK               ? uf_faults_error(args, args->operands[0], &err)
           : uf_limit_verdict(&facts).ok ? UF_EXIT_DONE
                                         : UF_EXIT_LIMIT;
    uf_record_free(jobs[WITH].record);
    uf_record_free(jobs[WITHOUT].record);
    uf_site_run_close(&site);
    return code;
}

const struct uf_command uf_cmd_compare = {
    .name = "compare",
    .summary = "the design with its board and without",
    .synopsis = "SITE.yaml [-o FILE.h5]",
    .detail =
        "Runs the same tank through the same winter twice, once without the board, and "
        "sets the "
        "two side by side. With -o both are kept in one file, the bare one as the group "
        "without_board.",
    .options = UF_OPTIONS_SITE | UF_OPTION_OUTPUT | UF_OPTION_JOBS | UF_OPTION_PROGRESS |
               UF_OPTION_INTEGRATOR | UF_OPTION_THIN,
    .least_operands = 1,
    .most_operands = 1,
    .run = run};
