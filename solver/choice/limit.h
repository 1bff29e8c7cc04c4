#ifndef UF_LIMIT_H
#define UF_LIMIT_H

#include "solver/run/record.h"
#include "solver/statics/load.h"
#include "solver/statics/uplift.h"

/* The design questions, each one function that gives a margin with its unit: positive is
 * met. */

/* What the limits look at. Parts that do not exist: load.present false, uplift NULL. */
struct uf_limit_facts {
    const struct uf_case *design;
    const struct uf_summary *summary;
    const struct uf_uplift *uplift;
    const struct uf_load *load;
};

struct uf_limit {
    const char *key;  /* the site file's key that sets it */
    const char *doc;  /* what it asks, for a person */
    const char *unit; /* of the margin: "K", "share", "factor", "m" */
    double scale;     /* a margin of this size is comfortable; to compare limits of different
                     units */
    bool capped;      /* its margin cannot be better than just met: governs only when missed */
    double (*margin)(const struct uf_limit_facts *facts); /* NAN: does not apply */
};

#define UF_LIMITS 9
extern const struct uf_limit uf_limits[UF_LIMITS];

struct uf_verdict {
    double margin[UF_LIMITS]; /* NAN: does not apply */
    bool ok;                  /* no margin below zero */
    size_t governs;           /* index of the limit with the least margin for its scale; UF_LIMITS:
                       none */
};

/* Every margin from the facts, whether all hold and which is tightest; a limit that does
   not apply is NAN and breaks nothing. */
struct uf_verdict uf_limit_verdict(const struct uf_limit_facts *facts);

/* Coldest of mixed water and wetted wall over the run, degC; NAN without water. */
double uf_limit_water_degC(const struct uf_summary *summary);

#endif
