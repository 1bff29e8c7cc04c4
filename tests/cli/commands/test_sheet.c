#include "cli/commands/sheet.h"
#include "io/report/report.h"
#include "io/result/part_file.h"
#include "io/site/site_file.h"
#include "tests/program.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

#include <stdlib.h>
#include <string.h>

/* The sheet must speak of what the design has, and of nothing else. */

static const char common[] =
    "site: {name: pit}\n"
    "climate: {cycle: {mean: 5 degC, amplitude: 15 K, coldest: 20 day}}\n"
    "surface: {film: 15 W/m2/K, snow: none}\n"
    "ground: [{to: 15 m, soil: clay}]\n"
    "burial: {cover: 1.0 m, bedding: 0.2 m, pit: {clearance: 0.6 m, slope: 1, soil_class: B}";
static const char box[] =
    "tank: {shape: box, width: 1.5 m, height: 1.5 m, length: 3 m, empty_mass: 4000 kg}\n";
static const char cylinder[] = "tank: {shape: horizontal_cylinder, diameter: 2 m, "
                               "length: 4 m, empty_mass: 800 kg}\n";

static char folder[1000], path[1100];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    (void)snprintf(path, sizeof path, "%s/sheet.html", folder);
    program_draw_nothing();
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(sheet, .init = open_folder, .fini = close_folder);

/* The sheet of a tank with more keys; the text is the caller's. */
static char *sheet_of(const char *tank, const char *in_burial, const char *more)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults = {0};
    struct uf_report *report = NULL;
    struct uf_error err = {0};
    char text[4000];
    char *html = NULL;
    (void)snprintf(text, sizeof text, "%s%s}\n%s%s", common, in_burial, tank, more);
    cr_assert_eq(uf_site_parse(&site, "sheet", text, strlen(text), NULL, &faults, &err), UF_OK,
                 "%s %s", err.text, faults.n > 0 ? faults.rows[0].what.text : "");
    cr_assert_eq(uf_report_create(&report, "pit", "", &err), UF_OK);
    cr_assert_eq(uf_sheet_sections(report, site, UF_UNITS_SI, true, &err), UF_OK, "%s", err.text);
    cr_assert_eq(uf_report_write(path, report, &err), UF_OK, "%s", err.text);
    FILE *file = fopen(path, "rb");
    cr_assert_not_null(file);
    cr_assert_eq(uf_part_file_rest(&html, file, path, NULL), UF_OK);
    (void)fclose(file);
    uf_report_free(report);
    uf_site_free(site);
    uf_site_faults_clear(&faults);
    return html;
}

#define HAS(html, words)     cr_expect(strstr((html), (words)) != NULL, "no \"%s\"", (words))
#define HAS_NOT(html, words) cr_expect(strstr((html), (words)) == NULL, "speaks of \"%s\"", (words))

Test(sheet, a_plain_box_has_no_word_of_what_it_lacks)
{
    cr_assert_eq(setenv("PATH", "/usr/bin:/bin", 1), 0); /* the drawing's words are read too */
    char *html = sheet_of(box, "", "");
    HAS(html, "set the tank");
    HAS(html, "excavated ground");
    HAS(html, "the dug ground goes back");
    HAS(html, "Levels to set out");
    HAS(html, "SECTION A-A"); /* the drawing's own views */
    HAS(html, "outside width 1.50 m, height 1.50 m, length 3.00 m, empty 4000 kg");
    HAS_NOT(html, "strap");
    HAS_NOT(html, "STRAP");
    HAS_NOT(html, "geotextile");
    HAS_NOT(html, "haunch");
    HAS_NOT(html, "diameter");
    HAS_NOT(html, "Lay the board");
    HAS_NOT(html, "Set the pad");
    HAS_NOT(html, "tie the tank down");
    HAS_NOT(html, "lay the board");
    free(html);
}

