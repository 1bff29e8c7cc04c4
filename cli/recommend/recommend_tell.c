#include "cli/folder.h"
#include "cli/tell/answer.h"
#include "cli/tell/assumed.h"
#include "cli/tell/outcome.h"
#include "cli/tell/spent.h"
#include "io/text/message_text.h"
#include "io/text/show.h"
#include "recommend.h"
#include "solver/heat/slice.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void answer_choice(cJSON *item, const struct uf_recommend *r, size_t i)
{
    const struct uf_choice *row = &r->choices->rows[i];
    char against[500], word[UF_NAME_SIZE];
    for (const struct uf_choice_fact *fact = uf_choice_facts; fact->key != NULL; fact++) {
        if (fact->word != NULL) {
            uf_answer_text(item, fact->key, fact->word(word, sizeof word, r->choices, i));
        } else {
            uf_answer_number(item, fact->key, uf_choice_fact_number(fact, r->choices, i));
        }
    }
    uf_answer_bool(item, "ran", row->ran);
    cJSON *cost = uf_answer_object(item, "costs");
    for (size_t k = 0; k < UF_COST_ITEMS; k++) {
        uf_answer_number(cost, uf_cost_rows[k].key, row->cost.part[k]);
    }
    uf_answer_bool(item, "ok", row->ok);
    if (row->trial != UF_CHOICE_UNTRIED) {
        uf_answer_bool(item, "robust", row->trial == UF_CHOICE_ROBUST);
    } else if (row->ok) {
        (void)cJSON_AddNullToObject(item, "robust");
    } else {
        uf_answer_bool(item, "robust", false);
    }
    (void)uf_recommend_against(against, sizeof against, r, i, UF_UNITS_SI);
    uf_answer_text(item, "against", against[0] != '\0' ? against : NULL);
    uf_answer_text(item, "governs", uf_recommend_governs(row));
}

static void answer_variants(cJSON *answer, const struct uf_recommend *r)
{
    cJSON *list = uf_answer_array(answer, "how_sure");
    for (size_t i = 0; i < r->n_variants; i++) {
        cJSON *item = uf_answer_item(list);
        uf_answer_text(item, "name", r->variants[i].row->name);
        uf_answer_text(item, "if", r->variants[i].row->doc);
        uf_answer_number(item, "water_min_degC", r->variants[i].water_degC);
        uf_answer_bool(item, "ends_carried", r->variants[i].carried);
        uf_answer_bool(item, "ok", r->variants[i].verdict.ok);
        uf_outcome_answer_limits(item, &r->variants[i].verdict);
    }
}

/* What makes an option robust, where none is. */
static void answer_measure(cJSON *answer, const struct uf_recommend *r)
{
    const struct uf_robust_measure *m = uf_robust_measure(r->robust);
    if (m->from >= 0) {
        cJSON *item = uf_answer_object(answer, "measure");
        uf_answer_number(item, "from", (double)m->from);
        uf_answer_text(item, "name", m->name);
        uf_answer_number(item, "cover_m", m->name != NULL ? m->choice.cover_m : (double)NAN);
        uf_answer_number(item, "thickness_m",
                         m->name != NULL ? m->choice.thickness_m : (double)NAN);
        uf_answer_number(item, "beyond_tank_m", m->name != NULL ? m->choice.beyond_m : (double)NAN);
        uf_answer_number(item, "lid_m2K_W", m->name != NULL ? m->choice.lid_m2K_W : (double)NAN);
        uf_answer_number(item, "sleeve_m", m->name != NULL ? m->choice.sleeve_m : (double)NAN);
        uf_answer_number(item, "cost", m->name != NULL ? m->choice.cost.total : (double)NAN);
    }
}

static void answer_prices(cJSON *answer, const struct uf_recommend *r)
{
    cJSON *list = uf_answer_array(answer, "price_changes");
    for (size_t i = 0; i < 2 * UF_COST_ITEMS; i++) {
        const enum uf_cost_item item = (enum uf_cost_item)(i / 2);
        if (item != UF_COST_BOARD && item != UF_COST_EXCAVATION) {
            continue;
        }
        const struct uf_price_change change =
            uf_price_change(r->choices, &r->run.site->design.costs, item, i % 2 == 0);
        cJSON *row = uf_answer_item(list);
        uf_answer_text(row, "price", uf_cost_rows[item].key);
        uf_answer_text(row, "side", i % 2 == 0 ? "above" : "below");
        uf_answer_number(row, "at", change.price);
        uf_answer_number(row, "choice", change.row >= 0 ? (double)change.row : (double)NAN);
    }
}

