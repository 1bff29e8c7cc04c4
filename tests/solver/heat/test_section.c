#include "cli/verify/exact/steady.h"
#include "solver/base/constants.h"
#include "solver/design/tank.h"
#include "tests/designs.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static struct uf_section *make(const struct uf_case *design)
{
    struct uf_section *s = NULL;
    struct uf_error err = {0};
    cr_assert(uf_section_create(&s, design, 1.5, &err) == UF_OK, "%s", err.text);
    return s;
}

/* Volume of all cells, m3 per metre of half section (or of the whole drum). */
static double cells_m3(const struct uf_section *s)
{
    double sum_m3 = 0.0;
    for (size_t c = 0; c < s->heat->n_cells; c++) {
        sum_m3 += s->heat->volume_m3[c];
    }
    return sum_m3;
}

static double domain_m3(const struct uf_case *d)
{
    const double w = d->grid.width_m;
    const double plan = d->tank.shape == UF_VERTICAL_CYLINDER ? UF_PI * w * w : w;
    return plan * d->grid.depth_m;
}

/* Half of the tank's section from its own formulas, outside or inside the wall. */
static double tank_m3(const struct uf_case *d, double wall_m)
{
    const double half = 0.8 - wall_m;
    const double high = 1.4 - 2.0 * wall_m;
    switch (d->tank.shape) {
    case UF_HORIZONTAL_CYLINDER:
        return 0.5 * UF_PI * half * half;
    case UF_VERTICAL_CYLINDER:
        return UF_PI * half * half * high;
    default:
        return half * high;
    }
}

static const enum uf_shape SHAPES[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX};

/* Mixed contents are one body: the ground's cells hold the domain less the tank, the body
   the tank's inside. */
Test(section, ground_and_water_make_the_domain)
{
    for (size_t k = 0; k < 3; k++) {
        for (double finest_m = 0.05; finest_m < 0.15; finest_m += 0.037) {
            struct uf_case d = designs_tank(SHAPES[k], 3.0); /* over the crown: full */
            d.tank.ends = false;
            d.grid.finest_m = finest_m;
            struct uf_section *s = make(&d);
            const struct uf_heat *h = s->heat;
            const double ground = domain_m3(&d) - tank_m3(&d, 0.0);
            cr_expect(fabs(cells_m3(s) - ground) < 1e-11 * ground,
                      "shape %zu at %g m: %.12g, want %.12g", k, finest_m, cells_m3(s), ground);
            cr_expect(h->water == h->n_cells && h->air == UF_HEAT_NONE);
            cr_expect(fabs(h->volume_m3[h->water] - tank_m3(&d, 0.02)) < 1e-12);
            cr_expect(fabs(h->water_m3 - tank_m3(&d, 0.02)) < 1e-12);
            uf_section_free(s);
        }
    }
}

/* Water, air and ground of a partly filled tank; the heat that freezing its water gives
   off is the latent heat of that water. */
Test(section, partly_filled)
{
    for (size_t k = 0; k < 3; k++) {
        struct uf_case d = designs_tank(SHAPES[k], 0.68);
        d.tank.ends = false;
        struct uf_section *s = make(&d);
        const struct uf_heat *h = s->heat;
        const double inside = tank_m3(&d, 0.02);
        cr_expect(h->water != UF_HEAT_NONE && h->air == h->water + 1);
        cr_expect(fabs(h->volume_m3[h->water] + h->volume_m3[h->air] - inside) < 1e-12);
        if (SHAPES[k] != UF_HORIZONTAL_CYLINDER) { /* 0.68 of 1.36 m: half full */
            cr_expect(fabs(h->water_m3 - 0.5 * inside) < 1e-12);
        }
        const struct uf_material *water = &h->materials[h->material[h->water]];
        cr_expect(fabs(h->volume_m3[h->water] * water->water_J_m3 -
                       h->water_m3 * UF_WATER_LATENT_J_M3) < 1e-3);
        /* Water meets air over its surface, by hand, behind the film of ISO 6946. */
        static const double surface_m2[] = {0.7735630, UF_PI * 0.6084, 0.78};
        size_t met = 0;
        for (size_t l = 0; l < h->n_links; l++) {
            if (h->links[l].a == h->water && h->links[l].b == h->air) {
                met++;
                cr_expect_float_eq(h->links[l].area_m2, surface_m2[k], 1e-6);
                cr_expect_float_eq(h->links[l].fixed_m2K_W, 0.13, 1e-12);
            }
        }
        cr_expect_eq(met, 1);
        cr_expect(fabs(s->surface_z_m -
                       (d.burial.cover_m + uf_case_tank_height_m(&d) - 0.02 - 0.68)) < 1e-12);
        uf_section_free(s);
    }
}

