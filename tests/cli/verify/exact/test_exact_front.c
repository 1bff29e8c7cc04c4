#include "cli/verify/exact/exact.h"
#include "solver/ground/published_depth.h"

#include <criterion/criterion.h>

#include <math.h>

#define DAY 86400.0

static void printed(double got, double expected, double half_digit)
{
    cr_expect(fabs(got - expected) <= 1.01 * half_digit, "%.10g, printed %.10g", got, expected);
}

/* Values computed apart from this code from the formulas in the header, to the digits below. */
Test(exact_front, neumann_roots_fronts_and_flux)
{
    const double days[] = {10, 30, 60, 90, 120};
    const struct {
        double lambda, front[5], flux;
    } rows[] = {
        {0.223673760, {0.476974, 0.826144, 1.168344, 1.430923, 1.652288}, 21.755231},
        {0.201831113, {0.396668, 0.687049, 0.971635, 1.190004, 1.374099}, 9.910278},
        {0.312155002, {0.537259, 0.930560, 1.316011, 1.611777, 1.861120}, 21.184989},
        {0.236094770, {0.471953, 0.817447, 1.156045, 1.415860, 1.634894}, 39.121705},
        {0.246591367, {0.525845, 0.910791, 1.288052, 1.577536, 1.821581}, 19.803325},
    };
    for (size_t i = 0; i < 5; i++) {
        const struct uf_exact_ground *ground = &uf_exact_grounds[i];
        cr_assert_not_null(ground->name);
        printed(uf_exact_neumann_lambda(ground), rows[i].lambda, 5e-10);
        for (size_t j = 0; j < 5; j++) {
            printed(uf_exact_neumann_front_m(ground, days[j] * DAY), rows[i].front[j], 5e-7);
        }
        printed(uf_exact_neumann_W_m2(ground, 60 * DAY), rows[i].flux, 5e-7);
    }
    cr_expect_null(uf_exact_grounds[5].name);
}

Test(exact_front, neumann_temperatures_at_60_days)
{
    const double depth[] = {0.25, 0.50, 0.75, 1.00, 1.50, 2.00, 3.00, 4.00};
    const double rows[5][8] = {
        {-7.826137, -5.662207, -3.518006, -1.403063, 0.804738, 1.876531, 3.456594, 4.350595},
        {-3.697187, -2.401380, -1.119469, 0.085452, 1.532283, 2.842490, 4.963373, 6.394325},
        {-12.061086, -9.142756, -6.265163, -3.447613, 0.335838, 1.133248, 2.212121, 2.730874},
        {-15.598228, -11.219335, -6.885844, -2.619575, 1.515518, 2.904996, 3.867519, 3.991701},
        {-8.021179, -6.051399, -4.099578, -2.174391, 0, 0, 0, 0},
    };
    for (size_t i = 0; i < 5; i++) {
        for (size_t j = 0; j < 8; j++) {
            printed(uf_exact_neumann_degC(&uf_exact_grounds[i], depth[j], 60 * DAY), rows[i][j],
                    5e-7);
        }
    }
}

/* k = C = 1 both phases, L = 0.25, surface -1, start 0.3: 0.7076615274 computed; Rathjen
   & Jiji 1971 print 0.70766 (from memory). */
Test(exact_front, neumann_dimensionless_anchor)
{
    const struct uf_exact_ground unit = {"unit", 1, 1, 1, 1, 0.25, -1, 0, 0.3};
    printed(uf_exact_neumann_lambda(&unit), 0.7076615274, 5e-11);
}

/* Heat through the surface in t is 2 q t; it is the latent heat of X and what both phases
   lost in sensible heat, summed here by Simpson over a depth where nothing has changed
   yet. */
