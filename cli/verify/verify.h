#ifndef UF_VERIFY_H
#define UF_VERIFY_H

#include "solver/design/case.h"
#include "solver/time/season.h"

#include <stdbool.h>
#include <stddef.h>

/* The program held against what others have published and against exact solutions. A
   topic is one function that runs what it needs and adds its checks; verify_<topic>.c
   holds it, verify_list.h names it. A check states what it allows and why; the allowance
   follows from the grid or from the source's digits, never from what came out. */

/* One comparison: holds when |got - expected| <= allowed. */
struct uf_verify_check {
    char name[56];      /* "neumann.N1.front", its topic first */
    const char *source; /* of the expected value, with how far it is trusted; never empty */
    const char *why;    /* why so much is allowed */
    const char *unit;   /* "m", "degC", "1" */
    double got, expected, allowed;
    bool ok; /* filled by uf_verify_add */
};

/* Checks done so far, and how to run. */
struct uf_verify {
    struct uf_verify_check *rows;
    size_t n, room;
    bool no_memory;
    const char *only; /* NULL, or the beginning of the names wanted: others are dropped */
    enum uf_integrator integrators[2]; /* transient checks are run with each of these */
    size_t n_integrators;
    bool quick; /* leave slow topics out */
};

struct uf_verify_topic {
    const char *name;
    const char *doc; /* one line for a person */
    /* Errors: those of the solver; a check that fails is no error. */
    enum uf_status (*run)(struct uf_verify *verify, struct uf_error *err); /* NULL: nothing */
    /* Then with each integrator wanted, for each k below n. */
    enum uf_status (*each)(struct uf_verify *verify, size_t k, enum uf_integrator integrator,
                           struct uf_error *err);
    size_t n;
    bool slow; /* over a second: left out where a build runs ten times slower */
};

/* Ended by NULL. */
extern const struct uf_verify_topic *const uf_verify_topics[];

/* Adds a check: sets name from the printf format, ok from the numbers (a NAN fails). */
void uf_verify_add(struct uf_verify *verify, const struct uf_verify_check *check,
                   const char *format, ...) __attribute__((format(printf, 3, 4)));

/* Is it worth running this topic for what is wanted? */
bool uf_verify_wants(const struct uf_verify *verify, const struct uf_verify_topic *topic);

/* Runs every topic wanted. The caller frees verify->rows, also after an error. */
enum uf_status uf_verify_run(struct uf_verify *verify, struct uf_error *err);

/* Soil that does not freeze, of one conductivity and heat capacity; a case of nothing but ground, one
   soil down to to_m in a domain as wide as it is deep, finest cells of finest_m (NAN: the case's own grid). */
struct uf_thermal uf_verify_plain_soil(double k_W_mK, double c_J_m3K);
struct uf_thermal uf_verify_silt(void); /* the reference problem's, freezing over half a degree */
struct uf_case uf_verify_plain(struct uf_thermal soil, double to_m, double finest_m);

/* The reference problem: half a section with a tank of still water, bare or with board. */
struct uf_case uf_verify_reference_case(bool board);

/* uf_season_defaults for a check: an interrupt ends its runs. */
struct uf_season_options uf_verify_season(void);

/* ".reference" for the checks of the second integrator, "" for the first: what a name ends
   in. */
const char *uf_verify_suffix(enum uf_integrator integrator);

#endif
