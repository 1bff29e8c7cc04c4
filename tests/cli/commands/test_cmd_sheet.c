#include "tests/program.h"

#define PIT                                                                                        \
    "burial: {cover: 1.3 m, bedding: 0.3 m, pit: {clearance: 0.6 m, slope: 1, "                    \
    "soil_class: B}, backfill: {soil: pea_gravel}}\n"                                              \
    "board: {type: XPS_IV, thickness: 100 mm, beyond_tank: 1.2 m, above_crown: 0.15 "              \
    "m}\n"                                                                                         \
    "quantities: {sheet: {length: 2.4 m, width: 1.2 m, thickness: 50 mm}, truck: 10 "              \
    "m3, "                                                                                         \
    "geotextile: {roll: 4 m, lap: 0.5 m}, fill: sand, native: earth}\n"                            \
    "costs: {currency: CAD, excavation: 25 CAD/m3, board: 240 CAD/m3, "                            \
    "concrete: 450 CAD/m3, backfill: 35 CAD/m3}\n"

Test(cmd_sheet, json_adds_up)
{
    struct program_answer got = program_run("sheet --json", PROGRAM_SITE(PIT));
    cr_assert_not_null(got.json, "%s", got.text);
    cr_expect_eq(got.code, 0);
    const cJSON *all = cJSON_GetObjectItem(got.json, "quantities"), *layer = NULL;
    const cJSON *pit = cJSON_GetObjectItem(all, "pit");
    const cJSON *board = cJSON_GetObjectItem(all, "board");
    double fill_m3 = 0.0;
    cJSON_ArrayForEach(layer, cJSON_GetObjectItem(all, "layers"))
    {
        fill_m3 += program_number(layer, "in_place_m3");
    }
    cr_expect_float_eq(program_number(all, "fill_m3"), fill_m3, 1e-9);
    cr_expect_float_eq(program_number(pit, "excavation_m3"),
                       fill_m3 + program_number(pit, "displaced_m3") +
                           program_number(board, "volume_m3") +
                           program_number(pit, "native_back_m3"),
                       1e-9);
    cr_expect_float_eq(program_number(all, "fill_loose_m3"), fill_m3 * 1.11 / 0.95, 1e-9);
    cr_expect_float_eq(program_number(board, "layers"), 2.0, 0.0);
    const cJSON *cost = cJSON_GetObjectItem(all, "cost");
    cr_expect_float_eq(program_number(cost, "excavation"),
                       25.0 * program_number(pit, "excavation_m3"), 1e-6);
    cr_expect(cJSON_IsTrue(cJSON_GetObjectItem(cost, "complete")));
    program_forget(&got);
}

Test(cmd_sheet, exits_1_with_a_pit_too_steep_and_2_with_a_sheet_too_thin)
{
    struct program_answer got = program_run("sheet --set burial.pit.slope=0.5", PROGRAM_SITE(PIT));
    cr_expect_eq(got.code, 1);
    cr_expect(strstr(got.text, "TOO STEEP") != NULL, "%s", got.text);
    program_forget(&got);
    got = program_run("sheet --set 'quantities.sheet.thickness=30 mm'", PROGRAM_SITE(PIT));
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "sheet.thickness") != NULL, "%s", got.text);
    program_forget(&got);
}

Test(cmd_sheet, text_fits)
{
    static const char *const arguments[] = {"sheet", "sheet --units us"};
    for (size_t i = 0; i < 2; i++) {
        struct program_answer got = program_run(arguments[i], PROGRAM_SITE(PIT));
        program_expect_fits(got.text);
        cr_expect(strstr(got.text, "truckloads") != NULL && strstr(got.text, "29") != NULL &&
                      strstr(got.text, "whole sheets") != NULL,
                  "%s", got.text);
        program_forget(&got);
    }
}

