#include "check_rows.h"
#include "io/site/readings_csv.h"
#include "io/text/quantity.h"
#include "solver/design/shape.h"
#include "solver/statics/load.h"

#include <math.h>

/* Roundness: deflection and level of the tank while it was covered, and the deflection predicted. */

static const struct uf_roundness_input *given_of(const struct uf_check *check)
{
    return &check->site->works.roundness;
}

static const struct uf_roundness_reading *reading_of(const struct uf_check *check, size_t i)
{
    return &given_of(check)->readings[i];
}

UF_CHECK_WHERE(has_stiffness,
               given_of(check)->soil_row >= 0 || !isnan(given_of(check)->soil_modulus_Pa))

/* The limit stands in the report's list of clauses. */
UF_CHECK_WHERE(judges, check->has_readings && !check->brief)
UF_CHECK_WHERE(has_readings, check->has_readings)
UF_CHECK_WHERE(has_forecast, check->has_forecast)

/* Has any reading a value that only a record with stations has? */
static bool has_stations(const struct uf_check *check)
{
    for (size_t i = 0; i < given_of(check)->n; i++) {
        const struct uf_roundness_reading *reading = reading_of(check, i);
        if (reading->station > 0 || !isnan(reading->across_m) || !isnan(reading->far_level_m)) {
            return true;
        }
    }
    return false;
}

static size_t count_readings(const struct uf_check *check)
{
    return check->roundness.n;
}

/* NULL where there is no limit to judge by. */
static const char *verdict_of(const struct uf_check *check, enum uf_roundness_verdict verdict)
{
    static const char *const verdicts[] = {
        [UF_ROUNDNESS_GO] = "GO", [UF_ROUNDNESS_WATCH] = "WATCH", [UF_ROUNDNESS_STOP] = "STOP"};
    const struct uf_roundness_input *input = given_of(check);
    return isnan(input->limit) && isnan(input->level_limit_m) ? NULL : verdicts[verdict];
}

UF_CHECK_VALUE(const char *, verdict,
               check->has_readings ? verdict_of(check, check->roundness.verdict) : NULL)
UF_CHECK_VALUE(const char *, verdict_then, verdict_of(check, check->roundness.rows[i].verdict))
UF_CHECK_VALUE(const char *, at, reading_of(check, i)->at)
UF_CHECK_VALUE(double, limit, given_of(check)->limit)
UF_CHECK_VALUE(double, station, (double)reading_of(check, i)->station)
UF_CHECK_VALUE(double, diameter, reading_of(check, i)->diameter_m)

UF_CHECK_WORDS(work_verdict)
{
    (void)snprintf(
        text, size, "%s",
        isnan(given_of(check)->limit)
            ? "Not judged: give roundness.limit from the tank manufacturer's sheet"
        : check->roundness.verdict == UF_ROUNDNESS_STOP
            ? "stop the work and ask the tank's manufacturer"
        : check->roundness.verdict == UF_ROUNDNESS_WATCH
            ? "past 70 percent of a limit, or one more change like the last would pass it"
            : "within the limits");
}

UF_CHECK_WORDS(work_forecast)
{
    const struct uf_roundness_input *input = given_of(check);
    (void)snprintf(
        text, size,
        "modified Iowa formula: %.2g x 0.1 x P / (EI/r^3 + 0.061 E'), shell %s; with K from 0.083 to 0.110 "
        "and 2 points either way %.1f to %.1f percent",
        input->lag, isnan(input->shell_modulus_Pa) ? "not counted" : "counted",
        100.0 * check->forecast.low, 100.0 * check->forecast.high);
}

static double greatest(const struct uf_check *check, size_t unused)
{
    double most = 0.0;
    (void)unused;
    for (size_t i = 0; i < check->roundness.n; i++) {
        most = fmax(most, fabs(check->roundness.rows[i].deflection));
    }
    return most;
}

static const struct uf_check_clause measured = {"roundness.limit", NULL, UF_CHECK_SITE,
                                                .at_most = true, .required = limit},
                                    predicted = {"roundness.limit", NULL,
                                                 UF_CHECK_SITE,     UF_CHECK_MEMORY,
                                                 .at_most = true,   .required = limit};

static const struct uf_check_list readings = {.count = count_readings, .table = true};

