/* The reference problem: one tank, three years, bare and with board, against a solution
   on 95 277 cells kept in tests/data/reference_problem.csv. Prints errors, counts and CPU
   seconds. */
#include "solver/constants.h"
#include "solver/front.h"
#include "solver/season.h"
#include "solver/section.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DAYS = 1095, LAST = 366 };

static double outside_at(double day)
{
    return 3.0 - 16.0 * cos(2.0 * UF_PI * (273.0 + day - 20.0) / 365.0);
}

struct reference {
    double depth[2][LAST], crown[2][LAST], water[2][LAST], ice[2][LAST];
};

static bool read_reference(struct reference *ref)
{
    FILE *file = fopen(UF_SOURCE_DIR "/tests/data/reference_problem.csv", "r");
    char line[1024];
    size_t row = 0;
    if (file == NULL || fgets(line, sizeof line, file) == NULL) {
        return false;
    }
    while (row < LAST && fgets(line, sizeof line, file) != NULL) {
        double v[18];
        char *at = line;
        for (int k = 0; k < 18; k++) {
            v[k] = strtod(at, &at);
            at++;
        }
        ref->depth[0][row] = v[3];
        ref->crown[0][row] = v[6];
        ref->water[0][row] = v[7];
        ref->ice[0][row] = v[8];
        ref->depth[1][row] = v[11];
        ref->crown[1][row] = v[14];
        ref->water[1][row] = v[15];
        ref->ice[1][row++] = v[16];
    }
    (void)fclose(file);
    return row == LAST;
}

static void reference_case(struct uf_case *d, double finest_m, bool board)
{
    uf_case_init(d);
    d->ground.n_layers = 1;
    d->ground.layers[0].to_m = 15.0;
    d->ground.layers[0].spec.has_thermal = true;
    d->ground.layers[0].spec.thermal = (struct uf_thermal){.k_thawed_W_mK = 1.6,
                                                           .k_frozen_W_mK = 2.1,
                                                           .c_thawed_J_m3K = 2.3e6,
                                                           .c_frozen_J_m3K = 1.8e6,
                                                           .latent_J_m3 = 80.16e6,
                                                           .freezing_from_degC = 0.0,
                                                           .freezing_to_degC = -0.5};
    d->ground.geothermal_W_m2 = 0.06;
    d->tank.shape = UF_HORIZONTAL_CYLINDER;
    d->tank.diameter_m = 2.4;
    d->tank.length_m = 6.0;
    d->tank.ends = false;
    d->tank.level_m = 2.4;
    d->tank.mixing_W_mK = 20.0;
    d->burial.cover_m = 1.0;
    d->grid.finest_m = finest_m;
    d->board.present = board;
    d->board.k_W_mK = 0.034;
    d->board.density_kg_m3 = 30.0;
    d->board.thickness_m = 0.1;
    d->board.beyond_tank_m = 1.2;
    d->board.above_crown_m = 0.2;
}

