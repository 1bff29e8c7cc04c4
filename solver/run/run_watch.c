#include "run_private.h"
#include "solver/base/constants.h"
#include "solver/heat/front.h"
#include "solver/heat/shaft_flow.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Less than this, a day of 0.01 W/m2, is no exchange to measure a balance by: rounding
   would be all of it. */
static const double LEAST_J_M2 = 1000.0;

static const struct uf_heat *heat_of(const struct uf_run *run)
{
    return run->section->heat;
}

static struct uf_heat_now outside_now(const struct uf_run *run)
{
    return uf_season_now(&run->forcing->season, uf_season_day(run->season));
}

/* The inner face of a lid at grade. */
static double lid_degC(const struct uf_run *run, const struct uf_heat_top *lid)
{
    const struct uf_heat_now now = outside_now(run);
    const double inside_degC = uf_season_T_degC(run->season)[lid->cell];
    const double W = uf_heat_top_W(heat_of(run), lid, &now, inside_degC, NULL);
    return inside_degC + W * lid->inner_m2K_W / lid->area_m2;
}

/* Coldest inner wall that water touches. */
double uf_run_wall_degC(const struct uf_run *run)
{
    const struct uf_heat *h = heat_of(run);
    const double *T = uf_season_T_degC(run->season);
    double coldest = NAN;
    for (size_t l = 0; l < h->n_links; l++) {
        if (h->links[l].wetted) {
            const double wall = uf_section_wall_degC(run->section, &h->links[l], T);
            coldest = isnan(coldest) ? wall : fmin(coldest, wall);
        }
    }
    for (size_t t = 0; t < h->n_tops; t++) {
        if (h->tops[t].wetted) {
            coldest = fmin(coldest, lid_degC(run, &h->tops[t]));
        }
    }
    return coldest;
}

static double link_wall(const struct uf_run *run, size_t link)
{
    return link == UF_HEAT_NONE ? (double)NAN
                                : uf_section_wall_degC(run->section, &heat_of(run)->links[link],
                                                       uf_season_T_degC(run->season));
}

double uf_run_crown_degC(const struct uf_run *run)
{
    const struct uf_heat_top *top = &heat_of(run)->tops[0];
    return top->lid ? lid_degC(run, top) : link_wall(run, run->section->crown_link);
}

static void colder(struct uf_extreme *least, double degC, long day)
{
    if (!isnan(degC) && !(degC >= least->degC)) {
        *least = (struct uf_extreme){degC, day};
    }
}

static void watch_points(struct uf_run *run, long day)
{
    const struct uf_case *d = run->design;
    const double *T = uf_season_T_degC(run->season);
    for (size_t i = 0; i < d->n_probes; i++) {
        struct uf_probe_summary *probe = &run->summary.probes[i];
        const double degC =
            uf_section_at_degC(run->section, T, d->probes[i].x_m, d->probes[i].depth_m);
        colder(&probe->least, degC, day);
        probe->days_below_zero += degC < 0.0;
    }
    for (size_t i = 0; i < d->n_pipes; i++) {
        struct uf_probe_summary *pipe = &run->summary.pipes[i];
        const double x_m = d->pipes[i].under_board && uf_case_has_board(d)
                               ? uf_case_half_width_m(d) + 0.5 * d->board.beyond_tank_m
                               : d->grid.width_m;
        const double degC = uf_section_at_degC(run->section, T, x_m,
                                               d->pipes[i].depth_m - 0.5 * d->pipes[i].diameter_m);
        colder(&pipe->least, degC, day);
        pipe->days_below_zero += degC < 0.0;
    }
}

