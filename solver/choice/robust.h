#ifndef UF_ROBUST_H
#define UF_ROBUST_H

#include "choice.h"
#include "price.h"
#include "variant.h"

/* The robust option: meets every limit with the model's own error to spare in the design case, and
   every limit in every sensitivity case that the site does not switch off. Options are tried from
   the best on; cases that broke an earlier option come first, and the first that fails ends a trial. The caller runs what is asked for:

       while ((status = uf_robust_next(&jobs, &n, robust, &err)) == UF_OK && n > 0) { run jobs }

   The best robust option is then run on half the grid's spacing too, and what that changes is
   asked of it besides the allowance.

   Where no option is robust, measures are tried on the one that comes nearest, one after the other
   and together, until one makes it so. */

struct uf_robust_input {
    const struct uf_case *design;             /* the site's */
    const struct uf_forcing *forcing;         /* of the design winter */
    const struct uf_forcing *rarer;           /* of the next rarer one; NULL: there is none */
    const struct uf_forcing_weather *weather; /* of the design winter, for cases with a surface of
                                                 their own; NULL: there are none */
    struct uf_run_options options;
    bool nominal; /* no allowance, no cases: what meets every limit in the design case will do */
    bool whole;   /* as the choices' */
    size_t keep_every; /* what uf_job keeps, of an option's own run in three dimensions until the
                          option is judged not robust; 0: none */
    bool keep_whole;
    size_t at_once; /* runs that the caller can make at the same time: batches are filled up to it;
                       0: each batch is what is wanted and no more */
};

/* One case of one option. */
struct uf_robust_case {
    const struct uf_variant *row;
    struct uf_verdict verdict;
    double water_degC; /* coldest water or wetted wall */
    bool carried;      /* its plane run and what the ends change in the design case: ends.h */
};

/* A measure that makes an option robust. */
struct uf_robust_measure {
    const char *name;        /* "a thicker board"; NULL: none was found */
    struct uf_choice choice; /* the option with it, priced */
    struct uf_case design;
    long from; /* row it starts from; -1: nothing was tried */
};

struct uf_robust;

/* choices: judged; their bank takes the runs. Borrowed both. Errors: UF_E_MEMORY. */
enum uf_status uf_robust_create(struct uf_robust **out, struct uf_choices_result *choices,
                                const struct uf_robust_input *input, struct uf_error *err);
void uf_robust_free(struct uf_robust *robust); /* NULL is fine */

/* The next runs to make; n 0: all is known, and choices hold pick, next_best and each row's trial.
   Errors: those of the runs that were asked for, of statics and memory. */
enum uf_status uf_robust_next(struct uf_job **jobs, size_t *n, struct uf_robust *robust,
                              struct uf_error *err);

/* Asks for every case of a row, whatever came of others, and its own run in three dimensions: to
   show them. Once that has been run uf_robust_take makes the row's numbers those of it. */
enum uf_status uf_robust_look(struct uf_robust *robust, size_t row, struct uf_error *err);
void uf_robust_take(struct uf_robust *robust, size_t row);

/* The cases of a row that were looked at; out [UF_VARIANTS]; returns how many. */
size_t uf_robust_cases(struct uf_robust_case *out, const struct uf_robust *robust, size_t row);

/* The limit whose margin decides: the least for its scale over the design and its n cases, of those
   that some case changes; where no case changes any, of all. A capped limit decides only where it is
   missed. uf_limit_count: none applies. */
size_t uf_robust_decisive(const struct uf_verdict *design, const struct uf_robust_case *cases,
                          size_t n);

/* robust_against.c: what speaks against a row. */
struct uf_robust_against {
    const struct uf_variant *variant; /* the case that fails; NULL: the design case */
    size_t limit;                     /* index into uf_limits */
    double margin;                    /* below wanted */
    double wanted;                    /* the model's own error; 0: the limit itself is missed */
    enum uf_quantity quantity; /* of both: the limit's, or a length where a pipe's frost is meant */
};
/* false: nothing does but its price, or the row cannot be built at all. */
bool uf_robust_against(struct uf_robust_against *out, const struct uf_robust *robust, size_t row);

/* Rows one step away from a row in one value, and better by their price (uf_choice_better): the next
   lower and the next higher number, the next weaker and the next stronger board, other anchors. */
struct uf_robust_neighbour {
    size_t row, knob; /* option.h */
    bool less;        /* the neighbour's value is the lower one */
};
#define UF_ROBUST_NEIGHBOURS 40
/* out [UF_ROBUST_NEIGHBOURS]; returns how many. */
size_t uf_robust_against_neighbours(struct uf_robust_neighbour *out,
                                    const struct uf_choices_result *choices, size_t row);

const struct uf_robust_measure *uf_robust_measure(const struct uf_robust *robust);

/* What half the grid's spacing changes, half less own: what the recommended option must have to
   spare besides the allowance. */
struct uf_robust_grid {
    double judged_K; /* largest change of a temperature that a limit judges */
    double water_K;  /* of the coldest water or wetted wall */
    double frost_m;  /* of the undisturbed frost depth */
};
/* Of a row; false: it was not run. */
bool uf_robust_grid(struct uf_robust_grid *out, const struct uf_robust *robust, size_t row);

/* Is every limit met with the allowance to spare? Limits of a temperature ask for
   sensitivity.temperature more; a pipe beside the board, whose frost is undisturbed, for
   sensitivity.depth between the frost and its upper side. */
bool uf_robust_spare(const struct uf_case *design, const struct uf_summary *summary,
                     const struct uf_verdict *verdict);
/* The same of a row that meets every limit; *why: what is least spared. */
bool uf_robust_against_spare(struct uf_robust_against *why, const struct uf_case *design,
                             const struct uf_summary *summary, const struct uf_verdict *verdict);

#endif
