#include "solver/design/foam.h"
#include "solver/ground/soil.h"
#include "solver/weather/surface.h"
#include "tests/program.h"

Test(manual_tables, json_holds_every_row_with_its_source)
{
    struct program_answer answer = program_run_alone("manual tables --json");
    cr_assert_eq(answer.code, 0);
    static const char *const lists[] = {"soils", "boards", "surfaces"};
    for (size_t i = 0; i < 3; i++) {
        const cJSON *row = NULL;
        cJSON_ArrayForEach(row, cJSON_GetObjectItem(answer.json, lists[i]))
        {
            const char *name = cJSON_GetObjectItem(row, "name")->valuestring;
            cr_expect(strlen(cJSON_GetObjectItem(row, "source")->valuestring) > 10, "%s", name);
        }
    }
    const cJSON *soils = cJSON_GetObjectItem(answer.json, "soils");
    size_t n = 0;
    while (uf_soil_table[n].name != NULL) {
        n++;
    }
    cr_assert_eq((size_t)cJSON_GetArraySize(soils), n);
    for (size_t i = 0; i < n; i++) {
        const cJSON *row = cJSON_GetArrayItem(soils, (int)i);
        cr_expect_str_eq(cJSON_GetObjectItem(row, "name")->valuestring, uf_soil_table[i].name);
        cr_expect(program_number(row, "k_thawed_W_mK") > 0.05);
        cr_expect(program_number(row, "k_saturated_frozen_W_mK") >
                      program_number(row, "k_saturated_thawed_W_mK"),
                  "ice conducts better than water");
    }
    const cJSON *board = cJSON_GetArrayItem(cJSON_GetObjectItem(answer.json, "boards"), 1);
    cr_expect_str_eq(cJSON_GetObjectItem(board, "name")->valuestring, uf_foam_table[1].name);
    cr_expect_float_eq(program_number(board, "strength_Pa"), uf_foam_table[1].strength_Pa, 1e-6);
    program_forget(&answer);
}

Test(manual_tables, text_fits_and_names_every_row)
{
    static const char *const arguments[] = {"manual tables", "manual tables --units us"};
    for (size_t i = 0; i < 2; i++) {
        struct program_answer answer = program_run_alone(arguments[i]);
        cr_assert_eq(answer.code, 0);
        program_expect_fits(answer.text);
        for (const struct uf_cover_row *row = uf_surface_table; row->name != NULL; row++) {
            cr_expect(strstr(answer.text, row->name) != NULL, "%s", row->name);
        }
        cr_expect(strstr(answer.text, i == 0 ? "kg/m3" : "lb/ft3") != NULL);
        program_forget(&answer);
    }
}

/* An option that is taken does something: pages of text refuse it, as one object. */
Test(manual_tables, pages_of_text_are_not_json)
{
    static const char *const lines[] = {"manual keys --json", "manual man --json", "manual --json"};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        struct program_answer answer = program_run_alone(lines[i]);
        cr_expect_eq(answer.code, 2, "%s", lines[i]);
        cr_expect(cJSON_HasObjectItem(answer.json, "errors"), "%s", lines[i]);
        program_forget(&answer);
    }
}
