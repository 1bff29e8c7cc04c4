#include "fast.h"
#include "season_private.h"
#include "solver/base/constants.h"
#include "solver/heat/layers.h"
#include "solver/heat/spectrum.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* RKL2: s stages damp everything on an explicit scale up to (s^2 + s - 2)/4 Euler steps. */
struct fast_state {
    struct uf_fast *fast;
    double fastest_1_s, fastest_h; /* the bound and the film it was made for */
    double thawed_1_s;             /* the bound while nothing is frozen */
    bool *joined;                  /* [n_water] rows of water that mix with the next in this step */
    double *block;
    double *start, *rate0, *now, *turn; /* [n] increments from the step's start */
    double *least_H, *most_H;           /* [n] at the ends of the range */
    struct uf_season_range range;       /* that they were made for */
};

static const double STAGES_SPARE =
    1.02; /* the bound is not quite the spectrum's edge under rounding */

static void fast_free(struct uf_season *season)
{
    struct fast_state *f = season->state;
    uf_fast_free(f->fast);
    free(f->least_H);
    free(f->block);
    free(f->joined);
    free(f);
    season->state = NULL;
}

static enum uf_status fast_create(struct uf_season *season, struct uf_error *err)
{
    struct fast_state *f = calloc(1, sizeof *f);
    const size_t n = season->heat->n;
    season->state = f;
    if (f == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a season");
    }
    const size_t line = 64 / sizeof *f->block; /* arrays begin at whole cache lines */
    const size_t wide = (n + line - 1) / line * line;
    f->block = aligned_alloc(64, 4 * wide * sizeof *f->block);
    f->joined = calloc(season->heat->n_water + 1, sizeof *f->joined);
    if (f->block == NULL || f->joined == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a season");
    }
    memset(f->block, 0, 4 * wide * sizeof *f->block);
    double **const arrays[] = {&f->start, &f->rate0, &f->now, &f->turn};
    for (size_t k = 0; k < 4; k++) {
        *arrays[k] = f->block + k * wide;
    }
    f->fastest_h = -1.0;
    f->least_H = calloc(2 * n, sizeof *f->least_H);
    if (f->least_H == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a season");
    }
    f->most_H = f->least_H + n;
    return uf_fast_create(&f->fast, season->heat, err);
}

static void fast_restart(struct uf_season *season)
{
    (void)season;
}

size_t uf_season_fast_stages(double step_s, double fastest_1_s)
{
    const double euler_s = 2.0 / (fastest_1_s * STAGES_SPARE);
    const double s = ceil(0.5 * (sqrt(9.0 + 16.0 * step_s / euler_s) - 1.0));
    const size_t whole = s < 3.0 ? 3 : (size_t)s;
    return whole | 1u; /* odd counts damp better (Meyer et al., section 2.5) */
}

/* b_j of RKL2, see rkl2_step. */
static double weight_b(size_t j)
{
    const double x = (double)j;
    return j < 2 ? 1.0 / 3.0 : (x * x + x - 2.0) / (2.0 * x * (x + 1.0));
}

void uf_season_fast_weights(double c[4], size_t j, size_t s, double step_s)
{
    const double w1 = 4.0 / (double)(s * s + s - 2);
    if (j == 1) {
        c[0] = c[1] = c[3] = 0.0;
        c[2] = weight_b(1) * w1 * step_s;
        return;
    }
    const double x = (double)j;
    c[0] = (2.0 * x - 1.0) / x * weight_b(j) / weight_b(j - 1);
    c[1] = -(x - 1.0) / x * weight_b(j) / weight_b(j - 2);
    c[2] = c[0] * w1 * step_s;
    c[3] = -(1.0 - weight_b(j - 1)) * c[2];
}

/* y += a x: the boundary heat runs through the same recurrence. */
static void add_heat(struct uf_heat_budget *y, double a, const struct uf_heat_budget *x)
{
    y->surface_J += a * x->surface_J;
    y->bottom_J += a * x->bottom_J;
    y->vent_J += a * x->vent_J;
    y->held_J += a * x->held_J;
    y->inflow_J += a * x->inflow_J;
}

