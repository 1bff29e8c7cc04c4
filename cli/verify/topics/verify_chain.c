#include "cli/verify/exact/exact.h"
#include "cli/verify/exact/steady.h"
#include "cli/verify/verify.h"
#include "solver/base/constants.h"
#include "solver/ground/soil.h"
#include "solver/run/run.h"

#include <math.h>
#include <stdlib.h>

/* From a design as a site file gives it to a temperature: the law of the surface, the
   layers, the board, the geothermal heat, and what a tank loses and takes up. Expected
   values are written out in figures, so that a constant of the program cannot change on
   both sides at once. */

#define SERIES_SOURCE                                                                              \
    "resistances in series, T = Ts + q (1/h + sum d/k), by hand; snow of 250 kg/m3 "               \
    "conducts 0.08756 W/mK (Sturm et al. 1997, read)"
#define MELT_SOURCE "snow melts at its base: the ground under it stands at 0 degC"

static const double HEAT_W_M2 = 5.0; /* upward, far above nature: what lies in the way shows */

/* 1 m of 2 W/mK over 1 W/mK; 0.1 m of board from 1.2 m on, past both ends; under it a
   small empty box whose disturbance does not reach the side. */
static struct uf_case layered(void)
{
    struct uf_case d = uf_verify_plain(uf_verify_plain_soil(2.0, 2e6), 1.0, NAN);
    d.ground.n_layers = 2;
    d.ground.layers[1].to_m = 8.0;
    d.ground.layers[1].spec.has_thermal = true;
    d.ground.layers[1].spec.thermal = uf_verify_plain_soil(1.0, 2e6);
    d.ground.geothermal_W_m2 = HEAT_W_M2;
    d.tank.shape = UF_BOX;
    d.tank.width_m = d.tank.height_m = 0.4;
    d.tank.length_m = 4.0;
    d.burial.cover_m = 1.5;
    d.board.present = true;
    d.board.k_W_mK = 0.034;
    d.board.density_kg_m3 = 30.0;
    d.board.thickness_m = 0.1;
    d.board.above_crown_m = 0.2;
    d.board.beyond_tank_m = 60.0;
    d.grid = (struct uf_grid_input){.finest_m = 0.1, .width_m = 40.0, .depth_m = 8.0};
    return d;
}

/* Temperature at 2 m, far from the box, with one day's weather for ever. */
static enum uf_status settled_degC(double *degC, const struct uf_case *design, double air_degC,
                                   double snow_m, struct uf_error *err)
{
    const struct uf_forcing_weather weather = {.days = 1, .air_degC = &air_degC, .snow_m = &snow_m};
    struct uf_forcing *forcing = NULL;
    struct uf_section *section = NULL;
    double *T_degC = NULL;
    enum uf_status status = uf_forcing_create(&forcing, &design->surface, &weather, err);
    if (status == UF_OK) {
        status = uf_section_create(&section, design, 2.5, err);
    }
    if (status != UF_OK) {
        goto done;
    }
    T_degC = calloc(section->heat->n, sizeof *T_degC);
    if (T_degC == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a check");
        goto done;
    }
    const struct uf_heat_now now = uf_season_now(&forcing->season, 0.5);
    status = uf_steady_solve(section->heat, &now, NULL, T_degC, err);
    *degC = uf_section_at_degC(section, T_degC, 39.0, 2.0);
done:
    free(T_degC);
    uf_section_free(section);
    uf_forcing_free(forcing);
    return status;
}

