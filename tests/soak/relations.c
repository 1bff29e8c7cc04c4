#include "relations.h"

#include "solver/base/constants.h"

#include <math.h>

static bool thicker(struct site_random *s)
{
    s->board_m *= 1.3;
    return s->shape < 3 && s->board_m > 0.0 && s->board_m + s->above_crown_m < s->cover_m;
}

/* Not where ground conducts five times better frozen than thawed. Of a ground in balance with its years the
   mean of U, the integral of k over T, is the same at every depth, so that its mean temperature falls
   with depth wherever it freezes above, by more the more k differs: the thermal offset of permafrost
   (Goodrich 1978, Can. Geotech. J. 15). There a deeper crown is the colder one. */
static bool deeper(struct site_random *s)
{
    s->cover_m += 0.5;
    return s->shape < 3 && !s->riser && !site_random_has_extreme_soil(s);
}

static bool higher_water(struct site_random *s)
{
    s->table_m -= 0.4;
    return s->shape < 3 && s->table_m > 0.0 && s->table_m < 20.0;
}

static bool split_layer(struct site_random *s)
{
    s->split = true;
    return true;
}

static bool in_feet(struct site_random *s)
{
    s->feet = true;
    return true;
}

static bool same(struct site_random *s)
{
    return s->finest_m > 0.0;
}

static bool finer(struct site_random *s)
{
    s->finest_m *= 0.5;
    return true;
}

static double crown_colder(const struct outcome *a, const struct outcome *b)
{
    return a->summary.crown.degC - b->summary.crown.degC;
}

static double factor_higher(const struct outcome *a, const struct outcome *b)
{
    return b->factor - a->factor;
}

static double differs(double a, double b)
{
    return isnan(a) && isnan(b) ? 0.0 : isnan(a) || isnan(b) ? (double)INFINITY : fabs(a - b);
}

static double water_differs(const struct outcome *a, const struct outcome *b)
{
    return differs(a->summary.water.degC, b->summary.water.degC);
}

/* Where the water freezes its coldest is ice, the mean of a row: thin rows freeze through and get as
   cold as the wall, thick ones keep some water. What must agree is the water, and how much is ice. */
static double liquid_degC(const struct outcome *out)
{
    const double degC = out->summary.water.degC;
    return degC < UF_WATER_FREEZES_TO_C ? UF_WATER_FREEZES_TO_C : degC;
}

static double liquid_differs(const struct outcome *a, const struct outcome *b)
{
    return differs(liquid_degC(a), liquid_degC(b));
}

static double ice_differs(const struct outcome *a, const struct outcome *b)
{
    return differs(a->summary.ice_share, b->summary.ice_share);
}

/* Frost that stays from year to year may reach metres further for a thousandth of a degree, since next to
   nothing warms it from below: how deep is told only where it thaws in summer. What holds everywhere is
   the temperature of the ground. */
static bool frost_stays(const struct outcome *out)
{
    return out->summary.frost_undisturbed_m > 0.0 && out->summary.thaw_out_day == UF_NO_DAY;
}

static double frost_differs(const struct outcome *a, const struct outcome *b)
{
    return frost_stays(a) || frost_stays(b)
               ? (double)NAN
               : differs(a->summary.frost_undisturbed_m, b->summary.frost_undisturbed_m);
}

static double ground_differs(const struct outcome *a, const struct outcome *b)
{
    return differs(a->summary.probes[0].least.degC, b->summary.probes[0].least.degC);
}

static double anything_differs(const struct outcome *a, const struct outcome *b)
{
    const struct uf_summary *s = &a->summary, *t = &b->summary;
    return fmax(fmax(differs(s->water.degC, t->water.degC), differs(s->wall.degC, t->wall.degC)),
                fmax(fmax(frost_differs(a, b), ground_differs(a, b)),
                     differs(s->crown.degC, t->crown.degC)));
}

/* Rounding may decide whether a start-up runs a year more: what then differs it has told to be left. */
static double feet_differ(const struct outcome *a, const struct outcome *b)
{
    return anything_differs(a, b) - fabs(a->summary.startup_left_K - b->summary.startup_left_K);
}

/* The integrators meet a front that passes a row of 0.3 m on other days, and a pool at 4 degC that takes in
   one row more or does not.
   Rounding decides on which side of a step water turns over, so that feet may differ a little.
   A board keeps the summer out too and a deeper crown meets last year's cold later, so that the
   crown may be a little colder with more of either; the grid of 0.2 m adds its own. */
const struct relation relations[RELATIONS] = {
    {"thicker board, crown not colder", "K", 0.35, true, 5, UF_FAST, thicker, crown_colder},
    {"deeper cover, crown not colder", "K", 0.35, true, 5, UF_FAST, deeper, crown_colder},
    {"higher water table, factor not higher", "", 1e-9, false, 3, UF_FAST, higher_water,
     factor_higher},
    {"a layer split in two equal ones", "", 1e-9, false, 5, UF_FAST, split_layer, anything_differs},
    {"lengths in feet", "", 1e-3, true, 5, UF_FAST, in_feet, feet_differ},
    {"reference integrator, water", "K", 0.1, true, 20, UF_BDF, same, water_differs},
    {"reference integrator, frost", "m", 0.05, false, 20, UF_BDF, same, frost_differs},
    {"reference integrator, ground at 3 m", "K", 0.1, false, 20, UF_BDF, same, ground_differs},
    {"half the spacing, water", "K", 0.5, true, 20, UF_FAST, finer, liquid_differs},
    {"half the spacing, ice", "", 0.03, true, 20, UF_FAST, finer, ice_differs},
    {"half the spacing, frost", "m", 0.1, true, 20, UF_FAST, finer, frost_differs},
    {"half the spacing, ground at 3 m", "K", 0.3, true, 20, UF_FAST, finer, ground_differs}};
