#include "mend.h"

#include "option.h"
#include "settle.h"
#include "solver/design/foam.h"

#include <math.h>

/* Says what would do for one check of the statics; leaves out as it is where that is met. */
typedef enum uf_status measure(struct uf_message *out, const struct uf_choice *failing,
                               const struct uf_case *design, struct uf_error *err);

static enum uf_status hold_down(struct uf_message *out, const struct uf_choice *failing,
                                const struct uf_case *design, struct uf_error *err)
{
    const double concrete_m3 = failing->uplift.needed_ballast_m3;
    const double cover_m = failing->uplift.least_cover_m;
    (void)err;
    if (concrete_m3 > 0.0 && isfinite(cover_m) && uf_limit_allows_cover(design, cover_m)) {
        uf_message_set(out, UF_SAID("{} more concrete or cover {}", UF_ROUND(VOLUME, concrete_m3),
                                    UF_ROUND(LENGTH, cover_m)));
    } else if (concrete_m3 > 0.0) {
        uf_message_set(out, UF_SAID("{} more concrete", UF_ROUND(VOLUME, concrete_m3)));
    }
    return UF_OK;
}

/* The weakest type of board that carries the load. */
static enum uf_status carry(struct uf_message *out, const struct uf_choice *failing,
                            const struct uf_case *design, struct uf_error *err)
{
    struct uf_case trial = *design;
    struct uf_choice with = {.buildable = true};
    if (!failing->load.present || !(failing->load.board_use > 1.0)) {
        return UF_OK;
    }
    trial.board.least = true;
    trial.anchors.least = false;
    enum uf_status status = uf_settle(&trial, false, err);
    status = status == UF_OK ? uf_choice_static(&with, &trial, err) : status;
    if (status == UF_OK && with.load.board_use <= 1.0 && trial.board.row != NULL) {
        uf_message_set(out, UF_SAID("{}", UF_WORD(trial.board.row->name)));
    }
    return status;
}

static measure *const measures[] = {hold_down, carry};

enum uf_status uf_mend(struct uf_mend *out, const struct uf_choices_result *choices, size_t row,
                       struct uf_error *err)
{
    const struct uf_choice *failing = &choices->rows[row];
    enum uf_status status = UF_OK;
    *out = (struct uf_mend){.row = -1};
    for (size_t i = 0; failing->buildable && i < sizeof measures / sizeof measures[0]; i++) {
        struct uf_message one = {.text = ""}, and = {.text = ""};
        status = status == UF_OK ? measures[i](&one, failing, &choices->designs[row], err) : status;
        if (one.text[0] != '\0') {
            uf_message_set(&and, UF_PLAIN(out->what.text[0] != '\0' ? ", and " : ""));
            uf_message_append(&out->what, &and);
            uf_message_append(&out->what, &one);
        }
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
