#ifndef UF_CHOICE_H
#define UF_CHOICE_H

#include "limit.h"
#include "solver/run/pool.h"
#include "solver/works/pit.h"

/* The search: every choice of cover, thickness and reach, each judged on every limit; the
   cheapest that meets all is the pick. The runs themselves go through a pool that the
   caller owns. */
struct uf_choice {
    double cover_m, thickness_m, beyond_m;
    bool ran;              /* through the winter; false: see uf_choice_create */
    bool buildable;        /* false: such a place cannot be (board out of the ground, deadmen
                       over the tank's widest level ...); not run, no uplift factor */
    struct uf_fault fault; /* what stands in the way, where not buildable */
    struct uf_uplift uplift;
    struct uf_load load;
    struct uf_pit pit;
    struct uf_pit_cost cost;
    struct uf_verdict verdict;
    bool ok; /* every limit met */
};

struct uf_choices_result {
    struct uf_choice *rows;
    struct uf_job *jobs; /* [n] one a row; skipped where not buildable */
    size_t n;
    bool priced;    /* chosen by cost: every row that meets all has a full price */
    long pick;      /* -1: nothing meets every limit */
    long next_best; /* cheapest other that meets all; -1 */
    long nearest;   /* with no pick: the row that misses by least; -1 */
};

/* The design with another cover, thickness and reach; probes given from the crown or
   invert move along. */
struct uf_case uf_choice_design(const struct uf_case *design, double cover_m, double thickness_m,
                                double beyond_m);

/* Lists the choices, equal ones once; a thickness of 0 ignores the reach.
   Weighs each against uplift, wheel and cover, which no winter changes; one that fails
   there is not run, since nothing the frost does can save it, unless `every` asks for all
   or all of them fail. One whose geometry uf_case_check refuses is never run. Fills the
   jobs.
   Errors: UF_E_MEMORY; UF_E_INPUT for a thickness with no board to take the properties
   from; those of uplift, load and pit. */
enum uf_status uf_choice_create(struct uf_choices_result **out, const struct uf_case *design,
                                const struct uf_forcing *forcing,
                                const struct uf_run_options *options, bool every,
                                struct uf_error *err);
void uf_choice_free(
    struct uf_choices_result *choices); /* NULL is fine; frees records of jobs too */

/* The verdicts once the jobs are done; then the pick: cheapest where every ok row has a
   full price, else least digging, then least board. Errors: the first job that failed. */
enum uf_status uf_choice_judge(struct uf_choices_result *choices, struct uf_error *err);

/* Is a the better of two rows that both meet every limit? By cost where priced, then by
   digging, then by board. */
bool uf_choice_better(const struct uf_choice *a, const struct uf_choice *b, bool priced);

/* Uplift, load and pit of one design, as the rows use them. buildable false leaves load empty. */
enum uf_status uf_choice_static(struct uf_choice *row, const struct uf_case *design,
                                struct uf_error *err);

#endif
