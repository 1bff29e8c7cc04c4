#include "result_private.h"

#include <stddef.h>

/* The layout of a result file, one row for each thing in it. */

const char *const uf_result_dim_names[UF_DIM_COUNT] = {
    [UF_DIM_TIME] = "time",
    [UF_DIM_Z] = "z",
    [UF_DIM_X] = "x",
    [UF_DIM_Y] = "y",
    [UF_DIM_EDGE] = "edge",
    [UF_DIM_PROBE] = "probe",
    [UF_DIM_CLIMATE] = "climate_time",
    [UF_DIM_CHOICE] = "choice",
    [UF_DIM_LEVEL] = "water_table",
    [UF_DIM_WINTER] = "winter",
    [UF_DIM_RETURN] = "return_period",
    [UF_DIM_CASE] = "sensitivity_case",
    [UF_DIM_ANCHOR] = "anchor",
    [UF_DIM_RISER] = "riser",
    [UF_DIM_PIPE] = "pipe",
};

#define RECORD(member) offsetof(struct uf_record, member)
#define SERIES(text, member, unit, words)                                                          \
    {                                                                                              \
        text, RECORD(member), UF_KIND_DOUBLE, 1, {UF_DIM_TIME},                                    \
        {                                                                                          \
            unit, words, NULL, NULL                                                                \
        }                                                                                          \
    }
#define FIELD(text, member, unit, words, ...)                                                      \
    {                                                                                              \
        text, RECORD(member), UF_KIND_FLOAT, UF_RANK(__VA_ARGS__), {UF_DIM_TIME, __VA_ARGS__},     \
        {                                                                                          \
            unit, words, NULL, NULL                                                                \
        }                                                                                          \
    }
#define UF_RANK(...) (int)(1 + sizeof((int[]){__VA_ARGS__}) / sizeof(int))

const struct uf_result_variable uf_result_variables[] = {
    {"time",
     RECORD(time_day),
     UF_KIND_DOUBLE,
     1,
     {UF_DIM_TIME},
     {UF_RESULT_TIME_UNITS, "end of a day, local standard time", "time", NULL}},
    {"z",
     RECORD(z_m),
     UF_KIND_DOUBLE,
     1,
     {UF_DIM_Z},
     {"m", "depth below grade of the cell's centre", "depth", NULL}},
    {"x", RECORD(x_m), UF_KIND_DOUBLE, 1, {UF_DIM_X}, {"m", NULL, NULL, NULL}},
    {"y",
     RECORD(y_m),
     UF_KIND_DOUBLE,
     1,
     {UF_DIM_Y},
     {"m", "distance from mid-tank along its axis", NULL, NULL}},
    FIELD("temperature", temperature_degC, "degC", "temperature of ground, board and tank",
          UF_DIM_Z, UF_DIM_X),
    FIELD("ice_fraction", ice_fraction, "1", "share of the cell's water that is ice", UF_DIM_Z,
          UF_DIM_X),
    FIELD("long_temperature", long_degC, "degC", "temperature of the long section, on the axis",
          UF_DIM_Z, UF_DIM_Y),
    FIELD("long_ice_fraction", long_ice, "1", "share of the cell's water that is ice", UF_DIM_Z,
          UF_DIM_Y),
    FIELD("whole_temperature", whole_degC, "degC", "temperature of every slice", UF_DIM_Y, UF_DIM_Z,
          UF_DIM_X),
    FIELD("whole_ice_fraction", whole_ice, "1", "share of the cell's water that is ice", UF_DIM_Y,
          UF_DIM_Z, UF_DIM_X),
    FIELD("zero_line", line_m, "m", "depth of the 0 degC line, over the tank of the frost above it",
          UF_DIM_X),
    FIELD("long_zero_line", long_line_m, "m",
          "depth of the 0 degC line, over the tank of the frost above it", UF_DIM_Y),
    {"material",
     RECORD(material),
     UF_KIND_BYTE,
     2,
     {UF_DIM_Z, UF_DIM_X},
     {NULL, "what most of the cell is made of", NULL, NULL}},
    {"long_material",
     RECORD(long_material),
     UF_KIND_BYTE,
     2,
     {UF_DIM_Z, UF_DIM_Y},
     {NULL, "what most of the cell is made of", NULL, NULL}},
    SERIES("frost_depth", frost_depth_m, "m",
           "depth of the deepest 0 degC line in undisturbed ground"),
    SERIES("frost_depth_above_tank", frost_above_m, "m",
           "depth of the 0 degC line over the tank's axis, down to the crown at most"),
    SERIES("thaw_depth", thaw_depth_m, "m", "depth thawed from the top in undisturbed ground"),
    SERIES("water_temperature", water_degC, "degC", "temperature of the coldest water"),
    SERIES("ice", ice_share, "1", "share of the tank's water that is ice"),
    SERIES("wall_temperature", wall_degC, "degC", "coldest wetted part of the tank's wall"),
    SERIES("crown_temperature", crown_degC, "degC", "wall at the crown"),
    SERIES("surface_heat_flow", surface_W_m, "W m-1",
           "heat into the ground through the surface of the half section"),
    SERIES("air_temperature", air_degC, "degC",
           "air temperature used, mean of the day that ends then"),
    SERIES("snow_depth", snow_m, "m", "snow on the ground used, of the day that ends then"),
    {"probe_temperature",
     RECORD(probe_degC),
     UF_KIND_DOUBLE,
     2,
     {UF_DIM_TIME, UF_DIM_PROBE},
     {"degC", "temperature at the probe", NULL, "probe_x probe_depth"}},
    {NULL, 0, UF_KIND_DOUBLE, 0, {UF_DIM_TIME}, {NULL, NULL, NULL, NULL}}};

