#include "exact.h"
#include "solver/base/constants.h"

#include <math.h>

double uf_exact_cooling_s(double capacity_J_mK, double resistance_mK_W, double start_degC,
                          double target_degC, double outside_degC)
{
    return capacity_J_mK * resistance_mK_W *
           log((start_degC - outside_degC) / (target_degC - outside_degC));
}

double uf_exact_share_s(double share, double radius_m, double latent_J_m3, double resistance_mK_W,
                        double below_K)
{
    return share * UF_PI * radius_m * radius_m * latent_J_m3 * resistance_mK_W / below_K;
}

double uf_exact_ring_mK_W(double inner_m, double outer_m, double k_W_mK)
{
    return log(outer_m / inner_m) / (2.0 * UF_PI * k_W_mK);
}

#define FDAY(degF_day) ((degF_day) / 1.8) /* K day */
#define R_US(r)        ((r)*0.17611018)   /* m2K/W from h ft2 F/Btu */
#define INCH(in)       ((in)*UF_INCH_M)
#define IRC            "IRC table R403.3(1): "

const struct uf_exact_irc uf_exact_irc_rows[] = {
    {FDAY(1500.0), R_US(4.5), INCH(12.0), NAN, NAN, NAN, NAN, NAN,
     IRC "no horizontal board read, the rest from memory"},
    {FDAY(2000.0), R_US(5.6), INCH(14.0), NAN, NAN, NAN, NAN, NAN, IRC "from memory"},
    {FDAY(2500.0), R_US(6.7), INCH(16.0), R_US(1.7), R_US(4.9), INCH(12.0), INCH(24.0), INCH(40.0),
     IRC "R values, corner width and length read, the rest from memory"},
    {FDAY(3000.0), R_US(7.8), INCH(16.0), R_US(6.5), R_US(8.6), INCH(12.0), INCH(24.0), INCH(40.0),
     IRC "from memory"},
    {FDAY(3500.0), R_US(9.0), INCH(16.0), R_US(8.0), R_US(11.2), INCH(24.0), INCH(30.0), INCH(60.0),
     IRC "from memory"},
    {FDAY(4000.0), R_US(10.1), INCH(16.0), R_US(10.5), R_US(13.1), INCH(24.0), INCH(36.0),
     INCH(60.0), IRC "vertical R, corner R and 36 in read, the rest from memory"},
    {.index_Kday = 0.0},
};
