#include "cli/command.h"
#include "cli/site_open.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "cli/tell/outcome.h"
#include "io/text/show.h"
#include "solver/statics/load.h"

#include <math.h>

/* underfrost load SITE.yaml: soil and wheel on the foam board, by every method side by
 * side. */

static int answer(const struct uf_arguments *args, const struct uf_site *site,
                  const struct uf_load *load)
{
    cJSON *object = cJSON_CreateObject();
    uf_answer_text(object, "name", site->design.name);
    uf_answer_bool(object, "board", load->present);
    uf_answer_number(object, "board_use", load->present ? load->board_use : (double)NAN);
    uf_answer_bool(object, "ok", !load->present || load->board_use <= 1.0);
    if (load->present) {
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
    return uf_site_open_answer(args, object);
}

static void show_methods(const struct uf_arguments *args, const struct uf_load *load)
{
    char live[40];
    (void)snprintf(live, sizeof live, "wheel\n%s",
                   uf_quantity_unit(UF_QUANTITY_PRESSURE, args->units));
    const struct uf_show_column columns[] = {
        {"method", 'l'}, {live, 'r'}, {"use", 'r'}, {"source", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        uf_show_table_cell(table, "%s%s", uf_load_methods[i].name,
                           i == (size_t)load->method ? " (the verdict)" : "");
        uf_show_table_cell(table, "%s", UF_NUMBER(PRESSURE, args->units, load->live_Pa[i]));
        uf_show_table_cell(table, "%s", UF_NUMBER(FACTOR, args->units, load->use[i]));
        uf_show_table_cell(table, "%s", uf_load_methods[i].source);
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
    (void)putchar('\n');
}

static void show(const struct uf_arguments *args, const struct uf_site *site,
                 const struct uf_load *load)
{
    char verdict[300];
    uf_site_open_heading(args, site, "Board under load");
    if (!load->present) {
        uf_show_text(stdout, 0, "There is no board.");
        return;
    }
    (void)snprintf(verdict, sizeof verdict, "%s: %.2f of what the board bears for long, by the %s.",
                   load->board_use <= 1.0 ? "HOLDS" : "DOES NOT HOLD", load->board_use,
                   uf_load_methods[load->method].name);
    uf_show_text(stdout, 0, verdict);
    (void)putchar('\n');
    show_methods(args, load);
    uf_show_line(stdout, "top of the board", "%s below grade",
                 UF_TEXT(LENGTH, args->units, load->depth_m));
    uf_show_line(stdout, "soil above",
                 "%s, the heavier of moist and soaked; %s allowed, a third of the strength",
                 UF_TEXT(PRESSURE, args->units, load->dead_Pa),
                 UF_TEXT(PRESSURE, args->units, load->dead_limit_Pa));
    uf_show_line(stdout, "wheel", "%s allowed, a fifth of the strength; use adds both shares",
                 UF_TEXT(PRESSURE, args->units, load->live_limit_Pa));
    if (isnan(load->cover_from_m)) {
        uf_show_line(stdout, "cover", "the board holds at no cover");
    } else {
        uf_show_line(stdout, "cover", "the board holds from %s to %s and fails outside",
                     UF_TEXT(LENGTH, args->units, load->cover_from_m),
                     UF_TEXT(LENGTH, args->units, load->cover_to_m));
    }
    (void)putchar('\n');
    uf_show_text(
        stdout, 0,
        "A third and a fifth of the strength are common practice as in published load "
        "tables for boards. The methods differ most under shallow cover: where one of them "
        "passes 1, take the stronger board. The tank's own strength under wheels is its "
        "maker's to say.");
    uf_show_text(stdout, 0, uf_outcome_cautions);
}

static int run(const struct uf_arguments *args)
{
    struct uf_site *site = NULL;
    struct uf_column_soils soils;
    struct uf_load load;
    struct uf_error err = {0};
    int code = uf_site_open(&site, &soils, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    if (uf_load(&load, &site->design, &soils, &err) != UF_OK) {
        code = uf_faults_error(args, args->operands[0], &err);
    } else if (args->json) {
        code = answer(args, site, &load);
    } else {
        show(args, site, &load);
    }
    uf_site_free(site);
    const bool fails = code == UF_EXIT_DONE && load.present && !(load.board_use <= 1.0);
    return fails ? UF_EXIT_LIMIT : code;
}

const struct uf_command uf_cmd_load = {
    .name = "load",
    .summary = "soil and wheel on the foam board, by several methods",
    .synopsis = "SITE.yaml",
    .detail = "The weight of the soil against a third of the board's strength and the "
              "wheel against a "
              "fifth, the wheel by the published H-20 table, 1.75 H, Boussinesq and the "
              "tyre's spread, "
              "with impact; the covers between which the board holds.\nExit 1 when it "
              "does not hold.",
    .options = UF_OPTIONS_SITE,
    .least_operands = 1,
    .most_operands = 1,
    .run = run,
};
