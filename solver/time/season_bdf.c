#include "newton_private.h"
#include "season_private.h"
#include "solver/base/constants.h"
#include "solver/heat/layers.h"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_nonlinearsolver.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* CVODE on the enthalpy of every node, with the boundary heat as further components, so
   that it is integrated by the very formula that moves the state. The nonlinear solver is
   our own (newton.c) behind SUNDIALS's interface. */
struct bdf_state {
    SUNContext context;
    void *cvode;
    N_Vector y; /* [n] enthalpy, then [UF_NEWTON_FLOWS] boundary heat */
    SUNNonlinearSolver solver;
    struct uf_newton *newton;
    double origin_day; /* day of t = 0 s */
    bool started, stopped;
};

/* Share of CVODE's own tolerance to which the equations are solved. */
static const double STRICT = 0.1;
static const double STEP_MOST_DAY = 5.0;
static const double WATER_COUNTS = 10.0;

/* Rows of water are looked at so often. Between two looks those that mix are joined by a
   conductance, part of the equations; only where that changes, or ice is to rise, CVODE starts
   anew from settled rows. */
static const double LOOK_DAY = 0.25;

static struct uf_heat_now now_at(const struct uf_season *s, double t_s)
{
    const struct bdf_state *b = s->state;
    return uf_season_now(&s->drive, b->origin_day + t_s / UF_DAY_S);
}

/* The right-hand side as CVODE knows it; called to start. */
static int right_hand_side(sunrealtype t, N_Vector y, N_Vector rate, void *data)
{
    struct uf_season *s = data;
    struct bdf_state *b = s->state;
    double *const r = N_VGetArrayPointer(rate);
    const struct uf_heat_now now = now_at(s, t);
    uf_newton_rate(b->newton, &now, N_VGetArrayPointer(y), r + s->heat->n);
    for (size_t i = 0; i < s->heat->n; i++) {
        const double volume_m3 = s->heat->volume_m3[i];
        r[i] = volume_m3 > 0.0 ? b->newton->W[i] / volume_m3 : 0.0;
    }
    return 0;
}

/* Weights of the error norm: none for cells out of use and for the boundary heat. The
   norm is a mean over all nodes; a lumped body, one node for the whole of the water,
   would be lost in it, so its error counts as if every node had it; rows of water share. Water is
   what is asked about and what little happens to for months: long steps left it 0.1 K off after a
   start-up, so its error counts ten times (seed 11820 of the random sites: 0.007 K, for 8 % more
   factorisations of a whole design). */
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
    for (size_t i = s->heat->n_cells; i < s->heat->n; i++) {
        const bool water = uf_heat_is_water(s->heat, i);
        weight[i] *=
            sqrt((double)(s->heat->n + UF_NEWTON_FLOWS) / (double)(water ? s->heat->n_water : 1)) *
            (water ? WATER_COUNTS : 1.0);
    }
    memset(weight + s->heat->n, 0, UF_NEWTON_FLOWS * sizeof *weight);
    return 0;
}

/* What CVODE asks at this step, for newton.c. */
static bool ask(struct uf_season *s, N_Vector w, struct uf_newton_question *q)
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
    if (CVodeGetNonlinearSystemData(b->cvode, &t, &predicted, &now, &rate, &gamma, &rl1, &zn1,
                                    &data) != CV_SUCCESS) {
        return false;
    }
    *q = (struct uf_newton_question){.gamma_s = gamma,
                                     .rl1 = rl1,
                                     .now = now_at(s, t),
                                     .predicted = N_VGetArrayPointer(predicted),
                                     .zn1 = N_VGetArrayPointer(zn1),
                                     .weight = N_VGetArrayPointer(w)};
    return true;
}

static int newton_solve(SUNNonlinearSolver solver, N_Vector start, N_Vector correction, N_Vector w,
                        sunrealtype tolerance, booleantype setup, void *memory)
{
    struct uf_season *s = solver->content;
    struct bdf_state *b = s->state;
    const size_t n = s->heat->n;
    struct uf_newton_question q;
    double *const acor = N_VGetArrayPointer(correction);
    double boundary_W[UF_NEWTON_FLOWS];
    (void)start;
    (void)setup;
    (void)memory;
    b->stopped = uf_season_stops(s);
    if (b->stopped || !ask(s, w, &q)) {
        return -1;
    }
    if (!uf_newton_solve(b->newton, &q, STRICT * tolerance, boundary_W)) {
        return SUN_NLS_CONV_RECVR;
    }
    for (size_t i = 0; i < n; i++) {
        acor[i] = b->newton->H_J_m3[i] - q.predicted[i];
    }
    for (size_t k = 0; k < UF_NEWTON_FLOWS; k++) {
        acor[n + k] = q.gamma_s * boundary_W[k] - q.rl1 * q.zn1[n + k];
    }
    return SUN_NLS_SUCCESS;
}

static SUNNonlinearSolver_Type newton_type(SUNNonlinearSolver solver)
{
    (void)solver;
    return SUNNONLINEARSOLVER_ROOTFIND;
}

/* CVODE hands over its residual function; ours is the residual of newton.c. */
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
    if (b->solver != NULL) {
        SUNNonlinSolFreeEmpty(b->solver);
    }
    if (b->y != NULL) {
        N_VDestroy(b->y);
    }
    uf_newton_free(b->newton);
    if (b->context != NULL) {
        (void)SUNContext_Free(&b->context);
    }
    free(b);
    s->state = NULL;
}

