#ifndef UF_UNITS_H
#define UF_UNITS_H

#include "solver/base/error.h"

#include <stdbool.h>

/* Numbers with units, through UDUNITS-2 and its database. The database is read on first
   use and kept until uf_units_close; use from one thread at a time. */

/* How the unit of a value is taken. */
enum uf_unit_rule {
    UF_UNIT_PLAIN,      /* converted as UDUNITS converts it */
    UF_UNIT_DIFFERENCE, /* a difference of temperatures: only the slope counts */
    UF_UNIT_WEIGHT      /* a weight per volume; a mass per volume times 9.80665 m/s2 */
};

/* A kind of physical value: what a number of it means and what it is kept in. */
struct uf_measure {
    const char *name; /* for people, such as "a length" */
    const char *unit; /* kept in, such as "m" */
    enum uf_unit_rule rule;
    const char *const *words; /* the only units taken, ended by NULL; NULL: whatever converts */
};

extern const struct uf_measure uf_units_length, uf_units_temperature, uf_units_difference,
    uf_units_conductivity, uf_units_film, uf_units_resistance, uf_units_flux, uf_units_capacity,
    uf_units_latent, uf_units_density, uf_units_weight, uf_units_pressure, uf_units_force,
    uf_units_mass, uf_units_duration, uf_units_flow, uf_units_share, uf_units_angle,
    uf_units_per_volume, uf_units_per_area, uf_units_per_length, uf_units_volume, uf_units_speed;

/* What is wrong with a value, and what would be right. */
struct uf_units_fault {
    char what[200], allowed[200];
    bool bare; /* a number without its unit */
};

/* Reads "1.2 m": a number as strtod takes it in the C locale, then its unit; or what spelling.h puts
   into that form. A unit that starts
   with '/' has 1 put before it. Refused: no unit, an unknown unit or one of another kind (also its
   reciprocal), a number standing free in the unit ("140 cm 3"), NaN, infinity, a decimal comma.
   value     in measure->unit; untouched on failure
   example   the unit to suggest, such as "mm"
   returns   UF_OK; UF_E_INPUT with fault filled; UF_E_FILE when the database cannot be read (fault
             filled too) */
enum uf_status uf_units_read(double *value, const char *text, const struct uf_measure *measure,
                             const char *example, struct uf_units_fault *fault);

/* Reads a number without a unit, with the same care. what names it, such as "a plain number". */
enum uf_status uf_units_read_number(double *value, const char *text, struct uf_units_fault *fault);

/* Converts a value from one unit to another, both as UDUNITS writes them or as our
   aliases. Errors: UF_E_INPUT for an unknown unit or two that do not convert; UF_E_FILE
   without database. */
enum uf_status uf_units_convert(double *out, double value, const char *from, const char *to,
                                struct uf_error *err);

/* Releases the database. Safe at any time, also twice; the next use reads it again. */
void uf_units_close(void);

#endif
