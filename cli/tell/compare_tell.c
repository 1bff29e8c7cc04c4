#include "answer.h"
#include "cli/commands/compare.h"
#include "io/text/quantity_words.h"
#include "io/text/show.h"
#include "outcome.h"
#include "solver/base/calendar.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const struct uf_compare_row uf_compare_rows[UF_COMPARE_NUMBERS] = {
    [UF_COMPARE_COVER] = {"cover", "cover_m", UF_QUANTITY_LENGTH, false, false},
    [UF_COMPARE_THICKNESS] = {"board, thickness", "board_thickness_m", UF_QUANTITY_THICKNESS, false,
                              false},
    [UF_COMPARE_REACH] = {"board, past the tank", "board_beyond_tank_m", UF_QUANTITY_LENGTH, false,
                          false},
    [UF_COMPARE_INDEX] = {"freezing index", "freezing_index_degC_day", UF_QUANTITY_INDEX, false,
                          false},
    [UF_COMPARE_FAR] = {"frost far from the tank", "frost_undisturbed_m", UF_QUANTITY_LENGTH, true,
                        false},
    [UF_COMPARE_ABOVE] = {"frost over the tank", "frost_above_tank_m", UF_QUANTITY_LENGTH, true,
                          false},
    [UF_COMPARE_WATER] = {"coldest water", "water_min_degC", UF_QUANTITY_TEMPERATURE, true, false},
    [UF_COMPARE_WALL] = {"coldest wetted wall", "wall_min_degC", UF_QUANTITY_TEMPERATURE, true,
                         false},
    [UF_COMPARE_CROWN] = {"crown", "crown_min_degC", UF_QUANTITY_TEMPERATURE, true, false},
    [UF_COMPARE_INVERT] = {"invert", "invert_min_degC", UF_QUANTITY_TEMPERATURE, true, false},
    [UF_COMPARE_ICE] = {"ice, share of the water", "max_ice_fraction", UF_QUANTITY_SHARE, false,
                        false},
    [UF_COMPARE_UPLIFT] = {"uplift factor, empty", "uplift_factor", UF_QUANTITY_FACTOR, false,
                           false},
    [UF_COMPARE_BALANCE] = {"heat balance, relative", "heat_balance_relative", UF_QUANTITY_FACTOR,
                            false, true},
    [UF_COMPARE_WINTERS] = {"winters run", "winters_run", UF_QUANTITY_FACTOR, false, false},
    [UF_COMPARE_BROKEN] = {"winters breaking a limit", "winters_that_broke_a_limit",
                           UF_QUANTITY_FACTOR, false, false}};

static enum uf_quantity difference_kind(enum uf_quantity kind)
{
    return kind == UF_QUANTITY_TEMPERATURE ? UF_QUANTITY_DIFFERENCE : kind;
}

/* Counts have no decimals, a heat balance has an exponent. */
static void show_number(struct uf_show_table *table, size_t which, enum uf_quantity kind,
                        enum uf_units units, double value)
{
    const bool count = which == UF_COMPARE_WINTERS || which == UF_COMPARE_BROKEN;
    if (!isfinite(value)) {
        uf_show_table_cell(table, "-");
    } else if (count) {
        uf_show_table_cell(table, "%.0f", value);
    } else if (uf_compare_rows[which].exact) {
        uf_show_table_cell(table, "%.1e", value);
    } else {
        char text[40];
        uf_show_table_cell(table, "%s", uf_quantity_text(text, sizeof text, kind, units, value));
    }
}

static void show_days(struct uf_show_table *table, const char *label, const long day[2])
{
    char text[16];
    if (day[0] == UF_NO_DAY && day[1] == UF_NO_DAY) {
        return;
    }
    uf_show_table_cell(table, "%s", label);
    for (size_t i = 0; i < 2; i++) {
        const char *when = uf_outcome_date(day[i], text);
        uf_show_table_cell(table, "%s", when != NULL ? when : "-");
    }
    const long later = day[1] - day[0];
    if (day[0] != UF_NO_DAY && day[1] != UF_NO_DAY && labs(later) < 366) {
        uf_show_table_cell(table, "%ld day%s", later, labs(later) == 1 ? "" : "s");
    } else {
        uf_show_table_cell(table, "-");
    }
}

