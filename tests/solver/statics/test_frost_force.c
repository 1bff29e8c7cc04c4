#include "solver/base/constants.h"
#include "solver/statics/frost_force.h"
#include "solver/statics/holddown.h"
#include "tests/statics.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

#define PSI_PA 6894.757293168

/* 65, 100 and 150 kPa are 9.43, 14.50 and 21.76 psi. */
Test(frost_force, bonds)
{
    near(uf_frost_force_bonds[0].bond_Pa / PSI_PA, 9.43, 5e-3, "concrete");
    near(uf_frost_force_bonds[1].bond_Pa / PSI_PA, 14.50, 5e-3, "steel");
    near(uf_frost_force_bonds[2].bond_Pa / PSI_PA, 21.76, 5e-3, "gravel");
    for (const struct uf_frost_force_bond *row = uf_frost_force_bonds; row->name != NULL; row++) {
        cr_expect(strlen(row->source) > 5);
    }
}

Test(frost_force, bond_on_a_round_riser)
{
    near(uf_frost_force_jacking_N(65000.0, 0.6, 1.5), 65000.0 * UF_PI * 0.9, 1e-9, "tau pi d z");
}

Test(frost_force, only_one_group_forms_no_lenses)
{
    cr_expect_not(uf_frost_force_susceptible("NFS"));
    cr_expect(uf_frost_force_susceptible("PFS or S2"));
}

static struct uf_case design;
static struct uf_column_soils soils;

static void setup(void)
{
    statics_design(&design, &soils);
    design.tank.empty_mass_kg = 900.0;
    design.tank.n_risers = 2;
    design.tank.risers[0] = (struct uf_riser){.diameter_m = 0.6, .above_grade_m = 0.2};
    design.tank.risers[1] = (struct uf_riser){.diameter_m = 0.2, .above_grade_m = -0.7};
    design.n_pipes = 1;
    design.pipes[0] = (struct uf_pipe){.diameter_m = 0.15, .depth_m = 1.0};
}

Test(frost_force, risers_against_hold_down, .init = setup)
{
    struct uf_frost_force got;
    struct uf_holddown balance;
    design.ground.water_winter_m = 2.0;
    cr_assert_eq(uf_frost_force(&got, &design, &soils, 1.0, 100000.0, NULL), UF_OK);
    near(got.risers[0].frozen_m, 1.0, 1e-12, "through the ground only");
    near(got.risers[1].frozen_m, 0.3, 1e-12, "from its own top");
    near(got.jacking_N, 100000.0 * UF_PI * (0.6 + 0.06), 1e-6, "both");
    cr_assert_eq(uf_holddown_at(&balance, &design, &soils, 2.0, NULL), UF_OK);
    near(got.spare_N, balance.submerged_N - balance.uplift_N, 1e-9, "spare");
    near(got.share, got.jacking_N / got.spare_N, 1e-12, "share");
    design.ground.water_winter_m = 0.0;
    cr_assert_eq(uf_frost_force(&got, &design, &soils, 1.0, 100000.0, NULL), UF_OK);
    cr_expect(isinf(got.share), "a tank that floats spares nothing");
    cr_assert_eq(uf_frost_force(&got, &design, &soils, 0.0, 100000.0, NULL), UF_OK);
    near(got.share, 0.0, 0.0, "no frost");
    cr_expect_eq(uf_frost_force(&got, &design, &soils, NAN, 1.0, NULL), UF_E_RANGE);
}

Test(frost_force, pipes, .init = setup)
{
    struct uf_frost_force got;
    cr_assert_eq(uf_frost_force(&got, &design, &soils, 1.0, 0.0, NULL), UF_OK);
    near(got.pipes[0].crown_m, 0.925, 1e-12, "crown");
    near(got.pipes[0].margin_m, -0.075, 1e-12, "in the frost");
    cr_expect_not(got.pipes[0].ok);
    near(got.pipes[0].least_depth_m, 1.075, 1e-12, "least");
    near(got.pipes[0].usual_depth_m, 1.075 + 0.3048, 1e-12, "usual");
    design.pipes[0].depth_m = got.pipes[0].least_depth_m;
    cr_assert_eq(uf_frost_force(&got, &design, &soils, 1.0, 0.0, NULL), UF_OK);
    cr_expect(got.pipes[0].ok, "put back");
}
