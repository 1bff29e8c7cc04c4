#include "surface.h"

#include "solver/base/name.h"

#include <math.h>
#include <string.h>

#define N_SOURCE "UFC 3-130-04 table 4-1 (same as TM 5-852-6 table 2-4), read"
#define N_LOW    "; thawing printed as a range, its low end taken"

const struct uf_cover_row uf_surface_table[] = {
    {"snow", N_SOURCE "; index at the top of the snow; no thawing value printed, 1.0 assumed", 1.0,
     1.0},
    {"concrete", N_SOURCE "; Portland cement concrete, clear of snow (condition from memory)", 0.75,
     1.5},
    {"asphalt",
     N_SOURCE "; bituminous pavement, clear of snow (condition from memory)" N_LOW " (1.6 to 2+)",
     0.7, 1.6},
    {"bare_soil", N_SOURCE N_LOW " (1.4 to 2+)", 0.7, 1.4},
    {"shaded", N_SOURCE "; shaded surface", 0.9, 1.0},
    {"turf", N_SOURCE, 0.5, 0.8},
    {"trees", N_SOURCE "; tree-covered ground", 0.3, 0.4},
    {.name = NULL},
};

const struct uf_cover_row *uf_surface_find(const char *name)
{
    return uf_name_find(uf_surface_table, sizeof uf_surface_table[0], name);
}

double uf_surface_snow_W_mK(double density_kg_m3)
{
    const double r = density_kg_m3 / 1000.0;
    if (!(density_kg_m3 >= 10.0 && density_kg_m3 <= 600.0)) {
        return NAN;
    }
    return r < 0.156 ? 0.023 + 0.234 * r : 0.138 - 1.01 * r + 3.233 * r * r;
}

static double n_freezing(const struct uf_surface_input *surface)
{
    return surface->row != NULL ? surface->row->n_freezing : surface->n_freezing;
}

static double n_thawing(const struct uf_surface_input *surface)
{
    return surface->row != NULL ? surface->row->n_thawing : surface->n_thawing;
}

/* Thermal resistance of today's snow, m2K/W; 0 without snow. */
static double snow_m2K_W(const struct uf_surface_input *surface, double air_degC, double snow_m)
{
    double depth_m = 0.0;
    if (surface->snow == UF_SNOW_RECORDED) {
        depth_m = snow_m;
    } else if (surface->snow == UF_SNOW_FIXED && air_degC <= 0.0) {
        depth_m = surface->snow_depth_m;
    }
    return depth_m > 0.0 ? depth_m / uf_surface_snow_W_mK(surface->snow_density_kg_m3) : 0.0;
}

struct uf_face_law uf_surface_law(const struct uf_surface_input *surface, double air_degC,
                                  double snow_m)
{
    if (surface->kind == UF_SURFACE_MEASURED) {
        return (struct uf_face_law){.h_W_m2K = INFINITY, .outside_degC = air_degC};
    }
    const double snow = snow_m2K_W(surface, air_degC, snow_m);
    struct uf_face_law law = {.h_W_m2K = INFINITY, .outside_degC = air_degC};
    double film_m2K_W = snow;
    if (surface->kind == UF_SURFACE_N_FACTOR) {
        law.outside_degC *= air_degC < 0.0 ? n_freezing(surface) : n_thawing(surface);
    } else {
        film_m2K_W += 1.0 / surface->film_W_m2K;
    }
    if (film_m2K_W > 0.0) {
        law.h_W_m2K = 1.0 / film_m2K_W;
    }
    if (snow > 0.0) {
        law.outside_degC = fmin(0.0, law.outside_degC);
    }
    return law;
}

/* Is n given, and other than 1 in either season? */
static bool n_counts(const struct uf_surface_input *surface)
{
    const double freezing = n_freezing(surface), thawing = n_thawing(surface);
    return (!isnan(freezing) && freezing != 1.0) || (!isnan(thawing) && thawing != 1.0);
}

const char *uf_surface_fault(const struct uf_surface_input *surface)
{
    if (surface->kind == UF_SURFACE_FILM && n_counts(surface)) {
        return "an n-factor other than 1 together with film counts the surface twice: keep one";
    }
    if (surface->kind == UF_SURFACE_N_FACTOR && surface->snow != UF_SNOW_NONE &&
        n_counts(surface)) {
        return "an n-factor other than 1 together with snow counts the surface twice: keep one";
    }
    if (surface->kind == UF_SURFACE_N_FACTOR &&
        (isnan(n_freezing(surface)) || isnan(n_thawing(surface)))) {
        return "n_freezing and n_thawing belong together: give both, or a type from the table";
    }
    if (surface->kind == UF_SURFACE_MEASURED && surface->snow != UF_SNOW_NONE) {
        return "a measured ground temperature already lies under the snow: leave snow out";
    }
    if (surface->kind == UF_SURFACE_MEASURED && n_counts(surface)) {
        return "a measured ground temperature needs no n-factor: leave it out";
    }
    return NULL;
}
