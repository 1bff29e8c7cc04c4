/* Stock CVODE on the same heat network and tolerances: BDF of order 2, its own Newton
   iteration, SUNDIALS's KLU linear solver, the analytic sparse Jacobian dF/dH = -V^-1 K
   dT/dH. What a careful user of the library would write; beside it our own nonlinear
   solver in the same run. */
#include "reference.h"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <time.h>

struct plain {
    struct reference_place *place;
    double *T_degC, *W;
    sunindextype *start,
        *index; /* the pattern: SUNDIALS empties the matrix before each call */
    long rhs;
};

static int rate(sunrealtype t, N_Vector y, N_Vector out, void *data)
{
    struct plain *p = data;
    const struct uf_heat *h = p->place->section->heat;
    const struct uf_heat_now now = uf_season_now(&p->place->drive, t / UF_DAY_S);
    struct uf_heat_flow flow;
    double *const r = N_VGetArrayPointer(out);
    uf_heat_temperatures(h, N_VGetArrayPointer(y), p->T_degC);
    uf_heat_rate(h, &now, p->T_degC, p->W, &flow);
    for (size_t i = 0; i < h->n; i++) {
        r[i] = h->volume_m3[i] > 0.0 ? p->W[i] / h->volume_m3[i] : 0.0;
    }
    p->rhs++;
    return 0;
}

/* Puts one entry into the compressed columns; the pattern is made once by the first call.
 */
static void put(SUNMatrix J, sunindextype row, sunindextype column, double value)
{
    const sunindextype *start = SUNSparseMatrix_IndexPointers(J);
    const sunindextype *index = SUNSparseMatrix_IndexValues(J);
    for (sunindextype k = start[column]; k < start[column + 1]; k++) {
        if (index[k] == row) {
            SUNSparseMatrix_Data(J)[k] += value;
            return;
        }
    }
}

/* dW_a/dT_b = g_b, dW_b/dT_a = g_a of a flow g_a T_a - g_b T_b, over volume and times
 * dT/dH. */
static void put_pair(SUNMatrix J, const struct uf_heat *h, const double *dT_dH,
                     const size_t pair[2], const double g[2])
{
    for (int side = 0; side < 2; side++) {
        const size_t from = pair[side];
        const size_t to = pair[1 - side];
        const double slope = g[side] * dT_dH[from];
        put(J, (sunindextype)from, (sunindextype)from, -slope / h->volume_m3[from]);
        put(J, (sunindextype)to, (sunindextype)from, slope / h->volume_m3[to]);
    }
}

static int jacobian(sunrealtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *data,
                    N_Vector a, N_Vector b, N_Vector c)
{
    struct plain *p = data;
    const struct uf_heat *h = p->place->section->heat;
    const struct uf_heat_now now = uf_season_now(&p->place->drive, t / UF_DAY_S);
    const size_t nx = h->grid->nx;
    double *const dT_dH = p->W;
    (void)fy;
    (void)a;
    (void)b;
    (void)c;
    uf_heat_temperatures(h, N_VGetArrayPointer(y), p->T_degC);
    memcpy(SUNSparseMatrix_IndexPointers(J), p->start, (h->n + 1) * sizeof *p->start);
    memcpy(SUNSparseMatrix_IndexValues(J), p->index,
           (size_t)p->start[h->n] * sizeof *p->index);
    memset(SUNSparseMatrix_Data(J), 0, (size_t)p->start[h->n] * sizeof(sunrealtype));
    for (size_t i = 0; i < h->n; i++) {
        dT_dH[i] =
            1.0 / uf_material_slope_J_m3K(&h->materials[h->material[i]], p->T_degC[i]);
    }
    for (size_t i = 0; i < h->n_cells; i++) {
        const struct uf_material *m = &h->materials[h->conducts[i]];
        const size_t ahead[2] = {i + 1, i + nx};
        const double g[2] = {h->gx_m[i], h->gz_m[i]};
        for (int axis = 0; axis < 2; axis++) {
            if (g[axis] > 0.0) {
                put_pair(J, h, dT_dH, (const size_t[2]){i, ahead[axis]},
                         (const double[2]){
                             g[axis] * uf_material_k_W_mK(m, p->T_degC[i]),
                             g[axis] * uf_material_k_W_mK(m, p->T_degC[ahead[axis]])});
            }
        }
    }
    for (size_t l = 0; l < h->n_links; l++) {
        const double W_K = uf_heat_link_W_K(h, &h->links[l], p->T_degC);
        put_pair(J, h, dT_dH, (const size_t[2]){h->links[l].a, h->links[l].b},
                 (const double[2]){W_K, W_K});
    }
    for (size_t k = 0; k < h->n_tops; k++) {
        const size_t cell = h->tops[k].cell;
        double W_K = 0.0;
        (void)uf_heat_top_W(h, &h->tops[k], &now, p->T_degC[cell], &W_K);
        put(J, (sunindextype)cell, (sunindextype)cell,
            -W_K * dT_dH[cell] / h->volume_m3[cell]);
    }
    return 0;
}