static enum uf_status add_series(struct uf_verify *verify, struct uf_error *err)
{
    static const struct {
        const char *name;
        enum uf_surface_kind kind;
        enum uf_snow_kind snow;
        double n_freezing, n_thawing, air_degC, snow_m, surface_degC, above_m2K_W;
        const char *source;
    } rows[] = {
        {"film", UF_SURFACE_FILM, UF_SNOW_NONE, NAN, NAN, -10.0, 0.0, -10.0, 1.0 / 12.0,
         SERIES_SOURCE},
        {"snow_fixed", UF_SURFACE_FILM, UF_SNOW_FIXED, NAN, NAN, -60.0, 0.0, -60.0,
         1.0 / 12.0 + 0.4 / 0.08756, SERIES_SOURCE},
        {"snow_recorded", UF_SURFACE_FILM, UF_SNOW_RECORDED, NAN, NAN, -60.0, 0.2, -60.0,
         1.0 / 12.0 + 0.2 / 0.08756, SERIES_SOURCE},
        {"snow_melts", UF_SURFACE_FILM, UF_SNOW_RECORDED, NAN, NAN, -2.0, 0.3, 0.0, 0.0,
         MELT_SOURCE},
        {"snow_thaws", UF_SURFACE_FILM, UF_SNOW_RECORDED, NAN, NAN, 8.0, 0.3, 0.0, 0.0,
         MELT_SOURCE},
        {"n_freezing", UF_SURFACE_N_FACTOR, UF_SNOW_NONE, 0.7, 1.4, -10.0, 0.0, -7.0, 0.0,
         SERIES_SOURCE},
        {"n_thawing", UF_SURFACE_N_FACTOR, UF_SNOW_NONE, 0.7, 1.4, 10.0, 0.0, 14.0, 0.0,
         SERIES_SOURCE},
        {"measured", UF_SURFACE_MEASURED, UF_SNOW_NONE, NAN, NAN, -4.0, 0.0, -4.0, 0.0,
         SERIES_SOURCE},
    };
    const double ground_m2K_W = 1.0 / 2.0 + 0.2 / 1.0 + 0.1 / 0.034 + 0.7 / 1.0;
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0] && status == UF_OK; i++) {
        struct uf_case d = layered();
        d.surface.kind = rows[i].kind;
        d.surface.film_W_m2K = 12.0;
        d.surface.snow = rows[i].snow;
        d.surface.snow_depth_m = 0.4;
        d.surface.snow_density_kg_m3 = 250.0;
        d.surface.n_freezing = rows[i].n_freezing;
        d.surface.n_thawing = rows[i].n_thawing;
        struct uf_verify_check check = {
            .source = rows[i].source,
            .why = "0.01 K: straight lines, which any grid takes exactly",
            .unit = "degC",
            .expected = rows[i].surface_degC + HEAT_W_M2 * (rows[i].above_m2K_W + ground_m2K_W),
            .allowed = 0.01};
        status = settled_degC(&check.got, &d, rows[i].air_degC, rows[i].snow_m, err);
        if (status == UF_OK) {
            uf_verify_add(verify, &check, "chain.%s", rows[i].name);
        }
    }
    return status;
}

/* A row of the soil table, dry above the table of water and full below it; both frozen,
   heat passing as before. Cote & Konrad (2005) by hand: porosity 0.4074, grains 5.878
   W/mK; full of ice 5.878^0.5926 x 2.24^0.4074 = 3.96857, at 5 % of water 0.94514. */
static enum uf_status add_soil(struct uf_verify *verify, struct uf_error *err)
{
    struct uf_case d = layered();
    struct uf_verify_check check = {
        .source = "resistances in series; sand of 1600 kg/m3 and 5 % of water, dry and "
                  "full, by Cote & Konrad 2005 (kappa and ice read, dry law from memory)",
        .why = "0.01 K: straight lines, which any grid takes exactly",
        .unit = "degC",
        .expected =
            -60.0 + HEAT_W_M2 * (1.2 / 0.94514 + 0.1 / 0.034 + 0.2 / 0.94514 + 0.5 / 3.96857),
        .allowed = 0.01};
    d.surface.kind = UF_SURFACE_MEASURED;
    d.ground.water_winter_m = 1.5;
    for (size_t i = 0; i < 2; i++) {
        struct uf_ground_spec *spec = &d.ground.layers[i].spec;
        spec->has_thermal = false;
        spec->soil = uf_soil_find("sand");
        spec->dry_density_kg_m3 = 1600.0;
        spec->moisture_by_mass = 0.05;
    }
    const enum uf_status status = settled_degC(&check.got, &d, -60.0, 0.0, err);
    if (status == UF_OK) {
        uf_verify_add(verify, &check, "chain.saturated");
    }
    return status;
}

/* A whole run, through its start: 140 days and a year, both of one wave or one level. */
enum { SEASON = 140, YEAR = 365 };

