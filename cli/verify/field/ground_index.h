#ifndef UF_GROUND_INDEX_H
#define UF_GROUND_INDEX_H

#include "solver/time/season.h"

#include <stddef.h>

/* Bare ground of one soil at every shipped station whose ground thaws, each winter on
   file: n-factors of bare soil, silt of 1600 kg/m3 with 20 % of water, no water table. To
   stand beside published relations of depth and index. */
struct uf_ground_station {
    const char *name, *file, *column;
};
extern const struct uf_ground_station uf_ground_index_stations[]; /* ended by a NULL name */
extern const char uf_ground_index_soil[];                         /* what is assumed, in words */

struct uf_ground_point {
    size_t station;
    int year; /* the winter begins in */
    double index_degC_day, frost_m;
};
struct uf_ground_index {
    struct uf_ground_point *points; /* station by station, rising years */
    size_t n;
};

/* Errors: those of reading and of the runs. Free with uf_ground_index_free. */
enum uf_status uf_ground_index_run(struct uf_ground_index *out,
                                   const struct uf_season_options *options, struct uf_error *err);
void uf_ground_index_free(struct uf_ground_index *index);

/* Mean over the winters whose index lies in from .. to: index, depth, and how many. */
struct uf_ground_bin {
    double index_degC_day, frost_m;
    size_t n;
};
struct uf_ground_bin uf_ground_index_bin(const struct uf_ground_index *index, double from_degC_day,
                                         double to_degC_day);

#endif