static int compare_pair(const void *a, const void *b)
{
    const size_t *x = a;
    const size_t *y = b;
    if (x[0] != y[0]) {
        return x[0] < y[0] ? -1 : 1;
    }
    return (x[1] > y[1]) - (x[1] < y[1]);
}

/* An empty matrix with the network's pattern, columns sorted. */
static SUNMatrix pattern(const struct uf_heat *h, SUNContext context)
{
    size_t(*pairs)[2] = NULL;
    size_t n_pairs = 0;
    (void)uf_heat_pairs(h, &pairs, &n_pairs, NULL);
    size_t(*entries)[2] = calloc(h->n + 2 * n_pairs, sizeof *entries);
    size_t count = 0;
    for (size_t i = 0; i < h->n; i++) {
        entries[count][0] = entries[count][1] = i;
        count++;
    }
    for (size_t k = 0; k < n_pairs; k++) {
        entries[count][0] = pairs[k][0];
        entries[count++][1] = pairs[k][1];
        entries[count][0] = pairs[k][1];
        entries[count++][1] = pairs[k][0];
    }
    qsort(entries, count, sizeof *entries, compare_pair);
    SUNMatrix J = SUNSparseMatrix((sunindextype)h->n, (sunindextype)h->n,
                                  (sunindextype)count, CSC_MAT, context);
    sunindextype *start = SUNSparseMatrix_IndexPointers(J);
    sunindextype used = 0;
    for (size_t e = 0; e < count; e++) {
        if (e == 0 || compare_pair(entries[e], entries[e - 1]) != 0) {
            SUNSparseMatrix_IndexValues(J)[used++] = (sunindextype)entries[e][1];
        }
        start[entries[e][0] + 1] = used;
    }
    free(entries);
    free(pairs);
    return J;
}

static void print_counts(void *cvode, const struct plain *p,
                         const struct reference_errors *e, double cpu_s)
{
    long steps = 0;
    long efail = 0;
    long nfail = 0;
    long iterations = 0;
    long setups = 0;
    (void)CVodeGetNumSteps(cvode, &steps);
    (void)CVodeGetNumErrTestFails(cvode, &efail);
    (void)CVodeGetNumNonlinSolvConvFails(cvode, &nfail);
    (void)CVodeGetNumNonlinSolvIters(cvode, &iterations);
    (void)CVodeGetNumLinSolvSetups(cvode, &setups);
    printf(
        "stock CVODE  %6ld steps %6ld error-test fails %6ld Newton fails %7ld iterations "
        "%6ld set-ups %7ld rhs  dmax %+.2f cm crown %+.3f K band %s  %.2f s\n",
        steps, efail, nfail, iterations, setups, p->rhs,
        1e2 * (e->deepest_m - e->deepest_want_m), e->crown_degC - e->crown_want_degC,
        reference_band(e), cpu_s);
}