static enum uf_status run_days(struct uf_run **run, struct uf_forcing **forcing,
                               const struct uf_case *design, const double *air_degC,
                               const struct uf_run_options *options, struct uf_error *err)
{
    static const double bare_m[YEAR] = {0.0};
    const struct uf_forcing_weather weather = {.days = SEASON,
                                               .year_days = YEAR,
                                               .air_degC = air_degC,
                                               .snow_m = bare_m,
                                               .year_air_degC = air_degC,
                                               .year_snow_m = bare_m};
    enum uf_status status = uf_forcing_create(forcing, &design->surface, &weather, err);
    if (status == UF_OK) {
        status = uf_run_create(run, design, *forcing, options, err);
    }
    while (status == UF_OK && !uf_run_done(*run)) {
        status = uf_run_next(*run, err);
    }
    return status;
}

/* One soil, 40 m of it, and nothing in it. */
static struct uf_case bare(struct uf_thermal soil)
{
    struct uf_case d = uf_verify_plain(soil, 40.0, 0.05);
    d.tank.shape = UF_NO_TANK;
    return d;
}

static enum uf_status add_wave(struct uf_verify *verify, enum uf_integrator integrator,
                               struct uf_error *err)
{
    const struct uf_exact_wave wave = {10.0, 8.0, 20.0, YEAR, 1.5, 0.5e-6, 1.0 / 15.0};
    double air_degC[YEAR];
    struct uf_run_options options = uf_run_defaults();
    struct uf_run *run = NULL;
    struct uf_forcing *forcing = NULL;
    struct uf_case d = bare(uf_verify_plain_soil(1.5, 3e6));
    options.season.integrator = integrator;
    for (int i = 0; i < YEAR; i++) {
        air_degC[i] =
            wave.mean_degC - wave.amplitude_K * cos(2.0 * UF_PI * (i + 0.5 - 20.0) / YEAR);
    }
    const enum uf_status status = run_days(&run, &forcing, &d, air_degC, &options, err);
    if (status == UF_OK) {
        const struct uf_verify_check check = {
            .source = "annual wave under a film: Carslaw & Jaeger sec. 2.6; value computed",
            .why = "0.03 K: the start repeats its year within 0.02 K; half a day of delay "
                   "would be 0.06 K",
            .unit = "degC",
            .got = uf_section_at_degC(uf_run_section(run), uf_season_T_degC(uf_run_season(run)),
                                      0.0, 1.0),
            .expected = uf_exact_wave_degC(&wave, 1.0, SEASON),
            .allowed = 0.03};
        uf_verify_add(verify, &check, "chain.wave%s", uf_verify_suffix(integrator));
    }
    uf_run_free(run);
    uf_forcing_free(forcing);
    return status;
}

/* The depth of frost as it is told, from a profile of 5 degC, after 140 days at -10 degC:
   the 0 degC line lies 1.5 cm below Neumann's sharp front, 1.78467 m. */
static enum uf_status add_frost(struct uf_verify *verify, enum uf_integrator integrator,
                                struct uf_error *err)
{
    double air_degC[YEAR];
    struct uf_run_options options = uf_run_defaults();
    struct uf_run *run = NULL;
    struct uf_forcing *forcing = NULL;
    static const struct uf_thermal soil = {.k_thawed_W_mK = 1.5,
                                           .k_frozen_W_mK = 2.5,
                                           .c_thawed_J_m3K = 3.0e6,
                                           .c_frozen_J_m3K = 1.9e6,
                                           .latent_J_m3 = 150e6,
                                           .freezing_from_degC = 0.0,
                                           .freezing_to_degC = -0.1};
    struct uf_case d = bare(soil);
    options.season.integrator = integrator;
    d.surface.kind = UF_SURFACE_MEASURED;
    d.initial.n_profile = 1;
    d.initial.below = UF_BELOW_CONSTANT; /* 5 degC all the way down */
    d.initial.degC[0] = 5.0;
    for (int i = 0; i < YEAR; i++) {
        air_degC[i] = -10.0;
    }
    const enum uf_status status = run_days(&run, &forcing, &d, air_degC, &options, err);
    if (status == UF_OK) {
        const struct uf_verify_check check = {
            .source = "freezing over 0.1 K, three zones, soil of N1: Lunardini 1985 (form "
                      "from memory); first ice after 140 days, value computed",
            .why = "2 cm, as on the reference problem: rows of 5 cm",
            .unit = "m",
            .got = uf_run_summary(run).frost_undisturbed_m,
            .expected = 1.79921,
            .allowed = 0.02};
        uf_verify_add(verify, &check, "chain.frost%s", uf_verify_suffix(integrator));
    }
    uf_run_free(run);
    uf_forcing_free(forcing);
    return status;
}

