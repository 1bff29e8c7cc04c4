#include "result_private.h"
#include "solver/ground/soil.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* More than any run of ours leaves; a damaged file may claim any size. */
#define MOST_LENGTH  2000000
#define MOST_NUMBERS 400000000

static double *start_of(const struct uf_record *record, size_t offset)
{
    double *pointer = NULL;
    memcpy(&pointer, (const char *)record + offset, sizeof pointer);
    return pointer;
}

/* Names stand in one text, one a line. */
static void split_names(struct uf_record *record, const char *names)
{
    size_t n = 0;
    while (names[0] != '\0' && n < UF_MAX_MATERIALS) {
        const size_t length = strcspn(names, "\n");
        const size_t kept = length < UF_NAME_SIZE ? length : UF_NAME_SIZE - 1;
        memcpy(record->material_names[n], names, kept);
        record->material_names[n][kept] = '\0';
        n++;
        names += length + (names[length] == '\n' ? 1 : 0);
    }
    record->n_materials = n;
}

/* What each is drawn as, one word each; an older file does not say. */
static void split_marks(struct uf_record *record, const char *words)
{
    for (size_t i = 0; i < record->n_materials; i++) {
        const size_t length = strcspn(words, " ");
        for (int k = 0; k < UF_SOIL_MARKS; k++) {
            if (strlen(uf_soil_mark_words[k]) == length &&
                strncmp(words, uf_soil_mark_words[k], length) == 0) {
                record->marks[i] = (int8_t)k;
            }
        }
        words += length + (words[length] == ' ' ? 1 : 0);
    }
}

static void read_flags(hid_t group, struct uf_record *record)
{
    const hid_t dataset = H5Dopen2(group, "material", H5P_DEFAULT);
    char *names = uf_result_hdf5_get_text(dataset, "names");
    if (names != NULL) {
        split_names(record, names);
    }
    free(names);
    char *marks = uf_result_hdf5_get_text(dataset, "marks");
    split_marks(record, marks != NULL ? marks : "");
    free(marks);
    (void)H5Dclose(dataset);
    const hid_t x = H5Dopen2(group, "x", H5P_DEFAULT);
    char *long_name = uf_result_hdf5_get_text(x, "long_name");
    record->radial = long_name != NULL && strcmp(long_name, "radius") == 0;
    free(long_name);
    (void)H5Dclose(x);
}

static bool read_bounds(const struct uf_result_group *group, const char *name,
                        enum uf_result_dim dim, double *edge)
{
    const size_t n = (size_t)group->size[dim];
    const struct uf_result_variable shape = {
        name, 0, UF_KIND_DOUBLE, 2, {dim, UF_DIM_EDGE}, {NULL, NULL, NULL, NULL}};
    double *pairs = malloc(2 * n * sizeof *pairs);
    const bool good = pairs != NULL && uf_result_hdf5_read(group, &shape, pairs);
    for (size_t i = 0; good && i < n; i++) {
        edge[i] = pairs[2 * i];
        edge[i + 1] = pairs[2 * i + 1];
    }
    free(pairs);
    return good;
}

/* Sizes from the scales; false when they are none or more than can be. */
static bool read_sizes(struct uf_result_group *group)
{
    for (int i = 0; i < UF_DIM_COUNT; i++) {
        group->size[i] = uf_result_hdf5_length(group->id, uf_result_dim_names[i]);
        if (group->size[i] > MOST_LENGTH) {
            return false;
        }
    }
    group->size[UF_DIM_EDGE] = 2;
    const hsize_t nt = group->size[UF_DIM_TIME], nz = group->size[UF_DIM_Z],
                  nx = group->size[UF_DIM_X], ny = group->size[UF_DIM_Y];
    const hsize_t slices = uf_result_hdf5_exists(group->id, "whole_temperature") ? ny : 1;
    return nt > 0 && nz > 0 && nx > 0 && group->size[UF_DIM_PROBE] <= UF_MAX_PROBES &&
           nz <= MOST_NUMBERS / nx && nt <= MOST_NUMBERS / (nz * nx) &&
           (ny == 0 || (ny <= MOST_NUMBERS / (nt * nz) && slices <= MOST_NUMBERS / (nt * nz * nx)));
}

