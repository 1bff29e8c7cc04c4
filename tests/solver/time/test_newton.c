#include "solver/time/newton_private.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* One implicit step, judged from outside: the residual by uf_heat_rate, the answer by
   explicit steps a hundred times smaller, the heat by its own balance. */

static const struct uf_heat_now winter = {
    .outside_degC = -15.0, .h_W_m2K = 12.0, .air_degC = -15.0};

/* Room for one step of one design. */
struct step {
    struct uf_section *section;
    struct uf_newton *newton;
    double *H0, *zn1, *weight; /* [n] */
    struct uf_newton_question question;
};

/* Ground freezing from the top: -6 degC at grade, 0 at 0.6 m, 4 degC below 2 m. */
static double start_degC(double z_m)
{
    return z_m < 0.6 ? -6.0 + 10.0 * z_m : fmin(4.0, 3.0 * (z_m - 0.6));
}

static void open_step(struct step *s, struct uf_case *d, double gamma_s)
{
    struct uf_error err = {0};
    d->grid.finest_m = 0.2;
    d->grid.width_m = d->grid.depth_m = 6.0;
    cr_assert(uf_section_create(&s->section, d, 1.5, &err) == UF_OK, "%s", err.text);
    const struct uf_heat *h = s->section->heat;
    cr_assert(uf_newton_create(&s->newton, h, &err) == UF_OK, "%s", err.text);
    s->H0 = calloc(3 * h->n, sizeof *s->H0);
    cr_assert_not_null(s->H0);
    s->zn1 = s->H0 + h->n;
    s->weight = s->zn1 + h->n;
    for (size_t i = 0; i < h->n; i++) {
        const double z_m = i < h->n_cells ? s->section->grid->z_m[i / s->section->grid->nx] : 2.0;
        s->zn1[i] = start_degC(z_m);
        s->weight[i] = h->volume_m3[i] > 0.0 ? 1.0 / 1e5 : 0.0;
    }
    uf_heat_enthalpies(h, s->zn1, s->H0);
    memset(s->zn1, 0, h->n * sizeof *s->zn1);
    s->question = (struct uf_newton_question){.gamma_s = gamma_s,
                                              .rl1 = 1.0,
                                              .now = winter,
                                              .predicted = s->H0,
                                              .zn1 = s->zn1,
                                              .weight = s->weight};
}

static void close_step(struct step *s)
{
    uf_newton_free(s->newton);
    uf_section_free(s->section);
    free(s->H0);
}

/* Largest |rl1 zn1 + H - predicted - gamma W / V| over the nodes in use, J/m3, from
   nothing that newton.c keeps but its answer. */
static double residual_J_m3(const struct step *s)
{
    const struct uf_heat *h = s->section->heat;
    struct uf_heat_flow flow;
    double worst = 0.0;
    double *T = calloc(2 * h->n, sizeof *T);
    cr_assert_not_null(T);
    double *W = T + h->n;
    uf_heat_temperatures(h, s->newton->H_J_m3, T);
    uf_heat_rate(h, &s->question.now, T, W, &flow);
    for (size_t i = 0; i < h->n; i++) {
        if (h->volume_m3[i] > 0.0 && i != h->held) {
            const double r = s->question.rl1 * s->zn1[i] + s->newton->H_J_m3[i] - s->H0[i] -
                             s->question.gamma_s * W[i] / h->volume_m3[i];
            worst = fmax(worst, fabs(r));
        }
    }
    free(T);
    return worst;
}

static struct uf_case column(void)
{
    const struct uf_thermal soil = designs_curved_soil();
    return designs_ground(&soil);
}

/* Half a day in one step, over many kinks of H(T): the residual must be a thousandth of
   the weight's 1e5 J/m3 at the asked tolerance. */
static void expect_solved(struct uf_case d, const char *what)
{
    struct step s;
    double five[UF_NEWTON_FLOWS];
    open_step(&s, &d, 43200.0);
    for (size_t i = 0; i < s.section->heat->n; i++) {
        /* History of a two-step formula. */
        s.zn1[i] = s.weight[i] > 0.0 && i != s.section->heat->held ? 1e4 * cos((double)i) : 0.0;
    }
    s.question.rl1 = 0.7;
    cr_assert(uf_newton_solve(s.newton, &s.question, 1e-4, five), "%s", what);
    cr_expect(residual_J_m3(&s) < 100.0, "%s: residual %g J/m3", what, residual_J_m3(&s));
    cr_expect(s.newton->counts.failures == 0 && s.newton->counts.iterations > 1);
    cr_expect(s.newton->counts.factorisations <= s.newton->counts.iterations);
    close_step(&s);
}

Test(newton, solves_to_the_asked_residual)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    expect_solved(column(), "column");
    expect_solved(d, "mixed tank");
    d.tank.mixing_W_mK = 20.0;
    expect_solved(d, "still water");
    d.tank.hold_degC = 5.0;
    expect_solved(d, "kept warm");
    d = designs_tank(UF_VERTICAL_CYLINDER, 0.0);
    expect_solved(d, "empty, vertical");
}

