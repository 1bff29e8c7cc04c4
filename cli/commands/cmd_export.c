#include "cli/command.h"
#include "cli/tell/faults.h"
#include "io/result/part_file.h"
#include "io/result/result_csv.h"
#include "io/result/result_file.h"
#include "io/text/units.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

/* underfrost export FILE.h5 --csv: a result as plain tables for other programs. */

static bool word(size_t i, struct uf_command_word *out)
{
    if (uf_result_csv_tables[i].name == NULL) {
        return false;
    }
    out->word = uf_result_csv_tables[i].name;
    (void)snprintf(out->doc, sizeof out->doc, "%s", uf_result_csv_tables[i].doc);
    return true;
}

static const struct uf_result_csv_table *find(const char *name)
{
    for (const struct uf_result_csv_table *t = uf_result_csv_tables; t->name != NULL; t++) {
        if (strcmp(t->name, name) == 0) {
            return t;
        }
    }
    return NULL;
}

/* "0.1 m, 0.5 m" into metres. */
static enum uf_status read_depths(struct uf_result_csv *asked, const char *list,
                                  struct uf_error *err)
{
    static const double usual_m[] = {0.05, 0.1, 0.2, 0.5, 1.0, 1.5, 2.0, 3.0};
    asked->n_depths = 0;
    for (size_t i = 0; list == NULL && i < sizeof usual_m / sizeof usual_m[0]; i++) {
        asked->depth_m[asked->n_depths++] = usual_m[i];
    }
    while (list != NULL && *list != '\0') {
        char one[60];
        struct uf_units_fault fault = {.what = "", .allowed = ""};
        const size_t n = strcspn(list, ",");
        if (asked->n_depths == UF_RESULT_CSV_DEPTHS || n >= sizeof one) {
            return uf_fail(err, UF_E_INPUT, "--depths: at most %d depths, such as 0.1m,0.5m,1m",
                           UF_RESULT_CSV_DEPTHS);
        }
        memcpy(one, list, n);
        one[n] = '\0';
        const enum uf_status status =
            uf_units_read(&asked->depth_m[asked->n_depths++], one, &uf_units_length, "m", &fault);
        if (status != UF_OK) {
            return uf_fail(err, status, "--depths: %s: %s", fault.what, fault.allowed);
        }
        list += n + (list[n] == ',');
    }
    return UF_OK;
}

/* Depths that were asked for lie in the section: elsewhere a table would be empty without a word. */
static enum uf_status check_depths(const struct uf_result_csv *asked,
                                   const struct uf_result *result, struct uf_error *err)
{
    const struct uf_record *r = result->record;
    for (size_t i = 0; r != NULL && r->nz > 0 && i < asked->n_depths; i++) {
        if (!(asked->depth_m[i] >= 0.0 && asked->depth_m[i] <= r->z_edge_m[r->nz])) {
            return uf_fail_key(
                err, UF_E_INPUT, "--depths",
                UF_SAID("{} lies outside the section", UF_OF(LENGTH, asked->depth_m[i])),
                UF_SAID("{} to {} below grade", UF_OF(LENGTH, 0.0),
                        UF_OF(LENGTH, r->z_edge_m[r->nz])));
        }
    }
    return UF_OK;
}

/* One table into a file of the folder. */
static enum uf_status keep(const struct uf_result_csv_table *table, const struct uf_result *result,
                           const struct uf_result_csv *asked, const char *folder,
                           struct uf_error *err)
{
    struct uf_part_file part;
    char path[1200];
    (void)snprintf(path, sizeof path, "%.1000s/%s.csv", folder, table->name);
    const enum uf_status status = uf_part_file_open(&part, path, err);
    if (status != UF_OK) {
        return status;
    }
    table->write(part.file, result, asked);
    return uf_part_file_close(&part, UF_OK, err);
}

static enum uf_status write_tables(const struct uf_result *result,
                                   const struct uf_result_csv *asked,
                                   const struct uf_arguments *args, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    const struct uf_result_csv_table *one = args->n_operands > 1 ? find(args->operands[1]) : NULL;
    if (args->n_operands > 1 && one == NULL) {
        return uf_fail(err, UF_E_INPUT, "'%.60s' is no table: series, fields or facts",
                       args->operands[1]);
    }
    if (one == NULL && args->output == NULL) {
        return uf_fail(err, UF_E_INPUT,
                       "name a folder with -o for all tables, or the one to print: series, fields "
                       "or facts");
    }
    if (one != NULL && !one->has(result)) {
        return uf_fail(err, UF_E_INPUT, "%s: the file holds series alone: simulate -o keeps fields",
                       one->name);
    }
    if (args->output == NULL && one != NULL) {
        one->write(stdout, result, asked);
        return UF_OK;
    }
    if (mkdir(args->output, 0777) != 0 && errno != EEXIST) {
        return uf_fail(err, UF_E_FILE, "%.200s: could not be made: %s", args->output,
                       strerror(errno));
    }
    for (const struct uf_result_csv_table *t = uf_result_csv_tables;
         status == UF_OK && t->name != NULL; t++) {
        if ((one == NULL || one == t) && t->has(result)) {
            status = keep(t, result, asked, args->output, err);
        }
    }
    return status;
}

static int run(const struct uf_arguments *args)
{
    struct uf_result *result = NULL;
    struct uf_result_csv asked = {.units = args->units};
    struct uf_error err = {0};
    enum uf_status status = UF_OK;
    if (!args->csv) {
        status = uf_fail(&err, UF_E_INPUT, "say --csv: comma-separated tables are all it writes");
    }
    if (status == UF_OK) {
        status = read_depths(&asked, args->depths, &err);
    }
    if (status == UF_OK) {
        status = uf_result_file_read(&result, args->operands[0], &err);
    }
    if (status == UF_OK && args->depths != NULL) {
        status = check_depths(&asked, result, &err);
    }
    if (status == UF_OK) {
        status = write_tables(result, &asked, args, &err);
    }
    uf_result_free(result);
    return status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, NULL, &err);
}

const struct uf_command uf_cmd_export = {
    .name = "export",
    .summary = "write a result as plain tables",
    .synopsis = "FILE.h5 --csv [TABLE] [-o DIR]",
    .detail =
        "Comma-separated, one observation a line, units in the header; lines that begin with # say "
        "what the columns are. With -o every table that the file can fill, into DIR; one table that "
        "is named goes to standard output. --units us for series and fields; facts stay SI, as "
        "their keys say. The same file gives the same bytes.\n"
        "The result file itself opens as netCDF-4: five lines of Python in README.md.",
    .options = UF_OPTION_OUTPUT | UF_OPTION_CSV | UF_OPTION_DEPTHS,
    .least_operands = 1,
    .most_operands = 2,
    .words = "Tables",
    .word = word,
    .run = run};