Test(exact_front, neumann_balances_its_heat)
{
    for (size_t i = 0; i < 5; i++) {
        const struct uf_exact_ground *g = &uf_exact_grounds[i];
        const double t = 47 * DAY, front = uf_exact_neumann_front_m(g, t);
        double lost = g->latent_J_m3 * front;
        for (int part = 0; part < 2; part++) {
            const double from = part == 0 ? 0.0 : front, to = part == 0 ? front : front + 22.0;
            const double c = part == 0 ? g->c_frozen_J_m3K : g->c_thawed_J_m3K;
            const int n = 600;
            const double h = (to - from) / n;
            for (int j = 0; j <= n; j++) {
                const double weight = j == 0 || j == n ? 1.0 : (j % 2 == 1 ? 4.0 : 2.0);
                const double ref = part == 0 ? g->freezing_degC : g->start_degC;
                lost += weight * h / 3.0 * c * (ref - uf_exact_neumann_degC(g, from + j * h, t));
            }
            /* the frozen soil also gave up its heat from start to freezing, as thawed soil */
            lost +=
                part == 0 ? g->c_thawed_J_m3K * (g->start_degC - g->freezing_degC) * front : 0.0;
        }
        const double through = 2.0 * uf_exact_neumann_W_m2(g, t) * t;
        cr_expect(fabs(lost / through - 1.0) < 1e-7, "%s %.10g", g->name, lost / through);
    }
}

Test(exact_front, a_case_without_a_front_gives_no_number)
{
    struct uf_exact_ground ground = uf_exact_grounds[0];
    ground.surface_degC = 1.0;
    cr_expect(isnan(uf_exact_neumann_lambda(&ground)));
    ground = uf_exact_grounds[0];
    ground.start_degC = -1.0;
    cr_expect(isnan(uf_exact_neumann_lambda(&ground)));
    ground = uf_exact_grounds[0];
    ground.latent_J_m3 = -1.0;
    cr_expect(isnan(uf_exact_neumann_lambda(&ground)));
    cr_expect(isnan(uf_published_depth_berggren_lambda(0.3, -0.1)));
}

/* Soil k 2.5, L 150 MJ/m3, surface at -10 degC under a board. */
Test(exact_front, stefan_under_a_board)
{
    const double days[] = {30, 60, 120};
    const double rows[][4] = {{0, 0.929516, 1.314534, 1.859032},
                              {0.3, 0.444362, 0.763440, 1.254620},
                              {0.88, 0.188305, 0.362811, 0.680278},
                              {1.76, 0.097110, 0.192167, 0.376610},
                              {3.52, 0.048955, 0.097640, 0.194220}};
    for (size_t i = 0; i < 5; i++) {
        for (size_t j = 0; j < 3; j++) {
            printed(uf_exact_stefan_m(2.5, 150e6, rows[i][0], 10.0 * days[j] * DAY), rows[i][j + 1],
                    5e-7);
        }
    }
}

Test(exact_front, berggren_coefficient_table)
{
    const double alpha[] = {0.0, 0.1, 0.2, 0.3, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0};
    const double rows[][11] = {
        {0.02, 0.996692, 0.990466, 0.984287, 0.978155, 0.966030, 0.951135, 0.936524, 0.908139,
         0.880842, 0.829382},
        {0.05, 0.991823, 0.981508, 0.971336, 0.961303, 0.941650, 0.917840, 0.894843, 0.851181,
         0.810455, 0.737023},
        {0.1, 0.983943, 0.968709, 0.953813, 0.939246, 0.911066, 0.877552, 0.845831, 0.787344,
         0.734814, 0.644927},
        {0.15, 0.976340, 0.957172, 0.938570, 0.920514, 0.885962, 0.845515, 0.807875, 0.740095,
         0.680997, 0.583707},
        {0.2, 0.968997, 0.946443, 0.924709, 0.903756, 0.864055, 0.818231, 0.776213, 0.702058,
         0.638967, 0.538215},
        {0.3, 0.955027, 0.926730, 0.899814, 0.874187, 0.826476, 0.772751, 0.724712, 0.642689,
         0.575556, 0.473120},
        {0.4, 0.941916, 0.908789, 0.877653, 0.848342, 0.794615, 0.735384, 0.683524, 0.597275,
         0.528748, 0.427549},
        {0.5, 0.929572, 0.892245, 0.857555, 0.825236, 0.766820, 0.703610, 0.649248, 0.560774,
         0.492119, 0.393214},
        {0.7, 0.906871, 0.862474, 0.822065, 0.785118, 0.719954, 0.651632, 0.594564, 0.504766,
         0.437503, 0.343955},
        {1.0, 0.876901, 0.824125, 0.777427, 0.735761, 0.664470, 0.592453, 0.534233, 0.445820,
         0.381905, 0.295914},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        for (size_t j = 0; j < 10; j++) {
            printed(uf_published_depth_berggren_lambda(alpha[j], rows[i][0]), rows[i][j + 1], 5e-7);
        }
    }
    printed(uf_published_depth_berggren_lambda(0.3, 0.0), 1.0, 1e-15);
    printed(uf_published_depth_berggren_lambda(0.0, 1e-3), 1.0 - 1e-3 / 6.0, 1e-7);
}

