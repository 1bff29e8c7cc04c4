#include "check_flotation_more.h"

#include "io/text/show.h"
#include "solver/base/calendar.h"
#include "solver/base/constants.h"
#include "solver/design/anchor.h"
#include "solver/design/shape.h"

#include <math.h>

/* A year of 365 days to name its days by. */
#define PLAIN_YEAR 2001

static const char *const month_names[12] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                            "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

static double contact_Pa(const struct uf_site *site, const struct uf_uplift *uplift)
{
    const double leg_N = fmax(uplift->straps.leg_N, uplift->straps.bare_leg_N);
    if (!uf_shape_is_round(&site->design.tank)) {
        return NAN;
    }
    return uf_flotation_contact_Pa(leg_N, 0.5 * site->design.tank.diameter_m,
                                   site->works.strap_width_m);
}

enum uf_status uf_check_flotation_more_find(struct uf_check_flotation_more *out,
                                            const struct uf_site *site,
                                            const struct uf_column_soils *soils,
                                            const struct uf_uplift *uplift, struct uf_error *err)
{
    const struct uf_case *design = &site->design;
    const double angle_rad = site->works.wedge_angle_degree * UF_PI / 180.0;
    *out =
        (struct uf_check_flotation_more){.contact_Pa = contact_Pa(site, uplift),
                                         .has_year = uf_water_year_given(&site->design.ground.year),
                                         .has_wedge = !isnan(angle_rad)};
    enum uf_status status = uf_uplift_deadman_side(&out->deadman_side_m, design, soils, err);
    if (status == UF_OK) {
        status = uf_wet_pit(&out->wet, design, soils, err);
    }
    if (status == UF_OK && out->has_year) {
        status = uf_water_least(&out->year, design, soils, err);
    }
    if (status == UF_OK && out->has_wedge) {
        status =
            uf_wedge(&out->wedge, design, soils, design->ground.water_highest_m, angle_rad, err);
    }
    return status;
}

static struct uf_date date_of(int day_of_year)
{
    return uf_calendar_date(uf_calendar_day(PLAIN_YEAR, 1, 1) + day_of_year - 1);
}

static void answer_year(cJSON *object, const struct uf_water_least *year)
{
    const struct uf_date date = date_of(year->day);
    char text[16];
    cJSON *row = uf_answer_object(object, "through_the_year");
    (void)snprintf(text, sizeof text, "--%02d-%02d", date.month, date.day);
    uf_answer_text(row, "least_on", text);
    uf_answer_number(row, "water_depth_m", year->depth_m);
    uf_answer_number(row, "factor", year->factor);
    cJSON *list = uf_answer_array(row, "months");
    for (int month = 0; month < 12; month++) {
        cJSON *item = uf_answer_item(list);
        uf_answer_text(item, "month", month_names[month]);
        uf_answer_number(item, "factor", year->month_factor[month]);
    }
}

void uf_check_flotation_more_answer(cJSON *object, const struct uf_check_flotation_more *more)
{
    uf_answer_number(object, "square_deadman_side_m", more->deadman_side_m);
    uf_answer_number(object, "strap_contact_kPa", 1e-3 * more->contact_Pa);
    cJSON *list = uf_answer_array(object, "wet_pit");
    for (size_t i = 0; i < UF_WET_PIT_STAGES; i++) {
        const struct uf_wet_pit_stage *stage = &more->wet.stages[i];
        cJSON *row = uf_answer_item(list);
        uf_answer_text(row, "stage", stage->name);
        uf_answer_number(row, "factor", stage->factor);
        uf_answer_number(row, "floats_at_m", stage->floats_at_m);
        uf_answer_number(row, "water_inside_m", stage->inside_m);
        uf_answer_number(row, "water_inside_m3", stage->inside_m3);
    }
    if (more->has_year) {
        answer_year(object, &more->year);
    }
    if (more->has_wedge) {
        cJSON *row = uf_answer_object(object, "wedge");
        uf_answer_number(row, "angle_degree", more->wedge.angle_rad * 180.0 / UF_PI);
        for (int i = 0; i < UF_ANCHORS; i++) {
            char key[UF_NAME_SIZE];
            (void)snprintf(key, sizeof key, "%s_kN", uf_anchor_at((enum uf_anchor_kind)i)->word);
            uf_answer_number(row, key, 1e-3 * more->wedge.soil_N[i]);
        }
        uf_answer_number(row, "factor", more->wedge.factor);
    }
}

