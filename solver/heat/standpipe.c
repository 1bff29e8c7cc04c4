#include "standpipe.h"

#include "layers.h"
#include "solver/base/constants.h"

#include <math.h>
#include <string.h>

static const double ROW_M = 0.1;
/* Heat capacity of a pipe's wall, as of a tank's: section_private.h. A wall that is not given holds
   no heat. */
static const double WALL_J_M3K = 2.0e6;
/* Between air and a surface in the dry part: ISO 6946 inner surface, horizontal heat flow; over the
   cap its outer one. */
static const double FILM_M2K_W = 0.13, OUTER_FILM_M2K_W = 0.04;
/* Passes in which rows settle whether they are water, freezing or ice. */
static const int PASSES = 24;

enum phase { WATER, FREEZING, ICE };

/* What a step works on. */
struct work {
    enum phase phase[UF_STANDPIPE_ROWS];
    double axial_W_K[UF_STANDPIPE_ROWS + 1]; /* above row i; [n]: to the base */
    double side_W_K[UF_STANDPIPE_ROWS], ground_degC[UF_STANDPIPE_ROWS];
    double above_degC;
};

static double latent_J(const struct uf_standpipe_water *p)
{
    return UF_WATER_LATENT_J_M3 * p->bore_m2 * p->row_m;
}

static double capacity_J_K(const struct uf_standpipe_water *p, enum phase phase)
{
    const double content = phase == ICE ? UF_ICE_CAPACITY_J_M3K : UF_WATER_CAPACITY_J_M3K;
    return p->row_m * (p->bore_m2 * content + p->wall_m2 * WALL_J_M3K);
}

/* Phase, temperature and ice of a row from its heat. */
static enum phase settle(struct uf_standpipe_water *p, size_t i)
{
    const double E = p->E_J[i], L = latent_J(p);
    const enum phase phase = E >= 0.0 ? WATER : E > -L ? FREEZING : ICE;
    p->ice[i] = phase == WATER ? 0.0 : phase == ICE ? 1.0 : -E / L;
    p->T_degC[i] = phase == FREEZING ? 0.0
                   : phase == WATER  ? E / capacity_J_K(p, WATER)
                                     : (E + L) / capacity_J_K(p, ICE);
    return phase;
}

static double depth_m(const struct uf_standpipe_water *p, size_t i)
{
    return p->top_m + ((double)i + 0.5) * p->row_m;
}

/* From the water's surface through the mixed air above it: to what mean temperature, by what
   conductance. */
static double above_W_K(const struct uf_standpipe_water *p, const struct uf_standpipe_ground *g,
                        double *degC)
{
    struct uf_shaft_side dry = p->side;
    dry.film_m2K_W = FILM_M2K_W;
    double sum_W_K = p->bore_m2 / (FILM_M2K_W + p->cap_m2K_W + OUTER_FILM_M2K_W);
    double sum_W = sum_W_K * g->outside_degC;
    const int rows = (int)ceil(p->top_m / ROW_M);
    for (int k = 0; k < rows; k++) {
        const double high_m = p->top_m / rows, z_m = (k + 0.5) * high_m;
        const double W_K = high_m / uf_shaft_mK_W(&dry, z_m, g->W_mK(g->who, z_m));
        sum_W_K += W_K;
        sum_W += W_K * g->degC(g->who, z_m);
    }
    *degC = sum_W / sum_W_K;
    return 1.0 / (1.0 / sum_W_K + FILM_M2K_W / p->bore_m2);
}

static double along_W_K(const struct uf_standpipe_water *p, double ice)
{
    const double k =
        UF_WATER_CONDUCTIVITY_W_MK + ice * (UF_ICE_CONDUCTIVITY_W_MK - UF_WATER_CONDUCTIVITY_W_MK);
    return (k * p->bore_m2 + p->side.shell.wall_W_mK * p->wall_m2) / p->row_m;
}

static void prepare(struct work *w, const struct uf_standpipe_water *p,
                    const struct uf_standpipe_ground *g)
{
    for (size_t i = 0; i < p->n; i++) {
        const double left = fmax(1e-6, 1.0 - p->ice[i]); /* of the bore */
        const double ring_mK_W =
            p->ice[i] < 1.0 ? -0.5 * log(left) / (2.0 * UF_PI * UF_ICE_CONDUCTIVITY_W_MK) : 0.0;
        w->phase[i] = p->E_J[i] >= 0.0 ? WATER : p->ice[i] < 1.0 ? FREEZING : ICE;
        w->ground_degC[i] = g->degC(g->who, depth_m(p, i));
        w->side_W_K[i] = p->row_m / (p->R_mK_W[i] + ring_mK_W);
        w->axial_W_K[i] = i > 0 ? along_W_K(p, 0.5 * (p->ice[i] + p->ice[i - 1])) : 0.0;
    }
    w->axial_W_K[0] = above_W_K(p, g, &w->above_degC);
    w->axial_W_K[p->n] = isnan(p->base_degC) ? 0.0 : 2.0 * along_W_K(p, p->ice[p->n - 1]);
}

