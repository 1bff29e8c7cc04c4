#include "cli/command.h"
#include "cli/site_open.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "cli/tell/outcome.h"
#include "io/site/readings_csv.h"
#include "io/text/show.h"
#include "solver/statics/load.h"

#include <math.h>

/* underfrost readings SITE.yaml [READINGS.csv]: did the tank stay round and level. */

static const char *const verdicts[] = {
    [UF_ROUNDNESS_GO] = "GO", [UF_ROUNDNESS_WATCH] = "WATCH", [UF_ROUNDNESS_STOP] = "STOP"};

/* The readings judged, and what the formula foretells; foretold is false where the fill's
   stiffness is not given. */
struct findings {
    struct uf_roundness roundness;
    bool judged, foretold;
    struct uf_roundness_forecast forecast;
    double pressure_Pa;
};

static enum uf_status find(struct findings *out, const struct uf_site *site,
                           const struct uf_column_soils *soils, struct uf_error *err)
{
    const struct uf_roundness_input *input = &site->works.roundness;
    const struct uf_case *design = &site->design;
    enum uf_status status = UF_OK;
    *out = (struct findings){.judged = input->n > 0};
    out->foretold = input->soil_row >= 0 || !isnan(input->soil_modulus_Pa);
    if (!out->judged && !out->foretold) {
        return uf_fail(
            err, UF_E_INPUT,
            "readings: give readings or a CSV file of them, or roundness.soil for a forecast");
    }
    if (out->judged) {
        status = uf_roundness(&out->roundness, input, err);
    }
    if (status == UF_OK && out->foretold) {
        if (design->tank.shape != UF_HORIZONTAL_CYLINDER) {
            return uf_fail(err, UF_E_INPUT,
                           "roundness: the forecast is for a horizontal cylinder only");
        }
        status = uf_load_soil_Pa(&out->pressure_Pa, design, soils, uf_case_crown_m(design), err);
        if (status == UF_OK) {
            status = uf_roundness_predict(&out->forecast, input, out->pressure_Pa,
                                          0.5 * design->tank.diameter_m,
                                          design->tank.wall_thickness_m, err);
        }
    }
    return status;
}

static int answer(const struct uf_arguments *args, const struct uf_site *site,
                  const struct findings *found)
{
    const struct uf_roundness_input *input = &site->works.roundness;
    cJSON *object = cJSON_CreateObject();
    uf_answer_text(object, "name", site->design.name);
    uf_answer_number(object, "limit", input->limit);
    uf_answer_text(object, "verdict", found->judged ? verdicts[found->roundness.verdict] : NULL);
    cJSON *list = uf_answer_array(object, "readings");
    for (size_t i = 0; i < found->roundness.n; i++) {
        const struct uf_roundness_row *row = &found->roundness.rows[i];
        cJSON *item = uf_answer_item(list);
        uf_answer_text(item, "at", input->readings[i].at);
        uf_answer_number(item, "diameter_m", input->readings[i].diameter_m);
        uf_answer_number(item, "deflection", row->deflection);
        uf_answer_number(item, "change", row->change);
        uf_answer_number(item, "level_change_m", row->level_change_m);
        uf_answer_text(item, "verdict", verdicts[row->verdict]);
    }
    if (found->foretold) {
        cJSON *forecast = uf_answer_object(object, "forecast");
        uf_answer_number(forecast, "deflection", found->forecast.deflection);
        uf_answer_number(forecast, "low", found->forecast.low);
        uf_answer_number(forecast, "high", found->forecast.high);
        uf_answer_number(forecast, "soil_modulus_MPa", 1e-6 * found->forecast.soil_modulus_Pa);
        uf_answer_number(forecast, "crown_kPa", 1e-3 * found->pressure_Pa);
    }
    return uf_site_open_answer(args, object);
}

