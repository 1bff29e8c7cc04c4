#include "ground_index.h"

#include "io/weather/climate.h"
#include "solver/choice/every.h"
#include "solver/ground/soil.h"
#include "solver/weather/surface.h"

#include <math.h>
#include <stdlib.h>

const char uf_ground_index_soil[] =
    "silt, 1600 kg/m3, 20 % water, bare (n-factors 0.7 and 1.4), dry below";

const struct uf_ground_station uf_ground_index_stations[] = {
    {"Soda Springs", "cssl.csv", NULL},       {"Fort Collins", "fort_collins.csv", NULL},
    {"Toronto", "winnipeg.csv", "toronto"},   {"Valdez", "valdez.csv", NULL},
    {"Madison", "madison.csv", NULL},         {"Calgary", "winnipeg.csv", "calgary"},
    {"Winnipeg", "winnipeg.csv", "winnipeg"}, {NULL, NULL, NULL}};

static void make_case(struct uf_case *design)
{
    uf_case_init(design);
    design->grid.finest_m = 0.1; /* the front is found inside its cell: 1 cm from 0.025 */
    design->surface.kind = UF_SURFACE_N_FACTOR;
    design->surface.row = uf_surface_find("bare_soil");
    design->ground.n_layers = 1;
    design->ground.layers[0].to_m = design->grid.depth_m;
    design->ground.layers[0].spec.soil = uf_soil_find("silt");
    design->ground.layers[0].spec.dry_density_kg_m3 = 1600.0;
    design->ground.layers[0].spec.moisture_by_mass = 0.20;
}

static enum uf_status add_points(struct uf_ground_index *out, const struct uf_every *every,
                                 size_t station, struct uf_error *err)
{
    struct uf_ground_point *points = realloc(out->points, (out->n + every->n) * sizeof *points);
    if (points == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the winters");
    }
    out->points = points;
    for (size_t i = 0; i < every->n; i++) {
        const struct uf_every_winter *winter = &every->winters[i];
        out->points[out->n++] =
            (struct uf_ground_point){.station = station,
                                     .year = winter->year,
                                     .index_degC_day = winter->index_degC_day,
                                     .frost_m = winter->summary.frost_undisturbed_m};
    }
    return UF_OK;
}

/* All winters of one station. */
static enum uf_status run_station(struct uf_ground_index *out, size_t station,
                                  const struct uf_season_options *options, struct uf_error *err)
{
    const struct uf_ground_station *row = &uf_ground_index_stations[station];
    struct uf_weather *record = NULL;
    struct uf_winter_list *list = NULL;
    struct uf_winter_mean_year mean;
    struct uf_every *every = NULL;
    struct uf_case design;
    make_case(&design);
    enum uf_status status = uf_climate_read(&record, row->file, row->column, "", err);
    if (status == UF_OK) {
        status = uf_winter_list_create(&list, record, false, err);
    }
    if (status == UF_OK) {
        status = uf_winter_mean_year(&mean, record, list, err);
    }
    if (status == UF_OK) {
        struct uf_every_input input = {.design = &design,
                                       .record = record,
                                       .winters = list,
                                       .mean = &mean,
                                       .options = uf_run_defaults()};
        input.options.season = *options;
        status = uf_every_create(&every, &input, err);
    }
    if (status == UF_OK) {
        status = uf_every_run(every, err);
    }
    if (status == UF_OK) {
        status = add_points(out, every, station, err);
    }
    uf_every_free(every);
    uf_winter_list_free(list);
    uf_weather_free(record);
    return status;
}

enum uf_status uf_ground_index_run(struct uf_ground_index *out,
                                   const struct uf_season_options *options, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    *out = (struct uf_ground_index){.n = 0};
    for (size_t k = 0; uf_ground_index_stations[k].name != NULL && status == UF_OK; k++) {
        status = run_station(out, k, options, err);
    }
    if (status != UF_OK) {
        uf_ground_index_free(out);
    }
    return status;
}

void uf_ground_index_free(struct uf_ground_index *index)
{
    free(index->points);
    *index = (struct uf_ground_index){.n = 0};
}

struct uf_ground_bin uf_ground_index_bin(const struct uf_ground_index *index, double from_degC_day,
                                         double to_degC_day)
{
    struct uf_ground_bin bin = {0.0, 0.0, 0};
    for (size_t i = 0; i < index->n; i++) {
        const struct uf_ground_point *p = &index->points[i];
        if (p->index_degC_day >= from_degC_day && p->index_degC_day < to_degC_day) {
            bin.index_degC_day += p->index_degC_day;
            bin.frost_m += p->frost_m;
            bin.n++;
        }
    }
    if (bin.n > 0) {
        bin.index_degC_day /= (double)bin.n;
        bin.frost_m /= (double)bin.n;
    }
    return bin;
}
