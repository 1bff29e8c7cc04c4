#include "io/drawing/paper.h"
#include "solver/design/tank.h"
#include "tests/drafts.h"

TestSuite(draft, .init = open_folder, .fini = close_folder);

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
