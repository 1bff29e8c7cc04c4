#ifndef UF_HOLDDOWN_H
#define UF_HOLDDOWN_H

#include "column.h"
#include "solver/design/case.h"

/* The forces of groundwater uplift with the water table at one depth: the tank, EMPTY
   whatever its level says, against everything that holds it down: tank, soil in the
   tank's footprint down to its widest level (the shoulder below the crown counted apart),
   board, deadmen, pad, and the soil over those outside the tank's footprint. Soil is counted as
   vertical prisms; its friction and frozen ground never count. Board and skirt replace soil
   wherever they lie over the tank or over an anchor, and float there: the water they displace
   is uplift like the tank's and the risers', their own weight holds down. */

struct uf_holddown_part {
    const char *part;           /* such as "soil above" */
    bool structure;             /* not soil: counted with its own displacement in the EM form */
    double submerged_N;         /* what it holds down with: its weight, less the water it
                                   displaces below the table unless that is told as uplift */
    double total_N;             /* total weight: moist above the table, saturated below */
    double lifts_N;             /* its share of the uplift: tank with risers, and foam */
    double volume_m3, below_m3; /* its volume; the share below the table (0 for what lifts,
                                   whose displacement is the uplift) */
};
#define UF_HOLDDOWN_PARTS 10

struct uf_holddown {
    double water_m;      /* below grade; negative: flood above grade */
    double displaced_m3; /* tank, risers and foam below the table */
    double uplift_N;
    struct uf_holddown_part parts[UF_HOLDDOWN_PARTS];
    size_t n_parts;
    double submerged_N, total_N; /* sums over the parts */
    double anchors_N;            /* submerged_N of anchors, soil and foam over them alone */
    double total_below_m3;       /* water displaced by what lifts and by all parts */
    double factor_submerged;     /* submerged_N / uplift_N; NAN where nothing lifts */
    double factor_total;         /* total_N / (gamma_w total_below_m3) */
    double factor_em;            /* EM 1110-2-2100: structure whole, soil submerged, over the
                         water displaced by the structure */
};

/* Fills out for a water table water_m below grade.
   Errors: UF_E_INPUT naming the key where a soil's unit weight, the board's density or a
   size of the tank or its anchors is missing. */
enum uf_status uf_holddown_at(struct uf_holddown *out, const struct uf_case *design,
                              const struct uf_column_soils *soils, double water_m,
                              struct uf_error *err);

/* The same with the pit filled no higher than fill_m below grade: what lies above, the
   board too when its top does, is not there yet. */
enum uf_status uf_holddown_filled(struct uf_holddown *out, const struct uf_case *design,
                                  const struct uf_column_soils *soils, double water_m,
                                  double fill_m, struct uf_error *err);

/* What the soils of uf_holddown_at are the sums of, layer by layer, under the names of its parts. Errors
   as there. */
enum uf_status uf_holddown_shares(struct uf_column_log *out, const struct uf_case *design,
                                  const struct uf_column_soils *soils, double water_m,
                                  struct uf_error *err);

/* The part of that name, or NULL. */
const struct uf_holddown_part *uf_holddown_find(const struct uf_holddown *balance,
                                                const char *name);

#endif
