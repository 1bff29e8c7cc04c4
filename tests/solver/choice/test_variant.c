#include "solver/choice/variant.h"
#include "solver/ground/soil.h"
#include "solver/weather/surface.h"
#include "tests/runs.h"

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
        cr_expect(uf_soil_resolve(&state, &d.ground.layers[i].spec, UF_JOHANSEN, false, NULL) ==
                  UF_OK);
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
    cr_expect(named("unmixed water")->apply(&copy) && uf_case_water(&copy) == UF_WATER_UNMIXED);
    cr_expect(!named("unmixed water")->apply(&copy), "it is still already");
    cr_expect(!named("unmixed water")->apply(&empty));
    /* The two that are not the chosen one. */
    cr_expect(named("mixed water")->apply(&copy) && !named("mixed water")->apply(&copy));
    cr_expect(named("layered water")->apply(&copy) && !named("layered water")->apply(&copy));
    copy.tank.mixing_W_mK = 20.0; /* unmixed by its own conductivity */
    cr_expect(!named("unmixed water")->apply(&copy) && isnan(copy.tank.mixing_W_mK));
    copy = d;
    cr_expect(named("lowest level")->apply(&copy));
    cr_expect_float_eq(copy.tank.level_m, 0.6, 1e-12, "half by default");
    copy = d;
    cr_expect(!named("no snow")->apply(&copy));
    copy.surface.snow = UF_SNOW_RECORDED;
    cr_expect(named("no snow")->apply(&copy) && copy.surface.snow == UF_SNOW_NONE);
    copy = d;
    cr_expect(named("high water table")->apply(&copy) && copy.ground.water_winter_m == 0.0);
    cr_expect(!named("high water table")->apply(&copy));
}

/* Full soil stays full under "wetter", and does not lose a thousandth on the way. */
Test(variant, full_soil_cannot_be_wetter)
{
    struct uf_case d = runs_tank();
    struct uf_ground_spec *spec = &d.ground.layers[0].spec;
    const struct uf_soil *silt = uf_soil_find("silt");
    cr_assert_not_null(silt);
    const double full = UF_WATER_DENSITY_KG_M3 * (1.0 / 1500.0 - 1.0 / silt->solid_kg_m3);
    d.burial.has_backfill = d.burial.has_bedding_soil = false;
    spec->has_thermal = false;
    spec->soil = silt;
    spec->dry_density_kg_m3 = 1500.0;
    spec->moisture_by_mass = full;
    struct uf_case copy = d;
    cr_expect(!named("wetter soil")->apply(&copy));
    cr_expect_eq(copy.ground.layers[0].spec.moisture_by_mass, full);
    cr_expect(named("drier soil")->apply(&copy));
    cr_expect_float_eq(copy.ground.layers[0].spec.moisture_by_mass, 0.75 * full, 1e-12);
    /* Given by volume: the same water. */
    copy = d;
    copy.ground.layers[0].spec.moisture_by_mass = NAN;
    copy.ground.layers[0].spec.moisture_by_volume = 0.24;
    cr_expect(named("drier soil")->apply(&copy));
    cr_expect_float_eq(copy.ground.layers[0].spec.moisture_by_mass, 0.75 * 0.24 / 1.5, 1e-12);
    cr_expect(isnan(copy.ground.layers[0].spec.moisture_by_volume));
    /* Dry rock by its measured properties has nothing to lose. */
    copy = runs_tank();
    copy.burial.has_backfill = copy.burial.has_bedding_soil = false;
    copy.ground.layers[0].spec.thermal.latent_J_m3 = 0.0;
    cr_expect(!named("drier soil")->apply(&copy));
}

/* The method of conductivity matters where any soil is a row of the table: the backfill
   too. */
Test(variant, other_methods_where_a_row_is_used)
{
    struct uf_case d = runs_tank();
    struct uf_case copy = d;
    cr_assert(d.burial.has_backfill && !d.burial.backfill.has_thermal);
    cr_expect(named("second method")->apply(&copy));
    cr_expect_eq(copy.ground.method, (d.ground.method + 1) % 3);
    copy = d;
    cr_expect(named("third method")->apply(&copy));
    cr_expect_eq(copy.ground.method, (d.ground.method + 2) % 3);
    d.burial.has_backfill = false;
    cr_assert(d.burial.bedding_soil.has_thermal && d.ground.layers[0].spec.has_thermal);
    copy = d;
    cr_expect(!named("second method")->apply(&copy));
    copy = d;
    cr_expect(!named("third method")->apply(&copy));
}

