#include "cli/beside.h"
#include "cli/folder.h"
#include "cli/tell/outcome.h"
#include "io/picture/plot.h"
#include "io/result/result_file.h"
#include "io/signals.h"
#include "recommend.h"
#include "recommend_drawing.h"

#include <math.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The arrays a result borrows that the recommendation does not already hold. */
struct borrowed {
    struct uf_outcome_lists lists;
    struct uf_result_choice *choices;
    struct uf_result_case cases[UF_VARIANTS + 1];
    struct uf_result_level levels[UF_UPLIFT_SWEEP];
    char *json;
};

static double number_of(const char *key, const struct uf_choices_result *choices, size_t row)
{
    const struct uf_choice_fact *fact = uf_choice_facts;
    while (fact->key != NULL && strcmp(fact->key, key) != 0) {
        fact++;
    }
    return fact->key != NULL ? fact->number(choices, row) : (double)NAN;
}

#define NUMBER(key, name, unit, words) .key = number_of(#key, r->choices, i),

static void fill_choices(struct uf_result *result, struct borrowed *b, const struct uf_recommend *r,
                         bool nominal)
{
    b->choices = calloc(r->choices->n + 1, sizeof *b->choices);
    for (size_t i = 0; b->choices != NULL && i < r->choices->n; i++) {
        const struct uf_choice *row = &r->choices->rows[i];
        const char *governs = uf_recommend_governs(row);
        struct uf_result_choice *out = &b->choices[i];
        *out = (struct uf_result_choice){UF_RESULT_CHOICE_LIST(NUMBER).ok = row->ok,
                                         .robust = row->trial == UF_CHOICE_ROBUST && !nominal};
        (void)snprintf(out->governs, sizeof out->governs, "%s", governs != NULL ? governs : "");
        result->n_choices = i + 1;
    }
    result->choices = b->choices;
    result->pick = r->choices->pick;
}

static void fill_case(struct uf_result_case *out, const char *name, size_t limit,
                      const struct uf_verdict *verdict)
{
    *out = (struct uf_result_case){.margin = verdict->margin[limit] / uf_limits[limit].scale,
                                   .ok = verdict->ok};
    (void)snprintf(out->name, sizeof out->name, "%s", name);
    (void)snprintf(out->limit, sizeof out->limit, "%s", uf_limits[limit].key);
    if (verdict->governs < uf_limit_count) {
        (void)snprintf(out->governs, sizeof out->governs, "%s", uf_limits[verdict->governs].key);
    }
}

/* The decisive margin in the design case and in each sensitivity case. */
static void fill_cases(struct uf_result *result, struct borrowed *b, const struct uf_recommend *r)
{
    const struct uf_verdict *own = &r->choices->rows[r->shown].verdict;
    const size_t limit = uf_robust_decisive(own, r->variants, r->n_variants);
    if (limit == uf_limit_count || r->n_variants == 0) {
        return;
    }
    fill_case(&b->cases[0], "design case", limit, own);
    for (size_t i = 0; i < r->n_variants; i++) {
        fill_case(&b->cases[i + 1], r->variants[i].row->name, limit, &r->variants[i].verdict);
    }
    result->cases = b->cases;
    result->n_cases = r->n_variants + 1;
}

static void fill_levels(struct uf_result *result, struct borrowed *b,
                        const struct uf_uplift *uplift)
{
    for (size_t i = 0; i < UF_UPLIFT_SWEEP; i++) {
        b->levels[i] = (struct uf_result_level){uplift->sweep[i].water_m, uplift->sweep[i].factor};
    }
    result->levels = b->levels;
    result->n_levels = UF_UPLIFT_SWEEP;
}

static void fill(struct uf_result *result, struct borrowed *b, const struct uf_recommend *r,
                 const struct uf_arguments *args)
{
    uf_outcome_result(result, &b->lists, &r->run, args);
    fill_choices(result, b, r, args->nominal);
    if (r->shown >= 0) {
        const struct uf_job *kept = &r->jobs[UF_RECOMMEND_KEPT];
        const struct uf_job *bare = &r->jobs[UF_RECOMMEND_BARE];
        uf_result_design_fill(&result->design, &kept->design);
        result->record = kept->record;
        result->summary = kept->summary;
        result->without_board = bare->done ? bare->record : NULL;
        result->summary_without_board = bare->summary;
        fill_cases(result, b, r);
        fill_levels(result, b, &r->choices->rows[r->shown].uplift);
        result->uplift_factor = r->choices->rows[r->shown].uplift.highest.factor_submerged;
        cJSON *answer = cJSON_CreateObject();
        uf_outcome_answer(answer, &kept->design, &kept->summary, false);
        b->json = uf_outcome_text(answer);
        result->summary_json = b->json;
    }
}