/* gamma of plain explicit steps from H0; the answer replaces H [n]. */
static void explicit_steps(const struct step *s, size_t steps, double *H)
{
    const struct uf_heat *h = s->section->heat;
    struct uf_heat_flow flow;
    double *T = calloc(2 * h->n, sizeof *T);
    cr_assert_not_null(T);
    double *W = T + h->n;
    memcpy(H, s->H0, h->n * sizeof *H);
    for (size_t k = 0; k < steps; k++) {
        uf_heat_temperatures(h, H, T);
        uf_heat_rate(h, &winter, T, W, &flow);
        for (size_t i = 0; i < h->n; i++) {
            if (h->volume_m3[i] > 0.0 && i != h->held) {
                H[i] += s->question.gamma_s / (double)steps * W[i] / h->volume_m3[i];
            }
        }
    }
    free(T);
}

/* Largest temperature difference of one backward Euler step from explicit ones. */
static double step_error_K(struct uf_case d, double gamma_s)
{
    struct step s;
    double five[UF_NEWTON_FLOWS];
    double worst = 0.0;
    open_step(&s, &d, gamma_s);
    const struct uf_heat *h = s.section->heat;
    double *H = calloc(3 * h->n, sizeof *H);
    cr_assert_not_null(H);
    cr_assert(uf_newton_solve(s.newton, &s.question, 1e-9, five));
    explicit_steps(&s, 400, H);
    uf_heat_temperatures(h, H, H + h->n);
    uf_heat_temperatures(h, s.newton->H_J_m3, H + 2 * h->n);
    for (size_t i = 0; i < h->n; i++) {
        worst = fmax(worst, fabs(H[h->n + i] - H[2 * h->n + i]));
    }
    free(H);
    close_step(&s);
    return worst;
}

/* Backward Euler errs by the square of its step: a half step errs by a quarter. */
Test(newton, agrees_with_explicit_steps)
{
    const struct uf_case designs[] = {column(), designs_tank(UF_HORIZONTAL_CYLINDER, 0.9)};
    for (size_t k = 0; k < 2; k++) {
        const double coarse = step_error_K(designs[k], 1200.0);
        const double fine = step_error_K(designs[k], 600.0);
        cr_expect(coarse < 0.05, "design %zu: %g K", k, coarse);
        cr_expect(coarse / fine > 3.0 && coarse / fine < 5.0, "design %zu: %g and %g K", k, coarse,
                  fine);
    }
}

/* Heat into every boundary over the step is what the nodes gained. */
Test(newton, flows_are_those_of_the_answer)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    struct step s;
    struct uf_heat_flow flow;
    double five[UF_NEWTON_FLOWS];
    d.tank.hold_degC = 6.0;
    open_step(&s, &d, 43200.0);
    const struct uf_heat *h = s.section->heat;
    double *T = calloc(2 * h->n, sizeof *T);
    cr_assert_not_null(T);
    cr_assert(uf_newton_solve(s.newton, &s.question, 1e-8, five));
    uf_heat_temperatures(h, s.newton->H_J_m3, T);
    uf_heat_rate(h, &winter, T, T + h->n, &flow);
    cr_expect_float_eq(five[0], flow.surface_W, 1e-9);
    cr_expect_float_eq(five[1], flow.bottom_W, 1e-9);
    cr_expect_float_eq(five[2], flow.vent_W, 1e-9);
    cr_expect_float_eq(five[3], flow.held_W, 1e-9);
    cr_expect_float_eq(five[4], flow.inflow_W, 1e-9);
    cr_expect(five[0] < 0.0 && five[1] > 0.0 && five[2] < 0.0 && five[3] != 0.0);
    cr_expect_eq(s.newton->H_J_m3[h->held], s.H0[h->held]);
    const double gained_J = uf_heat_stored_J(h, s.newton->H_J_m3) - uf_heat_stored_J(h, s.H0);
    const double in_J = 43200.0 * designs_total_W(&flow);
    cr_expect(fabs(gained_J - in_J) < 1e-6 * fabs(in_J), "%g J against %g", gained_J, in_J);
    free(T);
    close_step(&s);
}

Test(newton, gives_up_on_the_impossible_and_goes_on)
{
    struct uf_case d = column();
    struct step s;
    double five[UF_NEWTON_FLOWS];
    open_step(&s, &d, 43200.0);
    cr_expect_not(uf_newton_solve(s.newton, &s.question, 0.0, five));
    cr_expect_eq(s.newton->counts.failures, 1);
    cr_expect_eq(s.newton->counts.iterations, 25);
    cr_expect(uf_newton_solve(s.newton, &s.question, 1e-4, five));
    cr_expect(residual_J_m3(&s) < 100.0);
    s.H0[3] = NAN;
    cr_expect_not(uf_newton_solve(s.newton, &s.question, 1e-4, five));
    cr_expect_eq(s.newton->counts.failures, 2);
    s.H0[3] = -1e6;
    cr_expect(uf_newton_solve(s.newton, &s.question, 1e-4, five), "after a failure");
    close_step(&s);
    uf_newton_free(NULL);
}