static void watch_tank(struct uf_run *run, long day)
{
    struct uf_summary *s = &run->summary;
    const double *T = uf_season_T_degC(run->season);
    const double outlet_m = uf_case_outlet_m(run->design);
    const double ice = uf_run_ice_share(run);
    colder(&s->water, uf_run_water_degC(run), day);
    colder(&s->wall, uf_run_wall_degC(run), day);
    if (run->section->surface_z_m < outlet_m) {
        colder(&s->outlet, uf_section_water_degC(run->section, T, outlet_m), day);
    }
    colder(&s->crown, uf_run_crown_degC(run), day);
    colder(&s->invert, link_wall(run, run->section->invert_link), day);
    if (!isnan(ice)) {
        s->ice_share = fmax(isnan(s->ice_share) ? 0.0 : s->ice_share, ice);
        s->ice_thickness_m = fmax(isnan(s->ice_thickness_m) ? 0.0 : s->ice_thickness_m,
                                  uf_run_ice_thickness_m(run, ice));
    }
    run->frost_above_now_m = run->section->outline.half_m > 0.0
                                 ? uf_run_line_m(run, 0, 0)
                                 : uf_front_line_m(heat_of(run), uf_season_T_degC(run->season), 0);
    if (run->frost_above_now_m > s->frost_above_m) {
        s->frost_above_m = run->frost_above_now_m;
        s->frost_above_day = day;
    }
    s->frost_reaches_tank = s->frost_reaches_tank || s->crown.degC < 0.0;
}

static void watch_frost(struct uf_run *run, long day)
{
    const struct uf_grid *g = run->section->grid;
    struct uf_summary *s = &run->summary;
    run->frost_now_m = uf_run_line_m(run, g->nx - 1, 0);
    run->thaw_now_m = uf_front_thaw_m(heat_of(run), uf_season_T_degC(run->season), g->nx - 1);
    if (run->frost_now_m > s->frost_undisturbed_m) {
        s->frost_undisturbed_m = run->frost_now_m;
        s->frost_undisturbed_day = day;
        s->thaw_out_day = UF_NO_DAY;
    } else if (run->frost_now_m <= 0.0 && s->frost_undisturbed_m > 0.0 &&
               s->thaw_out_day == UF_NO_DAY) {
        s->thaw_out_day = day;
    }
}

/* Does the domain's side show in what is reported from there? A front passes one column an
   hour before the other, and the smaller the cells the more kelvin that hour is; so what is
   held side by side is the coldest of either, row by row. */
static void watch_side(struct uf_run *run)
{
    const struct uf_grid *g = run->section->grid;
    struct uf_summary *s = &run->summary;
    const double *far = uf_season_T_degC(run->season) + g->nx - 1;
    if (g->nx < 2) {
        return;
    }
    s->side_effect_K = 0.0;
    for (size_t j = 0; j < g->nz; j++) {
        const double *at = far + j * g->nx;
        double *least = run->side_least_degC + 2 * j;
        least[0] = fmin(least[0], at[0]);
        least[1] = fmin(least[1], at[-1]);
        s->side_effect_K = fmax(s->side_effect_K, fabs(least[0] - least[1]));
    }
    for (size_t j = 0; g->ny > 1 && j < g->nz; j++) { /* past the tank's end, on its axis */
        const double *T = uf_season_T_degC(run->season);
        s->side_effect_K = fmax(s->side_effect_K, fabs(T[uf_grid_in(g, 0, j, g->ny - 1)] -
                                                       T[uf_grid_in(g, 0, j, g->ny - 2)]));
    }
    const double next_m = uf_run_line_m(run, g->nx - 2, 0);
    if (run->frost_now_m >= s->frost_undisturbed_m) { /* at the deepest, which is told */
        s->side_effect_m = fabs(run->frost_now_m - next_m);
    }
}

/* Deepest thing that a person asks about: frost, the tank's invert, a probe. */
static double looked_at_m(const struct uf_run *run)
{
    double deepest_m = run->summary.frost_undisturbed_m;
    if (run->section->outline.half_m > 0.0) {
        deepest_m = fmax(deepest_m, run->section->outline.bottom_m);
    }
    for (size_t i = 0; i < run->design->n_probes; i++) {
        deepest_m = fmax(deepest_m, run->design->probes[i].depth_m);
    }
    return deepest_m;
}

/* A wave of period 1 year fades by exp(-z/d), d = sqrt(a year / pi); what reaches the
   bottom is thrown back and fades once more on its way up. */
