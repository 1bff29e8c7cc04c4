#ifndef UF_LANES_PRIVATE_H
#define UF_LANES_PRIVATE_H

#include "fast_private.h"
#include "lanes.h"
#include "season_private.h"

/* Arrays are [item][UF_LANES]: one item of all lanes is one vector. An inner loop over the lanes is
   what the compiler makes vectors of. */
#define UF_LANES_INLINE static inline __attribute__((always_inline))
#define EACH_LANE       for (size_t l = 0; l < UF_LANES; l++)

/* Arrays of all lanes begin at whole cache lines. */
#define UF_LANES_LINE _Alignas(64)

/* A substance in every lane: the same number of its network, other constants. Tables are small, so that
   they stay in the nearest caches: [UF_LANES][bins + 2], U and T against enthalpy at even steps, U
   against temperature at steps that grow with the distance from where freezing begins, sixteen to a
   doubling of least_K + T1 - T: the first bits of that number, but for the last UF_LANES_T_SHIFT, are the
   bin, less first_bin. */
#define UF_LANES_H_BINS  256
#define UF_LANES_T_BINS  238
#define UF_LANES_T_SHIFT 19
struct uf_lanes_kind {
    UF_LANES_LINE float H0[UF_LANES];
    float T0[UF_LANES], T1[UF_LANES], s[UF_LANES];
    float inv_cu[UF_LANES], inv_cf[UF_LANES], ku[UF_LANES], kf[UF_LANES], dk[UF_LANES];
    float thawed[UF_LANES]; /* dU/dH where thawed */
    float U0[UF_LANES], H_bins[UF_LANES];
    float T_from[UF_LANES], least_K[UF_LANES], most_K[UF_LANES]; /* least_K + T1; range */
    int32_t first_bin[UF_LANES];
    float least_H[UF_LANES], most_H[UF_LANES]; /* at the ends of the range that drives a lane */
    float warm_H[UF_LANES];                    /* nothing freezes in a step from above it */
    bool simple;
    float *U_H, *T_H, *U_T; /* not simple */
};

/* Cells of one row and one substance; nodes of one substance whose temperature is asked for. */
struct uf_lanes_stretch {
    size_t from, count, kind;
};

struct uf_lanes_link {
    uint32_t a, b;
    uint16_t kind_a, kind_b;
    bool way_a, way_b; /* has a length of it */
};
struct uf_lanes_link_numbers {
    UF_LANES_LINE float area[UF_LANES], fixed[UF_LANES], l1[UF_LANES], l2[UF_LANES];
    float thawed_degC[UF_LANES], thawed_W_K[UF_LANES]; /* both ends at or above: so much */
};

struct uf_lanes_top {
    uint32_t cell;
    uint16_t kind;
};
struct uf_lanes_top_numbers {
    UF_LANES_LINE float area[UF_LANES], half[UF_LANES];
};

/* A way through a riser's side, out alone: heat.h. */
struct uf_lanes_shaft {
    uint32_t node, cell;
};

/* The outside of a step. */
struct uf_lanes_now {
    float outside[UF_LANES], film[UF_LANES], air[UF_LANES],
        snow[UF_LANES]; /* film 1/h, snow 0, 1 */
};

/* Flows through the boundaries, or heats. */
struct uf_lanes_flow {
    double surface[UF_LANES], bottom[UF_LANES], vent[UF_LANES];
};

/* A season's place in a shape. */
struct uf_lanes_place {
    struct uf_lanes_shape *shape;
    struct uf_season *season; /* NULL: free */
    size_t lane;
    bool fresh, no_memory; /* its state was set from outside; nothing can be run any more */
    bool ended, beyond;    /* what was asked is done in this step; a step since went out of range */
    double fastest_1_s, fastest_h,
        thawed_1_s; /* the bound, its film, the bound while nothing is frozen */
    struct uf_season_range range;
    struct uf_heat_now now; /* of the part in hand */
    /* what is asked of it: steps from a day; the one in hand is cut into parts */
    bool asked;
    double from_day, step_day;
    size_t steps, step, parts, part, stages;
    double part_s;
};

/* Rows of U that are kept: the one in hand, its neighbours, and a power of two. */
#define UF_LANES_U_ROWS 4

