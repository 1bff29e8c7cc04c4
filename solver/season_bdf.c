#include "constants.h"
#include "season_private.h"
#include "sparse.h"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_nonlinearsolver.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* CVODE on the enthalpy of every node, with one component more: the boundary heat, so
   that it is integrated by the very formula that moves the state. The nonlinear solver is
   our own: Newton in temperature, a fresh matrix at every iteration, because dT/dH jumps
   where a cell begins or ends to freeze and a kept matrix then does not converge. */
struct bdf_state {
    SUNContext context;
    void *cvode;
    N_Vector y; /* [n] enthalpy, then [5] boundary heat */
    SUNNonlinearSolver newton;
    struct uf_sparse *matrix;
    double *T_degC, *H_J_m3, *W, *step; /* [n] */
    double origin_day;                  /* day of t = 0 s */
    bool started;
    long iterations, factorisations, failures, rhs;
};

enum { FLOWS = 5, ITERATIONS_MOST = 25 };

/* Share of CVODE's own tolerance to which the equations are solved; the heat balance is
 * what it buys. */
static const double STRICT = 0.1;
static const double STEP_MOST_DAY = 5.0;

static void flow_to(double *five, const struct uf_heat_flow *flow)
{
    five[0] = flow->surface_W;
    five[1] = flow->bottom_W;
    five[2] = flow->vent_W;
    five[3] = flow->held_W;
    five[4] = flow->inflow_W;
}

static void rate_at(struct uf_season *s, double t_s, const double *T_degC,
                    struct uf_heat_flow *flow)
{
    struct bdf_state *b = s->state;
    const struct uf_heat_now now =
        uf_season_now(&s->drive, b->origin_day + t_s / UF_DAY_S);
    uf_heat_rate(s->heat, &now, T_degC, b->W, flow);
    b->rhs++;
}

static double per_volume(const struct uf_heat *heat, size_t i, double W)
{
    return heat->volume_m3[i] > 0.0 ? W / heat->volume_m3[i] : 0.0;
}

/* The right-hand side as CVODE knows it; called to start. */
static int right_hand_side(sunrealtype t, N_Vector y, N_Vector rate, void *data)
{
    struct uf_season *s = data;
    struct bdf_state *b = s->state;
    struct uf_heat_flow flow;
    double *const r = N_VGetArrayPointer(rate);
    uf_heat_temperatures(s->heat, N_VGetArrayPointer(y), b->T_degC);
    rate_at(s, t, b->T_degC, &flow);
    for (size_t i = 0; i < s->heat->n; i++) {
        r[i] = per_volume(s->heat, i, b->W[i]);
    }
    flow_to(r + s->heat->n, &flow);
    return 0;
}

/* Weights of the error norm: none for cells out of use and for the boundary heat. */
static int weights(N_Vector y, N_Vector w, void *data)
{
    const struct uf_season *s = data;
    const double *const H = N_VGetArrayPointer(y);
    double *const weight = N_VGetArrayPointer(w);
    for (size_t i = 0; i < s->heat->n; i++) {
        weight[i] = s->heat->volume_m3[i] > 0.0
                        ? 1.0 / (s->options.rtol * fabs(H[i]) + s->options.atol_J_m3)
                        : 0.0;
    }
    memset(weight + s->heat->n, 0, FLOWS * sizeof *weight);
    return 0;
}

/* What CVODE asks at one step: find acor with rl1 zn1 + acor - gamma f(ypred + acor) = 0.
 */
struct question {
    double t_s, gamma, rl1;
    const double *predicted, *zn1, *weight;
};

