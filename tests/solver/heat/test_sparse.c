#include "solver/heat/sparse.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>

enum { N = 40, NX = 8 };

/* The pattern of a five-point grid of N nodes, NX a row, and one pair far apart that is
   listed twice. */
static size_t grid_pairs(size_t (*pairs)[2])
{
    size_t count = 0;
    for (size_t c = 0; c < N; c++) {
        if (c % NX + 1 < NX) {
            pairs[count][0] = c;
            pairs[count++][1] = c + 1;
        }
        if (c + NX < N) {
            pairs[count][0] = c;
            pairs[count++][1] = c + NX;
        }
    }
    for (int twice = 0; twice < 2; twice++) {
        pairs[count][0] = 37;
        pairs[count++][1] = 2;
    }
    return count;
}

static double noise(unsigned *seed)
{
    *seed = *seed * 1103515245u + 12345u;
    return (double)(*seed >> 8) / 16777216.0;
}

/* Fills the matrix and a dense copy of it with an unsymmetric, dominant set of values. */
static void fill(struct uf_sparse *matrix, double dense[N][N], size_t (*pairs)[2], size_t n_pairs,
                 unsigned seed)
{
    for (size_t i = 0; i < N; i++) {
        for (size_t j = 0; j < N; j++) {
            dense[i][j] = 0.0;
        }
    }
    uf_sparse_zero(matrix);
    for (size_t p = 0; p < n_pairs; p++) {
        const size_t a = pairs[p][0];
        const size_t b = pairs[p][1];
        const double ab = noise(&seed);
        const double ba = noise(&seed);
        *uf_sparse_ab(matrix, p) -= ab;
        *uf_sparse_ba(matrix, p) -= ba;
        *uf_sparse_diagonal(matrix, a) += ba;
        *uf_sparse_diagonal(matrix, b) += ab;
        dense[a][b] -= ab;
        dense[b][a] -= ba;
        dense[a][a] += ba;
        dense[b][b] += ab;
    }
    for (size_t i = 0; i < N; i++) {
        *uf_sparse_diagonal(matrix, i) += 1.0;
        dense[i][i] += 1.0;
    }
}

static void check_solution(struct uf_sparse *matrix, double dense[N][N])
{
    double x[N];
    double b[N];
    for (size_t i = 0; i < N; i++) {
        x[i] = sin(1.0 + (double)i);
    }
    for (size_t i = 0; i < N; i++) {
        b[i] = 0.0;
        for (size_t j = 0; j < N; j++) {
            b[i] += dense[i][j] * x[j];
        }
    }
    cr_assert(uf_sparse_factor(matrix, NULL) == UF_OK);
    cr_assert(uf_sparse_solve(matrix, b, NULL) == UF_OK);
    for (size_t i = 0; i < N; i++) {
        cr_expect(fabs(b[i] - x[i]) < 1e-12, "row %zu: %g for %g", i, b[i], x[i]);
    }
}

Test(sparse, solves_what_a_dense_product_made)
{
    static double dense[N][N];
    size_t pairs[2 * N + 2][2];
    const size_t n_pairs = grid_pairs(pairs);
    struct uf_sparse *matrix = NULL;
    cr_assert(uf_sparse_create(&matrix, N, (const size_t(*)[2])pairs, n_pairs, NULL) == UF_OK);
    for (unsigned seed = 1; seed < 5; seed++) { /* the order of the first is kept */
        fill(matrix, dense, pairs, n_pairs, seed);
        check_solution(matrix, dense);
    }
    uf_sparse_free(matrix);
}

