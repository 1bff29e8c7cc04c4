#include "site_private.h"
#include "solver/design/tank.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Rules of `drawing`: stations go to the design's risers, routes belong to pipes. */

#define SAME_PLACE_M 0.05

const struct uf_site_route *uf_site_drawing_route(const struct uf_site_drawing *drawing,
                                                  const char *pipe)
{
    for (size_t i = 0; i < drawing->n_routes; i++) {
        if (strcmp(drawing->routes[i].pipe, pipe) == 0) {
            return &drawing->routes[i];
        }
    }
    return NULL;
}

static void blame(struct site_reader *reader, size_t i, const char *key, struct uf_said what,
                  struct uf_said allowed)
{
    char path[60];
    struct uf_message said, right;
    (void)snprintf(path, sizeof path, "drawing.routes[%zu]%s", i, key);
    const struct site_place place = uf_site_nearest_place(reader, path);
    uf_message_set(&said, what);
    uf_message_set(&right, allowed);
    uf_site_blame_parts(reader, &place, &said, &right);
}

static const struct uf_standpipe *standpipe_of(const struct uf_case *design, const char *name)
{
    for (size_t i = 0; i < design->n_standpipes; i++) {
        if (strcmp(design->standpipes[i].name, name) == 0) {
            return &design->standpipes[i];
        }
    }
    return NULL;
}

static bool is_pipe(const struct uf_case *design, const char *name)
{
    size_t i = 0;
    while (i < design->n_pipes && strcmp(design->pipes[i].name, name) != 0) {
        i++;
    }
    return i < design->n_pipes || standpipe_of(design, name) != NULL;
}

/* A standpipe beside the tank stands where the heat run has it. */
static void check_end(struct site_reader *reader, size_t i)
{
    const struct uf_case *design = &reader->site->design;
    const struct uf_site_route *route = &reader->site->drawing.routes[i];
    const struct uf_standpipe *pipe = standpipe_of(design, route->pipe);
    const size_t last = route->n_along - 1;
    const bool beside =
        route->along_m[last] >= 0.0 && route->along_m[last] <= uf_tank_plan_length_m(&design->tank);
    if (pipe != NULL && beside && isfinite(pipe->from_axis_m) &&
        fabs(fabs(route->across_m[last]) - pipe->from_axis_m) > SAME_PLACE_M) {
        blame(reader, i, ".across",
              UF_SAID("its end lies {} off the tank's axis, standpipes has it at {}",
                      UF_OF(LENGTH, fabs(route->across_m[last])), UF_OF(LENGTH, pipe->from_axis_m)),
              UF_PLAIN("the same place in both: standpipes[].from_axis is what the run takes"));
    }
}

void uf_site_drawing_rules(struct site_reader *reader)
{
    const struct uf_site_drawing *drawing = &reader->site->drawing;
    struct uf_case *design = &reader->site->design;
    for (size_t i = 0; i < drawing->n_risers && i < design->tank.n_risers; i++) {
        design->tank.risers[i].station_m = drawing->riser_m[i];
    }
    for (size_t i = 0; i < drawing->n_routes; i++) {
        const struct uf_site_route *route = &drawing->routes[i];
        if (!is_pipe(design, route->pipe)) {
            blame(reader, i, ".pipe", UF_PLAIN("no pipe has this name"),
                  UF_PLAIN("the name of a row of pipes or standpipes"));
        } else if (uf_site_drawing_route(drawing, route->pipe) != route) {
            blame(reader, i, ".pipe", UF_PLAIN("the pipe has a route already"),
                  UF_PLAIN("one route a pipe"));
        } else if (route->n_along > 0 &&
                   route->n_across > 0 && /* else one is missing, said already */
                   (route->n_along != route->n_across || route->n_along < 2)) {
            blame(reader, i, "",
                  UF_SAID("{} places along and {} across", UF_COUNT(route->n_along),
                          UF_COUNT(route->n_across)),
                  UF_PLAIN("as many of both, two at least: where it leaves the tank, its bends, "
                           "its end"));
        } else if (route->n_along > 1) {
            check_end(reader, i);
        }
    }
}
