#ifndef UF_COMPARE_H
#define UF_COMPARE_H

#include "cli/options.h"
#include "io/result/result.h"
#include "io/site/site_leaves.h"

/* Two result files side by side: `compare A.h5 B.h5`. Of a file that holds two runs (with
   board and without) or many (a recommendation), the one at its root: the design with its
   board, the pick. */

/* The numbers that are set side by side, in the order shown. */
enum uf_compare_number {
    UF_COMPARE_COVER,
    UF_COMPARE_THICKNESS,
    UF_COMPARE_REACH,
    UF_COMPARE_INDEX,
    UF_COMPARE_FAR,
    UF_COMPARE_ABOVE,
    UF_COMPARE_WATER,
    UF_COMPARE_WALL,
    UF_COMPARE_CROWN,
    UF_COMPARE_INVERT,
    UF_COMPARE_ICE,
    UF_COMPARE_UPLIFT,
    UF_COMPARE_BALANCE,
    UF_COMPARE_WINTERS,
    UF_COMPARE_BROKEN,
    UF_COMPARE_NUMBERS
};
struct uf_compare_row {
    const char *label, *key; /* for people; in JSON, its unit last */
    enum uf_quantity kind;
    bool dated, exact; /* has a day; shown as 1.2e-16 */
};
extern const struct uf_compare_row uf_compare_rows[UF_COMPARE_NUMBERS];

struct uf_compare_side {
    const char *path;
    struct uf_result *result; /* its summary's probes and pipes filled in */
    struct uf_site_leaves leaves;
    bool has_leaves;                  /* the site file's text is there and readable */
    bool every;                       /* a result of climate.winter every */
    double value[UF_COMPARE_NUMBERS]; /* SI; NAN: not known */
    long day[UF_COMPARE_NUMBERS];
    long thaw_out_day;
};

struct uf_compare_difference {
    const char *key, *value[2]; /* borrowed; NULL: not given */
};

#define UF_COMPARE_NOTES 12
struct uf_compare {
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

/* The probe (or pipe) of that name, or NULL. */
const struct uf_probe_summary *uf_compare_find(const struct uf_probe_summary *list, size_t n,
                                               const char *name);

/* compare_tell.c: for people or, with --json, for scripts. */
enum uf_status uf_compare_tell(const struct uf_compare *compare, const struct uf_arguments *args,
                               struct uf_error *err);

#endif
