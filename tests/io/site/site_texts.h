#ifndef UF_SITE_TEXTS_H
#define UF_SITE_TEXTS_H

#include "io/site/site_file.h"
#include "io/text/units.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Site files that must be read, or must not. */

/* Every key of the contract's example, in an invented site of ours. */
#define WHOLE                                                                                      \
    "site: {name: Larch Hollow fire-water cistern, latitude: 49.9 degrees_north}\n"                \
    "climate: {file: winnipeg.csv, column: winnipeg, winter: 1 in 100}\n"                          \
    "surface: {film: 17 W/m2/K, snow: {depth: 0.3 m, density: 210 kg/m3}}\n"                       \
    "ground:\n"                                                                                    \
    "  - {to: 0.4 m, soil: topsoil}\n"                                                             \
    "  - {to: 2.5 m, soil: silt, dry_density: 1600 kg/m3, moisture: 20 percent,\n"                 \
    "     unit_weight_moist: 18.5 kN/m3, unit_weight_saturated: 125 pcf}\n"                        \
    "  - to: 15 m\n"                                                                               \
    "    thermal: {conductivity_thawed: 1.6 W/m/K, conductivity_frozen: 2.1 W/m/K,\n"              \
    "              heat_capacity_thawed: 2.3 MJ/m3/K, heat_capacity_frozen: 1.8 MJ/m3/K,\n"        \
    "              latent_heat: 80 MJ/m3, freezing_from: 0 degC, freezing_to: -0.5 degC}\n"        \
    "conductivity: johansen\n"                                                                     \
    "geothermal: 0.06 W/m2\n"                                                                      \
    "groundwater: {winter: 2.0 m, highest: -0.2 m}\n"                                              \
    "initial:\n"                                                                                   \
    "  profile: [[0 m, 5 degC], [10 m, 6.5 degC]]\n"                                               \
    "  date: 2014-10-02\n"                                                                         \
    "  end: 2015-06-30\n"                                                                          \
    "tank:\n"                                                                                      \
    "  shape: horizontal_cylinder\n"                                                               \
    "  diameter: 2.4 m\n"                                                                          \
    "  length: 6.0 m\n"                                                                            \
    "  heads: ellipsoidal_2_to_1\n"                                                                \
    "  ends: three_dimensional\n"                                                                  \
    "  empty_mass: 900 kg\n"                                                                       \
    "  wall: {thickness: 8 mm, conductivity: 0.25 W/m/K}\n"                                        \
    "  contents: {level: 2.2 m, lowest: 1.2 m, start: 4 degC, mixing: 20 W/m/K}\n"                 \
    "  inflow: {rate: 1 m3/day, temperature: 6 degC}\n"                                            \
    "  risers: [{diameter: 0.6 m, height: 1.2 m, lid: 0.5 m2.K/W}]\n"                              \
    "burial:\n"                                                                                    \
    "  cover: 1.2 m\n"                                                                             \
    "  bedding: 0.3 m\n"                                                                           \
    "  pit: {clearance: 0.6 m, slope: 1.5, soil_class: B}\n"                                       \
    "  backfill: {soil: pea_gravel}\n"                                                             \
    "  bedding_soil: {soil: sand}\n"                                                               \
    "board:\n"                                                                                     \
    "  type: XPS_IV\n"                                                                             \
    "  thickness: 100 mm\n"                                                                        \
    "  beyond_tank: 1.2 m\n"                                                                       \
    "  above_crown: 0.15 m\n"                                                                      \
    "  skirt: 0.4 m\n"                                                                             \
    "anchors:\n"                                                                                   \
    "  deadmen: {count: 2, width: 0.3 m, height: 0.35 m, length: 6.0 m, unit_weight: 24 kN/m3}\n"  \
    "  straps: 4\n"                                                                                \
    "load: {wheel: H20}\n"                                                                         \
    "probes:\n"                                                                                    \
    "  - {name: outlet, x: 0.2 m, above_invert: 0.1 m, least: 0 degC}\n"                           \
    "  - {below_crown: 0.5 m}\n"                                                                   \
    "pipes:\n"                                                                                     \
    "  - {name: suction, diameter: 150 mm, depth: 1.8 m, under_board: yes}\n"                      \
    "grid: {finest: 60 mm, width: 16 m, depth: 14 m}\n"                                            \
    "limits: {water: 2 degC, ice: 5 percent, uplift_factor: 1.4, greatest_cover: 2.1 m}\n"         \
    "choices:\n"                                                                                   \
    "  cover: [0.9 m, 1.2 m, 1.5 m, 1.8 m]\n"                                                      \
    "  thickness: [0 mm, 50 mm, 75 mm, 100 mm, 150 mm]\n"                                          \
    "  beyond_tank: [0.6 m, 1.2 m]\n"                                                              \
    "costs: {currency: CAD, excavation: 25 /m3, board: 240 CAD/m3, concrete: 450 /m3,\n"           \
    "        backfill: 35 CAD /m3}\n"

/* The least a site can be. */
#define BARE                                                                                       \
    "climate: {file: a.csv}\n"                                                                     \
    "ground: [{soil: silt}]\n"
/* The least a site with a tank can be. */
#define BURIED                                                                                     \
    BARE "tank: {shape: box, width: 1.5 m, height: 1.3 m, length: 2.5 m}\n"                        \
         "burial: {cover: 0.7 m}\n"

/* Reads a text that must be right. */
static inline struct uf_site *must_parse(const char *text)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults;
    struct uf_error err = {0};
    const enum uf_status status =
        uf_site_parse(&site, "a.yaml", text, strlen(text), NULL, &faults, &err);
    cr_assert_eq(status, UF_OK, "%s, line %d: %s: %s: %s", err.text,
                 faults.n > 0 ? faults.rows[0].line : 0, faults.n > 0 ? faults.rows[0].key : "",
                 faults.n > 0 ? faults.rows[0].what.text : "",
                 faults.n > 0 ? faults.rows[0].allowed.text : "");
    cr_assert_eq(faults.n, 0);
    return site;
}

/* Reads a text that must be wrong; the caller clears the faults. */
static inline void must_fail(struct uf_site_faults *faults, const char *text,
                             const struct uf_site_override *sets, size_t n_sets)
{
    struct uf_site *site = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_site_parse(&site, "a.yaml", text, strlen(text),
                               &(struct uf_site_overrides){sets, n_sets}, faults, &err),
                 UF_E_INPUT, "%s", text);
    cr_assert_null(site);
    cr_assert(faults->n > 0);
}

static inline void near(double got, double expected)
{
    cr_expect(fabs(got - expected) <= 1e-9 * (1.0 + fabs(expected)), "%.12g, not %.12g", got,
              expected);
}

#endif