/* Still water lies in the cells: heat to freeze them all is that of the tank's water. */
Test(section, still_water_keeps_its_latent_heat)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 3.0);
    d.tank.ends = false;
    d.tank.mixing_W_mK = 1.0;
    d.ground.layers[0].spec.thermal.latent_J_m3 = 0.0; /* only the water freezes */
    d.burial.has_backfill = d.burial.has_bedding_soil = false;
    struct uf_section *s = make(&d);
    const struct uf_heat *h = s->heat;
    double latent_J = 0.0;
    for (size_t c = 0; c < h->n; c++) {
        latent_J += h->volume_m3[c] * h->materials[h->material[c]].water_J_m3;
    }
    const double want_J = tank_m3(&d, 0.02) * UF_WATER_LATENT_J_M3;
    cr_expect(fabs(latent_J - want_J) < 1e-9 * want_J, "%g of %g", latent_J, want_J);
    cr_expect(fabs(cells_m3(s) - domain_m3(&d)) < 1e-9);
    cr_expect(h->water == UF_HEAT_NONE && s->unmixed);
    uf_section_free(s);
}

/* The same in part: what lies below the level, by the tank's own formulas. */
Test(section, still_water_keeps_its_latent_heat_at_every_level)
{
    for (size_t k = 0; k < 3; k++) {
        for (double level_m = 0.1; level_m < 1.3; level_m += 0.137) {
            struct uf_case d = designs_tank(SHAPES[k], level_m);
            d.tank.ends = false;
            d.tank.mixing_W_mK = 1.0;
            d.ground.layers[0].spec.thermal.latent_J_m3 = 0.0;
            d.burial.has_backfill = d.burial.has_bedding_soil = false;
            struct uf_section *s = make(&d);
            const struct uf_heat *h = s->heat;
            double latent_J = 0.0;
            for (size_t c = 0; c < h->n; c++) {
                latent_J += h->volume_m3[c] * h->materials[h->material[c]].water_J_m3;
            }
            const double want_J = UF_WATER_LATENT_J_M3 *
                                  (SHAPES[k] == UF_HORIZONTAL_CYLINDER
                                       ? 0.5 * uf_tank_segment_m2(0.78, level_m)
                                       : tank_m3(&d, 0.02) * level_m / (d.tank.height_m - 0.04));
            cr_expect(fabs(latent_J - want_J) < 1e-9 * want_J, "shape %zu, %g m: %g of %g", k,
                      level_m, latent_J, want_J);
            uf_section_free(s);
        }
    }
}

Test(section, empty_and_held)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.0);
    struct uf_section *s = make(&d);
    cr_expect(s->heat->water == UF_HEAT_NONE && s->heat->air == s->heat->n_cells);
    cr_expect(isnan(s->surface_z_m) && s->heat->water_m3 == 0.0);
    cr_expect(s->heat->vents[0].node == s->heat->air, "the lid lies over the air");
    for (size_t l = 0; l < s->heat->n_links; l++) {
        cr_expect(!s->heat->links[l].wetted);
    }
    uf_section_free(s);
    d = designs_tank(UF_BOX, 1.0);
    d.tank.hold_degC = 6.0;
    s = make(&d);
    cr_expect(s->heat->held == s->heat->water && s->heat->held != UF_HEAT_NONE);
    uf_section_free(s);
}

/* What the whole tank has once is shared by a metre of half section, and by a quarter. */
Test(section, risers_by_their_share_of_the_tank)
{
    const double riser_W_K = 0.09 * UF_PI / (0.5 + 0.13 + 0.04);
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 3.0);
    struct uf_section *plane = make(&d);
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    struct uf_section *solid = make(&d);
    cr_expect_float_eq(plane->heat->vents[0].W_K, riser_W_K / (2.0 * 4.0), 1e-12);
    cr_expect_float_eq(solid->heat->vents[0].W_K, riser_W_K / 4.0, 1e-12);
    uf_section_free(plane);
    uf_section_free(solid);
}