/* y += what the flows carry in a time. */
static void add_flow(struct uf_heat_budget *y, double time_s, const struct uf_heat_flow *flow)
{
    y->surface_J += time_s * flow->surface_W;
    y->bottom_J += time_s * flow->bottom_W;
    y->vent_J += time_s * flow->vent_W;
    y->held_J += time_s * flow->held_W;
    y->inflow_J += time_s * flow->inflow_W;
}

/* One step of RKL2 with s stages and length tau under a constant outside, L the right-hand side
   dH/dt. Meyer, Balsara & Aslam 2014, J. Comput. Phys. 257, 594-626, section 2.3:

       Y_0 = H(t)
       Y_1 = Y_0 + b_1 w_1 tau L(Y_0)
       Y_j = mu_j Y_{j-1} + nu_j Y_{j-2} + (1 - mu_j - nu_j) Y_0
             + mu~_j tau L(Y_{j-1}) + gamma~_j tau L(Y_0),   j = 2 .. s
       H(t + tau) = Y_s

       w_1 = 4 / (s^2 + s - 2)
       b_j = (j^2 + j - 2) / (2 j (j + 1)),   b_0 = b_1 = b_2 = 1/3
       mu_j  = (2 j - 1)/j  b_j/b_{j-1},      nu_j     = -(j - 1)/j  b_j/b_{j-2}
       mu~_j = mu_j w_1,                      gamma~_j = -(1 - b_{j-1}) mu~_j

   Coded for the increments Y_j - Y_0, in which the term of Y_0 drops out; the boundary heat starts
   from none and runs through the same recurrence. */
static void rkl2_step(struct uf_season *season, const struct uf_heat_now *now, double step_s,
                      size_t s)
{
    struct fast_state *f = season->state;
    const size_t n = season->heat->n;
    const bool rows = season->heat->n_water > 1;
    double c[4];
    struct uf_heat_flow q0;
    struct uf_heat_flow q;
    struct uf_heat_budget now_J = {0};
    struct uf_heat_budget before_J = {0};
    memcpy(f->start, season->H_J_m3, n * sizeof *f->start);
    uf_fast_rate(f->fast, now, f->start, f->rate0, &q0);
    if (rows) {
        uf_layers_join(season->heat, f->start, f->rate0, f->joined);
    }
    uf_season_fast_weights(c, 1, s, step_s);
    for (size_t i = 0; i < n; i++) {
        f->turn[i] = 0.0;
        f->now[i] = c[2] * f->rate0[i];
    }
    add_flow(&now_J, c[2], &q0);
    for (size_t j = 2; j <= s; j++) {
        uf_season_fast_weights(c, j, s, step_s);
        uf_fast_stage(f->fast, now, c,
                      &(const struct uf_fast_terms){
                          .start = f->start, .now = f->now, .rate0 = f->rate0, .turn = f->turn},
                      &q);
        if (rows) {
            uf_layers_average(season->heat, f->joined, f->turn);
        }
        double *const before = f->now;
        f->now = f->turn;
        f->turn = before;
        struct uf_heat_budget next_J = {0};
        add_heat(&next_J, c[0], &now_J);
        add_heat(&next_J, c[1], &before_J);
        add_flow(&next_J, c[2], &q);
        add_flow(&next_J, c[3], &q0);
        before_J = now_J;
        now_J = next_J;
    }
    for (size_t i = 0; i < n; i++) {
        season->H_J_m3[i] = f->start[i] + f->now[i];
    }
    add_heat(&season->heat_J, 1.0, &now_J);
    season->counters.rhs += (long)s;
    season->counters.steps++;
}

