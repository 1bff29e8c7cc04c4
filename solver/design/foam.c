#include "foam.h"

#include "solver/base/name.h"

#include <stddef.h>
#include <string.h>

#define STRENGTH "strength and density: ASTM C578-10, read in a bulletin that tabulates it; "
#define IN_SERVICE                                                                                 \
    "k: below-grade design value of the HUD/NAHB frost-protected shallow foundation "              \
    "guide "                                                                                       \
    "(basis of ASCE 32), "
#define R_XPS    "R 4.5 per inch, XPS types IV to VII (read in a text that quotes it)"
#define R_EPS_II "R 2.4 per inch, EPS type II laid flat (read in a text that quotes it)"
#define R_EPS_IX "R 3.2 per inch, EPS type IX (read in a text that quotes it)"
#define SCALED                                                                                     \
    "; no value published for this type: type II's R lowered by the ratio of the dry R "           \
    "per "                                                                                         \
    "inch (dry values from memory)"
#define AS_IX "; no value published for this type: taken as type IX, the next lighter"
#define AS_IV "; no value published for this type: taken as type IV, same dry R"

/* k in W/(m K) of an R per inch in h ft2 F/Btu. */
#define PER_INCH_W_MK(r) (0.144227889 / (r))

const struct uf_foam uf_foam_table[] = {
    {"XPS_X", "XPS", STRENGTH IN_SERVICE R_XPS AS_IV, PER_INCH_W_MK(4.5), 104e3, 21.0},
    {"XPS_IV", "XPS", STRENGTH IN_SERVICE R_XPS, PER_INCH_W_MK(4.5), 173e3, 25.0},
    {"XPS_VI", "XPS", STRENGTH IN_SERVICE R_XPS, PER_INCH_W_MK(4.5), 276e3, 29.0},
    {"XPS_VII", "XPS", STRENGTH IN_SERVICE R_XPS, PER_INCH_W_MK(4.5), 414e3, 35.0},
    {"XPS_V", "XPS", STRENGTH IN_SERVICE R_XPS, PER_INCH_W_MK(4.5), 690e3, 48.0},
    {"EPS_XI", "EPS", STRENGTH IN_SERVICE R_EPS_II SCALED, PER_INCH_W_MK(2.4 * 3.1 / 4.0), 35e3,
     12.0},
    {"EPS_I", "EPS", STRENGTH IN_SERVICE R_EPS_II SCALED, PER_INCH_W_MK(2.4 * 3.6 / 4.0), 69e3,
     15.0},
    {"EPS_VIII", "EPS", STRENGTH IN_SERVICE R_EPS_II SCALED, PER_INCH_W_MK(2.4 * 3.8 / 4.0), 90e3,
     18.0},
    {"EPS_II", "EPS", STRENGTH IN_SERVICE R_EPS_II, PER_INCH_W_MK(2.4), 104e3, 22.0},
    {"EPS_IX", "EPS", STRENGTH IN_SERVICE R_EPS_IX, PER_INCH_W_MK(3.2), 173e3, 29.0},
    {"EPS_XIV", "EPS", STRENGTH IN_SERVICE R_EPS_IX AS_IX, PER_INCH_W_MK(3.2), 276e3, 38.0},
    {"EPS_XV", "EPS", STRENGTH IN_SERVICE R_EPS_IX AS_IX, PER_INCH_W_MK(3.2), 414e3, 46.0},
    {.name = NULL},
};

void uf_foam_put(struct uf_board *board, const struct uf_foam *row)
{
    board->row = row;
    board->k_W_mK = row->k_W_mK;
    board->strength_Pa = row->strength_Pa;
    board->density_kg_m3 = row->density_kg_m3;
}

const struct uf_foam *uf_foam_find(const char *name)
{
    return uf_name_find(uf_foam_table, sizeof uf_foam_table[0], name);
}
