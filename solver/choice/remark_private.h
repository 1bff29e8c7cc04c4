#ifndef UF_REMARK_PRIVATE_H
#define UF_REMARK_PRIVATE_H

#include "remark.h"

/* What the files of the remarks share. */

/* What a row asks of a run: does it hold, and which number does it tell? */
struct uf_remark_run {
    const struct uf_case *design;
    const struct uf_summary *s;
};

struct uf_remark_row {
    bool (*holds)(struct uf_remark_run run);
    const char *text; /* {} stands for the number */
    double (*number)(struct uf_remark_run run);
    enum uf_quantity kind;
};

/* remark_depth.c: rows about the frost depth beside published ones, and about snow. */
#define UF_REMARK_DEPTH_ROWS 5
extern const struct uf_remark_row uf_remark_depth_rows[UF_REMARK_DEPTH_ROWS];

/* remark_riser.c: rows about risers and standpipes. */
#define UF_REMARK_RISER_ROWS 3
extern const struct uf_remark_row uf_remark_riser_rows[UF_REMARK_RISER_ROWS];

/* When a row holds, and the number in its words. */
#define UF_REMARK_WHERE(name, condition)                                                           \
    static bool name(struct uf_remark_run run)                                                     \
    {                                                                                              \
        return condition;                                                                          \
    }
#define UF_REMARK_VALUE(name, expression)                                                          \
    static double name(struct uf_remark_run run)                                                   \
    {                                                                                              \
        return expression;                                                                         \
    }

#endif
