#include "manual_tables.h"

#include "cli/command.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "io/text/message_text.h"
#include "io/text/show.h"
#include "solver/design/foam.h"
#include "solver/ground/soil.h"
#include "solver/weather/surface.h"

#include <math.h>
#include <string.h>

/* The tables a site file takes its rows from: soils, boards, surfaces, each with its source. */

/* A soil of the table as it comes out when nothing else is given. NAN where it cannot be. */
static struct uf_soil_state state_of(const struct uf_soil *soil, bool saturated)
{
    struct uf_soil_state state = {.porosity = NAN};
    const struct uf_ground_spec spec = uf_case_ground_spec(soil);
    (void)uf_soil_resolve(&state, &spec, UF_COTE_KONRAD, saturated, NULL);
    return state;
}

static void soils_text(const struct uf_arguments *args)
{
    static const struct uf_show_column columns[] = {
        {"soil", 'l'},      {"dry\ndensity", 'r'}, {"mois-\nture", 'r'}, {"k\nthawed", 'r'},
        {"k\nfrozen", 'r'}, {"frost\ngroup", 'l'}, {"what it is", 'l'},
    };
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    uf_show_heading(stdout, "Soils");
    for (const struct uf_soil *row = uf_soil_table; row->name != NULL; row++) {
        const struct uf_soil_state state = state_of(row, false);
        uf_show_table_cell(table, "%s", row->name);
        uf_show_table_cell(table, "%s", UF_NUMBER(DENSITY, args->units, row->dry_density_kg_m3));
        uf_show_table_cell(table, "%.0f %%", 100.0 * row->moisture_by_mass);
        uf_show_table_cell(table, "%s",
                           UF_NUMBER(CONDUCTIVITY, args->units, state.thermal.k_thawed_W_mK));
        uf_show_table_cell(table, "%s",
                           UF_NUMBER(CONDUCTIVITY, args->units, state.thermal.k_frozen_W_mK));
        uf_show_table_cell(table, "%s", row->frost_group != NULL ? row->frost_group : "");
        uf_show_table_cell(table, "%s", row->doc);
    }
    uf_show_table_end(stdout, table);
    char note[240];
    (void)snprintf(note, sizeof note,
                   "Density in %s; conductivity in %s by Cote and Konrad at the moisture shown, a "
                   "share of the dry mass. All of it can be given otherwise in the site file.",
                   uf_quantity_unit(UF_QUANTITY_DENSITY, args->units),
                   uf_quantity_unit(UF_QUANTITY_CONDUCTIVITY, args->units));
    uf_show_text(stdout, 0, note);
}

static void boards_text(const struct uf_arguments *args)
{
    static const struct uf_show_column columns[] = {
        {"board", 'l'},    {"kind", 'l'},    {"conductivity\nin service", 'r'},
        {"strength", 'r'}, {"density", 'r'},
    };
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    uf_show_heading(stdout, "Boards, by ASTM C578 type");
    for (const struct uf_foam *row = uf_foam_table; row->name != NULL; row++) {
        uf_show_table_cell(table, "%s", row->name);
        uf_show_table_cell(table, "%s", row->kind);
        uf_show_table_cell(table, "%s", UF_TEXT(CONDUCTIVITY, args->units, row->k_W_mK));
        uf_show_table_cell(table, "%s", UF_TEXT(PRESSURE, args->units, row->strength_Pa));
        uf_show_table_cell(table, "%s", UF_TEXT(DENSITY, args->units, row->density_kg_m3));
    }
    uf_show_table_end(stdout, table);
}

