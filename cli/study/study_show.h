#ifndef UF_STUDY_SHOW_H
#define UF_STUDY_SHOW_H

#include "cli/tell/answer.h"
#include "solver/study/share.h"
#include "study.h"

/* What `study show` tells, for its files. */

#define UF_STUDY_SHOWN_WATER "water_min_degC"
#define UF_STUDY_SHOWN_FROST "frost_depth_undisturbed_max_m"

struct uf_study_shown_station {
    char name[128];
    double latitude_deg, longitude_deg;
    double index_degC_day; /* mean over its winters on file; NAN: not known */
};

struct uf_study_shown {
    const struct uf_study *study;
    const struct uf_study_results *results;
    struct uf_study_shown_station *stations;
    size_t *by_index; /* [stations] by rising freezing index */
    double covers_m[UF_MAX_CHOICES];
    size_t n_covers;
};

/* Sorted numbers of a column over the cases of an option (SIZE_MAX: of all); values is the
   caller's to free. */
struct uf_study_picked {
    double *values;
    size_t n;
};
struct uf_study_picked uf_study_show_pick(const struct uf_study_shown *shown, const char *column,
                                          size_t option);

/* The number below which a share p of them lies; NAN: there is none. */
double uf_study_show_quantile(const struct uf_study_picked *picked, double p);

/* Share of the cases of a station and an option (SIZE_MAX: of all) that miss a limit or have no
   answer, and of those in which one limit is judged. */
struct uf_share uf_study_show_fails(const struct uf_study_shown *shown, size_t station,
                                    size_t option);
struct uf_share uf_study_show_limit(const struct uf_study_shown *shown, size_t limit);

/* Share of the years in which an option fails at a station: by its return periods where winters are
   that, else by the winters on file alike. NAN where winters tell no year, or cases are missing. */
double uf_study_show_yearly(const struct uf_study_shown *shown, size_t station, size_t option);

/* Is no case of the station missing? Else nothing is said of its options. */
bool uf_study_show_whole(const struct uf_study_shown *shown, size_t station);

/* The smallest option at a station, of one cover or of all, that fails in no more of the years than
   asked; where winters tell no year, the smallest that never failed. -1: none. */
long uf_study_show_smallest(const struct uf_study_shown *shown, size_t station, double cover_m);

cJSON *uf_study_show_answer(const struct uf_study_shown *shown);

/* study_show_text.c: on standard output. */
void uf_study_show_text(const struct uf_study_shown *shown, const struct uf_arguments *args);

#endif