static void show_row(struct uf_show_table *table, const struct uf_compare *c, size_t which,
                     enum uf_units units)
{
    const struct uf_compare_row *row = &uf_compare_rows[which];
    const double a = c->side[0].value[which];
    const double b = c->side[1].value[which];
    if (!isfinite(a) && !isfinite(b)) {
        return;
    }
    uf_show_table_cell(table, "%s", row->label);
    show_number(table, which, row->kind, units, a);
    show_number(table, which, row->kind, units, b);
    show_number(table, which, difference_kind(row->kind), units, row->exact ? (double)NAN : b - a);
    if (row->dated) {
        const long day[2] = {c->side[0].day[which], c->side[1].day[which]};
        show_days(table, "- on", day);
    }
    if (which == UF_COMPARE_FAR) {
        const long day[2] = {c->side[0].thaw_out_day, c->side[1].thaw_out_day};
        show_days(table, "- gone by", day);
    }
}

/* Points of A in their order, then those that B alone has. a or b may be NULL. */
static void show_point(struct uf_show_table *table, const char *kind,
                       const struct uf_probe_summary *a, const struct uf_probe_summary *b,
                       enum uf_units units)
{
    const double x = a != NULL ? a->least.degC : (double)NAN;
    const double y = b != NULL ? b->least.degC : (double)NAN;
    uf_show_table_cell(table, "%s %s", kind, a != NULL ? a->name : b->name);
    uf_show_table_cell(table, "%s", UF_TEXT(TEMPERATURE, units, x));
    uf_show_table_cell(table, "%s", UF_TEXT(TEMPERATURE, units, y));
    uf_show_table_cell(table, "%s", UF_TEXT(DIFFERENCE, units, y - x));
    show_days(
        table, "- on",
        (long[2]){a != NULL ? a->least.day : UF_NO_DAY, b != NULL ? b->least.day : UF_NO_DAY});
}

static void show_points(struct uf_show_table *table, const char *kind,
                        const struct uf_probe_summary *a, size_t n_a,
                        const struct uf_probe_summary *b, size_t n_b, enum uf_units units)
{
    for (size_t i = 0; i < n_a; i++) {
        show_point(table, kind, &a[i], uf_compare_find(b, n_b, a[i].name), units);
    }
    for (size_t i = 0; i < n_b; i++) {
        if (uf_compare_find(a, n_a, b[i].name) == NULL) {
            show_point(table, kind, NULL, &b[i], units);
        }
    }
}

static void show_numbers(const struct uf_compare *c, enum uf_units units)
{
    static const struct uf_show_column columns[] = {
        {"", 'l'}, {"A", 'r'}, {"B", 'r'}, {"B - A", 'r'}};
    const struct uf_summary *a = &c->side[0].result->summary;
    const struct uf_summary *b = &c->side[1].result->summary;
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    for (size_t i = 0; i < UF_COMPARE_NUMBERS; i++) {
        show_row(table, c, i, units);
        if (i == UF_COMPARE_ICE) {
            show_points(table, "probe", a->probes, a->n_probes, b->probes, b->n_probes, units);
            show_points(table, "pipe", a->pipes, a->n_pipes, b->pipes, b->n_pipes, units);
        }
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
}

/* Bytes of a key's outermost block: "tank" of "tank.diameter", "pipes" of "pipes[0].x".
 */
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
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
}

/* The winter's words were kept in SI: of them the part before the figures, and its index
   in the units asked for. */
static const char *winter_words(char *text, size_t size, const struct uf_compare_side *side,
                                enum uf_units units)
{
    const char *kept = side->result->winter_text != NULL ? side->result->winter_text : "(not told)";
    const double index = side->value[UF_COMPARE_INDEX];
    const char *figures = strstr(kept, ", freezing index");
    if (units == UF_UNITS_SI || figures == NULL || !isfinite(index)) {
        (void)uf_quantity_words(text, size, units, kept);
    } else {
        (void)snprintf(text, size, "%.*s, freezing index %s", (int)(figures - kept), kept,
                       UF_TEXT(INDEX, units, index));
    }
    return text;
}

