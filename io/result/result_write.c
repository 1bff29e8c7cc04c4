#include "result_private.h"
#include "solver/ground/soil.h"

#include <hdf5_hl.h>

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double *start_of(const struct uf_record *record, size_t offset)
{
    const double *pointer = NULL;
    memcpy(&pointer, (const char *)record + offset, sizeof pointer);
    return pointer;
}

static bool write_flags(hid_t group, const char *name, const struct uf_record *record)
{
    char meanings[UF_MAX_MATERIALS * UF_NAME_SIZE] = "", names[sizeof meanings] = "",
                                     marks[UF_MAX_MATERIALS * 12] = "";
    int8_t values[UF_MAX_MATERIALS];
    size_t used = 0, used_names = 0, used_marks = 0;
    for (size_t i = 0; i < record->n_materials; i++) {
        char word[UF_NAME_SIZE];
        values[i] = (int8_t)i;
        uf_result_cf_word(word, sizeof word, record->material_names[i]);
        used += (size_t)snprintf(meanings + used, sizeof meanings - used, "%s%s", i > 0 ? " " : "",
                                 word);
        used_names += (size_t)snprintf(names + used_names, sizeof names - used_names, "%s%s",
                                       i > 0 ? "\n" : "", record->material_names[i]);
        used_marks += (size_t)snprintf(marks + used_marks, sizeof marks - used_marks, "%s%s",
                                       i > 0 ? " " : "", uf_soil_mark_words[record->marks[i]]);
    }
    const hid_t dataset = H5Dopen2(group, name, H5P_DEFAULT);
    const bool good =
        record->n_materials == 0 || (uf_result_hdf5_put_number(dataset, "flag_values", UF_KIND_BYTE,
                                                               values, record->n_materials) &&
                                     uf_result_hdf5_put_text(dataset, "flag_meanings", meanings) &&
                                     uf_result_hdf5_put_text(dataset, "names", names) &&
                                     uf_result_hdf5_put_text(dataset, "marks", marks));
    (void)H5Dclose(dataset);
    return good;
}

/* CF bounds, [n][2]: low and high, each moved by add. */
static bool write_bounds(struct uf_result_group *group, const char *name, enum uf_result_dim dim,
                         const double *low, const double *high, const double add[2])
{
    const size_t n = (size_t)group->size[dim];
    const struct uf_result_variable shape = {
        name, 0, UF_KIND_DOUBLE, 2, {dim, UF_DIM_EDGE}, {NULL, NULL, NULL, NULL}};
    double *pairs = malloc(2 * n * sizeof *pairs);
    if (pairs == NULL) {
        return false;
    }
    for (size_t i = 0; i < n; i++) {
        pairs[2 * i] = low[i] + add[0];
        pairs[2 * i + 1] = high[i] + add[1];
    }
    const bool good = uf_result_hdf5_write(group, &shape, pairs);
    free(pairs);
    return good;
}

/* Of the cells, and of the days whose ends the record's times are. */
static bool write_record_bounds(struct uf_result_group *group, const struct uf_record *r)
{
    static const double as_is[2] = {0.0, 0.0}, day_before[2] = {-1.0, 0.0};
    return write_bounds(group, "time_bounds", UF_DIM_TIME, r->time_day, r->time_day, day_before) &&
           write_bounds(group, "z_bounds", UF_DIM_Z, r->z_edge_m, r->z_edge_m + 1, as_is) &&
           write_bounds(group, "x_bounds", UF_DIM_X, r->x_edge_m, r->x_edge_m + 1, as_is) &&
           (r->ny == 0 ||
            write_bounds(group, "y_bounds", UF_DIM_Y, r->y_edge_m, r->y_edge_m + 1, as_is));
}

static bool write_probes(struct uf_result_group *group, const struct uf_record *record,
                         const struct uf_result_design *design)
{
    static const struct uf_result_variable places[] = {
        {"probe", 0, UF_KIND_TEXT, 1, {UF_DIM_PROBE}, {NULL, "name of the probe", NULL, NULL}},
        {"probe_x",
         0,
         UF_KIND_DOUBLE,
         1,
         {UF_DIM_PROBE},
         {"m", "distance from the tank's axis", NULL, NULL}},
        {"probe_depth",
         0,
         UF_KIND_DOUBLE,
         1,
         {UF_DIM_PROBE},
         {"m", "depth below grade", "depth", NULL}}};
    const char *names[UF_MAX_PROBES];
    if (record->n_probes == 0) {
        return true;
    }
    if (record->n_probes > UF_MAX_PROBES) {
        return false;
    }
    for (size_t i = 0; i < record->n_probes; i++) {
        names[i] = record->probe_names[i];
    }
    return uf_result_hdf5_write(group, &places[0], names) &&
           uf_result_hdf5_write(group, &places[1], design->probe_x_m) &&
           uf_result_hdf5_write(group, &places[2], design->probe_depth_m);
}

