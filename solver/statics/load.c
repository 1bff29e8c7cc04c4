#include "load.h"

#include <math.h>

/* From here down a tyre counts as a point; common practice, no source. */
#define POINT_FROM_M (2.0 * UF_FOOT_M)

const struct uf_load_method_row uf_load_methods[UF_LOAD_METHODS] = {
    [UF_LOAD_TABLE] = {"published H-20 table, impact included",
                       "long-standing pipe-industry table, one public transcription; its value at "
                       "1 ft from memory"},
    [UF_LOAD_SPREAD] =
        {"square of side 1.75 H",
         "AASHTO Standard Specifications 6.4, spread read as quoted, two wheels from memory; "
         "impact by a textbook on buried pipe design, table 2.5"},
    [UF_LOAD_POINT] =
        {"Boussinesq, point load",
         "Boussinesq (1885), read as quoted; impact by a textbook on buried pipe design, table "
         "2.5"},
    [UF_LOAD_PATCH] =
        {"Boussinesq, tyre 20 x 10 in.",
         "Boussinesq (1885) over a rectangle, Newmark (1935), read as quoted; impact by a textbook on "
         "buried pipe design, table 2.5"},
    [UF_LOAD_LRFD] =
        {"tyre spread by 1.15 H, own impact",
         "AASHTO LRFD: tyre (3.6.1.2.5) read, spread of older editions read as quoted, impact "
         "from memory"},
};

double uf_load_table_Pa(double depth_m)
{
    static const double rows_psi[] = {12.50, 5.56, 4.17, 2.78, 1.74, 1.39, 1.22, 0.69};
    static const int n = sizeof rows_psi / sizeof rows_psi[0];
    const double depth_ft = depth_m / UF_FOOT_M;
    if (!(depth_ft >= 1.0 - 1e-12)) {
        return NAN;
    }
    if (depth_ft >= (double)n) {
        return rows_psi[n - 1] * UF_PSI_PA;
    }
    const int i = (int)fmax(0.0, floor(depth_ft) - 1.0);
    const double share = depth_ft - (double)(i + 1);
    return UF_PSI_PA * (rows_psi[i] + share * (rows_psi[i + 1] - rows_psi[i]));
}

double uf_load_spread_Pa(double wheel_N, double depth_m)
{
    const double side_m = 1.75 * depth_m;
    if (!(depth_m >= 2.0 * UF_FOOT_M - 1e-12)) {
        return NAN;
    }
    if (side_m < UF_LOAD_GAUGE_M) {
        return wheel_N / (side_m * side_m);
    }
    return 2.0 * wheel_N / (side_m * (side_m + UF_LOAD_GAUGE_M));
}

double uf_load_point_Pa(double wheel_N, double depth_m)
{
    return 1.5 * wheel_N / (UF_PI * depth_m * depth_m);
}

double uf_load_corner_share(double m, double n)
{
    const double v = m * m + n * n + 1.0, w = m * m * n * n;
    const double root = 2.0 * m * n * sqrt(v);
    return (root / (v + w) * (v + 1.0) / v + atan2(root, v - w)) / (4.0 * UF_PI);
}

double uf_load_patch_Pa(double wheel_N, double depth_m)
{
    const double long_m = UF_LOAD_TYRE_LONG_M, short_m = UF_LOAD_TYRE_SHORT_M;
    const double share = uf_load_corner_share(0.5 * long_m / depth_m, 0.5 * short_m / depth_m);
    return 4.0 * share * wheel_N / (long_m * short_m);
}

double uf_load_lrfd_Pa(double wheel_N, double depth_m)
{
    const double spread_m = 1.15 * depth_m;
    const double impact = fmax(0.0, 0.33 * (1.0 - 0.125 * depth_m / UF_FOOT_M));
    return wheel_N * (1.0 + impact) /
           ((20.0 * UF_INCH_M + spread_m) * (10.0 * UF_INCH_M + spread_m));
}

