#ifndef UF_CHOICE_H
#define UF_CHOICE_H

#include "bank.h"
#include "limit.h"
#include "solver/works/cost.h"

/* The search: every option of cover, thickness, extension and whatever else `choices` lists, each
   judged on every limit. Statics come first; heat runs are shared (bank.h) and go through a pool
   that the caller owns. */

enum uf_choice_trial { UF_CHOICE_UNTRIED, UF_CHOICE_ROBUST, UF_CHOICE_FRAGILE };

struct uf_choice {
    double cover_m, thickness_m, beyond_m, skirt_m, lid_m2K_W, sleeve_m, fill_over_m;
    const struct uf_foam *type; /* the board's row as settled; NULL: properties given */
    size_t type_at, anchors_at; /* index into choices.type, choices.anchors; 0 where not listed */
    bool ran;                   /* through the winter; false: see uf_choice_create */
    bool buildable;             /* false: such a place cannot be (board out of the ground, deadmen
                       over the tank's widest level ...); not run, no uplift factor */
    struct uf_fault fault;      /* what stands in the way, where not buildable */
    struct uf_uplift uplift;
    struct uf_load load;
    struct uf_pit pit;
    struct uf_cost cost;
    struct uf_verdict verdict;
    bool ok;       /* every limit met in the design case */
    size_t run;    /* index into bank.jobs of the run its numbers are of, where ran */
    size_t screen; /* of the one it was screened by: ends.h */
    bool solid;    /* its numbers are of three dimensions, where the design asks for them */
    enum uf_choice_trial trial; /* robust.h */
};

struct uf_choices_result {
    struct uf_choice *rows;
    struct uf_case *designs; /* [n] settled: settle.h */
    size_t n;
    struct uf_bank bank;
    bool priced;    /* chosen by cost: every row that meets all has a full price */
    long pick;      /* the recommended option; -1: none */
    long next_best; /* best other; -1 */
    long nearest;   /* with no pick: the row that misses by least; -1 */
};
#define UF_CHOICE_MOST 20000 /* options */

/* Lists the options, equal ones once.
   Weighs each against uplift, wheel and cover, which no winter changes; one that fails
   there is not run, since nothing the frost does can save it, unless `every` asks for all
   or all of them fail. One whose geometry uf_case_check refuses is never run. Asks the bank for
   the runs.
   sure: anchors that are solved for hold in every sensitivity case too.
   Errors: UF_E_MEMORY; UF_E_INPUT for a thickness with no board to take the properties
   from, for more than UF_CHOICE_MOST options; those of uplift, load and pit. */
struct uf_choice_input {
    const struct uf_case *design;
    const struct uf_forcing *forcing;
    struct uf_run_options options;
    bool every, sure;
    bool whole; /* no screening by plane sections: every run as its design says */
};
enum uf_status uf_choice_create(struct uf_choices_result **out, const struct uf_choice_input *input,
                                struct uf_error *err);
void uf_choice_free(struct uf_choices_result *choices); /* NULL is fine */

/* What came of the heat run of a row; NULL where it was not run. */
const struct uf_summary *uf_choice_summary(const struct uf_choices_result *choices, size_t row);

/* The verdicts once the runs are done; then the pick: cheapest where every ok row has a
   full price, else least digging, then least board. Errors: the first run that failed. */
enum uf_status uf_choice_judge(struct uf_choices_result *choices, struct uf_error *err);

/* The best row but `but` that is ok and, where `robust` says so, robust; -1. */
long uf_choice_best(const struct uf_choices_result *choices, long but, bool robust);

/* Is a the better of two rows that both meet every limit? By cost where priced, then by
   digging, board, concrete, then by its values: no two different rows are equal. */
bool uf_choice_better(const struct uf_choice *a, const struct uf_choice *b, bool priced);

/* Every limit of a row whose statics are known; summary NULL: those that need a winter do not
   apply. Not ok where it cannot be built. */
struct uf_verdict uf_choice_verdict(const struct uf_choice *row, const struct uf_case *design,
                                    const struct uf_summary *summary);

/* Uplift, load and pit of one design, as the rows use them. buildable false leaves load
 * empty. */
enum uf_status uf_choice_static(struct uf_choice *row, const struct uf_case *design,
                                struct uf_error *err);

/* The same for a verdict alone: by uf_uplift_held. */
enum uf_status uf_choice_weigh(struct uf_choice *row, const struct uf_case *design,
                               struct uf_error *err);

#endif