static void show_table(const struct uf_arguments *args, const struct uf_roundness_input *input,
                       const struct uf_roundness *roundness)
{
    char diameter[40], level[40];
    (void)snprintf(diameter, sizeof diameter, "diameter\n%s",
                   uf_quantity_unit(UF_QUANTITY_THICKNESS, args->units));
    (void)snprintf(level, sizeof level, "level since\nfirst, %s",
                   uf_quantity_unit(UF_QUANTITY_THICKNESS, args->units));
    const struct uf_show_column columns[] = {
        {"at", 'l'},  {diameter, 'r'}, {"deflection\npercent", 'r'}, {"change\npercent", 'r'},
        {level, 'r'}, {"", 'l'}};
    struct uf_show_table *table = uf_show_table_create(columns, 6);
    for (size_t i = 0; i < roundness->n; i++) {
        const struct uf_roundness_row *row = &roundness->rows[i];
        uf_show_table_cell(table, "%s", input->readings[i].at);
        uf_show_table_cell(table, "%s",
                           UF_NUMBER(THICKNESS, args->units, input->readings[i].diameter_m));
        uf_show_table_cell(table, "%.3f", 100.0 * row->deflection);
        uf_show_table_cell(table, "%+.3f", 100.0 * row->change);
        uf_show_table_cell(table, "%s", UF_NUMBER(THICKNESS, args->units, row->level_change_m));
        uf_show_table_cell(table, "%s", verdicts[row->verdict]);
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
}

static void show_verdict(const struct uf_roundness_input *input,
                         const struct uf_roundness *roundness)
{
    char text[300];
    if (isnan(input->limit)) {
        (void)snprintf(text, sizeof text,
                       "Not judged: give roundness.limit from the tank maker's sheet.");
    } else {
        (void)snprintf(
            text, sizeof text, "%s by the limit of %.2f percent from the maker's sheet.%s",
            verdicts[roundness->verdict], 100.0 * input->limit,
            roundness->verdict == UF_ROUNDNESS_STOP ? " Stop the work and ask the tank's maker."
            : roundness->verdict == UF_ROUNDNESS_WATCH
                ? " One more change like the last would pass it."
                : "");
    }
    uf_show_text(stdout, 0, text);
    (void)putchar('\n');
}

static void show(const struct uf_arguments *args, const struct uf_site *site,
                 const struct findings *found)
{
    uf_site_open_heading(args, site, "Roundness and level");
    if (found->judged) {
        show_verdict(&site->works.roundness, &found->roundness);
        show_table(args, &site->works.roundness, &found->roundness);
    }
    if (found->foretold) {
        uf_show_heading(stdout, "Forecast by the modified Iowa formula");
        uf_show_line(stdout, "deflection", "%.2f percent, from %.2f to %.2f",
                     100.0 * found->forecast.deflection, 100.0 * found->forecast.low,
                     100.0 * found->forecast.high);
        uf_show_line(stdout, "soil at the crown", "%s; wheels are not counted",
                     UF_TEXT(PRESSURE, args->units, found->pressure_Pa));
        uf_show_line(stdout, "E' of the fill", "%s",
                     UF_TEXT(PRESSURE, args->units, found->forecast.soil_modulus_Pa));
        uf_show_line(stdout, "range",
                     "bedding constant 0.083 to 0.110, and two points of percent "
                     "either way that the method is good for");
    }
    uf_show_heading(stdout, "Sources and cautions");
    uf_show_text(
        stdout, 0,
        "Deflection = 100 (first - this) / first, inside, top to bottom, at the same "
        "place; through a riser: bottom to its top less its length. Iowa formula: "
        "Spangler (1941) as modified; E': Howard, USBR REC-ERC-77-01 (1977), from memory.");
    uf_show_text(stdout, 0, uf_outcome_cautions);
}

static int run(const struct uf_arguments *args)
{
    struct uf_site *site = NULL;
    struct uf_column_soils soils;
    struct findings found = {.judged = false};
    struct uf_error err = {0};
    enum uf_status status = UF_OK;
    int code = uf_site_open(&site, &soils, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    if (args->n_operands > 1) {
        status = uf_readings_csv_read(&site->works.roundness, args->operands[1], &err);
    }
    const char *blamed = status == UF_OK ? args->operands[0] : NULL;
    if (status == UF_OK) {
        status = find(&found, site, &soils, &err);
    }
    if (status != UF_OK) {
        code = uf_faults_error(args, blamed, &err);
    } else if (args->json) {
        code = answer(args, site, &found);
    } else {
        show(args, site, &found);
    }
    uf_site_free(site);
    const bool stop =
        code == UF_EXIT_DONE && found.judged && found.roundness.verdict == UF_ROUNDNESS_STOP;
    return stop ? UF_EXIT_LIMIT : code;
}

const struct uf_command uf_cmd_readings = {
    .name = "readings",
    .summary = "did the tank stay round and level while it was covered",
    .synopsis = "SITE.yaml [READINGS.csv]",
    .detail = "Percent deflection and change of level at the installer's own "
              "checkpoints, from readings in the "
              "site file or a CSV file (at,diameter,level, each value with its unit), "
              "against roundness.limit "
              "from the maker's sheet; and the deflection foretold by the modified Iowa "
              "formula where roundness.soil is given.\nExit 1 on STOP.",
    .options = UF_OPTIONS_SITE,
    .least_operands = 1,
    .most_operands = 2,
    .run = run,
};
