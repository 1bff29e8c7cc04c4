#ifndef UF_MEMBERS_H
#define UF_MEMBERS_H

#include "solver/run/run.h"

/* Many designs through a few winters each, several threads at once. A design's winters share their
   mean year and, by one depth of fine rows for all of them, its section: it is started up once, by
   the first winter there is, wanted or not, and every other winter begins from that state: what a
   case comes to does not hang on which others are run beside it, in lanes neither. Lanes change the
   last digits, as lanes.h has it, and nothing where its network does not suit them or its groundwater
   moves. */

/* What tasks of one section have near them: the design that theirs were drawn round, under a mean year
   like theirs. It is started up once, alone, before them, and they begin from what it settled to more
   than its undisturbed ground, put over theirs: that spares most of them a year, and all a first guess;
   no less is asked of their own corrections. A task must have the same whatever else is run. */
struct uf_members_base {
    const struct uf_case *design;
    double frost_m;
    const struct uf_forcing *winter; /* its mean year alone */
    /* filled when first needed; room for uf_members_base_clear to take away */
    bool tried;
    double *beside_K; /* [n] NULL: not tried, or it failed: nothing is near */
    size_t n;
    struct uf_startup_matrices matrices;
};
void uf_members_base_clear(struct uf_members_base *base);

struct uf_members_task {
    const struct uf_case *design; /* NULL: nothing to do */
    struct uf_members_base *base; /* shared by tasks; NULL: none */
    double frost_m;               /* rows are fine down to it in all winters; 0: guessed */
    const struct uf_forcing *const *winters; /* [n_winters] one mean year; NULL: no such winter */
    bool *wanted;                            /* [n_winters] */
    /* results, [n_winters] */
    struct uf_summary *summaries;
    enum uf_status *statuses;
    struct uf_error *errs;
    bool *done; /* of those wanted: ran or failed; false after a stop */
};

struct uf_members_input {
    struct uf_members_task *tasks;
    size_t n_tasks;
    size_t n_winters, threads;
    bool
        lanes; /* UF_LANES tasks beside each other on every thread: pays where those that follow each
                   other differ in substances alone; solver/time/lanes.h */
    struct uf_run_options options;
    bool (*stop)(void); /* asked between two cases; NULL: never */
    /* Called as soon as a case is done, by one thread at a time; NULL: nobody waits for it. */
    void (*told)(void *payload, size_t task, size_t winter);
    void *payload;
};

/* Returns when all is done or, after a stop, when the cases in hand are. Errors: UF_E_MEMORY, when
   no lanes could be started; what a case fails with stands in its task. */
enum uf_status uf_members_run(struct uf_members_input *input, struct uf_error *err);

#endif
