#include "pore_flow.h"

#include "solver/base/constants.h"

#include <math.h>

struct fluid {
    double capacity_J_m3K, nu_m2_s;
    double lighter; /* share of its density, bottom to top of the layer */
};

static const struct fluid AIR = {1.29 * 1006.0, 1.33e-5, 10.0 / 273.15};
static const struct fluid WATER = {UF_WATER_CAPACITY_J_M3K, 1.57e-6, 1.23e-4};
static const double ALONG_M = 1.0;

double uf_pore_flow_permeability_m2(double grain_m, double porosity)
{
    const double solid = 1.0 - porosity;
    return grain_m * grain_m * pow(porosity, 3.0) / (180.0 * solid * solid);
}

static double rayleigh(const struct fluid *fluid, double permeability_m2, double height_m,
                       double k_W_mK)
{
    return UF_GRAVITY_M_S2 * fluid->lighter * height_m * permeability_m2 * fluid->capacity_J_m3K /
           (fluid->nu_m2_s * k_W_mK);
}

double uf_pore_flow_air_rayleigh(double permeability_m2, double height_m, double k_W_mK)
{
    return rayleigh(&AIR, permeability_m2, height_m, k_W_mK);
}

double uf_pore_flow_water_rayleigh(double permeability_m2, double height_m, double k_W_mK)
{
    return rayleigh(&WATER, permeability_m2, height_m, k_W_mK);
}

double uf_pore_flow_gradient(double permeability_m2, double k_W_mK)
{
    return WATER.nu_m2_s * k_W_mK /
           (WATER.capacity_J_m3K * ALONG_M * permeability_m2 * UF_GRAVITY_M_S2);
}
