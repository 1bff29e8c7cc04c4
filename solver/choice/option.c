#include "option.h"

#include "solver/design/anchor.h"
#include "solver/design/foam.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

/* Values that are as good as equal: 2 ft and 0.6096 m are one option. */
#define HAIR 1e-6

/* The knobs that are numbers: where the list, its count and a row's value lie. */
static const struct {
    size_t list, count, value;
} knobs[] = {
#define KNOB(field, n, value)                                                                      \
    {                                                                                              \
        offsetof(struct uf_choices, field), offsetof(struct uf_choices, n),                        \
            offsetof(struct uf_choice, value)                                                      \
    }
    KNOB(cover_m, n_cover, cover_m),
    KNOB(thickness_m, n_thickness, thickness_m),
    KNOB(beyond_m, n_beyond, beyond_m),
    KNOB(skirt_m, n_skirt, skirt_m),
    KNOB(lid_m2K_W, n_lid, lid_m2K_W),
    KNOB(sleeve_m, n_sleeve, sleeve_m),
    KNOB(fill_over_m, n_fill_over, fill_over_m),
};
enum { BEYOND = 2, SKIRT, LID, SLEEVE, FILL, TYPE, ANCHORS };

const struct uf_option_words uf_option_words[UF_OPTION_KNOBS] = {
    {"cover", "shallower", "deeper"},
    {"thickness", "thinner board", "thicker board"},
    {"beyond_tank", "board that extends less", "board that extends further"},
    {"skirt", "shorter skirt", "longer skirt"},
    {"lid", "less insulated lid", "better insulated lid"},
    {"sleeve", "thinner sleeve on the risers", "thicker sleeve on the risers"},
    {"backfill", "less backfill over the crown", "more backfill over the crown"},
    {"board_type", "weaker board", "stronger board"},
    {"anchors", "other anchors", "other anchors"},
};

static double *value_of(struct uf_choice *row, size_t knob)
{
    return (double *)(void *)((char *)row + knobs[knob].value);
}

double uf_option_value(const struct uf_choice *row, size_t knob)
{
    return *(const double *)(const void *)((const char *)row + knobs[knob].value);
}

static bool unlike(double a, double b)
{
    return a < b || a > b;
}

size_t uf_option_differences(const struct uf_choice *a, const struct uf_choice *b, size_t *knob)
{
    const bool boards = a->thickness_m > 0.0 && b->thickness_m > 0.0;
    size_t n = 0;
    for (size_t k = 0; k < UF_OPTION_KNOBS; k++) {
        const bool of_board = k == BEYOND || k == SKIRT || k == TYPE;
        const bool differs = k == TYPE      ? a->type != b->type
                             : k == ANCHORS ? a->anchors_at != b->anchors_at
                                            : unlike(uf_option_value(a, k), uf_option_value(b, k));
        if (differs && (boards || !of_board)) {
            n++;
            if (knob != NULL) {
                *knob = k;
            }
        }
    }
    return n;
}

struct uf_choice uf_option_own(const struct uf_case *design)
{
    return (struct uf_choice){
        .cover_m = design->burial.cover_m,
        .thickness_m = design->board.present ? design->board.thickness_m : 0.0,
        .beyond_m = design->board.beyond_tank_m,
        .skirt_m = design->board.skirt_m,
        .lid_m2K_W = design->tank.n_risers > 0 ? design->tank.risers[0].lid_m2K_W : (double)NAN,
        .sleeve_m = design->tank.n_risers > 0 ? design->tank.risers[0].shell.sleeve_m : (double)NAN,
        .fill_over_m = design->burial.fill_over_m,
        .type = design->board.row};
}

static void put_type(struct uf_case *changed, const struct uf_choices *from, size_t at)
{
    if (from->n_type > 0 && changed->board.present) {
        changed->board.least = from->type[at] == NULL;
        if (from->type[at] != NULL) {
            uf_foam_put(&changed->board, from->type[at]);
        }
    }
}

static void put_anchors(struct uf_case *changed, const struct uf_choices *from, size_t at)
{
    if (from->n_anchors > 0) {
        changed->anchors = from->anchors[at];
        changed->anchors.least = strcmp(from->anchors[at].name, "least") == 0;
    }
}