Test(sheet, a_pad_without_straps_must_be_fastened)
{
    char *html =
        sheet_of(box, "", "anchors: {pad: {length: 3.5 m, width: 2 m, thickness: 0.2 m}}\n");
    HAS(html, "NO STRAPS are given");
    /* 1.3 x 9.81 x 6.75 m3 - 4000 kg x 9.80665 m/s2 = 46.9 kN, by hand */
    HAS(html, "designed for 46.9 kN");
    HAS(html, "Set the pad");
    HAS(html, "Fasten the tank to its anchors");
    HAS(html, "top of the pad");
    HAS_NOT(html, "Set the deadmen");
    free(html);
}

Test(sheet, a_strapped_cylinder_has_its_steps)
{
    char *html = sheet_of(
        cylinder, ", backfill: {soil: pea_gravel}",
        "anchors: {deadmen: {count: 2, width: 0.4 m, height: 0.4 m, length: 4 m}, straps: 3}\n"
        "quantities: {geotextile: {roll: 4 m, lap: 0.5 m}, sheet: {length: 2.4 m, width: "
        "1.2 m, thickness: 50 mm}}\n"
        "board: {type: XPS_VI, thickness: 50 mm, beyond_tank: 0.6 m, above_crown: 0.1 m}\n");
    HAS(html, "end straps, then slings off");
    HAS(html, "straps with ends");
    HAS(html, "0.40 m wide, 0.40 m high, 4.00 m long");
    HAS(html, "pea gravel, from");
    HAS_NOT(html, "pea_gravel");
    HAS_NOT(html, "as specified"); /* by nobody: a blank to fill in */
    HAS(html, "Fit and tighten the end straps, then take off the slings");
    HAS(html, "HOLD: straps snug");
    HAS(html, "Set the deadmen");
    HAS(html, "haunches");
    HAS(html, "Lay the geotextile");
    HAS(html, "Lay the board in one layer");
    HAS(html, "tie the tank down");
    HAS(html, "lay the board");
    HAS_NOT(html, "NO STRAPS");
    HAS_NOT(html, "Set the pad");
    HAS_NOT(html, "staggered layers");
    free(html);
}

Test(sheet, groundwater_over_the_floor_is_told)
{
    char *low = sheet_of(box, "", "groundwater: {winter: 1.2 m, highest: 0.2 m}\n");
    /* floor: cover 1.0 + height 1.5 + bedding 0.2 = 2.7 m */
    HAS(low, "in the frost season, 1.20 m below grade: stands over the floor");
    HAS(low, "at its highest, 0.20 m below grade: stands over the floor");
    HAS(low, "DESIGNER NEEDED: water stands over the floor and the permeability");
    free(low);
    char *dry = sheet_of(box, "", "groundwater: {winter: 5 m, highest: 4 m}\n");
    HAS(dry, "4.00 m below grade: below the floor");
    HAS_NOT(dry, "stands over");
    HAS_NOT(dry, "DESIGNER");
    free(dry);
}

/* A tank that no fire-fighting water is drawn from has no word of a fire authority. */
Test(sheet, only_water_for_fire_fighting_is_tested_at_a_hydrant)
{
    char *septic = sheet_of(
        box, "", "pipes: [{name: drain, diameter: 100 mm, depth: 1.5 m, under_board: no}]\n");
    HAS(septic, "Connect the pipes");
    HAS_NOT(septic, "hydrant;");
    HAS_NOT(septic, "flow test at the hydrant");
    HAS_NOT(septic, "Permits and the fire authority");
    free(septic);
    char *fire = sheet_of(
        box, "", "pipes: [{name: suction, diameter: 100 mm, depth: 1.5 m, under_board: no}]\n");
    HAS(fire, "flow test at the hydrant");
    HAS(fire, "fire authority&#39;s acceptance");
    free(fire);
}

/* All that was dug goes back: earth is denser when compacted than it was in the bank, so that it does not
   fill the pit, and nothing is hauled. */
