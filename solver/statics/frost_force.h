#ifndef UF_FROST_FORCE_H
#define UF_FROST_FORCE_H

#include "holddown.h"
#include "solver/design/case.h"

/* Frost on fittings: how hard frozen ground can pull on a riser, which soils do it, and
   how deep a pipe must run. Average bond strengths for design; single values can be
   several times as high. */

struct uf_frost_force_bond {
    const char *name; /* the word in the site file */
    const char *doc, *source;
    double bond_Pa;
};
extern const struct uf_frost_force_bond uf_frost_force_bonds[]; /* ended by name NULL */

/* F = tau pi d z: bond on the frozen length of a round riser or pipe, N. */
double uf_frost_force_jacking_N(double bond_Pa, double diameter_m, double frozen_m);

/* May ice lenses form in soil of this USACE frost group (UFC 3-260-02, table 19-2), such as
   "F3" or "PFS or S2"? false only for "NFS". */
bool uf_frost_force_susceptible(const char *group);

struct uf_frost_force_item {
    double diameter_m, frozen_m, jacking_N;
};

struct uf_frost_force_pipe {
    double crown_m;       /* depth of the pipe's top */
    double margin_m;      /* crown below the frost; negative: inside it */
    double least_depth_m; /* of the pipe's centre, crown at the frost */
    double usual_depth_m; /* crown 12 in. below the frost (common practice, no source) */
    bool ok;
};

struct uf_frost_force {
    double frost_m, bond_Pa;
    struct uf_frost_force_item risers[UF_MAX_RISERS];
    struct uf_frost_force_pipe pipes[UF_MAX_PIPES];
    struct uf_holddown balance; /* at that water's depth */
    double jacking_N;           /* all risers together */
    double spare_N;             /* hold-down less uplift with the water at its winter depth */
    double share;               /* jacking over spare; INFINITY where nothing is spare */
};

/* frost_m: frost depth in undisturbed ground at the riser and over the pipes. Pipes under
   the board are judged against it as well, which is safe. Errors as uf_holddown_at;
   UF_E_RANGE for frost_m. */
enum uf_status uf_frost_force(struct uf_frost_force *out, const struct uf_case *design,
                              const struct uf_column_soils *soils, double frost_m, double bond_Pa,
                              struct uf_error *err);

#endif
