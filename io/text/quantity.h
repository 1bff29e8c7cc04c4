#ifndef UF_QUANTITY_H
#define UF_QUANTITY_H

#include "solver/base/quantity_kind.h"

#include <stdbool.h>
#include <stddef.h>

/* How a number in SI is shown to a person: one row for each kind of quantity with its unit, factor,
   offset and digits in US customary units, beside those in SI (uf_quantity_kinds). Used by text,
   report and pictures; JSON and result files stay in SI. */

enum uf_units { UF_UNITS_SI, UF_UNITS_US };

/* The unit as shown, such as "ft"; "" for a plain factor. Never NULL. */
const char *uf_quantity_unit(enum uf_quantity kind, enum uf_units units);

/* value, given in the SI unit named above, in the unit that is shown. NAN stays NAN. */
double uf_quantity_value(enum uf_quantity kind, enum uf_units units, double value);

/* The kind by which a number held in that unit is told in US customary units in a file for other
   programs; UF_QUANTITY_COUNT: it stands there as it is held. */
enum uf_quantity uf_quantity_of_unit(const char *held);

/* The number with the digits of its kind, without unit; "-" where there is no number.
   Returns text. size at least 32. */
char *uf_quantity_number(char *text, size_t size, enum uf_quantity kind, enum uf_units units,
                         double value);

/* The same followed by a blank and its unit. */
char *uf_quantity_text(char *text, size_t size, enum uf_quantity kind, enum uf_units units,
                       double value);

/* The same with as many digits more, up to four, as it takes not to show as 0: what is missed by
   little is still missed. */
char *uf_quantity_small(char *text, size_t size, enum uf_quantity kind, enum uf_units units,
                        double value);

/* A level against grade, from its depth in m: "at grade", "0.50 m below grade", "0.30 m
   above grade"; "-" for NAN. Returns text. size at least 48. */
char *uf_quantity_level(char *text, size_t size, enum uf_units units, double depth_m);

/* A length as a tape reads it, whole millimetres or inches and sixteenths ("2376 mm",
   "93 9/16 in"), rounded up or down to the next mark, so that a limit is never widened; "-" for
   NAN. A mark is met within a micrometre. Returns text. size at least 32. */
char *uf_quantity_tape(char *text, size_t size, enum uf_units units, double m, bool up);

/* All inside a printf: the text lives until the end of the enclosing block. */
#define UF_NUMBER(kind, units, value)                                                              \
    uf_quantity_number((char[40]){0}, 40, UF_QUANTITY_##kind, (units), (value))
#define UF_TEXT(kind, units, value)                                                                \
    uf_quantity_text((char[40]){0}, 40, UF_QUANTITY_##kind, (units), (value))
#define UF_TAPE(units, m, up)    uf_quantity_tape((char[40]){0}, 40, (units), (m), (up))
#define UF_LEVEL(units, depth_m) uf_quantity_level((char[64]){0}, 64, (units), (depth_m))

#endif
