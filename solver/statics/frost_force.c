#include "frost_force.h"

#include "solver/base/constants.h"

#include <math.h>
#include <string.h>

const struct uf_frost_force_bond uf_frost_force_bonds[] = {
    {"concrete", "wood or concrete in fine-grained soil",
     "Canadian Foundation Engineering Manual, 4th edition, as quoted", 65000.0},
    {"steel", "steel in fine-grained soil",
     "Penner (1974), in the Canadian Foundation Engineering Manual as quoted", 100000.0},
    {"steel_in_gravel", "steel in saturated gravel",
     "Penner & Goodrich (1983), in the Canadian Foundation Engineering Manual as quoted", 150000.0},
    {NULL, NULL, NULL, 0.0},
};

double uf_frost_force_jacking_N(double bond_Pa, double diameter_m, double frozen_m)
{
    return bond_Pa * UF_PI * diameter_m * frozen_m;
}

bool uf_frost_force_susceptible(const char *group)
{
    return strcmp(group, "NFS") != 0;
}

static void judge_pipe(struct uf_frost_force_pipe *out, const struct uf_pipe *pipe, double frost_m)
{
    const double radius_m = 0.5 * pipe->diameter_m;
    out->crown_m = pipe->depth_m - radius_m;
    out->margin_m = out->crown_m - frost_m;
    out->least_depth_m = frost_m + radius_m;
    out->usual_depth_m = out->least_depth_m + 12.0 * UF_INCH_M;
    out->ok = out->margin_m >= 0.0;
}

enum uf_status uf_frost_force(struct uf_frost_force *out, const struct uf_case *design,
                              const struct uf_column_soils *soils, double frost_m, double bond_Pa,
                              struct uf_error *err)
{
    const double winter_m = design->ground.water_winter_m;
    const double water_m = isnan(winter_m) ? uf_case_invert_m(design) : winter_m;
    struct uf_holddown *balance = &out->balance;
    *out = (struct uf_frost_force){.frost_m = frost_m, .bond_Pa = bond_Pa};
    if (!(frost_m >= 0.0) || !(bond_Pa >= 0.0)) {
        return uf_fail(err, UF_E_RANGE, "frost depth and bond: zero or more");
    }
    const enum uf_status status = uf_holddown_at(balance, design, soils, water_m, err);
    if (status != UF_OK) {
        return status;
    }
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        const struct uf_riser *riser = &design->tank.risers[i];
        const double top_m = fmax(0.0, uf_case_riser_top_m(design, riser));
        struct uf_frost_force_item *item = &out->risers[i];
        item->diameter_m = riser->diameter_m;
        item->frozen_m = fmax(0.0, fmin(frost_m, uf_case_crown_m(design)) - top_m);
        item->jacking_N = uf_frost_force_jacking_N(bond_Pa, item->diameter_m, item->frozen_m);
        out->jacking_N += item->jacking_N;
    }
    for (size_t i = 0; i < design->n_pipes; i++) {
        judge_pipe(&out->pipes[i], &design->pipes[i], frost_m);
    }
    out->spare_N = balance->submerged_N - balance->uplift_N;
    out->share = out->jacking_N > 0.0
                     ? (out->spare_N > 0.0 ? out->jacking_N / out->spare_N : (double)INFINITY)
                     : 0.0;
    return UF_OK;
}