/* What is written beside each other, once result.h5 is: the report, the drawing, each picture. */
struct piece {
    const struct uf_recommend *r;
    const struct uf_arguments *args;
    const struct uf_result *result;
    const char *folder;
    const struct uf_plot *plot; /* of a picture */
    atomic_bool *gave_up;       /* a picture could not be drawn: the next could not either */
    enum uf_status status;
    struct uf_error err;
};

static char *path_of(char *path, size_t size, const struct piece *piece, const char *name)
{
    return uf_folder_path(path, size, piece->folder, name);
}

static void write_report(void *payload)
{
    struct piece *p = payload;
    char path[1200];
    p->status = uf_recommend_summary(p->r, p->args->units,
                                     path_of(path, sizeof path, p, "summary.csv"), &p->err);
    if (p->status == UF_OK && !uf_signals_stopped()) {
        p->status = uf_recommend_report(p->r, p->args, p->result,
                                        path_of(path, sizeof path, p, "report.html"), &p->err);
    }
}

static void write_drawing(void *payload)
{
    struct piece *p = payload;
    p->status = uf_recommend_drawing_write(p->r, p->args->units, p->folder, &p->err);
}

/* Pictures of an earlier run that this one does not draw again would lie beside numbers
   that they do not show: they go. */
static void draw_picture(void *payload)
{
    struct piece *p = payload;
    const struct uf_plot_look look = {.us = p->args->units == UF_UNITS_US};
    char name[64];
    char path[1200];
    (void)snprintf(name, sizeof name, "%s.png", p->plot->name);
    (void)path_of(path, sizeof path, p, name);
    const bool due = p->plot->has(p->result) && !uf_signals_stopped() && !atomic_load(p->gave_up);
    if (due) {
        p->status = uf_plot_draw(path, p->plot, p->result, &look, &p->err);
    }
    if (p->status != UF_OK) {
        atomic_store(p->gave_up, true);
    }
    if (!due || p->status != UF_OK) {
        (void)remove(path);
    }
}

enum { MOST_PIECES = 40 };

/* Lists them, the longest first; returns how many. */
static size_t list_pieces(struct uf_beside pieces[MOST_PIECES], struct piece works[MOST_PIECES],
                          const struct piece *common)
{
    size_t n = 0;
    for (; n < 2; n++) {
        works[n] = *common;
        pieces[n] = (struct uf_beside){n == 0 ? write_report : write_drawing, &works[n]};
    }
    for (const struct uf_plot *plot = uf_plot_table; plot->name != NULL && n < MOST_PIECES;
         plot++) {
        if (plot->format == NULL) {
            works[n] = *common;
            works[n].plot = plot;
            pieces[n] = (struct uf_beside){draw_picture, &works[n]};
            n++;
        }
    }
    return n;
}

/* What went wrong: the report first, then the pictures in their order, then the drawing. */
static enum uf_status judge_pieces(const struct piece *works, size_t n, const char *folder,
                                   struct uf_error *err)
{
    const struct piece *wrong = NULL;
    if (works[0].status != UF_OK) {
        *err = works[0].err;
        return works[0].status;
    }
    for (size_t i = 2; i < n && wrong == NULL; i++) {
        wrong = works[i].status != UF_OK ? &works[i] : NULL;
    }
    wrong = wrong == NULL && works[1].status != UF_OK ? &works[1] : wrong;
    return wrong == NULL ? UF_OK
                         : uf_fail(err, wrong->status, "%s; what needs no picture is in %.150s",
                                   wrong->err.text, folder);
}

static enum uf_status write_pieces(const struct piece *common, struct uf_error *err)
{
    struct piece works[MOST_PIECES];
    struct uf_beside pieces[MOST_PIECES];
    char path[1200];
    const size_t n = list_pieces(pieces, works, common);
    uf_beside_all(pieces, n, uf_options_jobs(common->args));
    if (uf_signals_stopped()) { /* the report may lack what it was to show */
        (void)remove(path_of(path, sizeof path, common, "report.html"));
        return uf_fail(err, UF_E_STOPPED, "interrupted");
    }
    return judge_pieces(works, n, common->folder, err);
}

enum uf_status uf_recommend_write(const struct uf_recommend *r, const struct uf_arguments *args,
                                  const char *folder, struct uf_error *err)
{
    struct uf_result result;
    struct borrowed b = {0};
    atomic_bool gave_up = false;
    const struct piece common = {
        .r = r, .args = args, .result = &result, .folder = folder, .gave_up = &gave_up};
    char path[1200];
    enum uf_status status = UF_OK;
    fill(&result, &b, r, args);
    (void)uf_folder_path(path, sizeof path, folder, "result.h5");
    if (result.record != NULL) {
        status = uf_result_file_write(path, &result, err);
    } else {
        (void)remove(path); /* of the study that this one replaces */
    }
    if (status == UF_OK) {
        status = write_pieces(&common, err);
    }
    cJSON_free(b.json);
    free(b.choices);
    uf_outcome_lists_free(&b.lists);
    return status;
}
