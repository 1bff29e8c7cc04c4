#ifndef UF_EXACT_PRIVATE_H
#define UF_EXACT_PRIVATE_H

/* Shared by the exact_*.c files alone. */

/* Where f, falling from above zero at low to below zero at high, crosses; NAN where it
   does not. Bisection to the last bit: speed does not matter here, certainty does. */
double uf_exact_root(double (*f)(double x, const void *data), const void *data, double low,
                     double high);

#endif
