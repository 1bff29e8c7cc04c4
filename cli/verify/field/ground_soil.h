#ifndef UF_GROUND_SOIL_H
#define UF_GROUND_SOIL_H

#include "solver/ground/soil.h"

/* A soil from nothing but what a water sensor read in it. One rule for every sensor of
   every station; no temperature enters it.

   1. Plants dry a soil to its wilting point and no further, so the driest reading is an
      upper bound of the wilting point (water held at 1500 kPa). The bound is taken as its
      value. Where the ground never dried this gives the finest texture that the readings
      allow; beyond the ends of the table the last row stands.
   2. Texture: the row, or the place between two rows, of the table of classes by Saxton &
      Rawls (2006), Soil Sci. Soc. Am. J. 70, 1569-1578, table 3, that has this wilting
      point: sand, sandy loam, loam, clay loam, clay, which is the middle of the texture
      triangle. Silty classes hold water of two rows at once and are left out.
   3. Porosity: that of the class, or the wettest reading where it is more. Grains 2650
      kg/m3, as in the same table. Organic matter is the table's 2.5 %.
   4. Quartz: the share of sand (Lu et al. 2007, Soil Sci. Soc. Am. J. 71, 8-14). Coarse
      when sand is more than half. Conductivity then by the published methods of soil.h.
   5. Water that stays liquid: ice draws on the liquid beside it as dry soil does, by 1223
      kPa for each kelvin below 0 degC (Clapeyron, rho_w L / 273.15 K; Koopmans & Miller
      1966, Soil Sci. Soc. Am. J. 30, 680-685, from memory; held true for soils between
      0.1 and 10 MPa, freezing-point depression against pressure plate, abstract read). So
      the soil's own water retention is its freezing curve. Between 33 and 1500 kPa Saxton
      & Rawls take a power law, ln(1500/33) = B ln(w33/w1500); from the measured wilting
      point and the class's ratio w33/w1500,

          liquid = wilting * (1223 kPa/K |T| / 1500 kPa)^(-1/B)

      and no more than the water that is there: all liquid above the temperature at which
      the two meet, as wet soil freezes from 0 degC and soil at its wilting point from
      -1.2 degC. */
struct uf_ground_soil {
    double driest_m3_m3, wettest_m3_m3; /* as read */
    double sand, clay;                  /* share of the grains by mass */
    double wilting_m3_m3;               /* driest reading, not beyond the finest class */
    double porosity;                    /* share of the volume */
    double retention_B;                 /* exponent of the power law */
    double dry_density_kg_m3;
    bool bounded; /* the driest reading lies beyond the finest class: never dry */
};

/* By the rule above. driest and wettest: readings of the sensor while thawed, m3/m3, 0 <=
   driest <= wettest < 1. Errors: UF_E_RANGE otherwise. */
enum uf_status uf_ground_soil(struct uf_ground_soil *out, double driest_m3_m3, double wettest_m3_m3,
                              struct uf_error *err);

/* The most water that stays liquid at a temperature below 0 degC. */
double uf_ground_soil_liquid_m3_m3(const struct uf_ground_soil *soil, double T_degC);

/* The properties of that soil with so much water by volume, not beyond its pores.
   Errors: those of uf_soil_resolve. */
enum uf_status uf_ground_soil_thermal(struct uf_thermal *out, const struct uf_ground_soil *soil,
                                      double water_m3_m3, enum uf_method method,
                                      struct uf_error *err);

#endif
