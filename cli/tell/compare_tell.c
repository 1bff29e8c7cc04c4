#include "answer.h"
#include "cli/commands/compare.h"
#include "io/text/show.h"
#include "outcome.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const struct uf_compare_row uf_compare_rows[UF_COMPARE_NUMBERS] = {
    [UF_COMPARE_COVER] = {"cover", "cover_m", UF_QUANTITY_LENGTH},
    [UF_COMPARE_THICKNESS] = {"board, thickness", "board_thickness_m", UF_QUANTITY_BOARD},
    [UF_COMPARE_REACH] = {"board, extension beyond the tank", "board_beyond_tank_m",
                          UF_QUANTITY_LENGTH},
    [UF_COMPARE_INDEX] = {"freezing index", "freezing_index_degC_day", UF_QUANTITY_INDEX},
    [UF_COMPARE_UPLIFT] = {"factor of safety against flotation", "uplift_factor",
                           UF_QUANTITY_FACTOR},
    [UF_COMPARE_WINTERS] = {"winters run", "winters_run", UF_QUANTITY_WHOLE},
    [UF_COMPARE_BROKEN] = {"winters breaking a limit", "winters_that_broke_a_limit",
                           UF_QUANTITY_WHOLE}};

static void show_row(struct uf_show_table *table, const struct uf_compare *c, size_t which,
                     enum uf_units units)
{
    const struct uf_compare_row *row = &uf_compare_rows[which];
    const double a = c->side[0].value[which];
    const double b = c->side[1].value[which];
    char text[3][40];
    if (isfinite(a) || isfinite(b)) {
        uf_show_table_cell(table, "%s", row->label);
        uf_show_table_cell(table, "%s", uf_quantity_text(text[0], 40, row->kind, units, a));
        uf_show_table_cell(table, "%s", uf_quantity_text(text[1], 40, row->kind, units, b));
        uf_show_table_cell(
            table, "%s",
            uf_quantity_text(text[2], 40, uf_quantity_kind_difference(row->kind), units, b - a));
    }
}

