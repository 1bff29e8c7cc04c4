/* What happens when memory runs out: each allocation of ours fails in turn, and whatever
   was asked must end in an error that says so, or in success where it could do without.
   Never a crash; the leak checker of a sanitized build watches the rest. Linked with
   --wrap=malloc, calloc and realloc, which catches our own calls, not those of libraries. */
#include "cli/command.h"
#include "io/site/site_weather.h"
#include "solver/choice/choice.h"
#include "solver/choice/every.h"
#include "tests/designs.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

void *__real_malloc(size_t size);
void *__real_calloc(size_t n, size_t size);
void *__real_realloc(void *old, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t n, size_t size);
void *__wrap_realloc(void *old, size_t size);

/* Allocations asked for since the counter was set, and the one that fails (0: none). */
static size_t asked, failing;

static bool refused(void)
{
    asked++;
    return asked == failing;
}

void *__wrap_malloc(size_t size)
{
    return refused() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t n, size_t size)
{
    return refused() ? NULL : __real_calloc(n, size);
}

void *__wrap_realloc(void *old, size_t size)
{
    return refused() ? NULL : __real_realloc(old, size);
}

/* A yearly wave of 40 days, so that its repetition is quick. */
enum { DAYS = 4, YEAR = 40, RECORD_DAYS = 3 * 366 };

static struct uf_forcing_weather short_weather(void)
{
    static double air_degC[YEAR], snow_m[YEAR];
    for (int i = 0; i < YEAR; i++) {
        air_degC[i] = 4.0 - 14.0 * cos(2.0 * 3.14159265358979 * i / YEAR);
    }
    return (struct uf_forcing_weather){.days = DAYS,
                                       .air_degC = air_degC,
                                       .snow_m = snow_m,
                                       .year_days = YEAR,
                                       .year_air_degC = air_degC,
                                       .year_snow_m = snow_m};
}

static struct uf_case small_tank(void)
{
    struct uf_case d = designs_tank(UF_HORIZONTAL_CYLINDER, 0.9);
    d.grid = (struct uf_grid_input){.finest_m = 0.4, .width_m = 4.0, .depth_m = 6.0};
    d.tank.empty_mass_kg = 500.0;
    d.board.strength_Pa = 173e3;
    d.ground.layers[0].spec.unit_weight_moist_N_m3 = 18e3;
    d.ground.layers[0].spec.unit_weight_saturated_N_m3 = 20e3;
    d.n_probes = 1;
    d.probes[0] = (struct uf_probe){"beside", 1.5, 0.5, NAN, NAN, NAN};
    return d;
}

/* Start-up from the mean year, a few days, with a record. */
static enum uf_status run_with(enum uf_integrator integrator, struct uf_error *err)
{
    const struct uf_case d = small_tank();
    const struct uf_forcing_weather weather = short_weather();
    struct uf_run_options options = uf_run_defaults();
    struct uf_forcing *forcing = NULL;
    struct uf_record *record = NULL;
    struct uf_summary summary;
    options.season.integrator = integrator;
    enum uf_status status = uf_forcing_create(&forcing, &d.surface, &weather, err);
    if (status == UF_OK) {
        status = uf_run_all(&summary, &record, &d, forcing, &options, NULL, err);
    }
    uf_record_free(record);
    uf_forcing_free(forcing);
    return status;
}

static enum uf_status run_fast(struct uf_error *err)
{
    return run_with(UF_FAST, err);
}

static enum uf_status run_bdf(struct uf_error *err)
{
    return run_with(UF_BDF, err);
}

static enum uf_status search(struct uf_error *err)
{
    struct uf_case d = small_tank();
    const struct uf_forcing_weather weather = short_weather();
    const struct uf_run_options options = uf_run_defaults();
    struct uf_forcing *forcing = NULL;
    struct uf_choices_result *choices = NULL;
    struct uf_pool *pool = NULL;
    d.choices.n_thickness = 2;
    d.choices.thickness_m[1] = 0.1;
    enum uf_status status = uf_forcing_create(&forcing, &d.surface, &weather, err);
    if (status == UF_OK) {
        const struct uf_choice_input input = {
            .design = &d, .forcing = forcing, .options = options, .every = true};
        status = uf_choice_create(&choices, &input, err);
    }
    if (status == UF_OK) {
        size_t n = 0;
        struct uf_job *jobs = uf_bank_pending(&choices->bank, &n);
        jobs[0].keep_every = 1;
        status = uf_pool_create(&pool, jobs, n, 1, err);
        uf_pool_free(pool);
    }
    if (status == UF_OK) {
        status = uf_choice_judge(choices, err);
    }
    uf_choice_free(choices);
    uf_forcing_free(forcing);
    return status;
}