static int ask(struct uf_season *s, N_Vector w, struct question *q)
{
    struct bdf_state *b = s->state;
    sunrealtype t = 0.0;
    sunrealtype gamma = 0.0;
    sunrealtype rl1 = 0.0;
    N_Vector predicted = NULL;
    N_Vector now = NULL;
    N_Vector rate = NULL;
    N_Vector zn1 = NULL;
    void *data = NULL;
    if (CVodeGetNonlinearSystemData(b->cvode, &t, &predicted, &now, &rate, &gamma, &rl1,
                                    &zn1, &data) != CV_SUCCESS) {
        return -1;
    }
    *q = (struct question){.t_s = t,
                           .gamma = gamma,
                           .rl1 = rl1,
                           .predicted = N_VGetArrayPointer(predicted),
                           .zn1 = N_VGetArrayPointer(zn1),
                           .weight = N_VGetArrayPointer(w)};
    return 0;
}

/* Matrix and right-hand side of one Newton step in temperature, solved into b->step. */
static int newton_step(struct uf_season *s, const struct question *q)
{
    struct bdf_state *b = s->state;
    const struct uf_heat *heat = s->heat;
    struct uf_heat_flow flow;
    const struct uf_heat_now now =
        uf_season_now(&s->drive, b->origin_day + q->t_s / UF_DAY_S);
    rate_at(s, q->t_s, b->T_degC, &flow);
    uf_sparse_zero(b->matrix);
    uf_heat_matrix(heat, &now, b->T_degC, 1.0, b->matrix);
    for (size_t i = 0; i < heat->n; i++) {
        const struct uf_material *m = &heat->materials[heat->material[i]];
        const double volume_m3 = heat->volume_m3[i] > 0.0 ? heat->volume_m3[i] : 1.0;
        const double weight =
            volume_m3 * uf_material_slope_J_m3K(m, b->T_degC[i]) / q->gamma;
        const double residual = q->rl1 * q->zn1[i] + b->H_J_m3[i] - q->predicted[i];
        b->step[i] = b->W[i] - volume_m3 * residual / q->gamma;
        *uf_sparse_diagonal(b->matrix, i) += i == heat->held ? 1e30 : weight;
    }
    b->factorisations++;
    if (uf_sparse_factor(b->matrix, NULL) != UF_OK ||
        uf_sparse_solve(b->matrix, b->step, NULL) != UF_OK) {
        return -1;
    }
    return 0;
}

/* Takes the step; returns the weighted norm of the larger of the change wanted and the
   change got: beyond a kink of H(T) the two differ, and the smaller one would look like
   convergence. */
static double take_step(struct uf_season *s, const struct question *q)
{
    struct bdf_state *b = s->state;
    const struct uf_heat *heat = s->heat;
    double sum = 0.0;
    for (size_t i = 0; i < heat->n; i++) {
        if (heat->volume_m3[i] > 0.0 && i != heat->held) {
            const struct uf_material *m = &heat->materials[heat->material[i]];
            const double wanted = b->step[i] * uf_material_slope_J_m3K(m, b->T_degC[i]);
            b->T_degC[i] += b->step[i];
            const double H = uf_material_H_J_m3(m, b->T_degC[i]);
            const double change =
                fmax(fabs(H - b->H_J_m3[i]), fabs(wanted)) * q->weight[i];
            sum += change * change;
            b->H_J_m3[i] = H;
        }
    }
    return sqrt(sum / (double)(heat->n + FLOWS));
}

