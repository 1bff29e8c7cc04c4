#ifndef UF_BACKFILL_H
#define UF_BACKFILL_H

#include "solver/design/dig.h"
#include "wet_pit.h"

/* The fill of a pit lift by lift from its floor up, and what water in the open pit does to the
   empty tank after each. Lifts end at the bedding's top, the tank's widest level, its crown, the
   top of the fill that is brought in and both faces of the board; a zone between two such levels
   is filled in equal lifts no thicker than asked. Common practice, no source. */

struct uf_backfill_input {
    double lift_m;  /* greatest thickness of one lift, compacted; NAN: not given, a zone is one */
    double water_m; /* water that may stand in the pit, below grade; NAN: up to grade */
};

/* Nothing given. */
void uf_backfill_init(struct uf_backfill_input *input);

enum uf_backfill_kind {
    UF_BACKFILL_LIFT,
    UF_BACKFILL_SET,
    UF_BACKFILL_STRAPPED,
    UF_BACKFILL_BOARD
};

/* One step: a lift, the tank set on its bedding, its straps tightened, the board laid. */
struct uf_backfill_row {
    enum uf_backfill_kind kind;
    double top_m, bottom_m;        /* depths; equal where nothing is placed */
    enum uf_dig_soil soil;         /* of a lift: bedding soil, brought-in fill, dug ground */
    bool beside;                   /* a lift between invert and crown, the one E' is for */
    bool has_tank;                 /* the tank lies there: what follows is filled */
    bool held;                     /* its anchors hold it */
    struct uf_wet_pit_stage stage; /* with the water of the input in the pit */
    double outside_m;              /* that water above the invert, >= 0 */
};
#define UF_BACKFILL_ROWS 120

struct uf_backfill {
    double water_m; /* as taken */
    struct uf_backfill_row rows[UF_BACKFILL_ROWS];
    size_t n;
};

/* Errors: UF_E_INPUT for lifts so thin that there are more than UF_BACKFILL_ROWS steps; as
   uf_holddown_at. */
enum uf_status uf_backfill(struct uf_backfill *out, const struct uf_case *design,
                           const struct uf_column_soils *soils,
                           const struct uf_backfill_input *input, struct uf_error *err);

#endif