/* Backward Euler with each row's phase as supposed: T by elimination (Thomas). */
static void solve(double *T, const struct work *w, const struct uf_standpipe_water *p,
                  double step_s)
{
    double up[UF_STANDPIPE_ROWS], right[UF_STANDPIPE_ROWS];
    for (size_t i = 0; i < p->n; i++) {
        const bool last = i + 1 == p->n;
        double diagonal = 1.0, below = 0.0, above = 0.0, b = 0.0;
        if (w->phase[i] != FREEZING) {
            const double base = last && w->axial_W_K[p->n] > 0.0 ? p->base_degC : 0.0;
            above = i > 0 ? step_s * w->axial_W_K[i] : 0.0;
            below = last ? 0.0 : step_s * w->axial_W_K[i + 1];
            diagonal = capacity_J_K(p, w->phase[i]) +
                       step_s * (w->axial_W_K[i] + w->axial_W_K[i + 1] + w->side_W_K[i]);
            b = p->E_J[i] + (w->phase[i] == ICE ? latent_J(p) : 0.0) +
                step_s * (w->side_W_K[i] * w->ground_degC[i] +
                          (i == 0 ? w->axial_W_K[0] * w->above_degC : 0.0) +
                          (last ? w->axial_W_K[p->n] * base : 0.0));
        }
        const double pivot = diagonal - (i > 0 ? above * up[i - 1] : 0.0);
        up[i] = below / pivot;
        right[i] = (b + (i > 0 ? above * right[i - 1] : 0.0)) / pivot;
    }
    for (size_t i = p->n; i-- > 0;) {
        T[i] = right[i] + (i + 1 < p->n ? up[i] * T[i + 1] : 0.0);
    }
}

/* Heat into a row, W. */
static double into_W(const struct work *w, const struct uf_standpipe_water *p, const double *T,
                     size_t i)
{
    const double above = i > 0 ? T[i - 1] : w->above_degC;
    const bool last = i + 1 == p->n;
    const double below = !last ? T[i + 1] : w->axial_W_K[p->n] > 0.0 ? p->base_degC : T[i];
    return w->axial_W_K[i] * (above - T[i]) + w->axial_W_K[i + 1] * (below - T[i]) +
           w->side_W_K[i] * (w->ground_degC[i] - T[i]);
}

/* What each row comes to, by its own heat; true: every one as it was supposed. */
static bool agree(struct work *w, const struct uf_standpipe_water *p, const double *T,
                  double step_s)
{
    bool same = true;
    for (size_t i = 0; i < p->n; i++) {
        const double E = p->E_J[i] + step_s * into_W(w, p, T, i);
        const enum phase found = E >= 0.0 ? WATER : E > -latent_J(p) ? FREEZING : ICE;
        if (found != w->phase[i]) {
            /* one phase at a time: through freezing */
            w->phase[i] = w->phase[i] == FREEZING ? found : FREEZING;
            same = false;
        }
    }
    return same;
}

/* Rows of water that are heavier than the one below mix with it. */
static void turn_over(struct uf_standpipe_water *p)
{
    for (size_t i = 1; i < p->n; i++) {
        size_t first = i;
        double sum_J = p->E_J[i];
        while (first > 0 && p->E_J[first - 1] > 0.0 && sum_J > 0.0 &&
               uf_layers_density_kg_m3(p->T_degC[first - 1]) >
                   uf_layers_density_kg_m3(p->T_degC[i]) + 1e-9) {
            first--;
            sum_J += p->E_J[first];
            for (size_t k = first; k <= i; k++) {
                p->E_J[k] = sum_J / (double)(i - first + 1);
                (void)settle(p, k);
            }
        }
    }
}

void uf_standpipe_begin(struct uf_standpipe_water *p, const struct uf_shaft_side *side,
                        double surface_m, const struct uf_standpipe_ground *g)
{
    const double wet_m = side->buried_m - fmax(0.0, surface_m);
    memset(p, 0, sizeof *p);
    p->side = *side;
    p->base_degC = NAN;
    if (!(wet_m > 0.0)) {
        return;
    }
    p->n = (size_t)fmin(UF_STANDPIPE_ROWS, ceil(wet_m / ROW_M));
    p->top_m = fmax(0.0, surface_m);
    p->row_m = wet_m / (double)p->n;
    p->inner_m = uf_shaft_inner_m(side->diameter_m, &side->shell);
    p->bore_m2 = UF_PI * p->inner_m * p->inner_m;
    p->wall_m2 = 0.25 * UF_PI * side->diameter_m * side->diameter_m - p->bore_m2;
    for (size_t i = 0; i < p->n; i++) {
        const double T = g->degC(g->who, depth_m(p, i));
        p->R_mK_W[i] = uf_shaft_mK_W(side, depth_m(p, i), g->W_mK(g->who, depth_m(p, i)));
        p->E_J[i] = T >= 0.0 ? T * capacity_J_K(p, WATER) : T * capacity_J_K(p, ICE) - latent_J(p);
        (void)settle(p, i);
    }
}

void uf_standpipe_step(struct uf_standpipe_water *p, const struct uf_standpipe_ground *g,
                       double step_s)
{
    struct work w;
    double T[UF_STANDPIPE_ROWS] = {0.0};
    if (p->n == 0) {
        return;
    }
    prepare(&w, p, g);
    for (int pass = 0; pass < PASSES; pass++) {
        solve(T, &w, p, step_s);
        if (agree(&w, p, T, step_s)) {
            break;
        }
    }
    for (size_t i = 0; i < p->n; i++) {
        p->E_J[i] += step_s * into_W(&w, p, T, i);
    }
    for (size_t i = 0; i < p->n; i++) {
        (void)settle(p, i);
    }
    turn_over(p);
}

double uf_standpipe_coldest_degC(const struct uf_standpipe_water *p)
{
    double least = NAN;
    for (size_t i = 0; i < p->n; i++) {
        least = fmin(least, p->T_degC[i]);
    }
    return least;
}

double uf_standpipe_most_ice(const struct uf_standpipe_water *p)
{
    double most = 0.0;
    for (size_t i = 0; i < p->n; i++) {
        most = fmax(most, p->ice[i]);
    }
    return most;
}