/* A made-up station: the same cosine winter again and again. */
static enum uf_status record_create(struct uf_weather **out, struct uf_error *err)
{
    const enum uf_status status = uf_weather_create(out, 11170, RECORD_DAYS, true, err);
    for (size_t i = 0; status == UF_OK && i < RECORD_DAYS; i++) {
        (*out)->air_degC[i] = 4.0 + 14.0 * cos(2.0 * 3.14159265358979 * (double)i / 365.25);
        (*out)->snow_m[i] = 0.0;
    }
    return status;
}

static enum uf_status every(struct uf_error *err)
{
    struct uf_case d = small_tank();
    struct uf_weather *record = NULL;
    struct uf_winter_list *winters = NULL;
    struct uf_winter_mean_year mean;
    struct uf_every *all = NULL;
    d.tank.shape = UF_NO_TANK;
    enum uf_status status = record_create(&record, err);
    if (status == UF_OK) {
        status = uf_winter_list_create(&winters, record, false, err);
    }
    if (status == UF_OK) {
        status = uf_winter_mean_year(&mean, record, winters, err);
    }
    if (status == UF_OK) {
        const struct uf_every_input input = {.design = &d,
                                             .record = record,
                                             .winters = winters,
                                             .mean = &mean,
                                             .options = uf_run_defaults(),
                                             .keep_series = true};
        status = uf_every_create(&all, &input, err);
    }
    if (status == UF_OK) {
        status = uf_every_run(all, err);
    }
    uf_every_free(all);
    uf_winter_list_free(winters);
    uf_weather_free(record);
    return status;
}

/* A whole site of the examples, as text, and one that is wrong in many places. */
static char site_text[1 << 16];

static enum uf_status parse(struct uf_error *err)
{
    struct uf_site *site = NULL;
    struct uf_site_faults faults = {0};
    const struct uf_site_override set = {"burial.cover=1.4 m"};
    const enum uf_status status = uf_site_parse(&site, "larch.yaml", site_text, strlen(site_text),
                                                &(struct uf_site_overrides){&set, 1}, &faults, err);
    uf_site_free(site);
    uf_site_faults_clear(&faults);
    return status;
}

static enum uf_status parse_wrong(struct uf_error *err)
{
    static const char text[] = "site: {nam: x}\n"
                               "ground: [{to: 1 mm2, soil: silk}, {to: -1 m}]\n"
                               "tank: {shape: egg, diameter: 2.4}\n"
                               "burial: {cover: deep}\n"
                               "burial: {cover: 1 m}\n";
    struct uf_site *site = NULL;
    struct uf_site_faults faults = {0};
    enum uf_status status =
        uf_site_parse(&site, "wrong.yaml", text, sizeof text - 1, NULL, &faults, err);
    if (status == UF_E_INPUT && faults.n > 0 && site == NULL) {
        status = UF_OK; /* as it should be */
    } else if (status == UF_OK) {
        status = uf_fail(err, UF_E_INPUT, "a wrong file was taken");
    }
    uf_site_free(site);
    uf_site_faults_clear(&faults);
    return status;
}

/* A shipped station through the mean winter; it is too short for rarer ones. */
static enum uf_status read_weather(struct uf_error *err)
{
    struct uf_site site = {.source = UF_SOURCE_FILE, .winter = {.kind = UF_WINTER_MEAN}};
    struct uf_site_weather *weather = NULL;
    uf_case_init(&site.design);
    (void)snprintf(site.climate_file, sizeof site.climate_file, "%s",
                   UF_SOURCE_DIR "/climates/toolik.csv");
    const enum uf_status status = uf_site_weather_create(&weather, &site, NULL, err);
    uf_site_weather_free(weather);
    return status;
}

/* A whole recommend of a small site with a year of twenty days: site, options, sensitivity, result file, report
   and table. There is no gnuplot on its path, so that it ends with exit 3 when all is written. */
static char work[] = "/tmp/uf_memory_XXXXXX";

static const char small_site[] =
    "climate: {cycle: {mean: 6 degC, amplitude: 14 K, coldest: 4 day, period: 20 day}}\n"
    "surface: {film: 15 W/m2/K, snow: none}\n"
    "ground: [{soil: silt}]\n"
    "tank: {shape: horizontal_cylinder, diameter: 2 m, length: 3 m, empty_mass: 900 kg,\n"
    "  ends: plane, contents: {level: 1.2 m, water: mixed}}\n"
    "burial: {cover: 1.2 m, bedding: 0.2 m, pit: {clearance: 0.5 m, slope: 1}}\n"
    "board: {type: XPS_IV, thickness: 50 mm, beyond_tank: 0.6 m}\n"
    "choices: {thickness: [0 mm, 50 mm]}\n"
    "grid: {finest: 500 mm, width: 4 m, depth: 5 m}\n";

