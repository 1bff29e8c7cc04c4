#include "published_depth.h"

#include <math.h>

double uf_published_depth_iso13793_m(double index_Kh, double k_frozen_W_mK, double latent_J_m3,
                                     double c_thawed_J_m3K, double annual_degC)
{
    return sqrt(7200.0 * index_Kh * k_frozen_W_mK / (latent_J_m3 + c_thawed_J_m3K * annual_degC));
}

double uf_published_depth_chisholm_phang_m(double index_Kday)
{
    return fmax(0.0, -0.328 + 0.0578 * sqrt(index_Kday));
}

double uf_published_depth_fair_m(double index_Kday)
{
    return 0.05518 * pow(index_Kday, 0.468);
}