/* A + 2 B of two matrices of one pattern. */
/* The order of another, the numbers its own. */
Test(sparse, one_like_another_solves_its_own_values)
{
    size_t pairs[2 * N + 2][2];
    double dense[N][N], other_dense[N][N];
    const size_t n_pairs = grid_pairs(pairs);
    struct uf_sparse *matrix = NULL, *other = NULL;
    cr_assert_eq(uf_sparse_create(&matrix, N, (const size_t(*)[2])pairs, n_pairs, NULL), UF_OK);
    cr_assert_eq(uf_sparse_create_like(&other, matrix, NULL), UF_OK);
    fill(matrix, dense, pairs, n_pairs, 5);
    fill(other, other_dense, pairs, n_pairs, 9);
    check_solution(matrix, dense);
    check_solution(other, other_dense);
    uf_sparse_free(other);
    check_solution(matrix, dense);
    uf_sparse_free(matrix);
}

/* Beside others, who have room of their own to work in. */
Test(sparse, factors_that_are_lent_solve_the_same)
{
    size_t pairs[2 * N + 2][2];
    double dense[N][N], a[N], b[N], work[8 * N];
    const size_t n_pairs = grid_pairs(pairs);
    struct uf_sparse *matrix = NULL;
    cr_assert_eq(uf_sparse_create(&matrix, N, (const size_t(*)[2])pairs, n_pairs, NULL), UF_OK);
    cr_expect_eq(uf_sparse_solve_beside(matrix, a, work, NULL), UF_E_SOLVER); /* no factors yet */
    fill(matrix, dense, pairs, n_pairs, 5);
    check_solution(matrix, dense);
    for (size_t i = 0; i < N; i++) {
        a[i] = b[i] = sin(2.0 + (double)i);
    }
    cr_expect_eq(uf_sparse_solve(matrix, a, NULL), UF_OK);
    cr_expect_eq(uf_sparse_solve_beside(matrix, b, work, NULL), UF_OK);
    for (size_t i = 0; i < N; i++) {
        cr_expect_eq(a[i], b[i]);
    }
    uf_sparse_free(matrix);
}

Test(sparse, a_sum_is_that_of_the_dense_ones)
{
    static double a[N][N], b[N][N];
    size_t pairs[2 * N + 2][2];
    const size_t n_pairs = grid_pairs(pairs);
    struct uf_sparse *A = NULL, *B = NULL;
    cr_assert(uf_sparse_create(&A, N, (const size_t(*)[2])pairs, n_pairs, NULL) == UF_OK);
    cr_assert(uf_sparse_create(&B, N, (const size_t(*)[2])pairs, n_pairs, NULL) == UF_OK);
    fill(A, a, pairs, n_pairs, 7);
    fill(B, b, pairs, n_pairs, 8);
    uf_sparse_add(A, 2.0, B);
    for (size_t i = 0; i < N; i++) {
        for (size_t j = 0; j < N; j++) {
            a[i][j] += 2.0 * b[i][j];
        }
    }
    check_solution(A, a);
    uf_sparse_free(A);
    uf_sparse_free(B);
}

Test(sparse, a_repeated_pair_shares_its_place)
{
    size_t pairs[2 * N + 2][2];
    const size_t n_pairs = grid_pairs(pairs);
    struct uf_sparse *matrix = NULL;
    cr_assert(uf_sparse_create(&matrix, N, (const size_t(*)[2])pairs, n_pairs, NULL) == UF_OK);
    cr_expect(uf_sparse_ab(matrix, n_pairs - 1) == uf_sparse_ab(matrix, n_pairs - 2));
    cr_expect(uf_sparse_ba(matrix, n_pairs - 1) == uf_sparse_ba(matrix, n_pairs - 2));
    cr_expect(uf_sparse_ab(matrix, 0) != uf_sparse_ba(matrix, 0));
    uf_sparse_free(matrix);
}