Test(sheet, nothing_to_haul_is_none)
{
    char *html = sheet_of(box, "", "quantities: {native: earth, truck: 10 m3}\n");
    HAS(html, "spoil to haul");
    HAS_NOT(html, "-0 truckloads");
    free(html);
}

/* What is set out, by hand: 3 m long and 1.5 m wide, clearance 0.6 m, floor 2.7 m down, sides 1 to 1:
   at grade 9.6 by 8.1 m, diagonal 12.561 m; invert at 100 - 2.5 m. */
Test(sheet, places_and_levels_are_set_out_by_the_benchmark)
{
    char *html =
        sheet_of(box, "", "drawing: {benchmark: a bolt, grade_level: 100 m, origin: the gate}\n");
    HAS(html, "12561");
    HAS(html, "-3300");
    HAS(html, "97.500");
    HAS(html, "set out from: the gate");
    HAS(html, "Benchmark: a bolt");
    free(html);
}

/* Lifts, tape limits and blanks. By hand: 2 m less and plus 1 percent. */
Test(sheet, the_backfill_table_holds_what_was_given_and_leaves_the_rest_blank)
{
    char *given =
        sheet_of(cylinder, ", backfill: {soil: pea_gravel}",
                 "works: {lift: 0.25 m, pit_water: 0.5 m}\n"
                 "readings: [{at: on the bedding, diameter: 1980 mm}]\n"
                 "roundness: {limit: 1 percent, soil: clean_coarse, compaction: slight}\n");
    HAS(given, "0.50 m below grade");
    HAS(given, "lift 13");
    HAS(given, "1961 to 1999 mm");
    HAS(given, "under 85 % of standard Proctor");
    HAS_NOT(given, "not given (works.lift)");
    free(given);
    char *blank = sheet_of(cylinder, "", "");
    HAS(blank, "____ to ____");
    HAS(blank, "not given (works.lift)");
    HAS(blank, "not given (roundness.limit)");
    HAS(blank, "not given (roundness.compaction)");
    free(blank);
}

/* Slings stay until something holds the tank; what a design has not got has no step. */
Test(sheet, the_order_of_work_follows_the_design)
{
    char *html = sheet_of(cylinder, "",
                          "groundwater: {winter: 5 m, highest: 4 m}\n"
                          "pipes: [{name: suction, diameter: 150 mm, depth: 1.5 m}]\n");
    HAS(html, "then take off the slings");
    HAS(html, "Connect the suction and hydrant line");
    HAS(html, "flow test at the hydrant");
    HAS(html, "HOLD: permit and locate numbers");
    HAS(html, "Local codes");
    HAS(html, "chocked on both sides");
    HAS_NOT(html, "Start dewatering");
    HAS_NOT(html, "gasket");
    HAS_NOT(html, "straps");
    free(html);
    char *riser =
        sheet_of("tank: {shape: horizontal_cylinder, diameter: 2 m, length: 4 m, empty_mass: "
                 "800 kg, risers: [{diameter: 0.6 m, height: 1 m, lid: 0.5 m2.K/W}]}\n",
                 "", "groundwater: {winter: 1 m, highest: 0 m}\n");
    HAS(riser, "fit each riser on its gasket");
    HAS(riser, "Start dewatering");
    HAS_NOT(riser, "hydrant line");
    free(riser);
}

Test(sheet, a_deadman_never_deepens_the_pit)
{
    static const char anchors[] =
        "anchors: {deadmen: {count: 2, width: 0.4 m, height: 0.4 m, length: 4 m}, straps: 3}\n";
    char *html = sheet_of(cylinder, "", anchors);
    HAS(html, "<td class=\"r\">3.20 m</td>"); /* cover 1.0, tank 2.0, bedding 0.2 as asked */
    HAS_NOT(html, "<td class=\"r\">3.40 m</td>");
    free(html);
}
