#include "io/text/message_text.h"
#include "io/text/quantity.h"
#include "recommend.h"
#include "solver/choice/ends.h"
#include "solver/choice/mend.h"
#include "solver/choice/option.h"
#include "solver/design/anchor.h"
#include "solver/design/foam.h"
#include "solver/heat/slice.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

const char uf_recommend_plane_note[] =
    "~ is of the plane section, without the tank's ends: mostly the warm side. What is recommended and "
    "what was weighed against it are run in three dimensions";

bool uf_recommend_is_plane(const struct uf_recommend *r, size_t row)
{
    const struct uf_choice *own = &r->choices->rows[row];
    return own->ran && !own->solid && uf_slice_wanted(&r->choices->designs[row]);
}

const char *uf_recommend_cell(char *text, size_t size, const struct uf_recommend *r,
                              const struct uf_choice_fact *fact, size_t row, enum uf_units units)
{
    char number[40];
    const char *word = fact->word != NULL
                           ? fact->word(text, size, r->choices, row)
                           : uf_quantity_number(number, sizeof number, fact->quantity, units,
                                                uf_choice_fact_number(fact, r->choices, row));
    if (word != text) {
        (void)snprintf(text, size, "%s%s", fact->heat && uf_recommend_is_plane(r, row) ? "~" : "",
                       word != NULL ? word : "-");
    }
    return text;
}

/* An option, a margin, what speaks against an option, in words. */

void uf_recommend_add(char *text, size_t size, const char *format, ...)
{
    const size_t used = strlen(text);
    va_list args;
    va_start(args, format);
    (void)vsnprintf(text + used, size - used, format, args);
    va_end(args);
}
#define add uf_recommend_add

static void add_board(char *text, size_t size, const struct uf_choice *row, enum uf_units units)
{
    if (!(row->thickness_m > 0.0)) {
        add(text, size, "no board");
        return;
    }
    add(text, size, "%s %s board extending %s beyond the tank",
        UF_TEXT(BOARD, units, row->thickness_m), row->type != NULL ? row->type->name : "foam",
        UF_TEXT(LENGTH, units, row->beyond_m));
    if (row->skirt_m > 0.0) {
        add(text, size, " with a skirt of %s", UF_TEXT(LENGTH, units, row->skirt_m));
    }
}

static void add_anchors(char *text, size_t size, const struct uf_case *design, enum uf_units units)
{
    char words[UF_NAME_SIZE];
    add(text, size, ", anchors %s", uf_option_anchors(words, sizeof words, design));
    if (uf_anchor_any(design)) {
        struct uf_message said;
        uf_anchor_say(&said, design);
        add(text, size, " (%s)", UF_MESSAGE(units, &said));
    }
}

const char *uf_recommend_describe(char *text, size_t size, const struct uf_recommend *r,
                                  const struct uf_choice *row, const struct uf_case *design,
                                  enum uf_units units)
{
    const struct uf_choices *may = &r->run.site->design.choices;
    (void)snprintf(text, size, "cover %s, ", UF_TEXT(LENGTH, units, row->cover_m));
    add_board(text, size, row, units);
    if (may->n_anchors > 0 || design->anchors.least) {
        add_anchors(text, size, design, units);
    }
    if (design->tank.n_risers > 0 &&
        (may->n_lid > 0 || row->lid_m2K_W > r->run.site->design.tank.risers[0].lid_m2K_W)) {
        add(text, size, ", lid %s", UF_TEXT(RESISTANCE, units, row->lid_m2K_W));
    }
    if (design->tank.n_risers > 0 &&
        (may->n_sleeve > 0 || row->sleeve_m > r->run.site->design.tank.risers[0].shell.sleeve_m)) {
        add(text, size, ", sleeve of %s on the risers", UF_TEXT(BOARD, units, row->sleeve_m));
    }
    if (may->n_fill_over > 0) {
        add(text, size, ", fill to %s",
            isfinite(row->fill_over_m) ? UF_TEXT(LENGTH, units, row->fill_over_m) : "grade");
    }
    return text;
}

const char *uf_recommend_row(char *text, size_t size, const struct uf_recommend *r, long row,
                             enum uf_units units)
{
    return uf_recommend_describe(text, size, r, &r->choices->rows[row], &r->choices->designs[row],
                                 units);
}