#define COLUMN(text, type, member, kind, unit, words, standard)                                    \
    {                                                                                              \
        text, offsetof(struct type, member), kind,                                                 \
        {                                                                                          \
            unit, words, standard, NULL                                                            \
        }                                                                                          \
    }
#define LAST_COLUMN                                                                                \
    {                                                                                              \
        NULL, 0, UF_KIND_DOUBLE,                                                                   \
        {                                                                                          \
            NULL, NULL, NULL, NULL                                                                 \
        }                                                                                          \
    }

static const struct uf_result_column day_columns[] = {
    COLUMN("climate_time", uf_result_day, time_day, UF_KIND_DOUBLE, UF_RESULT_TIME_UNITS,
           "middle of a day, local standard time", "time"),
    COLUMN("climate_air", uf_result_day, air_degC, UF_KIND_DOUBLE, "degC",
           "daily mean air temperature", "air_temperature"),
    COLUMN("climate_snow", uf_result_day, snow_m, UF_KIND_DOUBLE, "m", "snow on the ground",
           "surface_snow_thickness"),
    COLUMN("climate_mean_air", uf_result_day, mean_air_degC, UF_KIND_DOUBLE, "degC",
           "air temperature of the record's mean year on that date", "air_temperature"),
    COLUMN("climate_mean_snow", uf_result_day, mean_snow_m, UF_KIND_DOUBLE, "m",
           "snow on the ground of the record's mean year on that date", "surface_snow_thickness"),
    LAST_COLUMN};

#define NUMBER_OF_CHOICE(key, name, unit, words)                                                   \
    COLUMN(name, uf_result_choice, key, UF_KIND_DOUBLE, unit, words, NULL),
static const struct uf_result_column choice_columns[] = {
    UF_RESULT_CHOICE_LIST(NUMBER_OF_CHOICE) COLUMN("choice_ok", uf_result_choice, ok, UF_KIND_BOOL,
                                                   "1", "1 where every limit is met", NULL),
    COLUMN("choice_robust", uf_result_choice, robust, UF_KIND_BOOL, "1",
           "1 where every limit is known to be met in every sensitivity case too", NULL),
    COLUMN("choice_governs", uf_result_choice, governs, UF_KIND_TEXT, NULL,
           "limit with the least margin", NULL),
    LAST_COLUMN};

static const struct uf_result_column case_columns[] = {
    COLUMN("sensitivity_case", uf_result_case, name, UF_KIND_TEXT, NULL,
           "sensitivity case; the first is the design itself", NULL),
    COLUMN("case_limit", uf_result_case, limit, UF_KIND_TEXT, NULL, "the decisive limit", NULL),
    COLUMN("case_margin", uf_result_case, margin, UF_KIND_DOUBLE, "1",
           "margin of the decisive limit over the margin that is comfortable", NULL),
    COLUMN("case_ok", uf_result_case, ok, UF_KIND_BOOL, "1", "1 where every limit is met", NULL),
    COLUMN("case_governs", uf_result_case, governs, UF_KIND_TEXT, NULL,
           "limit with the least margin in that case", NULL),
    LAST_COLUMN};

