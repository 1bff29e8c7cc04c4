#ifndef UF_FOAM_H
#define UF_FOAM_H

#include "case.h"

/* The board table: polystyrene foam by ASTM C578 type, with the conductivity to design
   with below grade (wet and aged), not the catalogue value. */
struct uf_foam {
    const char *name;     /* the word in the site file, such as "XPS_IV" */
    const char *kind;     /* "XPS" or "EPS" */
    const char *source;   /* of strength, density and in-service conductivity; never empty */
    double k_W_mK;        /* in service below grade */
    double strength_Pa;   /* compressive resistance at yield or 10 % */
    double density_kg_m3; /* least density */
};

/* Ended by a row whose name is NULL. */
extern const struct uf_foam uf_foam_table[];

/* The row of that name, or NULL. */
const struct uf_foam *uf_foam_find(const char *name);

/* Gives a board the properties of a row. */
void uf_foam_put(struct uf_board *board, const struct uf_foam *row);

#endif
