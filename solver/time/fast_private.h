#ifndef UF_FAST_PRIVATE_H
#define UF_FAST_PRIVATE_H

#include "fast.h"
#include "solver/base/clones.h"

#define UF_FAST_CLONES UF_CLONES

/* Arrays begin at whole cache lines; lists are filled up to whole ones with entries that
   do no harm, so that no loop over them has a rest. */
#define UF_FAST_LINE 8
static inline size_t uf_fast_lines(size_t n)
{
    return (n + UF_FAST_LINE - 1) / UF_FAST_LINE * UF_FAST_LINE;
}

/* The choice between two sums keeps a loop from being vectorised; the larger of two does
   not. */
static inline double uf_fast_larger(double a, double b)
{
    return a > b ? a : b;
}
static inline double uf_fast_smaller(double a, double b)
{
    return a < b ? a : b;
}

/* The constants of a material with one linear freezing range. */
struct uf_fast_law {
    double H0, T0, T1; /* enthalpy and temperature where freezing ends; where it begins */
    double s;          /* dT/dH while freezing */
    double inv_cu, inv_cf, ku, kf, dk;
};

/* A curved freezing law at even steps: U and T against enthalpy, U against temperature. Each entry is a
   value and the step to the next, which lie side by side in the cache. */
#define UF_FAST_BINS 4096
struct uf_fast_table {
    double H0, H_bins_m3_J;            /* enthalpy where the curve ends; bins per J/m3 */
    double T0, T1, T_bins_1_K;         /* the curve's coldest and warmest; bins per K */
    double inv_cu, inv_cf, ku, kf, U0; /* U0: at T0 */
    double *U_H, *T_H, *U_T;           /* [UF_FAST_BINS + 1][2]; NULL where not used */
};
static inline double uf_fast_look(const double *entries, int bin, double part)
{
    return entries[2 * bin] + part * entries[2 * bin + 1];
}

/* fast_law.c: from a material; the table is made on first use. false: out of memory. */
struct uf_fast_law uf_fast_law_of(const struct uf_material *material);
bool uf_fast_law_table(struct uf_fast_table *table, const struct uf_material *material);

/* A substance: its table, or its law where table is NULL. */
struct uf_fast_kind {
    struct uf_fast_law law;
    const struct uf_fast_table *table;
};

/* Cells looked at together: where all of a block are thawed, one branch of a curved law
   is enough. */
#define UF_FAST_BLOCK 32

/* A stretch of cells of one substance, over cells of others that are done after it; or a
   group of nodes here and there, that fills whole lines. */
struct uf_fast_run {
    size_t from, count;
    struct uf_fast_kind kind;
};
struct uf_fast_list {
    uint32_t *node;
    double *H, *out; /* today's */
    struct uf_fast_run *groups;
    size_t n, n_groups;
};

/* Nodes of several breakpoints, mostly cut cells. Arrays, one a member. */
enum {
    UF_RAMP_LAST, /* temperature at the last breakpoint, where H is 0 */
    UF_RAMP_INV_CU,
    UF_RAMP_INV_CF,
    UF_RAMP_H0, /* four breakpoints, the first repeated where there are fewer */
    UF_RAMP_H1,
    UF_RAMP_H2,
    UF_RAMP_H3,
    UF_RAMP_S0, /* dT/dH between them */
    UF_RAMP_S1,
    UF_RAMP_S2,
    UF_RAMP_H, /* today's */
    UF_RAMP_T,
    UF_RAMP_ARRAYS
};
#define UF_RAMP_POINTS 4

/* Nodes whose temperature someone asks for, ends of links and cells at the surface, by
   how it is found: with a block of a run that has a table, by groups, by ramps, one by one. */
struct uf_fast_asked {
    struct uf_fast_list plain;
    double *ramps; /* [UF_RAMP_ARRAYS][stride] */
    size_t stride;
    uint32_t *ramp, *other;
    size_t n_ramp, n_other;
};

/* Links as arrays, one a member, grouped by the two substances on their way: those
   between linear freezing ranges ... */
enum {
    UF_LINK_AREA,
    UF_LINK_FIXED,
    UF_LINK_L1,
    UF_LINK_L2,
    UF_LINK_INV_A, /* 1/V of its ends */
    UF_LINK_INV_B,
    UF_LINK_TA, /* today's */
    UF_LINK_TB,
    UF_LINK_W,
    UF_LINK_RATE_A,
    UF_LINK_RATE_B,
    UF_LINK_ARRAYS
};
struct uf_fast_pair {
    struct uf_fast_law law_a, law_b;
    size_t from, count;
};

/* ... and as rows those with a curved one: what is needed where both ends are thawed, and the
   rest. */