Test(sparse, a_singular_matrix_is_refused_and_can_be_mended)
{
    const size_t pairs[][2] = {{0, 1}};
    struct uf_sparse *matrix = NULL;
    struct uf_error err = {0};
    double b[] = {1.0, 3.0};
    cr_assert(uf_sparse_create(&matrix, 2, pairs, 1, NULL) == UF_OK);
    *uf_sparse_diagonal(matrix, 0) = *uf_sparse_diagonal(matrix, 1) = 1.0;
    *uf_sparse_ab(matrix, 0) = *uf_sparse_ba(matrix, 0) = 1.0;
    cr_expect(uf_sparse_factor(matrix, &err) == UF_E_SOLVER);
    cr_expect(uf_sparse_solve(matrix, b, &err) == UF_E_SOLVER, "no factors to solve with");
    *uf_sparse_diagonal(matrix, 1) = 2.0;
    cr_expect(uf_sparse_factor(matrix, &err) == UF_OK);
    cr_expect(uf_sparse_solve(matrix, b, &err) == UF_OK);
    cr_expect(fabs(b[0] + 1.0) < 1e-12 && fabs(b[1] - 2.0) < 1e-12);
    uf_sparse_free(matrix);
    uf_sparse_free(NULL);
}

Test(sparse, a_matrix_without_pairs_is_its_diagonal)
{
    struct uf_sparse *matrix = NULL;
    double b[] = {6.0, 8.0};
    cr_assert(uf_sparse_create(&matrix, 2, NULL, 0, NULL) == UF_OK);
    *uf_sparse_diagonal(matrix, 0) = 2.0;
    *uf_sparse_diagonal(matrix, 1) = 4.0;
    cr_expect(uf_sparse_factor(matrix, NULL) == UF_OK);
    cr_expect(uf_sparse_solve(matrix, b, NULL) == UF_OK);
    cr_expect(b[0] == 3.0 && b[1] == 2.0);
    uf_sparse_free(matrix);
}

/* A body of 30 x 30 x 30 cells, whose factors would fill up: solved by iteration, to the
   residual it promises. */
Test(sparse, a_body_is_solved_by_iteration)
{
    enum { SIDE = 30, ALL = SIDE * SIDE * SIDE };
    size_t(*pairs)[2] = calloc((size_t)3 * ALL, sizeof *pairs);
    double *x = calloc((size_t)3 * ALL, sizeof *x);
    struct uf_sparse *matrix = NULL;
    size_t n = 0;
    unsigned seed = 3;
    const size_t steps[3] = {1, SIDE, (size_t)SIDE * SIDE};
    cr_assert(pairs != NULL && x != NULL);
    for (size_t c = 0; c < ALL; c++) {
        for (size_t axis = 0; axis < 3; axis++) {
            if (c / steps[axis] % SIDE + 1 < SIDE) {
                pairs[n][0] = c;
                pairs[n++][1] = c + steps[axis];
            }
        }
    }
    cr_assert(uf_sparse_create(&matrix, ALL, (const size_t(*)[2])pairs, n, NULL) == UF_OK);
    double *const b = x + ALL;
    double *const left = b + ALL;
    for (size_t p = 0; p < n; p++) {
        const double g = 0.1 + noise(&seed);
        *uf_sparse_ab(matrix, p) -= g;
        *uf_sparse_ba(matrix, p) -= 1.1 * g;
        *uf_sparse_diagonal(matrix, pairs[p][0]) += 1.1 * g;
        *uf_sparse_diagonal(matrix, pairs[p][1]) += g;
    }
    *uf_sparse_diagonal(matrix, 0) += 1.0;
    for (size_t i = 0; i < ALL; i++) {
        x[i] = b[i] = noise(&seed) - 0.5;
        left[i] = b[i];
    }
    cr_assert(uf_sparse_factor(matrix, NULL) == UF_OK);
    cr_assert(uf_sparse_solve(matrix, x, NULL) == UF_OK);
    double worst = 0.0;
    for (size_t p = 0; p < n; p++) {
        left[pairs[p][0]] -= *uf_sparse_ab(matrix, p) * x[pairs[p][1]];
        left[pairs[p][1]] -= *uf_sparse_ba(matrix, p) * x[pairs[p][0]];
    }
    for (size_t i = 0; i < ALL; i++) {
        worst = fmax(worst, fabs(left[i] - *uf_sparse_diagonal(matrix, i) * x[i]));
    }
    cr_expect(worst < 1e-7, "%g", worst);
    uf_sparse_free(matrix);
    free(pairs);
    free(x);
}