/* What the search came to in numbers of options and of runs. */
struct counts {
    size_t options, by_statics, shared, tried, cases_asked, cases_run;
};

static struct counts count(const struct uf_recommend *r)
{
    const struct uf_bank *bank = &r->choices->bank;
    struct counts out = {.options = r->choices->n,
                         .by_statics = r->choices->n - r->asked,
                         .shared = r->asked - r->runs,
                         .cases_asked = bank->asked - r->asked,
                         .cases_run = bank->n - r->runs};
    for (size_t i = 0; i < r->choices->n; i++) {
        out.tried += r->choices->rows[i].trial != UF_CHOICE_UNTRIED ? 1 : 0;
    }
    return out;
}

static void show_counts(const struct uf_recommend *r)
{
    const struct counts c = count(r);
    uf_show_line(stdout, "options", "%zu, %zu of them judged by statics alone", c.options,
                 c.by_statics);
    uf_show_line(stdout, "heat runs of options", "%zu, shared by %zu more", r->runs, c.shared);
    uf_show_line(stdout, "sensitivity", "%zu options judged, %zu cases asked for, %zu run", c.tried,
                 c.cases_asked, c.cases_run);
}

static void answer_counts(cJSON *answer, const struct uf_recommend *r)
{
    const struct counts c = count(r);
    cJSON *item = uf_answer_object(answer, "counts");
    uf_answer_number(item, "options", (double)c.options);
    uf_answer_number(item, "by_statics", (double)c.by_statics);
    uf_answer_number(item, "heat_runs", (double)r->runs);
    uf_answer_number(item, "shared", (double)c.shared);
    uf_answer_number(item, "sensitivity_options", (double)c.tried);
    uf_answer_number(item, "sensitivity_asked", (double)c.cases_asked);
    uf_answer_number(item, "sensitivity_runs", (double)c.cases_run);
}

static void answer_grid(cJSON *answer, const struct uf_recommend *r)
{
    struct uf_robust_grid grid;
    if (r->choices->pick >= 0 && uf_robust_grid(&grid, r->robust, (size_t)r->choices->pick)) {
        cJSON *half = uf_answer_object(answer, "half_grid");
        uf_answer_number(half, "judged_difference_K", grid.judged_K);
        uf_answer_number(half, "water_difference_K", grid.water_K);
        uf_answer_number(half, "frost_depth_difference_m", grid.frost_m);
    }
}

static enum uf_status answer_all(const struct uf_recommend *r, const struct uf_arguments *args,
                                 const char *folder, struct uf_error *err)
{
    cJSON *answer = cJSON_CreateObject();
    uf_answer_text(answer, "name", r->run.site->design.name);
    uf_assumed_answer(answer, &r->run.site->design, false);
    uf_answer_text(answer, "winter", r->run.weather->text.text);
    cJSON *list = uf_answer_array(answer, "choices");
    for (size_t i = 0; i < r->choices->n; i++) {
        answer_choice(uf_answer_item(list), r, i);
    }
    uf_answer_number(answer, "pick",
                     r->choices->pick >= 0 ? (double)r->choices->pick : (double)NAN);
    uf_answer_number(answer, "nearest",
                     r->choices->nearest >= 0 ? (double)r->choices->nearest : (double)NAN);
    uf_answer_bool(answer, "nominal", args->nominal);
    answer_measure(answer, r);
    answer_prices(answer, r);
    uf_recommend_neighbours_answer(answer, r);
    cJSON *why = uf_answer_array(answer, "why");
    for (size_t i = 0; i < r->n_why; i++) {
        (void)cJSON_AddItemToArray(why, cJSON_CreateString(r->why[i]));
    }
    if (r->shown >= 0) {
        const struct uf_job *kept = &r->jobs[UF_RECOMMEND_KEPT];
        uf_outcome_answer(uf_answer_object(answer, "shown"), &kept->design, &kept->summary,
                          args->verbose);
        answer_variants(answer, r);
        answer_grid(answer, r);
        cJSON *both = uf_answer_object(answer, "integrators");
        uf_answer_number(both, "frost_depth_difference_m",
                         uf_recommend_checked(r)->frost_undisturbed_m -
                             r->jobs[UF_RECOMMEND_REFERENCE].summary.frost_undisturbed_m);
        uf_answer_number(both, "water_difference_K",
                         uf_limit_water_degC(uf_recommend_checked(r)) -
                             uf_limit_water_degC(&r->jobs[UF_RECOMMEND_REFERENCE].summary));
    }
    if (args->verbose) {
        answer_counts(answer, r);
    }
    if (r->winters != NULL) {
        uf_winters_answer(uf_answer_object(answer, "seasons"), r->winters, args->verbose);
    }
    uf_answer_text(answer, "folder", folder);
    uf_answer_text(answer, "cautions", uf_outcome_cautions);
    return uf_answer_print(answer, err);
}

