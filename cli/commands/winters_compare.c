#include "cli/command.h"
#include "cli/recommend/recommend.h"
#include "cli/tell/assumed.h"
#include "cli/tell/faults.h"
#include "cli/tell/outcome.h"
#include "cli/tell/remarks.h"
#include "cli/tell/spent.h"
#include "io/text/show.h"
#include "winters.h"

#include <math.h>
#include <stdio.h>

/* compare with climate.winter every: the design with its board and without, both through
   each winter on file, and how often each breaks a limit. */

static const char HOW[] = "every winter on file, one after the other, with the board and without";

enum { WITH, WITHOUT };

static enum uf_status run_both(struct uf_winters *both[2], const struct uf_site_run *run,
                               const struct uf_arguments *args, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < 2 && status == UF_OK; i++) {
        struct uf_case design = run->site->design;
        struct uf_choice statics = {.buildable = true};
        if (i == WITHOUT) {
            design.board.present = false;
            design.board.thickness_m = 0.0;
        }
        /* Weights may be unknown where only heat was asked for. */
        const bool judged =
            uf_case_has_tank(&design) && uf_choice_static(&statics, &design, NULL) == UF_OK;
        status = uf_winters_run(&both[i], run, &design, judged ? &statics : NULL, NULL, args, err);
    }
    return status;
}

static void show_limits(struct uf_winters *const both[2], enum uf_units units)
{
    static const struct uf_show_column columns[] = {{"limit", 'l'},
                                                    {"broken\nwith board", 'r'},
                                                    {"broken\nwithout", 'r'},
                                                    {"least margin\nwith board", 'r'},
                                                    {"least margin\nwithout", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, 5);
    for (size_t l = 0; l < uf_limit_count; l++) {
        if (isnan(both[WITH]->limits.least[l]) && isnan(both[WITHOUT]->limits.least[l])) {
            continue;
        }
        uf_show_table_cell(table, "%s", uf_limits[l].key);
        for (size_t i = 0; i < 2; i++) {
            const struct uf_every_limits *limits = &both[i]->limits;
            if (isnan(limits->least[l])) {
                uf_show_table_cell(table, "-");
            } else {
                uf_show_table_cell(table, "%zu (%.0f %%)", limits->broken[l],
                                   100.0 * (double)limits->broken[l] / (double)limits->winters);
            }
        }
        for (size_t i = 0; i < 2; i++) {
            char margin[64];
            uf_show_table_cell(
                table, "%s",
                uf_recommend_margin(margin, sizeof margin, l, both[i]->limits.least[l], units));
        }
    }
    uf_show_table_end(stdout, table);
}

static double deepest_m(const struct uf_winters *w)
{
    double most = NAN;
    for (size_t i = 0; i < w->every->n; i++) {
        most = fmax(most, w->every->winters[i].summary.frost_above_m);
    }
    return most;
}

static void show(struct uf_winters *const both[2], const struct uf_site_run *run,
                 const struct uf_arguments *args)
{
    static const char *const labels[2] = {"with board", "without board"};
    char text[300];
    uf_show_heading(stdout, run->site->design.name);
    uf_assumed_show(&run->site->design, true, args->units);
    (void)snprintf(text, sizeof text,
                   "With its board the design meets every limit in %zu of %zu winters, "
                   "without it in %zu.",
                   both[WITH]->limits.winters - both[WITH]->limits.any, both[WITH]->limits.winters,
                   both[WITHOUT]->limits.winters - both[WITHOUT]->limits.any);
    uf_show_text(stdout, 0, text);
    (void)putchar('\n');
    uf_show_line(stdout, "winter", "%s", HOW);
    for (size_t i = 0; i < 2; i++) {
        const struct uf_winters *w = both[i];
        const struct uf_summary *worst = &w->every->winters[w->worst].summary;
        char name[16];
        uf_show_line(stdout, labels[i], "coldest water %s, in %s; frost over the tank at most %s",
                     UF_TEXT(TEMPERATURE, args->units, worst->water.degC),
                     uf_winters_name(w, w->worst, name, sizeof name),
                     UF_TEXT(LENGTH, args->units, deepest_m(w)));
    }
    if (both[WITH]->every->n_unusable > 0) {
        uf_show_line(stdout, "left out", "%zu winters with gaps in their air temperature",
                     both[WITH]->every->n_unusable);
    }
    (void)putchar('\n');
    show_limits(both, args->units);
    struct uf_remarks remarks;
    uf_remarks(&remarks, &both[WITH]->design,
               &both[WITH]->every->winters[both[WITH]->worst].summary);
    uf_remarks_show(&remarks, args->units);
    if (args->verbose) {
        uf_spent_show("both runs", both[WITH]->simulated_days + both[WITHOUT]->simulated_days,
                      both[WITH]->cpu_s + both[WITHOUT]->cpu_s);
    }
    (void)putchar('\n');
    uf_show_text(stdout, 0, uf_outcome_cautions);
}

static enum uf_status tell(struct uf_winters *const both[2], const struct uf_site_run *run,
                           const struct uf_arguments *args, struct uf_error *err)
{
    if (!args->json) {
        show(both, run, args);
        return UF_OK;
    }
    cJSON *answer = cJSON_CreateObject();
    uf_answer_text(answer, "name", run->site->design.name);
    uf_assumed_answer(answer, &run->site->design, true);
    uf_answer_text(answer, "winter", HOW);
    uf_winters_answer(uf_answer_object(answer, "with_board"), both[WITH], args->verbose);
    uf_winters_answer(uf_answer_object(answer, "without_board"), both[WITHOUT], args->verbose);
    return uf_answer_print(answer, err);
}

int uf_winters_compare(const struct uf_site_run *run, const struct uf_arguments *args)
{
    struct uf_winters *both[2] = {NULL, NULL};
    struct uf_error err = {0};
    enum uf_status status = UF_OK;
    if (args->output != NULL) {
        status = uf_fail(&err, UF_E_INPUT,
                         "-o keeps no comparison of every winter: leave it out, or run "
                         "simulate -o once with the board and once with --set "
                         "'board.thickness=0 mm', and compare the two files");
    }
    if (status == UF_OK) {
        status = run_both(both, run, args, &err);
    }
    if (status == UF_OK) {
        status = tell(both, run, args, &err);
    }
    const int code = status != UF_OK               ? uf_faults_error(args, args->operands[0], &err)
                     : both[WITH]->limits.any == 0 ? UF_EXIT_DONE
                                                   : UF_EXIT_LIMIT;
    uf_winters_free(both[WITH]);
    uf_winters_free(both[WITHOUT]);
    return code;
}
