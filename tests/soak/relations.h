#ifndef SOAK_RELATIONS_H
#define SOAK_RELATIONS_H

#include "site_random.h"
#include "solver/run/run.h"

/* What came of one site. */
struct outcome {
    enum uf_status status;
    struct uf_error err;
    struct uf_summary summary;
    double factor; /* of safety against flotation; NAN without a tank */
    bool frozen;   /* down to the section's bottom: told to be outside the program */
};

/* A change of a site, and what it must not do. Returns by how much the two outcomes break it, in the
   unit of `allowed`; negative or zero: they do not. NAN: says nothing here. */
struct relation {
    const char *name, *unit;
    double allowed;
    bool refined; /* what rows of 0.3 m break counts where rows of a quarter break it too */
    int every;    /* tried for each so many'th site: some are dear */
    enum uf_integrator integrator;
    bool (*change)(struct site_random *site);
    double (*broken)(const struct outcome *before, const struct outcome *after);
};

/* Rows in turn that change the site alike and ask for the same integrator share one run. */
enum { RELATIONS = 12 };
extern const struct relation relations[RELATIONS];

#endif
