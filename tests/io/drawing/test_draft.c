#include "io/drawing/draft.h"
#include "io/drawing/paper.h"
#include "solver/design/tank.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

static char folder[1000];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(draft, .init = open_folder, .fini = close_folder);

#define LARCH UF_SOURCE_DIR "/cli/examples/larch_hollow.yaml"
#define ALDER UF_SOURCE_DIR "/cli/examples/alder_lane.yaml"
#define MILL  UF_SOURCE_DIR "/cli/examples/mill_race.yaml"

/* An example with one key changed by --set; NULL: as it is. */
static struct uf_site *site_of(const char *path, const char *set)
{
    const struct uf_site_override row = {set};
    const struct uf_site_overrides sets = {&row, set != NULL ? 1 : 0};
    struct uf_site *site = NULL;
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    cr_assert_eq(uf_site_read(&site, path, &sets, &faults, &err), UF_OK, "%s %s", err.text,
                 faults.n > 0 ? faults.rows[0].what.text : "");
    uf_site_faults_clear(&faults);
    return site;
}

static struct uf_draft *draft_of(const struct uf_site *site, enum uf_units units)
{
    struct uf_draft *draft = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_draft_open(&draft, site, units, "2026-01-02", &err), UF_OK, "%s", err.text);
    return draft;
}

/* The file of that name, drawn and read back; the caller's to free. */
static char *drawn(struct uf_draft *draft, const char *name)
{
    char path[1100];
    struct uf_error err = {0};
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    cr_assert_eq(uf_draft_write(path, draft, &err), UF_OK, "%s", err.text);
    FILE *file = fopen(path, "rb");
    cr_assert_not_null(file);
    char *text = calloc(1, 4000000);
    cr_assert_not_null(text);
    const size_t n = fread(text, 1, 3999999, file);
    for (size_t i = 0; i < n; i++) {
        text[i] = text[i] == '\0' ? ' ' : text[i]; /* of a PDF */
    }
    (void)fclose(file);
    return text;
}

/* Millimetres of declared paper to a unit of the SVG's coordinates. */
static double mm_of_unit(const char *svg, double width_mm)
{
    double declared = 0.0, units = 0.0;
    const char *head = strstr(svg, " width=\""), *box = strstr(svg, "viewBox=\"0 0 ");
    cr_assert(head != NULL && box != NULL);
    cr_assert_eq(sscanf(head, " width=\"%lfmm\"", &declared), 1);
    cr_assert_eq(sscanf(box, "viewBox=\"0 0 %lf", &units), 1);
    cr_expect_float_eq(declared, width_mm, 0.05);
    return declared / units;
}

/* How many lines of the SVG are that wide and high, mm within 0.2. */
static int count_outlines(const char *svg, double unit_mm, double width_mm, double height_mm)
{
    int found = 0;
    for (const char *at = strstr(svg, "d='M"); at != NULL; at = strstr(at, "d='M")) {
        double low_x = INFINITY, high_x = -INFINITY, low_y = INFINITY, high_y = -INFINITY;
        for (at += 3; *at != '\'';) {
            double x, y;
            int n = 0;
            const bool starts = *at == 'M';
            if (sscanf(at, "%*1[ML]%lf,%lf%n", &x, &y, &n) != 2 || n == 0) {
                at++;
                continue;
            }
            if (starts) {
                low_x = low_y = INFINITY;
                high_x = high_y = -INFINITY;
            }
            low_x = fmin(low_x, x);
            high_x = fmax(high_x, x);
            low_y = fmin(low_y, y);
            high_y = fmax(high_y, y);
            at += n;
            const char *next = at + strspn(at, " \n");
            if (*next != 'L' && fabs((high_x - low_x) * unit_mm - width_mm) < 0.2 &&
                fabs((high_y - low_y) * unit_mm - height_mm) < 0.2) {
                found++;
            }
        }
    }
    return found;
}

/* The scale on the sheet is the scale on paper: the tank's outline of the long section, of the
   cross-section and of the plan, measured in the file against its declared size. */