static enum uf_status recommend(struct uf_error *err)
{
    char site[64];
    char folder[64];
    struct uf_arguments args;
    (void)snprintf(site, sizeof site, "%s/site.yaml", work);
    (void)snprintf(folder, sizeof folder, "%s/out", work);
    const char *const words[] = {site,      "-o",     folder, "--force",
                                 "--quiet", "--jobs", "1",    "--nominal"};
    enum uf_status status = uf_options_parse(&args, uf_command_find("recommend"),
                                             sizeof words / sizeof words[0], words, err);
    const int code = status == UF_OK ? args.command->run(&args) : UF_EXIT_SOLVER;
    const size_t was_failing = failing;
    failing = 0;
    (void)snprintf(site, sizeof site, "%s/out/summary.csv", work);
    static char first[4096];
    char now[4096] = "";
    FILE *file = fopen(site, "r");
    now[file != NULL ? fread(now, 1, sizeof now - 1, file) : 0] = '\0';
    if (file != NULL) {
        (void)fclose(file);
        (void)unlink(site);
    }
    if (was_failing == 0) {
        memcpy(first, now, sizeof first);
    }
    if (code != UF_EXIT_SOLVER && code != UF_EXIT_FILE) {
        return uf_fail(err, UF_E_FILE, "exit %d", code);
    }
    if (now[0] == '\0') { /* no answer, and said so */
        return uf_fail(err, UF_E_MEMORY, "exit %d", code);
    }
    return strcmp(first, now) == 0 ? UF_OK
                                   : uf_fail(err, UF_E_FILE, "another answer, exit %d", code);
}

static bool make_work(void)
{
    char site[64];
    if (mkdtemp(work) == NULL || setenv("PATH", "/nonexistent", 1) != 0) {
        return false;
    }
    (void)snprintf(site, sizeof site, "%s/site.yaml", work);
    FILE *file = fopen(site, "w");
    const bool good = file != NULL && fputs(small_site, file) >= 0;
    return file != NULL && fclose(file) == 0 && good && freopen("/dev/null", "w", stderr) != NULL;
}

struct task {
    const char *name;
    enum uf_status (*run)(struct uf_error *err);
};

/* Fails each allocation of a task in turn, or about MOST of them where there are FEW or more and not
   every one was asked for; returns how many answers were wrong. */
enum { FEW = 1000, MOST = 100, MOST_LIGHT = 20 };
static int torment(const struct task *task, bool every)
{
    struct uf_error err = {0};
    int wrong = 0;
    size_t without = 0;
    asked = failing = 0;
    if (task->run(&err) != UF_OK) {
        printf("%s: fails with memory enough: %s\n", task->name, err.text);
        return 1;
    }
    const size_t n = asked;
    const size_t most = getenv("UF_TEST_LIGHT") != NULL ? MOST_LIGHT : MOST;
    for (size_t k = 1; k <= n; k += every || n < FEW ? 1 : n / most) {
        err = (struct uf_error){0};
        asked = 0;
        failing = k;
        const enum uf_status status = task->run(&err);
        failing = 0;
        without += status == UF_OK;
        if (status != UF_OK && (status != UF_E_MEMORY || err.text[0] == '\0')) {
            printf("%s: allocation %zu of %zu fails: status %d, \"%s\"\n", task->name, k, n,
                   (int)status, err.text);
            wrong++;
        }
    }
    printf("%s: %zu allocations, %zu can be done without\n", task->name, n, without);
    return wrong;
}

static bool read_site(const char *path)
{
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        return false;
    }
    site_text[fread(site_text, 1, sizeof site_text - 1, file)] = '\0';
    return fclose(file) == 0;
}

/* memory [all]: every allocation of the long tasks too. */
int main(int argc, char **argv)
{
    const bool all = argc > 1 && strcmp(argv[1], "all") == 0;
    static const struct task tasks[] = {
        {"a run by the fast integrator", run_fast},
        {"a run by the reference integrator", run_bdf},
        {"a search", search},
        {"every winter", every},
        {"reading a site", parse},
        {"reading a wrong site", parse_wrong},
        {"reading the weather", read_weather},
        {"a whole recommend", recommend},
    };
    int wrong = 0;
    if (!read_site(UF_SOURCE_DIR "/cli/examples/larch_hollow.yaml") || !make_work()) {
        printf("the example cannot be read\n");
        return 1;
    }
    for (size_t i = 0; i < sizeof tasks / sizeof tasks[0]; i++) {
        wrong += torment(&tasks[i], all);
    }
    return wrong == 0 ? 0 : 1;
}