double uf_load_impact(double depth_m)
{
    static const double steps[] = {1.50, 1.35, 1.15};
    const double depth_ft = depth_m / UF_FOOT_M + 1e-12;
    return depth_ft < 3.0 ? steps[(int)fmax(0.0, floor(depth_ft))] : 1.0;
}

static void fill_live(struct uf_load *out, const struct uf_case *design)
{
    const double depth_m = out->depth_m, impact = uf_load_impact(depth_m);
    const double wheel_N = design->wheel_N;
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        out->live_Pa[i] = 0.0;
    }
    if (!(wheel_N > 0.0)) {
        return;
    }
    out->live_Pa[UF_LOAD_TABLE] = design->wheel_h20 ? uf_load_table_Pa(depth_m) : (double)NAN;
    out->live_Pa[UF_LOAD_SPREAD] = impact * uf_load_spread_Pa(wheel_N, depth_m);
    out->live_Pa[UF_LOAD_POINT] =
        depth_m >= POINT_FROM_M ? impact * uf_load_point_Pa(wheel_N, depth_m) : (double)NAN;
    out->live_Pa[UF_LOAD_PATCH] = impact * uf_load_patch_Pa(wheel_N, depth_m);
    out->live_Pa[UF_LOAD_LRFD] = uf_load_lrfd_Pa(wheel_N, depth_m);
}

/* The method the site names, where it reaches this depth; else the one that uses most. */
static enum uf_load_method verdict_method(const struct uf_load *load, int named)
{
    size_t worst = UF_LOAD_PATCH; /* reaches everywhere */
    if (named >= 0 && !isnan(load->use[named])) {
        return (enum uf_load_method)named;
    }
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        worst = load->use[i] > load->use[worst] ? i : worst;
    }
    return (enum uf_load_method)worst;
}

/* Ground to that depth, moist or soaked; its shares into log, or NULL. NAN with an error. */
static enum uf_status press_soil(double *out_Pa, struct uf_column_log *log,
                                 const struct uf_case *design, const struct uf_column_soils *soils,
                                 const struct uf_column_span *span, struct uf_error *err)
{
    struct uf_column column;
    struct uf_column_weight weight;
    uf_column_build(&column, design, soils, design->board.thickness_m);
    column.log = log;
    const enum uf_status status = uf_column_prism(&weight, &column, span, 1.0, err);
    *out_Pa = status == UF_OK ? weight.total_N : (double)NAN;
    return status;
}

enum uf_status uf_load_soil_Pa(double *out, const struct uf_case *design,
                               const struct uf_column_soils *soils, double depth_m,
                               struct uf_error *err)
{
    const struct uf_column_span moist = {0.0, depth_m, INFINITY}, soaked = {0.0, depth_m, 0.0};
    double moist_Pa, soaked_Pa;
    struct uf_error moist_err;
    (void)press_soil(&moist_Pa, NULL, design, soils, &moist, &moist_err);
    const enum uf_status status = press_soil(&soaked_Pa, NULL, design, soils, &soaked, err);
    *out = fmax(moist_Pa, soaked_Pa); /* of one that is NAN the other */
    return isnan(*out) ? status : UF_OK;
}

enum uf_status uf_load_soil_shares(struct uf_column_log *out, const struct uf_case *design,
                                   const struct uf_column_soils *soils, double depth_m,
                                   struct uf_error *err)
{
    const struct uf_column_span moist = {0.0, depth_m, INFINITY}, soaked = {0.0, depth_m, 0.0};
    double heavier_Pa, soaked_Pa;
    struct uf_error soaked_err;
    const enum uf_status status = uf_load_soil_Pa(&heavier_Pa, design, soils, depth_m, err);
    *out = (struct uf_column_log){.part = ""};
    if (status != UF_OK) {
        return status;
    }
    (void)press_soil(&soaked_Pa, NULL, design, soils, &soaked, &soaked_err);
    return press_soil(&heavier_Pa, out, design, soils, soaked_Pa >= heavier_Pa ? &soaked : &moist,
                      err);
}

