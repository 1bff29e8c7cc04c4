#include "cli/command.h"
#include "io/result/result_file.h"
#include "tests/program.h"

/* simulate through the program: what it says, what it keeps, how it ends. */

#define COARSE "--set grid.finest=150mm "

static const char site[] =
    PROGRAM_SITE(PROGRAM_BURIED "probes: [{name: outlet, above_invert: 0.1 m}]\n");

static const char *text_of(const cJSON *object, const char *key)
{
    const cJSON *item = cJSON_GetObjectItem(object, key);
    return cJSON_IsString(item) ? item->valuestring : "";
}

/* The sentence at the top holds the numbers of the JSON. */
Test(cmd_simulate, it_begins_with_sentences_that_hold)
{
    struct program_answer a = program_run("simulate --json " COARSE, site);
    struct program_answer b = program_run("simulate " COARSE, site);
    cr_assert_not_null(a.json, "%s", a.text);
    const cJSON *water = cJSON_GetObjectItem(a.json, "water");
    const char *winter = strstr(b.text, "  winter");
    const char *frost = strstr(b.text, "Frost goes down to");
    cr_assert(winter != NULL && frost != NULL && frost < winter, "%s", b.text);
    cr_expect(strstr(b.text, text_of(water, "date")) != NULL, "%s", b.text);
    cr_expect_eq(a.code, b.code);
    const bool broken = strstr(b.text, "NOT met:") != NULL;
    cr_expect_eq(broken, a.code == UF_EXIT_LIMIT, "%d: %s", a.code, b.text);
    program_expect_fits(b.text);
    program_forget(&a);
    program_forget(&b);
}

Test(cmd_simulate, one_knob_turned_changes_the_answer_and_the_file_remembers)
{
    char folder[] = "/tmp/uf_simulate_XXXXXX", path[64], arguments[200];
    struct uf_result *result = NULL;
    struct uf_error err = {0};
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/a.h5", folder);
    (void)snprintf(arguments, sizeof arguments,
                   "simulate --json -o %s " COARSE "--set burial.cover=1.6m", path);
    struct program_answer deep = program_run(arguments, site);
    struct program_answer plain = program_run("simulate --json " COARSE, site);
    cr_assert(deep.json != NULL && plain.json != NULL, "%s", deep.text);
    const double warm = program_number(cJSON_GetObjectItem(deep.json, "water"), "min_degC");
    cr_expect(warm > program_number(cJSON_GetObjectItem(plain.json, "water"), "min_degC"));
    cr_assert_eq(uf_result_file_read(&result, path, &err), UF_OK, "%s", err.text);
    cr_expect_float_eq(result->summary.water.degC, warm, 1e-12);
    cr_expect_str_eq(result->site_changes, "grid.finest=150mm\nburial.cover=1.6m\n");
    cr_expect_str_eq(result->site_text, site);
    cr_expect(result->uplift_factor > 0.1 && result->uplift_factor < 10.0, "%g",
              result->uplift_factor);
    uf_result_free(result);
    (void)unlink(path);
    (void)rmdir(folder);
    program_forget(&deep);
    program_forget(&plain);
}

/* An inhabited house beside an empty one: warm water that flows in warms the tank. */
Test(cmd_simulate, inflow_is_shown_beside)
{
    struct program_answer a = program_run(
        "simulate --json " COARSE "--set 'tank.inflow={rate: 1 m3/day, temperature: 8 degC}'",
        site);
    cr_assert_not_null(a.json, "%s", a.text);
    const cJSON *with = cJSON_GetObjectItem(a.json, "with_inflow");
    cr_assert_not_null(with);
    cr_expect(program_number(cJSON_GetObjectItem(with, "water"), "min_degC") >
              program_number(cJSON_GetObjectItem(a.json, "water"), "min_degC") + 0.1);
    program_forget(&a);
}

Test(cmd_simulate, a_folder_that_is_not_there_ends_with_3)
{
    struct program_answer a =
        program_run("simulate " COARSE "-o /tmp/uf_no_such_folder/a.h5", site);
    cr_expect_eq(a.code, UF_EXIT_FILE, "%s", a.text);
    cr_expect(strstr(a.text, "uf_no_such_folder") != NULL, "%s", a.text);
    program_forget(&a);
}

