#include "ground.h"
#include "io/text/show.h"
#include "verify_ground.h"

#include <math.h>
#include <stdio.h>

/* One line of the table: the run by the rule, and the range of the results when what the
   rule takes is moved. */
struct line {
    struct uf_ground_outcome out, air, snow;
    double least_m, most_m; /* frost between the sensors */
    double least_K, most_K; /* worst rmse of the inner sensors */
};

static double worst_inner(const double rmse_K[UF_GROUND_SENSORS])
{
    return fmax(rmse_K[1], fmax(rmse_K[2], rmse_K[3]));
}

static void widen(struct line *line, const struct uf_ground_outcome *out)
{
    line->least_m = fmin(line->least_m, out->frost_m);
    line->most_m = fmax(line->most_m, out->frost_m);
    line->least_K = fmin(line->least_K, worst_inner(out->rmse_K));
    line->most_K = fmax(line->most_K, worst_inner(out->rmse_K));
}

static enum uf_status vary(struct line *line, const struct uf_ground_record *record,
                           const struct uf_ground_setup *setup, struct uf_error *err)
{
    static const struct {
        enum uf_method method;
        double water, density, driest;
    } moves[] = {{UF_JOHANSEN, 1.0, 1.0, 1.0},     {UF_KERSTEN, 1.0, 1.0, 1.0},
                 {UF_COTE_KONRAD, 0.75, 1.0, 1.0}, {UF_COTE_KONRAD, 1.25, 1.0, 1.0},
                 {UF_COTE_KONRAD, 1.0, 0.9, 1.0},  {UF_COTE_KONRAD, 1.0, 1.1, 1.0},
                 {UF_COTE_KONRAD, 1.0, 1.0, 0.75}, {UF_COTE_KONRAD, 1.0, 1.0, 1.25}};
    const struct uf_season_options options = uf_verify_season();
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < sizeof moves / sizeof moves[0] && status == UF_OK; i++) {
        struct uf_ground_setup moved = *setup;
        struct uf_ground_outcome out;
        moved.method = moves[i].method;
        moved.water_factor = moves[i].water;
        moved.density_factor = moves[i].density;
        moved.driest_factor = moves[i].driest;
        status = uf_ground_run(&out, record, &moved, &options, err);
        if (status == UF_OK) {
            widen(line, &out);
        }
    }
    return status;
}

static enum uf_status make_line(struct line *line, const struct uf_ground_record *record,
                                struct uf_ground_setup *setup, struct uf_error *err)
{
    const struct uf_season_options options = uf_verify_season();
    *line = (struct line){
        .least_m = INFINITY, .most_m = -INFINITY, .least_K = INFINITY, .most_K = -INFINITY};
    enum uf_status status = uf_ground_run(&line->out, record, setup, &options, err);
    if (status == UF_OK) {
        widen(line, &line->out);
        status = vary(line, record, setup, err);
    }
    setup->drive = UF_GROUND_AIR;
    if (status == UF_OK) {
        status = uf_ground_run(&line->air, record, setup, &options, err);
    }
    setup->drive = UF_GROUND_SNOW;
    if (status == UF_OK) {
        status = uf_ground_run(&line->snow, record, setup, &options, err);
    }
    return status;
}

static void show_temperatures(struct uf_show_table *table, const struct uf_ground_setup *setup,
                              const struct line *line)
{
    const struct uf_ground_outcome *out = &line->out;
    uf_show_table_cell(table, "%s", setup->site->key);
    uf_show_table_cell(table, "%s", setup->part->key);
    for (size_t s = 1; s < UF_GROUND_SENSORS; s++) {
        uf_show_table_cell(table, "%.2f", out->rmse_K[s]);
        uf_show_table_cell(table, "%+.2f", out->bias_K[s]);
    }
}

static void show_frost(struct uf_show_table *table, const struct uf_ground_setup *setup,
                       const struct line *line)
{
    const struct uf_ground_outcome *out = &line->out;
    const double lowest_m = uf_ground_depth_m[UF_GROUND_SENSORS - 1];
    uf_show_table_cell(table, "%s", setup->site->key);
    uf_show_table_cell(table, "%s", setup->part->key);
    uf_show_table_cell(table, "%s%.2f", out->deepest_froze ? ">" : "", out->measured_frost_m);
    uf_show_table_cell(table, "%s%.2f", out->frost_m >= lowest_m ? ">" : "", out->frost_m);
    uf_show_table_cell(table, "%.2f", out->frost_line_m);
    uf_show_table_cell(table, "%.2f to %.2f", line->least_m, line->most_m);
    uf_show_table_cell(table, "%.1f to %.1f", line->least_K, line->most_K);
    uf_show_table_cell(table, "%.2f", line->air.frost_line_m);
    uf_show_table_cell(table, "%.2f", line->snow.frost_line_m);
}

