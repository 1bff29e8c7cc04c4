#ifndef UF_COLUMN_H
#define UF_COLUMN_H

#include "solver/design/case.h"
#include "solver/ground/soil.h"

/* What stands above a place in the ground, and what it weighs. From grade down: the
   native layers, below uf_dig.fill_top_m the pit's backfill where there is one, else the native
   layers on; the foam board, where it covers the place, cuts its slot out of either. */

/* The soils of a case with their unit weights. */
struct uf_column_soils {
    struct uf_soil_state layers[UF_MAX_LAYERS];
    size_t n_layers;
    struct uf_soil_state backfill; /* read only where the case has backfill */
};

/* Resolves every layer and the backfill by the soil table. A unit weight that is not
   known stays NAN; it is an error only where the soil is weighed. */
enum uf_status uf_column_soils(struct uf_column_soils *out, const struct uf_case *design,
                               struct uf_error *err);

struct uf_column_segment {
    double top_m, bottom_m;            /* depths; the last bottom is INFINITY */
    double moist_N_m3, saturated_N_m3; /* unit weights; NAN: not known */
    int layer;                         /* index into ground, or UF_COLUMN_BACKFILL */
};
#define UF_COLUMN_BACKFILL (-1)

/* What a weight is the sum of, for a page that prints it: each segment's soil within the span, above and
   below the water table. Shares of one part, soil and reach are one row. */
struct uf_column_share {
    const char *part;
    struct uf_column_segment soil; /* its reach cut to the span */
    double dry_m3, wet_m3;
};
#define UF_COLUMN_SHARES 192
struct uf_column_log {
    const char *part; /* of the shares to come */
    struct uf_column_share shares[UF_COLUMN_SHARES];
    size_t n;
};

struct uf_column {
    struct uf_column_segment segments[2 * UF_MAX_LAYERS + 4];
    size_t n;
    struct uf_column_log *log; /* where its shares are written down; NULL: nowhere */
};

/* Without a log. foam_m: how far the board's foam hangs down from its top at this place, where no soil is:
   0 beside the board, its thickness under the slab, that and the skirt along its edge. */
void uf_column_build(struct uf_column *out, const struct uf_case *design,
                     const struct uf_column_soils *soils, double foam_m);

/* Moist above the water table, saturated below it. Submerged weight takes the unit weight of water
   off what lies below:

       gamma' = gamma_sat - gamma_w

   Water standing above grade adds nothing. */
struct uf_column_weight {
    double total_N, submerged_N;
    double volume_m3, below_m3; /* all of it; the share below the water table */
};

/* From top_m to bottom_m, with the water table at water_m (negative: above grade). */
struct uf_column_span {
    double top_m, bottom_m, water_m;
};

/* Soil volume of a body of any shape between two depths, m3. */
typedef double uf_column_room(const void *body, double top_m, double bottom_m);

/* Weight of the soil that fills room within the span.
   Errors: UF_E_INPUT naming the key to give where a soil's unit weight is not known. */
enum uf_status uf_column_weigh(struct uf_column_weight *out, const struct uf_column *column,
                               const struct uf_column_span *span, uf_column_room *room,
                               const void *body, struct uf_error *err);

/* The same for a vertical prism of area_m2. */
enum uf_status uf_column_prism(struct uf_column_weight *out, const struct uf_column *column,
                               const struct uf_column_span *span, double area_m2,
                               struct uf_error *err);

#endif