/* Of more options than this only those that meet every limit are listed. */
#define SHOWN 60

/* Columns of the table: a mark, the facts, whether all limits are met and the closest. */
static size_t choose_columns(struct uf_show_column *columns, const struct uf_case *design)
{
    size_t n = 0;
    columns[n++] = (struct uf_show_column){"", 'l'};
    for (const struct uf_choice_fact *fact = uf_choice_facts; fact->key != NULL; fact++) {
        if (uf_choice_fact_has_column(fact, design)) {
            columns[n++] = (struct uf_show_column){fact->head, fact->word != NULL ? 'l' : 'r'};
        }
    }
    columns[n++] = (struct uf_show_column){"met", 'l'};
    columns[n++] = (struct uf_show_column){"closest limit", 'l'};
    return n;
}

static void show_choice(struct uf_show_table *table, const struct uf_recommend *r, size_t i,
                        const struct uf_arguments *args)
{
    const struct uf_choice *row = &r->choices->rows[i];
    const char *governs = row->buildable && row->verdict.governs < uf_limit_count
                              ? uf_limits[row->verdict.governs].brief
                              : uf_recommend_governs(row);
    uf_show_table_cell(table, "%s", (long)i == r->choices->pick ? ">" : "");
    for (const struct uf_choice_fact *fact = uf_choice_facts; fact->key != NULL; fact++) {
        char text[UF_NAME_SIZE];
        if (uf_choice_fact_has_column(fact, &r->run.site->design)) {
            uf_show_table_cell(table, "%s",
                               uf_recommend_cell(text, sizeof text, r, fact, i, args->units));
        }
    }
    uf_show_table_cell(table, "%s",
                       row->trial == UF_CHOICE_ROBUST && !args->nominal
                           ? UF_TONE(args->colour, GOOD, "robust")
                       : row->ok ? UF_TONE(args->colour, GOOD, "yes")
                                 : UF_TONE(args->colour, BAD, "no"));
    uf_show_table_cell(table, "%s", governs != NULL ? governs : "");
}

static void show_choices(const struct uf_recommend *r, const struct uf_arguments *args)
{
    struct uf_show_column columns[UF_CHOICE_FACTS_MOST + 3];
    struct uf_show_table *table =
        uf_show_table_create(columns, choose_columns(columns, &r->run.site->design));
    bool some_plane = false;
    for (size_t i = 0; i < r->choices->n; i++) {
        if (r->choices->n <= SHOWN || r->choices->rows[i].ok) {
            show_choice(table, r, i, args);
            some_plane = some_plane || uf_recommend_is_plane(r, i);
        }
    }
    uf_show_table_end(stdout, table);
    uf_show_text(
        stdout, 0,
        args->units == UF_UNITS_US
            ? "cover and extension in ft, board in in, water in degF; > marks the recommended option"
            : "cover and extension in m, board in mm, water in degC; > marks the recommended option");
    if (some_plane) {
        uf_show_text(stdout, 0, uf_recommend_plane_note);
    }
}

