#include "cli/verify/exact/exact.h"

#include <criterion/criterion.h>

#include <math.h>

#define DAY 86400.0

static void printed(double got, double expected, double half_digit)
{
    cr_expect(fabs(got - expected) <= 1.01 * half_digit, "%.10g, printed %.10g", got, expected);
}

/* Carslaw & Jaeger's formulas worked apart from this code: a 0.5e-6, from 10 to -5 degC, 60
   days. */
Test(exact_wave, quarter_space)
{
    const double rows[][3] = {{0.5, 0.5, -4.546803},
                              {1, 1, -3.271227},
                              {1, 0.5, -4.114858},
                              {2, 1, -1.841349},
                              {2, 2, 0.771190}};
    for (size_t i = 0; i < 5; i++) {
        printed(uf_exact_quarter_degC(0.5e-6, -5, 10, rows[i][0], rows[i][1], 60 * DAY), rows[i][2],
                5e-7);
    }
    printed(uf_exact_quarter_degC(0.5e-6, -5, 10, 1.3, (double)INFINITY, 60 * DAY),
            -5 + 15 * erf(1.3 / (2 * sqrt(0.5e-6 * 60 * DAY))), 1e-12);
}

Test(exact_wave, annual_wave_with_and_without_resistance)
{
    struct uf_exact_wave wave = {6, 14, 15, 365, 1.5, 0.5e-6, 0};
    printed(uf_exact_wave_depth_m(&wave), 2.240337, 5e-7);
    const double rows[][9] = {
        {0, 14.000000, 0.00000, -8.000000, 5.698775, 10.173587, 14.27535, 5.194292, 30.20413},
        {0.5, 11.199584, 12.96491, -4.921816, 3.286747, 8.138568, 27.24027, 4.155279, 43.16904},
        {1, 8.959334, 25.92983, -2.081533, 1.959390, 6.510612, 40.20518, 3.324100, 56.13395},
        {1.5, 7.167201, 38.89474, 0.380155, 1.431954, 5.208296, 53.17009, 2.659181, 69.09887},
        {2, 5.733548, 51.85965, 2.403380, 1.458461, 4.166482, 66.13501, 2.127266, 82.06378},
        {3, 3.669198, 77.78948, 5.157390, 2.411560, 2.666351, 92.06483, 1.361349, 107.99361},
        {5, 1.502680, 129.64914, 6.922518, 4.833950, 1.091975, 143.92449, 0.557526, 159.85326},
        {8, 0.393831, 207.43862, 6.358094, 6.171592, 0.286191, 221.71397, 0.146119, 237.64275},
    };
    for (size_t i = 0; i < 8; i++) {
        const double z = rows[i][0];
        wave.resistance_m2K_W = 0.0;
        printed(uf_exact_wave_amplitude_K(&wave, z), rows[i][1], 5e-7);
        printed(uf_exact_wave_lag_day(&wave, z), rows[i][2], 5e-6);
        printed(uf_exact_wave_degC(&wave, z, 15), rows[i][3], 5e-7);
        printed(uf_exact_wave_degC(&wave, z, 105), rows[i][4], 5e-7);
        wave.resistance_m2K_W = 0.5;
        printed(uf_exact_wave_amplitude_K(&wave, z), rows[i][5], 5e-7);
        printed(uf_exact_wave_lag_day(&wave, z), rows[i][6], 5e-6);
        wave.resistance_m2K_W = 2.0;
        printed(uf_exact_wave_amplitude_K(&wave, z), rows[i][7], 5e-7);
        printed(uf_exact_wave_lag_day(&wave, z), rows[i][8], 5e-6);
    }
    /* one week a foot in average soil, an old abstract says; this soil 7.90 days */
    wave.resistance_m2K_W = 0.0;
    printed(uf_exact_wave_lag_day(&wave, 0.3048), 7.90, 5e-3);
}

/* The flux through a film must be what the ground takes: (air - surface)/R = -k dT/dz at z = 0. */
Test(exact_wave, film_passes_what_the_ground_takes)
{
    const struct uf_exact_wave wave = {6, 14, 15, 365, 1.5, 0.5e-6, 0.7};
    for (double day = 3; day < 365; day += 71) {
        const double h = 1e-4;
        const double slope =
            (-3 * uf_exact_wave_degC(&wave, 0, day) + 4 * uf_exact_wave_degC(&wave, h, day) -
             uf_exact_wave_degC(&wave, 2 * h, day)) /
            (2 * h);
        const double air = 6 - 14 * cos(2 * acos(-1.0) * (day - 15) / 365);
        const double through = (air - uf_exact_wave_degC(&wave, 0, day)) / 0.7;
        cr_expect(fabs(through + 1.5 * slope) < 1e-5, "day %g: %g, %g", day, through, slope);
    }
}

Test(exact_wave, half_space_under_a_film)
{
    const struct uf_exact_film film = {1.5, 3e6, 20, 10, -5};
    const double rows[][4] = {
        {0, -2.115122, -4.040483, -4.606187},   {0.1, 1.519449, -2.769026, -4.081650},
        {0.25, 5.753692, -0.913423, -3.298466}, {0.5, 9.152536, 1.936603, -2.011034},
        {1.0, 9.994893, 6.265386, 0.444822},    {2.0, 10.000000, 9.609539, 4.564426}};
    for (size_t i = 0; i < 6; i++) {
        printed(uf_exact_film_degC(&film, rows[i][0], 1 * DAY), rows[i][1], 5e-7);
        printed(uf_exact_film_degC(&film, rows[i][0], 10 * DAY), rows[i][2], 5e-7);
        printed(uf_exact_film_degC(&film, rows[i][0], 60 * DAY), rows[i][3], 5e-7);
    }
    /* a very strong film is a fixed surface; the plain formula would overflow here */
    const struct uf_exact_film strong = {1.5, 3e6, 1e7, 10, -5};
    printed(uf_exact_film_degC(&strong, 0.7, 60 * DAY),
            uf_exact_quarter_degC(0.5e-6, -5, 10, 0.7, (double)INFINITY, 60 * DAY), 1e-5);
}
