#include "lanes_private.h"

#include <math.h>

/* The fast integrator's steps, taken with those of other seasons: lanes.h. */

static enum uf_status lanes_create(struct uf_season *season, struct uf_error *err)
{
    season->state = uf_lanes_join(season->options.lanes, season);
    return season->state != NULL ? UF_OK : uf_fail(err, UF_E_MEMORY, "out of memory for a season");
}

static void lanes_free(struct uf_season *season)
{
    uf_lanes_leave(season->state);
    season->state = NULL;
}

static void lanes_restart(struct uf_season *season)
{
    struct uf_lanes_place *place = season->state;
    place->fresh = true;
}

static enum uf_status lanes_advance(struct uf_season *season, double day, struct uf_error *err)
{
    struct uf_lanes_place *place = season->state;
    const double span_day = day - season->day;
    const double pace = season->drive.steps_per_day > 0.0 ? season->drive.steps_per_day
                                                          : season->options.steps_per_day;
    if (uf_season_stops(season)) {
        return uf_fail(err, UF_E_STOPPED, "interrupted");
    }
    place->from_day = season->day;
    place->steps = (size_t)ceil(span_day * pace - 1e-9);
    place->step_day = span_day / (double)place->steps;
    uf_lanes_wait(season->options.lanes, place);
    if (place->no_memory) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a season");
    }
    season->day = day;
    return UF_OK;
}

/* Temperatures come with the state. Every step was held to the range, but for one that could not be
   halved any more; what is no number at all comes out through the boundaries. */
static bool lanes_told(struct uf_season *season)
{
    const struct uf_lanes_place *place = season->state;
    return !place->beyond && isfinite(uf_heat_total_J(&season->heat_J));
}

const struct uf_stepper uf_season_lanes_stepper = {.name = "fast",
                                                   .create = lanes_create,
                                                   .restart = lanes_restart,
                                                   .advance = lanes_advance,
                                                   .free = lanes_free,
                                                   .told = lanes_told};