/* HDF5 under another name would be taken for text by what opens it. */
Test(cmd_simulate, a_result_is_named_as_one_before_it_is_run)
{
    static const char *const names[] = {"/tmp/uf_s.csv", "/tmp/uf_s", "/tmp/uf.h5/s", "/tmp/.h5"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char arguments[100];
        (void)snprintf(arguments, sizeof arguments, "simulate " COARSE "-o %s", names[i]);
        struct program_answer a = program_run(arguments, site);
        cr_expect_eq(a.code, UF_EXIT_INPUT, "%s", a.text);
        cr_expect(strstr(a.text, ".h5 or .nc") != NULL, "%s", a.text);
        cr_expect_neq(access(names[i], F_OK), 0);
        (void)unlink(names[i]);
        program_forget(&a);
    }
}

/* Reads a file whole; *size its bytes. */
static char *bytes_of(const char *path, size_t *size)
{
    char *bytes = calloc(1, 1 << 23);
    FILE *file = fopen(path, "rb");
    cr_assert(bytes != NULL && file != NULL, "%s", path);
    *size = fread(bytes, 1, 1 << 23, file);
    (void)fclose(file);
    return bytes;
}

/* What a run took belongs to the terminal: the file is the same for the same question. */
Test(cmd_simulate, the_same_run_gives_the_same_bytes)
{
    char folder[] = "/tmp/uf_simulate_XXXXXX", command[900], path[64], yaml[64];
    char *bytes[2];
    size_t size[2];
    cr_assert_not_null(mkdtemp(folder));
    (void)snprintf(yaml, sizeof yaml, "%s/site.yaml", folder);
    (void)snprintf(path, sizeof path, "%s/a.nc", folder);
    FILE *file = fopen(yaml, "w");
    cr_assert(file != NULL && fputs(site, file) >= 0 && fclose(file) == 0);
    (void)snprintf(command, sizeof command, "'%s' simulate " COARSE "-o %s %s >/dev/null",
                   UF_PROGRAM, path, yaml);
    for (size_t i = 0; i < 2; i++) {
        cr_assert(system(command) >= 0);
        bytes[i] = bytes_of(path, &size[i]);
    }
    cr_expect_gt(size[0], 10000u);
    cr_expect(size[0] == size[1] && memcmp(bytes[0], bytes[1], size[0]) == 0,
              "two runs of one command differ");
    free(bytes[0]);
    free(bytes[1]);
    (void)unlink(path);
    (void)unlink(yaml);
    (void)rmdir(folder);
}

/* Water in a deep tank under snow, where little happens for days: steps of the reference were so long
   that a start-up of three years left it 0.1 K warmer than the fast integrator and than itself at a
   hundredth of its tolerances (seed 11820 of the random sites). */
Test(cmd_simulate, the_reference_is_near_at_its_usual_tolerances)
{
    static const char deep[] =
        "climate: {cycle: {mean: 5.19691258542868 degC, amplitude: 11.8808829198889 K}}\n"
        "surface: {film: 25 W/m2/K, snow: {depth: 0.3 m, density: 250 kg/m3}}\n"
        "ground:\n"
        "  - {to: 1.46885425082277 m, soil: sand}\n"
        "  - {to: 2.19697468679046 m, soil: gravel}\n"
        "  - {to: 30 m, soil: topsoil}\n"
        "groundwater: {winter: 3.93147587285964 m, highest: 3.93147587285964 m}\n"
        "tank: {shape: vertical_cylinder, diameter: 3.30174461979974 m, height: 11.853273197403 m, "
        "empty_mass: 900 kg, contents: {level: 2.444294 m}}\n"
        "burial: {cover: 0.380597286794896 m, bedding: 0.2 m, pit: {clearance: 0.5 m, slope: 1}}\n"
        "board: {type: XPS_IV, thickness: 0.0793727115571099 m, beyond_tank: 0.943997584379597 m, "
        "above_crown: 0.0778359152964713 m}\n"
        "grid: {finest: 0.3 m, depth: 17.4338704841979 m}\n";
    struct program_answer fast = program_run("simulate --json", deep);
    struct program_answer reference = program_run("simulate --json --integrator reference", deep);
    cr_assert(fast.json != NULL && reference.json != NULL, "%s%s", fast.text, reference.text);
    const double water[] = {
        program_number(cJSON_GetObjectItem(fast.json, "water"), "min_degC"),
        program_number(cJSON_GetObjectItem(reference.json, "water"), "min_degC")};
    cr_expect(fabs(water[0] - water[1]) < 0.03, "fast %g, reference %g degC", water[0], water[1]);
    program_forget(&fast);
    program_forget(&reference);
}