/* --quiet writes the page and says nothing. */
Test(cmd_sheet, quiet_writes_the_page)
{
    char path[] = "/tmp/uf_sheet_XXXXXX", arguments[100];
    const int file = mkstemp(path);
    cr_assert(file >= 0);
    (void)close(file);
    (void)snprintf(arguments, sizeof arguments, "sheet --quiet -o %s", path);
    program_draw_nothing();
    struct program_answer got = program_run(arguments, PROGRAM_SITE(PIT));
    cr_expect_eq(got.code, 0);
    cr_expect_str_eq(got.text, "");
    FILE *page = fopen(path, "r");
    cr_assert_not_null(page);
    cr_expect(fseek(page, 0, SEEK_END) == 0 && ftell(page) > 2000);
    (void)fclose(page);
    (void)unlink(path);
    program_forget(&got);
}

/* The last lift of the fill is the finished works of the flotation check. */
Test(cmd_sheet, backfill_ends_where_the_flotation_check_stands)
{
    struct program_answer sheet = program_run("sheet --json", PROGRAM_SITE(PIT));
    struct program_answer check = program_run("check --json", PROGRAM_SITE(PIT));
    const cJSON *row = NULL, *last = NULL;
    cr_assert(sheet.json != NULL && check.json != NULL, "%s %s", sheet.text, check.text);
    cJSON_ArrayForEach(row,
                       cJSON_GetObjectItem(cJSON_GetObjectItem(sheet.json, "backfill"), "rows"))
    {
        last = row;
    }
    cr_assert_not_null(last, "%s", sheet.text);
    cr_expect_float_eq(program_number(last, "top_m"), 0.0, 1e-12);
    cr_expect_float_eq(
        program_number(last, "factor"),
        program_number(cJSON_GetObjectItem(check.json, "flotation"), "factor_submerged"), 1e-9);
    program_forget(&sheet);
    program_forget(&check);
}

Test(cmd_sheet, a_drawing_needs_a_file_of_a_kind_it_can_write)
{
    struct program_answer got = program_run("sheet --drawing", PROGRAM_SITE(PIT));
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "-o FILE.pdf or FILE.svg") != NULL, "%s", got.text);
    program_forget(&got);
    got = program_run("sheet --drawing -o /tmp/uf_drawing.png", PROGRAM_SITE(PIT));
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, ".svg or .pdf") != NULL, "%s", got.text);
    program_forget(&got);
}

Test(cmd_sheet, field_needs_a_file_and_a_diameter)
{
    struct program_answer got = program_run("sheet --field", PROGRAM_SITE(PIT));
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "-o FILE.html") != NULL, "%s", got.text);
    program_forget(&got);
    got = program_run("sheet --field -o /tmp/uf_field.html --set roundness.stations=0",
                      PROGRAM_SITE(PIT));
    cr_expect_eq(got.code, 2);
    cr_expect(strstr(got.text, "roundness.stations") != NULL, "%s", got.text);
    program_forget(&got);
}

/* A floor that a confined layer would lift fails the check of the pit, by hand: (5 - 4 m) of soaked
   ground over 4 m of head. */
Test(cmd_sheet, a_floor_that_would_heave_fails_the_pit)
{
    struct program_answer got =
        program_run("check --json --set 'works.confined.top=5 m' --set 'works.confined.head=1 m' "
                    "--set 'groundwater.winter=4.5 m'",
                    PROGRAM_SITE(PIT));
    cr_assert_not_null(got.json, "%s", got.text);
    const cJSON *pit = cJSON_GetObjectItem(got.json, "pit");
    const cJSON *water = cJSON_GetObjectItem(pit, "water_in_frost_season");
    cr_assert_not_null(water, "%s", got.text);
    cr_expect_lt(program_number(water, "blowout_factor"), 1.0);
    cr_expect_eq(cJSON_GetArraySize(cJSON_GetObjectItem(water, "designer")), 1);
    cr_expect_eq(got.code, 1);
    program_forget(&got);
}