static void surfaces_text(void)
{
    static const struct uf_show_column columns[] = {
        {"surface", 'l'}, {"n freezing", 'r'}, {"n thawing", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    uf_show_heading(stdout, "Surfaces: index at the surface over index of the air");
    for (const struct uf_cover_row *row = uf_surface_table; row->name != NULL; row++) {
        uf_show_table_cell(table, "%s", row->name);
        uf_show_table_cell(table, "%.2f", row->n_freezing);
        uf_show_table_cell(table, "%.2f", row->n_thawing);
    }
    uf_show_table_end(stdout, table);
}

/* One source; a run of rows that share it is named together. */
static void source_text(char *names, size_t size, const char *name, const char *source,
                        const char *next_source)
{
    const size_t used = strlen(names);
    (void)snprintf(names + used, size - used, "%s%s", used > 0 ? ", " : "", name);
    if (next_source == NULL || strcmp(source, next_source) != 0) {
        uf_show_entry(stdout, names, source);
        names[0] = '\0';
    }
}

static void soil_sources(enum uf_units units)
{
    char names[400] = "";
    struct uf_message source;
    struct uf_message next;
    uf_soil_source(&next, &uf_soil_table[0]);
    for (const struct uf_soil *row = uf_soil_table; row->name != NULL; row++) {
        source = next;
        if (row[1].name != NULL) {
            uf_soil_source(&next, row + 1);
        }
        source_text(names, sizeof names, row->name, UF_MESSAGE(units, &source),
                    row[1].name != NULL ? UF_MESSAGE(units, &next) : NULL);
    }
}

static void sources_text(enum uf_units units)
{
    char names[400] = "";
    uf_show_heading(stdout, "Sources");
    soil_sources(units);
    for (const struct uf_foam *row = uf_foam_table; row->name != NULL; row++) {
        source_text(names, sizeof names, row->name, row->source, row[1].source);
    }
    for (const struct uf_cover_row *row = uf_surface_table; row->name != NULL; row++) {
        source_text(names, sizeof names, row->name, row->source, row[1].source);
    }
    (void)printf("\n");
    uf_show_text(stdout, 0,
                 "A table is no site investigation: what was measured on the site goes first.");
}

static void soils_json(cJSON *answer)
{
    cJSON *list = uf_answer_array(answer, "soils");
    for (const struct uf_soil *row = uf_soil_table; row->name != NULL; row++) {
        const struct uf_soil_state state = state_of(row, false), wet = state_of(row, true);
        cJSON *item = uf_answer_item(list);
        struct uf_message source;
        uf_soil_source(&source, row);
        uf_answer_text(item, "name", row->name);
        uf_answer_text(item, "what", row->doc);
        uf_answer_text(item, "source", source.text);
        uf_answer_text(item, "frost_group", row->frost_group);
        uf_answer_number(item, "dry_density_kg_m3", row->dry_density_kg_m3);
        uf_answer_number(item, "moisture_by_mass", row->moisture_by_mass);
        uf_answer_number(item, "quartz", row->quartz);
        uf_answer_number(item, "solid_kg_m3", row->solid_kg_m3);
        uf_answer_number(item, "porosity", state.porosity);
        uf_answer_number(item, "k_thawed_W_mK", state.thermal.k_thawed_W_mK);
        uf_answer_number(item, "k_frozen_W_mK", state.thermal.k_frozen_W_mK);
        uf_answer_number(item, "k_saturated_thawed_W_mK", wet.thermal.k_thawed_W_mK);
        uf_answer_number(item, "k_saturated_frozen_W_mK", wet.thermal.k_frozen_W_mK);
        uf_answer_number(item, "c_thawed_J_m3K", state.thermal.c_thawed_J_m3K);
        uf_answer_number(item, "c_frozen_J_m3K", state.thermal.c_frozen_J_m3K);
        uf_answer_number(item, "latent_J_m3", state.thermal.latent_J_m3);
        uf_answer_number(item, "freezing_from_degC", row->freezing_from_degC);
        uf_answer_number(item, "freezing_to_degC", row->freezing_to_degC);
        uf_answer_number(item, "unfrozen_A_percent", row->unfrozen_A_percent);
        uf_answer_number(item, "unfrozen_B", row->unfrozen_B);
        uf_answer_number(item, "unit_weight_moist_N_m3", state.unit_weight_moist_N_m3);
        uf_answer_number(item, "unit_weight_saturated_N_m3", state.unit_weight_saturated_N_m3);
    }
}

static void boards_json(cJSON *answer)
{
    cJSON *list = uf_answer_array(answer, "boards");
    for (const struct uf_foam *row = uf_foam_table; row->name != NULL; row++) {
        cJSON *item = uf_answer_item(list);
        uf_answer_text(item, "name", row->name);
        uf_answer_text(item, "kind", row->kind);
        uf_answer_text(item, "source", row->source);
        uf_answer_number(item, "k_W_mK", row->k_W_mK);
        uf_answer_number(item, "strength_Pa", row->strength_Pa);
        uf_answer_number(item, "density_kg_m3", row->density_kg_m3);
    }
}

static void surfaces_json(cJSON *answer)
{
    cJSON *list = uf_answer_array(answer, "surfaces");
    for (const struct uf_cover_row *row = uf_surface_table; row->name != NULL; row++) {
        cJSON *item = uf_answer_item(list);
        uf_answer_text(item, "name", row->name);
        uf_answer_text(item, "source", row->source);
        uf_answer_number(item, "n_freezing", row->n_freezing);
        uf_answer_number(item, "n_thawing", row->n_thawing);
    }
}

int uf_manual_tables(const struct uf_arguments *args)
{
    if (args->json) {
        struct uf_error err = {0};
        cJSON *answer = cJSON_CreateObject();
        soils_json(answer);
        boards_json(answer);
        surfaces_json(answer);
        const enum uf_status status = uf_answer_print(answer, &err);
        return status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, NULL, &err);
    }
    soils_text(args);
    boards_text(args);
    surfaces_text();
    sources_text(args->units);
    return UF_EXIT_DONE;
}
