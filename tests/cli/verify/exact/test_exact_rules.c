#include "cli/verify/exact/exact.h"
#include "solver/ground/published_depth.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

static void printed(double got, double expected, double half_digit)
{
    cr_expect(fabs(got - expected) <= 1.01 * half_digit, "%.10g, printed %.10g", got, expected);
}

/* ISO 13793 default soil: frozen 2.5 W/(m K), 150 MJ/m3, thawed 3.0 MJ/(m3 K). */
Test(exact_rules, iso_13793_frost_depth)
{
    const double te[] = {1, 3, 5, 8};
    const double rows[][5] = {
        {10000, 1.0847, 1.0640, 1.0445, 1.0171}, {20000, 1.5339, 1.5047, 1.4771, 1.4384},
        {30000, 1.8787, 1.8429, 1.8091, 1.7617}, {40000, 2.1693, 2.1280, 2.0889, 2.0342},
        {50000, 2.4254, 2.3792, 2.3355, 2.2743}, {60000, 2.6568, 2.6062, 2.5584, 2.4914},
        {70000, 2.8697, 2.8151, 2.7634, 2.6910}};
    for (size_t i = 0; i < 7; i++) {
        for (size_t j = 0; j < 4; j++) {
            printed(uf_published_depth_iso13793_m(rows[i][0], 2.5, 150e6, 3.0e6, te[j]),
                    rows[i][j + 1], 5e-5);
        }
    }
}

/* Chisholm & Phang 1983; Fair, Geyer & Okun eq. 5.41b, which in US units is 1.65 F^0.468 inches. */
Test(exact_rules, depth_from_a_freezing_index)
{
    const double rows[][3] = {{200, 0.4894, 0.6587},  {400, 0.8280, 0.9111},
                              {600, 1.0878, 1.1014},  {800, 1.3068, 1.2602},
                              {1000, 1.4998, 1.3989}, {1200, 1.6743, 1.5235},
                              {1500, 1.9106, 1.6912}, {2000, 2.2569, 1.9349}};
    for (size_t i = 0; i < 8; i++) {
        printed(uf_published_depth_chisholm_phang_m(rows[i][0]), rows[i][1], 5e-5);
        printed(uf_published_depth_fair_m(rows[i][0]), rows[i][2], 5e-5);
        const double inches = 1.65 * pow(1.8 * rows[i][0], 0.468);
        cr_expect(fabs(uf_published_depth_fair_m(rows[i][0]) / 0.0254 / inches - 1.0) < 1e-3);
    }
    /* they differ by 26 % at 200 K day, cross near 645 and differ by 17 % at 2000 */
    printed(uf_published_depth_chisholm_phang_m(200) / uf_published_depth_fair_m(200), 0.743, 5e-4);
    printed(uf_published_depth_chisholm_phang_m(645) - uf_published_depth_fair_m(645), 0.0, 1e-3);
    printed(uf_published_depth_chisholm_phang_m(2000) / uf_published_depth_fair_m(2000), 1.166,
            5e-4);
    cr_expect_eq(uf_published_depth_chisholm_phang_m(10.0), 0.0, "a mild winter leaves no frost");
}

/* Pipe of 0.1 m radius, ring 0.105 to 0.155 m of 0.03 W/(m K), air -10 degC; water 4.2
   MJ/(m3 K). */
Test(exact_rules, pipe_cools)
{
    const double r = uf_exact_ring_mK_W(0.105, 0.155, 0.03), area = acos(-1.0) * 0.01;
    printed(r, 2.066175, 5e-7);
    printed(uf_exact_cooling_s(4.2e6 * area, r, 5, 0, -10) / 3600, 30.7056, 5e-5);
}

/* Tank of radius 1 m in a ring of 50 mm, axis 2.1 m deep in soil of 1.8 W/(m K), surface -6
   degC. */
Test(exact_rules, buried_tank_cools_then_freezes_a_tenth)
{
    const double pi = acos(-1.0);
    const double r = uf_exact_ring_mK_W(1.0, 1.05, 0.03) + acosh(2.1 / 1.05) / (2 * pi * 1.8);
    printed(r, 0.3752845, 5e-8);
    printed(4.2e6 * pi * r / 86400, 57.3121, 5e-5);
    printed(uf_exact_cooling_s(4.2e6 * pi, r, 6, 0, -6) / 86400, 39.7257, 5e-5);
    printed(uf_exact_share_s(0.1, 1.0, 334e6, r, 6) / 86400, 75.961, 5e-4);
}

/* ASHRAE's table for a 2 in pipe, 1.5 in of 0.30 Btu in/(h ft2 F), water 42 F: 1.4 h at
   -18 F and 4.6 h at 20 F; recomputed 1.3785 and 4.5829 h. Hours, feet and Btu
   throughout. */
Test(exact_rules, published_pipe_table_is_met)
{
    const double inside_ft = 2.067 / 12, water = 62.4 * acos(-1.0) / 4 * inside_ft * inside_ft;
    const double r = uf_exact_ring_mK_W(2.375 / 2, 2.375 / 2 + 1.5, 0.30 / 12);
    const double cold = uf_exact_cooling_s(water, r, 42, 32, -18);
    const double mild = uf_exact_cooling_s(water, r, 42, 32, 20);
    cr_expect(fabs(cold / 1.3785 - 1.0) < 5e-4 && fabs(mild / 4.5829 - 1.0) < 5e-4, "%g %g", cold,
              mild);
    cr_expect(fabs(cold - 1.4) < 0.05 && fabs(mild - 4.6) < 0.05);
}

Test(exact_rules, insulation_rows_ask_for_more_in_colder_places)
{
    const struct uf_exact_irc *last = NULL;
    size_t n = 0;
    for (const struct uf_exact_irc *row = uf_exact_irc_rows; row->index_Kday > 0; row++, n++) {
        cr_expect(strlen(row->source) > 20);
        cr_expect(isnan(row->corner_m2K_W) || row->corner_m2K_W > row->wall_m2K_W);
        if (last != NULL) {
            cr_expect(row->index_Kday > last->index_Kday);
            cr_expect(row->vertical_m2K_W > last->vertical_m2K_W);
        }
        last = row;
    }
    cr_expect_eq(n, 6);
    printed(uf_exact_irc_rows[5].index_Kday, 4000 / 1.8, 1e-9);
    printed(uf_exact_irc_rows[5].corner_m2K_W / uf_exact_irc_rows[5].vertical_m2K_W, 13.1 / 10.1,
            1e-12);
    printed(uf_exact_irc_rows[2].vertical_m2K_W, 6.7 * 0.17611, 1e-5);
}