static void watch_bottom(struct uf_run *run)
{
    const struct uf_grid *g = run->section->grid;
    const size_t lowest = (g->nz - 1) * g->nx;
    const double *T = uf_season_T_degC(run->season) + lowest;
    const struct uf_material *m =
        &heat_of(run)->materials[heat_of(run)->conducts[lowest + g->nx - 1]];
    const double damping_m =
        sqrt(m->k_W_mK[m->n - 1] / m->c_thawed_J_m3K * UF_YEAR_DAY * UF_DAY_S / UF_PI);
    const double way_m = fmax(0.0, g->z_m[g->nz - 1] - looked_at_m(run));
    double swing_K = 0.0;
    for (size_t k = 0; k < 2; k++) {
        const double degC = T[k == 0 ? 0 : g->nx - 1];
        run->bottom_least_degC[k] = fmin(run->bottom_least_degC[k], degC);
        run->bottom_most_degC[k] = fmax(run->bottom_most_degC[k], degC);
        swing_K = fmax(swing_K, run->bottom_most_degC[k] - run->bottom_least_degC[k]);
    }
    run->summary.bottom_effect_K = 0.5 * swing_K * exp(-way_m / damping_m);
}

/* Heat into the ground through the surface of a metre at mid-tank, at this instant. */
static double mid_surface_W(const struct uf_run *run)
{
    const struct uf_heat *h = heat_of(run);
    const struct uf_heat_now now = outside_now(run);
    double sum_W = 0.0;
    for (size_t t = 0; t < h->grid->nx; t++) {
        sum_W += uf_heat_top_W(h, &h->tops[t], &now, uf_season_T_degC(run->season)[h->tops[t].cell],
                               NULL);
    }
    return sum_W / run->section->slices[0].thick_m;
}

/* Plan of the section, and what the groundwater brought and took since the summary began. */
static double plan_m2(const struct uf_heat *heat)
{
    double sum_m2 = 0.0;
    for (size_t t = 0; t < heat->n_tops; t++) {
        sum_m2 += heat->tops[t].area_m2;
    }
    return sum_m2;
}

static void watch_groundwater(struct uf_run *run)
{
    struct uf_summary *s = &run->summary;
    if (run->soak != NULL) {
        const struct uf_soak_water water = uf_soak_water(run->soak);
        const double area_m2 = plan_m2(heat_of(run));
        s->groundwater_in_m = (water.in_m3 - run->water_before.in_m3) / area_m2;
        s->groundwater_out_m = (water.out_m3 - run->water_before.out_m3) / area_m2;
        s->groundwater_heat = fabs(uf_season_changed_J(run->season) - run->changed_before_J) /
                              fmax(run->exchanged_J, LEAST_J_M2 * area_m2);
    }
}

/* Heat through the boundaries in the day just passed. */
static void watch_heat(struct uf_run *run)
{
    const struct uf_heat *h = heat_of(run);
    const struct uf_heat_budget J = uf_season_heat_J(run->season);
    const double *T = uf_season_T_degC(run->season);
    const double surface_J = J.surface_J - run->surface_before_J;
    run->surface_now_W = run->section->grid->ny > 1 ? mid_surface_W(run) : surface_J / UF_DAY_S;
    run->exchanged_J += fabs(surface_J);
    run->surface_before_J = J.surface_J;
    if (run->frost_now_m > 0.0 && h->n_vents + h->n_shafts > 0) {
        run->vent_loss_J -= J.vent_J - run->vent_before_J;
        for (size_t s = 0; s < h->n_shafts; s++) {
            double *const loss_J = h->shafts[s].water ? &run->line_loss_J : &run->vent_loss_J;
            *loss_J += UF_DAY_S * uf_heat_shaft_W(&h->shafts[s], T);
        }
        for (size_t l = 0; l < h->n_links; l++) {
            if (h->links[l].inner_m2K_W > 0.0 || h->links[l].wetted) {
                run->wall_loss_J -= UF_DAY_S * uf_heat_link_W(h, &h->links[l], T);
            }
        }
    }
    run->vent_before_J = J.vent_J;
    const double loss_J =
        fmax(0.0, run->vent_loss_J) + fmax(0.0, run->line_loss_J) + fmax(0.0, run->wall_loss_J);
    run->summary.riser_share =
        h->n_vents > 0 && loss_J > 0.0 ? fmax(0.0, run->vent_loss_J) / loss_J : (double)NAN;
    run->summary.standpipe_share = run->design->n_standpipes > 0 && loss_J > 0.0
                                       ? fmax(0.0, run->line_loss_J) / loss_J
                                       : (double)NAN;
    watch_groundwater(run);
}