static void show_looks(const struct uf_recommend *r, const struct uf_arguments *args)
{
    const struct uf_job *kept = &r->jobs[UF_RECOMMEND_KEPT];
    const struct uf_job *other = &r->jobs[UF_RECOMMEND_REFERENCE];
    const struct uf_summary *fast = uf_recommend_checked(r);
    uf_show_heading(stdout, r->choices->pick >= 0 ? "The recommended option through its winter"
                                                  : "The nearest option through its winter");
    uf_outcome_show(args, &kept->design, &kept->summary);
    if (r->jobs[UF_RECOMMEND_INFLOW].done) {
        uf_show_line(
            stdout, "with the inflow", "coldest water %s",
            UF_TEXT(TEMPERATURE, args->units, r->jobs[UF_RECOMMEND_INFLOW].summary.water.degC));
    }
    char frost[64];
    char water[64];
    uf_show_line(
        stdout, "both integrators", "differ by %s of frost and %s of water%s",
        uf_quantity_small(frost, sizeof frost, UF_QUANTITY_THICKNESS, args->units,
                          fabs(fast->frost_undisturbed_m - other->summary.frost_undisturbed_m)),
        uf_quantity_small(water, sizeof water, UF_QUANTITY_DIFFERENCE, args->units,
                          fabs(uf_limit_water_degC(fast) - uf_limit_water_degC(&other->summary))),
        uf_slice_wanted(&kept->design) ? ", in the plane section" : "");
}

/* Every option, and the closer looks at the recommended one. */
static void show_spent(const struct uf_recommend *r)
{
    double days = r->winters != NULL ? r->winters->simulated_days : 0.0;
    double cpu_s = r->winters != NULL ? r->winters->cpu_s : 0.0;
    const struct uf_bank *bank = &r->choices->bank;
    for (size_t i = 0; i < bank->n; i++) {
        days += bank->jobs[i].summary.counters.simulated_days;
        cpu_s += bank->jobs[i].summary.counters.cpu_s;
    }
    for (size_t i = 0; i < UF_RECOMMEND_LOOKS; i++) {
        const struct uf_counters *spent = &r->jobs[i].summary.counters;
        days +=
            r->jobs[i].skip ? 0.0 : spent->simulated_days; /* the search's own is counted there */
        cpu_s += r->jobs[i].skip ? 0.0 : spent->cpu_s;
    }
    uf_spent_show("options and sensitivity runs", days, cpu_s);
}

static void show_folder(const char *folder)
{
    char path[1200];
    char size[32];
    (void)uf_spent_size(size, sizeof size, uf_folder_path(path, sizeof path, folder, "result.h5"));
    (void)printf("\nResult%s%s%s, report and pictures: %s\n", size[0] != '\0' ? " (" : "", size,
                 size[0] != '\0' ? ")" : "", folder);
}

enum uf_status uf_recommend_tell(const struct uf_recommend *r, const struct uf_arguments *args,
                                 const char *folder, struct uf_error *err)
{
    if (args->json) {
        return answer_all(r, args, folder, err);
    }
    uf_show_heading(stdout, r->run.site->design.name);
    uf_assumed_show(&r->run.site->design, false, args->units);
    /* The summary first; the reasons and how sure it is after the choices. */
    for (size_t i = 0; i < r->n_brief; i++) {
        uf_show_text(stdout, 0, r->why[i]);
    }
    (void)putchar('\n');
    uf_show_line(stdout, "winter", "%s", UF_MESSAGE(args->units, &r->run.weather->text));
    (void)putchar('\n');
    show_choices(r, args);
    (void)putchar('\n');
    for (size_t i = r->n_brief; i < r->n_why; i++) {
        uf_show_text(stdout, 0, r->why[i]);
    }
    if (r->shown >= 0) {
        show_looks(r, args);
    }
    if (r->winters != NULL) {
        uf_show_heading(stdout, "The same through every winter on file");
        uf_winters_show(r->winters, args, false);
    }
    if (args->verbose) {
        uf_recommend_neighbours_show(r, args);
        show_counts(r);
        show_spent(r);
    }
    (void)putchar('\n');
    uf_show_text(stdout, 0, uf_outcome_cautions);
    if (!args->quiet) {
        show_folder(folder);
    }
    return UF_OK;
}
