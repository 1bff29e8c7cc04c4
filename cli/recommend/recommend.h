#ifndef UF_RECOMMEND_H
#define UF_RECOMMEND_H

#include "cli/commands/winters.h"
#include "cli/site_run.h"
#include "cli/tell/answer.h"
#include "io/result/result.h"
#include "solver/choice/choice_facts.h"
#include "solver/choice/robust.h"
#include "solver/run/facts.h"

#include <stdio.h>

/* A recommendation in the making: the options, then the recommended one looked at more closely. */

/* The closer looks besides the variants, the longest run first. */
enum {
    UF_RECOMMEND_REFERENCE,
    UF_RECOMMEND_KEPT,
    UF_RECOMMEND_BARE,
    UF_RECOMMEND_INFLOW,
    UF_RECOMMEND_LOOKS
};

#define UF_RECOMMEND_SENTENCES 40

struct uf_recommend {
    struct uf_site_run run;
    struct uf_choices_result *choices;
    size_t asked, runs; /* heat runs that the options asked for, and those made for them */
    long shown;         /* row looked at closely: the recommended one, or the nearest */
    struct uf_robust *robust;
    bool looking;                     /* the looks are begun */
    size_t cells[UF_RECOMMEND_LOOKS]; /* 1 + the look's run in the search's bank; 0: by itself */
    struct uf_job jobs[UF_RECOMMEND_LOOKS]; /* skip: none is wanted, or the search has run it */
    struct uf_robust_case variants[UF_VARIANTS]; /* of the row shown */
    size_t n_variants;
    struct uf_site_weather *rarer_weather;
    struct uf_forcing *rarer_forcing;
    struct uf_winters *winters; /* --seasons every: what is shown through each; or NULL */
    struct uf_choice bare;      /* statics of the same without board */
    char why[UF_RECOMMEND_SENTENCES][640]; /* room for the longest of each */
    size_t n_why;
    size_t n_brief; /* the first of them are the summary that is read aloud: what to build, what it
                       costs, the closest limit, what would break it, what to measure on site */
    size_t sure_from, sure_to; /* which of them tell how sure: one a variant */
};

/* recommend_run.c: all the runs. Errors: UF_E_STOPPED and those of the runs. */
enum uf_status uf_recommend_search(struct uf_recommend *r, const struct uf_arguments *args,
                                   struct uf_error *err);
/* What the bank waits for. */
enum uf_status uf_recommend_run_pending(struct uf_recommend *r, const struct uf_arguments *args,
                                        const char *what, struct uf_error *err);
/* recommend_looks.c: sensitivity and the closer looks. The second asks for them as soon as the
   recommended option is known, so that they run beside the search for the next best. */
enum uf_status uf_recommend_look(struct uf_recommend *r, const struct uf_arguments *args,
                                 struct uf_error *err);
enum uf_status uf_recommend_look_beside(struct uf_recommend *r, const struct uf_arguments *args,
                                        struct uf_error *err);
/* recommend_run.c. */
/* With --seasons every: the choice shown, through each winter on file; an interrupted one
   is kept in the folder. */
enum uf_status uf_recommend_winters(struct uf_recommend *r, const struct uf_arguments *args,
                                    const char *folder, struct uf_error *err);
void uf_recommend_free(struct uf_recommend *r);

/* recommend_why.c: the reasons in words, from the numbers alone. */
void uf_recommend_reasons(struct uf_recommend *r, const struct uf_arguments *args);

/* recommend_files.c: result, pictures and report into the folder. Pictures that cannot be
   drawn are an error only after all else is written; the report says which it lacks. */
enum uf_status uf_recommend_write(const struct uf_recommend *r, const struct uf_arguments *args,
                                  const char *folder, struct uf_error *err);

/* The run that the other integrator's is held against: the shown option's plane section where it was
   screened by that, else its own. */
const struct uf_summary *uf_recommend_checked(const struct uf_recommend *r);

/* recommend_summary.c: the answer's numbers as rows key,value,unit of a CSV file; in US units without
   the SI unit that ends a key. */
enum uf_status uf_recommend_summary(const struct uf_recommend *r, enum uf_units units,
                                    const char *path, struct uf_error *err);

/* The part that is the table of facts. */
void uf_recommend_summary_facts(FILE *out, enum uf_units units, const struct uf_fact *facts,
                                const struct uf_summary *summary);

/* recommend_report*.c: the report, one HTML file. result holds what the pictures need. */
enum uf_status uf_recommend_report(const struct uf_recommend *r, const struct uf_arguments *args,
                                   const struct uf_result *result, const char *path,
                                   struct uf_error *err);

/* recommend_tell.c: for scripts and for people. */
enum uf_status uf_recommend_tell(const struct uf_recommend *r, const struct uf_arguments *args,
                                 const char *folder, struct uf_error *err);

/* recommend_words.c */

/* Adds to a text that is being put together. */
void uf_recommend_add(char *text, size_t size, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* "cover 1.50 m, 100 mm XPS_IV board extending 1.20 m beyond the tank", with whatever else the site
   lets vary; returns text. The second: of a row of the options. */
const char *uf_recommend_describe(char *text, size_t size, const struct uf_recommend *r,
                                  const struct uf_choice *row, const struct uf_case *design,
                                  enum uf_units units);
const char *uf_recommend_row(char *text, size_t size, const struct uf_recommend *r, long row,
                             enum uf_units units);
/* The least that mends a row which fails; "" where nothing known does. Returns text. */
const char *uf_recommend_mend(char *text, size_t size, const struct uf_recommend *r, size_t row,
                              enum uf_units units);
/* Why a row is not the recommended one, and the least that mends it; "" where nothing speaks against
   it but its cost. Returns text. */
const char *uf_recommend_against(char *text, size_t size, const struct uf_recommend *r, size_t row,
                                 enum uf_units units);
/* recommend_neighbours.c: why not the cheaper one next to it, for each. No pick: nothing. */
void uf_recommend_neighbours_answer(cJSON *answer, const struct uf_recommend *r);
void uf_recommend_neighbours_show(const struct uf_recommend *r, const struct uf_arguments *args);

/* How three dimensions come into the row shown and its cases: a sentence, "" where they do not;
   returns text. */
const char *uf_recommend_ends(char *text, size_t size, const struct uf_recommend *r,
                              enum uf_units units);
/* A limit's margin with its unit, for a sentence; returns text. */
const char *uf_recommend_margin(char *text, size_t size, size_t limit, double margin,
                                enum uf_units units);

/* What a variant changes, a clause that completes "if ..."; returns text. */
const char *uf_recommend_variant_words(char *text, size_t size, const struct uf_recommend *r,
                                       const struct uf_variant *variant);

/* What stands in an option's column of a fact: its number without unit or its word, marked ~ where
   uf_recommend_is_plane; "-" for none. Returns text. */
const char *uf_recommend_cell(char *text, size_t size, const struct uf_recommend *r,
                              const struct uf_choice_fact *fact, size_t row, enum uf_units units);

/* Are a row's numbers those of a plane section that stands for three dimensions? Marked ~, and what
   the mark means. */
bool uf_recommend_is_plane(const struct uf_recommend *r, size_t row);
extern const char uf_recommend_plane_note[];

/* The limit that governs a row in words, such as "frost at a pipe", or why it cannot be built; "" for
   none. Either text or borrowed. */
const char *uf_recommend_governs_words(char *text, size_t size, const struct uf_choice *row,
                                       enum uf_units units);

/* Key of the limit that governs a row, or what else rules it out. */
const char *uf_recommend_governs(const struct uf_choice *row);

#endif
