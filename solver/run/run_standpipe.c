#include "run_private.h"
#include "solver/base/constants.h"
#include "solver/heat/standpipe.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Standpipes beside a run: the ground's temperatures are the section's at their distance from the
   tank's axis, day by day. What they take from the tank's water stands in the section's own network
   (section_standpipe.c); here the lower end lets no heat through, the safe side for the pipe. */

static const double STEP_S = 21600.0;
/* Sleeves that are tried beside the pipe as it is, foam of the sleeve's own conductivity: thickness,
   and length over the depth of the pipe's lower end. */
static const double THICK_M[] = {0.025, 0.05, 0.1, 0.15, 0.2};
static const double LONG[] = {0.5, 0.75, 1.0};
enum { THICK = sizeof THICK_M / sizeof THICK_M[0], LONGS = sizeof LONG / sizeof LONG[0] };
enum { TRIALS = THICK * LONGS, POINTS = 64 };

/* Ground beside a pipe at POINTS depths from grade to its lower end. */
struct ground {
    double step_m, degC[POINTS], W_mK[POINTS];
};

struct pipe {
    struct ground ground;
    struct uf_standpipe_water own, trials[TRIALS];
    bool failed[TRIALS]; /* had more ice than asked for */
};

struct uf_run_standpipes {
    struct pipe pipes[UF_MAX_STANDPIPES];
};

static double at(const double *values, double step_m, double depth_m)
{
    const double place = fmin(fmax(0.0, depth_m / step_m), POINTS - 1.0);
    const size_t i = place < POINTS - 1.0 ? (size_t)place : POINTS - 2;
    return values[i] + (place - (double)i) * (values[i + 1] - values[i]);
}

static double ground_degC(const void *who, double depth_m)
{
    const struct ground *g = who;
    return at(g->degC, g->step_m, depth_m);
}

static double ground_W_mK(const void *who, double depth_m)
{
    const struct ground *g = who;
    return at(g->W_mK, g->step_m, depth_m);
}

static double from_axis_m(const struct uf_run *run, size_t i)
{
    const double x_m = run->design->standpipes[i].from_axis_m;
    const struct uf_grid *g = run->section->grid;
    return isnan(x_m) ? g->x_m[g->nx - 1] : fmin(x_m, g->x_m[g->nx - 1]);
}

/* Index of the cell of a sorted axis that holds a coordinate. */
static size_t cell_at(const double *edge_m, size_t n, double at_m)
{
    size_t k = 0;
    while (k + 1 < n && edge_m[k + 1] < at_m) {
        k++;
    }
    return k;
}

static void read_ground(struct ground *g, const struct uf_run *run, size_t i)
{
    const double *T = uf_season_T_degC(run->season);
    for (int k = 0; k < POINTS; k++) {
        g->degC[k] = uf_section_at_degC(run->section, T, from_axis_m(run, i), k * g->step_m);
    }
}

static void find_ground(struct ground *g, const struct uf_run *run, size_t i)
{
    const struct uf_heat *h = run->section->heat;
    const struct uf_grid *grid = run->section->grid;
    const size_t column = cell_at(grid->x_edge_m, grid->nx, from_axis_m(run, i));
    g->step_m = run->design->standpipes[i].bottom_m / (POINTS - 1.0);
    for (int k = 0; k < POINTS; k++) {
        const size_t row = cell_at(grid->z_edge_m, grid->nz, k * g->step_m);
        g->W_mK[k] = h->materials[h->conducts[uf_grid_at(grid, column, row)]].k_W_mK[0];
    }
    read_ground(g, run, i);
}

static struct uf_standpipe_ground seen(const struct uf_run *run, const struct ground *g)
{
    const struct uf_heat_now now = uf_season_now(&run->forcing->season, uf_season_day(run->season));
    return (struct uf_standpipe_ground){ground_degC, ground_W_mK, g, now.air_degC};
}

