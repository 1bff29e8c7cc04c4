#include "record.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

/* The arrays of a record, one row each: made, freed, copied by loops. */

enum { ONE, TIME, Z, X, Y, PROBE, Z_EDGE, X_EDGE, Y_EDGE, DIMS, MOST_RANK = 4 };

struct row {
    size_t offset, bytes; /* of the pointer, of a number */
    int dims[MOST_RANK];
    unsigned keep; /* kept where one of these is asked for; 0: always */
};
#define ROW(member, keep, ...)                                                                     \
    {                                                                                              \
        offsetof(struct uf_record, member), sizeof *((struct uf_record *)0)->member,               \
            {__VA_ARGS__}, keep                                                                    \
    }

static const struct row rows[] = {ROW(time_day, 0, TIME),
                                  ROW(frost_depth_m, 0, TIME),
                                  ROW(frost_above_m, 0, TIME),
                                  ROW(thaw_depth_m, 0, TIME),
                                  ROW(water_degC, 0, TIME),
                                  ROW(ice_share, 0, TIME),
                                  ROW(wall_degC, 0, TIME),
                                  ROW(crown_degC, 0, TIME),
                                  ROW(surface_W_m, 0, TIME),
                                  ROW(air_degC, 0, TIME),
                                  ROW(snow_m, 0, TIME),
                                  ROW(probe_degC, 0, TIME, PROBE),
                                  ROW(z_m, 0, Z),
                                  ROW(x_m, 0, X),
                                  ROW(y_m, 0, Y),
                                  ROW(z_edge_m, 0, Z_EDGE),
                                  ROW(x_edge_m, 0, X_EDGE),
                                  ROW(y_edge_m, 0, Y_EDGE),
                                  ROW(material, 0, Z, X),
                                  ROW(long_material, 0, Z, Y),
                                  ROW(temperature_degC, UF_KEEP_SECTIONS, TIME, Z, X),
                                  ROW(ice_fraction, UF_KEEP_SECTIONS, TIME, Z, X),
                                  ROW(long_degC, UF_KEEP_SECTIONS, TIME, Z, Y),
                                  ROW(long_ice, UF_KEEP_SECTIONS, TIME, Z, Y),
                                  ROW(line_m, UF_KEEP_LINES, TIME, X),
                                  ROW(long_line_m, UF_KEEP_LINES, TIME, Y),
                                  ROW(whole_degC, UF_KEEP_WHOLE, TIME, Y, Z, X),
                                  ROW(whole_ice, UF_KEEP_WHOLE, TIME, Y, Z, X)};
enum { ROWS = sizeof rows / sizeof rows[0] };

/* No machine holds an array of more: it is refused before memory is asked for. */
static const size_t MOST_BYTES = SIZE_MAX >> 25;

/* How many numbers an array holds; SIZE_MAX: more than there can be, or no such dimension. */
static size_t count(const struct uf_record *r, const struct row *row)
{
    const size_t along[DIMS] = {[ONE] = 1,
                                [TIME] = r->nt,
                                [Z] = r->nz,
                                [X] = r->nx,
                                [Y] = r->ny,
                                [PROBE] = r->n_probes,
                                [Z_EDGE] = r->nz + 1,
                                [X_EDGE] = r->nx + 1,
                                [Y_EDGE] = r->ny > 0 ? r->ny + 1 : 0};
    size_t n = 1;
    for (int k = 0; k < MOST_RANK; k++) {
        const size_t more = along[row->dims[k]];
        n = more == 0 ? 0 : n > SIZE_MAX / row->bytes / more ? SIZE_MAX / row->bytes : n * more;
    }
    return n;
}

static void *data_of(const struct uf_record *r, const struct row *row)
{
    void *data = NULL;
    memcpy(&data, (const char *)r + row->offset, sizeof data);
    return data;
}

/* Does any of its dimensions run along the axis? Then only a run in slices has it. */
static bool of_slices(const struct row *row)
{
    bool found = false;
    for (int k = 0; k < MOST_RANK; k++) {
        found = found || row->dims[k] == Y || row->dims[k] == Y_EDGE;
    }
    return found;
}

static bool allocate(struct uf_record *r, const struct row *row)
{
    const size_t n = count(r, row);
    void *data = n < MOST_BYTES / row->bytes ? calloc(n + 1, row->bytes) : NULL;
    if (data != NULL && row->bytes == sizeof(double)) {
        double *numbers = data;
        for (size_t i = 0; i < n; i++) {
            numbers[i] = NAN;
        }
    }
    memcpy((char *)r + row->offset, &data, sizeof data);
    return data != NULL;
}

enum uf_status uf_record_create(struct uf_record **out, const struct uf_record_size *size,
                                unsigned keep, struct uf_error *err)
{
    struct uf_record *r = calloc(1, sizeof *r);
    bool good = r != NULL;
    *out = NULL;
    if (good) {
        r->nt = size->nt;
        r->nz = size->nz;
        r->nx = size->nx;
        r->ny = size->ny;
        r->n_probes = size->n_probes;
    }
    for (size_t i = 0; good && i < ROWS; i++) {
        const bool wanted = rows[i].keep == 0 || (rows[i].keep & keep) != 0;
        good = !wanted || (of_slices(&rows[i]) && size->ny == 0) || allocate(r, &rows[i]);
    }
    if (!good) {
        uf_record_free(r);
        return uf_fail(err, UF_E_MEMORY,
                       "out of memory for a record of %zu days of %zu x %zu cells in %zu slices",
                       size->nt, size->nz, size->nx, size->ny > 0 ? size->ny : 1);
    }
    *out = r;
    return UF_OK;
}

void uf_record_free(struct uf_record *record)
{
    for (size_t i = 0; record != NULL && i < ROWS; i++) {
        free(data_of(record, &rows[i]));
    }
    free(record);
}

size_t uf_record_coldest(const struct uf_record *record)
{
    size_t best = 0;
    for (size_t i = 1; i < record->nt; i++) {
        if (record->frost_depth_m[i] > record->frost_depth_m[best]) {
            best = i;
        }
    }
    return best;
}

size_t uf_record_arrays(const struct uf_record *r, struct uf_record_array list[UF_RECORD_ARRAYS])
{
    size_t n = 0;
    for (size_t i = 0; i < ROWS; i++) {
        if (rows[i].keep == 0 && !(of_slices(&rows[i]) && r->ny == 0)) {
            list[n++] = (struct uf_record_array){
                data_of(r, &rows[i]), count(r, &rows[i]) * rows[i].bytes, rows[i].dims[0] == TIME};
        }
    }
    return n;
}

void uf_record_copy(struct uf_record *record, size_t at, const struct uf_record *part)
{
    struct uf_record_array to[UF_RECORD_ARRAYS];
    struct uf_record_array from[UF_RECORD_ARRAYS];
    (void)uf_record_arrays(record, to);
    const size_t n = uf_record_arrays(part, from);
    for (size_t i = 0; i < n; i++) {
        const size_t offset = from[i].per_time ? at * (from[i].bytes / part->nt) : 0;
        memcpy((char *)to[i].data + offset, from[i].data, from[i].bytes);
    }
    memcpy(record->material_names, part->material_names, sizeof record->material_names);
    memcpy(record->marks, part->marks, sizeof record->marks);
    memcpy(record->probe_names, part->probe_names, sizeof record->probe_names);
    record->n_materials = part->n_materials;
    record->radial = part->radial;
}