Test(variant, each_says_no_to_what_it_cannot_change)
{
    struct uf_case d = runs_tank();
    struct uf_case copy = d;
    d.tank.lowest_m = d.tank.level_m;
    copy = d;
    cr_expect(!named("lowest level")->apply(&copy), "drawn down already");
    d.tank.lowest_m = 0.0;
    copy = d;
    cr_expect(!named("lowest level")->apply(&copy), "empty water has no temperature");
    d.tank.hold_degC = 5.0;
    copy = d;
    cr_expect(!named("unmixed water")->apply(&copy), "kept warm");
    d.tank.shape = UF_NO_TANK;
    copy = d;
    cr_expect(!named("lowest level")->apply(&copy) && !named("unmixed water")->apply(&copy));
    d.surface.kind = UF_SURFACE_N_FACTOR;
    d.surface.n_freezing = d.surface.n_thawing = 0.7;
    d.surface.snow = UF_SNOW_RECORDED;
    copy = d;
    cr_expect(!named("no snow")->apply(&copy), "an n-factor has its snow in it");
    d.ground.water_highest_m = 1.0;
    d.ground.water_winter_m = 1.0;
    copy = d;
    cr_expect(!named("high water table")->apply(&copy));
    d.ground.water_winter_m = 2.0;
    d.ground.water_highest_m = -0.4;
    copy = d;
    cr_expect(named("high water table")->apply(&copy));
    cr_expect_eq(copy.ground.water_winter_m, 0.0, "a flood saturates to grade");
    d.ground.water_moves = true;
    d.ground.water_winter_m = 0.0;
    copy = d;
    cr_expect(named("high water table")->apply(&copy), "a year that moves, though high in winter");
    cr_expect_not(copy.ground.water_moves, "stays up");
}

Test(variant, next_rarer_winter)
{
    cr_expect_eq(uf_variant_rarer_years(30.0), 50.0);
    cr_expect_eq(uf_variant_rarer_years(50.0), 100.0);
    cr_expect_eq(uf_variant_rarer_years(100.0), 200.0);
}

Test(variant, gravel_that_does_not_drain)
{
    struct uf_case d = runs_tank();
    struct uf_ground_spec *fill = &d.burial.backfill;
    d.ground.layers[0].spec.has_thermal = false;
    d.ground.layers[0].spec.soil = uf_soil_find("silt");
    d.burial.has_backfill = true;
    *fill = d.ground.layers[0].spec;
    struct uf_case copy = d;
    cr_expect(!named("wet gravel")->apply(&copy), "silt is none");
    fill->soil = uf_soil_find("pea_gravel");
    fill->moisture_by_volume = 0.03;
    copy = d;
    cr_expect(named("wet gravel")->apply(&copy) && isnan(copy.burial.backfill.moisture_by_volume));
    cr_expect_eq(copy.burial.backfill.moisture_by_mass, 0.08);
    cr_expect(isnan(copy.ground.layers[0].spec.moisture_by_mass), "the silt stays as it is");
    cr_expect(!named("wet gravel")->apply(&copy), "it is wet already");
    fill->has_thermal = true;
    copy = d;
    cr_expect(!named("wet gravel")->apply(&copy), "measured");
}

Test(variant, a_colder_surface)
{
    struct uf_case d = runs_tank();
    struct uf_case copy = d;
    cr_expect(!named("colder surface")->apply(&copy), "a film has no n-factor");
    d.surface.kind = UF_SURFACE_N_FACTOR;
    d.surface.row = uf_surface_find("turf");
    copy = d;
    cr_expect(named("colder surface")->apply(&copy) && copy.surface.row == NULL);
    cr_expect_float_eq(copy.surface.n_freezing, 0.7, 1e-12);
    cr_expect_float_eq(copy.surface.n_thawing, 0.8, 1e-12);
    cr_expect(named("colder surface")->apply(&copy) && named("colder surface")->apply(&copy));
    cr_expect_eq(copy.surface.n_freezing, 1.0, "no colder than the air");
    cr_expect(!named("colder surface")->apply(&copy));
}
