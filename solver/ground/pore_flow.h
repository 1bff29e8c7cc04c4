#ifndef UF_PORE_FLOW_H
#define UF_PORE_FLOW_H

/* Does what fills the pores move, and carry heat beside what the ground conducts? For warnings: the
   heat of such flows is not computed.

   Permeability of grains of one size d with porosity n (Kozeny 1927, Carman 1937; from memory):

       K = d^2 n^3 / (180 (1 - n)^2)

   Water or air in a layer of height H that is colder above begins to turn over when its
   Rayleigh-Darcy number passes 4 pi^2, nearly 40 (Horton & Rogers 1945, J. Appl. Phys. 16: 367;
   Lapwood 1948, Proc. Camb. Phil. Soc. 44: 508; from memory, the value follows from the stability of
   a layer between two faces: the least of (pi^2 + a^2)^2 / a^2):

       Ra = g (drho / rho) H K (rho c)fluid / (nu k)

   Groundwater of gradient i carries more heat over a length L than the ground conducts when its
   Peclet number passes 1:

       Pe = (rho c)water L i K g / (nu k)

   k: conductivity of the ground. */
double uf_pore_flow_permeability_m2(double grain_m, double porosity);

#define UF_PORE_FLOW_TURNS 39.478417604357434 /* 4 pi^2 */

/* Of air with 10 K between top and bottom of the layer (at 0 degC: expansion of a perfect gas, nu
   1.33e-5 m2/s, 1.29 kg/m3 of 1006 J/kgK), and of water that is cooled from 8 degC to its greatest
   density (nu 1.57e-6 m2/s at 4 degC, from memory). */
double uf_pore_flow_air_rayleigh(double permeability_m2, double height_m, double k_W_mK);
double uf_pore_flow_water_rayleigh(double permeability_m2, double height_m, double k_W_mK);

/* The gradient of groundwater at which its Peclet number over a metre is 1. */
double uf_pore_flow_gradient(double permeability_m2, double k_W_mK);

#endif
