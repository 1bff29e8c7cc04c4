#include "run_private.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void copy_grid(struct uf_record *record, const struct uf_section *section)
{
    const struct uf_grid *g = section->grid;
    memcpy(record->x_m, g->x_m, g->nx * sizeof *g->x_m);
    memcpy(record->z_m, g->z_m, g->nz * sizeof *g->z_m);
    memcpy(record->x_edge_m, g->x_edge_m, (g->nx + 1) * sizeof *g->x_edge_m);
    memcpy(record->z_edge_m, g->z_edge_m, (g->nz + 1) * sizeof *g->z_edge_m);
    memcpy(record->material, section->shown, g->nx * g->nz * sizeof *section->shown);
    memcpy(record->material_names, section->names, sizeof record->material_names);
    memcpy(record->marks, section->marks, sizeof record->marks);
    record->n_materials = section->n_names;
    record->radial = g->radial;
    if (record->ny > 0) {
        memcpy(record->y_m, g->y_m, g->ny * sizeof *g->y_m);
        memcpy(record->y_edge_m, g->y_edge_m, (g->ny + 1) * sizeof *g->y_edge_m);
    }
    for (size_t c = 0; c < record->nz * record->ny; c++) {
        record->long_material[c] = section->shown[uf_grid_in(g, 0, c / g->ny, c % g->ny)];
    }
}

static enum uf_status create_record(struct uf_record **out, const struct uf_run *run, size_t times,
                                    unsigned keep, struct uf_error *err)
{
    const struct uf_grid *g = run->section->grid;
    const struct uf_record_size size = {times, g->nz, g->nx, g->ny > 1 ? g->ny : 0,
                                        run->design->n_probes};
    const enum uf_status status = uf_record_create(out, &size, keep, err);
    if (status == UF_OK) {
        copy_grid(*out, run->section);
        for (size_t p = 0; p < run->design->n_probes; p++) {
            (void)snprintf((*out)->probe_names[p], UF_NAME_SIZE, "%s", run->design->probes[p].name);
        }
    }
    return status;
}

enum uf_status uf_run_record(struct uf_record **out, const struct uf_run *run, size_t every,
                             unsigned keep, struct uf_error *err)
{
    return create_record(out, run, (uf_run_days(run) + every - 1) / every, keep, err);
}

enum uf_status uf_run_record_days(struct uf_record **out, const struct uf_run *run, size_t days,
                                  struct uf_error *err)
{
    return create_record(out, run, days, UF_KEEP_SERIES, err);
}

/* Fields are kept to the nearest 1/512: a fiftieth of a tenth of a degree, and the zeros
   it leaves in every number make the file smaller and quicker to write. */
static float kept(double value)
{
    const double magic = 3.0 * 4398046511104.0; /* 3 2^42: the sum's last bit is 1/512 */
    return (float)(value + magic - magic);
}

size_t uf_run_shown_node(const struct uf_run *run, size_t c)
{
    const struct uf_section *s = run->section;
    const struct uf_heat *h = s->heat;
    if (run->body[c] == UF_SECTION_WATER && h->n_water > 0) {
        return s->row_water[c / s->grid->nx % s->grid->nz];
    }
    return run->body[c] == UF_SECTION_AIR ? h->air : c;
}

/* Temperature and ice share of the water in one cell. */
static void store_cell(const struct uf_run *run, size_t c, float *degC, float *ice)
{
    const struct uf_heat *h = run->section->heat;
    const size_t node = uf_run_shown_node(run, c);
    const double T_degC = uf_season_T_degC(run->season)[node];
    const uint16_t material = node < h->n_cells ? h->conducts[node] : h->material[node];
    *degC = kept(T_degC);
    *ice = kept(uf_material_ice(&h->materials[material], T_degC));
}

static void store_fields(const struct uf_run *run, struct uf_record *r, size_t at)
{
    const size_t across = r->nz * r->nx;
    const size_t along = r->nz * r->ny;
    const size_t whole = r->whole_degC != NULL ? across * r->ny : 0;
    for (size_t c = 0; r->temperature_degC != NULL && c < across; c++) {
        store_cell(run, c, &r->temperature_degC[at * across + c],
                   &r->ice_fraction[at * across + c]);
    }
    for (size_t c = 0; r->long_degC != NULL && c < along; c++) {
        store_cell(run, uf_grid_in(run->section->grid, 0, c / r->ny, c % r->ny),
                   &r->long_degC[at * along + c], &r->long_ice[at * along + c]);
    }
    for (size_t c = 0; c < whole; c++) {
        store_cell(run, c, &r->whole_degC[at * whole + c], &r->whole_ice[at * whole + c]);
    }
}

static void store_lines(const struct uf_run *run, struct uf_record *r, size_t at)
{
    for (size_t i = 0; r->line_m != NULL && i < r->nx; i++) {
        r->line_m[at * r->nx + i] = (float)uf_run_line_m(run, i, 0);
    }
    for (size_t k = 0; r->long_line_m != NULL && k < r->ny; k++) {
        r->long_line_m[at * r->ny + k] = (float)uf_run_line_m(run, 0, k);
    }
}

void uf_run_store(const struct uf_run *run, struct uf_record *record, size_t at)
{
    const struct uf_case *d = run->design;
    const double *T = uf_season_T_degC(run->season);
    const double day = uf_season_day(run->season);
    const size_t today = run->day > 0 ? run->day - 1 : 0;
    record->time_day[at] = day;
    record->frost_depth_m[at] = run->frost_now_m;
    record->frost_above_m[at] = run->frost_above_now_m;
    record->thaw_depth_m[at] = run->thaw_now_m;
    record->surface_W_m[at] = run->surface_now_W;
    record->air_degC[at] = run->forcing->season.air_degC[today];
    record->snow_m[at] =
        run->forcing->season.snow_m != NULL ? run->forcing->season.snow_m[today] : 0.0;
    if (run->section->outline.half_m > 0.0) {
        record->water_degC[at] = uf_run_water_degC(run);
        record->ice_share[at] = uf_run_ice_share(run);
        record->wall_degC[at] = uf_run_wall_degC(run);
        record->crown_degC[at] = uf_run_crown_degC(run);
    }
    for (size_t p = 0; p < d->n_probes; p++) {
        record->probe_degC[at * record->n_probes + p] =
            uf_section_at_degC(run->section, T, d->probes[p].x_m, d->probes[p].depth_m);
    }
    store_fields(run, record, at);
    store_lines(run, record, at);
}