/* Still water to the crown is no body of its own: the riser stands on its topmost cell. */
Test(section, a_riser_over_still_water)
{
    for (size_t k = 0; k < 3; k++) {
        struct uf_case d = designs_tank(SHAPES[k], 3.0);
        d.tank.mixing_W_mK = 5.0;
        struct uf_section *s = make(&d);
        cr_assert(s->heat->n_vents == 1, "shape %zu: the riser is left out", k);
        const size_t node = s->heat->vents[0].node;
        cr_assert(node < s->heat->n_cells && node % s->grid->nx == 0);
        cr_expect(s->grid->z_m[node / s->grid->nx] > 1.0 &&
                  s->grid->z_edge_m[node / s->grid->nx] < 1.0 + s->grid->z_m[1]);
        uf_section_free(s);
    }
}

/* Name of the substance shown at a point. */
static const char *shown_at(const struct uf_section *s, double x_m, double z_m)
{
    const struct uf_grid *g = s->grid;
    size_t i = 0;
    size_t j = 0;
    while (i + 1 < g->nx && g->x_edge_m[i + 1] < x_m) {
        i++;
    }
    while (j + 1 < g->nz && g->z_edge_m[j + 1] < z_m) {
        j++;
    }
    return s->names[s->shown[uf_grid_at(g, i, j)]];
}

/* designs_tank: crown 1.0 m, board 0.7 to 0.8 m out to 1.4 m with a skirt to 1.2 m, pit
   0.5 m beside the tank at its foot with slope 1:2, bedding 0.3 m. */
Test(section, everything_is_painted_where_it_lies)
{
    static const struct {
        double x_m, z_m;
        const char *name;
    } rows[] = {{0.1, 0.3, "measured soil"},
                {0.1, 0.75, "board"},
                {1.35, 0.75, "board"},
                {1.45, 0.75, "backfill pea_gravel"},
                {1.45, 0.65, "measured soil"},
                {1.35, 1.1, "board"},
                {1.25, 1.1, "backfill pea_gravel"},
                {0.1, 0.9, "backfill pea_gravel"},
                {0.1, 1.5, "water"},
                {1.1, 1.9, "backfill pea_gravel"},
                {0.1, 2.5, "bedding measured soil"},
                {1.2, 2.5, "bedding measured soil"},
                {4.0, 2.5, "measured soil"},
                {0.1, 2.75, "measured soil"},
                {4.0, 0.75, "measured soil"},
                {0.1, 5.0, "measured soil"}};
    struct uf_case d = designs_tank(UF_BOX, 3.0);
    d.tank.height_m = 1.4;
    struct uf_section *s = make(&d);
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        const char *got = shown_at(s, rows[k].x_m, rows[k].z_m);
        cr_expect(strcmp(got, rows[k].name) == 0, "at %g, %g: %s, not %s", rows[k].x_m, rows[k].z_m,
                  got, rows[k].name);
    }
    uf_section_free(s);
}

Test(section, ground_below_the_water_table_is_saturated)
{
    struct uf_case d = designs_tank(UF_NO_TANK, 0.0);
    d.ground.n_layers = 2;
    d.ground.layers[0].to_m = 0.5;
    d.ground.layers[1].to_m = 8.0;
    memset(&d.ground.layers[0].spec, 0, sizeof d.ground.layers[0].spec);
    d.ground.layers[0].spec = d.ground.layers[1].spec = d.burial.backfill;
    d.ground.layers[0].spec.soil = uf_soil_find("silt");
    d.ground.water_winter_m = 2.0;
    struct uf_section *s = make(&d);
    cr_expect(strcmp(shown_at(s, 0.5, 0.3), "silt") == 0);
    cr_expect(strcmp(shown_at(s, 0.5, 1.9), "pea_gravel") == 0);
    cr_expect(strcmp(shown_at(s, 0.5, 2.2), "pea_gravel, saturated") == 0);
    double water_J_m3[2] = {0.0, 0.0};
    for (size_t m = 0; m < s->n_names; m++) {
        if (strncmp(s->names[m], "pea_gravel", 10) == 0) {
            const bool saturated = strstr(s->names[m], "saturated") != NULL;
            water_J_m3[saturated] = s->heat->materials[m].water_J_m3;
        }
    }
    cr_expect(water_J_m3[0] > 0.0 && water_J_m3[1] > 2.0 * water_J_m3[0]);
    uf_section_free(s);
}