/* 1 m3 a day at 15 degC into a tank of 2.1 m, 6 m long with flat ends, in ground at 5
   degC: what flows in, less what the riser takes, leaves through the wall. */
static struct uf_case fed_tank(void)
{
    struct uf_case d = layered();
    d.surface.kind = UF_SURFACE_MEASURED;
    d.board.present = false;
    d.ground.geothermal_W_m2 = 0.0;
    d.ground.n_layers = 1;
    d.ground.layers[0].to_m = 60.0;
    d.ground.layers[0].spec.thermal.k_thawed_W_mK = 1.8;
    d.ground.layers[0].spec.thermal.k_frozen_W_mK = 1.8;
    d.grid = (struct uf_grid_input){.finest_m = 0.05, .width_m = 60.0, .depth_m = 60.0};
    d.tank.shape = UF_HORIZONTAL_CYLINDER;
    d.tank.diameter_m = d.tank.level_m = 2.1;
    d.tank.water = UF_WATER_MIXED;
    d.tank.length_m = 6.0;
    d.tank.wall_thickness_m = 0.05;
    d.tank.wall_k_W_mK = 0.03;
    d.tank.n_risers = 1;
    d.tank.risers[0] = (struct uf_riser){
        .diameter_m = 1.2, .above_grade_m = 0.15, .lid_m2K_W = 0.1, .lid_at = UF_LID_CROWN};
    d.tank.inflow_m3_s = 1.0 / UF_DAY_S;
    d.tank.inflow_degC = 15.0;
    d.burial.cover_m = 1.05;
    return d;
}

static enum uf_status add_inflow(struct uf_verify *verify, struct uf_error *err)
{
    const struct uf_exact_pipe side = {"tank", 1.8, 2.1, 1.0, 1.05, 0.03, 60.0, 1.0, 0.0};
    const double side_W_K = 6.0 * uf_exact_pipe_W_m(&side);
    const double riser_W_K = UF_PI * 0.36 / (0.1 + 0.13 + 0.04);
    const double inflow_W_K = 4.18e6 / 86400.0;
    const struct uf_case design = fed_tank();
    struct uf_run_options options = uf_run_defaults();
    double air_degC[YEAR];
    options.inflow = true;
    for (int i = 0; i < YEAR; i++) {
        air_degC[i] = 5.0;
    }
    struct uf_run *run = NULL;
    struct uf_forcing *forcing = NULL;
    const enum uf_status status = run_days(&run, &forcing, &design, air_degC, &options, err);
    if (status == UF_OK) {
        const struct uf_verify_check check = {
            .source = "heat in is heat out; wall and ground by multipoles, riser with 0.17 "
                      "m2K/W of films",
            .why = "1 % of the wall's heat (as for the pipes) and 0.02 K of the start",
            .unit = "degC",
            .got = uf_run_summary(run).water.degC,
            .expected = 5.0 + 10.0 * inflow_W_K / (inflow_W_K + side_W_K + riser_W_K),
            .allowed = 0.05};
        uf_verify_add(verify, &check, "chain.inflow");
    }
    uf_run_free(run);
    uf_forcing_free(forcing);
    return status;
}

static enum uf_status once(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = add_series(verify, err);
    status = status == UF_OK ? add_soil(verify, err) : status;
    return status == UF_OK ? add_inflow(verify, err) : status;
}

static enum uf_status each(struct uf_verify *verify, size_t k, enum uf_integrator integrator,
                           struct uf_error *err)
{
    return k == 0 ? add_wave(verify, integrator, err) : add_frost(verify, integrator, err);
}

const struct uf_verify_topic uf_verify_chain = {
    .name = "chain",
    .doc = "design to temperature: surface laws, board, inflow",
    .run = once,
    .each = each,
    .n = 2};
