#ifndef UF_COMPARE_H
#define UF_COMPARE_H

#include "cli/options.h"
#include "cli/tell/answer.h"
#include "io/result/result.h"
#include "io/site/site_leaves.h"

/* Two result files side by side: `compare A.h5 B.h5`. Of a file that holds two runs (with
   board and without) or many (a recommendation), the one at its root: the design with its
   board, the pick. */

/* The numbers of design and statics that are set side by side, in the order shown; those of the run
   are its facts. */
enum uf_compare_number {
    UF_COMPARE_COVER,
    UF_COMPARE_THICKNESS,
    UF_COMPARE_REACH,
    UF_COMPARE_INDEX,
    UF_COMPARE_UPLIFT,
    UF_COMPARE_WINTERS,
    UF_COMPARE_BROKEN,
    UF_COMPARE_NUMBERS
};
struct uf_compare_row {
    const char *label, *key; /* for people; in JSON, its unit last */
    enum uf_quantity kind;
};
extern const struct uf_compare_row uf_compare_rows[UF_COMPARE_NUMBERS];

struct uf_compare_side {
    const char *path;
    struct uf_result *result;
    struct uf_site_leaves leaves;
    bool has_leaves;                  /* the site file's text is there and readable */
    bool every;                       /* a result of climate.winter every */
    double value[UF_COMPARE_NUMBERS]; /* SI; NAN: not known */
};

struct uf_compare_difference {
    const char *key, *value[2]; /* borrowed; NULL: not given */
};

#define UF_COMPARE_NOTES 12
struct uf_compare {
    const struct uf_fact *facts; /* those that are told: uf_facts */
    struct uf_compare_side side[2];
    struct uf_compare_difference *differences;
    size_t n_differences;
    bool same_weather;
    char notes[UF_COMPARE_NOTES][400];
    size_t n_notes;
};

/* Reads both. Errors: UF_E_FILE, UF_E_MEMORY; UF_E_INPUT for one that holds every winter
   beside one that holds a single winter. Free with uf_compare_free in any case. */
enum uf_status uf_compare_read(struct uf_compare *out, const char *const paths[2],
                               struct uf_error *err);
void uf_compare_free(struct uf_compare *compare);

/* compare_tell.c: for people or, with --json, for scripts. */
enum uf_status uf_compare_tell(const struct uf_compare *compare, const struct uf_arguments *args,
                               struct uf_error *err);

/* compare_facts.c: the facts of two runs, a row each: what it is, a, b, b less a. Of lists those of
   one name stand in one row. verbose: what the answers rest on, too. */
struct uf_show_table;
void uf_compare_show_facts(struct uf_show_table *table, const struct uf_fact *facts,
                           const struct uf_summary *a, const struct uf_summary *b,
                           enum uf_units units, bool verbose);

/* The same as members of answer: "water_min_degC": {first, second, difference, first_date ...}, lists
   as arrays of such objects with a name. */
void uf_compare_answer_facts(cJSON *answer, const struct uf_fact *facts, const struct uf_summary *a,
                             const struct uf_summary *b);

/* first, second and second less first into object. */
void uf_compare_answer_numbers(cJSON *object, double a, double b);

#endif