static void open_dims(struct uf_result_group *group, hid_t id, struct uf_result_pack *pack,
                      const struct uf_record *record)
{
    *group = (struct uf_result_group){.id = id, .pack = pack};
    for (int i = 0; i < UF_DIM_COUNT; i++) {
        group->scale[i] = H5I_INVALID_HID;
    }
    group->size[UF_DIM_TIME] = record->nt;
    group->size[UF_DIM_Z] = record->nz;
    group->size[UF_DIM_X] = record->nx;
    group->size[UF_DIM_Y] = record->ny;
    group->size[UF_DIM_EDGE] = 2;
    group->size[UF_DIM_PROBE] = record->n_probes;
}

static void close_dims(struct uf_result_group *group)
{
    for (int i = 0; i < UF_DIM_COUNT; i++) {
        if (group->scale[i] >= 0) {
            (void)H5Dclose(group->scale[i]);
        }
    }
}

/* One array of the record, where it has it. Around a vertical tank the heat flow is that
   of the whole surface. */
static bool write_variable(struct uf_result_group *group, const struct uf_record *record,
                           const struct uf_result_variable *variable)
{
    struct uf_result_variable shape = *variable;
    const void *data = start_of(record, variable->offset);
    if (data == NULL || group->size[shape.dims[shape.rank - 1]] == 0) {
        return true;
    }
    if (record->radial && variable->offset == offsetof(struct uf_record, surface_W_m)) {
        shape.words.units = "W";
        shape.words.long_name = "heat into the ground through the surface";
    }
    return uf_result_hdf5_write(group, &shape, data);
}

/* All variables of one record, its coordinates first. */
static bool write_record(struct uf_result_group *group, const struct uf_record *record,
                         const struct uf_result_design *design, const char **what)
{
    if (record->nt == 0 || record->nz == 0 || record->nx == 0) {
        *what = "a run without any day or cell";
        return false;
    }
    bool good = uf_result_hdf5_plain_dim(group, UF_DIM_EDGE) && write_probes(group, record, design);
    *what = "the dimensions";
    for (const struct uf_result_variable *v = uf_result_variables; good && v->name != NULL; v++) {
        *what = v->name;
        good = write_variable(group, record, v);
    }
    *what = good ? "the grid" : *what;
    return good &&
           uf_result_hdf5_put_text(group->scale[UF_DIM_X], "long_name",
                                   record->radial ? "radius" : "distance from the tank's axis") &&
           write_flags(group->id, "material", record) &&
           (record->ny == 0 || write_flags(group->id, "long_material", record)) &&
           write_record_bounds(group, record);
}

/* One column of a list of structs, gathered into an array. */
static bool write_column(struct uf_result_group *group, const struct uf_result_list *list,
                         const struct uf_result_column *column, const char *rows)
{
    const size_t n = (size_t)group->size[list->dim];
    const size_t width = column->kind == UF_KIND_BOOL ? sizeof(int8_t) : sizeof(double);
    const struct uf_result_variable shape = {column->name, 0, column->kind, 1, {list->dim},
                                             column->words};
    const size_t widest = sizeof(double);
    char *gathered = malloc(n * widest);
    if (gathered == NULL) {
        return false;
    }
    for (size_t i = 0; i < n; i++) {
        const char *member = rows + i * list->row_size + column->offset;
        if (column->kind == UF_KIND_TEXT) {
            memcpy(gathered + i * sizeof member, (const char *)&member, sizeof member);
        } else {
            memcpy(gathered + i * width, member, width);
        }
    }
    const bool good = uf_result_hdf5_write(group, &shape, gathered);
    free(gathered);
    return good;
}

static bool write_list(struct uf_result_group *group, const struct uf_result_list *list,
                       const struct uf_result *result)
{
    const char *rows = NULL;
    size_t n = 0;
    if (list->most > 0) {
        rows = (const char *)result + list->offset;
    } else {
        memcpy(&rows, (const char *)result + list->offset, sizeof rows);
    }
    memcpy(&n, (const char *)result + list->count_offset, sizeof n);
    if (rows == NULL || n == 0) {
        return true;
    }
    group->size[list->dim] = n;
    bool good = strcmp(list->columns[0].name, uf_result_dim_names[list->dim]) == 0 ||
                uf_result_hdf5_plain_dim(group, list->dim);
    for (const struct uf_result_column *c = list->columns; good && c->name != NULL; c++) {
        good = write_column(group, list, c, rows);
    }
    return good;
}

/* The weather of the record itself, where the caller gave no other. */
static struct uf_result_day *record_days(const struct uf_record *record)
{
    struct uf_result_day *days = malloc(record->nt * sizeof *days);
    for (size_t i = 0; days != NULL && i < record->nt; i++) {
        days[i] = (struct uf_result_day){.time_day = record->time_day[i] - 0.5,
                                         .air_degC = record->air_degC[i],
                                         .snow_m = record->snow_m[i],
                                         .mean_air_degC = NAN,
                                         .mean_snow_m = NAN};
    }
    return days;
}

