#include "shaft.h"

#include "solver/base/constants.h"

#include <math.h>

double uf_shaft_reach(double depth_m, double buried_m, double radius_m)
{
    return asinh(depth_m / radius_m) +
           0.5 * (asinh((buried_m - depth_m) / radius_m) - asinh((buried_m + depth_m) / radius_m));
}

double uf_shaft_inner_m(double diameter_m, const struct uf_shell *shell)
{
    return 0.5 * diameter_m - shell->wall_m;
}

/* ln(outer / inner) / k; nothing where the ring has no thickness. */
static double ring(double inner_m, double outer_m, double k_W_mK)
{
    return outer_m > inner_m ? log(outer_m / inner_m) / k_W_mK : 0.0;
}

double uf_shaft_mK_W(const struct uf_shaft_side *side, double depth_m, double ground_W_mK)
{
    const struct uf_shell *shell = &side->shell;
    const double inner_m = uf_shaft_inner_m(side->diameter_m, shell);
    const double wall_m = 0.5 * side->diameter_m;
    const bool sleeved = shell->sleeve_m > 0.0 && !(depth_m > shell->sleeve_length_m);
    const double outer_m = wall_m + (sleeved ? shell->sleeve_m : 0.0);
    return (side->film_m2K_W / inner_m + ring(inner_m, wall_m, shell->wall_W_mK) +
            ring(wall_m, outer_m, shell->sleeve_W_mK) +
            uf_shaft_reach(depth_m, side->buried_m, outer_m) / ground_W_mK) /
           (2.0 * UF_PI);
}
