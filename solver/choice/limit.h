#ifndef UF_LIMIT_H
#define UF_LIMIT_H

#include "solver/base/quantity_kind.h"
#include "solver/run/record.h"
#include "solver/statics/load.h"
#include "solver/statics/uplift.h"

/* The design questions, one row each. A margin is how far a limit is from being broken, in its own
   unit: positive is met. */

/* What the limits look at. Parts that do not exist: load.present false or load NULL, uplift NULL. */
struct uf_limit_facts {
    const struct uf_case *design;
    const struct uf_summary *summary;
    const struct uf_uplift *uplift;
    const struct uf_load *load;
};

/* Curves of pictures that limits stand beside. */
#define UF_LIMIT_ON_WATER     "water temperature"
#define UF_LIMIT_ON_ICE       "ice"
#define UF_LIMIT_ON_FLOTATION "flotation"

/* What the start file says of a limit. value NULL: the default of its key; us NULL: the same in US
   customary units. off: behind a '#'. */
struct uf_limit_start {
    const char *value, *us;
    bool off;
};

/* One limit, with all that any output says of it: nothing else knows a limit by its name. */
struct uf_limit {
    const char *key;           /* the site file's key that sets it */
    const char *label, *brief; /* what is judged: in a sentence; in a heading or a legend */
    const char *curve;         /* beside which pictures draw it: a UF_LIMIT_ON_ word; NULL: none */
    const char *source;        /* where the limit comes from */
    enum uf_quantity quantity; /* of asked and got; a margin is its uf_quantity_kind_difference */
    double scale;  /* a margin of this size is comfortable; to compare limits of other units */
    double per_K;  /* what the tank's water, a kelvin warmer, can give it; 0: nothing */
    bool at_least; /* got must not be less than asked; else not more */
    bool winter;   /* a winter changes what is got */
    bool cold;     /* more cover or board mends it */
    bool capped;   /* its margin cannot be better than just met: governs only when missed */
    const struct uf_limit_start *start; /* NULL: not in the start file */
    const char *unchecked;              /* what is told where nothing was asked; NULL: nothing */
    const char *instead;                /* a key that, given alone, takes this limit's place ... */
    void (*give_way)(struct uf_limits *asked);           /* ... by this */
    double (*asked)(const struct uf_limit_facts *facts); /* NAN: does not apply */
    double (*got)(const struct uf_limit_facts *facts);   /* NAN: does not apply */
    /* How far the place that is judged lies below frost in ground without tank and board, m, where
       a temperature's margin says too little; NULL: is not asked, NAN: does not apply. */
    double (*above_frost_m)(const struct uf_limit_facts *facts);
};

#define UF_LIMIT_MOST 24 /* room for verdicts; more rows do not compile */
extern const struct uf_limit uf_limits[];
extern const size_t uf_limit_count; /* rows of uf_limits */

struct uf_verdict {
    double margin[UF_LIMIT_MOST]; /* got less asked, or asked less got; NAN: does not apply */
    double asked[UF_LIMIT_MOST], got[UF_LIMIT_MOST];
    bool ok;        /* no margin below zero */
    size_t governs; /* the limit with the least margin for its scale; uf_limit_count: none */
};

/* Every margin from the facts, whether all hold and which is tightest; a limit that does
   not apply is NAN and breaks nothing. */
struct uf_verdict uf_limit_verdict(const struct uf_limit_facts *facts);

/* Whether all hold and which is tightest, anew from changed margins. */
void uf_limit_weigh(struct uf_verdict *verdict);

/* Is the cover within the limits that a drawing alone decides? */
bool uf_limit_allows_cover(const struct uf_case *design, double cover_m);

/* What is told of a limit of which the design asks nothing; NULL: nothing. */
const char *uf_limit_unchecked(const struct uf_limit *limit, const struct uf_case *design);

/* Is it a temperature that a winter changes? */
bool uf_limit_of_temperature(const struct uf_limit *limit);

/* SI unit of a limit's margin, as JSON and CSV tell it. */
const char *uf_limit_unit(const struct uf_limit *limit);

/* The limit of that key; NULL where there is none. */
const struct uf_limit *uf_limit_find(const char *key);

/* Coldest of mixed water and wetted wall over the run, degC; NAN without water. */
double uf_limit_water_degC(const struct uf_summary *summary);

#endif
