#ifndef UF_MATERIAL_H
#define UF_MATERIAL_H

#include "solver/design/case.h"

/* A substance whose enthalpy is a piecewise linear function of temperature, so that
   temperature is one too of enthalpy: T(H) is closed form and no latent heat can be
   stepped over.

   Breakpoints run upward in temperature; below the first the slope is c_frozen, above the
   last c_thawed. Conductivity is linear in T between breakpoints and constant outside, so
   its integral U (Kirchhoff's variable) is quadratic between them. H and U are zero at
   the last breakpoint (all water liquid). A soil with a linear freezing range has two
   breakpoints (`simple`). */

#define UF_MATERIAL_POINTS 48

struct uf_material {
    char name[UF_NAME_SIZE];
    bool simple; /* two breakpoints */
    size_t n;
    double T_degC[UF_MATERIAL_POINTS], H_J_m3[UF_MATERIAL_POINTS];
    double k_W_mK[UF_MATERIAL_POINTS], U_W_m[UF_MATERIAL_POINTS];
    double liquid[UF_MATERIAL_POINTS]; /* share of the water that is liquid */
    double c_frozen_J_m3K, c_thawed_J_m3K;
    double water_J_m3; /* latent heat of all its water */
};

/* From thermal properties; see struct uf_thermal. Errors: UF_E_RANGE for values that are
   not positive, or a freezing range that is empty. */
enum uf_status uf_material_from_thermal(struct uf_material *out, const char *name,
                                        const struct uf_thermal *thermal, struct uf_error *err);

/* A substance that does not freeze. k_W_mK > 0, c_J_m3K > 0. */
void uf_material_inert(struct uf_material *out, const char *name, double k_W_mK, double c_J_m3K);

/* Several substances that share one cell and one temperature: enthalpy is the sum by share of the
   volume. Conductivity is their mean and only for display.
   parts, shares   [n], shares >= 0, sum 1
   Errors: UF_E_RANGE when the union of breakpoints does not fit. */
enum uf_status uf_material_blend(struct uf_material *out, const char *name,
                                 const struct uf_material *const *parts, const double *shares,
                                 size_t n, struct uf_error *err);

/* The four functions of the state; total, any finite argument. */
double uf_material_T_degC(const struct uf_material *material, double H_J_m3);
double uf_material_H_J_m3(const struct uf_material *material, double T_degC);
double uf_material_U_W_m(const struct uf_material *material, double T_degC);
double uf_material_k_W_mK(const struct uf_material *material, double T_degC);

/* dH/dT on the branch that T lies on (the branch above, at a breakpoint), J/(m3 K). */
double uf_material_slope_J_m3K(const struct uf_material *material, double T_degC);

/* Share of its water that is ice, 0 to 1; 0 where it holds none. */
double uf_material_ice(const struct uf_material *material, double T_degC);

/* Secant conductivity between two temperatures: (U(a) - U(b)) / (a - b), W/(m K). */
double uf_material_secant_W_mK(const struct uf_material *material, double a_degC, double b_degC);

#endif
