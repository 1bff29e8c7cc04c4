#include "cli/command.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "io/site/site_start.h"
#include "io/weather/climate.h"

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Writes a site file to start from, for a shape of tank and a station. */

/* The climate file as the site file must name it: a relative path is made absolute when
   the site file goes to another folder. Returns text. */
static const char *climate_name(char *text, size_t size, const struct uf_arguments *args)
{
    const bool elsewhere = args->output != NULL && strchr(args->output, '/') != NULL;
    char *whole = elsewhere ? realpath(args->climate, NULL) : NULL;
    (void)snprintf(text, size, "%s", whole != NULL ? whole : args->climate);
    free(whole);
    return text;
}

/* Writes to a file that is not there yet. */
static enum uf_status write_file(const char *path, const char *text, struct uf_error *err)
{
    FILE *out = fopen(path, "wx");
    if (out == NULL) {
        return uf_fail(err, UF_E_FILE, "%s: %s", path,
                       errno == EEXIST ? "is there already: name another file with -o"
                                       : strerror(errno));
    }
    const bool written = fputs(text, out) >= 0;
    if (fclose(out) != 0 || !written) {
        return uf_fail(err, UF_E_FILE, "%s: could not be written", path);
    }
    return UF_OK;
}

/* The winter that this record can give: one of 30 years, of a few winters only their
   mean. Errors: UF_E_INPUT where no winter is whole. */
static enum uf_status choose_winter(const char **winter, const char *file,
                                    const struct uf_weather *weather, struct uf_error *err)
{
    struct uf_winter_list *list = NULL;
    enum uf_status status = uf_winter_list_create(&list, weather, weather->latitude_deg < 0.0, err);
    if (status == UF_OK && list->n_usable == 0) {
        status = uf_fail(err, UF_E_INPUT,
                         "%.120s: holds no whole winter, so no site file would run on it: "
                         "name a longer record (`underfrost climate` tells which days are missing)",
                         file);
    }
    if (status == UF_OK) {
        *winter = isnan(uf_winter_return_degC_day(list, 30.0)) ? "mean" : "1 in 30";
    }
    uf_winter_list_free(list);
    return status;
}

/* The whole file as text, for the caller to free. */
static enum uf_status make_text(char **text, const struct uf_arguments *args,
                                const struct uf_weather *weather, struct uf_error *err)
{
    const char *winter = NULL;
    if (choose_winter(&winter, args->climate, weather, err) != UF_OK) {
        return UF_E_INPUT;
    }
    char name[UF_CLIMATE_PATH_SIZE];
    size_t size = 0;
    FILE *out = open_memstream(text, &size);
    if (out == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory");
    }
    const struct uf_site_start start = {
        .shape = args->shape != NULL ? args->shape : "horizontal_cylinder",
        .climate_file = climate_name(name, sizeof name, args),
        .column = args->column,
        .latitude_deg = weather->latitude_deg,
        .winter = winter,
        .units = args->units,
    };
    const enum uf_status status = uf_site_start_write(out, &start, err);
    return fclose(out) == 0 ? status : uf_fail(err, UF_E_MEMORY, "out of memory");
}

static enum uf_status tell(const struct uf_arguments *args, const char *text, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    if (args->output != NULL) {
        status = write_file(args->output, text, err);
    }
    if (status == UF_OK && args->json) {
        cJSON *answer = cJSON_CreateObject();
        uf_answer_text(answer, "file", args->output);
        uf_answer_text(answer, "text", text);
        return uf_answer_print(answer, err);
    }
    if (status == UF_OK && args->output == NULL) {
        (void)fputs(text, stdout);
    } else if (status == UF_OK && !args->quiet) {
        (void)printf("%s is written. Look through it, then: underfrost %s %s\n", args->output,
                     args->shape != NULL && strcmp(args->shape, "none") == 0 ? "simulate"
                                                                             : "recommend",
                     args->output);
    }
    return status;
}

static int run(const struct uf_arguments *args)
{
    struct uf_weather *weather = NULL;
    struct uf_error err = {0};
    char *text = NULL;
    if (args->climate == NULL) {
        (void)uf_fail(&err, UF_E_INPUT,
                      "no weather is named: give --climate FILE, a path or a file of "
                      "climates/ such as madison.csv");
        return uf_faults_error(args, NULL, &err);
    }
    enum uf_status status = uf_climate_read(&weather, args->climate, args->column, NULL, &err);
    if (status == UF_OK) {
        status = make_text(&text, args, weather, &err);
    }
    if (status == UF_OK) {
        status = tell(args, text, &err);
    }
    uf_weather_free(weather);
    free(text);
    return status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, NULL, &err);
}

const struct uf_command uf_cmd_start = {
    .name = "start",
    .summary = "write a site file to start from, every key explained",
    .synopsis = "--climate FILE [--shape SHAPE] [-o SITE.yaml]",
    .detail =
        "The file runs as it is; its figures are a beginning, not advice. Without -o it "
        "goes to standard output. With --units us its values, and then the answers, are in US "
        "customary units. A file that is there already is never overwritten.\n"
        "Example: underfrost start --shape box --climate madison.csv -o mine.yaml",
    .options = UF_OPTION_SHAPE | UF_OPTION_CLIMATE | UF_OPTION_COLUMN | UF_OPTION_OUTPUT,
    .run = run,
};