static int newton_solve(SUNNonlinearSolver solver, N_Vector start, N_Vector correction,
                        N_Vector w, sunrealtype tolerance, booleantype setup,
                        void *memory)
{
    struct uf_season *s = solver->content;
    struct bdf_state *b = s->state;
    const size_t n = s->heat->n;
    struct question q;
    double *const acor = N_VGetArrayPointer(correction);
    double norm = INFINITY;
    (void)start;
    (void)setup;
    (void)memory;
    if (ask(s, w, &q) != 0) {
        return -1;
    }
    memcpy(b->H_J_m3, q.predicted, n * sizeof *b->H_J_m3);
    uf_heat_temperatures(s->heat, b->H_J_m3, b->T_degC);
    for (int k = 0; k < ITERATIONS_MOST && !(norm < STRICT * tolerance); k++) {
        if (newton_step(s, &q) != 0) {
            b->failures++;
            return SUN_NLS_CONV_RECVR;
        }
        norm = take_step(s, &q);
        b->iterations++;
    }
    if (!(norm < STRICT * tolerance)) {
        b->failures++;
        return SUN_NLS_CONV_RECVR;
    }
    struct uf_heat_flow flow;
    double five[FLOWS];
    rate_at(s, q.t_s, b->T_degC, &flow);
    flow_to(five, &flow);
    for (size_t i = 0; i < n; i++) {
        acor[i] = b->H_J_m3[i] - q.predicted[i];
    }
    for (size_t k = 0; k < FLOWS; k++) {
        acor[n + k] = q.gamma * five[k] - q.rl1 * q.zn1[n + k];
    }
    return SUN_NLS_SUCCESS;
}

static SUNNonlinearSolver_Type newton_type(SUNNonlinearSolver solver)
{
    (void)solver;
    return SUNNONLINEARSOLVER_ROOTFIND;
}

/* CVODE hands over its residual function; ours is written out in newton_step. */
static int newton_system(SUNNonlinearSolver solver, SUNNonlinSolSysFn function)
{
    (void)solver;
    (void)function;
    return SUN_NLS_SUCCESS;
}

static SUNNonlinearSolver newton_create(struct uf_season *s, SUNContext context)
{
    SUNNonlinearSolver solver = SUNNonlinSolNewEmpty(context);
    if (solver != NULL) {
        solver->content = s;
        solver->ops->gettype = newton_type;
        solver->ops->solve = newton_solve;
        solver->ops->setsysfn = newton_system;
    }
    return solver;
}

static void bdf_free(struct uf_season *s)
{
    struct bdf_state *b = s->state;
    CVodeFree(&b->cvode);
    if (b->newton != NULL) {
        SUNNonlinSolFreeEmpty(b->newton);
    }
    if (b->y != NULL) {
        N_VDestroy(b->y);
    }
    uf_sparse_free(b->matrix);
    free(b->T_degC);
    if (b->context != NULL) {
        (void)SUNContext_Free(&b->context);
    }
    free(b);
    s->state = NULL;
}

/* CVODE's messages say nothing a user can act on; ours follow from its return value. */
static void quiet(int code, const char *module, const char *function, char *message,
                  void *data)
{
    (void)code;
    (void)module;
    (void)function;
    (void)message;
    (void)data;
}

static bool cvode_setup(struct uf_season *s)
{
    struct bdf_state *b = s->state;
    if (SUNContext_Create(NULL, &b->context) != 0) {
        return false;
    }
    b->y = N_VNew_Serial((sunindextype)s->heat->n + FLOWS, b->context);
    b->cvode = CVodeCreate(CV_BDF, b->context);
    b->newton = newton_create(s, b->context);
    if (b->y == NULL || b->cvode == NULL || b->newton == NULL) {
        return false;
    }
    N_VConst(0.0, b->y);
    return CVodeSetErrHandlerFn(b->cvode, quiet, NULL) == CV_SUCCESS &&
           CVodeInit(b->cvode, right_hand_side, 0.0, b->y) == CV_SUCCESS &&
           CVodeWFtolerances(b->cvode, weights) == CV_SUCCESS &&
           CVodeSetUserData(b->cvode, s) == CV_SUCCESS &&
           CVodeSetNonlinearSolver(b->cvode, b->newton) == CV_SUCCESS &&
           CVodeSetMaxOrd(b->cvode, 2) == CV_SUCCESS &&
           CVodeSetMaxNumSteps(b->cvode, 100000) == CV_SUCCESS &&
           CVodeSetMaxStep(b->cvode, STEP_MOST_DAY * UF_DAY_S) == CV_SUCCESS;
}