/* Of the days in whose middle the weather's times lie. */
static bool write_climate_bounds(struct uf_result_group *group, const struct uf_result_day *days)
{
    static const double half[2] = {-0.5, 0.5};
    const size_t n = (size_t)group->size[UF_DIM_CLIMATE];
    double *middle = malloc(n * sizeof *middle);
    for (size_t i = 0; middle != NULL && i < n; i++) {
        middle[i] = days[i].time_day;
    }
    const bool good = middle != NULL && write_bounds(group, "climate_time_bounds", UF_DIM_CLIMATE,
                                                     middle, middle, half);
    free(middle);
    return good;
}

static bool write_lists(struct uf_result_group *group, const struct uf_result *result)
{
    struct uf_result filled = *result;
    struct uf_result_day *days = NULL;
    bool good = true;
    if (result->n_days == 0) {
        filled.days = days = record_days(result->record);
        filled.n_days = result->record->nt;
        good = days != NULL;
    }
    for (const struct uf_result_list *l = uf_result_lists; good && l->columns != NULL; l++) {
        good = write_list(group, l, &filled);
    }
    good = good && write_climate_bounds(group, filled.days);
    free(days);
    return good;
}

/* A holder whose attributes are the members of a struct. */
static bool write_members(hid_t group, const char *name, const struct uf_result_column *columns,
                          const void *from)
{
    const hid_t holder = uf_result_hdf5_holder(group, name);
    bool good = holder >= 0;
    for (const struct uf_result_column *c = columns; good && c->name != NULL; c++) {
        const char *member = (const char *)from + c->offset;
        good = c->kind == UF_KIND_TEXT
                   ? uf_result_hdf5_put_text(holder, c->name, member)
                   : uf_result_hdf5_put_number(holder, c->name, c->kind, member, 1);
    }
    (void)H5Dclose(holder);
    return good;
}

static bool write_texts(hid_t file, const struct uf_result *result)
{
    bool good =
        uf_result_hdf5_put_text(file, "Conventions", "CF-1.10") &&
        uf_result_hdf5_put_text(file, "source",
                                "underfrost: heat with freezing by finite differences in a section "
                                "of the ground round a buried tank");
    for (const struct uf_result_column *c = uf_result_text_columns; good && c->name != NULL; c++) {
        const char *text = NULL;
        memcpy(&text, (const char *)result + c->offset, sizeof text);
        good = uf_result_hdf5_put_text(file, c->name, text);
    }
    return good && uf_result_hdf5_put_number(file, "pick", UF_KIND_LONG, &result->pick, 1) &&
           uf_result_hdf5_put_number(file, "design_freezing_index_degC_day", UF_KIND_DOUBLE,
                                     &result->design_index_degC_day, 1) &&
           uf_result_hdf5_put_number(file, "uplift_factor_highest_water", UF_KIND_DOUBLE,
                                     &result->uplift_factor, 1);
}

hid_t uf_result_write_run(hid_t file, struct uf_result_pack *pack, const struct uf_result_run *run,
                          const char **what)
{
    const hid_t creation = uf_result_hdf5_creation(H5P_GROUP_CREATE);
    const hid_t id = H5Gcreate2(file, run->name, H5P_DEFAULT, creation, H5P_DEFAULT);
    struct uf_result_group group;
    open_dims(&group, id, pack, run->record);
    const bool good = id >= 0 && uf_result_hdf5_put_text(id, "title", run->title) &&
                      write_record(&group, run->record, run->design, what) &&
                      uf_result_facts_write(id, run->facts, run->summary) &&
                      uf_result_cf_describe(id);
    close_dims(&group);
    (void)H5Pclose(creation);
    if (!good) {
        (void)H5Gclose(id);
    }
    return good ? id : H5I_INVALID_HID;
}

static bool write_without(hid_t file, struct uf_result_pack *pack, const struct uf_result *result,
                          const char **what)
{
    if (result->without_board == NULL) {
        return true;
    }
    const struct uf_result_run run = {.name = UF_RESULT_WITHOUT,
                                      .title = "the same design without board",
                                      .record = result->without_board,
                                      .design = &result->design,
                                      .facts = result->facts,
                                      .summary = &result->summary_without_board};
    return H5Gclose(uf_result_write_run(file, pack, &run, what)) >= 0;
}

bool uf_result_write_all(hid_t file, const struct uf_result *result, const char **what)
{
    struct uf_result_group group;
    *what = "a result without a run";
    if (result->record == NULL) {
        return false;
    }
    struct uf_result_pack *pack = uf_result_pack_create();
    *what = "the whole";
    if (pack == NULL) {
        return false;
    }
    open_dims(&group, file, pack, result->record);
    *what = "the texts";
    bool good = write_texts(file, result);
    good = good && write_record(&group, result->record, &result->design, what);
    if (good) {
        *what = "the lists and the design";
        good = write_lists(&group, result) &&
               write_members(file, "design", uf_result_design_columns, &result->design) &&
               uf_result_limits_write(file, &result->design) &&
               uf_result_facts_write(file, result->facts, &result->summary) &&
               uf_result_cf_describe(file);
    }
    close_dims(&group);
    good = good && write_without(file, pack, result, what);
    uf_result_pack_free(pack);
    return good;
}