/* TM 5-852-6, homogeneous soil (from memory): sandy silt 100 pcf, 15 %, mean 37.2 F,
   surface index 2500 F-days in 160 days, k 0.76 Btu/(h ft F): 5.8 ft with the coefficient
   read as 0.89; recomputed 0.895589 and 5.81942 ft. In the manual's units, which the
   formula does not mind. */
Test(exact_front, berggren_worked_example)
{
    const double latent = 144.0 * 100 * 0.15, heat = 100 * (0.17 + 0.75 * 0.15);
    const double vs = 2500.0 / 160, alpha = (37.2 - 32.0) / vs, mu = vs * heat / latent;
    const double lambda = uf_published_depth_berggren_lambda(alpha, mu);
    const double stefan_ft = uf_exact_stefan_m(0.76, latent, 0.0, 24.0 * 2500);
    printed(alpha, 0.33280, 5e-6);
    printed(mu, 0.20435, 5e-6);
    printed(lambda, 0.895589, 5e-7);
    printed(stefan_ft, 6.49786, 5e-6);
    printed(lambda * stefan_ft, 5.81942, 5e-6);
    cr_expect(fabs(lambda * stefan_ft - 5.8) < 0.05, "the manual's answer");
}

Test(exact_front, line_sink_roots_radii_and_temperatures)
{
    struct uf_exact_ground n1 = uf_exact_grounds[0], n1_cool = n1;
    n1_cool.start_degC = 1.0;
    const struct uf_exact_ground n2 = uf_exact_grounds[1];
    const struct uf_exact_ground even = {"even", 2, 2, 2e6, 2e6, 1e8, NAN, 0, 4};
    const struct {
        const struct uf_exact_ground *ground;
        double sink, lambda, radius[4], degC[5];
    } rows[] = {
        {&n1,
         50,
         0.092343687,
         {0.062271, 0.196919, 0.341073, 0.622712},
         {-3.893056, -1.690196, 1.140789, 3.068557, 4.495574}},
        {&n1,
         100,
         0.153615703,
         {0.103589, 0.327579, 0.567383, 1.035895},
         {-10.978515, -6.572797, -0.788249, 2.232940, 4.277340}},
        {&n1_cool,
         100,
         0.187774629,
         {0.126624, 0.400421, 0.693550, 1.266243},
         {-12.220195, -7.814476, -2.029928, 0.337701, 0.827030}},
        {&n2,
         60,
         0.121726743,
         {0.075653, 0.239235, 0.414368, 0.756528},
         {-7.109871, -3.632650, 0.905831, 4.105205, 6.700200}},
        {&even,
         100,
         0.214488469,
         {0.126093, 0.398741, 0.690640, 1.260930},
         {-15.200803, -9.696412, -2.484832, 1.086000, 2.858731}},
    };
    const double days[] = {1, 10, 30, 100}, r[] = {0.1, 0.2, 0.5, 1, 2};
    for (size_t i = 0; i < 5; i++) {
        printed(uf_exact_line_lambda(rows[i].ground, rows[i].sink), rows[i].lambda, 5e-10);
        for (size_t j = 0; j < 4; j++) {
            printed(uf_exact_line_front_m(rows[i].ground, rows[i].sink, days[j] * DAY),
                    rows[i].radius[j], 5e-7);
        }
        for (size_t j = 0; j < 5; j++) {
            printed(uf_exact_line_degC(rows[i].ground, rows[i].sink, r[j], 30 * DAY),
                    rows[i].degC[j], 5e-7);
        }
    }
}
