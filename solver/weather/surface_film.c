#include "surface.h"

/* A film between air and ground, in series with the snow that lies. */

static bool takes_snow(const struct uf_surface_input *surface)
{
    (void)surface;
    return true;
}

static double film_m2K_W(const struct uf_surface_input *surface)
{
    return 1.0 / surface->film_W_m2K;
}

static const char *fault(const struct uf_surface_input *surface, bool snow_given)
{
    (void)snow_given;
    return uf_surface_n_counts(surface)
               ? "an n-factor other than 1 together with film counts the surface twice: keep one"
               : NULL;
}

static void say(struct uf_message *out, const struct uf_surface_input *surface)
{
    static const char *const snow[] = {[UF_SNOW_NONE] = "no snow (cleared ground)",
                                       [UF_SNOW_RECORDED] = "snow as recorded",
                                       [UF_SNOW_FIXED] = "snow of fixed depth"};
    uf_message_set(out, UF_SAID("film of {}, {}", UF_ROUND(FILM, surface->film_W_m2K),
                                UF_WORD(snow[surface->snow])));
}

static const char *const keys[] = {"surface.film", NULL};

const struct uf_surface_row uf_surface_film = {
    .keys = keys,
    .asked = "film with snow",
    .takes_snow = takes_snow,
    .outside_degC = uf_surface_as_air,
    .film_m2K_W = film_m2K_W,
    .fault = fault,
    .say = say,
};
