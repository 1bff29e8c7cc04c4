#include "io/drawing/draft.h"
#include "io/drawing/paper.h"
#include "solver/design/tank.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

#include <zlib.h>

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

#define MOST 4000000

/* The file of that name, drawn and read back, a '\0' behind it; the caller's to free. */
static char *drawn(struct uf_draft *draft, const char *name, size_t *size)
{
    char path[1100];
    struct uf_error err = {0};
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    cr_assert_eq(uf_draft_write(path, draft, &err), UF_OK, "%s", err.text);
    FILE *file = fopen(path, "rb");
    char *text = calloc(1, MOST);
    cr_assert(file != NULL && text != NULL);
    *size = fread(text, 1, MOST - 1, file);
    (void)fclose(file);
    return text;
}

static char *drawn_svg(struct uf_draft *draft)
{
    size_t size = 0;
    return drawn(draft, "sheet.svg", &size);
}

/* The strokes of a PDF, its first stream unpacked; pdf begins with the head. */
static char *strokes_of(const char *pdf, size_t size)
{
    char *text = calloc(1, MOST);
    uLongf n = MOST - 1;
    cr_assert_not_null(text);
    const char *at = strstr(pdf, "stream\n"); /* the head holds no '\0' */
    cr_assert_not_null(at);
    at += strlen("stream\n");
    z_stream z = {.next_in = (unsigned char *)(uintptr_t)at,
                  .avail_in = (uInt)(size - (size_t)(at - pdf)),
                  .next_out = (unsigned char *)text,
                  .avail_out = (uInt)n};
    cr_assert_eq(inflateInit(&z), Z_OK);
    cr_assert_eq(inflate(&z, Z_FINISH), Z_STREAM_END);
    (void)inflateEnd(&z);
    return text;
}

/* A line as it grows, and how many were as wide and high as is looked for, mm within 0.2. */
struct gauge {
    double unit_mm, width_mm, height_mm;
    double left, right, low, high;
    int found;
};

static void gauge_close(struct gauge *g)
{
    if (fabs((g->right - g->left) * g->unit_mm - g->width_mm) < 0.2 &&
        fabs((g->high - g->low) * g->unit_mm - g->height_mm) < 0.2) {
        g->found++;
    }
    g->left = g->low = INFINITY;
    g->right = g->high = -INFINITY;
}

static void gauge_point(struct gauge *g, double x, double y, bool starts)
{
    if (starts) {
        gauge_close(g);
    }
    g->left = fmin(g->left, x);
    g->right = fmax(g->right, x);
    g->low = fmin(g->low, y);
    g->high = fmax(g->high, y);
}

static struct gauge gauge_of(double unit_mm, double width_mm, double height_mm)
{
    return (struct gauge){unit_mm,   width_mm, height_mm, INFINITY,
                          -INFINITY, INFINITY, -INFINITY, 0};
}

/* How many outlines of the page description are that wide and high: "x y m x y l ...", or a
   rectangle "x y w h re", in points. */
