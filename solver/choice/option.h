#ifndef UF_OPTION_H
#define UF_OPTION_H

#include "choice.h"

/* The options of a site: what `choices` may vary, every combination numbered. */

#define UF_OPTION_NUMBERS 7 /* cover, thickness, extension, skirt, lid, sleeve, backfill */
#define UF_OPTION_KNOBS   (UF_OPTION_NUMBERS + 2) /* the board's type and the anchors too */
#define UF_OPTION_ANCHORS (UF_OPTION_NUMBERS + 1)

/* The knobs in words: the key of what is varied, and what a lower and a higher value is. */
struct uf_option_words {
    const char *key, *less, *more;
};
extern const struct uf_option_words uf_option_words[UF_OPTION_KNOBS];

/* The values of each knob, each once; the design's own where none are listed. */
struct uf_option_lists {
    double values[UF_OPTION_NUMBERS][UF_MAX_CHOICES];
    size_t n[UF_OPTION_KNOBS]; /* at least 1 */
};
struct uf_option_lists uf_option_lists(const struct uf_case *design);

/* The row of a number from 0 to the product of n less 1. false: a row like it has another number,
   since a knob changes nothing there (no board: its extension, skirt and type; no riser: lid and
   sleeve; no backfill: its height). */
bool uf_option_row(struct uf_choice *row, const struct uf_option_lists *lists,
                   const struct uf_case *design, size_t number);

/* The design's own values as a row, and one of its numbers. */
struct uf_choice uf_option_own(const struct uf_case *design);
double uf_option_value(const struct uf_choice *row, size_t knob);

/* In how many knobs two rows differ, and (knob may be NULL) the last of them; without board its
   extension, skirt and type do not count. */
size_t uf_option_differences(const struct uf_choice *a, const struct uf_choice *b, size_t *knob);

/* The design with the row's values; probes given from the crown or invert move along. */
struct uf_case uf_option_design(const struct uf_case *design, const struct uf_choice *row);

/* A word for a design's anchors: the name given, else none, deadmen, pad, deadmen and pad. */
const char *uf_option_anchors(char *text, size_t size, const struct uf_case *design);

#endif