const char *uf_recommend_margin(char *text, size_t size, size_t limit, double margin,
                                enum uf_units units)
{
    return uf_quantity_small(text, size, uf_quantity_kind_difference(uf_limits[limit].quantity),
                             units, margin);
}

const char *uf_recommend_mend(char *text, size_t size, const struct uf_recommend *r, size_t row,
                              enum uf_units units)
{
    struct uf_mend mend;
    char other[240];
    text[0] = '\0';
    if (uf_mend(&mend, r->choices, row, NULL) != UF_OK) {
        return text;
    }
    const bool statics = mend.what.text[0] != '\0';
    add(text, size, "%s", UF_MESSAGE(units, &mend.what));
    if (mend.row >= 0) {
        (void)uf_recommend_row(other, sizeof other, r, mend.row, units);
        add(text, size, "%smended by %s", statics ? " would do; also " : "", other);
    } else if (statics) {
        add(text, size, " would do");
    }
    return text;
}

const char *uf_recommend_against(char *text, size_t size, const struct uf_recommend *r, size_t row,
                                 enum uf_units units)
{
    const struct uf_choice *option = &r->choices->rows[row];
    const size_t g = option->verdict.governs;
    struct uf_robust_against why;
    char words[160], margin[64], wanted[64], mend[400];
    text[0] = '\0';
    if (!option->buildable) {
        add(text, size, "%s", uf_recommend_governs_words(mend, sizeof mend, option, units));
    } else if (!option->ok && g < uf_limit_count) {
        add(text, size, "%s misses by %s", uf_limits[g].label,
            uf_recommend_margin(margin, sizeof margin, g, -option->verdict.margin[g], units));
        (void)uf_recommend_mend(mend, sizeof mend, r, row, units);
        add(text, size, "%s%s", mend[0] != '\0' ? "; " : "", mend);
    } else if (uf_robust_against(&why, r->robust, row)) {
        const enum uf_quantity kind = uf_quantity_kind_difference(why.quantity);
        if (why.wanted > 0.0) {
            add(text, size, "%s: margin %s, %s less than the model's own error",
                uf_limits[why.limit].label,
                uf_quantity_small(margin, sizeof margin, kind, units, why.margin),
                uf_quantity_small(wanted, sizeof wanted, kind, units, why.wanted - why.margin));
        } else {
            add(text, size, "%s misses by %s if %s", uf_limits[why.limit].label,
                uf_quantity_small(margin, sizeof margin, kind, units, -why.margin),
                uf_recommend_variant_words(words, sizeof words, r, why.variant));
        }
    }
    return text;
}

const char *uf_recommend_variant_words(char *text, size_t size, const struct uf_recommend *r,
                                       const struct uf_variant *variant)
{
    static const char *const methods[] = {
        [UF_COTE_KONRAD] = "Cote and Konrad", [UF_JOHANSEN] = "Johansen", [UF_KERSTEN] = "Kersten"};
    const enum uf_method designed = r->run.site->design.ground.method;
    struct uf_case changed = r->run.site->design;
    (void)variant->apply(&changed);
    if (changed.ground.method != designed) {
        (void)snprintf(text, size, "conductivity is taken by %s instead of %s",
                       methods[changed.ground.method], methods[designed]);
    } else {
        (void)snprintf(text, size, "%s", variant->doc);
    }
    return text;
}

const char *uf_recommend_ends(char *text, size_t size, const struct uf_recommend *r,
                              enum uf_units units)
{
    char off[40];
    size_t carried = 0;
    text[0] = '\0';
    for (size_t i = 0; i < r->n_variants; i++) {
        carried += r->variants[i].carried ? 1 : 0;
    }
    if (!r->choices->rows[r->shown].solid) {
        return text;
    }
    if (carried == 0) {
        uf_recommend_add(text, size,
                         "The tank's ends are counted: this option and its cases were "
                         "run in three dimensions.");
    } else {
        uf_recommend_add(
            text, size,
            "The tank's ends are counted: this option and %zu of its %zu cases were run in three "
            "dimensions; the others ran as a plane section and carry what the ends change in this "
            "option (layered water may be up to %s colder than told there).",
            r->n_variants - carried, r->n_variants,
            uf_quantity_small(off, sizeof off, UF_QUANTITY_DIFFERENCE, units, UF_ENDS_CARRIED_K));
    }
    return text;
}
