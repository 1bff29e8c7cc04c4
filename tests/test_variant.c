#include "runs.h"
#include "solver/variant.h"

#include <string.h>

static const struct uf_variant *named(const char *name)
{
    for (size_t i = 0; i < UF_VARIANTS; i++) {
        if (strcmp(uf_variants[i].name, name) == 0) {
            return &uf_variants[i];
        }
    }
    cr_assert_fail("no variant %s", name);
    return NULL;
}

Test(variant, moisture_scales_and_stops_at_saturation)
{
    struct uf_case d = runs_tank();
    struct uf_soil_state state;
    d.ground.n_layers = 2;
    d.ground.layers[0].spec.has_thermal = false;
    d.ground.layers[0].spec.soil = uf_soil_find("silt");
    d.ground.layers[0].spec.dry_density_kg_m3 = 1500.0;
    d.ground.layers[0].spec.moisture_by_mass = 0.16;
    d.ground.layers[1] = d.ground.layers[0];
    d.ground.layers[1].spec.moisture_by_mass = 0.27;
    uf_variant_moisture(&d, 1.25);
    cr_expect_float_eq(d.ground.layers[0].spec.moisture_by_mass, 0.20, 1e-12);
    for (size_t i = 0; i < 2; i++) {
        cr_expect(uf_soil_resolve(&state, &d.ground.layers[i].spec, UF_JOHANSEN, false,
                                  NULL) == UF_OK);
        cr_expect(state.saturation <= 1.0);
    }
    cr_expect(state.saturation > 0.99, "%g", state.saturation);
}

Test(variant, latent_heat_follows_where_properties_are_given)
{
    struct uf_case d = runs_tank();
    const double before = d.ground.layers[0].spec.thermal.latent_J_m3;
    uf_variant_moisture(&d, 0.75);
    cr_expect_float_eq(d.ground.layers[0].spec.thermal.latent_J_m3, 0.75 * before, 1e-3);
}

Test(variant, says_when_it_changes_nothing)
{
    struct uf_case d = runs_tank();
    struct uf_case empty = d;
    struct uf_case copy = d;
    empty.tank.level_m = 0.0;
    cr_expect(named("still water")->apply(&copy) && copy.tank.mixing_W_mK > 0.0);
    cr_expect(!named("still water")->apply(&copy), "it is still already");
    cr_expect(!named("still water")->apply(&empty));
    copy = d;
    cr_expect(named("lowest level")->apply(&copy));
    cr_expect_float_eq(copy.tank.level_m, 0.6, 1e-12, "half by default");
    copy = d;
    cr_expect(!named("no snow")->apply(&copy));
    copy.surface.snow = UF_SNOW_RECORDED;
    cr_expect(named("no snow")->apply(&copy) && copy.surface.snow == UF_SNOW_NONE);
    copy = d;
    cr_expect(named("high water table")->apply(&copy) &&
              copy.ground.water_winter_m == 0.0);
    cr_expect(!named("high water table")->apply(&copy));
}

Test(variant, next_rarer_winter)
{
    cr_expect_eq(uf_variant_rarer_years(30.0), 50.0);
    cr_expect_eq(uf_variant_rarer_years(50.0), 100.0);
    cr_expect_eq(uf_variant_rarer_years(100.0), 200.0);
}
