#ifndef UF_DEWATER_H
#define UF_DEWATER_H

#include "pit.h"
#include "solver/statics/column.h"

/* Keeping the pit dry and its floor whole, as a first estimate: inflow, pump, heave of the floor by
   seepage and by a confined layer below it. What it cannot judge it hands to a designer. */

struct uf_dewater_input {
    double permeability_m_s; /* of the ground that bears water; NAN: not given */
    double base_m;          /* depth to which it bears water; NAN: as deep as the ground is given */
    double confined_top_m;  /* depth of the top of a confined layer below; NAN: none known */
    double confined_head_m; /* depth to which its water would rise; negative: above grade; NAN */
};

/* Nothing given. */
void uf_dewater_init(struct uf_dewater_input *input);

/* Common practice, no source: how far below the floor water is lowered, and what is pumped for each
   unit that flows in. */
#define UF_DEWATER_BELOW_M 0.5
#define UF_DEWATER_PUMP    1.5

/* Radius of the well that stands for a rectangular pit, a x b in plan (TM 5-818-5, chapter 4):

       r = sqrt(a b / pi) */
double uf_dewater_radius_m(double a_m, double b_m);

/* How far the water table falls around it (Sichardt, from memory), drawdown s in m, k in m/s; counted
   from the edge of the pit:

       R = r + 3000 s sqrt(k) */
double uf_dewater_influence_m(double radius_m, double drawdown_m, double permeability_m_s);

/* Inflow from a water table (Dupuit and Thiem, TM 5-818-5, chapter 4), heads H far off and h in the
   pit above the base of the layer:

       Q = pi k (H^2 - h^2) / ln(R / r) */
double uf_dewater_inflow_m3_s(double permeability_m_s, double far_m, double pit_m,
                              double influence_m, double radius_m);

/* Partial factors of EN 1997-1 against heave of the floor (HYD, 2.4.7.5 read; table A.17 from memory): 1.35 on what
   lifts, 0.90 on what holds down; together a factor of safety of 1.5. */
#define UF_DEWATER_DST    1.35
#define UF_DEWATER_STB    0.90
#define UF_DEWATER_FACTOR (UF_DEWATER_DST / UF_DEWATER_STB)

/* Why a person who designs such things is needed; bits. */
enum uf_dewater_reason {
    UF_DEWATER_UNKNOWN = 1 << 0, /* water over the floor, permeability not given */
    UF_DEWATER_FINE = 1 << 1, /* k under 1e-6 m/s: drains too slowly for a sump; the sides slump */
    UF_DEWATER_MUCH = 1 << 2, /* inflow over 10 l/s: more than sumps keep clear of fines */
    UF_DEWATER_DEEP = 1 << 3, /* lowered by more than 4.5 m: more than one row of wellpoints */
    UF_DEWATER_BLOWOUT = 1 << 4,  /* the floor heaves by the confined layer */
    UF_DEWATER_UNWEIGHED = 1 << 5 /* a unit weight is missing, the floor is not judged */
};
#define UF_DEWATER_REASONS 6
extern const char *const uf_dewater_reasons[UF_DEWATER_REASONS]; /* one sentence for each bit */

struct uf_dewater {
    bool wet;                /* the water table stands over the floor */
    double table_m, floor_m; /* depths */
    double drawdown_m;       /* of the table, to UF_DEWATER_BELOW_M under the floor; 0 when dry */
    double permeability_m_s, far_m, pit_m, radius_m,
        influence_m;               /* what the inflow is worked from */
    double inflow_m3_s, pump_m3_s; /* NAN: permeability not given */
    double soaked_N_m2, head_N_m2; /* over the confined layer, and its water's; 0: none */
    double blowout_factor; /* total weight / water pressure at the confined top; NAN: none */
    double slope;          /* allowed: that of class C where the sides seep */
    bool too_steep;
    unsigned reasons; /* bits of enum uf_dewater_reason; 0: none */
};

/* With the water table at table_m while the pit is open:

       0.90 sum(gamma_sat t) >= 1.35 gamma_w h      (EN 1997-1, eq. 2.9a)

   Errors: UF_E_INPUT for a confined layer that does not lie under the floor. */
enum uf_status uf_dewater(struct uf_dewater *out, const struct uf_case *design,
                          const struct uf_column_soils *soils, const struct uf_pit *pit,
                          const struct uf_dewater_input *input, double table_m,
                          struct uf_error *err);

#endif
