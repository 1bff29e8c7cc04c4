#include "plausible.h"

#include "solver/ground/published_depth.h"
#include "solver/ground/soil.h"
#include "solver/weather/surface.h"

#include <math.h>

static const double MOST_DAYS = 800.0;      /* a longer forcing is more than one winter */
static const double LEAST_INDEX_KDAY = 100; /* below it the relations are far apart */
static const double BARE_N = 0.6; /* n-factors of bare surfaces lie above, of turf below */
static const double LEAST_LATENT_J_M3 = 1e6;

/* The cold part of a season: the deepest fall of the sum of daily temperatures. */
struct cold {
    double index_Kday, days;
};

static struct cold cold_part(const double *degC, size_t n)
{
    struct cold out = {0.0, 0.0};
    double sum = 0.0, top = 0.0;
    size_t from = 0;
    for (size_t i = 0; i < n; i++) {
        sum += degC[i];
        if (sum > top) {
            top = sum;
            from = i + 1;
        }
        if (top - sum > out.index_Kday) {
            out = (struct cold){top - sum, (double)(i + 1 - from)};
        }
    }
    return out;
}

static double mean_of(const struct uf_drive *year)
{
    double sum = 0.0;
    for (size_t i = 0; i < year->days; i++) {
        sum += year->air_degC[i];
    }
    return sum / (double)year->days;
}

/* One layer more, from what its ground comes to. */
static void add_layer(struct uf_published_layer *layers, size_t *n, const struct uf_case *design,
                      size_t layer, bool saturated, double to_m)
{
    struct uf_soil_state state;
    if (uf_soil_resolve(&state, &design->ground.layers[layer].spec, design->ground.method,
                        saturated, NULL) == UF_OK) {
        const struct uf_thermal *t = &state.thermal;
        layers[(*n)++] =
            (struct uf_published_layer){.to_m = to_m,
                                        .k_W_mK = 0.5 * (t->k_thawed_W_mK + t->k_frozen_W_mK),
                                        .latent_J_m3 = fmax(t->latent_J_m3, LEAST_LATENT_J_M3),
                                        .c_J_m3K = 0.5 * (t->c_thawed_J_m3K + t->c_frozen_J_m3K)};
    }
}

static double berggren_m(const struct uf_case *design, const struct uf_published_winter *winter)
{
    struct uf_published_layer layers[2 * UF_MAX_LAYERS];
    const double water_m = design->ground.water_winter_m;
    double top_m = 0.0;
    size_t n = 0;
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        const double to_m = design->ground.layers[i].to_m;
        if (!(water_m <= top_m)) {
            add_layer(layers, &n, design, i, false, water_m < to_m ? water_m : to_m);
        }
        if (water_m < to_m) {
            add_layer(layers, &n, design, i, true, to_m);
        }
        top_m = to_m;
    }
    return uf_published_depth_berggren_m(layers, n, winter);
}

/* The same weather on ground without snow. */
static enum uf_status without_snow(struct uf_forcing **out, const struct uf_case *design,
                                   const struct uf_forcing *forcing, struct uf_error *err)
{
    struct uf_surface_input bare = design->surface;
    bare.snow = UF_SNOW_NONE;
    const struct uf_forcing_weather weather = {.start_day = (long)forcing->season.start_day,
                                               .days = forcing->season.days,
                                               .year_days = forcing->year.days,
                                               .air_degC = forcing->season.air_degC,
                                               .year_air_degC = forcing->year.air_degC};
    return uf_forcing_create(out, &bare, &weather, err);
}

/* Undisturbed ground alone, in a column; NAN where it cannot be run. */
static enum uf_status column_frost(double *frost_m, const struct uf_case *design,
                                   const struct uf_forcing *bare,
                                   const struct uf_run_options *options, struct uf_error *err)
{
    struct uf_case column = *design;
    struct uf_run_options same = *options;
    struct uf_summary s;
    column.tank = (struct uf_tank){.shape = UF_NO_TANK};
    column.board.present = false;
    column.surface.snow = UF_SNOW_NONE;
    column.n_probes = column.n_pipes = 0;
    column.grid.width_m = 1.0;
    same.inflow = false;
    same.start_degC = NULL;
    same.n_start = 0;
    same.frost_m = 0.0;
    const enum uf_status status = uf_run_all(&s, NULL, &column, bare, &same, NULL, err);
    *frost_m = status == UF_OK ? s.frost_undisturbed_m : (double)NAN;
    return status == UF_E_MEMORY || status == UF_E_STOPPED ? status : UF_OK;
}

static bool is_bare(const struct cold *surface, const struct cold *air)
{
    return surface->index_Kday >= BARE_N * air->index_Kday;
}

enum uf_status uf_plausible(struct uf_summary *summary, const struct uf_case *design,
                            const struct uf_forcing *forcing, const struct uf_run_options *options,
                            struct uf_error *err)
{
    struct uf_forcing *bare = NULL;
    summary->berggren_m = summary->relations_m = summary->frost_without_snow_m = NAN;
    summary->published_air_Kday = summary->published_surface_Kday = summary->published_days = NAN;
    summary->published_annual_degC = summary->published_film_m2K_W = NAN;
    if ((double)forcing->season.days > MOST_DAYS || uf_surface_of(&design->surface)->own_record) {
        return UF_OK;
    }
    enum uf_status status = without_snow(&bare, design, forcing, err);
    if (status != UF_OK) {
        return status;
    }
    const struct cold surface = cold_part(bare->season.outside_degC, bare->season.days);
    const struct cold air = cold_part(bare->season.air_degC, bare->season.days);
    const struct uf_initial *start = &design->initial;
    const struct uf_published_winter winter = {
        .resistance_m2K_W = 1.0 / bare->film_least_W_m2K, /* 0 where the surface itself is given */
        .surface_index_Kday = surface.index_Kday,
        .season_day = surface.days,
        .annual_degC =
            start->n_profile > 0 ? start->degC[start->n_profile - 1] : mean_of(&bare->year)};
    summary->published_air_Kday = air.index_Kday;
    summary->published_surface_Kday = winter.surface_index_Kday;
    summary->published_days = winter.season_day;
    summary->published_annual_degC = winter.annual_degC;
    summary->published_film_m2K_W = winter.resistance_m2K_W;
    summary->berggren_m = berggren_m(design, &winter);
    if (is_bare(&surface, &air) && air.index_Kday >= LEAST_INDEX_KDAY) {
        summary->relations_m = 0.5 * (uf_published_depth_chisholm_phang_m(air.index_Kday) +
                                      uf_published_depth_fair_m(air.index_Kday));
    }
    if (uf_surface_lies(&design->surface)) {
        status = column_frost(&summary->frost_without_snow_m, design, bare, options, err);
    }
    uf_forcing_free(bare);
    return status;
}