static void show_heads(const struct uf_compare *c, enum uf_units units)
{
    static const char *const names[2] = {"A", "B"};
    char words[2][400];
    for (size_t i = 0; i < 2; i++) {
        const struct uf_compare_side *side = &c->side[i];
        const char *title = side->result->title;
        (void)winter_words(words[i], sizeof words[i], side, units);
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
    const double *a = c->side[0].value;
    const double *b = c->side[1].value;
    const double warmer_K = b[UF_COMPARE_WATER] - a[UF_COMPARE_WATER];
    char text[300];
    if (!isfinite(warmer_K)) {
        (void)snprintf(
            text, sizeof text, "Far from the tank frost goes down to %s in A and to %s in B.",
            UF_TEXT(LENGTH, units, a[UF_COMPARE_FAR]), UF_TEXT(LENGTH, units, b[UF_COMPARE_FAR]));
    } else if (fabs(warmer_K) < 0.05) {
        (void)snprintf(text, sizeof text, "The water is as cold in B as in A: %s at its coldest.",
                       UF_TEXT(TEMPERATURE, units, b[UF_COMPARE_WATER]));
    } else {
        (void)snprintf(
            text, sizeof text, "The water stays %s %s in B than in A: %s, not %s, at its coldest.",
            UF_TEXT(DIFFERENCE, units, fabs(warmer_K)), warmer_K > 0.0 ? "warmer" : "colder",
            UF_TEXT(TEMPERATURE, units, b[UF_COMPARE_WATER]),
            UF_TEXT(TEMPERATURE, units, a[UF_COMPARE_WATER]));
    }
    uf_show_text(stdout, 0, text);
}

static void show(const struct uf_compare *c, enum uf_units units)
{
    uf_show_heading(stdout, "Two results side by side");
    show_sentence(c, units);
    (void)putchar('\n');
    show_heads(c, units);
    (void)putchar('\n');
    show_differences(c);
    (void)putchar('\n');
    show_numbers(c, units);
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

static void answer_pair(cJSON *object, double a, double b, const long day[2], bool dated)
{
    uf_answer_number(object, "first", a);
    uf_answer_number(object, "second", b);
    uf_answer_number(object, "difference", b - a);
    if (dated) {
        uf_answer_date(object, "first_date", day[0]);
        uf_answer_date(object, "second_date", day[1]);
    }
}

static void answer_point(cJSON *list, const struct uf_probe_summary *a,
                         const struct uf_probe_summary *b)
{
    static const struct uf_probe_summary none = {.name = "",
                                                 .least = {.degC = NAN, .day = UF_NO_DAY}};
    cJSON *item = uf_answer_item(list);
    const char *name = a != NULL ? a->name : (b != NULL ? b->name : none.name);
    uf_answer_text(item, "name", name);
    answer_pair(uf_answer_object(item, "min_degC"), (a != NULL ? a : &none)->least.degC,
                (b != NULL ? b : &none)->least.degC,
                (long[2]){(a != NULL ? a : &none)->least.day, (b != NULL ? b : &none)->least.day},
                true);
}

static void answer_points(cJSON *answer, const char *key, const struct uf_probe_summary *a,
                          size_t n_a, const struct uf_probe_summary *b, size_t n_b)
{
    cJSON *list = uf_answer_array(answer, key);
    for (size_t i = 0; i < n_a; i++) {
        answer_point(list, &a[i], uf_compare_find(b, n_b, a[i].name));
    }
    for (size_t i = 0; i < n_b; i++) {
        if (uf_compare_find(a, n_a, b[i].name) == NULL) {
            answer_point(list, NULL, &b[i]);
        }
    }
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
        answer_pair(uf_answer_object(answer, uf_compare_rows[i].key), c->side[0].value[i],
                    c->side[1].value[i], (long[2]){c->side[0].day[i], c->side[1].day[i]},
                    uf_compare_rows[i].dated);
    }
    cJSON *thaw = uf_answer_object(answer, "thaw_out_date");
    uf_answer_date(thaw, "first", c->side[0].thaw_out_day);
    uf_answer_date(thaw, "second", c->side[1].thaw_out_day);
    answer_points(answer, "probes", a->probes, a->n_probes, b->probes, b->n_probes);
    answer_points(answer, "pipes", a->pipes, a->n_pipes, b->pipes, b->n_pipes);
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
    show(compare, args->units);
    return UF_OK;
}
