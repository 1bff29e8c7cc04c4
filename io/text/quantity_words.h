#ifndef UF_QUANTITY_WORDS_H
#define UF_QUANTITY_WORDS_H

#include "quantity.h"

/* Sentences that were written in SI (a soil's source, a remark, a station's height), in
   the units asked for: in US units "1100 to 1500 kg/m3" becomes "69 to 94 lb/ft3". A
   number counts where one of our SI units follows it after one blank; a second one joined
   to it by "to", "and" or "or" goes with it. As many figures are kept as were written, at
   least two. Everything else stays as it is, in SI the whole text.
   Returns text, which is cut where size is too small. */
char *uf_quantity_words(char *text, size_t size, enum uf_units units, const char *source);

/* The same inside a printf: lives until the end of the enclosing block. */
#define UF_WORDS(units, source) uf_quantity_words((char[512]){0}, 512, (units), (source))

#endif