static void show_numbers(const struct uf_compare *c, const struct uf_arguments *args)
{
    static const struct uf_show_column columns[] = {
        {"", 'l'}, {"A", 'r'}, {"B", 'r'}, {"B - A", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    for (size_t i = 0; i < UF_COMPARE_NUMBERS; i++) {
        show_row(table, c, i, args->units);
    }
    uf_compare_show_facts(table, c->facts, &c->side[0].result->summary, &c->side[1].result->summary,
                          args->units, args->verbose);
    uf_show_table_end(stdout, table);
}

/* Bytes of a key's outermost block: "tank" of "tank.diameter", "pipes" of "pipes[0].x". */
static size_t block_size(const char *key)
{
    return strcspn(key, ".[");
}

/* Does the side have a key in the same outermost block? */
static bool has_block(const struct uf_compare_side *side, const char *key)
{
    const size_t size = block_size(key);
    for (size_t i = 0; i < side->leaves.n; i++) {
        const char *other = side->leaves.rows[i].key;
        if (block_size(other) == size && strncmp(other, key, size) == 0) {
            return true;
        }
    }
    return false;
}

/* A block that one side has not at all is told once, by its first key. */
static bool show_block(struct uf_show_table *table, const struct uf_compare *c, size_t at)
{
    const struct uf_compare_difference *row = &c->differences[at];
    const size_t lacks = row->value[0] == NULL ? 0 : 1;
    const size_t size = block_size(row->key);
    if (row->value[lacks] != NULL || row->key[size] == '\0' ||
        has_block(&c->side[lacks], row->key)) {
        return false;
    }
    const char *before = at > 0 ? c->differences[at - 1].key : "";
    if (block_size(before) != size || strncmp(before, row->key, size) != 0) {
        uf_show_table_cell(table, "%.*s", (int)size, row->key);
        uf_show_table_cell(table, lacks == 0 ? "(not given)" : "(given)");
        uf_show_table_cell(table, lacks == 0 ? "(given)" : "(not given)");
    }
    return true;
}

static void show_differences(const struct uf_compare *c)
{
    static const struct uf_show_column columns[] = {
        {"key of the site file", 'l'}, {"A", 'l'}, {"B", 'l'}};
    if (c->n_differences == 0) {
        if (c->side[0].has_leaves && c->side[1].has_leaves) {
            uf_show_text(stdout, 0, "No key of the two site files differs in its value.");
        }
        return;
    }
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    for (size_t i = 0; i < c->n_differences; i++) {
        if (show_block(table, c, i)) {
            continue;
        }
        uf_show_table_cell(table, "%s", c->differences[i].key);
        for (size_t k = 0; k < 2; k++) {
            const char *value = c->differences[i].value[k];
            uf_show_table_cell(table, "%s", value != NULL ? value : "(not given)");
        }
    }
    uf_show_table_end(stdout, table);
}

static void show_heads(const struct uf_compare *c)
{
    static const char *const names[2] = {"A", "B"};
    const char *words[2]; /* as they were kept, in SI; the index stands in the table too */
    for (size_t i = 0; i < 2; i++) {
        const struct uf_compare_side *side = &c->side[i];
        const char *title = side->result->title;
        words[i] = side->result->winter_text != NULL ? side->result->winter_text : "(not told)";
        uf_show_line(stdout, names[i], "%s%s%s", side->path,
                     title != NULL && title[0] != '\0' ? ": " : "", title != NULL ? title : "");
    }
    if (strcmp(words[0], words[1]) == 0) {
        uf_show_line(stdout, "winter, both", "%s", words[0]);
    } else {
        uf_show_line(stdout, "winter, A", "%s", words[0]);
        uf_show_line(stdout, "winter, B", "%s", words[1]);
    }
    for (size_t i = 0; i < c->n_notes; i++) {
        uf_show_line(stdout, "mind", "%s", c->notes[i]);
    }
}

/* One sentence that can be read aloud. */
static void show_sentence(const struct uf_compare *c, enum uf_units units)
{
    const struct uf_summary *a = &c->side[0].result->summary;
    const struct uf_summary *b = &c->side[1].result->summary;
    const double warmer_K = b->water.degC - a->water.degC;
    char text[300];
    if (!isfinite(warmer_K)) {
        (void)snprintf(text, sizeof text,
                       "In undisturbed ground frost goes down to %s in A and to %s in B.",
                       UF_TEXT(LENGTH, units, a->frost_undisturbed_m),
                       UF_TEXT(LENGTH, units, b->frost_undisturbed_m));
    } else if (fabs(warmer_K) < 0.05) {
        (void)snprintf(text, sizeof text, "The water is as cold in B as in A: %s at its coldest.",
                       UF_TEXT(TEMPERATURE, units, b->water.degC));
    } else {
        (void)snprintf(
            text, sizeof text, "The water stays %s %s in B than in A: %s, not %s, at its coldest.",
            UF_TEXT(DIFFERENCE, units, fabs(warmer_K)), warmer_K > 0.0 ? "warmer" : "colder",
            UF_TEXT(TEMPERATURE, units, b->water.degC), UF_TEXT(TEMPERATURE, units, a->water.degC));
    }
    uf_show_text(stdout, 0, text);
}

static void show(const struct uf_compare *c, const struct uf_arguments *args)
{
    uf_show_heading(stdout, "Two results side by side");
    show_sentence(c, args->units);
    (void)putchar('\n');
    show_heads(c);
    (void)putchar('\n');
    show_differences(c);
    (void)putchar('\n');
    show_numbers(c, args);
    (void)putchar('\n');
    uf_show_text(stdout, 0, uf_outcome_cautions);
}

static void answer_side(cJSON *answer, const char *name, const struct uf_compare_side *side)
{
    const struct uf_result *r = side->result;
    cJSON *object = uf_answer_object(answer, name);
    uf_answer_text(object, "file", side->path);
    uf_answer_text(object, "name", r->title);
    uf_answer_text(object, "version", r->version);
    uf_answer_text(object, "command_line", r->command_line);
    uf_answer_text(object, "winter", r->winter_text);
    uf_answer_text(object, "station", r->station);
}

static cJSON *answer_all(const struct uf_compare *c)
{
    const struct uf_summary *a = &c->side[0].result->summary;
    const struct uf_summary *b = &c->side[1].result->summary;
    cJSON *answer = cJSON_CreateObject();
    answer_side(answer, "first", &c->side[0]);
    answer_side(answer, "second", &c->side[1]);
    uf_answer_bool(answer, "same_weather", c->same_weather);
    cJSON *keys = uf_answer_array(answer, "site_differs");
    for (size_t i = 0; i < c->n_differences; i++) {
        cJSON *item = uf_answer_item(keys);
        uf_answer_text(item, "key", c->differences[i].key);
        uf_answer_text(item, "first", c->differences[i].value[0]);
        uf_answer_text(item, "second", c->differences[i].value[1]);
    }
    for (size_t i = 0; i < UF_COMPARE_NUMBERS; i++) {
        uf_compare_answer_numbers(uf_answer_object(answer, uf_compare_rows[i].key),
                                  c->side[0].value[i], c->side[1].value[i]);
    }
    uf_compare_answer_facts(answer, c->facts, a, b);
    cJSON *notes = uf_answer_array(answer, "notes");
    for (size_t i = 0; i < c->n_notes; i++) {
        (void)cJSON_AddItemToArray(notes, cJSON_CreateString(c->notes[i]));
    }
    return answer;
}

enum uf_status uf_compare_tell(const struct uf_compare *compare, const struct uf_arguments *args,
                               struct uf_error *err)
{
    if (args->json) {
        return uf_answer_print(answer_all(compare), err);
    }
    show(compare, args);
    return UF_OK;
}