static const struct uf_result_column level_columns[] = {
    COLUMN("water_table", uf_result_level, depth_m, UF_KIND_DOUBLE, "m",
           "depth of the water table below grade", NULL),
    COLUMN("uplift_factor", uf_result_level, factor, UF_KIND_DOUBLE, "1",
           "factor of safety against flotation, buoyant weights, tank empty", NULL),
    LAST_COLUMN};

static const struct uf_result_column winter_columns[] = {
    COLUMN("winter", uf_result_winter, year, UF_KIND_LONG, "1", "year in which the winter begins",
           NULL),
    COLUMN("freezing_index", uf_result_winter, freezing_index_degC_day, UF_KIND_DOUBLE, "K day",
           "air freezing index of the winter", NULL),
    COLUMN("winter_frost_depth", uf_result_winter, frost_m, UF_KIND_DOUBLE, "m",
           "deepest 0 degC line in undisturbed ground, where every winter was run", NULL),
    COLUMN("winter_water_min", uf_result_winter, water_min_degC, UF_KIND_DOUBLE, "degC",
           "coldest water, where every winter was run", NULL),
    LAST_COLUMN};

static const struct uf_result_column return_columns[] = {
    COLUMN("return_period", uf_result_return, years, UF_KIND_DOUBLE, "year", "return period", NULL),
    COLUMN("return_freezing_index", uf_result_return, freezing_index_degC_day, UF_KIND_DOUBLE,
           "K day", "air freezing index of that return period", NULL),
    LAST_COLUMN};

static const struct uf_result_column anchor_columns[] = {
    COLUMN("anchor", uf_result_anchor, name, UF_KIND_TEXT, NULL, "kind of anchor", NULL),
    COLUMN("anchor_under_bedding", uf_result_anchor, under_bedding, UF_KIND_BOOL, "1",
           "1 where it lies under the bedding, else beside the tank", NULL),
    COLUMN("anchor_count", uf_result_anchor, body.count, UF_KIND_DOUBLE, "1", "how many", NULL),
    COLUMN("anchor_axis", uf_result_anchor, body.axis_m, UF_KIND_DOUBLE, "m",
           "from the tank's axis to that of the anchor; on both sides where not zero", NULL),
    COLUMN("anchor_tie", uf_result_anchor, body.tie_m, UF_KIND_DOUBLE, "m",
           "from the tank's axis to where a strap reaches down", NULL),
    COLUMN("anchor_width", uf_result_anchor, body.width_m, UF_KIND_DOUBLE, "m",
           "of one, across the tank", NULL),
    COLUMN("anchor_length", uf_result_anchor, body.length_m, UF_KIND_DOUBLE, "m",
           "of one, along the tank", NULL),
    COLUMN("anchor_height", uf_result_anchor, body.height_m, UF_KIND_DOUBLE, "m", "of one", NULL),
    COLUMN("anchor_top", uf_result_anchor, body.top_m, UF_KIND_DOUBLE, "m",
           "depth of its top below grade", NULL),
    LAST_COLUMN};

static const struct uf_result_column riser_columns[] = {
    COLUMN("riser_diameter", uf_riser, diameter_m, UF_KIND_DOUBLE, "m", "of a riser", NULL),
    COLUMN("riser_height", uf_riser, height_m, UF_KIND_DOUBLE, "m", "from the crown to its top",
           NULL),
    COLUMN("riser_lid", uf_riser, lid_m2K_W, UF_KIND_DOUBLE, "m2 K W-1", "resistance of its lid",
           NULL),
    COLUMN("riser_station", uf_riser, station_m, UF_KIND_DOUBLE, "m",
           "of its axis from the tank's left end in plan", NULL),
    COLUMN("riser_sleeve", uf_riser, shell.sleeve_m, UF_KIND_DOUBLE, "m",
           "thickness of its foam sleeve", NULL),
    COLUMN("riser_sleeve_foot", uf_riser, shell.sleeve_length_m, UF_KIND_DOUBLE, "m",
           "depth of the sleeve's foot below grade", NULL),
    LAST_COLUMN};

static const struct uf_result_column pipe_columns[] = {
    COLUMN("pipe", uf_pipe, name, UF_KIND_TEXT, NULL, "name of the pipe", NULL),
    COLUMN("pipe_diameter", uf_pipe, diameter_m, UF_KIND_DOUBLE, "m", "outside", NULL),
    COLUMN("pipe_depth", uf_pipe, depth_m, UF_KIND_DOUBLE, "m", "of its centre below grade", NULL),
    COLUMN("pipe_under_board", uf_pipe, under_board, UF_KIND_BOOL, "1",
           "1 where it runs under the board", NULL),
    LAST_COLUMN};