struct uf_fast_curved {
    uint32_t a, b;
    double inv_a, inv_b;
    double thawed_degC, thawed_W_K; /* its conductance with both ends at or above it */
    double W;                       /* today's flow from a to b */
};
struct uf_fast_curved_way {
    double area_m2, fixed_m2K_W, l1_m, l2_m;
    struct uf_fast_kind kind_a, kind_b;
};

struct uf_fast_links {
    double *rows; /* [UF_LINK_ARRAYS][stride] */
    size_t stride;
    uint32_t *a, *b; /* [stride] */
    struct uf_fast_pair *pairs;
    size_t n_pairs;
    struct uf_fast_curved *curved;
    struct uf_fast_curved_way *curved_ways; /* [n_curved] */
    size_t n_curved;
};

/* Top cells as arrays, where all have linear freezing ranges. */
enum {
    UF_TOP_AREA,
    UF_TOP_HALF,
    UF_TOP_T0,
    UF_TOP_T1,
    UF_TOP_KU,
    UF_TOP_KF,
    UF_TOP_DK,
    UF_TOP_T,
    UF_TOP_W,
    UF_TOP_ARRAYS
};

struct uf_fast {
    const struct uf_heat *heat;
    size_t nx, slice, n_slices, n_cells, n; /* slice: cells of one */
    double *block; /* room for the next two lines; a row or a slice before and after each */
    double *gx, *gz, *gy, *T, *inv_volume, *none; /* none: zeros */
    double *U;                                    /* [n_ring] slices, wide apart: those in hand */
    size_t n_ring, wide;
    double bottom_W; /* sum over the lowest row */
    struct uf_fast_run *runs;
    size_t n_runs;
    bool *wants_T;     /* [n_cells] where a block of a run with a table begins: temperature too */
    size_t *first_run; /* [n_slices + 1] runs of a slice */
    struct uf_fast_table *tables; /* [n_materials] */
    struct uf_fast_list *briefs;  /* [n_slices] cells in stretches too short for a run, counted
                                     from the slice's first */
    struct uf_fast_asked asked;
    struct uf_fast_links links;
    double *tops; /* [UF_TOP_ARRAYS][n_tops] */
    bool simple_tops;
};

/* fast_law.c: of a material that is simple or has its table. */
struct uf_fast_kind uf_fast_law_kind(const struct uf_fast *fast, size_t material);

/* fast_list.c: groups the marked nodes [n] of linear freezing ranges by substance. */
bool uf_fast_list_create(struct uf_fast_list *list, const struct uf_fast *fast, const bool *marked);
void uf_fast_list_free(struct uf_fast_list *list);

/* fast_convert.c: U of the cells of slice k, into U [slice], and, after all slices, T of every
   node that is asked for, from the enthalpies start + more [n]. */
void uf_fast_convert_slice(struct uf_fast *fast, size_t k, const double *start, const double *more,
                           double *U);
void uf_fast_convert_asked(struct uf_fast *fast, const double *start, const double *more);

/* fast_link.c. Made after volumes and runs; add puts scale times what
   flows through the links to rate [n]; the last gives today's sum into one node, W. */
bool uf_fast_link_create(struct uf_fast *fast);
void uf_fast_link_free(struct uf_fast_links *links);
void uf_fast_link_add(struct uf_fast *fast, double scale, double *rate);
double uf_fast_link_into_W(const struct uf_fast *fast, size_t node);

/* U(a) - U(b) of one linear freezing range. */
static inline double uf_fast_difference(double a, double b, double T0, double T1, double ku,
                                        double kf, double dk)
{
    const double up = uf_fast_larger(a, T1) - uf_fast_larger(b, T1);
    const double low = uf_fast_smaller(a, T0) - uf_fast_smaller(b, T0);
    const double a_mid = uf_fast_smaller(uf_fast_larger(a, T0), T1) - T1;
    const double b_mid = uf_fast_smaller(uf_fast_larger(b, T0), T1) - T1;
    return ku * up + kf * low + (a_mid - b_mid) * (ku + 0.5 * dk * (a_mid + b_mid));
}

/* Temperatures closer than this give no secant; a nearby pair stands for them. */
#define UF_FAST_LEAST_K 1e-6
static inline double uf_fast_safe(double dT)
{
    return dT > UF_FAST_LEAST_K || dT < -UF_FAST_LEAST_K ? dT : UF_FAST_LEAST_K;
}

/* fast_compile.c: nodes whose temperature someone asks for: ends of links, the top row, what lies under
   risers and beside them, lumped bodies. [n]; the caller's; NULL: no memory. */
bool *uf_fast_compile_asked(const struct uf_heat *heat);

#endif
