#include "sparse.h"

#include "sparse_iterate.h"

#include <klu.h>

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

struct uf_sparse {
    int n;
    const struct uf_sparse *like; /* whose pattern and order it has, or NULL: its own */
    size_t n_pairs;
    size_t (*pairs)[2];      /* [n_pairs] */
    int *column_start, *row; /* compressed columns */
    double *value;
    int *slot_ab, *slot_ba, *slot_diagonal;
    klu_common common;
    klu_symbolic *symbolic;
    klu_numeric *numeric;
    double *inverse, *work; /* [n], [8 n] in place of KLU's factors; NULL: KLU */
    double small;           /* share of the right-hand side that iteration may leave */
};

/* Factors dearer than this, by KLU's own guess, are not made: a section's take 1e5 to 1e7 operations,
   those of its slices from 5e7 up, some 1e9 on the default grid. A step of BDF is solved in about five
   iterations, twelve times sooner than by factors of 5e7. */
static const double FLOPS_MOST = 2e7;

static const double SMALL = 1e-10;

static struct uf_sparse_columns columns(const struct uf_sparse *m)
{
    return (struct uf_sparse_columns){m->n, m->column_start, m->row, m->value};
}

/* One entry of the pattern before it is compressed, with the place that wants to know its slot. */
struct entry {
    int column, row;
    int *slot;
};

static int compare_entry(const void *a, const void *b)
{
    const struct entry *x = a;
    const struct entry *y = b;
    if (x->column != y->column) {
        return x->column < y->column ? -1 : 1;
    }
    return (x->row > y->row) - (x->row < y->row);
}

/* Sorts the entries into columns, giving equal ones one slot. */
static void compress(struct uf_sparse *m, struct entry *entries, size_t count)
{
    int slots = 0;
    qsort(entries, count, sizeof *entries, compare_entry);
    for (size_t e = 0; e < count; e++) {
        const bool same = e > 0 && compare_entry(&entries[e], &entries[e - 1]) == 0;
        if (!same) {
            m->row[slots++] = entries[e].row;
            m->column_start[entries[e].column + 1] = slots;
        }
        *entries[e].slot = slots - 1;
    }
}

static bool allocate(struct uf_sparse *m, size_t n, size_t n_pairs)
{
    const size_t most = n + 2 * n_pairs;
    m->column_start = calloc(n + 1, sizeof *m->column_start);
    m->row = calloc(most, sizeof *m->row);
    m->value = calloc(most, sizeof *m->value);
    m->slot_ab = calloc(n_pairs + 1, sizeof *m->slot_ab);
    m->slot_ba = calloc(n_pairs + 1, sizeof *m->slot_ba);
    m->slot_diagonal = calloc(n, sizeof *m->slot_diagonal);
    return m->column_start && m->row && m->value && m->slot_ab && m->slot_ba && m->slot_diagonal;
}

/* Room for iteration, where factors would be too dear. m is the caller's, or freed after a failure. */
static enum uf_status finish(struct uf_sparse **out, struct uf_sparse *m, struct uf_error *err)
{
    const size_t n = (size_t)m->n;
    if (m->symbolic->est_flops > FLOPS_MOST) {
        m->inverse = calloc(n, sizeof *m->inverse);
        m->work = calloc(8 * n, sizeof *m->work);
        if (m->inverse == NULL || m->work == NULL) {
            uf_sparse_free(m);
            return uf_fail(err, UF_E_MEMORY, "out of memory for a matrix of %zu rows", n);
        }
    }
    *out = m;
    return UF_OK;
}

enum uf_status uf_sparse_create(struct uf_sparse **out, size_t n, const size_t (*pairs)[2],
                                size_t n_pairs, struct uf_error *err)
{
    struct uf_sparse *m = calloc(1, sizeof *m);
    struct entry *entries = calloc(n + 2 * n_pairs + 1, sizeof *entries);
    size_t count = 0;
    *out = NULL;
    if (m == NULL || entries == NULL || !allocate(m, n, n_pairs)) {
        free(entries);
        uf_sparse_free(m);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a matrix of %zu rows", n);
    }
    m->n = (int)n;
    m->small = SMALL;
    for (size_t i = 0; i < n; i++) {
        entries[count++] = (struct entry){(int)i, (int)i, &m->slot_diagonal[i]};
    }
    for (size_t p = 0; p < n_pairs; p++) {
        const int a = (int)pairs[p][0];
        const int b = (int)pairs[p][1];
        entries[count++] = (struct entry){b, a, &m->slot_ab[p]};
        entries[count++] = (struct entry){a, b, &m->slot_ba[p]};
    }
    compress(m, entries, count);
    free(entries);
    (void)klu_defaults(&m->common);
    m->symbolic = klu_analyze(m->n, m->column_start, m->row, &m->common);
    if (m->symbolic == NULL) {
        uf_sparse_free(m);
        return uf_fail(err, UF_E_SOLVER, "the matrix could not be ordered");
    }
    return finish(out, m, err);
}

