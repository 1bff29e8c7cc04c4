#include "lanes_kernel.h"
#include "solver/base/constants.h"
#include "solver/heat/spectrum.h"

#include <math.h>
#include <string.h>

/* Stages from one set of links' conductances to the next. One set a step put the coldest water of
   layers up to 0.014 K off, whole rows joining a pool or not; this one 0.0002 K, for a twentieth of
   the time. */
enum { FRESH_EVERY = 3 };

/* What every lane does in this step: its outside, its factors, its boundary heats. */
struct step {
    struct uf_lanes_now now;
    float c[4][UF_LANES];
    double exact[4][UF_LANES]; /* the same factors */
    struct uf_lanes_flow q0, q, now_J, before_J;
    bool accepted[UF_LANES];
};

/* Sets out on the place's part of a step. */
static void begin_part(struct uf_lanes_place *p, struct step *step)
{
    const double part_day = p->step_day / (double)p->parts;
    const double at_day =
        p->from_day + (double)p->step * p->step_day + ((double)p->part + 0.5) * part_day;
    const struct uf_heat_now now = uf_season_now(&p->season->drive, at_day);
    const double film_W_m2K = now.snow ? (double)INFINITY : now.h_W_m2K;
    if (film_W_m2K > p->fastest_h) {
        p->fastest_1_s = uf_spectrum_fastest_1_s(p->season->heat, film_W_m2K);
        p->thawed_1_s = uf_spectrum_thawed_1_s(p->season->heat, film_W_m2K);
        p->fastest_h = film_W_m2K;
        p->no_memory = p->no_memory || !isfinite(p->fastest_1_s + p->thawed_1_s);
    }
    p->part_s = part_day * UF_DAY_S;
    p->now = now;
    step->now.outside[p->lane] = (float)now.outside_degC;
    step->now.film[p->lane] = isfinite(now.h_W_m2K) ? (float)(1.0 / now.h_W_m2K) : 0.0F;
    step->now.air[p->lane] = (float)now.air_degC;
    step->now.snow[p->lane] = now.snow ? 1.0F : 0.0F;
}

/* As many stages as what is frozen, and may freeze, asks for; of the places that are asked. */
static size_t count_stages(struct uf_lanes_shape *s)
{
    float below[UF_LANES];
    size_t most = 0;
    s->kernel->cold(s, below);
    for (size_t lane = 0; lane < UF_LANES; lane++) {
        struct uf_lanes_place *p = &s->places[lane];
        if (p->asked) {
            const bool thawed =
                !(below[lane] >= 0.0F) && uf_season_drives_thawed(p->season->heat, &p->now);
            p->stages = p->no_memory ? 3
                                     : uf_season_fast_stages(p->part_s, thawed ? p->thawed_1_s
                                                                               : p->fastest_1_s);
            most = p->stages > most ? p->stages : most;
        }
    }
    return most;
}

static void factors(double c[4], const struct uf_lanes_place *p, size_t j)
{
    c[0] = p->asked && j == 0 ? 0.0 : 1.0;
    c[1] = c[3] = 0.0;
    c[2] = p->asked && j == 0 ? 1.0 : 0.0; /* the rate itself */
    if (p->asked && j > 0 && j <= p->stages) {
        uf_season_fast_weights(c, j, p->stages, p->part_s);
    }
}

/* Factors of stage j; a lane that is done, or idle, keeps what it has. */
static void set_factors(const struct uf_lanes_shape *s, struct step *step, size_t j)
{
    double c[4] = {0.0};
    for (size_t lane = 0; lane < UF_LANES; lane++) {
        const struct uf_lanes_place *p = &s->places[lane], *before = lane > 0 ? p - 1 : p;
        const bool same = lane > 0 && p->asked == before->asked && p->stages == before->stages &&
                          p->part_s == before->part_s;
        if (!same) {
            factors(c, p, j);
        }
        for (size_t k = 0; k < 4; k++) {
            step->exact[k][lane] = c[k];
            step->c[k][lane] = j == 2 && k == 1 ? 0.0F : (float)c[k]; /* nothing was before */
        }
    }
}

UF_FAST_CLONES static void begin_arrays(size_t n, const double *restrict H, float *restrict start,
                                        float *restrict now)
{
    for (size_t at = 0; at < n * UF_LANES; at++) {
        start[at] = (float)H[at];
        now[at] = 0.0F;
    }
}

UF_FAST_CLONES static void first_stage(size_t n, const float *restrict factor,
                                       const float *restrict rate0, float *restrict now)
{
    for (size_t at = 0; at < n * UF_LANES; at += UF_LANES) {
        EACH_LANE
        {
            now[at + l] = factor[l] * rate0[at + l];
        }
    }
}

UF_FAST_CLONES static void commit(size_t n, const double *restrict share, const float *restrict now,
                                  double *restrict H)
{
    for (size_t at = 0; at < n * UF_LANES; at += UF_LANES) {
        EACH_LANE
        {
            H[at + l] += share[l] * (double)now[at + l];
        }
    }
}

