#include "result_private.h"

#include <stddef.h>

/* What the CF conventions ask of a variable beyond units and names (CF-1.10,
   chapters 3.5, 4, 5 and 7). One row an attribute; a variable that is not there has none. */
static const struct {
    const char *variable, *attribute, *text;
} NOTES[] = {
    {"time", "calendar", UF_RESULT_CALENDAR},
    {"time", "axis", "T"},
    {"time", "bounds", "time_bounds"},
    {"climate_time", "calendar", UF_RESULT_CALENDAR},
    {"climate_time", "axis", "T"},
    {"climate_time", "bounds", "climate_time_bounds"},
    {"z", "positive", "down"},
    {"z", "axis", "Z"},
    {"z", "bounds", "z_bounds"},
    {"y", "axis", "Y"},
    {"y", "bounds", "y_bounds"},
    {"x", "axis", "X"},
    {"x", "bounds", "x_bounds"},
    {"probe_depth", "positive", "down"},
    {"water_table", "positive", "down"},
    {"water_table", "standard_name", "water_table_depth"},
    {"temperature", "cell_methods", "time: point"},
    {"ice_fraction", "cell_methods", "time: point"},
    {"long_temperature", "cell_methods", "time: point"},
    {"long_ice_fraction", "cell_methods", "time: point"},
    {"whole_temperature", "cell_methods", "time: point"},
    {"whole_ice_fraction", "cell_methods", "time: point"},
    {"zero_line", "cell_methods", "time: point"},
    {"long_zero_line", "cell_methods", "time: point"},
    {"frost_depth", "cell_methods", "time: point"},
    {"frost_depth_above_tank", "cell_methods", "time: point"},
    {"thaw_depth", "cell_methods", "time: point"},
    {"water_temperature", "cell_methods", "time: point"},
    {"ice", "cell_methods", "time: point"},
    {"wall_temperature", "cell_methods", "time: point"},
    {"crown_temperature", "cell_methods", "time: point"},
    {"surface_heat_flow", "cell_methods", "time: point"},
    {"probe_temperature", "cell_methods", "time: point"},
    {"air_temperature", "standard_name", "air_temperature"},
    {"air_temperature", "cell_methods", "time: mean"},
    {"snow_depth", "standard_name", "surface_snow_thickness"},
    {"climate_air", "cell_methods", "climate_time: mean"},
    {"climate_mean_air", "cell_methods", "climate_time: mean"},
    {"design", "long_name", "figures of the design that a picture needs, SI"},
    {"limits", "long_name", "what the design is held to, each in its own unit"},
    {"summary_numbers", "long_name", "figures of the summary, SI"},
};

bool uf_result_cf_describe(hid_t group)
{
    bool good = true;
    for (size_t i = 0; good && i < sizeof NOTES / sizeof NOTES[0]; i++) {
        if (uf_result_hdf5_exists(group, NOTES[i].variable)) {
            const hid_t dataset = H5Dopen2(group, NOTES[i].variable, H5P_DEFAULT);
            good =
                dataset >= 0 && uf_result_hdf5_put_text(dataset, NOTES[i].attribute, NOTES[i].text);
            (void)H5Dclose(dataset);
        }
    }
    return good;
}

/* May a character stand in a word of flag_meanings? (chapter 3.5) */
static bool is_plain(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-' || c == '.' || c == '+' || c == '@';
}

void uf_result_cf_word(char *out, size_t size, const char *words)
{
    size_t n = 0;
    for (; *words != '\0' && n + 1 < size; words++) {
        if (is_plain(*words)) {
            out[n++] = *words;
        } else if (n > 0 && out[n - 1] != '_') {
            out[n++] = '_';
        }
    }
    out[n] = '\0';
}