static int count_in_pdf(const char *text, double width_mm, double height_mm)
{
    struct gauge g = gauge_of(25.4 / 72.0, width_mm, height_mm);
    double v[4] = {0.0, 0.0, 0.0, 0.0};
    while (*text != '\0') {
        char *end;
        const double number = strtod(text, &end);
        if (end != text) {
            memmove(v, v + 1, 3 * sizeof v[0]);
            v[3] = number;
        } else if ((*text == 'm' || *text == 'l') && strchr(" \n", text[1]) != NULL) {
            gauge_point(&g, v[2], v[3], *text == 'm');
        } else if (strncmp(text, "re ", 3) == 0) {
            gauge_point(&g, v[0], v[1], true);
            gauge_point(&g, v[0] + v[2], v[1] + v[3], false);
        }
        text = end != text ? end : text + strcspn(text, " \n");
        text += strspn(text, " \n");
    }
    gauge_close(&g);
    return g.found;
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

/* The same in an SVG: "Mx,y Lx,y ..." in its own units. */
static int count_in_svg(const char *svg, double unit_mm, double width_mm, double height_mm)
{
    struct gauge g = gauge_of(unit_mm, width_mm, height_mm);
    for (const char *at = strstr(svg, "d='M"); at != NULL; at = strstr(at, "d='M")) {
        for (at += 3; *at != '\'';) {
            char *comma, *end;
            const double x = strtod(at + 1, &comma);
            const bool point = (*at == 'M' || *at == 'L') && comma != at + 1 && *comma == ',';
            if (point) {
                gauge_point(&g, x, strtod(comma + 1, &end), *at == 'M');
            }
            at = point ? end : at + 1;
        }
    }
    gauge_close(&g);
    return g.found;
}

/* The scale on the sheet is the scale on paper: the tank's outline of the long section, of the
   cross-section and of the plan, measured in the file against its declared size. */
static void expect_to_scale(const char *path, enum uf_units units)
{
    double paper_w_mm, paper_h_mm;
    size_t size = 0;
    struct uf_site *site = site_of(path, NULL);
    struct uf_draft *draft = draft_of(site, units);
    const struct uf_draft_scale *scale = uf_draft_scale_of(draft);
    const double mm_m = 1000.0 / scale->under;
    const double l = uf_tank_plan_length_m(&site->design.tank) * mm_m;
    const double w = uf_tank_plan_width_m(&site->design.tank) * mm_m;
    const double h = uf_tank_height_m(&site->design.tank) * mm_m;
    const double outlines[][2] = {{l, h}, {w, h}, {l, w}};
    uf_draft_size(&paper_w_mm, &paper_h_mm, units);
    char *svg = drawn_svg(draft), *pdf = drawn(draft, "sheet.pdf", &size);
    char *strokes = strokes_of(pdf, size);
    const double unit_mm = mm_of_unit(svg, paper_w_mm);
    for (size_t i = 0; i < 3; i++) {
        const double *wanted = outlines[i];
        cr_expect_geq(count_in_svg(svg, unit_mm, wanted[0], wanted[1]), 1, "%s %zu", path, i);
        cr_expect_geq(count_in_pdf(strokes, wanted[0], wanted[1]), 1, "%s %zu", path, i);
    }
    cr_expect_eq(count_in_svg(svg, unit_mm, 1.013 * l, h), 0, "the measure is blind");
    cr_expect_eq(count_in_pdf(strokes, 1.013 * l, h), 0, "the measure is blind");
    cr_expect_not_null(strstr(svg, scale->text));
    free(strokes);
    free(pdf);
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}

Test(draft, the_tank_is_as_long_on_paper_as_the_scale_says)
{
    expect_to_scale(LARCH, UF_UNITS_SI);
    expect_to_scale(ALDER, UF_UNITS_US);
    expect_to_scale(MILL, UF_UNITS_US);
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
        size_t size = 0;
        char *pdf = drawn(draft, "sheet.pdf", &size);
        for (size_t k = 0; k < size; k++) {
            pdf[k] = pdf[k] == '\0' ? ' ' : pdf[k];
        }
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

#define HYDRANT                                                                                    \
    "standpipes=[{name: hydrant, diameter: 100 mm, bottom: 2.6 m, from_axis: 3 m, "                \
    "sleeve: {thickness: 75 mm}}]"

/* No two texts lie on one another, and none outside the paper: on sheets of every kind. */
Test(draft, no_text_lies_on_another)
{
    static const struct {
        const char *path, *set;
    } sheets[] = {{LARCH, NULL},
                  {LARCH, HYDRANT},
                  {LARCH, "drawing.routes=[]"},
                  {LARCH, "burial.pit.slope=0"},
                  {LARCH, MANY_SOILS},
                  {LARCH, "burial.cover=2.1 m"},
                  {LARCH, "tank.length=8 m"},
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
        for (size_t k = 0; k < UF_DRAFT_SHEETS; k++) {
            cr_expect(!uf_paper_clash(uf_draft_paper(draft, k), &one, &other),
                      "%s %s, sheet %zu: '%s' and '%s'", sheets[i / 2].path,
                      sheets[i / 2].set != NULL ? sheets[i / 2].set : "", k + 1, one, other);
        }
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
    char *svg = drawn_svg(draft);
    cr_expect_not_null(strstr(svg, "system("));
    cr_expect_neq(access("/tmp/uf_draft_ran", F_OK), 0);
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}

/* What lacks is asked for by its key; what is there is not. */
Test(draft, what_the_site_file_lacks_is_asked_for)
{
    struct uf_site *site = site_of(ALDER, "drawing={grade_level: 98 ft}");
    struct uf_draft *draft = draft_of(site, UF_UNITS_SI);
    char *svg = drawn_svg(draft);
    cr_expect_not_null(strstr(svg, "drawing.benchmark"));
    cr_expect_not_null(strstr(svg, "drawing.riser_stations"));
    cr_expect_null(strstr(svg, "quantities.sheet"));
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}

/* A pipe of 150 mm that leaves the right end, 7.2 m, turns up in plan at 9.5 m, and leaves the pit: its
   outline in plan is two lines beside its axis, 2.3 m less and more half a pipe at the bend. */
Test(draft, a_route_is_drawn_where_it_runs)
{
    struct uf_site *site = site_of(LARCH, NULL);
    struct uf_draft *draft = draft_of(site, UF_UNITS_SI);
    const double mm_m = 1000.0 / uf_draft_scale_of(draft)->under;
    char *svg = drawn_svg(draft);
    const double unit_mm = mm_of_unit(svg, 420.0);
    cr_expect_eq(count_in_svg(svg, unit_mm, (2.3 - 0.075) * mm_m, 0.0), 1);
    cr_expect_eq(count_in_svg(svg, unit_mm, (2.3 + 0.075) * mm_m, 0.0), 1);
    cr_expect_null(strstr(svg, "drawing.routes"));
    free(svg);
    uf_draft_free(draft);
    site->drawing.n_routes = 0;
    draft = draft_of(site, UF_UNITS_SI);
    svg = drawn_svg(draft);
    cr_expect_eq(count_in_svg(svg, unit_mm, (2.3 + 0.075) * mm_m, 0.0), 0);
    cr_expect_not_null(strstr(svg, "drawing.routes"), "asked for once");
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}

/* A route belongs to a pipe, has as many places along as across, and ends where the heat run has the
   standpipe. */
static void expect_fault(const char *set, const char *words)
{
    const struct uf_site_override rows[] = {{HYDRANT}, {set}};
    const struct uf_site_overrides sets = {rows, 2};
    struct uf_site *site = NULL;
    struct uf_site_faults faults = {0};
    cr_expect_eq(uf_site_read(&site, LARCH, &sets, &faults, NULL), UF_E_INPUT, "%s", set);
    cr_assert_eq(faults.n, 1u, "%s: %zu", set, faults.n);
    cr_expect_not_null(strstr(faults.rows[0].what.text, words), "%s", faults.rows[0].what.text);
    uf_site_faults_clear(&faults);
    uf_site_free(site);
}

Test(draft, routes_that_cannot_be_are_refused)
{
    expect_fault("drawing.routes=[{pipe: sucton, along: [7 m, 9 m], across: [0 m, 0 m]}]",
                 "no pipe has this name");
    expect_fault("drawing.routes=[{pipe: suction, along: [7 m, 9 m], across: [0 m]}]",
                 "places along");
    expect_fault("drawing.routes=[{pipe: suction, along: [7 m, 9 m], across: [0 m, 0 m]}, "
                 "{pipe: suction, along: [7 m, 9 m], across: [0 m, 1 m]}]",
                 "has a route already");
    expect_fault("drawing.routes=[{pipe: hydrant, along: [3 m, 3 m], across: [-1.2 m, -2 m]}]",
                 "off the tank's axis");
}

/* The second sheet as SVG, beside the first. */
static char *drawn_second(struct uf_draft *draft)
{
    char path[1100], name[1100];
    free(drawn_svg(draft));
    (void)snprintf(path, sizeof path, "%s/sheet.svg", folder);
    FILE *file = fopen(uf_draft_path(name, sizeof name, path, 1), "rb");
    char *svg = calloc(1, MOST);
    cr_assert(file != NULL && svg != NULL && strstr(name, "/sheet-2.svg") != NULL);
    cr_expect_gt(fread(svg, 1, MOST - 1, file), 1000u);
    (void)fclose(file);
    return svg;
}

/* The second sheet: details at 1:20, the layers of the board and what is set out. Pit at grade of the
   example by hand: tank 7.2 x 2.4 m, clearance 0.6 m, 3.9 m deep at 1 to 1: 16.2 by 11.4 m, diagonal
   hypot = 19.809 m; the suction 9.5 + 2.3 = 11.8 m on, rising 1 percent from 96.750: 96.868. */
Test(draft, details_board_and_places_are_on_the_second_sheet)
{
    static const char *const words[] = {"RISER, SLEEVE, LID   1:20",
                                        "STRAP AND ANCHOR   1:20",
                                        "EDGE OF THE BOARD   1:20",
                                        "B  1200 x 1200: 6",
                                        "from 16 sheets 2400",
                                        "19809",
                                        "end of suction",
                                        "96.868",
                                        "Height of instrument",
                                        "top of the deadmen",
                                        "96.150",
                                        "2 of 2"};
    struct uf_site *site = site_of(LARCH, NULL);
    struct uf_draft *draft = draft_of(site, UF_UNITS_SI);
    char *svg = drawn_second(draft);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        cr_expect_not_null(strstr(svg, words[i]), "%s", words[i]);
    }
    const double unit_mm = mm_of_unit(svg, 420.0);
    cr_expect_geq(count_in_svg(svg, unit_mm, 0.4 * 50.0, 0.4 * 50.0), 1, "deadman, 1:20");
    free(svg);
    uf_draft_free(draft);
    draft =
        draft_of(site, UF_UNITS_US); /* 19.809 m = 779.9 in = 64 ft 11 7/8 in: no figure is cut */
    svg = drawn_second(draft);
    cr_expect_not_null(strstr(svg, "64\u2032-11 7/8\u2033"));
    free(svg);
    uf_draft_free(draft);
    uf_site_free(site);
}

/* Views for a page: each a picture of its own that claims no scale. */
Test(draft, views_for_a_page_claim_no_scale)
{
    struct uf_site *site = site_of(LARCH, NULL);
    struct uf_draft *draft = draft_of(site, UF_UNITS_SI);
    size_t i = 0, n = 0;
    for (const char *caption = "";; n++) {
        char *svg = NULL;
        cr_assert_eq(uf_draft_svg(&svg, &caption, &i, draft, NULL), UF_OK);
        if (caption == NULL) {
            break;
        }
        cr_assert_not_null(svg);
        cr_expect_null(strstr(svg, "   1:"), "%s", caption);
        free(svg);
    }
    cr_expect_eq(n, 9u);
    i = UF_DRAFT_SVG_ACROSS;
    char *svg = NULL;
    const char *caption = NULL;
    cr_assert_eq(uf_draft_svg(&svg, &caption, &i, draft, NULL), UF_OK);
    cr_expect_not_null(strstr(svg, "SECTION A-A"));
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
    struct uf_site *site = site_of(LARCH, NULL);
    struct uf_draft *draft = NULL;
    struct uf_error err = {0};
    site->drawing.n_risers = 2; /* as if its own line said two */
    cr_assert_eq(uf_draft_open(&draft, site, UF_UNITS_SI, "", &err), UF_E_INPUT);
    cr_expect_str_eq(err.fault.key, "drawing.riser_stations"); /* its line: cli/tell/faults.c */
    uf_site_free(site);
    expect_refused(LARCH, "drawing.riser_stations=[1 m, 2 m]", "drawing.riser_stations");
    expect_refused(LARCH, "drawing.strap_stations=[1 m, 2 m, 3 m, 7.3 m]",
                   "drawing.strap_stations");
    expect_refused(UF_SOURCE_DIR "/cli/examples/bare_ground.yaml", NULL, "tank");
    /* on a head (0.6 m long each, of a tank of 7.2 m), and past the end of deadmen of 6.5 m and 4 m */
    expect_refused(LARCH, "drawing.strap_stations=[0.5 m, 2.9 m, 4.3 m, 5.7 m]",
                   "0.5 m lies beyond the shell, on a head or past it: from 0.6 m to 6.6 m");
    expect_refused(LARCH, "anchors.deadmen.length=4 m",
                   "1.5 m lies beyond what the strap is tied to: from 1.6 m to 5.6 m, or a longer "
                   "anchors.deadmen.length");
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
