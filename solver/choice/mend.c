#include "mend.h"

#include "option.h"
#include "settle.h"

#include <math.h>

enum uf_status uf_mend(struct uf_mend *out, const struct uf_choices_result *choices, size_t row,
                       struct uf_error *err)
{
    const struct uf_choice *failing = &choices->rows[row];
    const struct uf_case *design = &choices->designs[row];
    enum uf_status status = UF_OK;
    *out = (struct uf_mend){.cover_m = NAN, .row = -1};
    if (failing->buildable && failing->uplift.needed_ballast_m3 > 0.0) {
        out->concrete_m3 = failing->uplift.needed_ballast_m3;
        out->cover_m = uf_limit_allows_cover(design, failing->uplift.least_cover_m)
                           ? failing->uplift.least_cover_m
                           : (double)NAN;
    }
    if (failing->buildable && failing->load.present && failing->load.board_use > 1.0) {
        struct uf_case trial = *design;
        struct uf_choice with = {.buildable = true};
        trial.board.least = true;
        trial.anchors.least = false;
        status = uf_settle(&trial, false, err);
        status = status == UF_OK ? uf_choice_static(&with, &trial, err) : status;
        out->type = status == UF_OK && with.load.board_use <= 1.0 ? trial.board.row : NULL;
    }
    for (size_t i = 0; i < choices->n; i++) {
        if (choices->rows[i].ok && uf_option_differences(failing, &choices->rows[i], NULL) == 1 &&
            (out->row < 0 ||
             uf_choice_better(&choices->rows[i], &choices->rows[out->row], choices->priced))) {
            out->row = (long)i;
        }
    }
    return status;
}