struct uf_case uf_option_design(const struct uf_case *design, const struct uf_choice *row)
{
    struct uf_case changed = *design;
    changed.burial.cover_m = row->cover_m;
    changed.burial.fill_over_m = row->fill_over_m;
    changed.board.thickness_m = row->thickness_m;
    changed.board.present = design->board.present && row->thickness_m > 0.0;
    changed.board.beyond_tank_m = row->beyond_m;
    changed.board.skirt_m = row->skirt_m;
    for (size_t i = 0; i < changed.tank.n_risers && design->choices.n_lid > 0; i++) {
        changed.tank.risers[i].lid_m2K_W = row->lid_m2K_W;
    }
    for (size_t i = 0; i < changed.tank.n_risers && design->choices.n_sleeve > 0; i++) {
        changed.tank.risers[i].shell.sleeve_m = row->sleeve_m;
    }
    put_type(&changed, &design->choices, row->type_at);
    put_anchors(&changed, &design->choices, row->anchors_at);
    for (size_t i = 0; i < changed.n_probes; i++) {
        struct uf_probe *probe = &changed.probes[i];
        if (!isnan(probe->below_crown_m)) {
            probe->depth_m = uf_case_crown_m(&changed) + probe->below_crown_m;
        } else if (!isnan(probe->above_invert_m)) {
            probe->depth_m = uf_case_invert_m(&changed) - probe->above_invert_m;
        }
    }
    return changed;
}

const char *uf_option_anchors(char *text, size_t size, const struct uf_case *design)
{
    (void)snprintf(text, size, "%s", design->anchors.name);
    for (int i = 0; i < UF_ANCHORS && design->anchors.name[0] == '\0'; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        const size_t used = strlen(text);
        if (row->body(design).count > 0.0) {
            (void)snprintf(text + used, size - used, "%s%s", used > 0 ? " and " : "", row->word);
        }
    }
    if (text[0] == '\0') {
        (void)snprintf(text, size, "none");
    }
    return text;
}

struct uf_option_lists uf_option_lists(const struct uf_case *design)
{
    const struct uf_choices *from = &design->choices;
    const struct uf_choice own = uf_option_own(design);
    struct uf_option_lists out = {.n = {[TYPE] = from->n_type, [ANCHORS] = from->n_anchors}};
    for (size_t k = 0; k < UF_OPTION_NUMBERS; k++) {
        const size_t n = *(const size_t *)(const void *)((const char *)from + knobs[k].count);
        const double *list = (const double *)(const void *)((const char *)from + knobs[k].list);
        out.values[k][0] = uf_option_value(&own, k);
        for (size_t i = 0; i < n; i++) {
            size_t at = 0;
            while (at < out.n[k] && !(fabs(out.values[k][at] - list[i]) < HAIR) &&
                   out.values[k][at] != list[i]) { /* equal infinities */
                at++;
            }
            out.values[k][at] = list[i];
            out.n[k] += at == out.n[k] ? 1 : 0;
        }
    }
    for (size_t k = 0; k < UF_OPTION_KNOBS; k++) {
        out.n[k] = out.n[k] > 0 ? out.n[k] : 1;
    }
    return out;
}

/* Does the knob change nothing in such a row? */
static bool is_idle(const struct uf_case *design, const struct uf_choice *row, size_t knob)
{
    const bool board = row->thickness_m > 0.0;
    return (!board && (knob == BEYOND || knob == SKIRT || knob == TYPE)) ||
           ((knob == LID || knob == SLEEVE) && design->tank.n_risers == 0) ||
           (knob == FILL && !design->burial.has_backfill);
}

bool uf_option_row(struct uf_choice *row, const struct uf_option_lists *lists,
                   const struct uf_case *design, size_t number)
{
    size_t digit[UF_OPTION_KNOBS];
    *row = uf_option_own(design);
    for (size_t k = UF_OPTION_KNOBS; k-- > 0;) {
        digit[k] = number % lists->n[k];
        number /= lists->n[k];
    }
    for (size_t k = 0; k < UF_OPTION_NUMBERS; k++) {
        *value_of(row, k) = lists->values[k][digit[k]];
    }
    row->type_at = digit[TYPE];
    row->anchors_at = digit[ANCHORS];
    for (size_t k = 0; k < UF_OPTION_KNOBS; k++) {
        if (digit[k] > 0 && is_idle(design, row, k)) {
            return false;
        }
    }
    return true;
}
