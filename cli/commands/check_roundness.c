#include "check.h"
#include "io/site/readings_csv.h"
#include "io/text/show.h"
#include "solver/design/shape.h"
#include "solver/statics/load.h"

#include <math.h>

/* Roundness: deflection and level of the tank while it was covered, and the deflection predicted. */

static const char *const verdicts[] = {
    [UF_ROUNDNESS_GO] = "GO", [UF_ROUNDNESS_WATCH] = "WATCH", [UF_ROUNDNESS_STOP] = "STOP"};

/* NULL where there is no limit to judge by. */
static const char *verdict_of(const struct uf_roundness_input *input,
                              enum uf_roundness_verdict verdict)
{
    return isnan(input->limit) && isnan(input->level_limit_m) ? NULL : verdicts[verdict];
}

/* The readings judged, and what the formula predicts; predicted is false where the fill's
   stiffness is not given. */
struct findings {
    struct uf_roundness roundness;
    bool judged, predicted;
    struct uf_roundness_forecast forecast;
    double pressure_Pa;
};

static bool has_stiffness(const struct uf_roundness_input *input)
{
    return input->soil_row >= 0 || !isnan(input->soil_modulus_Pa);
}

static enum uf_status find(struct findings *out, const struct uf_site *site,
                           const struct uf_column_soils *soils, struct uf_error *err)
{
    const struct uf_roundness_input *input = &site->works.roundness;
    const struct uf_case *design = &site->design;
    enum uf_status status = UF_OK;
    *out = (struct findings){.judged = input->n > 0, .predicted = has_stiffness(input)};
    if (out->judged) {
        status = uf_roundness(&out->roundness, input, err);
    }
    if (status == UF_OK && out->predicted) {
        if (!uf_shape_is_round(&design->tank)) {
            return uf_fail_key(err, UF_E_INPUT, "roundness.soil",
                               UF_PLAIN("the prediction is for a horizontal cylinder only"),
                               UF_PLAIN("leave it out"));
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

static void answer(cJSON *object, const struct uf_roundness_input *input,
                   const struct findings *found)
{
    uf_answer_number(object, "limit", input->limit);
    uf_answer_text(object, "verdict",
                   found->judged ? verdict_of(input, found->roundness.verdict) : NULL);
    cJSON *list = uf_answer_array(object, "readings");
    for (size_t i = 0; i < found->roundness.n; i++) {
        const struct uf_roundness_row *row = &found->roundness.rows[i];
        cJSON *item = uf_answer_item(list);
        uf_answer_text(item, "at", input->readings[i].at);
        uf_answer_count(item, "station", (long)input->readings[i].station);
        uf_answer_number(item, "diameter_m", input->readings[i].diameter_m);
        uf_answer_number(item, "deflection", row->deflection);
        uf_answer_number(item, "change", row->change);
        uf_answer_number(item, "horizontal_deflection", row->across);
        uf_answer_number(item, "level_change_m", row->level_change_m);
        uf_answer_number(item, "far_level_change_m", row->far_change_m);
        uf_answer_text(item, "verdict", verdict_of(input, row->verdict));
    }
    if (found->predicted) {
        cJSON *forecast = uf_answer_object(object, "forecast");
        uf_answer_number(forecast, "deflection", found->forecast.deflection);
        uf_answer_number(forecast, "low", found->forecast.low);
        uf_answer_number(forecast, "high", found->forecast.high);
        uf_answer_number(forecast, "soil_modulus_MPa", 1e-6 * found->forecast.soil_modulus_Pa);
        uf_answer_number(forecast, "crown_kPa", 1e-3 * found->pressure_Pa);
    }
}

static void show_percent(struct uf_show_table *table, bool sign, double share)
{
    if (isnan(share)) {
        uf_show_table_cell(table, "-");
    } else {
        uf_show_table_cell(table, sign ? "%+.3f" : "%.3f", 100.0 * share);
    }
}

/* Has any reading a value that only a record with stations has? */
static bool has_stations(const struct uf_roundness_input *input)
{
    for (size_t i = 0; i < input->n; i++) {
        const struct uf_roundness_reading *reading = &input->readings[i];
        if (reading->station > 0 || !isnan(reading->across_m) || !isnan(reading->far_level_m)) {
            return true;
        }
    }
    return false;
}

static void show_row(struct uf_show_table *table, const struct uf_arguments *args,
                     const struct uf_roundness_input *input, const struct uf_roundness *roundness,
                     size_t i)
{
    const struct uf_roundness_reading *reading = &input->readings[i];
    const struct uf_roundness_row *row = &roundness->rows[i];
    const bool stations = has_stations(input);
    const char *verdict = verdict_of(input, row->verdict);
    if (reading->station > 0) {
        uf_show_table_cell(table, "%s, station %zu", reading->at, reading->station);
    } else {
        uf_show_table_cell(table, "%s", reading->at);
    }
    uf_show_table_cell(table, "%s", UF_NUMBER(THICKNESS, args->units, reading->diameter_m));
    show_percent(table, false, row->deflection);
    show_percent(table, true, row->change);
    if (stations) {
        show_percent(table, false, row->across);
    }
    uf_show_table_cell(table, "%s", UF_NUMBER(THICKNESS, args->units, row->level_change_m));
    if (stations) {
        uf_show_table_cell(table, "%s", UF_NUMBER(THICKNESS, args->units, row->far_change_m));
    }
    uf_show_table_cell(table, "%s", verdict != NULL ? verdict : "-");
}

static void show_table(const struct uf_arguments *args, const struct uf_roundness_input *input,
                       const struct uf_roundness *roundness)
{
    char diameter[40], level[40], far[40];
    const char *unit = uf_quantity_unit(UF_QUANTITY_THICKNESS, args->units);
    (void)snprintf(diameter, sizeof diameter, "diameter\n%s", unit);
    (void)snprintf(level, sizeof level, "level since\nfirst, %s", unit);
    (void)snprintf(far, sizeof far, "far end\n%s", unit);
    const struct uf_show_column plain[] = {
        {"at", 'l'},  {diameter, 'r'}, {"deflection\npercent", 'r'}, {"change\npercent", 'r'},
        {level, 'r'}, {"", 'l'}};
    const struct uf_show_column full[] = {{"at", 'l'},
                                          {diameter, 'r'},
                                          {"deflection\npercent", 'r'},
                                          {"change\npercent", 'r'},
                                          {"sideways\npercent", 'r'},
                                          {level, 'r'},
                                          {far, 'r'},
                                          {"", 'l'}};
    struct uf_show_table *table =
        has_stations(input) ? uf_show_table_create(full, 8) : uf_show_table_create(plain, 6);
    for (size_t i = 0; i < roundness->n; i++) {
        show_row(table, args, input, roundness, i);
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
                       "Not judged: give roundness.limit from the tank manufacturer's sheet.");
    } else {
        (void)snprintf(
            text, sizeof text, "%s by the limit of %.2f percent from the manufacturer's sheet.%s",
            verdicts[roundness->verdict], 100.0 * input->limit,
            roundness->verdict == UF_ROUNDNESS_STOP
                ? " Stop the work and ask the tank's manufacturer."
            : roundness->verdict == UF_ROUNDNESS_WATCH
                ? " Past 70 percent of it, or one more change like the last would pass it."
                : "");
    }
    uf_show_text(stdout, 0, text);
    (void)putchar('\n');
}

static void show(const struct uf_arguments *args, const struct uf_roundness_input *input,
                 const struct findings *found)
{
    if (found->judged) {
        show_verdict(input, &found->roundness);
        show_table(args, input, &found->roundness);
    }
    if (found->predicted) {
        uf_show_heading(stdout, "Deflection predicted by the modified Iowa formula");
        uf_show_line(stdout, "deflection", "%.2f percent, from %.2f to %.2f",
                     100.0 * found->forecast.deflection, 100.0 * found->forecast.low,
                     100.0 * found->forecast.high);
        uf_show_line(stdout, "dead load at the crown", "%s; live load is not counted",
                     UF_TEXT(PRESSURE, args->units, found->pressure_Pa));
        uf_show_line(stdout, "E' of the fill", "%s",
                     UF_TEXT(PRESSURE, args->units, found->forecast.soil_modulus_Pa));
        uf_show_line(
            stdout, "range",
            "bedding constant 0.083 to 0.110, and the method's own scatter of two percentage "
            "points either way");
    }
    uf_show_heading(stdout, "Sources and cautions");
    uf_show_text(
        stdout, 0,
        "Deflection = 100 (first - this) / first, inside, top to bottom, at the same "
        "place; through a riser: bottom to its top less its length. Iowa formula: "
        "Spangler (1941) as modified; E': Howard, USBR REC-ERC-77-01 (1977), from memory.");
}

static bool given(const struct uf_check *check)
{
    const struct uf_roundness_input *input = &check->site->works.roundness;
    return check->args->readings != NULL || input->n > 0 || has_stiffness(input);
}

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    struct uf_roundness_input *input = &check->site->works.roundness;
    struct uf_column_soils soils;
    struct findings found;
    if (check->args->readings != NULL) {
        const enum uf_status status =
            uf_readings_csv_read(input, check->args->readings, &check->faults, err);
        if (status != UF_OK) {
            check->blamed = check->faults.n > 0 ? check->args->readings : NULL;
            return status;
        }
    }
    enum uf_status status = uf_column_soils(&soils, &check->site->design, err);
    if (status == UF_OK) {
        status = find(&found, check->site, &soils, err);
    }
    if (status != UF_OK) {
        return status;
    }
    check->ok = !found.judged || found.roundness.verdict != UF_ROUNDNESS_STOP;
    if (check->answer != NULL) {
        answer(check->answer, input, &found);
    } else {
        show(check->args, input, &found);
    }
    return UF_OK;
}

const struct uf_check_topic uf_check_roundness = {
    .name = "roundness",
    .doc = "Roundness and level of the tank while it is covered",
    .needs = "readings, or roundness.soil for a prediction",
    .options = UF_OPTION_READINGS,
    .given = given,
    .run = run,
};
