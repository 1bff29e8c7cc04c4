#include "lanes_private.h"
#include "solver/heat/layers.h"

/* Rows of water in lanes: what layers.c does to one state, lane by lane, but for the mean of joined
   rows, which every stage needs. */

#define AT(row) ((s->water + (row)) * UF_LANES + lane)

/* A lane's rows into its season's own array. */
static void take_rows(const struct uf_lanes_shape *s, size_t lane)
{
    double *H = s->places[lane].season->H_J_m3;
    for (size_t r = 0; r < s->n_water; r++) {
        H[s->water + r] = s->H[AT(r)];
    }
}

static void join_lane(struct uf_lanes_shape *s, size_t lane)
{
    const struct uf_season *season = s->places[lane].season;
    take_rows(s, lane);
    for (size_t r = 0; r < s->n_water; r++) {
        s->rate[s->water + r] = (double)s->rate0[AT(r)];
    }
    uf_layers_join(season->heat, season->H_J_m3, s->rate, s->joins);
    for (size_t r = 0; r < s->n_water; r++) {
        s->rate0[AT(r)] = (float)s->rate[s->water + r];
        s->joined[r * UF_LANES + lane] = s->joins[r] ? 1.0F : 0.0F;
        s->pools = s->pools || s->joins[r];
    }
}

void uf_lanes_water_join(struct uf_lanes_shape *s)
{
    s->pools = false;
    if (s->n_water < 2) {
        return;
    }
    for (size_t lane = 0; lane < UF_LANES; lane++) {
        if (s->places[lane].asked) {
            join_lane(s, lane);
        } else {
            for (size_t r = 0; r < s->n_water; r++) {
                s->joined[r * UF_LANES + lane] = 0.0F;
            }
        }
    }
    for (size_t r = 0; r < s->n_water; r++) {
        EACH_LANE
        {
            const size_t at = r * UF_LANES + l;
            s->weight[at] = 1.0F / s->inv[(s->water + r) * UF_LANES + l];
            s->pooled[at] = s->weight[at];
            s->pooled[at] += r > 0 ? s->joined[at - UF_LANES] * s->pooled[at - UF_LANES] : 0.0F;
        }
    }
}

/* Sums down the rows, then the mean back up through each pool. */
UF_FAST_CLONES static void average(size_t n, const float *restrict joined,
                                   const float *restrict weight, const float *restrict pooled,
                                   const float *restrict in_stage, float *restrict sum,
                                   float *restrict x)
{
    for (size_t at = 0; at < n * UF_LANES; at += UF_LANES) {
        EACH_LANE
        {
            sum[at + l] = weight[at + l] * x[at + l];
        }
        if (at > 0) {
            EACH_LANE
            {
                sum[at + l] += joined[at + l - UF_LANES] * (sum + at - UF_LANES)[l];
            }
        }
    }
    float mean[UF_LANES] = {0}, none[UF_LANES] = {0};
    for (size_t at = n * UF_LANES; at > 0;) {
        at -= UF_LANES;
        const float *before = at > 0 ? joined + at - UF_LANES : none;
        EACH_LANE
        {
            const float here = sum[at + l] / pooled[at + l];
            mean[l] = joined[at + l] > 0.0F ? mean[l] : here;
            x[at + l] = in_stage[l] * (joined[at + l] + before[l]) > 0.0F ? mean[l] : x[at + l];
        }
    }
}

void uf_lanes_water_average(struct uf_lanes_shape *s, const float in_stage[UF_LANES])
{
    if (s->pools) {
        average(s->n_water, s->joined, s->weight, s->pooled, in_stage, s->sum,
                s->turn + s->water * UF_LANES);
    }
}

void uf_lanes_water_settle(struct uf_lanes_shape *s, size_t lane)
{
    const struct uf_season *season = s->places[lane].season;
    if (s->n_water < 2) {
        return;
    }
    take_rows(s, lane);
    uf_layers_settle(season->heat, season->H_J_m3);
    for (size_t r = 0; r < s->n_water; r++) {
        s->H[AT(r)] = season->H_J_m3[s->water + r];
    }
}
