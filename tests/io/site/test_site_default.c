#include "io/site/site_private.h"

#include <criterion/criterion.h>

#include <string.h>

/* The table tells what the init functions fill, in the unit of the row. */
Test(site_default, a_number_is_that_of_an_initialised_case)
{
    static const struct {
        const char *path, *expected;
    } rows[] = {{"surface.film", "15 W/m2/K"},
                {"anchors.deadmen.unit_weight", "23.5 kN/m3"},
                {"limits.water", "1 degC"},
                {"limits.ice", "0 percent"},
                {"limits.uplift_factor", "1.3"},
                {"climate.cycle.period", "365.2425 day"},
                {"grid.finest", "75 mm"},
                {"anchors.straps", "0"},
                {"conductivity", "cote_konrad"},
                {"tank.ends", "three_dimensional"},
                {"groundwater.winter", "dry ground"},
                {"climate.winter", "1 in 30"},
                {"tank.diameter", ""}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[48];
        const char *got = uf_site_default(text, sizeof text, uf_site_find_key(rows[i].path));
        cr_expect_str_eq(got, rows[i].expected, "%s: %s", rows[i].path, got);
    }
}

/* Every row that points at an init function finds a value there. */
Test(site_default, no_own_default_is_empty)
{
    for (size_t i = 0; i < uf_site_keys_count; i++) {
        char text[48];
        const struct site_key *key = &uf_site_keys[i];
        if (key->fallback == uf_site_own_default) {
            const char *got = uf_site_default(text, sizeof text, key);
            cr_expect(got[0] != '\0' && strstr(got, "nan") == NULL, "%s: %s", key->path, got);
        }
    }
}