/* CVODE's messages say nothing a user can act on; ours follow from its return value. */
static void quiet(int code, const char *module, const char *function, char *message, void *data)
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
    b->y = N_VNew_Serial((sunindextype)s->heat->n + UF_NEWTON_FLOWS, b->context);
    b->cvode = CVodeCreate(CV_BDF, b->context);
    b->solver = newton_create(s, b->context);
    if (b->y == NULL || b->cvode == NULL || b->solver == NULL) {
        return false;
    }
    N_VConst(0.0, b->y);
    return CVodeSetErrHandlerFn(b->cvode, quiet, NULL) == CV_SUCCESS &&
           CVodeInit(b->cvode, right_hand_side, 0.0, b->y) == CV_SUCCESS &&
           CVodeWFtolerances(b->cvode, weights) == CV_SUCCESS &&
           CVodeSetUserData(b->cvode, s) == CV_SUCCESS &&
           CVodeSetNonlinearSolver(b->cvode, b->solver) == CV_SUCCESS &&
           CVodeSetMaxOrd(b->cvode, 2) == CV_SUCCESS &&
           CVodeSetMaxNumSteps(b->cvode, 100000) == CV_SUCCESS &&
           CVodeSetMaxStep(b->cvode, STEP_MOST_DAY * UF_DAY_S) == CV_SUCCESS;
}

static enum uf_status bdf_create(struct uf_season *s, struct uf_error *err)
{
    struct bdf_state *b = calloc(1, sizeof *b);
    s->state = b;
    if (b == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a season");
    }
    const enum uf_status status = uf_newton_create(&b->newton, s->heat, err);
    if (status == UF_OK && !cvode_setup(s)) {
        return uf_fail(err, UF_E_SOLVER, "CVODE could not be set up for %zu cells", s->heat->n);
    }
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
    s->counters.newton_iterations = s->earlier.newton_iterations + b->newton->counts.iterations;
    s->counters.newton_failures = s->earlier.newton_failures + b->newton->counts.failures;
    s->counters.factorisations = s->earlier.factorisations + b->newton->counts.factorisations;
    s->counters.rhs = s->earlier.rhs + b->newton->counts.rates;
}

static enum uf_status bdf_start(struct uf_season *s, struct uf_error *err)
{
    struct bdf_state *b = s->state;
    double *const y = N_VGetArrayPointer(b->y);
    memcpy(y, s->H_J_m3, s->heat->n * sizeof *y);
    double *const boundary_J = y + s->heat->n;
    boundary_J[0] = s->heat_J.surface_J;
    boundary_J[1] = s->heat_J.bottom_J;
    boundary_J[2] = s->heat_J.vent_J;
    boundary_J[3] = s->heat_J.held_J;
    boundary_J[4] = s->heat_J.inflow_J;
    b->origin_day = s->day;
    if (CVodeReInit(b->cvode, 0.0, b->y) != CV_SUCCESS) {
        return uf_fail(err, UF_E_SOLVER, "CVODE could not be started");
    }
    b->started = true;
    return UF_OK;
}

/* Runs to `day` by CVODE alone. */
static enum uf_status bdf_leg(struct uf_season *s, double day, struct uf_error *err)
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
    const int flag = CVode(b->cvode, (day - b->origin_day) * UF_DAY_S, b->y, &reached_s, CV_NORMAL);
    collect(s, &steps, &fails);
    if (b->stopped) {
        return uf_fail(err, UF_E_STOPPED, "interrupted");
    }
    if (flag < 0) {
        return uf_fail(err, UF_E_SOLVER, "CVODE gave up %.1f days after the start (its code %d)",
                       reached_s / UF_DAY_S, flag);
    }
    const double *const y = N_VGetArrayPointer(b->y);
    memcpy(s->H_J_m3, y, s->heat->n * sizeof *y);
    const double *const boundary_J = y + s->heat->n;
    s->heat_J = (struct uf_heat_budget){boundary_J[0], boundary_J[1], boundary_J[2], boundary_J[3],
                                        boundary_J[4]};
    s->day = day;
    return UF_OK;
}

static enum uf_status bdf_advance(struct uf_season *s, double day, struct uf_error *err)
{
    struct bdf_state *b = s->state;
    const double from_day = s->day;
    const size_t legs =
        s->heat->n_water < 2 ? 1 : (size_t)fmax(1.0, ceil((day - from_day) / LOOK_DAY - 1e-9));
    enum uf_status status = UF_OK;
    for (size_t k = 1; status == UF_OK && k <= legs; k++) {
        const double to_day = from_day + (day - from_day) * (double)k / (double)legs;
        status = bdf_leg(s, k == legs ? day : to_day, err);
        if (status == UF_OK && s->heat->n_water > 1 &&
            uf_layers_look(s->heat, s->H_J_m3, b->newton->joined)) {
            uf_layers_settle(s->heat, s->H_J_m3);
            b->newton->factored_gamma = 0.0;
            b->started = false;
        }
    }
    return status;
}

const struct uf_stepper uf_season_bdf_stepper = {.name = "bdf",
                                                 .create = bdf_create,
                                                 .restart = bdf_restart,
                                                 .advance = bdf_advance,
                                                 .free = bdf_free};
