#include "cli/verify/exact/exact.h"
#include "cli/verify/exact/exact_private.h"

#include <criterion/criterion.h>

#include <float.h>
#include <math.h>

static void near(double got, double expected, double relative)
{
    cr_expect(fabs(got - expected) <= relative * fabs(expected), "%.15g, expected %.15g", got,
              expected);
}

/* Abramowitz & Stegun tables 5.1, 5.2 and 7.1, carried to 15 digits. */
Test(exact_special, e1_matches_the_tables_on_both_branches)
{
    near(uf_exact_e1(0.01), 4.03792957653811, 1e-14);
    near(uf_exact_e1(0.5), 0.559773594776160, 1e-14);
    near(uf_exact_e1(1.0), 0.219383934395520, 1e-14);
    near(uf_exact_e1(2.0), 0.0489005107080611, 1e-14);
    near(uf_exact_e1(5.0), 0.00114829559127533, 1e-14);
    near(uf_exact_e1(10.0), 4.15696892968532e-06, 1e-14);
    near(uf_exact_e1(50.0), 3.7832640295504591e-24, 1e-13);
}

/* The two branches meet at 1, and dE1/dx = -exp(-x)/x there. */
Test(exact_special, e1_has_no_step_where_the_method_changes)
{
    const double h = 1e-5;
    const double slope = (uf_exact_e1(1.0 + h) - uf_exact_e1(1.0 - h)) / (2.0 * h);
    near(slope, -exp(-1.0), 1e-9);
}

Test(exact_special, e1_outside_its_domain_is_no_number)
{
    cr_expect(isinf(uf_exact_e1(0.0)) && isnan(uf_exact_e1(-0.3)));
    cr_expect(isnan(uf_exact_e1((double)NAN)));
}

Test(exact_special, erfcx_matches_the_tables_and_never_overflows)
{
    near(uf_exact_erfcx(0.0), 1.0, 1e-15);
    near(uf_exact_erfcx(1.0), 0.427583576155807, 1e-14);
    near(uf_exact_erfcx(4.9), 0.112879090559759, 1e-13);
    near(uf_exact_erfcx(5.0), 0.110704637733069, 1e-14);
    near(uf_exact_erfcx(10.0), 0.0561409927438226, 1e-14);
    near(uf_exact_erfcx(100.0), 0.00564161378298943, 1e-14);
    near(uf_exact_erfcx(1e10), 5.64189583547756e-11, 1e-14);
}

static double falling(double x, const void *data)
{
    return *(const double *)data - x * x * x;
}

Test(exact_special, root_is_found_to_the_last_bit_or_not_at_all)
{
    const double three = 3.0;
    near(uf_exact_root(falling, &three, 0.0, 7.0), cbrt(3.0), 2.0 * DBL_EPSILON);
    cr_expect(isnan(uf_exact_root(falling, &three, 2.0, 7.0)));
    cr_expect(isnan(uf_exact_root(falling, &three, 0.0, 1.3)));
}
