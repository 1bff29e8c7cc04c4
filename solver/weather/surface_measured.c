#include "surface.h"

/* A temperature measured in the ground: it is the upper edge of what is computed, whatever lies over
   it. */

static bool takes_snow(const struct uf_surface_input *surface)
{
    (void)surface;
    return false;
}

static const char *fault(const struct uf_surface_input *surface, bool snow_given)
{
    (void)surface;
    (void)snow_given;
    return NULL;
}

static void say(struct uf_message *out, const struct uf_surface_input *surface)
{
    uf_message_set(out, UF_SAID("ground temperature measured {} below grade",
                                UF_OF(LENGTH, surface->measured_depth_m)));
}

static const char *const keys[] = {"climate.surface_temperature", NULL};

const struct uf_surface_row uf_surface_measured = {
    .keys = keys,
    .asked = "climate.surface_temperature",
    .alone = "two surface laws: the ground's temperature is measured",
    .own_record = true,
    .takes_snow = takes_snow,
    .outside_degC = uf_surface_as_air,
    .fault = fault,
    .say = say,
};