static void expect_to_scale(const char *path, enum uf_units units, int along, int across)
{
    double width_mm, height_mm;
    struct uf_site *site = site_of(path, NULL);
    struct uf_draft *draft = draft_of(site, units);
    const struct uf_draft_scale *scale = uf_draft_scale_of(draft);
    const double mm_m = 1000.0 / scale->under;
    const double l = uf_tank_plan_length_m(&site->design.tank) * mm_m;
    const double w = uf_tank_plan_width_m(&site->design.tank) * mm_m;
    const double h = uf_tank_height_m(&site->design.tank) * mm_m;
    uf_draft_size(&width_mm, &height_mm, units);
    char *svg = drawn(draft, "sheet.svg");
    const double unit_mm = mm_of_unit(svg, width_mm);
    cr_expect_geq(count_outlines(svg, unit_mm, l, h), along, "long section of %s", path);
    cr_expect_geq(count_outlines(svg, unit_mm, w, h), across, "cross-section of %s", path);
    cr_expect_geq(count_outlines(svg, unit_mm, l, w), 1, "plan of %s", path);
    cr_expect_eq(count_outlines(svg, unit_mm, 1.013 * l, h), 0, "the measure is blind");
    cr_expect_not_null(strstr(svg, scale->text));
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}

Test(draft, the_tank_is_as_long_on_paper_as_the_scale_says)
{
    expect_to_scale(LARCH, UF_UNITS_SI, 1, 1);
    expect_to_scale(ALDER, UF_UNITS_US, 1, 1);
    expect_to_scale(MILL, UF_UNITS_US, 1, 1);
}

/* ISO 216: A3 is 297 by 420 mm; the PDF's page in points of 1/72 in, cut to whole ones. */
Test(draft, the_page_is_a3_or_eleven_by_seventeen)
{
    static const struct {
        enum uf_units units;
        double width_mm, height_mm;
    } sheets[] = {{UF_UNITS_SI, 420.0, 297.0}, {UF_UNITS_US, 431.8, 279.4}};
    struct uf_site *site = site_of(LARCH, NULL);
    for (size_t i = 0; i < 2; i++) {
        double w = 0.0, h = 0.0;
        struct uf_draft *draft = draft_of(site, sheets[i].units);
        char *pdf = drawn(draft, "sheet.pdf");
        const char *box = strstr(pdf, "/MediaBox [");
        cr_assert_not_null(box);
        cr_assert_eq(sscanf(box, "/MediaBox [ 0 0 %lf %lf", &w, &h), 2);
        cr_expect_float_eq(w * 25.4 / 72.0, sheets[i].width_mm, 0.36);
        cr_expect_float_eq(h * 25.4 / 72.0, sheets[i].height_mm, 0.36);
        free(pdf);
        uf_draft_free(draft);
    }
    uf_site_free(site);
}

#define MANY_SOILS                                                                                 \
    "ground=[{to: 0.2 m, soil: topsoil}, {to: 0.4 m, soil: gravel}, {to: 0.6 m, soil: sand}, "     \
    "{to: 0.8 m, soil: silty_sand}, {to: 1 m, soil: silt}, {to: 1.2 m, soil: clayey_silt}, "       \
    "{to: 1.4 m, soil: clay}, {to: 1.6 m, soil: loamy_sand}, {to: 1.8 m, soil: sandy_loam}, "      \
    "{to: 2 m, soil: loam}, {to: 2.2 m, soil: silt_loam}, {to: 2.4 m, soil: peat}, "               \
    "{to: 2.6 m, soil: clay_loam}, {to: 2.8 m, soil: sandy_clay}, {to: 3 m, soil: silty_clay}, "   \
    "{to: 15 m, soil: crushed_stone}]"

/* No two texts lie on one another, and none outside the paper: on sheets of every kind. */
Test(draft, no_text_lies_on_another)
{
    static const struct {
        const char *path, *set;
    } sheets[] = {{LARCH, NULL},
                  {LARCH, "burial.pit.slope=0"},
                  {LARCH, MANY_SOILS},
                  {LARCH, "burial.cover=2.1 m"},
                  {LARCH, "tank.length=20 m"},
                  {LARCH, "board.thickness=0 mm"},
                  {LARCH, "board.skirt=0.6 m"},
                  {LARCH, "drawing.strap_stations=[0.7 m, 0.8 m, 0.9 m, 6.5 m]"},
                  {ALDER, NULL},
                  {ALDER, "groundwater.winter=1 ft"},
                  {MILL, NULL},
                  {MILL, "burial.pit={clearance: 2 ft, slope: 1.5, soil_class: C}"}};
    for (size_t i = 0; i < 2 * sizeof sheets / sizeof sheets[0]; i++) {
        const char *one = "", *other = "";
        struct uf_site *site = site_of(sheets[i / 2].path, sheets[i / 2].set);
        struct uf_draft *draft = draft_of(site, i % 2 == 0 ? UF_UNITS_SI : UF_UNITS_US);
        cr_expect(!uf_paper_clash(uf_draft_paper(draft), &one, &other), "%s %s: '%s' and '%s'",
                  sheets[i / 2].path, sheets[i / 2].set != NULL ? sheets[i / 2].set : "", one,
                  other);
        uf_draft_free(draft);
        uf_site_free(site);
    }
}