/* What of fields and lines the file holds; an older one has fewer. */
static unsigned kept(hid_t group)
{
    static const struct {
        const char *variable;
        unsigned keep;
    } SIGNS[] = {{"temperature", UF_KEEP_SECTIONS},
                 {"zero_line", UF_KEEP_LINES},
                 {"whole_temperature", UF_KEEP_WHOLE}};
    unsigned keep = UF_KEEP_SERIES;
    for (size_t i = 0; i < sizeof SIGNS / sizeof SIGNS[0]; i++) {
        keep |= uf_result_hdf5_exists(group, SIGNS[i].variable) ? SIGNS[i].keep : 0U;
    }
    return keep;
}

static bool read_record(const struct uf_result_group *group, struct uf_record **out,
                        const char **what)
{
    const struct uf_record_size size = {
        (size_t)group->size[UF_DIM_TIME], (size_t)group->size[UF_DIM_Z],
        (size_t)group->size[UF_DIM_X], (size_t)group->size[UF_DIM_Y],
        (size_t)group->size[UF_DIM_PROBE]};
    struct uf_record *record = NULL;
    bool good = uf_record_create(&record, &size, kept(group->id), NULL) == UF_OK;
    *out = record;
    for (const struct uf_result_variable *v = uf_result_variables; good && v->name != NULL; v++) {
        void *data = start_of(record, v->offset);
        const bool wanted = data != NULL && group->size[v->dims[v->rank - 1]] > 0;
        *what = v->name;
        good = !wanted || uf_result_hdf5_read(group, v, data);
    }
    if (good) {
        *what = "the grid";
        read_flags(group->id, record);
        good = read_bounds(group, "z_bounds", UF_DIM_Z, record->z_edge_m) &&
               read_bounds(group, "x_bounds", UF_DIM_X, record->x_edge_m) &&
               (record->ny == 0 || read_bounds(group, "y_bounds", UF_DIM_Y, record->y_edge_m)) &&
               (record->n_probes == 0 ||
                uf_result_hdf5_read_texts(group->id, "probe", record->n_probes,
                                          record->probe_names[0], UF_NAME_SIZE));
    }
    return good;
}

static bool read_column(const struct uf_result_group *group, const struct uf_result_list *list,
                        const struct uf_result_column *column, char *rows)
{
    const size_t n = (size_t)group->size[list->dim];
    const struct uf_result_variable shape = {column->name, 0, column->kind, 1, {list->dim},
                                             column->words};
    if (column->kind == UF_KIND_TEXT) {
        return uf_result_hdf5_read_texts(group->id, column->name, n, rows + column->offset,
                                         list->row_size);
    }
    if (!uf_result_hdf5_exists(group->id, column->name)) { /* added since the file was written */
        for (size_t i = 0; column->kind == UF_KIND_DOUBLE && i < n; i++) {
            const double unknown = NAN;
            memcpy(rows + i * list->row_size + column->offset, &unknown, sizeof unknown);
        }
        return true;
    }
    const size_t width = column->kind == UF_KIND_BOOL ? sizeof(int8_t) : sizeof(double);
    const size_t widest = sizeof(double);
    char *gathered = malloc(n * widest);
    const bool good = gathered != NULL && uf_result_hdf5_read(group, &shape, gathered);
    for (size_t i = 0; good && i < n; i++) {
        char *member = rows + i * list->row_size + column->offset;
        if (column->kind == UF_KIND_BOOL) {
            const bool value = gathered[i] != 0;
            memcpy(member, &value, sizeof value);
        } else {
            memcpy(member, gathered + i * width, width);
        }
    }
    free(gathered);
    return good;
}

/* A list that the file has not stays empty. */
static bool read_list(const struct uf_result_group *group, const struct uf_result_list *list,
                      struct uf_result *result)
{
    const size_t n = (size_t)group->size[list->dim];
    if (n == 0) {
        return true;
    }
    char *rows = list->most > 0 ? (char *)result + list->offset : calloc(n, list->row_size);
    bool good = rows != NULL && (list->most == 0 || n <= list->most);
    for (const struct uf_result_column *c = list->columns; good && c->name != NULL; c++) {
        good = read_column(group, list, c, rows);
    }
    if (list->most == 0) {
        memcpy((char *)result + list->offset, &rows, sizeof rows);
    }
    memcpy((char *)result + list->count_offset, &n, sizeof n);
    return good;
}