static enum uf_status bdf_create(struct uf_season *s, struct uf_error *err)
{
    struct bdf_state *b = calloc(1, sizeof *b);
    size_t(*pairs)[2] = NULL;
    size_t n_pairs = 0;
    s->state = b;
    if (b == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a season");
    }
    const size_t n = s->heat->n;
    b->T_degC = calloc(4 * n, sizeof *b->T_degC);
    if (b->T_degC == NULL || !cvode_setup(s)) {
        return uf_fail(err, UF_E_SOLVER, "CVODE could not be set up for %zu cells", n);
    }
    b->H_J_m3 = b->T_degC + n;
    b->W = b->H_J_m3 + n;
    b->step = b->W + n;
    enum uf_status status = uf_heat_pairs(s->heat, &pairs, &n_pairs, err);
    if (status == UF_OK) {
        status = uf_sparse_create(&b->matrix, n, (const size_t(*)[2])pairs, n_pairs, err);
    }
    free(pairs);
    return status;
}

static void bdf_restart(struct uf_season *s)
{
    struct bdf_state *b = s->state;
    b->started = false;
}

/* Adds what CVODE counted since its last start to the season's counters. */
static void collect(struct uf_season *s, long *steps_before, long *fails_before)
{
    struct bdf_state *b = s->state;
    long steps = 0;
    long fails = 0;
    (void)CVodeGetNumSteps(b->cvode, &steps);
    (void)CVodeGetNumErrTestFails(b->cvode, &fails);
    s->counters.steps += steps - *steps_before;
    s->counters.error_test_failures += fails - *fails_before;
    *steps_before = steps;
    *fails_before = fails;
    s->counters.newton_iterations = b->iterations;
    s->counters.newton_failures = b->failures;
    s->counters.factorisations = b->factorisations;
    s->counters.rhs = b->rhs;
}

static enum uf_status bdf_start(struct uf_season *s, struct uf_error *err)
{
    struct bdf_state *b = s->state;
    double *const y = N_VGetArrayPointer(b->y);
    memcpy(y, s->H_J_m3, s->heat->n * sizeof *y);
    flow_to(y + s->heat->n, &s->heat_J);
    b->origin_day = s->day;
    if (CVodeReInit(b->cvode, 0.0, b->y) != CV_SUCCESS) {
        return uf_fail(err, UF_E_SOLVER, "CVODE could not be started");
    }
    b->started = true;
    return UF_OK;
}

static enum uf_status bdf_advance(struct uf_season *s, double day, struct uf_error *err)
{
    struct bdf_state *b = s->state;
    if (!b->started && bdf_start(s, err) != UF_OK) {
        return UF_E_SOLVER;
    }
    long steps = 0;
    long fails = 0;
    (void)CVodeGetNumSteps(b->cvode, &steps);
    (void)CVodeGetNumErrTestFails(b->cvode, &fails);
    sunrealtype reached_s = 0.0;
    const int flag =
        CVode(b->cvode, (day - b->origin_day) * UF_DAY_S, b->y, &reached_s, CV_NORMAL);
    collect(s, &steps, &fails);
    if (flag < 0) {
        return uf_fail(err, UF_E_SOLVER,
                       "CVODE gave up %.1f days after the start (its code %d)",
                       reached_s / UF_DAY_S, flag);
    }
    const double *const y = N_VGetArrayPointer(b->y);
    memcpy(s->H_J_m3, y, s->heat->n * sizeof *y);
    const double *const five = y + s->heat->n;
    s->heat_J = (struct uf_heat_flow){five[0], five[1], five[2], five[3], five[4]};
    s->day = day;
    return UF_OK;
}

const struct uf_stepper uf_season_bdf_stepper = {.name = "bdf",
                                                 .create = bdf_create,
                                                 .restart = bdf_restart,
                                                 .advance = bdf_advance,
                                                 .free = bdf_free};
