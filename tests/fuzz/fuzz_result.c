#include "damage.h"
#include "io/result/result_csv.h"
#include "io/result/result_file.h"
#include "tests/synthetic.h"

#include <unistd.h>

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
                                     "case",
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

/* Without its scale a dimension is not there, nor the list or section along it. */
static const char *const not_lean[] = {
    "y",    "probe",  "climate_time", "choice", "water_table",   "winter", "return_period",
    "case", "anchor", "riser",        "pipe",   "without_board", NULL};

static struct damage_base whole = {.things = things, .attributes = attributes}, lean;

/* Small, so that damage hits and many are tried a second. */
static void make_small(struct uf_record *record)
{
    record->nt = 4;
    record->nz = 5;
    record->nx = 4;
    record->ny = 3;
}

static void make_base(void)
{
    char path[] = "/tmp/uf_fuzz_XXXXXX";
    struct uf_result *made = synthetic_result();
    damage_begin();
    make_small(made->record);
    make_small(made->without_board);
    made->n_winters = made->n_levels = made->n_choices = 3;
    const int file = mkstemp(path);
    if (file < 0 || uf_result_file_write(path, made, NULL) != UF_OK) {
        abort();
    }
    (void)close(file);
    damage_take(&whole, path);
    (void)unlink(path);
    uf_result_free(made);
    damage_lean(&lean, &whole, not_lean);
}

/* What `export` makes of it, thrown away. */
static void use(const struct uf_result *result)
{
    const struct uf_result_csv asked = {UF_UNITS_SI, {0.1, 2.0}, 2};
    static FILE *out;
    out = out != NULL ? out : fopen("/dev/null", "w");
    for (const struct uf_result_csv_table *t = uf_result_csv_tables; out != NULL && t->name; t++) {
        if (t->has(result)) {
            t->write(out, result, &asked);
        }
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct uf_result *result = NULL;
    struct uf_error err = {0};
    size_t length = 0;
    if (whole.image == NULL) {
        make_base();
    }
    const bool few = size > 0 && (data[0] & 2u) != 0;
    bool must_refuse = false;
    uint8_t *image = damage_make(few ? &lean : &whole, data, size, &length, &must_refuse);
    const enum uf_status status =
        uf_result_file_read_image(&result, "fuzz.h5", image, length, &err);
    free(image);
    if ((must_refuse && status != UF_E_FILE) || (status == UF_OK) != (result != NULL) ||
        (status != UF_OK && err.text[0] == '\0')) {
        __builtin_trap();
    }
    if (status == UF_OK) {
        use(result);
    }
    uf_result_free(result);
    return 0;
}