static const struct uf_check_row rows[] = {
    {"limit", "limit of deflection", UF_QUANTITY_DEFLECTION, .number = limit, .told = judges,
     .note = "of the first diameter, from the manufacturer's sheet"},
    {"verdict", "verdict", .type = UF_CHECK_TEXT, .text = verdict, .told = judges,
     .worked = work_verdict},
    {NULL, "greatest deflection", UF_QUANTITY_DEFLECTION, .number = greatest,
     .applies = has_readings, .clause = &measured},
    {"readings[].at", "at", .type = UF_CHECK_TEXT, .text = at, .list = &readings},
    {"readings[].station", "station", UF_QUANTITY_WHOLE, .number = station, .told = has_stations,
     .list = &readings},
    {"readings[].diameter_m", "diameter", UF_QUANTITY_THICKNESS, .number = diameter,
     .list = &readings},
    {"readings[].deflection", "deflection", UF_QUANTITY_DEFLECTION,
     UF_CHECK_EACH(roundness.rows, deflection), .list = &readings},
    {"readings[].change", "change", UF_QUANTITY_DEFLECTION, UF_CHECK_EACH(roundness.rows, change),
     .list = &readings},
    {"readings[].horizontal_deflection", "sideways", UF_QUANTITY_DEFLECTION,
     UF_CHECK_EACH(roundness.rows, across), .told = has_stations, .list = &readings},
    {"readings[].level_change_m", "level since\nfirst", UF_QUANTITY_THICKNESS,
     UF_CHECK_EACH(roundness.rows, level_change_m), .list = &readings},
    {"readings[].far_level_change_m", "far end", UF_QUANTITY_THICKNESS,
     UF_CHECK_EACH(roundness.rows, far_change_m), .told = has_stations, .list = &readings},
    {"readings[].verdict", "verdict", .type = UF_CHECK_TEXT, .text = verdict_then,
     .list = &readings},
    {"forecast.deflection", "deflection predicted", UF_QUANTITY_SHARE,
     UF_CHECK_FOUND(forecast.deflection), .applies = has_forecast, .worked = work_forecast,
     .clause = &predicted},
    {"forecast.low", UF_CHECK_FOUND(forecast.low), .applies = has_forecast},
    {"forecast.high", UF_CHECK_FOUND(forecast.high), .applies = has_forecast},
    {"forecast.soil_modulus_MPa", "E', of the fill", UF_QUANTITY_PRESSURE,
     UF_CHECK_FOUND(forecast.soil_modulus_Pa), .scale = 1e-6, .applies = has_forecast},
    {"forecast.crown_kPa", "P, load at the crown", UF_QUANTITY_PRESSURE, UF_CHECK_FOUND(crown_Pa),
     .scale = 1e-3, .applies = has_forecast, .note = "dead load; live load is not counted"},
    {.key = NULL}};

static const char *const cautions[] = {
    "Deflection = (first - this) / first. Iowa formula: Spangler (1941) as modified; E': Howard, USBR "
    "REC-ERC-77-01 (1977), from memory.",
    "Diameters inside, top to bottom, at the same place; through a riser: bottom to its top less its "
    "length. Range of the prediction: bedding constant 0.083 to 0.110, and the method's own scatter of "
    "two percentage points either way.",
    NULL};

UF_CHECK_WHERE(given, (check->args != NULL && check->args->readings != NULL) ||
                          given_of(check)->n > 0 || has_stiffness(check))

static enum uf_status predict(struct uf_check *check, struct uf_error *err)
{
    const struct uf_case *design = check->design;
    struct uf_column_soils soils;
    if (!uf_shape_is_round(&design->tank)) {
        return uf_fail_key(err, UF_E_INPUT, "roundness.soil",
                           UF_PLAIN("the prediction is for a horizontal cylinder only"),
                           UF_PLAIN("leave it out"));
    }
    enum uf_status status = uf_column_soils(&soils, design, err);
    if (status == UF_OK) {
        status = uf_load_soil_Pa(&check->crown_Pa, design, &soils, uf_case_crown_m(design), err);
    }
    if (status == UF_OK) {
        status =
            uf_roundness_predict(&check->forecast, given_of(check), check->crown_Pa,
                                 0.5 * design->tank.diameter_m, design->tank.wall_thickness_m, err);
    }
    check->has_forecast = status == UF_OK;
    return status;
}

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    struct uf_roundness_input *input = &check->site->works.roundness;
    enum uf_status status = UF_OK;
    if (check->args != NULL && check->args->readings != NULL) {
        status = uf_readings_csv_read(input, check->args->readings, &check->faults, err);
        if (status != UF_OK) {
            check->blamed = check->faults.n > 0 ? check->args->readings : NULL;
        }
    }
    if (status == UF_OK && input->n > 0) {
        status = uf_roundness(&check->roundness, input, err);
        check->has_readings = status == UF_OK;
    }
    if (status == UF_OK && has_stiffness(check)) {
        status = predict(check, err);
    }
    check->ok = !check->has_readings || check->roundness.verdict != UF_ROUNDNESS_STOP;
    return status;
}

const struct uf_check_topic uf_check_roundness = {
    .name = "roundness",
    .doc = "Roundness and level of the tank while it is covered",
    .needs = "readings, or roundness.soil for a prediction",
    .options = UF_OPTION_READINGS,
    .given = given,
    .run = run,
    .rows = rows,
    .cautions = cautions,
};
