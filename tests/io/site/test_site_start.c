#include "io/site/site_file.h"
#include "io/site/site_start.h"
#include "io/text/units.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void close_units(void)
{
    uf_units_close();
}

TestSuite(site_start, .fini = close_units);

static const char *const shapes[] = {"horizontal_cylinder", "vertical_cylinder", "box", "none"};
#define N_SHAPES (sizeof shapes / sizeof shapes[0])

static char *written(const char *shape, const char *file, const char *column, double latitude_deg)
{
    const struct uf_site_start start = {shape, file, column, latitude_deg, NULL, UF_UNITS_SI};
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    cr_assert_not_null(out);
    cr_assert_eq(uf_site_start_write(out, &start, NULL), UF_OK);
    (void)fclose(out);
    return text;
}

static struct uf_site *parsed(const char *text)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults;
    cr_assert_eq(uf_site_parse(&site, "s", text, strlen(text), NULL, &faults, NULL), UF_OK,
                 "%s\nline %d: %s: %s", text, faults.n > 0 ? faults.rows[0].line : 0,
                 faults.n > 0 ? faults.rows[0].key : "",
                 faults.n > 0 ? faults.rows[0].what.text : "");
    return site;
}

Test(site_start, runs_as_it_is_for_every_shape)
{
    static const enum uf_shape expected[] = {UF_HORIZONTAL_CYLINDER, UF_VERTICAL_CYLINDER, UF_BOX,
                                             UF_NO_TANK};
    for (size_t i = 0; i < N_SHAPES; i++) {
        char *text = written(shapes[i], "madison.csv", NULL, 43.1);
        struct uf_site *site = parsed(text);
        cr_expect_eq(site->design.tank.shape, expected[i]);
        cr_expect_eq(site->design.board.present, expected[i] != UF_NO_TANK);
        cr_expect_str_eq(site->climate_file, "madison.csv");
        cr_expect_str_eq(site->climate_column, "");
        cr_expect_float_eq(site->design.latitude_deg, 43.1, 1e-9);
        uf_site_free(site);
        free(text);
    }
}

/* The same tank in round US sizes: within a tenth of the SI file's, in its own units. */
Test(site_start, in_us_units_it_is_the_same_tank)
{
    for (size_t i = 0; i < N_SHAPES; i++) {
        const struct uf_site_start start = {shapes[i], "madison.csv", NULL, NAN, NULL, UF_UNITS_US};
        char *text = NULL, *si_text = written(shapes[i], "madison.csv", NULL, NAN);
        size_t size = 0;
        FILE *out = open_memstream(&text, &size);
        cr_assert_eq(uf_site_start_write(out, &start, NULL), UF_OK);
        (void)fclose(out);
        struct uf_site *us = parsed(text), *si = parsed(si_text);
        cr_expect_eq(us->units, UF_UNITS_US);
        cr_expect_eq(si->units, UF_UNITS_SI);
        const double pairs[][2] = {
            {us->design.tank.diameter_m, si->design.tank.diameter_m},
            {us->design.tank.length_m, si->design.tank.length_m},
            {us->design.tank.empty_mass_kg, si->design.tank.empty_mass_kg},
            {us->design.tank.level_m, si->design.tank.level_m},
            {us->design.tank.wall_k_W_mK, si->design.tank.wall_k_W_mK},
            {us->design.burial.cover_m, si->design.burial.cover_m},
            {us->design.board.thickness_m, si->design.board.thickness_m},
            {us->design.choices.cover_m[3], si->design.choices.cover_m[3]},
            {us->design.choices.thickness_m[4], si->design.choices.thickness_m[4]},
            {us->design.ground.layers[1].to_m, si->design.ground.layers[1].to_m},
            {us->design.surface.film_W_m2K, si->design.surface.film_W_m2K},
            {us->design.limits.water_degC, si->design.limits.water_degC + 0.1111},
        };
        for (size_t k = 0; k < sizeof pairs / sizeof pairs[0]; k++) {
            cr_expect(!(fabs(pairs[k][0] - pairs[k][1]) > 0.1 * fabs(pairs[k][1])),
                      "%s, pair %zu: %g and %g", shapes[i], k, pairs[k][0], pairs[k][1]);
        }
        cr_expect_null(strstr(text, ", in m"), "the rows of lists name US units");
        uf_site_free(us);
        uf_site_free(si);
        free(text);
        free(si_text);
    }
}

/* Keys that stand for one that is in force: the other way to say the same. */
static bool is_other_way(const char *line)
{
    static const char *const names[] = {"cycle:",       "mean:",   "amplitude:", "coldest:",
                                        "surface_temp", "file:",   "column:",    "depth: 0.05",
                                        "type: turf",   "n_freez", "n_thaw",     "hold:"};
    const char *name = line + 1 + strspn(line + 1, " ");
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (strncmp(name, names[i], strlen(names[i])) == 0) {
            return true;
        }
    }
    return false;
}

/* The promise of the file's head: delete the '#' at the beginning of a line to take it in. */
Test(site_start, what_is_behind_a_hash_can_be_taken_in)
{
    for (size_t i = 0; i < N_SHAPES; i++) {
        char *text = written(shapes[i], "madison.csv", NULL, NAN);
        char *copy = calloc(1, strlen(text) + 1);
        int taken = 0;
        for (char *line = strtok(text, "\n"); line != NULL; line = strtok(NULL, "\n")) {
            const bool off = line[0] == '#' && strncmp(line, "# ", 2) != 0;
            const bool key = off || strncmp(line, "#  ", 3) == 0;
            if (key && is_other_way(line)) {
                continue;
            }
            taken += key;
            (void)strcat(strcat(copy, key ? line + 1 : line), "\n");
        }
        cr_expect(taken > 6, "%s: %d", shapes[i], taken);
        struct uf_site *site = parsed(copy);
        cr_expect_eq(site->design.initial.n_profile, 2);
        cr_expect_eq(site->design.n_pipes, 1);
        uf_site_free(site);
        free(copy);
        free(text);
    }
}

Test(site_start, names_are_quoted_where_they_must_be)
{
    char *text = written("box", "my 'own' file: a #1.csv", "no. 1", NAN);
    struct uf_site *site = parsed(text);
    cr_expect_str_eq(site->climate_file, "my 'own' file: a #1.csv");
    cr_expect_str_eq(site->climate_column, "no. 1");
    cr_expect(isnan(site->design.latitude_deg));
    uf_site_free(site);
    free(text);
}

Test(site_start, what_cannot_be_written_is_refused)
{
    struct uf_error err = {0};
    char longer[300];
    memset(longer, 'x', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    const struct uf_site_start rows[] = {{"ball", "a.csv", NULL, NAN, NULL, UF_UNITS_SI},
                                         {"box", "a\nb", NULL, NAN, NULL, UF_UNITS_SI},
                                         {"box", longer, NULL, NAN, NULL, UF_UNITS_SI}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *text = NULL;
        size_t size = 0;
        FILE *out = open_memstream(&text, &size);
        cr_expect_eq(uf_site_start_write(out, &rows[i], &err), UF_E_INPUT);
        (void)fclose(out);
        cr_expect_eq(size, 0);
        free(text);
    }
}
