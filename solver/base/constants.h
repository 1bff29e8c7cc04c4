#ifndef UF_CONSTANTS_H
#define UF_CONSTANTS_H

/* Constants used in more than one file, each with where it comes from. SI, temperatures in degC. */
#define UF_PI                   3.14159265358979323846
#define UF_DAY_S                86400.0
#define UF_YEAR_DAY             365.2425 /* mean Gregorian year */
#define UF_GRAVITY_M_S2         9.80665  /* standard gravity, ISO 80000-3 */
#define UF_WATER_UNIT_N_M3      9810.0   /* unit weight of fresh water, usual in flotation checks */
#define UF_WATER_DENSITY_KG_M3  1000.0
#define UF_LATENT_J_KG          333550.0 /* ice to water at 0 degC; handbook, from memory */
#define UF_WATER_CAPACITY_J_M3K 4.18e6   /* water near 10 degC */
#define UF_ICE_CAPACITY_J_M3K   1.93e6   /* ice at 0 degC, 2.1 kJ/(kg K) x 917 kg/m3 */
#define UF_WATER_LATENT_J_M3    334.0e6  /* 334 kJ/kg x 1000 kg/m3 of water */
#define UF_WATER_DENSEST_DEGC   3.983035 /* where water is densest; Tanaka et al. 2001 */
/* For formulas published in these units; exact by definition, the last rounded. */
#define UF_FOOT_M    0.3048
#define UF_INCH_M    0.0254
#define UF_GALLON_M3 3.785411784e-3
#define UF_GPM_M3_S  (UF_GALLON_M3 / 60.0)
#define UF_POUND_N   4.4482216152605
#define UF_PSI_PA    6894.757293168
/* Freezing is spread over a short range, so that enthalpy stays a function of temperature. */
#define UF_WATER_FREEZES_FROM_C    0.0
#define UF_WATER_FREEZES_TO_C      (-0.2)
#define UF_ICE_CONDUCTIVITY_W_MK   2.2
#define UF_WATER_CONDUCTIVITY_W_MK 0.57 /* still water near 5 degC, no convection */

#endif