/* A member added since the file was written keeps what the struct holds. */
static bool read_members(hid_t group, const char *name, const struct uf_result_column *columns,
                         void *to)
{
    if (!uf_result_hdf5_exists(group, name)) {
        return false;
    }
    const hid_t holder = H5Dopen2(group, name, H5P_DEFAULT);
    for (const struct uf_result_column *c = columns; c->name != NULL; c++) {
        char *member = (char *)to + c->offset;
        if (c->kind == UF_KIND_TEXT) {
            char *text = uf_result_hdf5_get_text(holder, c->name);
            const size_t length = text != NULL ? strlen(text) : 0;
            const size_t kept = length < UF_RESULT_NAME_SIZE ? length : UF_RESULT_NAME_SIZE - 1;
            memcpy(member, text != NULL ? text : "", kept);
            member[kept] = '\0';
            free(text);
        } else if (c->kind == UF_KIND_BOOL) {
            int8_t value = 0;
            (void)uf_result_hdf5_get_number(holder, c->name, c->kind, &value);
            *(bool *)member = value != 0;
        } else {
            (void)uf_result_hdf5_get_number(holder, c->name, c->kind, member);
        }
    }
    (void)H5Dclose(holder);
    return true;
}

static void read_texts(hid_t file, struct uf_result *result)
{
    for (const struct uf_result_column *c = uf_result_text_columns; c->name != NULL; c++) {
        char *text = uf_result_hdf5_get_text(file, c->name);
        memcpy((char *)result + c->offset, &text, sizeof text);
    }
    (void)uf_result_hdf5_get_number(file, "pick", UF_KIND_LONG, &result->pick);
    (void)uf_result_hdf5_get_number(file, "design_freezing_index_degC_day", UF_KIND_DOUBLE,
                                    &result->design_index_degC_day);
    (void)uf_result_hdf5_get_number(file, "uplift_factor_highest_water", UF_KIND_DOUBLE,
                                    &result->uplift_factor);
}

/* Where the probes stand; a file of a run without probes has none. */
static bool read_probes(const struct uf_result_group *group, struct uf_result_design *design)
{
    static const struct uf_result_variable places[] = {
        {"probe_x", 0, UF_KIND_DOUBLE, 1, {UF_DIM_PROBE}, {NULL, NULL, NULL, NULL}},
        {"probe_depth", 0, UF_KIND_DOUBLE, 1, {UF_DIM_PROBE}, {NULL, NULL, NULL, NULL}}};
    design->n_probes = (size_t)group->size[UF_DIM_PROBE];
    return design->n_probes == 0 || (uf_result_hdf5_read(group, &places[0], design->probe_x_m) &&
                                     uf_result_hdf5_read(group, &places[1], design->probe_depth_m));
}

bool uf_result_read_run(hid_t group, struct uf_record **record, const char **what)
{
    struct uf_result_group dims = {.id = group};
    return group >= 0 && read_sizes(&dims) && read_record(&dims, record, what) &&
           uf_result_sound_record(*record, what);
}

static bool read_without(hid_t file, struct uf_result *result, const char **what)
{
    if (!uf_result_hdf5_exists(file, UF_RESULT_WITHOUT)) {
        return true;
    }
    const hid_t group = H5Gopen2(file, UF_RESULT_WITHOUT, H5P_DEFAULT);
    *what = "the run without board";
    const bool good = uf_result_read_run(group, &result->without_board, what) &&
                      uf_result_facts_read(group, result->facts, &result->summary_without_board);
    (void)H5Gclose(group);
    return good;
}

bool uf_result_read_all(hid_t file, struct uf_result *result, const char **what)
{
    struct uf_result_group group = {.id = file};
    *what = "the dimensions";
    bool good = uf_result_read_run(file, &result->record, what) && read_sizes(&group);
    if (good) {
        *what = "the lists and the design";
        read_texts(file, result);
        for (const struct uf_result_list *l = uf_result_lists; good && l->columns != NULL; l++) {
            good = read_list(&group, l, result);
        }
        good = good && read_probes(&group, &result->design) &&
               read_members(file, "design", uf_result_design_columns, &result->design) &&
               uf_result_limits_read(file, &result->design) &&
               uf_result_facts_read(file, result->facts, &result->summary) &&
               uf_result_sound_lists(result, what);
    }
    if (result->pick >= (long)result->n_choices) {
        result->pick = -1;
    }
    return good && read_without(file, result, what);
}
