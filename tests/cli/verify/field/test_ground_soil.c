#include "cli/verify/field/ground_soil.h"

#include <criterion/criterion.h>

#include <math.h>

static struct uf_ground_soil soil_of(double driest_m3_m3, double wettest_m3_m3)
{
    struct uf_ground_soil soil;
    struct uf_error err = {0};
    cr_assert(uf_ground_soil(&soil, driest_m3_m3, wettest_m3_m3, &err) == UF_OK, "%s", err.text);
    return soil;
}

/* Wilting points of Saxton & Rawls 2006, table 3, give back their class: loam 40 % sand,
   20 % clay, 46 % pores, 1.43 g/cm3; half way to clay loam 35 % and 27.5 %. */
Test(ground_soil, driest_reading_gives_the_class)
{
    const struct uf_ground_soil loam = soil_of(0.14, 0.40);
    const struct uf_ground_soil heavier = soil_of(0.18, 0.40);
    cr_expect_float_eq(loam.sand, 0.40, 1e-12);
    cr_expect_float_eq(loam.clay, 0.20, 1e-12);
    cr_expect_float_eq(loam.porosity, 0.46, 1e-12);
    cr_expect_float_eq(loam.dry_density_kg_m3, 1431.0, 1e-9);
    cr_expect_float_eq(heavier.sand, 0.35, 1e-12);
    cr_expect_float_eq(heavier.clay, 0.275, 1e-12);
    cr_expect(!loam.bounded && !heavier.bounded);
}

/* Beyond the table: sand keeps its class but not its table's wilting point; ground that
   never dried is the finest class, and its wettest reading must fit its pores. */
Test(ground_soil, ends_of_the_table_stand)
{
    const struct uf_ground_soil sand = soil_of(0.02, 0.14);
    const struct uf_ground_soil none = soil_of(0.0, 0.14);
    const struct uf_ground_soil clay = soil_of(0.43, 0.57);
    cr_expect_float_eq(sand.sand, 0.88, 1e-12);
    cr_expect_float_eq(sand.wilting_m3_m3, 0.02, 1e-12);
    cr_expect_float_eq(none.wilting_m3_m3, 0.001, 1e-12);
    cr_expect_float_eq(clay.clay, 0.50, 1e-12);
    cr_expect_float_eq(clay.wilting_m3_m3, 0.30, 1e-12);
    cr_expect_float_eq(clay.porosity, 0.57, 1e-12);
    cr_expect(clay.bounded && !sand.bounded);
}

/* Liquid water at 1500 kPa and at 33 kPa, which ice draws with at 1500 / 1222.8 = 1.2267
   and 33 / 1222.8 = 0.02699 K (334 kJ/kg, 273.15 K), is what the table says of loam. Soil
   at its wilting point begins to freeze there. */
Test(ground_soil, freezes_as_it_dries)
{
    const struct uf_ground_soil loam = soil_of(0.14, 0.40);
    struct uf_thermal t;
    struct uf_error err = {0};
    cr_assert(uf_ground_soil_thermal(&t, &loam, 0.40, UF_COTE_KONRAD, &err) == UF_OK, "%s",
              err.text);
    const double to_volume = 0.01 * loam.dry_density_kg_m3 / 1000.0;
    cr_expect_float_eq(t.unfrozen_A_percent * pow(1.2267, t.unfrozen_B) * to_volume, 0.14, 1e-4);
    cr_expect_float_eq(t.unfrozen_A_percent * pow(0.02699, t.unfrozen_B) * to_volume, 0.28, 1e-4);
    cr_expect_float_eq(t.water_percent * to_volume, 0.40, 1e-12);
    cr_expect_float_eq(uf_ground_soil_liquid_m3_m3(&loam, -1.2267), 0.14, 1e-4);
    cr_assert(uf_ground_soil_thermal(&t, &loam, 0.14, UF_COTE_KONRAD, &err) == UF_OK);
    cr_expect_float_eq(t.freezing_from_degC, -1.2267, 1e-3);
    /* More than the pores hold: full. */
    cr_assert(uf_ground_soil_thermal(&t, &loam, 0.90, UF_COTE_KONRAD, &err) == UF_OK);
    cr_expect_float_eq(t.water_percent * to_volume, 0.46, 1e-9);
}

Test(ground_soil, readings_of_no_soil_are_refused)
{
    struct uf_ground_soil soil;
    struct uf_error err = {0};
    cr_expect_eq(uf_ground_soil(&soil, NAN, 0.4, &err), UF_E_RANGE);
    cr_expect_eq(uf_ground_soil(&soil, -0.1, 0.4, &err), UF_E_RANGE);
    cr_expect_eq(uf_ground_soil(&soil, 0.3, 0.2, &err), UF_E_RANGE);
    cr_expect_eq(uf_ground_soil(&soil, 0.3, 1.0, &err), UF_E_RANGE);
    cr_expect_eq(uf_ground_soil(&soil, 0.3, NAN, &err), UF_E_RANGE);
}
