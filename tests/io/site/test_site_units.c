#include "io/site/site_file.h"
#include "io/text/units.h"

#include <criterion/criterion.h>

#include <string.h>

static void close_units(void)
{
    uf_units_close();
}

TestSuite(site_units, .fini = close_units);

#define SITE(units, cover, thickness)                                                              \
    units "climate: {cycle: {mean: 5 degC, amplitude: 15 K}}\n"                                    \
          "surface: {film: 15 W/m2/K, snow: none}\n"                                               \
          "ground: [{soil: silt}]\n"                                                               \
          "tank: {shape: box, width: 5', height: 5' 3\", length: 8 ft 6 in, contents: {start: 8 "  \
          "degC}}\n"                                                                               \
          "burial: {cover: " cover "}\n"                                                           \
          "board: {type: XPS_IV, thickness: " thickness "}\n"

/* What is allowed, of the first fault; "" where there is none. */
static const char *allowed(const char *text)
{
    static char said[400];
    struct uf_site *site = NULL;
    struct uf_site_faults faults;
    (void)uf_site_parse(&site, "s", text, strlen(text), NULL, &faults, NULL);
    (void)snprintf(said, sizeof said, "%s", faults.n > 0 ? faults.rows[0].allowed.text : "");
    uf_site_faults_clear(&faults);
    uf_site_free(site);
    return said;
}

Test(site_units, a_bare_number_is_told_a_value_to_be_expected_there)
{
    const struct {
        const char *text, *said;
    } rows[] = {
        {SITE("", "1.2", "100 mm"), "such as 1.2 m"},
        {SITE("", "1200", "100 mm"), "such as 1200 mm"},
        {SITE("units: us\n", "4", "100 mm"), "such as 4 ft"},
        {SITE("units: us\n", "48", "100 mm"), "such as 48 in"},
        {SITE("", "1.2 m", "100"), "such as 100 mm"},
        {SITE("units: us\n", "1.2 m", "4"), "such as 4 in"},
        {SITE("", "1.2 m", "4"), "such as 4 in"},    /* no board is 4 mm thick */
        {SITE("", "1.2 m", "-7"), "such as 100 mm"}, /* nothing fits: what would */
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        cr_expect_not_null(strstr(allowed(rows[i].text), rows[i].said), "row %zu, wanted %s: %s", i,
                           rows[i].said, allowed(rows[i].text));
    }
}

static struct uf_site *parsed(const char *text)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults;
    cr_assert_eq(uf_site_parse(&site, "s", text, strlen(text), NULL, &faults, NULL), UF_OK, "%s",
                 allowed(text));
    return site;
}

Test(site_units, a_board_in_whole_inches_is_the_nominal_one)
{
    struct uf_site *site = parsed(SITE("units: us\n", "4 ft", "2 in"));
    cr_expect_eq(site->design.board.thickness_m, 0.05);
    cr_expect(site->design.board.nominal_inches);
    cr_expect_eq(site->units, UF_UNITS_US);
    cr_expect_float_eq(site->design.tank.height_m, 63.0 * 0.0254, 1e-12);
    uf_site_free(site);
    site = parsed(SITE("", "4 ft", "1 1/2 in"));
    cr_expect_float_eq(site->design.board.thickness_m, 1.5 * 0.0254, 1e-12);
    cr_expect_not(site->design.board.nominal_inches);
    cr_expect_eq(site->units, UF_UNITS_SI);
    uf_site_free(site);
}

Test(site_units, units_are_a_word_of_two)
{
    cr_expect_not_null(strstr(allowed(SITE("units: metric\n", "4 ft", "2 in")), "si, us"), "%s",
                       allowed(SITE("units: metric\n", "4 ft", "2 in")));
}
