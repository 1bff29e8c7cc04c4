#include "check.h"
#include "io/text/show.h"
#include "solver/statics/load.h"

#include <math.h>

/* Dead load and live load on the foam board, by every method side by side. */

static void answer(cJSON *object, const struct uf_load *load)
{
    uf_answer_bool(object, "board", true);
    uf_answer_number(object, "board_use", load->board_use);
    uf_answer_number(object, "depth_m", load->depth_m);
    uf_answer_number(object, "dead_kPa", 1e-3 * load->dead_Pa);
    uf_answer_number(object, "dead_limit_kPa", 1e-3 * load->dead_limit_Pa);
    uf_answer_number(object, "live_limit_kPa", 1e-3 * load->live_limit_Pa);
    uf_answer_text(object, "method", uf_load_methods[load->method].name);
    uf_answer_number(object, "cover_from_m", load->cover_from_m);
    uf_answer_number(object, "cover_to_m", load->cover_to_m);
    cJSON *list = uf_answer_array(object, "methods");
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        cJSON *row = uf_answer_item(list);
        uf_answer_text(row, "name", uf_load_methods[i].name);
        uf_answer_text(row, "source", uf_load_methods[i].source);
        uf_answer_number(row, "live_kPa", 1e-3 * load->live_Pa[i]);
        uf_answer_number(row, "use", load->use[i]);
    }
}

static void show_methods(const struct uf_arguments *args, const struct uf_load *load)
{
    char live[40];
    (void)snprintf(live, sizeof live, "live load\n%s",
                   uf_quantity_unit(UF_QUANTITY_PRESSURE, args->units));
    const struct uf_show_column columns[] = {
        {"method", 'l'}, {live, 'r'}, {"utilization", 'r'}, {"source", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        uf_show_table_cell(table, "%s%s", uf_load_methods[i].name,
                           i == (size_t)load->method ? " (judged)" : "");
        uf_show_table_cell(table, "%s", UF_NUMBER(PRESSURE, args->units, load->live_Pa[i]));
        uf_show_table_cell(table, "%s", UF_NUMBER(FACTOR, args->units, load->use[i]));
        uf_show_table_cell(table, "%s", uf_load_methods[i].source);
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
    (void)putchar('\n');
}

static void show(const struct uf_arguments *args, const struct uf_load *load)
{
    char verdict[300];
    (void)snprintf(
        verdict, sizeof verdict,
        "Board load check %s: utilization %.2f of the allowable long-term stress, by the "
        "%s.",
        load->board_use <= 1.0 ? "passes" : "FAILS", load->board_use,
        uf_load_methods[load->method].name);
    uf_show_text(stdout, 0, verdict);
    (void)putchar('\n');
    show_methods(args, load);
    uf_show_line(stdout, "top of the board", "%s below grade",
                 UF_TEXT(LENGTH, args->units, load->depth_m));
    uf_show_line(stdout, "dead load",
                 "%s of soil, the heavier of moist and saturated; allowable %s, a third of the "
                 "strength",
                 UF_TEXT(PRESSURE, args->units, load->dead_Pa),
                 UF_TEXT(PRESSURE, args->units, load->dead_limit_Pa));
    uf_show_line(stdout, "live load",
                 "allowable %s, a fifth of the strength; the utilization adds both shares",
                 UF_TEXT(PRESSURE, args->units, load->live_limit_Pa));
    if (isnan(load->cover_from_m)) {
        uf_show_line(stdout, "cover", "the check fails at every cover");
    } else {
        uf_show_line(stdout, "cover", "the check passes from %s to %s and fails outside",
                     UF_TEXT(LENGTH, args->units, load->cover_from_m),
                     UF_TEXT(LENGTH, args->units, load->cover_to_m));
    }
    (void)putchar('\n');
    uf_show_text(
        stdout, 0,
        "A third and a fifth of the strength are common practice as in published load "
        "tables for boards. The most adverse method that applies decides, unless load.method names "
        "one. The tank's own strength under wheels is its "
        "manufacturer's to say.");
}

static bool given(const struct uf_check *check)
{
    return uf_case_has_board(&check->site->design);
}

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    struct uf_column_soils soils;
    struct uf_load load;
    enum uf_status status = uf_column_soils(&soils, &check->site->design, err);
    if (status == UF_OK) {
        status = uf_load(&load, &check->site->design, &soils, err);
    }
    if (status != UF_OK) {
        return status;
    }
    check->ok = load.board_use <= 1.0;
    if (check->answer != NULL) {
        answer(check->answer, &load);
    } else {
        show(check->args, &load);
    }
    return UF_OK;
}

const struct uf_check_topic uf_check_load = {
    .name = "load",
    .doc = "Dead load and live load (surcharge) on the foam board",
    .needs = "board",
    .given = given,
    .run = run,
};