static void run(const struct reference *ref, double finest_m, bool board,
                const struct uf_season_options *options)
{
    static double outside[DAYS + 2], h[DAYS + 2];
    struct uf_case d;
    struct uf_section *s = NULL;
    struct uf_season *season = NULL;
    struct uf_error err = {0};
    for (int i = 0; i < DAYS + 2; i++) {
        outside[i] = 3.0 - 16.0 * cos(2.0 * UF_PI * (273.0 + i + 0.5 - 20.0) / 365.0);
        h[i] = 15.0;
    }
    reference_case(&d, finest_m, board);
    if (uf_section_create(&s, &d, 2.6, &err) != UF_OK ||
        uf_season_create(&season, s->heat, options, &err) != UF_OK) {
        printf("%s\n", err.text);
        exit(1);
    }
    double *T = calloc(s->heat->n, sizeof *T);
    for (size_t c = 0; c < s->heat->n; c++) {
        T[c] = 3.0 + 0.0375 * s->grid->z_m[c / s->grid->nx];
    }
    const struct uf_drive drive = {.start_day = 0.0,
                                   .days = DAYS + 2,
                                   .outside_degC = outside,
                                   .h_W_m2K = h,
                                   .air_degC = outside};
    uf_season_set(season, 0.0, T);
    uf_season_drive(season, &drive);
    size_t far = 0;
    while (far + 1 < s->grid->nx && s->grid->x_m[far] < 12.0) {
        far++;
    }
    double depth_max = 0.0, day_worst = 0.0, crown_min = 99.0, ref_max = 0.0,
           ref_crown = 99.0;
    double water_worst = 0.0;
    double exchanged = 0.0, before = 0.0;
    bool gone = false;
    int gone_day = -1, ref_gone = -1;
    for (int day = 1; day <= DAYS; day++) {
        if (uf_season_advance(season, day, &err) != UF_OK) {
            printf("%s\n", err.text);
            exit(1);
        }
        const double *now = uf_season_T_degC(season);
        const double q = uf_season_heat_J(season).surface_W;
        exchanged += fabs(q - before);
        before = q;
        const int row = day - (DAYS - 365);
        if (row < 0) {
            continue;
        }
        const double depth = uf_front_frost_m(
            s, uf_season_H_J_m3(season), now, far,
            uf_heat_surface_degC(s->heat, &s->heat->tops[far],
                                 &(struct uf_heat_now){.outside_degC = outside_at(day),
                                                       .h_W_m2K = 15.0,
                                                       .air_degC = 0.0},
                                 now[far]));
        const double want = ref->depth[board][row];
        depth_max = fmax(depth_max, depth);
        ref_max = fmax(ref_max, want);
        if (want > 1.0) {
            gone = true;
        }
        if (gone && ref_gone < 0 && want <= 0.0) {
            ref_gone = row;
        }
        if (gone && gone_day < 0 && depth <= 0.0) {
            gone_day = row;
        }
        if ((ref_gone < 0 && row + 1 < LAST &&
             !(gone && ref->depth[board][row + 1] <= 0.0))) {
            if (fabs(depth - want) > day_worst) {
                day_worst = fabs(depth - want);
            }
        }
        const double crown = uf_section_wall_degC(s, &s->heat->links[s->crown_link], now);
        crown_min = fmin(crown_min, crown);
        ref_crown = fmin(ref_crown, ref->crown[board][row]);
        water_worst = fmax(water_worst, fabs(crown - ref->crown[board][row]));
    }
    const struct uf_counters c = uf_season_counters(season);
    printf("%-5s %4.1f cm %-5s %5ld cells %6ld steps %7ld rhs %6ld fact %4ld nfail %4ld "
           "efail | dmax %+5.2f "
           "day %4.2f cm gone %+d d | dTc %+6.3f (daily %5.3f) K | leak %.1e | %.3f s\n",
           options->integrator == UF_FAST ? "fast" : "bdf", finest_m * 100.0,
           board ? "board" : "bare", c.cells, c.steps, c.rhs, c.factorisations,
           c.newton_failures, c.error_test_failures, 100.0 * (depth_max - ref_max),
           100.0 * day_worst, gone_day - ref_gone, crown_min - ref_crown, water_worst,
           fabs(uf_season_leak_J(season)) / exchanged, c.cpu_s);
    free(T);
    uf_season_free(season);
    uf_section_free(s);
}

int main(int argc, char **argv)
{
    static struct reference ref;
    if (!read_reference(&ref)) {
        printf("tests/data/reference_problem.csv could not be read\n");
        return 1;
    }
    const double sizes[] = {0.10, 0.075, 0.05, 0.025};
    const size_t n = argc > 1 ? (size_t)atoi(argv[1]) : 3;
    for (size_t k = 0; k < n && k < 4; k++) {
        for (int board = 0; board < 2; board++) {
            struct uf_season_options options = uf_season_defaults();
            options.steps_per_day = 2.0;
            run(&ref, sizes[k], board != 0, &options);
            options.integrator = UF_BDF;
            run(&ref, sizes[k], board != 0, &options);
        }
    }
    return 0;
}
