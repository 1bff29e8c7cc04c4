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

/* study_show.c */
/* Is no case of the station missing? Else nothing is said of its options. */
bool uf_study_show_whole(const struct uf_study_shown *shown, size_t station);
long uf_study_show_smallest(const struct uf_study_shown *shown, size_t station, double cover_m);
cJSON *uf_study_show_answer(const struct uf_study_shown *shown);
void uf_study_show_text(const struct uf_study_shown *shown, const struct uf_arguments *args);

#endif
