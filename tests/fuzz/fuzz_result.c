#include "damage.h"
#include "small_files.h"

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

static void take(const char *path, void *data)
{
    (void)data;
    damage_take(&whole, path);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    size_t length = 0;
    if (whole.image == NULL) {
        damage_begin();
        small_file(small_result_write, take, NULL);
        damage_lean(&lean, &whole, not_lean);
    }
    const bool few = size > 0 && (data[0] & 2u) != 0;
    bool must_refuse = false;
    uint8_t *image = damage_make(few ? &lean : &whole, data, size, &length, &must_refuse);
    small_result_read(image, length, must_refuse, true);
    free(image);
    return 0;
}
