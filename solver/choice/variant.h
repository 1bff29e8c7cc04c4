#ifndef UF_VARIANT_H
#define UF_VARIANT_H

#include "solver/design/case.h"

/* What drives a case: the design winter; a rarer one; the design winter's air through the case's own
   surface. */
enum uf_variant_weather { UF_VARIANT_DESIGN, UF_VARIANT_RARER, UF_VARIANT_SURFACE };

/* Sensitivity: the recommended option again with one thing changed. Each variant is a row. */
struct uf_variant {
    const char *name;    /* short, for a table */
    const char *doc;     /* a clause that completes "if ..." */
    const char *measure; /* what to find out on site, so that the case need not be feared */
    enum uf_variant_weather weather;
    bool harsh; /* breaks most of the options that any case breaks: tried first */
    /* Changes the design; false when it makes no difference to this one. */
    bool (*apply)(struct uf_case *design);
};

#define UF_VARIANTS 16
extern const struct uf_variant uf_variants[UF_VARIANTS];

/* Water in all soils times factor, not beyond saturation; soils given by thermal
   properties get their latent heat scaled, conductivity as it is. false: nothing changed,
   all are dry or full. */
bool uf_variant_moisture(struct uf_case *design, double factor);

/* The next rarer of 50 and 100 years after `years`; twice the years beyond. */
double uf_variant_rarer_years(double years);

#endif