double uf_run_watch_balance(const struct uf_run *run)
{
    return run->day == 0 ? 0.0
                         : fabs(uf_season_leak_J(run->season)) /
                               fmax(run->exchanged_J, LEAST_J_M2 * plan_m2(heat_of(run)));
}

/* What the day just passed took to keep the water warm; a day that warms it takes none. */
static void watch_hold(struct uf_run *run, long day)
{
    struct uf_summary *s = &run->summary;
    const double held_J = uf_season_heat_J(run->season).held_J;
    const double day_J = fmax(0.0, held_J - run->held_before_J) / run->section->whole_share;
    run->held_before_J = held_J;
    s->hold_J += day_J;
    if (day_J / UF_DAY_S > s->hold_most_W) {
        s->hold_most_W = day_J / UF_DAY_S;
        s->hold_most_day = day;
    }
}

void uf_run_watch(struct uf_run *run)
{
    const long day = run->forcing->season.start_day < 0.0
                         ? (long)floor(run->forcing->season.start_day) + (long)run->day - 1
                         : (long)run->forcing->season.start_day + (long)run->day - 1;
    watch_frost(run, day);
    watch_side(run);
    watch_bottom(run);
    if (run->section->outline.half_m > 0.0) {
        watch_tank(run, day);
        watch_hold(run, day);
    } else {
        run->frost_above_now_m = run->frost_now_m;
    }
    watch_points(run, day);
    uf_run_standpipes_watch(run, day);
    watch_heat(run);
    run->summary.counters = uf_season_counters(run->season);
}

void uf_run_watch_begin(struct uf_run *run)
{
    const struct uf_case *d = run->design;
    const struct uf_extreme none = {NAN, UF_NO_DAY};
    struct uf_summary *s = &run->summary;
    memset(s, 0, sizeof *s);
    s->frost_undisturbed_day = s->frost_above_day = s->thaw_out_day = UF_NO_DAY;
    s->hold_most_day = UF_NO_DAY;
    s->water = s->outlet = s->wall = s->crown = s->invert = none;
    s->ice_share = s->ice_thickness_m = s->riser_share = s->standpipe_share = NAN;
    s->berggren_m = s->relations_m = s->frost_without_snow_m = NAN;
    s->published_air_Kday = s->published_surface_Kday = s->published_days = NAN;
    s->published_annual_degC = s->published_film_m2K_W = NAN;
    if (run->section->outline.half_m <= 0.0) {
        s->frost_above_m = NAN;
    }
    if (isnan(d->tank.hold_degC)) {
        s->hold_most_W = s->hold_J = NAN;
    }
    s->groundwater_in_m = s->groundwater_out_m = s->groundwater_heat = NAN;
    s->startup_left_K = run->startup.left_K;
    s->n_probes = d->n_probes;
    s->n_pipes = d->n_pipes;
    for (size_t i = 0; i < d->n_probes; i++) {
        (void)snprintf(s->probes[i].name, sizeof s->probes[i].name, "%s", d->probes[i].name);
        s->probes[i].least = none;
        s->probes[i].limit_degC = d->probes[i].least_degC;
    }
    for (size_t i = 0; i < d->n_pipes; i++) {
        (void)snprintf(s->pipes[i].name, sizeof s->pipes[i].name, "%s", d->pipes[i].name);
        s->pipes[i].least = none;
        s->pipes[i].limit_degC = 0.0;
    }
    for (size_t k = 0; k < 2 * run->section->grid->nz; k++) {
        run->side_least_degC[k] = INFINITY;
    }
    for (size_t k = 0; k < 2; k++) {
        run->bottom_least_degC[k] = INFINITY;
        run->bottom_most_degC[k] = -INFINITY;
    }
    if (run->soak != NULL) {
        run->water_before = uf_soak_water(run->soak);
        run->changed_before_J = uf_season_changed_J(run->season);
    }
    const struct uf_heat_budget J = uf_season_heat_J(run->season);
    run->surface_before_J = J.surface_J;
    run->vent_before_J = J.vent_J;
    run->held_before_J = J.held_J;
}
