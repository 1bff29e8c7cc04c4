#ifndef UF_VERIFY_BENCH_H
#define UF_VERIFY_BENCH_H

#include "cli/verify/exact/box.h"
#include "cli/verify/exact/exact.h"
#include "verify.h"

/* What the transient checks stand on: a box of ground, a season in it, and measures taken
   from its state. */

/* Cells of one size from the start to fine_to_m, then growing; a line on each of
   lines_m (0 = none). */
struct uf_verify_axis {
    double start_m, fine_to_m, size_m, end_m, growth;
    double lines_m[3];
};

struct uf_verify_bench {
    struct uf_box *box;
    struct uf_season *season;
    double *T_degC;                  /* [n] room for a starting state */
    bool *fixed;                     /* [n] the baths */
    double tighter;                  /* set before the start, bdf: times its tolerances; 0 = 1 */
    double outside_degC, film_W_m2K; /* what drives the season: do not move the bench */
};

/* A box of one substance, not joined yet: fill and connect before faces. NULL-safe free. */
enum uf_status uf_verify_bench_create(struct uf_verify_bench *bench, const struct uf_verify_axis *x,
                                      const struct uf_verify_axis *z, bool radial,
                                      const struct uf_material *material, struct uf_error *err);
void uf_verify_bench_free(struct uf_verify_bench *bench);

/* Room for the states of a box that was made elsewhere; on failure everything is freed. */
enum uf_status uf_verify_bench_room(struct uf_verify_bench *bench, struct uf_error *err);

/* Starts a season from degC everywhere (baths at theirs) with the outside at one
   temperature behind a film (INFINITY: the surface itself). Fast: `steps_per_day`; bdf:
   rtol 1e-5, atol 0.01 MJ/m3, fine enough for its error not to show. */
struct uf_verify_start {
    enum uf_integrator integrator;
    double steps_per_day;
    double start_degC, outside_degC, film_W_m2K;
};
enum uf_status uf_verify_bench_start(struct uf_verify_bench *bench,
                                     const struct uf_verify_start *start, struct uf_error *err);

/* Creates a column of one substance with those rows, open at the top, and starts it. */
enum uf_status uf_verify_bench_column(struct uf_verify_bench *bench,
                                      const struct uf_verify_axis *rows,
                                      const struct uf_material *material,
                                      const struct uf_verify_start *start, struct uf_error *err);
extern const struct uf_verify_axis uf_verify_bench_one; /* one cell, 1 m wide */

/* Settles the box instead. The film and outside count only where the top is open. */
enum uf_status uf_verify_bench_settle(struct uf_verify_bench *bench, const struct uf_heat_now *now,
                                      struct uf_error *err);

/* Substance of a ground of the exact solutions: its latent heat over a range `range_K`
   wide below its freezing point, k straight between. A narrow range stands for a sharp
   front. */
enum uf_status uf_verify_bench_soil(struct uf_material *out, const struct uf_exact_ground *ground,
                                    double range_K, struct uf_error *err);

/* Frozen volume of column i, over its plan: the depth of the front, taken from the ice in
   the cells and so free of steps from cell to cell. For a radial row: of the whole row,
   over the row's height and pi, its square root taken: the front's radius. */
double uf_verify_bench_front_m(const struct uf_verify_bench *bench, size_t column);
double uf_verify_bench_radius_m(const struct uf_verify_bench *bench);

/* Temperature at a point now. */
double uf_verify_bench_degC(const struct uf_verify_bench *bench, double x_m, double z_m);

#endif