/* Everything but the covers it would hold at. */
static enum uf_status press(struct uf_load *out, const struct uf_case *design,
                            const struct uf_column_soils *soils, struct uf_error *err)
{
    out->depth_m = uf_case_board_top_m(design);
    if (!(out->depth_m > 0.0)) {
        return uf_fail_key(
            err, UF_E_RANGE, "board.thickness",
            UF_SAID("the board's top would lie {} above grade", UF_OF(LENGTH, -out->depth_m)),
            UF_PLAIN("above_crown and thickness together less than burial.cover"));
    }
    const enum uf_status status = uf_load_soil_Pa(&out->dead_Pa, design, soils, out->depth_m, err);
    if (status != UF_OK) {
        return status;
    }
    fill_live(out, design);
    out->dead_limit_Pa = design->board.strength_Pa / 3.0;
    out->live_limit_Pa = design->board.strength_Pa / 5.0;
    for (size_t i = 0; i < UF_LOAD_METHODS; i++) {
        out->use[i] = out->dead_Pa / out->dead_limit_Pa + out->live_Pa[i] / out->live_limit_Pa;
    }
    out->method = verdict_method(out, design->load_method);
    out->board_use = out->use[out->method];
    return UF_OK;
}

/* Halves the bracket between a cover that holds and one that does not. */
static enum uf_status narrow(double *out_m, struct uf_case *trial,
                             const struct uf_column_soils *soils, double holds_m, double fails_m,
                             struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (int i = 0; i < 60 && status == UF_OK; i++) {
        struct uf_load load = {.board_use = INFINITY};
        trial->burial.cover_m = 0.5 * (holds_m + fails_m);
        status = press(&load, trial, soils, err);
        *(load.board_use <= 1.0 ? &holds_m : &fails_m) = trial->burial.cover_m;
    }
    *out_m = holds_m;
    return status;
}

/* Walks down from the shallowest cover to the end of the first stretch that holds, or to
   where a soil's weight is no longer known. */
static enum uf_status find_covers(struct uf_load *out, const struct uf_case *design,
                                  const struct uf_column_soils *soils, struct uf_error *err)
{
    static const double step_m = 0.02;
    struct uf_case trial = *design;
    const double least_m = design->board.above_crown_m + design->board.thickness_m + 1e-6;
    const int steps = (int)fmax(0.0, (UF_LOAD_DEEPEST_M - least_m) / step_m);
    double before_m = least_m;
    out->cover_from_m = out->cover_to_m = NAN;
    for (int i = 0; i < steps; i++) {
        struct uf_load load = {.board_use = INFINITY};
        const double cover_m = least_m + step_m * (double)i;
        trial.burial.cover_m = cover_m;
        enum uf_status status = press(&load, &trial, soils, err);
        if (status == UF_E_INPUT && cover_m > design->burial.cover_m) {
            break;
        }
        const bool holds = status == UF_OK && load.board_use <= 1.0;
        if (holds && isnan(out->cover_from_m)) {
            status = narrow(&out->cover_from_m, &trial, soils, cover_m, before_m, err);
        }
        if (status == UF_OK && !holds && !isnan(out->cover_from_m)) {
            return narrow(&out->cover_to_m, &trial, soils, before_m, cover_m, err);
        }
        if (status != UF_OK) {
            return status;
        }
        before_m = cover_m;
    }
    if (!isnan(out->cover_from_m)) {
        out->cover_to_m = before_m;
    }
    return UF_OK;
}

enum uf_status uf_load(struct uf_load *out, const struct uf_case *design,
                       const struct uf_column_soils *soils, struct uf_error *err)
{
    *out = (struct uf_load){.present = uf_case_has_board(design)};
    if (!out->present) {
        return UF_OK;
    }
    if (!(design->board.strength_Pa > 0.0)) {
        return uf_fail_key(err, UF_E_INPUT, "board.type",
                           UF_PLAIN("the board's strength is not known"),
                           UF_PLAIN("name a row of the board table or give strength"));
    }
    const enum uf_status status = press(out, design, soils, err);
    return status == UF_OK ? find_covers(out, design, soils, err) : status;
}
