#ifndef UF_TESTS_RECOMMENDED_H
#define UF_TESTS_RECOMMENDED_H

#include "program.h"

/* A small recommendation through the program: four choices on a coarse grid, in a folder
   of its own. */
#define RECOMMENDED_SITE                                                                           \
    "site: {name: Willow Bend cistern}\n"                                                          \
    "climate: {cycle: {mean: 5 degC, amplitude: 17 K}}\n"                                          \
    "surface: {film: 15 W/m2/K, snow: none}\n"                                                     \
    "ground: [{to: 10 m, soil: silt}]\n"                                                           \
    "groundwater: {winter: 3 m, highest: 1.5 m}\n"                                                 \
    "tank: {shape: horizontal_cylinder, diameter: 2 m, length: 6 m, ends: plane, empty_mass: 900 " \
    "kg,\n"                                                                                        \
    "  contents: {level: 1.8 m, start: 7 degC, water: mixed}}\n"                                   \
    "burial: {cover: 1.0 m, bedding: 0.3 m, pit: {clearance: 0.6 m, slope: 1}}\n"                  \
    "board: {type: XPS_IV, thickness: 100 mm, beyond_tank: 1 m, above_crown: 0.1 m}\n"             \
    "sensitivity: {leave_out: [ends]}\n"                                                           \
    "grid: {finest: 300 mm, width: 10 m, depth: 10 m}\n"                                           \
    "limits: {water: 0.5 degC, uplift_factor: 1.2}\n"                                              \
    "choices: {cover: [1.0 m, 1.6 m], thickness: [0 mm, 100 mm], beyond_tank: [1 m]}\n"

static char recommended_folder[64];

static inline void recommended_make(void)
{
    (void)snprintf(recommended_folder, sizeof recommended_folder, "/tmp/uf_recommended_XXXXXX");
    cr_assert_not_null(mkdtemp(recommended_folder));
}

static inline void recommended_drop(void)
{
    char line[128];
    (void)snprintf(line, sizeof line, "rm -rf '%s'", recommended_folder);
    cr_expect_eq(system(line), 0);
}

static inline struct program_answer recommended_run(const char *more)
{
    char arguments[256];
    (void)snprintf(arguments, sizeof arguments, "recommend --nominal --force -o %s %s",
                   recommended_folder, more);
    return program_run(arguments, RECOMMENDED_SITE);
}

#endif