static const char NOTES[] =
    "rmse and bias: computed less measured, K, over every day of the part; 1 K is held at "
    "10, 20 and 50 cm. Frost, m: the 0 degC line, straight between the sensors, read and "
    "computed alike, which is held for the deepest frost of each station's year; line: the "
    "run's own. Range: the other two conductivity methods, a quarter less and more water, "
    "10 % less and more dry density, a quarter less and more of the driest reading, one at "
    "a time. As it comes, driven by air: turf, through its n-factor; snow, through a film "
    "and 0.2 m of snow of 200 kg/m3 while it is cold (no station measures snow).\n"
    "late: January to May, from the profile of 1 January 2020; where a sensor was frozen "
    "then, its ice follows from its temperature by the curve of unfrozen water, and the "
    "water is the first read after the thaw, melt water with it. early: October to "
    "December 2020, from a thawed profile. Water is each week's as read. Below 1 m the "
    "profile is the yearly wave of the 1 m sensor, damped.\n"
    "Not held, and off by more than 10 cm: Aberdeen early, where the frost was shallow.";

static const struct uf_show_column soil_columns[] = {
    {"station", 'l'},   {"cm", 'r'},        {"water\ndriest", 'r'},  {"\nwettest", 'r'},
    {"sand\n%", 'r'},   {"clay\n%", 'r'},   {"density\nkg/m3", 'r'}, {"liquid at\n-0.2 degC", 'r'},
    {"\n-1 degC", 'r'}, {"never\ndry", 'l'}};

/* What the rule makes of each sensor's readings. */
static enum uf_status tell_soils(struct uf_error *err)
{
    struct uf_show_table *table =
        uf_show_table_create(soil_columns, sizeof soil_columns / sizeof soil_columns[0]);
    enum uf_status status = UF_OK;
    for (const struct uf_ground_site *site = uf_ground_sites; site->key != NULL && status == UF_OK;
         site++) {
        struct uf_ground_record *record = NULL;
        status = uf_ground_read(&record, site->file, err);
        for (size_t s = 0; s < UF_GROUND_SENSORS && status == UF_OK; s++) {
            struct uf_ground_soil soil;
            status = uf_ground_soil_of(&soil, record, s, err);
            if (status == UF_OK) {
                uf_show_table_cell(table, "%s", s == 0 ? site->key : "");
                uf_show_table_cell(table, "%.0f", 100.0 * uf_ground_depth_m[s]);
                uf_show_table_cell(table, "%.3f", soil.driest_m3_m3);
                uf_show_table_cell(table, "%.3f", soil.wettest_m3_m3);
                uf_show_table_cell(table, "%.0f", 100.0 * soil.sand);
                uf_show_table_cell(table, "%.0f", 100.0 * soil.clay);
                uf_show_table_cell(table, "%.0f", soil.dry_density_kg_m3);
                uf_show_table_cell(table, "%.3f", uf_ground_soil_liquid_m3_m3(&soil, -0.2));
                uf_show_table_cell(table, "%.3f", uf_ground_soil_liquid_m3_m3(&soil, -1.0));
                uf_show_table_cell(table, "%s", soil.bounded ? "yes" : "");
            }
        }
        uf_ground_record_free(record);
    }
    if (status == UF_OK) {
        (void)printf("\nSoil by its water readings, m3/m3; never dry: the driest is "
                     "above every class\n");
        uf_show_table_print(stdout, table);
    }
    uf_show_table_free(table);
    return status;
}

static const struct uf_show_column temperature_columns[] = {
    {"station", 'l'},     {"part", 'l'},   {"10 cm\nrmse", 'r'}, {"\nbias", 'r'},
    {"20 cm\nrmse", 'r'}, {"\nbias", 'r'}, {"50 cm\nrmse", 'r'}, {"\nbias", 'r'},
    {"1 m\nrmse", 'r'},   {"\nbias", 'r'}};
static const struct uf_show_column frost_columns[] = {
    {"station", 'l'},      {"part", 'l'},      {"frost\nread", 'r'},
    {"\ncomputed", 'r'},   {"\nline", 'r'},    {"frost,\nrange", 'r'},
    {"rmse,\nrange", 'r'}, {"air\nturf", 'r'}, {"\nsnow", 'r'}};

