#include "cli/verify/verify.h"
#include "solver/base/constants.h"
#include "solver/run/run.h"

#include <math.h>

/* What the ends of a tank cost its water, three dimensions less the plane section, start-up and a
   winter through the whole program; and both integrators in three dimensions. */

enum { WINTER_DAYS = 300, YEAR_DAYS = 365 };

/* A box of the section of a drum of 2.4 m, one mixed body, in one soil, under a board. */
static struct uf_case box_design(double length_m)
{
    struct uf_case d = uf_verify_plain(uf_verify_silt(), 15.0, NAN);
    d.tank.shape = UF_BOX;
    d.tank.width_m = d.tank.height_m = d.tank.level_m = 2.127;
    d.tank.length_m = length_m;
    d.tank.water = UF_WATER_MIXED;
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    d.burial.cover_m = 1.2;
    d.board.present = true;
    d.board.k_W_mK = 0.03;
    d.board.density_kg_m3 = 30.0;
    d.board.thickness_m = 0.1;
    d.board.beyond_tank_m = 1.2;
    d.board.above_crown_m = 0.2;
    d.grid.finest_m = 0.2;
    return d;
}

/* A cosine year, coldest on 20 January, and the winter in it from 1 October on. */
static struct uf_forcing_weather cosine_weather(void)
{
    static double air_degC[YEAR_DAYS];
    static double snow_m[YEAR_DAYS];
    for (int i = 0; i < YEAR_DAYS; i++) {
        air_degC[i] = 6.6 - 16.0 * cos(2.0 * UF_PI * (273.0 + i + 0.5 - 20.0) / YEAR_DAYS);
    }
    return (struct uf_forcing_weather){.start_day = 11000,
                                       .days = WINTER_DAYS,
                                       .year_days = YEAR_DAYS,
                                       .air_degC = air_degC,
                                       .snow_m = snow_m,
                                       .year_air_degC = air_degC,
                                       .year_snow_m = snow_m};
}

static enum uf_status coldest(struct uf_summary *out, const struct uf_case *design,
                              enum uf_integrator integrator, struct uf_error *err)
{
    const struct uf_forcing_weather weather = cosine_weather();
    struct uf_run_options options = uf_run_defaults();
    struct uf_forcing *forcing = NULL;
    options.season = uf_verify_season();
    options.season.integrator = integrator;
    enum uf_status status = uf_forcing_create(&forcing, &design->surface, &weather, err);
    if (status == UF_OK) {
        status = uf_run_all(out, NULL, design, forcing, &options, NULL, err);
    }
    uf_forcing_free(forcing);
    return status;
}

static void add_end(struct uf_verify *verify, double length_m, double end_K, double expected_K)
{
    const struct uf_verify_check check = {
        .source = "independent finite volumes in three dimensions (not published); its soil and "
                  "winter are not told: these bring the plane section near its 2.96 degC",
        .why = "0.08 K, what two models may differ by",
        .unit = "K",
        .got = end_K,
        .expected = expected_K,
        .allowed = 0.08};
    uf_verify_add(verify, &check, "ends.%gm", length_m);
}

static enum uf_status add_ends(struct uf_verify *verify, struct uf_summary *shortest,
                               struct uf_error *err)
{
    static const struct {
        double length_m, end_K;
    } rows[] = {{24.0, -0.12}, {12.0, -0.22}, {6.0, -0.38}};
    struct uf_case design = box_design(6.0);
    struct uf_summary plane;
    design.tank.ends = UF_ENDS_PLANE;
    enum uf_status status = coldest(&plane, &design, UF_FAST, err);
    for (size_t k = 0; k < sizeof rows / sizeof *rows && status == UF_OK; k++) {
        design = box_design(rows[k].length_m);
        status = coldest(shortest, &design, UF_FAST, err);
        if (status == UF_OK) {
            add_end(verify, rows[k].length_m, shortest->water.degC - plane.water.degC,
                    rows[k].end_K);
        }
    }
    return status;
}

static enum uf_status add_integrators(struct uf_verify *verify, const struct uf_summary *fast,
                                      struct uf_error *err)
{
    const struct uf_case design = box_design(6.0);
    struct uf_summary bdf;
    const enum uf_status status = coldest(&bdf, &design, UF_BDF, err);
    if (status == UF_OK) {
        struct uf_verify_check check = {.source = "the fast integrator, the same slices",
                                        .why = "0.02 K: steps of either at their defaults",
                                        .unit = "degC",
                                        .got = bdf.water.degC,
                                        .expected = fast->water.degC,
                                        .allowed = 0.02};
        uf_verify_add(verify, &check, "ends.water.reference");
        check.got = bdf.wall.degC;
        check.expected = fast->wall.degC;
        uf_verify_add(verify, &check, "ends.wall.reference");
        check.why = "2 cm: on what day a row of 0.2 m begins to freeze";
        check.unit = "m";
        check.got = bdf.frost_undisturbed_m;
        check.expected = fast->frost_undisturbed_m;
        uf_verify_add(verify, &check, "ends.frost.reference");
        check.source = "heat in is heat stored";
        check.why = "1e-6 of the heat exchanged at the surface";
        check.unit = "1";
        check.got = bdf.heat_balance_relative;
        check.expected = 0.0;
        check.allowed = 1e-6;
        uf_verify_add(verify, &check, "ends.heat.reference");
    }
    return status;
}

static enum uf_status run(struct uf_verify *verify, struct uf_error *err)
{
    struct uf_summary shortest;
    enum uf_status status = add_ends(verify, &shortest, err);
    if (status == UF_OK && verify->integrators[verify->n_integrators - 1] == UF_BDF) {
        status = add_integrators(verify, &shortest, err);
    }
    return status;
}

const struct uf_verify_topic uf_verify_ends = {
    .name = "ends",
    .doc = "the ends of a tank in three dimensions, both integrators",
    .run = run,
    .slow = true};