/* The enthalpies between which every node must stay; one without volume may be anywhere. */
static void set_range(struct uf_season *season)
{
    struct fast_state *f = season->state;
    const struct uf_heat *h = season->heat;
    const struct uf_season_range range = uf_season_range_allowed(season, true);
    if (range.least_degC == f->range.least_degC && range.most_degC == f->range.most_degC) {
        return;
    }
    f->range = range;
    for (size_t i = 0; i < h->n; i++) {
        const struct uf_material *m = &h->materials[h->material[i]];
        const bool bound = h->volume_m3[i] > 0.0;
        f->least_H[i] = bound ? uf_material_H_J_m3(m, range.least_degC) : -HUGE_VAL;
        f->most_H[i] = bound ? uf_material_H_J_m3(m, range.most_degC) : HUGE_VAL;
    }
}

/* A sum of comparisons is vectorised. */
static bool in_range(const struct uf_season *season)
{
    const struct fast_state *f = season->state;
    const double *restrict H = season->H_J_m3;
    const double *restrict least = f->least_H;
    const double *restrict most = f->most_H;
    int64_t out = 0;
    for (size_t i = 0; i < season->heat->n; i++) {
        out += H[i] >= least[i] && H[i] <= most[i] ? 0 : 1;
    }
    return out == 0;
}

/* One step from at_day, in halves of halves where it must be. */
static enum uf_status take_step(struct uf_season *season, double at_day, double step_day,
                                struct uf_error *err)
{
    struct fast_state *f = season->state;
    size_t parts = 1;
    for (size_t k = 0; k < parts;) {
        const double part_day = step_day / (double)parts;
        const struct uf_heat_now now =
            uf_season_now(&season->drive, at_day + ((double)k + 0.5) * part_day);
        const double film_W_m2K = now.snow ? (double)INFINITY : now.h_W_m2K;
        const struct uf_heat_budget heat_J = season->heat_J;
        if (film_W_m2K > f->fastest_h) {
            f->fastest_1_s = uf_spectrum_fastest_1_s(season->heat, film_W_m2K);
            f->thawed_1_s = uf_spectrum_thawed_1_s(season->heat, film_W_m2K);
            if (!isfinite(f->fastest_1_s + f->thawed_1_s)) {
                return uf_fail(err, UF_E_MEMORY, "out of memory for a season");
            }
            f->fastest_h = film_W_m2K;
        }
        const double fastest_1_s = uf_season_stays_thawed(season->heat, season->H_J_m3, &now)
                                       ? f->thawed_1_s
                                       : f->fastest_1_s;
        rkl2_step(season, &now, part_day * UF_DAY_S,
                  uf_season_fast_stages(part_day * UF_DAY_S, fastest_1_s));
        if (in_range(season) || parts >> UF_SEASON_HALVINGS > 0) {
            uf_layers_settle(season->heat, season->H_J_m3);
            k++;
        } else {
            memcpy(season->H_J_m3, f->start, season->heat->n * sizeof *f->start);
            season->heat_J = heat_J;
            parts *= 2;
            k *= 2;
        }
    }
    return UF_OK;
}

static enum uf_status fast_advance(struct uf_season *season, double day, struct uf_error *err)
{
    const double span_day = day - season->day;
    const double pace = season->drive.steps_per_day > 0.0 ? season->drive.steps_per_day
                                                          : season->options.steps_per_day;
    const double from_day = season->day;
    const size_t steps = (size_t)ceil(span_day * pace - 1e-9);
    const double step_day = span_day / (double)steps;
    set_range(season);
    for (size_t k = 0; k < steps; k++) {
        if (uf_season_stops(season)) {
            return uf_fail(err, UF_E_STOPPED, "interrupted");
        }
        const enum uf_status status =
            take_step(season, from_day + (double)k * step_day, step_day, err);
        if (status != UF_OK) {
            return status;
        }
    }
    season->day = day;
    return UF_OK;
}

const struct uf_stepper uf_season_fast_stepper = {.name = "fast",
                                                  .create = fast_create,
                                                  .restart = fast_restart,
                                                  .advance = fast_advance,
                                                  .free = fast_free};