static enum uf_status tell_site(struct uf_show_table *temperatures, struct uf_show_table *frost,
                                const struct uf_ground_site *site, struct uf_error *err)
{
    struct uf_ground_record *record = NULL;
    enum uf_status status = uf_ground_read(&record, site->file, err);
    for (const struct uf_ground_part *part = uf_ground_parts; part->key != NULL && status == UF_OK;
         part++) {
        struct uf_ground_setup setup = {.site = site, .part = part};
        struct line line;
        status = make_line(&line, record, &setup, err);
        if (status == UF_OK) {
            show_temperatures(temperatures, &setup, &line);
            show_frost(frost, &setup, &line);
        }
    }
    uf_ground_record_free(record);
    return status;
}

static const struct uf_show_column snow_columns[] = {{"winter", 'l'},
                                                     {"snow\nm", 'r'},
                                                     {"5 cm, degC\nread", 'r'},
                                                     {"\nrun", 'r'},
                                                     {"50 cm, degC\nread", 'r'},
                                                     {"\nrun", 'r'},
                                                     {"frost, m\nread", 'r'},
                                                     {"\nline", 'r'},
                                                     {"between\nsensors", 'r'}};

static void show_winter(struct uf_show_table *table, const struct uf_ground_winter *w)
{
    const bool known = w->read_days >= UF_GROUND_SNOW_DAYS;
    uf_show_table_cell(table, "%d/%02d", w->year, (w->year + 1) % 100);
    uf_show_table_cell(table, "%.2f", w->snow_m);
    for (size_t k = 0; k < UF_GROUND_SNOW_SENSORS; k += 2) { /* 5 and 50 cm */
        if (known) {
            uf_show_table_cell(table, "%.1f", w->measured_least_degC[k]);
            uf_show_table_cell(table, "%.1f", w->least_degC[k]);
        } else {
            uf_show_table_cell(table, "-");
            uf_show_table_cell(table, "-");
        }
    }
    if (known) {
        uf_show_table_cell(table, "%.2f", w->measured_frost_m);
    } else {
        uf_show_table_cell(table, "-");
    }
    uf_show_table_cell(table, "%.2f", w->frost_line_m);
    if (known) {
        uf_show_table_cell(table, "%.2f", w->frost_m);
    } else {
        uf_show_table_cell(table, "-");
    }
}

static void tell_snow(void)
{
    struct uf_ground_snow out;
    struct uf_error err = {0};
    const struct uf_season_options options = uf_verify_season();
    if (uf_ground_snow_run(&out, &options, &err) != UF_OK) {
        return;
    }
    struct uf_show_table *table =
        uf_show_table_create(snow_columns, sizeof snow_columns / sizeof snow_columns[0]);
    for (size_t i = 0; i < out.n; i++) {
        show_winter(table, &out.winters[i]);
    }
    (void)printf(
        "\nCentral Sierra Snow Laboratory: air and recorded snow of %.0f kg/m3 over a film\n",
        out.density_kg_m3);
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
    uf_show_line(stdout, "rmse",
                 "November to April, days without snow among them: %.1f K at 5 cm, %.1f K at "
                 "20 cm, %.1f K at 50 cm",
                 out.rmse_K[0], out.rmse_K[1], out.rmse_K[2]);
    uf_show_text(stdout, 0,
                 "between sensors: straight between the run's temperatures at the sensors, which "
                 "is held to 10 cm of what was read in the same way; line: the run's own 0 degC "
                 "line. The frost of 2007/08 is one cold night on ground still bare, which the sun "
                 "of autumn had kept 3 K warmer than the air; a film knows no sun. In 2010/11 the "
                 "20 cm sensor of water was dead.");
}

void uf_verify_ground_tell(void)
{
    struct uf_show_table *temperatures = uf_show_table_create(
        temperature_columns, sizeof temperature_columns / sizeof temperature_columns[0]);
    struct uf_show_table *frost =
        uf_show_table_create(frost_columns, sizeof frost_columns / sizeof frost_columns[0]);
    struct uf_error err = {0};
    enum uf_status status = UF_OK;
    for (const struct uf_ground_site *site = uf_ground_sites; site->key != NULL && status == UF_OK;
         site++) {
        status = tell_site(temperatures, frost, site, &err);
    }
    if (status == UF_OK) {
        (void)putchar('\n');
        uf_show_table_print(stdout, temperatures);
        (void)putchar('\n');
        uf_show_table_print(stdout, frost);
        uf_show_text(stdout, 0, NOTES);
        status = tell_soils(&err);
        tell_snow();
        uf_verify_ground_index_tell();
    }
    if (status != UF_OK) {
        uf_show_text(stdout, 0, err.text);
    }
    uf_show_table_free(temperatures);
    uf_show_table_free(frost);
}
