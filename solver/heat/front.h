#ifndef UF_FRONT_H
#define UF_FRONT_H

#include "section.h"

/* Depth of the 0 degC line in one column of ground, finer than the cells.

   A straight line between centres puts the front too deep while a cell begins to freeze: the cell's
   temperature stays at the edge of freezing until its heat is gone. Its enthalpy knows better. With
   G the gradient below the front and F the flow through the cell's upper face, the profile above
   the front is, with l the length over which it bends,

       T = -(G l) (exp(s/l) - 1),   exp(s/l) = F / (k G)

   The cell's enthalpy then gives a quadratic for s, the frozen length of the cell:

       H dz = c_u G (dz - s)^2 / 2 - c_a G s^2 phi
       phi  = (r - 1 - ln r) / ln^2 r,   r = F / (k G)

   c_a the apparent heat capacity while it freezes. That depth is blended with the straight line,
   the more the colder the cell above, because both are estimates with errors of opposite sign.

   H_J_m3, T_degC   [n] of the section's network
   column           its topmost cell: 0 .. nx-1 at mid-tank
   surface_degC     of the ground's surface there, NAN when not known: frost that has not reached
                    the first centre is found between the two
   returns          m below grade, 0 when nothing is frozen */
double uf_front_frost_m(const struct uf_section *section, const double *H_J_m3,
                        const double *T_degC, size_t column, double surface_degC);

/* Place of the 0 degC line between the centre of cell a and that of the cell below it, one
   of which is frozen. A straight line in one substance. Where the two hold different ones the
   profile has a kink at the edge between them, whose temperature follows from the resistances
   in series:

   T_edge = (T_a R_b + T_b R_a) / (R_a + R_b),   R = length / k between the two temperatures

   m below grade */
double uf_front_zero_m(const struct uf_heat *heat, const double *T_degC, size_t a);

/* Deepest 0 degC line of one column by such lines alone; 0 when no centre is frozen. */
double uf_front_line_m(const struct uf_heat *heat, const double *T_degC, size_t column);

/* Depth to which a column has thawed from the top while frost is left below; 0 when there
   is no frost or the top is frozen. */
double uf_front_thaw_m(const struct uf_heat *heat, const double *T_degC, size_t column);

#endif