/* What the user writes is text on the sheet and nothing else, however it is quoted. */
Test(draft, a_title_is_text_whatever_stands_in_it)
{
    struct uf_site *site = site_of(
        LARCH,
        "project.title=\"'`touch /tmp/uf_draft_ran`' \\\"; system('touch /tmp/uf_draft_ran')\"");
    struct uf_draft *draft = draft_of(site, UF_UNITS_SI);
    (void)remove("/tmp/uf_draft_ran");
    char *svg = drawn(draft, "sheet.svg");
    cr_expect_not_null(strstr(svg, "system("));
    cr_expect_neq(access("/tmp/uf_draft_ran", F_OK), 0);
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}

/* What lacks is asked for by its key; what is there is not. */
Test(draft, what_the_site_file_lacks_is_asked_for)
{
    struct uf_site *site = site_of(ALDER, NULL);
    struct uf_draft *draft = draft_of(site, UF_UNITS_SI);
    char *svg = drawn(draft, "sheet.svg");
    cr_expect_not_null(strstr(svg, "drawing.benchmark"));
    cr_expect_not_null(strstr(svg, "drawing.riser_stations"));
    cr_expect_null(strstr(svg, "quantities.sheet"));
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}

static void expect_refused(const char *path, const char *set, const char *key)
{
    struct uf_site *site = site_of(path, set);
    struct uf_draft *draft = NULL;
    struct uf_error err = {0};
    cr_expect_neq(uf_draft_open(&draft, site, UF_UNITS_SI, "", &err), UF_OK, "%s", set);
    cr_expect_null(draft);
    cr_expect_not_null(strstr(err.text, key), "%s", err.text);
    uf_site_free(site);
}

Test(draft, stations_that_cannot_be_are_refused_by_key)
{
    expect_refused(LARCH, "drawing.riser_stations=[1 m, 2 m]", "drawing.riser_stations");
    expect_refused(LARCH, "drawing.strap_stations=[1 m, 2 m, 3 m, 7.3 m]",
                   "drawing.strap_stations");
    expect_refused(UF_SOURCE_DIR "/cli/examples/bare_ground.yaml", NULL, "tank");
}

/* An earlier drawing stays as it was where a new one fails. */
Test(draft, nothing_half_done_is_left)
{
    char path[1100];
    struct uf_site *site = site_of(LARCH, NULL);
    struct uf_draft *draft = draft_of(site, UF_UNITS_SI);
    struct uf_error err = {0};
    (void)snprintf(path, sizeof path, "%s/sheet.png", folder);
    cr_expect_eq(uf_draft_write(path, draft, &err), UF_E_INPUT);
    cr_expect_not_null(strstr(err.text, ".svg or .pdf"));
    (void)snprintf(path, sizeof path, "%s/sheet.svg", folder);
    FILE *file = fopen(path, "w");
    cr_assert_not_null(file);
    (void)fputs("earlier", file);
    (void)fclose(file);
    char *const before = getenv("PATH") != NULL ? strdup(getenv("PATH")) : NULL;
    (void)setenv("PATH", folder, 1); /* no gnuplot here */
    cr_expect_eq(uf_draft_write(path, draft, &err), UF_E_FILE);
    (void)setenv("PATH", before != NULL ? before : "", 1);
    free(before);
    char text[16] = "";
    file = fopen(path, "r");
    cr_assert_not_null(file);
    cr_expect_not_null(fgets(text, sizeof text, file));
    (void)fclose(file);
    cr_expect_str_eq(text, "earlier");
    uf_draft_free(draft);
    uf_site_free(site);
}
