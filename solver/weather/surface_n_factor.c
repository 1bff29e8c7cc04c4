#include "solver/base/name.h"
#include "surface.h"

#include <math.h>

/* The surface's own temperature: the air's times n, one for frost and one for thaw. */

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

static double n_freezing(const struct uf_surface_input *surface)
{
    return surface->row != NULL ? surface->row->n_freezing : surface->n_freezing;
}

static double n_thawing(const struct uf_surface_input *surface)
{
    return surface->row != NULL ? surface->row->n_thawing : surface->n_thawing;
}

bool uf_surface_n_counts(const struct uf_surface_input *surface)
{
    const double freezing = n_freezing(surface), thawing = n_thawing(surface);
    return (!isnan(freezing) && freezing != 1.0) || (!isnan(thawing) && thawing != 1.0);
}

static bool takes_snow(const struct uf_surface_input *surface)
{
    return !uf_surface_n_counts(surface);
}

static double outside_degC(const struct uf_surface_input *surface, double air_degC)
{
    return air_degC * (air_degC < 0.0 ? n_freezing(surface) : n_thawing(surface));
}

/* n as of the next barer surface: in the table above turf has 0.5, bare soil 0.7, a shaded surface 0.9,
   snow's own surface 1.0. The thawing factor stays. */
static bool barer(struct uf_surface_input *surface)
{
    const double n = n_freezing(surface);
    if (!(n < 1.0)) {
        return false;
    }
    surface->n_thawing = n_thawing(surface);
    surface->n_freezing = fmin(1.0, n + 0.2);
    surface->row = NULL;
    return true;
}

static const char *fault(const struct uf_surface_input *surface, bool snow_given)
{
    const bool counts = uf_surface_n_counts(surface);
    if (surface->snow != UF_SNOW_NONE && counts) {
        return "an n-factor other than 1 together with snow counts the surface twice: keep one";
    }
    if (isnan(n_freezing(surface)) || isnan(n_thawing(surface))) {
        return "n_freezing and n_thawing belong together: give both, or a type from the table";
    }
    return surface->row != NULL && snow_given && counts
               ? "two surface laws: the n-factor already holds the snow of its surface"
               : NULL;
}

static void say(struct uf_message *out, const struct uf_surface_input *surface)
{
    const struct uf_cover_row *row = surface->row;
    uf_message_set(out, UF_SAID("{}, n-factors {} freezing and {} thawing{}{}",
                                UF_WORD(row != NULL ? row->name : "as given"),
                                UF_ROUND(FACTOR, n_freezing(surface)),
                                UF_ROUND(FACTOR, n_thawing(surface)),
                                UF_WORD(row != NULL ? "; source: " : ""),
                                UF_WORD(row != NULL ? row->source : "")));
}

static const char *const keys[] = {"surface.type", "surface.n_freezing", "surface.n_thawing", NULL};

const struct uf_surface_row uf_surface_n_factor = {
    .keys = keys,
    .asked = "type, or n_freezing and n_thawing",
    .takes_snow = takes_snow,
    .outside_degC = outside_degC,
    .barer = barer,
    .fault = fault,
    .say = say,
};
