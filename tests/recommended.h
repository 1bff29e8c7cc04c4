#ifndef UF_TESTS_RECOMMENDED_H
#define UF_TESTS_RECOMMENDED_H

#include "program.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>

/* A small recommendation through the program: four choices on a coarse grid. */
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

/* None of the options will do. */
#define RECOMMENDED_NONE "--json --set limits.water=9degC"

/* One fixture for all tests of a program, each of which runs in a process of its own: what a command
   line came to, and its folder, are kept on disk until the last test is done. */
static char recommended_root[64], recommended_folder[128];

/* Where the answers of a test program lie: named by the process that starts the tests. */
static inline void recommended_place(long owner)
{
    (void)snprintf(recommended_root, sizeof recommended_root, "/tmp/uf_recommended_%ld", owner);
    (void)mkdir(recommended_root, 0700);
}

static inline void recommended_drop(void)
{
    char line[128];
    recommended_place((long)getpid());
    (void)snprintf(line, sizeof line, "rm -rf '%s'", recommended_root);
    (void)system(line);
}

/* "recommend --nominal --force more" on that site, run once; recommended_folder is its folder, its
   pictures are empty. A test
   changes nothing there: it copies the folder. */
static inline struct program_answer recommended_run(const char *more)
{
    char arguments[400], name[200], lock[200];
    unsigned long mark = 5381;
    for (const char *c = more; *c != '\0'; c++) {
        mark = 33 * mark + (unsigned char)*c;
    }
    recommended_place((long)getppid());
    (void)snprintf(recommended_folder, sizeof recommended_folder, "%s/%lx", recommended_root, mark);
    (void)snprintf(name, sizeof name, "%s.answer", recommended_folder);
    (void)snprintf(lock, sizeof lock, "%s.lock",
                   recommended_folder); /* tests may run side by side */
    const int one = open(lock, O_CREAT | O_RDWR | O_CLOEXEC, 0600);
    cr_assert_eq(flock(one, LOCK_EX), 0);
    struct program_answer kept = {.text = calloc(1, 1 << 18)};
    FILE *file = fopen(name, "r");
    if (file != NULL && kept.text != NULL && fscanf(file, "%d\n", &kept.code) == 1) {
        kept.text[fread(kept.text, 1, (1 << 18) - 1, file)] = '\0';
        (void)fclose(file);
        kept.json = cJSON_Parse(kept.text);
        (void)close(one);
        return kept;
    }
    program_forget(&kept);
    (void)setenv("TERM", "xterm-256color", 1); /* of which nothing may be seen in a pipe */
    (void)unsetenv("NO_COLOR");
    (void)snprintf(arguments, sizeof arguments, "recommend --nominal --force -o %s %s",
                   recommended_folder, more);
    program_draw_nothing();
    struct program_answer made = program_run(arguments, RECOMMENDED_SITE);
    file = fopen(name, "w");
    cr_assert(file != NULL && fprintf(file, "%d\n%s", made.code, made.text) > 0);
    cr_assert_eq(fclose(file), 0);
    (void)close(one);
    return made;
}

#endif