#define LIST(dim, pointer, count, type, columns)                                                   \
    {                                                                                              \
        dim, offsetof(struct uf_result, pointer), offsetof(struct uf_result, count),               \
            sizeof(struct type), 0, columns                                                        \
    }

#define WITHIN(dim, member, count, type, columns)                                                  \
    {                                                                                              \
        dim, offsetof(struct uf_result, member), offsetof(struct uf_result, count),                \
            sizeof(struct type), sizeof(((struct uf_result *)0)->member) / sizeof(struct type),    \
            columns                                                                                \
    }

const struct uf_result_list uf_result_lists[] = {
    LIST(UF_DIM_CLIMATE, days, n_days, uf_result_day, day_columns),
    LIST(UF_DIM_CHOICE, choices, n_choices, uf_result_choice, choice_columns),
    LIST(UF_DIM_CASE, cases, n_cases, uf_result_case, case_columns),
    LIST(UF_DIM_LEVEL, levels, n_levels, uf_result_level, level_columns),
    LIST(UF_DIM_WINTER, winters, n_winters, uf_result_winter, winter_columns),
    LIST(UF_DIM_RETURN, returns, n_returns, uf_result_return, return_columns),
    WITHIN(UF_DIM_ANCHOR, design.anchors, design.n_anchors, uf_result_anchor, anchor_columns),
    WITHIN(UF_DIM_RISER, design.risers, design.n_risers, uf_riser, riser_columns),
    WITHIN(UF_DIM_PIPE, design.pipes, design.n_pipes, uf_pipe, pipe_columns),
    {UF_DIM_COUNT, 0, 0, 0, 0, NULL}};

#define INSIDE_OF(type, text, member, kind)                                                        \
    {                                                                                              \
        text, offsetof(struct type, member), kind,                                                 \
        {                                                                                          \
            NULL, NULL, NULL, NULL                                                                 \
        }                                                                                          \
    }
#define PLAIN(type, member, kind)                                                                  \
    {                                                                                              \
#member, offsetof(struct type, member), kind,                                              \
        {                                                                                          \
            NULL, NULL, NULL, NULL                                                                 \
        }                                                                                          \
    }
#define DIG(member)    INSIDE_OF(uf_result_design, "pit_" #member, dig.member, UF_KIND_DOUBLE)
#define DESIGN(member) PLAIN(uf_result_design, member, UF_KIND_DOUBLE)

const struct uf_result_column uf_result_design_columns[] = {
    PLAIN(uf_result_design, name, UF_KIND_TEXT),
    PLAIN(uf_result_design, board_name, UF_KIND_TEXT),
    PLAIN(uf_result_design, shape, UF_KIND_LONG),
    DESIGN(latitude_deg),
    DESIGN(crown_m),
    DESIGN(invert_m),
    DESIGN(half_width_m),
    DESIGN(length_m),
    DESIGN(head_m),
    DESIGN(wall_thickness_m),
    DESIGN(level_m),
    DESIGN(board_top_m),
    DESIGN(board_bottom_m),
    DESIGN(board_half_width_m),
    DESIGN(skirt_m),
    DESIGN(water_winter_m),
    DESIGN(water_highest_m),
    DIG(floor_m),
    DIG(across_m),
    DIG(along_m),
    DIG(slope),
    DIG(shelf_m),
    DIG(shelf_across_m),
    DIG(shelf_along_m),
    DIG(invert_m),
    DIG(fill_top_m),
    PLAIN(uf_result_design, currency, UF_KIND_TEXT),
    LAST_COLUMN};

#define TEXT(text, member)                                                                         \
    {                                                                                              \
        text, offsetof(struct uf_result, member), UF_KIND_TEXT,                                    \
        {                                                                                          \
            NULL, NULL, NULL, NULL                                                                 \
        }                                                                                          \
    }

const struct uf_result_column uf_result_text_columns[] = {TEXT("title", title),
                                                          TEXT("version", version),
                                                          TEXT("command_line", command_line),
                                                          TEXT("site_file", site_text),
                                                          TEXT("summary", summary_json),
                                                          TEXT("libraries", libraries),
                                                          TEXT("station", station),
                                                          TEXT("design_winter", winter_text),
                                                          TEXT("site_changes", site_changes),
                                                          LAST_COLUMN};