static void begin_pipe(struct uf_run *run, size_t i)
{
    const struct uf_standpipe *asked = &run->design->standpipes[i];
    struct pipe *p = &run->standpipes->pipes[i];
    struct uf_standpipe_summary *s = &run->summary.standpipes[i];
    struct uf_shaft_side side = {
        .diameter_m = asked->diameter_m, .shell = asked->shell, .buried_m = asked->bottom_m};
    const double level_m = fmax(run->section->surface_z_m, run->section->slices[0].inside.top_m);
    find_ground(&p->ground, run, i);
    const struct uf_standpipe_ground ground = seen(run, &p->ground);
    uf_standpipe_begin(&p->own, &side, level_m, &ground);
    p->own.cap_m2K_W = asked->cap_m2K_W;
    for (int t = 0; t < TRIALS; t++) {
        side.shell.sleeve_m = THICK_M[t / LONGS];
        side.shell.sleeve_length_m = LONG[t % LONGS] * asked->bottom_m;
        uf_standpipe_begin(&p->trials[t], &side, level_m, &ground);
        p->trials[t].cap_m2K_W = asked->cap_m2K_W;
        p->failed[t] = false;
    }
    *s = (struct uf_standpipe_summary){.least = {NAN, UF_NO_DAY},
                                       .ice_share = p->own.n > 0 ? 0.0 : (double)NAN,
                                       .sleeve_m = NAN,
                                       .sleeve_length_m = NAN};
    (void)snprintf(s->name, sizeof s->name, "%s", asked->name);
}

enum uf_status uf_run_standpipes_begin(struct uf_run *run, struct uf_error *err)
{
    const bool wet = run->section->outline.half_m > 0.0 && !isnan(run->section->surface_z_m);
    run->summary.n_standpipes = wet ? run->design->n_standpipes : 0;
    if (run->summary.n_standpipes > 0 && run->standpipes == NULL) {
        run->standpipes = calloc(1, sizeof *run->standpipes);
        if (run->standpipes == NULL) {
            return uf_fail(err, UF_E_MEMORY, "out of memory for standpipes");
        }
    }
    for (size_t i = 0; i < run->summary.n_standpipes; i++) {
        begin_pipe(run, i);
    }
    return UF_OK;
}

static void advance(struct uf_standpipe_water *water, const struct uf_standpipe_ground *ground)
{
    for (double at_s = 0.0; at_s < UF_DAY_S - 1.0; at_s += STEP_S) {
        uf_standpipe_step(water, ground, STEP_S);
    }
}

/* The thinnest sleeve, then the shortest, that holds the limit; none where the pipe as it is does. */
static void choose_sleeve(struct uf_standpipe_summary *s, const struct pipe *p, double most_ice)
{
    s->sleeve_m = s->ice_share > most_ice ? (double)NAN : 0.0;
    s->sleeve_length_m = s->sleeve_m;
    for (int t = 0; t < TRIALS && isnan(s->sleeve_m); t++) {
        if (!p->failed[t]) {
            s->sleeve_m = THICK_M[t / LONGS];
            s->sleeve_length_m = p->trials[t].side.shell.sleeve_length_m;
        }
    }
}

static void watch_pipe(struct uf_run *run, size_t i, long day)
{
    struct pipe *p = &run->standpipes->pipes[i];
    struct uf_standpipe_summary *s = &run->summary.standpipes[i];
    const double most_ice = uf_case_pipe_ice_asked(run->design);
    if (p->own.n == 0) {
        return;
    }
    read_ground(&p->ground, run, i);
    const struct uf_standpipe_ground ground = seen(run, &p->ground);
    advance(&p->own, &ground);
    for (int t = 0; t < TRIALS; t++) {
        if (!p->failed[t]) {
            advance(&p->trials[t], &ground);
            p->failed[t] = uf_standpipe_most_ice(&p->trials[t]) > most_ice;
        }
    }
    const double degC = uf_standpipe_coldest_degC(&p->own);
    const double ice = uf_standpipe_most_ice(&p->own);
    if (!(degC >= s->least.degC)) {
        s->least = (struct uf_extreme){degC, day};
    }
    s->ice_share = fmax(s->ice_share, ice);
    s->shut_days += ice >= 1.0;
    choose_sleeve(s, p, most_ice);
}

void uf_run_standpipes_watch(struct uf_run *run, long day)
{
    for (size_t i = 0; i < run->summary.n_standpipes; i++) {
        watch_pipe(run, i, day);
    }
}