static void recur(double *now_J, double *before_J, const struct step *step, const double *q,
                  const double *q0)
{
    EACH_LANE
    {
        const double next_J = step->exact[0][l] * now_J[l] + step->exact[1][l] * before_J[l] +
                              step->exact[2][l] * q[l] + step->exact[3][l] * q0[l];
        before_J[l] = now_J[l];
        now_J[l] = next_J;
    }
}

static void recur_all(struct step *step)
{
    recur(step->now_J.surface, step->before_J.surface, step, step->q.surface, step->q0.surface);
    recur(step->now_J.bottom, step->before_J.bottom, step, step->q.bottom, step->q0.bottom);
    recur(step->now_J.vent, step->before_J.vent, step, step->q.vent, step->q0.vent);
}

static void swap(float **a, float **b)
{
    float *const other = *a;
    *a = *b;
    *b = other;
}

/* RKL2 as in season_fast.c, on increments from the step's start. */
static void run_stages(struct uf_lanes_shape *s, struct step *step, size_t most)
{
    set_factors(s, step, 0);
    uf_lanes_stage(s, &step->now, step->c, true, &step->q0);
    swap(&s->turn, &s->rate0);
    uf_lanes_water_join(s);
    set_factors(s, step, 1);
    first_stage(s->n, step->c[2], s->rate0, s->now);
    step->q = step->q0;
    recur_all(step);
    for (size_t j = 2; j <= most; j++) {
        set_factors(s, step, j);
        uf_lanes_stage(s, &step->now, step->c, j % FRESH_EVERY == 0, &step->q);
        uf_lanes_water_average(s, step->c[2]);
        swap(&s->turn, &s->now);
        recur_all(step);
    }
}

enum { BLOCK = 32 };

/* State and temperatures of the places whose last step this was. */
static void store(struct uf_lanes_shape *s)
{
    size_t lanes[UF_LANES], n = 0;
    double *H[UF_LANES], *T[UF_LANES];
    for (size_t lane = 0; lane < UF_LANES; lane++) {
        struct uf_lanes_place *p = &s->places[lane];
        if (p->ended) {
            H[n] = p->season->H_J_m3;
            T[n] = p->season->T_degC;
            lanes[n++] = lane;
            p->ended = false;
        }
    }
    if (n > 0) {
        s->kernel->all_temperatures(s, s->H, s->T);
    }
    for (size_t from = 0; from < s->n; from += BLOCK) { /* a few lines of all lanes at a time */
        const size_t end = from + BLOCK < s->n ? from + BLOCK : s->n;
        for (size_t k = 0; k < n; k++) {
            for (size_t i = from; i < end; i++) {
                H[k][i] = s->H[i * UF_LANES + lanes[k]];
                T[k][i] = (double)s->T[i * UF_LANES + lanes[k]];
            }
        }
    }
}

/* Goes on to the place's next part; one that was not accepted is taken again in halves. */
static void end_part(struct uf_lanes_shape *s, struct uf_lanes_place *p, const struct step *step)
{
    struct uf_season *season = p->season;
    season->counters.rhs += (long)p->stages;
    season->counters.steps++;
    if (!step->accepted[p->lane]) {
        p->parts *= 2;
        p->part *= 2;
        return;
    }
    season->heat_J.surface_J += step->now_J.surface[p->lane];
    season->heat_J.bottom_J += step->now_J.bottom[p->lane];
    season->heat_J.vent_J += step->now_J.vent[p->lane];
    uf_lanes_water_settle(s, p->lane);
    p->part++;
    if (p->part == p->parts) {
        p->part = 0;
        p->parts = 1;
        p->step++;
    }
    if (p->step == p->steps) {
        p->asked = false;
        p->ended = true;
    }
}

void uf_lanes_step(struct uf_lanes_shape *s)
{
    struct step step;
    float out[UF_LANES];
    double share[UF_LANES];
    memset(&step, 0, sizeof step);
    for (size_t lane = 0; lane < UF_LANES; lane++) {
        if (s->places[lane].asked) {
            begin_part(&s->places[lane], &step);
        }
    }
    begin_arrays(s->n, s->H, s->start, s->now);
    run_stages(s, &step, count_stages(s));
    s->kernel->beyond(s, out);
    EACH_LANE
    {
        struct uf_lanes_place *p = &s->places[l];
        const bool beyond = out[l] > 0.0F;
        step.accepted[l] = p->asked && (!beyond || p->parts >> UF_SEASON_HALVINGS > 0);
        p->beyond = p->beyond || (step.accepted[l] && beyond);
        share[l] = step.accepted[l] ? 1.0 : 0.0;
    }
    commit(s->n, share, s->now, s->H);
    for (size_t lane = 0; lane < UF_LANES; lane++) {
        if (s->places[lane].asked) {
            end_part(s, &s->places[lane], &step);
        }
    }
    store(s);
}
