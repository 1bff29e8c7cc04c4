#ifndef UF_SCORE_RUN_H
#define UF_SCORE_RUN_H

#include "score.h"
#include "solver/run/run.h"

/* A run held against what was measured beside it. */

enum uf_score_kind {
    UF_SCORE_TEMPERATURE, /* ground at a point, degC */
    UF_SCORE_FROST,       /* depth of the deepest 0 degC line in undisturbed ground, m */
    UF_SCORE_WATER        /* coldest water of the tank, degC */
};

/* One measured series over the days of the run, and what the run says of the same. A temperature is
   compared as the mean of a day, half the sum of its two ends; the others at the end of the day. */
struct uf_score_series {
    enum uf_score_kind kind;
    double x_m, depth_m;         /* of a temperature; x_m NAN: far from the tank */
    double *measured, *computed; /* [days], the caller's; measured NAN: not read, and what
                                    the sifting took out */
    struct uf_score_care care;
    struct uf_score score;
};

/* Frost by the temperatures far from the tank, measured and computed alike as the straight line
   between their depths; the run's own line beside it. */
struct uf_score_profile {
    double *measured_m, *computed_m, *line_m; /* [days], the caller's */
    struct uf_score_frost measured, computed, line;
    size_t sensors;   /* 0: fewer than two depths; then only line is filled */
    double lowest_m;  /* the lowest sensor */
    bool past_lowest; /* it read below 0 degC: frost went deeper than anybody measured */
    double heat_balance_relative;
};

/* Runs the design and fills every series and the profile. Series are taken in the order given;
   temperatures far from the tank need rising depths.
   Errors: those of a run. */
enum uf_status uf_score_run(struct uf_score_series *series, size_t n,
                            struct uf_score_profile *profile, const struct uf_case *design,
                            const struct uf_forcing *forcing, const struct uf_run_options *options,
                            struct uf_error *err);

/* What counts as a dead sensor of that kind. */
struct uf_score_rule uf_score_rule(enum uf_score_kind kind);

#endif
