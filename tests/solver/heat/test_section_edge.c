#include "solver/base/constants.h"
#include "solver/heat/layers.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

/* What cannot be, a lid at grade, the film of a wetted wall. */

static struct uf_section *make(const struct uf_case *design)
{
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    cr_assert(uf_section_create(&s, design, 1.5, &err) == UF_OK, "%s", err.text);
    return s;
}

/* A soil that cannot be: the message names what is wrong, nothing is left behind. */
Test(section_edge, impossible_soil_is_refused)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 3.0);
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    d.ground.layers[0].spec.thermal.k_frozen_W_mK = -1.0;
    cr_expect(uf_section_create(&s, &d, 1.5, &err) == UF_E_RANGE);
    cr_expect(s == NULL && strstr(err.text, "conductivit") != NULL, "%s", err.text);
    d = designs_tank(UF_HORIZONTAL_CYLINDER, 3.0);
    d.burial.backfill.moisture_by_mass = 3.0;
    cr_expect(uf_section_create(&s, &d, 1.5, &err) == UF_E_RANGE);
    cr_expect(s == NULL);
}

/* Between the centres of the cells a tank would stand alone and the matrix be singular. */
Test(section_edge, a_tank_smaller_than_a_cell_is_refused)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.01);
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    d.tank.wall_thickness_m = NAN;
    d.tank.diameter_m = 0.05;
    cr_expect(uf_section_create(&s, &d, 1.5, &err) == UF_E_RANGE);
    cr_expect(s == NULL && strstr(err.text, "grid.finest") != NULL, "%s", err.text);
}

/* A lid at grade: the surface's heat goes to what is under it through the wall and the
   film inside (ISO 6946: 0.13 m2K/W for air). */
Test(section_edge, a_tank_that_comes_up_to_grade_has_a_lid)
{
    static const enum uf_shape shapes[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};
    for (size_t k = 0; k < 3; k++) {
        struct uf_case d = designs_tank(shapes[k], 0.68);
        d.board.present = false;
        d.burial.cover_m = 0.0;
        struct uf_section *s = make(&d);
        const struct uf_heat_top *lid = &s->heat->tops[0];
        const struct uf_material *m = &s->heat->materials[lid->material];
        cr_expect(lid->lid && !lid->wetted && lid->cell == s->heat->air);
        cr_expect_float_eq(lid->half_m / m->k_W_mK[0], 0.02 / 0.25 + 0.13, 1e-12);
        cr_expect(!s->heat->tops[s->heat->n_tops - 1].lid);
        uf_section_free(s);
    }
}

/* The equations of section.h over 1 m of wall. nu, Pr, k of water from memory. */
static double film_W_m2K(double water_degC, double wall_degC, double nu_m2_s, double Pr, double k)
{
    const double rho = uf_layers_density_kg_m3(water_degC);
    const double lighter = fabs(rho - uf_layers_density_kg_m3(wall_degC)) / rho;
    const double Ra = UF_GRAVITY_M_S2 * lighter * Pr / (nu_m2_s * nu_m2_s);
    return k * (0.68 + 0.670 * pow(Ra, 0.25) / pow(1.0 + pow(0.492 / Pr, 9.0 / 16.0), 4.0 / 9.0));
}

Test(section_edge, the_film_of_a_wetted_wall_is_that_of_slow_free_convection)
{
    const double weak = film_W_m2K(3.0, 2.9, 1.67e-6, 12.5, 0.565);
    const double usual = film_W_m2K(3.0, 2.0, 1.67e-6, 12.5, 0.565);
    const double strong = film_W_m2K(8.0, 7.0, 1.40e-6, 10.2, 0.580);
    cr_expect_float_eq(weak, 33.0, 0.5, "%g", weak);
    cr_expect_float_eq(usual, 64.0, 0.5, "%g", usual);
    cr_expect_float_eq(strong, 83.0, 0.5, "%g", strong);
    cr_expect(UF_SECTION_WATER_FILM_W_M2K > weak && UF_SECTION_WATER_FILM_W_M2K < strong);
    /* 5 W/m2 from the wall: within 0.1 K of the weak film. */
    cr_expect_lt(5.0 / weak - 5.0 / UF_SECTION_WATER_FILM_W_M2K, 0.1);
}
