#ifndef UF_FAST_PRIVATE_H
#define UF_FAST_PRIVATE_H

#include "fast.h"

/* The constants of a material with one linear freezing range. */
struct uf_fast_law {
    double H0, T0, T1; /* enthalpy and temperature where freezing ends; where it begins */
    double s;          /* dT/dH while freezing */
    double inv_cu, inv_cf, ku, kf, dk;
};

/* A curved freezing law at even steps: U and T against enthalpy, U against temperature.
 */
#define UF_FAST_BINS 4096
struct uf_fast_table {
    double H0, H_bins_m3_J;            /* enthalpy where the curve ends; bins per J/m3 */
    double T0, T1, T_bins_1_K;         /* the curve's coldest and warmest; bins per K */
    double inv_cu, inv_cf, ku, kf, U0; /* U0: at T0 */
    double *U_H, *T_H, *U_T;           /* [UF_FAST_BINS + 1]; NULL where not used */
};

/* A stretch of cells of one substance. table: index of its table, or -1 = linear range.
 */
struct uf_fast_run {
    size_t from, count;
    struct uf_fast_law law;
    long table;
    bool wants_T; /* some cell of it is the end of a link or lies at the surface */
};

/* Links as arrays, one a member: for those between substances with linear freezing ranges
 * ... */
enum {
    UF_LINK_AREA,
    UF_LINK_FIXED,
    UF_LINK_L1,
    UF_LINK_L2,
    UF_LINK_T0A,
    UF_LINK_T1A,
    UF_LINK_KUA,
    UF_LINK_KFA,
    UF_LINK_DKA,
    UF_LINK_T0B,
    UF_LINK_T1B,
    UF_LINK_KUB,
    UF_LINK_KFB,
    UF_LINK_DKB,
    UF_LINK_TA,
    UF_LINK_TB,
    UF_LINK_W,
    UF_LINK_ARRAYS
};

/* ... and as rows for those with a curved one. */
struct uf_fast_curved {
    size_t a, b;
    double area_m2, fixed_m2K_W, l1_m, l2_m;
    const struct uf_fast_table *table1, *table2; /* NULL: use the law */
    struct uf_fast_law law1, law2;
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
    size_t nx, n_cells, n;
    double *block; /* U, gx, gz with a row of zeros before and after; T, W, 1/V */
    double *U, *gx, *gz, *T, *W, *inv_volume;
    struct uf_fast_run *runs;
    size_t n_runs;
    struct uf_fast_table *tables; /* [n_materials] */
    size_t *odd;                  /* nodes handled one by one: cut cells, lumped bodies */
    size_t n_odd;
    double *links; /* [UF_LINK_ARRAYS][n_links] */
    size_t *link_a, *link_b;
    size_t n_simple;
    double *tops; /* [UF_TOP_ARRAYS][n_tops] */
    bool simple_tops;
    struct uf_fast_curved *curved;
    size_t n_curved;
};

#endif
