#ifndef UF_STUDY_H
#define UF_STUDY_H

#include "cli/command.h"
#include "io/result/study_part.h"
#include "io/site/site_weather.h"
#include "io/site/study_plan.h"
#include "solver/choice/choice.h"
#include "solver/run/facts.h"

/* A study: the cases of a plan, numbered

     case = (((station V + variant) M + member) O + option) W + winter

   so that whoever has the plan knows every case by its number, and a shard is a range of them. */

#define UF_STUDY_COLUMN_NAME 120

/* A number that each case leaves. */
struct uf_study_column {
    char name[UF_STUDY_COLUMN_NAME];
    const char *units, *long_name;
    const struct uf_fact *fact; /* its value, or its day; NULL: a limit's margin, or one of below */
    bool day;
    size_t limit; /* index into uf_limits where margin */
    enum uf_study_column_kind {
        UF_STUDY_FACT,
        UF_STUDY_MARGIN,
        UF_STUDY_COST,
        UF_STUDY_INDEX
    } kind;
};

struct uf_study {
    struct uf_study_plan *plan;
    struct uf_site *base; /* the site file as `set` has it */
    char folder[1024];
    size_t stations, variants, members, options, winters, cases;
    double *draws; /* [members][n_drawn] */
    char (*winter_names)[UF_STUDY_NAME];
    struct uf_choices_result *choices; /* the options of base; NULL: bare ground */
    struct uf_study_column *columns;
    size_t n_columns;
    char *manifest; /* its text */
    unsigned long long key;
};

#define UF_STUDY_UNDRAWN ((size_t)-1)

/* A case by its parts. */
struct uf_study_case {
    size_t station, variant, member, option, winter;
};
struct uf_study_case uf_study_case_of(const struct uf_study *study, size_t id);

/* A failure over the weather of a station: gives it the plan's line and key, where the plan names the file. */
void uf_study_open_blame(struct uf_error *err, const struct uf_study_plan *plan, size_t station);

/* Reads the plan of args and all it names; faults are told. frozen: the folder must hold the manifest
   of it, else what differs is told. Returns enum uf_exit; 0: to be closed. */
int uf_study_open(struct uf_study *out, const struct uf_arguments *args, bool frozen);
void uf_study_close(struct uf_study *study);

/* study_columns.c */
enum uf_status uf_study_columns(struct uf_study *study, struct uf_error *err);
/* Column of that name; n_columns where there is none. */
size_t uf_study_columns_find(const struct uf_study *study, const char *name);

/* study_manifest.c: the text that freezes the plan, and its sum. */
enum uf_status uf_study_manifest(struct uf_study *study, struct uf_error *err);
/* Writes it, making the folder. One that is there and another is kept unless force, which takes its
   parts away. */
enum uf_status uf_study_manifest_write(const struct uf_study *study, bool force,
                                       struct uf_error *err);
/* Is the manifest in the folder that of the plan as it is today? Errors: UF_E_INPUT with what differs. */
enum uf_status uf_study_manifest_check(const struct uf_study *study, struct uf_error *err);

/* study_site.c: the site of a variant and a member at a station; UF_STUDY_UNDRAWN: of no member, as
   the plan and the site file have it. Errors: UF_E_INPUT with the
   first fault. Free with uf_site_free. */
enum uf_status uf_study_site(struct uf_site **out, const struct uf_study *study,
                             const struct uf_study_case *of, struct uf_error *err);
/* Gives a fault of a site read so its file, and its line where that is the plan, whose values have none
   of their own. of_variant: what is varied and drawn was put over the site too, not only `set`. */
void uf_study_site_place(struct uf_fault *fault, const struct uf_study_plan *plan, bool of_variant);
/* "ground[0].moisture=17.25 percent; ..." of a member or a variant; text is returned. */
char *uf_study_site_variant(char *text, size_t size, const struct uf_study *study, size_t variant);
char *uf_study_site_member(char *text, size_t size, const struct uf_study *study, size_t member);
/* "1.20 m cover, 100 mm board" of an option. */
char *uf_study_site_option(char *text, size_t size, const struct uf_study *study, size_t option,
                           enum uf_units units);

/* May two members of a station have other weather, or read it otherwise? */
bool uf_study_site_varies_weather(const struct uf_study *study);

/* Do the members of a variant differ in substances and weather alone, so that their networks are alike?
   Groundwater and the faces of layers are lines of the grid. */
bool uf_study_site_keeps_grid(const struct uf_study *study);

/* study_run.c: works a share of the cases. Returns enum uf_exit. */
struct uf_study_shard {
    size_t at, of;    /* 1 of 1: all */
    const char *part; /* name of its file in the folder; NULL: part_<at>_of_<of>.txt */
};
int uf_study_run(struct uf_study *study, const struct uf_study_shard *shard,
                 const struct uf_arguments *args);
char *uf_study_run_part(char *path, size_t size, const struct uf_study *study,
                        const struct uf_study_shard *shard);

/* study_gather.c: what all parts hold together. */
struct uf_study_results {
    signed char *status; /* [cases] enum uf_study_status */
    double *values;      /* [n_columns][cases] NAN: none */
    char **messages;     /* [cases] NULL: none */
    size_t counts[UF_STUDY_STATUSES];
};
enum uf_status uf_study_gather(struct uf_study_results *out, const struct uf_study *study,
                               struct uf_error *err);
void uf_study_gather_free(struct uf_study_results *results, const struct uf_study *study);
enum uf_status uf_study_gather_write(const struct uf_study *study,
                                     const struct uf_study_results *results, struct uf_error *err);

/* study_show.c */
int uf_study_show(const struct uf_study *study, const struct uf_study_results *results,
                  const struct uf_arguments *args);

/* study_submit.c */
int uf_study_submit(struct uf_study *study, const struct uf_arguments *args);

#endif