/* Networks of one shape. */
struct uf_lanes_kernel; /* lanes_kernel.h: the loops of a stage */
struct uf_lanes_shape {
    struct uf_lanes_shape *next;
    const struct uf_lanes_kernel *kernel;
    struct uf_lanes_place places[UF_LANES];
    size_t n_places; /* in use */
    /* the shape */
    size_t nx, nz, n_cells, n, n_links, n_tops, n_vents, n_shafts, n_kinds, water, n_water;
    uint16_t *material, *conducts; /* [n], [n_cells] */
    bool *used;                    /* [n] has volume */
    struct uf_lanes_stretch *stretches;
    size_t *first_stretch; /* [nz + 1] of a row */
    uint32_t *asked;       /* nodes, substance by substance */
    struct uf_lanes_stretch *asks;
    size_t n_asked, n_asks;
    struct uf_lanes_link *links;
    struct uf_lanes_top *tops;
    size_t vent_nodes[UF_MAX_RISERS];
    struct uf_lanes_shaft *shafts;
    /* the lanes */
    struct uf_lanes_kind *kinds;
    struct uf_lanes_link_numbers *link_numbers;
    struct uf_lanes_top_numbers *top_numbers;
    float *block;
    float *gx, *gz, *inv, *start, *now, *turn, *rate0, *U, *T, *G; /* G [n_links] W/K */
    float *bottom;                                                 /* [nx] W */
    float *even_gx, *even_gz, *even_inv;                           /* of all lanes, where even */
    bool even;
    uint32_t *others; /* [n_others] nodes of no stretch */
    size_t n_others;
    float (*vent_W_K)[UF_LANES], (*shaft_W_K)[UF_LANES];
    double bottom_W[UF_LANES];
    double *H; /* [n][UF_LANES] */
    /* [n_water][UF_LANES] 1: the row mixes with the next; volume, that of the pool down to it, work */
    float *joined, *weight, *pooled, *sum;
    double *rate; /* [n] work space */
    bool *joins;  /* [n_water] work space */
    bool pools;   /* some are joined */
};

/* lanes_shape.c: of a network, without lanes; NULL: no memory. Is another network of that shape? */
struct uf_lanes_shape *uf_lanes_shape_create(const struct uf_heat *heat);
void uf_lanes_shape_free(struct uf_lanes_shape *shape); /* NULL is fine */
bool uf_lanes_shape_fits(const struct uf_lanes_shape *shape, const struct uf_heat *heat);

/* lanes_load.c: a network's numbers into a lane, or harmless ones. */
void uf_lanes_load(struct uf_lanes_shape *shape, size_t lane, const struct uf_heat *heat);
bool uf_lanes_load_room(struct uf_lanes_kind *kind); /* for its tables; false: no memory */
void uf_lanes_clear(struct uf_lanes_shape *shape, size_t lane);

/* lanes_stage.c: the right-hand side at start + now, by stages:
     turn = c[0] now + c[1] turn + c[2] dH/dt + c[3] rate0
   fresh: conductances of the links anew, as the temperatures are; else those of the last stage that
   was: what freezes on a link's way does so little by little. */
void uf_lanes_stage(struct uf_lanes_shape *shape, const struct uf_lanes_now *outside,
                    float c[4][UF_LANES], bool fresh, struct uf_lanes_flow *flow);

/* lanes_water.c: rows of water that mix in this step, from the state and rate0, which they change;
   their mean into turn, of lanes that are in_stage (more than 0): a mean of equal numbers rounds, and
   a lane that is done would hang on how many stages the others take; the rows of a lane turned over after a step. */
void uf_lanes_water_join(struct uf_lanes_shape *shape);
void uf_lanes_water_average(struct uf_lanes_shape *shape, const float in_stage[UF_LANES]);
void uf_lanes_water_settle(struct uf_lanes_shape *shape, size_t lane);

/* lanes_step.c: one step, or part of one, of every place that is asked. */
void uf_lanes_step(struct uf_lanes_shape *shape);

/* lanes.c: a place for a season of the run in hand, NULL: no memory; and until what is asked of it
   is done. */
struct uf_lanes_place *uf_lanes_join(struct uf_lanes *lanes, struct uf_season *season);
void uf_lanes_leave(struct uf_lanes_place *place);
void uf_lanes_wait(struct uf_lanes *lanes, struct uf_lanes_place *place);

#endif
