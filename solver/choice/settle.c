#include "settle.h"

#include "solver/design/anchor.h"
#include "solver/design/foam.h"
#include "solver/design/tank.h"
#include "solver/statics/load.h"
#include "solver/statics/uplift.h"
#include "solver/works/cost.h"
#include "variant.h"

#include <math.h>
#include <string.h>

/* The weakest type that carries the load, from the weakest up. */
static enum uf_status settle_board(struct uf_case *design, struct uf_error *err)
{
    struct uf_column_soils soils;
    enum uf_status status = uf_column_soils(&soils, design, err);
    double above_Pa = 0.0;
    bool carries = false;
    while (status == UF_OK && !carries) {
        const struct uf_foam *next = NULL;
        for (const struct uf_foam *row = uf_foam_table; row->name != NULL; row++) {
            if (strcmp(row->kind, "XPS") == 0 && row->strength_Pa > above_Pa &&
                (next == NULL || row->strength_Pa < next->strength_Pa)) {
                next = row;
            }
        }
        if (next == NULL) {
            break;
        }
        struct uf_load load;
        uf_foam_put(&design->board, next);
        above_Pa = next->strength_Pa;
        if (uf_case_has_board(design) && uf_case_board_top_m(design) > 0.0) {
            status = uf_load(&load, design, &soils, err);
            carries = status == UF_OK && load.board_use <= 1.0;
        } else {
            carries = true; /* nothing to carry; told elsewhere */
        }
    }
    return status;
}

/* Least factor of a design, in every sensitivity case too where asked; INFINITY: nothing lifts. */
static enum uf_status least_factor(double *out, const struct uf_case *design, bool sure,
                                   struct uf_error *err)
{
    *out = INFINITY;
    for (size_t i = 0; i <= (sure ? (size_t)UF_VARIANTS : 0); i++) {
        struct uf_case trial = *design;
        struct uf_column_soils soils;
        struct uf_holddown balance;
        if (i > 0 && ((design->sensitivity.left_out >> (i - 1) & 1UL) != 0 ||
                      !uf_variants[i - 1].apply(&trial))) {
            continue;
        }
        enum uf_status status = uf_column_soils(&soils, &trial, err);
        if (status == UF_OK) {
            status = uf_holddown_at(&balance, &trial, &soils, trial.ground.water_highest_m, err);
        }
        if (status != UF_OK) {
            return status;
        }
        *out = fmin(*out, balance.factor_submerged); /* fmin passes a NAN over */
    }
    return UF_OK;
}

/* The smallest size of a kind that is enough, in whole steps; *enough false: none is. */
static enum uf_status fit(struct uf_case *out, bool *enough, const struct uf_case *bare,
                          const struct uf_anchor_row *row, bool sure, struct uf_error *err)
{
    const double most_m = fmin(row->most_m, row->room_m(bare));
    const long last = (long)floor((most_m - row->least_m) / UF_SETTLE_STEP_M + 1e-9);
    long low = -1, high = last + 1; /* low fails, high is enough */
    *enough = false;
    while (high - low > 1) {
        const long at = high > last ? last : (low + high) / 2;
        double factor = 0.0;
        struct uf_case trial = *bare;
        row->put(&trial, row->least_m + UF_SETTLE_STEP_M * (double)at);
        const enum uf_status status = least_factor(&factor, &trial, sure, err);
        if (status != UF_OK) {
            return status;
        }
        if (factor >= uf_case_flotation_asked(bare)) {
            *out = trial;
            *enough = true;
            high = at;
        } else if (at == last) {
            return UF_OK;
        } else {
            low = at;
        }
    }
    return UF_OK;
}

/* What a design costs to dig and cast; by concrete where something has no price. */
static enum uf_status price(double *out, bool *priced, const struct uf_case *design,
                            struct uf_error *err)
{
    struct uf_pit pit;
    struct uf_cost cost;
    const enum uf_status status = uf_pit(&pit, design, err);
    if (status == UF_OK) {
        uf_cost(&cost, design, &pit, 0.0);
        *priced = cost.complete;
        *out = cost.complete ? cost.total : pit.concrete_m3;
    }
    return status;
}

static enum uf_status settle_anchors(struct uf_case *design, bool sure, struct uf_error *err)
{
    struct uf_case bare = *design, best = *design;
    struct uf_anchors *anchors = &bare.anchors;
    double factor = 0.0, least = INFINITY;
    const long straps = lround(ceil(uf_tank_plan_length_m(&design->tank) / UF_SETTLE_STRAPS_M));
    uf_anchor_clear(anchors);
    if (anchors->straps == 0) {
        anchors->straps = straps > 2 ? (size_t)straps : 2;
    }
    enum uf_status status = least_factor(&factor, &bare, sure, err);
    if (status != UF_OK || factor >= uf_case_flotation_asked(design)) {
        anchors->straps = 0;
        *design = bare;
        return status;
    }
    best = bare;
    best.anchors.straps = 0;
    for (int i = 0; i < UF_ANCHORS && status == UF_OK; i++) {
        struct uf_case trial = bare;
        bool enough = false, priced = false;
        double cost = INFINITY;
        status = fit(&trial, &enough, &bare, uf_anchor_at((enum uf_anchor_kind)i), sure, err);
        if (status == UF_OK && enough) {
            status = price(&cost, &priced, &trial, err);
        }
        if (enough && cost < least) {
            least = cost;
            best = trial;
        }
    }
    *design = best;
    return status;
}

enum uf_status uf_settle(struct uf_case *design, bool sure, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    if (design->board.least) {
        status = settle_board(design, err);
    }
    if (design->anchors.least && uf_case_has_tank(design) && status == UF_OK) {
        status = settle_anchors(design, sure, err);
    }
    return status;
}