static double stock(const struct reference *ref, struct reference_place *place)
{
    const struct uf_heat *h = place->section->heat;
    struct plain p = {.place = place,
                      .T_degC = calloc(h->n, sizeof(double)),
                      .W = calloc(h->n, sizeof(double))};
    struct reference_errors errors = reference_begin();
    SUNContext context = NULL;
    (void)SUNContext_Create(NULL, &context);
    N_Vector y = N_VNew_Serial((sunindextype)h->n, context);
    SUNMatrix J = pattern(h, context);
    SUNLinearSolver solver = SUNLinSol_KLU(y, J, context);
    const size_t used = (size_t)SUNSparseMatrix_IndexPointers(J)[h->n];
    p.start = malloc((h->n + 1) * sizeof *p.start);
    p.index = malloc(used * sizeof *p.index);
    memcpy(p.start, SUNSparseMatrix_IndexPointers(J), (h->n + 1) * sizeof *p.start);
    memcpy(p.index, SUNSparseMatrix_IndexValues(J), used * sizeof *p.index);
    void *cvode = CVodeCreate(CV_BDF, context);
    sunrealtype reached = 0.0;
    uf_heat_enthalpies(h, place->start_degC, N_VGetArrayPointer(y));
    (void)CVodeInit(cvode, rate, 0.0, y);
    (void)CVodeSStolerances(cvode, 1e-4, 0.1e6);
    (void)CVodeSetUserData(cvode, &p);
    (void)CVodeSetLinearSolver(cvode, solver, J);
    (void)CVodeSetJacFn(cvode, jacobian);
    (void)CVodeSetMaxOrd(cvode, 2);
    (void)CVodeSetMaxNumSteps(cvode, 1000000);
    (void)CVodeSetMaxStep(cvode, 5.0 * UF_DAY_S);
    const clock_t start = clock();
    for (int day = 1; day <= REFERENCE_DAYS; day++) {
        if (CVode(cvode, day * UF_DAY_S, y, &reached, CV_NORMAL) < 0) {
            printf("stock CVODE gave up on day %d\n", day);
            break;
        }
        if (day >= REFERENCE_DAYS - 365) {
            double got[2];
            uf_heat_temperatures(h, N_VGetArrayPointer(y), p.T_degC);
            reference_look(place, day, N_VGetArrayPointer(y), p.T_degC, got);
            reference_day(&errors, ref, false, day - (REFERENCE_DAYS - 365), got);
        }
    }
    const double cpu_s = (double)(clock() - start) / CLOCKS_PER_SEC;
    print_counts(cvode, &p, &errors, cpu_s);
    CVodeFree(&cvode);
    (void)SUNLinSolFree(solver);
    SUNMatDestroy(J);
    N_VDestroy(y);
    (void)SUNContext_Free(&context);
    free(p.start);
    free(p.index);
    free(p.T_degC);
    free(p.W);
    return cpu_s;
}

static double ours(struct reference_place *place, enum uf_integrator integrator)
{
    struct uf_season_options options = uf_season_defaults();
    struct uf_season *season = NULL;
    options.integrator = integrator;
    options.steps_per_day = 2.0;
    if (uf_season_create(&season, place->section->heat, &options, NULL) != UF_OK) {
        return NAN;
    }
    uf_season_set(season, 0.0, place->start_degC);
    uf_season_drive(season, &place->drive);
    for (int day = 1; day <= REFERENCE_DAYS; day++) {
        (void)uf_season_advance(season, day, NULL);
    }
    const struct uf_counters c = uf_season_counters(season);
    printf(
        "%-12s %6ld steps %6ld error-test fails %6ld Newton fails %7ld iterations %6ld "
        "factorisations %7ld rhs  %.3f s\n",
        integrator == UF_FAST ? "fast" : "own Newton", c.steps, c.error_test_failures,
        c.newton_failures, c.newton_iterations, c.factorisations, c.rhs, c.cpu_s);
    uf_season_free(season);
    return c.cpu_s;
}

int main(int argc, char **argv)
{
    static struct reference ref;
    struct reference_place place;
    const double finest_m = argc > 1 ? strtod(argv[1], NULL) : 0.075;
    if (!reference_read(&ref)) {
        return 1;
    }
    reference_open(&place, finest_m, false);
    printf("reference problem, bare, rows of %.1f cm, %zu cells, rtol 1e-4, atol 0.1 "
           "MJ/m3\n",
           1e2 * finest_m, place.section->heat->n_cells);
    const double plain_s = stock(&ref, &place);
    const double newton_s = ours(&place, UF_BDF);
    const double fast_s = ours(&place, UF_FAST);
    printf("ratios: stock / own Newton %.1f, stock / fast %.1f\n", plain_s / newton_s,
           plain_s / fast_s);
    reference_close(&place);
    return 0;
}