static void show_wet(const struct uf_arguments *args, const struct uf_wet_pit *wet)
{
    char floats[60], inside[60];
    const char *unit = uf_quantity_unit(UF_QUANTITY_LENGTH, args->units);
    (void)snprintf(floats, sizeof floats, "water level at which\nflotation starts, %s", unit);
    (void)snprintf(inside, sizeof inside, "or water left\ninside, %s", unit);
    const struct uf_show_column columns[] = {{"before backfilling is done", 'l'},
                                             {"factor, water\nat grade", 'r'},
                                             {floats, 'r'},
                                             {inside, 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    uf_show_heading(stdout, "An open pit filled with water");
    for (size_t i = 0; i < UF_WET_PIT_STAGES; i++) {
        const struct uf_wet_pit_stage *stage = &wet->stages[i];
        uf_show_table_cell(table, "%s", stage->name);
        uf_show_table_cell(table, "%s", UF_NUMBER(FACTOR, args->units, stage->factor));
        uf_show_table_cell(table, "%s",
                           isnan(stage->floats_at_m)
                               ? "does not float"
                               : UF_NUMBER(LENGTH, args->units, stage->floats_at_m));
        uf_show_table_cell(table, "%s",
                           isnan(stage->inside_m)
                               ? "a full tank is not enough"
                               : UF_NUMBER(LENGTH, args->units, stage->inside_m));
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
    uf_show_text(
        stdout, 0,
        "Levels are above the invert. Water left inside is a temporary measure that somebody "
        "has to watch; the tank's manufacturer must allow it. Dewater the pit first.");
}

static void show_year(const struct uf_arguments *args, const struct uf_water_least *year)
{
    static const struct uf_show_column columns[] = {
        {"", 'l'}, {"factor", 'r'}, {"", 'l'}, {"factor", 'r'}, {"", 'l'}, {"factor", 'r'}};
    const struct uf_date date = date_of(year->day);
    struct uf_show_table *table = uf_show_table_create(columns, 6);
    uf_show_heading(stdout, "Through the year");
    for (int i = 0; i < 12; i++) {
        const int month = i / 3 + 4 * (i % 3);
        uf_show_table_cell(table, "%s", month_names[month]);
        uf_show_table_cell(table, "%s", UF_NUMBER(FACTOR, args->units, year->month_factor[month]));
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
    if (isnan(year->factor)) {
        uf_show_line(stdout, "least", "no uplift force; highest water table %s on %d %s",
                     UF_TEXT(LENGTH, args->units, year->depth_m), date.day,
                     month_names[date.month - 1]);
    } else {
        uf_show_line(stdout, "least",
                     "%.2f on %d %s, water table at %s; judged is groundwater.highest",
                     year->factor, date.day, month_names[date.month - 1],
                     UF_TEXT(LENGTH, args->units, year->depth_m));
    }
}

static void show_deadmen(const struct uf_arguments *args, const struct uf_site *site, double side_m)
{
    const bool designed = uf_anchor_at(UF_ANCHOR_DEADMEN)->body(&site->design).count > 0.0;
    const char *which = designed ? "as many and as long as designed" : "two, as long as the tank";
    if (isnan(side_m)) {
        uf_show_line(stdout, "square deadmen", "not enough up to %s a side, %s",
                     UF_TEXT(LENGTH, args->units, UF_UPLIFT_WIDEST_M), which);
    } else if (side_m > 0.0) {
        uf_show_line(stdout, "square deadmen", "%s a side would be enough, %s",
                     UF_TEXT(LENGTH, args->units, side_m), which);
    } else {
        uf_show_line(stdout, "square deadmen", "none is needed");
    }
}

void uf_check_flotation_more_show(const struct uf_arguments *args, const struct uf_site *site,
                                  const struct uf_check_flotation_more *more)
{
    show_deadmen(args, site, more->deadman_side_m);
    if (!isnan(more->contact_Pa)) {
        uf_show_line(stdout, "strap on the shell",
                     "contact pressure %s, tension over radius and width; what "
                     "the shell can take is its manufacturer's to say",
                     UF_TEXT(PRESSURE, args->units, more->contact_Pa));
    }
    double wedge_N = 0.0;
    for (int i = 0; i < UF_ANCHORS; i++) {
        wedge_N += more->wedge.soil_N[i];
    }
    if (more->has_wedge) {
        uf_show_line(stdout, "soil wedge",
                     "at %.0f degrees from the vertical %s more, factor of safety %.2f: "
                     "rests on the soil's strength, never judged",
                     more->wedge.angle_rad * 180.0 / UF_PI, UF_TEXT(FORCE, args->units, wedge_N),
                     more->wedge.factor);
    }
    show_wet(args, &more->wet);
    if (more->has_year) {
        show_year(args, &more->year);
    }
}
