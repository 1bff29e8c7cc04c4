#ifndef UF_RESULT_FILE_H
#define UF_RESULT_FILE_H

#include "result.h"

#include <stdbool.h>
#include <stdint.h>

/* The result file: HDF5 that opens as netCDF-4 with CF-1.10 metadata. Root holds the run (of
   several choices: the pick), the group /without_board the same without board. Layout:

   dimension scales   time (days since 1970-01-01), z (m, down), x (m), y (m along the axis, of a run
                      in slices), probe (names), climate_time, water_table, winter, return_period;
                      choice and edge have no variable
   fields             temperature, ice_fraction (time, z, x) float32; material (z, x) int8; of the long
                      section the same as long_... (time, z, y); of every slice, where they were asked
                      for, whole_... (time, y, z, x)
   0 degC line        zero_line (time, x), long_zero_line (time, y) float32: its depth
   series (time)      frost_depth, frost_depth_above_tank, thaw_depth, water_temperature, ice,
                      wall_temperature, crown_temperature, surface_heat_flow, air_temperature,
                      snow_depth; probe_temperature (time, probe)
   lists              climate_air, climate_snow; choice_*; uplift_factor; freezing_index;
                      return_freezing_index
   design, summary    empty variables whose attributes are the numbers of struct uf_result_design
                      and struct uf_summary, by member name
   attributes         Conventions, title, version, command_line, site_file, site_changes, summary
                      (JSON), libraries, station, design_winter, pick,
                      uplift_factor_highest_water

   What a result has not is left out: no probe dimension without probes, no fields when only series
   were kept. */

/* Whether a file of that name would be known for what it is: it ends in .h5 or .nc. Errors:
   UF_E_INPUT. */
enum uf_status uf_result_file_name(const char *path, struct uf_error *err);

/* Writes the whole file under a temporary name beside path and renames it when it is
   complete; on failure the part is removed and an earlier file at path is as it was.
   result    record must be given; every other part may be absent
   Errors: UF_E_FILE with what to do. */
enum uf_status uf_result_file_write(const char *path, const struct uf_result *result,
                                    struct uf_error *err);

/* Reads everything back. *out is the caller's, to be freed with uf_result_free.
   Errors: UF_E_FILE (not there, not HDF5, not one of ours, damaged), UF_E_MEMORY. A file
   ends in a sum of its bytes (CRC-32), looked at before anything else; one without is
   read as it is. */
enum uf_status uf_result_file_read(struct uf_result **out, const char *path, struct uf_error *err);

/* The same from memory (tests, fuzzing): the bytes of a file, its sum behind them. name stands for the
   file in messages. */
enum uf_status uf_result_file_read_image(struct uf_result **out, const char *name,
                                         const void *image, size_t size, struct uf_error *err);

/* CRC-32 of a file, as crc32, gzip and zlib give it; of a text. false when it could not be read. */
bool uf_result_file_sum(uint32_t *sum, const char *path);
uint32_t uf_result_file_sum_text(const char *text);

/* "HDF5 1.10.8", for reports; into text, which is returned. */
char *uf_result_file_library(char *text, size_t size);

#endif
