#define _GNU_SOURCE /* memfd_create */
#include "damage.h"
#include "io/result/result_csv.h"
#include "io/result/result_file.h"
#include "solver/base/calendar.h"
#include "tests/synthetic.h"

/* A result file damaged behind its sum, see damage.h: read whole, with everything that is made of it
   as tables, or refused in one line. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char *const things[] = {"time",
                                     "z",
                                     "x",
                                     "temperature",
                                     "ice_fraction",
                                     "material",
                                     "z_bounds",
                                     "x_bounds",
                                     "probe",
                                     "probe_temperature",
                                     "frost_depth",
                                     "climate_air",
                                     "climate_time",
                                     "choice_cover",
                                     "choice_ok",
                                     "choice_governs",
                                     "design",
                                     "summary_numbers",
                                     "winter",
                                     "freezing_index",
                                     "water_table",
                                     "uplift_factor",
                                     "return_period",
                                     "case_name",
                                     "case_ok",
                                     "probe_x",
                                     "snow_depth",
                                     "without_board",
                                     "without_board/time",
                                     "without_board/x",
                                     "without_board/material",
                                     "without_board/temperature",
                                     NULL};
static const char *const attributes[] = {"names",
                                         "long_name",
                                         "units",
                                         "pick",
                                         "title",
                                         "site_file",
                                         "version",
                                         "summary",
                                         "name",
                                         "station",
                                         "shape",
                                         "crown_m",
                                         "water_min_date",
                                         "frost_depth_undisturbed_max_m",
                                         "probes_0_name",
                                         "n_probes",
                                         NULL};

static struct damage_base base = {.things = things, .attributes = attributes};

static void make_base(void)
{
    char path[] = "/tmp/uf_fuzz_XXXXXX";
    struct uf_result *made = synthetic_result();
    made->record->nt = made->without_board->nt = 4; /* small, so that damage hits */
    made->n_winters = 3;
    const int file = mkstemp(path);
    if (file < 0 || uf_result_file_write(path, made, NULL) != UF_OK) {
        abort();
    }
    (void)close(file);
    damage_take(&base, path);
    (void)unlink(path);
    uf_result_free(made);
}

/* What `export` makes of it, thrown away. */
static void use(const struct uf_result *result)
{
    const struct uf_result_csv asked = {UF_UNITS_SI, {0.1, 2.0}, 2};
    FILE *out = fopen("/dev/null", "w");
    for (const struct uf_result_csv_table *t = uf_result_csv_tables; out != NULL && t->name; t++) {
        if (t->has(result)) {
            t->write(out, result, &asked);
        }
    }
    if (out != NULL) {
        (void)fclose(out);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char path[64];
    struct uf_result *result = NULL;
    struct uf_error err = {0};
    if (base.image == NULL) {
        make_base();
    }
    const int file = damage_write(&base, data, size, path, sizeof path);
    const enum uf_status status = uf_result_file_read(&result, path, &err);
    if ((status == UF_OK) != (result != NULL) || (status != UF_OK && err.text[0] == '\0')) {
        __builtin_trap();
    }
    if (status == UF_OK) {
        use(result);
    }
    uf_result_free(result);
    (void)close(file);
    return 0;
}
