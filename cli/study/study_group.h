#ifndef UF_STUDY_GROUP_H
#define UF_STUDY_GROUP_H

#include "study.h"

/* The weather of every winter at a station, as one site reads it. */
struct uf_study_weather {
    size_t station;                   /* SIZE_MAX: none */
    struct uf_site_weather **winters; /* [winters]; NULL: there is none, for errs says why */
    struct uf_error *errs;
};
bool uf_study_group_weather_room(struct uf_study_weather *weather, const struct uf_study *study);
void uf_study_group_weather_free(struct uf_study_weather *weather, const struct uf_study *study);

/* One station, variant and member: its site is read once. */
struct uf_study_group {
    size_t first;        /* number of its first case */
    struct uf_error err; /* why nothing of it can be run, or UF_OK */
    struct uf_site *site;
    struct uf_study_weather own, *weather; /* its own where members may read it otherwise */
    struct uf_forcing **forcings;          /* [winters] NULL: none */
    struct uf_choices_result *choices;
    double coldest_degC_day; /* freezing degree-days of its coldest winter */
};
bool uf_study_group_room(struct uf_study_group *group, const struct uf_study *study);
void uf_study_group_free(struct uf_study_group *group, const struct uf_study *study);

/* Reads the site, makes what drives each winter and lists the options; drawn false: as the variant has
   it, without what is drawn. shared: the weather that groups of one station have in common, taken
   where it is not there. What fails stands in the group. */
void uf_study_group_open(struct uf_study_group *group, const struct uf_study *study, size_t first,
                         bool drawn, struct uf_study_weather *shared);
void uf_study_group_close(struct uf_study_group *group, const struct uf_study *study);

/* An option's design and its row; NULL for bare ground. */
const struct uf_case *uf_study_group_design(const struct uf_study_group *group, size_t option);
const struct uf_choice *uf_study_group_row(const struct uf_study_group *group, size_t option);

/* Is the study's a case for lanes (members.h)? By the plan alone: they change the last digits. */
bool uf_study_group_lanes(const struct uf_study *study);

/* Guess of the frost, which rows are fine down to. */
double uf_study_group_frost_m(const struct uf_study_group *group, size_t option);

#endif
