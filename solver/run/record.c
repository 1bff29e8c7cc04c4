#include "record.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* n doubles, all NAN. */
static double *nan_array(size_t n)
{
    double *array = malloc((n > 0 ? n : 1) * sizeof *array);
    for (size_t i = 0; array != NULL && i < n; i++) {
        array[i] = NAN;
    }
    return array;
}

/* The series of nt numbers that a record owns, so that they are made and freed in one loop. */
#define SERIES_COUNT 11
static void series_list(struct uf_record *r, double ***list)
{
    double **const all[SERIES_COUNT] = {&r->time_day,     &r->frost_depth_m, &r->frost_above_m,
                                        &r->thaw_depth_m, &r->water_degC,    &r->ice_share,
                                        &r->wall_degC,    &r->crown_degC,    &r->surface_W_m,
                                        &r->air_degC,     &r->snow_m};
    for (size_t i = 0; i < SERIES_COUNT; i++) {
        list[i] = all[i];
    }
}

static bool allocate(struct uf_record *r, bool with_fields)
{
    double **series[SERIES_COUNT];
    bool ok = true;
    series_list(r, series);
    for (size_t i = 0; i < SERIES_COUNT; i++) {
        *series[i] = nan_array(r->nt);
        ok = ok && *series[i] != NULL;
    }
    r->z_m = nan_array(r->nz);
    r->x_m = nan_array(r->nx);
    r->z_edge_m = nan_array(r->nz + 1);
    r->x_edge_m = nan_array(r->nx + 1);
    r->probe_degC = nan_array(r->nt * r->n_probes);
    r->material = calloc(r->nz * r->nx + 1, sizeof *r->material);
    ok = ok && r->z_m && r->x_m && r->z_edge_m && r->x_edge_m && r->probe_degC && r->material;
    if (with_fields) {
        r->temperature_degC = calloc(r->nt * r->nz * r->nx + 1, sizeof(float));
        r->ice_fraction = calloc(r->nt * r->nz * r->nx + 1, sizeof(float));
        ok = ok && r->temperature_degC != NULL && r->ice_fraction != NULL;
    }
    return ok;
}

enum uf_status uf_record_create(struct uf_record **out, size_t nt, size_t nz, size_t nx,
                                size_t n_probes, bool with_fields, struct uf_error *err)
{
    struct uf_record *r = calloc(1, sizeof *r);
    *out = NULL;
    if (r == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a record");
    }
    r->nt = nt;
    r->nz = nz;
    r->nx = nx;
    r->n_probes = n_probes;
    if (!allocate(r, with_fields)) {
        uf_record_free(r);
        return uf_fail(err, UF_E_MEMORY, "out of memory for %zu days of %zu x %zu cells", nt, nz,
                       nx);
    }
    *out = r;
    return UF_OK;
}

void uf_record_free(struct uf_record *record)
{
    if (record == NULL) {
        return;
    }
    double **series[SERIES_COUNT];
    series_list(record, series);
    for (size_t i = 0; i < SERIES_COUNT; i++) {
        free(*series[i]);
    }
    free(record->z_m);
    free(record->x_m);
    free(record->z_edge_m);
    free(record->x_edge_m);
    free(record->probe_degC);
    free(record->material);
    free(record->temperature_degC);
    free(record->ice_fraction);
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

void uf_record_arrays(struct uf_record *r, struct uf_record_array list[UF_RECORD_ARRAYS])
{
    double **series[SERIES_COUNT];
    size_t n = 0;
    series_list(r, series);
    for (; n < SERIES_COUNT; n++) {
        list[n] = (struct uf_record_array){*series[n], r->nt * sizeof(double), true};
    }
    list[n++] = (struct uf_record_array){r->probe_degC, r->nt * r->n_probes * sizeof(double), true};
    list[n++] = (struct uf_record_array){r->z_m, r->nz * sizeof(double), false};
    list[n++] = (struct uf_record_array){r->x_m, r->nx * sizeof(double), false};
    list[n++] = (struct uf_record_array){r->z_edge_m, (r->nz + 1) * sizeof(double), false};
    list[n++] = (struct uf_record_array){r->x_edge_m, (r->nx + 1) * sizeof(double), false};
    list[n++] = (struct uf_record_array){r->material, r->nz * r->nx, false};
}

void uf_record_copy(struct uf_record *record, size_t at, struct uf_record *part)
{
    struct uf_record_array to[UF_RECORD_ARRAYS];
    struct uf_record_array from[UF_RECORD_ARRAYS];
    uf_record_arrays(record, to);
    uf_record_arrays(part, from);
    for (size_t i = 0; i < UF_RECORD_ARRAYS; i++) {
        const size_t offset = from[i].per_time ? at * (from[i].bytes / part->nt) : 0;
        memcpy((char *)to[i].data + offset, from[i].data, from[i].bytes);
    }
    memcpy(record->material_names, part->material_names, sizeof record->material_names);
    memcpy(record->probe_names, part->probe_names, sizeof record->probe_names);
    record->n_materials = part->n_materials;
    record->radial = part->radial;
}