Test(section, crown_and_invert_links_stand_on_the_axis)
{
    for (size_t k = 0; k < 3; k++) {
        struct uf_case d = designs_tank(SHAPES[k], 0.68);
        struct uf_section *s = make(&d);
        const struct uf_heat_link *crown = &s->heat->links[s->crown_link];
        const struct uf_heat_link *invert = &s->heat->links[s->invert_link];
        cr_expect(crown->a % s->grid->nx == 0 && invert->a % s->grid->nx == 0);
        cr_expect(s->grid->z_m[crown->a / s->grid->nx] < 1.0 + 1e-9);
        cr_expect(s->grid->z_m[invert->a / s->grid->nx] > uf_case_invert_m(&d) - 1e-9);
        cr_expect(crown->b == s->heat->air && invert->b == s->heat->water);
        uf_section_free(s);
    }
}

/* The wall's inner face lies between water and ground, by the share of the resistance. */
Test(section, wall_temperature)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 3.0);
    struct uf_section *s = make(&d);
    const struct uf_heat *h = s->heat;
    double *T = calloc(h->n, sizeof *T);
    cr_assert(T != NULL);
    for (size_t i = 0; i < h->n; i++) {
        T[i] = i == h->water ? 4.0 : -2.0;
    }
    const struct uf_heat_link *link = &h->links[s->crown_link];
    const double got = uf_section_wall_degC(s, link, T);
    const double W = -uf_heat_link_W(h, link, T);
    const double want = 4.0 - W * link->inner_m2K_W / link->area_m2;
    cr_expect(fabs(got - want) < 1e-12 && got < 4.0 && got > -2.0, "%g", got);
    cr_expect(fabs(link->inner_m2K_W - 1.0 / 60.0) < 1e-3, "water's film");
    free(T);
    uf_section_free(s);
}

Test(section, reads_temperatures_between_cells)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 3.0);
    struct uf_section *s = make(&d);
    const struct uf_heat *h = s->heat;
    double *T = calloc(h->n + h->n_cells, sizeof *T);
    double *cells = T + h->n;
    cr_assert(T != NULL);
    for (size_t c = 0; c < h->n_cells; c++) {
        T[c] = 2.0 * s->grid->x_m[c % s->grid->nx] - s->grid->z_m[c / s->grid->nx];
    }
    T[h->water] = 3.5;
    cr_expect(fabs(uf_section_at_degC(s, T, 4.0, 5.0) - 3.0) < 1e-6);
    cr_expect(fabs(uf_section_at_degC(s, T, -4.0, 5.0) - 3.0) < 1e-6);
    cr_expect(uf_section_at_degC(s, T, 0.3, 1.8) == 3.5);
    uf_section_cells(s, T, cells);
    size_t wet = 0;
    for (size_t c = 0; c < h->n_cells; c++) {
        const bool in = uf_outline_contains(&s->outline, s->grid->x_m[c % s->grid->nx],
                                            s->grid->z_m[c / s->grid->nx]);
        cr_expect(cells[c] == (in ? 3.5 : T[c]));
        wet += in;
    }
    cr_expect(wet > 5);
    free(T);
    uf_section_free(s);
}

/* The undisturbed column has the section's rows and the native layers, no tank. */
Test(section, column_of_undisturbed_ground)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 3.0);
    struct uf_section *s = make(&d);
    struct uf_section *column = NULL;
    cr_assert(uf_section_create_column(&column, &d, s->grid, NULL) == UF_OK);
    cr_expect(column->grid->nx == 1 && column->grid->nz == s->grid->nz);
    cr_expect(column->heat->n == column->heat->n_cells);
    cr_expect(strcmp(shown_at(column, 0.5, 1.5), "measured soil") == 0);
    for (size_t j = 0; j <= s->grid->nz; j++) {
        cr_expect(column->grid->z_edge_m[j] == s->grid->z_edge_m[j]);
    }
    uf_section_free(column);
    uf_section_free(s);
    uf_section_free(NULL);
}
