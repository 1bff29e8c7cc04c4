#include "exact.h"
#include "solver/base/constants.h"

#include <math.h>

double uf_exact_cylinder_shape(double depth_m, double radius_m)
{
    return 2.0 * UF_PI / acosh(depth_m / radius_m);
}

double uf_exact_cylinder_W_m(const struct uf_exact_cylinder *pipe)
{
    return pipe->k_W_mK * uf_exact_cylinder_shape(pipe->depth_m, pipe->radius_m) *
           (pipe->wall_degC - pipe->surface_degC);
}

static double focus_m(double depth_m, double radius_m)
{
    return sqrt(depth_m * depth_m - radius_m * radius_m);
}

double uf_exact_cylinder_degC(const struct uf_exact_cylinder *pipe, double x_m, double y_m)
{
    const double a = focus_m(pipe->depth_m, pipe->radius_m);
    const double above = x_m * x_m + (y_m + a) * (y_m + a);
    const double below = x_m * x_m + (y_m - a) * (y_m - a);
    return pipe->surface_degC +
           uf_exact_cylinder_W_m(pipe) / (4.0 * UF_PI * pipe->k_W_mK) * log(above / below);
}

double uf_exact_cylinder_W_m2(const struct uf_exact_cylinder *pipe, double x_m)
{
    const double a = focus_m(pipe->depth_m, pipe->radius_m);
    return uf_exact_cylinder_W_m(pipe) * a / (UF_PI * (x_m * x_m + a * a));
}

const struct uf_exact_pipe uf_exact_pipes[] = {
    {"P1 ring", 1.5, 2.0, 0.5, 0.55, 0.03, NAN, 5.0, -5.0},
    {"P2 ring", 1.5, 1.0, 0.9, 0.95, 0.03, NAN, 5.0, -5.0},
    {"P3 film", 1.5, 2.0, NAN, 0.5, NAN, 10.0, 5.0, -5.0},
    {"P4 film", 2.0, 0.6, NAN, 0.5, NAN, 5.0, 5.0, -5.0},
    {"P5 ring and film", 1.2, 1.5, 0.3, 0.4, 0.035, 8.0, 5.0, -5.0},
    {"P6 shallow ring", 2.0, 1.05, 0.9, 1.0, 0.03, NAN, 5.0, -5.0},
    {.name = NULL},
};

#define ORDERS 80

/* Resistance between fluid and the pipe's outside for the mean round the pipe, m2K/W of outside. */
static double inside_m2K_W(const struct uf_exact_pipe *pipe)
{
    const double at_m = isnan(pipe->inner_m) ? pipe->outer_m : pipe->inner_m;
    double sum = 0.0;
    if (!isnan(pipe->inner_m)) {
        sum += pipe->outer_m * log(pipe->outer_m / pipe->inner_m) / pipe->ring_W_mK;
    }
    if (!isnan(pipe->film_W_m2K)) {
        sum += pipe->outer_m / (at_m * pipe->film_W_m2K);
    }
    return sum;
}

/* What the wall answers to the m-th harmonic: (G Ro - k m)/(G Ro + k m), where G is the
   conductance of ring and film to that harmonic. 1 for an isothermal wall. */
static double reflection(const struct uf_exact_pipe *pipe, int m)
{
    const bool film = !isnan(pipe->film_W_m2K);
    const double k_m = pipe->k_W_mK * m;
    double g_ro = film ? pipe->film_W_m2K * pipe->outer_m : (double)INFINITY;
    if (!isnan(pipe->inner_m)) { /* in the ring: a (r/Ri)^m + b (r/Ri)^-m */
        const double ring_m = pipe->ring_W_mK * m;
        const double bi = film ? pipe->film_W_m2K * pipe->inner_m / ring_m : (double)INFINITY;
        const double b_over_a = film ? (1.0 - bi) / (1.0 + bi) : -1.0;
        const double back = b_over_a * pow(pipe->inner_m / pipe->outer_m, 2.0 * m);
        g_ro = ring_m * (1.0 - back) / (1.0 + back);
    }
    return isinf(g_ro) ? 1.0 : (g_ro - k_m) / (g_ro + k_m);
}

/* How the harmonics, per unit line source, lower the mean temperature of the wall. x[m]
   is the m-th multipole; each is the wall's answer to the images of the source and of all
   multipoles: x_m = reflection_m (p^m/m + sum_n C(n+m-1, m) p^(n+m) x_n),   p = Ro/2z <
   1/2. */
static double harmonics(const struct uf_exact_pipe *pipe)
{
    const double p = pipe->outer_m / (2.0 * pipe->depth_m);
    double image[ORDERS + 1][ORDERS + 1], answer[ORDERS + 1], x[ORDERS + 1] = {0.0};
    for (int m = 1; m <= ORDERS; m++) {
        answer[m] = reflection(pipe, m);
        image[0][m] = pow(p, m) / m;
        image[1][m] = pow(p, m + 1.0);
        for (int n = 2; n <= ORDERS; n++) {
            image[n][m] = image[n - 1][m] * p * (n + m - 1.0) / (n - 1.0);
        }
    }
    double sum = 0.0;
    for (int sweep = 0; sweep < 5000; sweep++) {
        double now = 0.0;
        for (int m = 1; m <= ORDERS; m++) {
            x[m] = image[0][m];
            for (int n = 1; n <= ORDERS; n++) {
                x[m] += n == m ? 0.0 : image[n][m] * x[n];
            }
            x[m] *= answer[m] / (1.0 - answer[m] * image[m][m]);
            now += x[m] * pow(p, m);
        }
        if (fabs(now - sum) <= 1e-15 * fabs(now)) {
            return now;
        }
        sum = now;
    }
    return NAN;
}

double uf_exact_pipe_W_m(const struct uf_exact_pipe *pipe)
{
    const double soil = log(2.0 * pipe->depth_m / pipe->outer_m) - harmonics(pipe);
    const double inside = inside_m2K_W(pipe) * pipe->k_W_mK / pipe->outer_m;
    return 2.0 * UF_PI * pipe->k_W_mK * (pipe->fluid_degC - pipe->surface_degC) / (inside + soil);
}

const struct uf_exact_bulb uf_exact_bulbs[] = {
    {"B1", 1.5, 2.5, 2.0, 0.5, 5.0, 0.0, -5.0},
    {"B2", 1.5, 2.5, 2.0, 0.9, 2.0, 0.0, -10.0},
    {.name = NULL},
};

static double outside_W_m(const struct uf_exact_bulb *bulb)
{
    return bulb->k_outside_W_mK * (bulb->freezing_degC - bulb->surface_degC);
}

static double inside_W_m(const struct uf_exact_bulb *bulb)
{
    return bulb->k_inside_W_mK * (bulb->wall_degC - bulb->freezing_degC);
}

struct uf_exact_circle uf_exact_bulb_front(const struct uf_exact_bulb *bulb)
{
    const double c = focus_m(bulb->depth_m, bulb->radius_m);
    const double lam = outside_W_m(bulb) / (outside_W_m(bulb) + inside_W_m(bulb)) *
                       acosh(bulb->depth_m / bulb->radius_m);
    return (struct uf_exact_circle){.depth_m = c / tanh(lam), .radius_m = c / sinh(lam)};
}

double uf_exact_bulb_W_m(const struct uf_exact_bulb *bulb)
{
    return 2.0 * UF_PI * (outside_W_m(bulb) + inside_W_m(bulb)) /
           acosh(bulb->depth_m / bulb->radius_m);
}
