/* Stock CVODE on the heat network of the bare reference problem: BDF of order 2, its own
   Newton iteration, SUNDIALS's KLU linear solver, the analytic sparse Jacobian dF/dH =
   -V^-1 K dT/dH. What a careful user of the library would write; in the same run the same
   tolerances with our own nonlinear solver, and the fast integrator.

   bench_plain_cvode [ROWS_CM]    default 7.5. Lines begin with the method, then seconds;
                                  they end with the band: peers.sh reads both. */
#include "reference.h"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <time.h>

struct plain {
    struct reference_place *place;
    double *T_degC, *W;
    sunindextype *start, *index; /* the pattern: SUNDIALS empties the matrix before each call */
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

/* Puts one entry into the compressed columns; the pattern is made once by the first call. */
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

/* dW_a/dT_b = g_b, dW_b/dT_a = g_a of a flow g_a T_a - g_b T_b, over volume and times dT/dH. */
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

static int jacobian(sunrealtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *data, N_Vector a,
                    N_Vector b, N_Vector c)
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
    memcpy(SUNSparseMatrix_IndexValues(J), p->index, (size_t)p->start[h->n] * sizeof *p->index);
    memset(SUNSparseMatrix_Data(J), 0, (size_t)p->start[h->n] * sizeof(sunrealtype));
    for (size_t i = 0; i < h->n; i++) {
        dT_dH[i] = 1.0 / uf_material_slope_J_m3K(&h->materials[h->material[i]], p->T_degC[i]);
    }
    for (size_t i = 0; i < h->n_cells; i++) {
        const struct uf_material *m = &h->materials[h->conducts[i]];
        const size_t ahead[2] = {i + 1, i + nx};
        const double g[2] = {h->gx_m[i], h->gz_m[i]};
        for (int axis = 0; axis < 2; axis++) {
            if (g[axis] > 0.0) {
                put_pair(
                    J, h, dT_dH, (const size_t[2]){i, ahead[axis]},
                    (const double[2]){g[axis] * uf_material_k_W_mK(m, p->T_degC[i]),
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
        put(J, (sunindextype)cell, (sunindextype)cell, -W_K * dT_dH[cell] / h->volume_m3[cell]);
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
    SUNMatrix J = SUNSparseMatrix((sunindextype)h->n, (sunindextype)h->n, (sunindextype)count,
                                  CSC_MAT, context);
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

struct stock {
    struct plain plain;
    SUNContext context;
    N_Vector y;
    SUNMatrix J;
    SUNLinearSolver solver;
    void *cvode;
};

static void stock_open(struct stock *s, struct reference_place *place, double rtol,
                       double atol_J_m3)
{
    const struct uf_heat *h = place->section->heat;
    struct plain *p = &s->plain;
    *s = (struct stock){.plain = {.place = place,
                                  .T_degC = calloc(h->n, sizeof(double)),
                                  .W = calloc(h->n, sizeof(double))}};
    (void)SUNContext_Create(NULL, &s->context);
    s->y = N_VNew_Serial((sunindextype)h->n, s->context);
    s->J = pattern(h, s->context);
    s->solver = SUNLinSol_KLU(s->y, s->J, s->context);
    const size_t used = (size_t)SUNSparseMatrix_IndexPointers(s->J)[h->n];
    p->start = malloc((h->n + 1) * sizeof *p->start);
    p->index = malloc(used * sizeof *p->index);
    memcpy(p->start, SUNSparseMatrix_IndexPointers(s->J), (h->n + 1) * sizeof *p->start);
    memcpy(p->index, SUNSparseMatrix_IndexValues(s->J), used * sizeof *p->index);
    s->cvode = CVodeCreate(CV_BDF, s->context);
    uf_heat_enthalpies(h, place->start_degC, N_VGetArrayPointer(s->y));
    (void)CVodeInit(s->cvode, rate, 0.0, s->y);
    (void)CVodeSStolerances(s->cvode, rtol, atol_J_m3);
    (void)CVodeSetUserData(s->cvode, p);
    (void)CVodeSetLinearSolver(s->cvode, s->solver, s->J);
    (void)CVodeSetJacFn(s->cvode, jacobian);
    (void)CVodeSetMaxOrd(s->cvode, 2);
    (void)CVodeSetMaxNumSteps(s->cvode, 1000000);
    (void)CVodeSetMaxStep(s->cvode, 5.0 * UF_DAY_S);
}

static void stock_close(struct stock *s)
{
    CVodeFree(&s->cvode);
    (void)SUNLinSolFree(s->solver);
    SUNMatDestroy(s->J);
    N_VDestroy(s->y);
    (void)SUNContext_Free(&s->context);
    free(s->plain.start);
    free(s->plain.index);
    free(s->plain.T_degC);
    free(s->plain.W);
}

static void print_counts(const char *name, double cpu_s, const struct uf_counters *c,
                         const struct reference_errors *errors)
{
    printf("%-15s %.3f s, %ld steps, %ld error-test fails, %ld Newton fails, %ld "
           "iterations, %ld factorisations, %ld rhs\n%16s",
           name, cpu_s, c->steps, c->error_test_failures, c->newton_failures, c->newton_iterations,
           c->factorisations, c->rhs, "");
    reference_print(errors);
}

static double stock(const struct reference *ref, struct reference_place *place, const char *name,
                    const double tolerance[2])
{
    struct stock s;
    struct reference_errors errors = reference_begin();
    sunrealtype reached = 0.0;
    stock_open(&s, place, tolerance[0], tolerance[1]);
    const clock_t start = clock();
    for (int day = 1; day <= REFERENCE_DAYS; day++) {
        if (CVode(s.cvode, day * UF_DAY_S, s.y, &reached, CV_NORMAL) < 0) {
            printf("%s gave up on day %d\n", name, day);
            break;
        }
        if (day >= REFERENCE_DAYS - 365) {
            double got[2];
            const double *H = N_VGetArrayPointer(s.y);
            uf_heat_temperatures(place->section->heat, H, s.plain.T_degC);
            reference_look(place, day, H, s.plain.T_degC, got);
            reference_day(&errors, ref, false, day - (REFERENCE_DAYS - 365), got);
        }
    }
    const double cpu_s = (double)(clock() - start) / CLOCKS_PER_SEC;
    struct uf_counters c = {.rhs = s.plain.rhs};
    (void)CVodeGetNumSteps(s.cvode, &c.steps);
    (void)CVodeGetNumErrTestFails(s.cvode, &c.error_test_failures);
    (void)CVodeGetNumNonlinSolvConvFails(s.cvode, &c.newton_failures);
    (void)CVodeGetNumNonlinSolvIters(s.cvode, &c.newton_iterations);
    (void)CVodeGetNumLinSolvSetups(s.cvode, &c.factorisations);
    print_counts(name, cpu_s, &c, &errors);
    stock_close(&s);
    return cpu_s;
}

static double ours(const struct reference *ref, struct reference_place *place, const char *name,
                   const struct uf_season_options *options)
{
    struct uf_season *season = NULL;
    struct reference_errors errors = reference_begin();
    if (uf_season_create(&season, place->section->heat, options, NULL) != UF_OK) {
        return NAN;
    }
    uf_season_set(season, 0.0, place->start_degC);
    uf_season_drive(season, &place->drive);
    for (int day = 1; day <= REFERENCE_DAYS; day++) {
        (void)uf_season_advance(season, day, NULL);
        if (day >= REFERENCE_DAYS - 365) {
            double got[2];
            reference_look(place, day, uf_season_H_J_m3(season), uf_season_T_degC(season), got);
            reference_day(&errors, ref, false, day - (REFERENCE_DAYS - 365), got);
        }
    }
    const struct uf_counters c = uf_season_counters(season);
    print_counts(name, c.cpu_s, &c, &errors);
    uf_season_free(season);
    return c.cpu_s;
}

int main(int argc, char **argv)
{
    static struct reference ref;
    struct reference_place place;
    struct uf_season_options options = uf_season_defaults();
    const double usual[2] = {options.rtol, options.atol_J_m3};
    static const double others[][2] = {{1e-3, 0.3e6}, {1e-5, 1e4}, {1e-6, 1e3}};
    static const char *const names[] = {"stock-loose", "stock-tight", "stock-tightest"};
    const double rows_cm = argc > 1 ? strtod(argv[1], NULL) : 7.5;
    if (!(rows_cm > 0.0) || !reference_read(&ref)) {
        (void)fprintf(stderr, "usage: bench_plain_cvode [ROWS_CM]\n");
        return 2;
    }
    reference_open(&place, 1e-2 * rows_cm, false);
    printf("Reference problem, bare, rows of %.1f cm, %zu cells; rtol %g, atol %g MJ/m3\n", rows_cm,
           place.section->heat->n_cells, usual[0], 1e-6 * usual[1]);
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        printf("rtol %g, atol %g MJ/m3:\n", others[i][0], 1e-6 * others[i][1]);
        (void)stock(&ref, &place, names[i], others[i]);
    }
    const double stock_s = stock(&ref, &place, "stock", usual);
    options.integrator = UF_BDF;
    const double own_s = ours(&ref, &place, "own-Newton", &options);
    options.integrator = UF_FAST;
    options.steps_per_day = 2.0;
    const double fast_s = ours(&ref, &place, "fast-2", &options);
    options.steps_per_day = 1.0;
    (void)ours(&ref, &place, "fast-1", &options);
    printf("stock / own Newton %.1f, stock / fast %.1f\n", stock_s / own_s, stock_s / fast_s);
    reference_close(&place);
    return 0;
}