enum uf_status uf_sparse_create_like(struct uf_sparse **out, const struct uf_sparse *like,
                                     struct uf_error *err)
{
    struct uf_sparse *m = calloc(1, sizeof *m);
    *out = NULL;
    if (m == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a matrix of %d rows", like->n);
    }
    *m = *like;
    m->like = like;
    m->numeric = NULL;
    m->inverse = m->work = NULL;
    m->small = SMALL;
    (void)klu_defaults(&m->common);
    m->value = calloc((size_t)like->column_start[like->n] + 1, sizeof *m->value);
    if (m->value == NULL) {
        uf_sparse_free(m);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a matrix of %d rows", like->n);
    }
    return finish(out, m, err);
}

static void free_pattern(struct uf_sparse *m)
{
    if (m->symbolic != NULL) {
        (void)klu_free_symbolic(&m->symbolic, &m->common);
    }
    free(m->column_start);
    free(m->row);
    free(m->slot_ab);
    free(m->slot_ba);
    free(m->slot_diagonal);
}

void uf_sparse_free(struct uf_sparse *m)
{
    if (m == NULL) {
        return;
    }
    if (m->numeric != NULL) {
        (void)klu_free_numeric(&m->numeric, &m->common);
    }
    free(m->value);
    free(m->inverse);
    free(m->work);
    if (m->like == NULL) {
        free_pattern(m);
    }
    free(m);
}

void uf_sparse_zero(struct uf_sparse *m)
{
    memset(m->value, 0, (size_t)m->column_start[m->n] * sizeof *m->value);
}

void uf_sparse_add(struct uf_sparse *m, double factor, const struct uf_sparse *other)
{
    for (int k = 0; k < m->column_start[m->n]; k++) {
        m->value[k] += factor * other->value[k];
    }
}

double *uf_sparse_diagonal(struct uf_sparse *m, size_t i)
{
    return &m->value[m->slot_diagonal[i]];
}

double *uf_sparse_ab(struct uf_sparse *m, size_t p)
{
    return &m->value[m->slot_ab[p]];
}

double *uf_sparse_ba(struct uf_sparse *m, size_t p)
{
    return &m->value[m->slot_ba[p]];
}

void uf_sparse_leave(struct uf_sparse *m, double small)
{
    m->small = small;
}

enum uf_status uf_sparse_factor(struct uf_sparse *m, struct uf_error *err)
{
    const struct uf_sparse_columns a = columns(m);
    if (m->work != NULL) {
        return uf_sparse_iterate_factor(&a, m->inverse)
                   ? UF_OK
                   : uf_fail(err, UF_E_SOLVER, "the matrix of the heat balance is singular");
    }
    if (m->numeric != NULL &&
        klu_refactor(m->column_start, m->row, m->value, m->symbolic, m->numeric, &m->common) &&
        m->common.status == KLU_OK) {
        return UF_OK;
    }
    if (m->numeric != NULL) {
        (void)klu_free_numeric(&m->numeric, &m->common);
    }
    m->numeric = klu_factor(m->column_start, m->row, m->value, m->symbolic, &m->common);
    if (m->numeric == NULL || m->common.status != KLU_OK) {
        return uf_fail(err, UF_E_SOLVER, "the matrix of the heat balance is singular");
    }
    return UF_OK;
}

enum uf_status uf_sparse_solve(struct uf_sparse *m, double *b, struct uf_error *err)
{
    const struct uf_sparse_columns a = columns(m);
    if (m->work != NULL) {
        return uf_sparse_iterate_solve(&a, m->inverse, b, m->work, m->small)
                   ? UF_OK
                   : uf_fail(err, UF_E_SOLVER, "the heat balance could not be solved");
    }
    if (m->numeric == NULL || !klu_solve(m->symbolic, m->numeric, m->n, 1, b, &m->common)) {
        return uf_fail(err, UF_E_SOLVER, "the heat balance could not be solved");
    }
    return UF_OK;
}

enum uf_status uf_sparse_solve_beside(const struct uf_sparse *m, double *b, double *work,
                                      struct uf_error *err)
{
    const struct uf_sparse_columns a = columns(m);
    bool good = false;
    if (m->work != NULL) {
        good = uf_sparse_iterate_solve(&a, m->inverse, b, work, m->small);
    } else if (m->numeric != NULL) { /* the factors are read; its room to work in is written */
        klu_common common = m->common;
        klu_numeric numeric = *m->numeric;
        numeric.Xwork = work;
        good = klu_solve(m->symbolic, &numeric, m->n, 1, b, &common) != 0;
    }
    return good ? UF_OK : uf_fail(err, UF_E_SOLVER, "the heat balance could not be solved");
}
