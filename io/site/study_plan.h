#ifndef UF_STUDY_PLAN_H
#define UF_STUDY_PLAN_H

#include "site_file.h"
#include "solver/study/draw.h"

/* The plan of a study, as a user wrote it: a site file and what is varied of it. In YAML:

     site: larch_hollow.yaml                      # beside the plan
     stations: [{file: winnipeg.csv, column: winnipeg}, {folder: stations}]
     winters: [1 in 10, 1 in 30, 1 in 100]        # or every
     set: {tank.ends: plane}                      # once, over the site file, as --set does
     vary:                                        # each value with each value of the others
       burial.cover: [0.9 m, 1.2 m]
       ground[1].moisture: {from: 10 percent, to: 30 percent, steps: 5}
     draws:                                       # drawn together, by Latin hypercube
       members: 200
       seed: 1
       keys:
         ground[0].dry_density: {normal: [1600 kg/m3, 80 kg/m3]}
       correlations: [[ground[0].dry_density, ground[0].moisture, -0.6]]
     options: yes                                 # times the options of `choices`
     reliability: 1 in 100 years
     life: 50 years

   Files of stations are found as climate.file is. */

#define UF_STUDY_NAME 160

struct uf_study_station {
    char file[UF_TEXT_SIZE], column[UF_NAME_SIZE]; /* "": the site's own */
};
struct uf_study_axis {
    char key[128];
    char (*values)[UF_STUDY_NAME];
    size_t n;
};
struct uf_study_drawn {
    char key[128], unit[32];
    struct uf_draw_law law; /* in that unit */
};

struct uf_study_plan {
    char path[1024];
    char site[1024]; /* path of the site file */
    char *text;
    struct uf_study_station *stations;
    size_t n_stations; /* 0: the site's own */
    char (*winters)[UF_STUDY_NAME];
    size_t n_winters;                /* 0: the site's own */
    bool every;                      /* every winter on file */
    char (*sets)[2 * UF_STUDY_NAME]; /* "key=value" */
    size_t n_sets;
    struct uf_study_axis *axes;
    size_t n_axes;
    struct uf_study_drawn drawn[UF_DRAW_MOST_LAWS];
    size_t n_drawn, members; /* members 1 where nothing is drawn */
    unsigned long long seed;
    bool correlated;
    double correlation[UF_DRAW_MOST_LAWS * UF_DRAW_MOST_LAWS];
    bool options;             /* default yes */
    double reliability_years; /* NAN: not asked */
    double life_years;        /* default 50 */
};

/* Reads a plan; the keys it names are checked when the site is read with them. Errors: UF_E_FILE;
   UF_E_INPUT with the plan's key and what is allowed; UF_E_MEMORY. */
enum uf_status uf_study_plan_read(struct uf_study_plan **out, const char *path,
                                  struct uf_error *err);

/* The same from memory (tests, fuzzing). name stands for the file in messages, and what the plan names
   is looked for beside it. */
enum uf_status uf_study_plan_parse(struct uf_study_plan **out, const char *name, const char *text,
                                   struct uf_error *err);
void uf_study_plan_free(struct uf_study_plan *plan); /* NULL is fine */

#endif
