#include "verify_ground.h"

#include "ground.h"

#include <math.h>

/* Frost as it was measured, station by station. */

static const char RMSE_WHY[] = "1 K over every day of the part: reading to 0.1 K, the "
                               "sensor's own depth, soil by its water readings alone";
static const char FROST_WHY[] =
    "15 % or 10 cm, whichever is more: sensors stand 10 to 50 cm apart; both as the "
    "straight line between the sensors";
static const char DEEPER_WHY[] =
    "the lowest sensor froze, so the run must freeze there; 1 cm of its depth";
static const char BALANCE_WHY[] = "heat in less heat stored, over heat through the surface";

static void check_part(struct uf_verify *verify, const struct uf_ground_setup *setup,
                       const struct uf_ground_outcome *out)
{
    for (size_t s = 1; s + 1 < UF_GROUND_SENSORS; s++) {
        const struct uf_verify_check check = {.source = uf_ground_source,
                                              .why = RMSE_WHY,
                                              .unit = "K",
                                              .got = out->rmse_K[s],
                                              .expected = 0.0,
                                              .allowed = 1.0};
        uf_verify_add(verify, &check, "ground.%s.%s.rmse_%.0fcm", setup->site->key,
                      setup->part->key, 100.0 * uf_ground_depth_m[s]);
    }
}

static void check_balance(struct uf_verify *verify, const struct uf_ground_site *site, double worst,
                          const char *suffix)
{
    const struct uf_verify_check balance = {.source = "conservation of energy",
                                            .why = BALANCE_WHY,
                                            .unit = "1",
                                            .got = worst,
                                            .allowed = 1e-4};
    uf_verify_add(verify, &balance, "ground.%s.balance%s", site->key, suffix);
}

/* The deepest frost of a site, over its parts: between the sensors, or past the lowest. */
static void check_frost(struct uf_verify *verify, const struct uf_ground_site *site,
                        const struct uf_ground_outcome *deepest, const char *suffix)
{
    const double lowest_m = uf_ground_depth_m[UF_GROUND_SENSORS - 1];
    struct uf_verify_check check = {.source = uf_ground_source, .unit = "m"};
    if (deepest->deepest_froze) {
        check.why = DEEPER_WHY;
        check.got = deepest->frost_m;
        check.expected = lowest_m;
        check.allowed = 0.01;
    } else {
        check.why = FROST_WHY;
        check.got = deepest->frost_m;
        check.expected = deepest->measured_frost_m;
        check.allowed = fmax(0.10, 0.15 * deepest->measured_frost_m);
    }
    uf_verify_add(verify, &check, "ground.%s.frost%s", site->key, suffix);
}

/* One station. Temperatures are checked on the first integrator, the rest on each. */
static enum uf_status check_site(struct uf_verify *verify, const struct uf_ground_site *site,
                                 size_t integrator, struct uf_error *err)
{
    const char *suffix = uf_verify_suffix(verify->integrators[integrator]);
    struct uf_ground_record *record = NULL;
    struct uf_ground_outcome deepest = {.measured_frost_m = -1.0};
    double worst_balance = 0.0;
    struct uf_season_options options = uf_verify_season();
    options.integrator = verify->integrators[integrator];
    enum uf_status status = uf_ground_read(&record, site->file, err);
    for (const struct uf_ground_part *part = uf_ground_parts; part->key != NULL && status == UF_OK;
         part++) {
        const struct uf_ground_setup setup = {
            .site = site, .part = part, .drive = UF_GROUND_SENSOR};
        struct uf_ground_outcome out;
        status = uf_ground_run(&out, record, &setup, &options, err);
        if (status == UF_OK) {
            deepest = out.measured_frost_m > deepest.measured_frost_m ? out : deepest;
            worst_balance = fmax(worst_balance, out.heat_balance_relative);
        }
        if (status == UF_OK && integrator == 0) {
            check_part(verify, &setup, &out);
        }
    }
    if (status == UF_OK) {
        check_frost(verify, site, &deepest, suffix);
        check_balance(verify, site, worst_balance, suffix);
    }
    uf_ground_record_free(record);
    return status;
}

static const char SNOW_WHY[] =
    "10 cm: as the station is to be met; its sensors stand 15 and 30 cm apart; both as "
    "the straight line between them";

/* The deep-snow station: frost between its sensors, computed and read. */
static enum uf_status check_snow(struct uf_verify *verify, size_t integrator, struct uf_error *err)
{
    struct uf_ground_snow out;
    struct uf_season_options options = uf_verify_season();
    const char *suffix = uf_verify_suffix(verify->integrators[integrator]);
    options.integrator = verify->integrators[integrator];
    const enum uf_status status = uf_ground_snow_run(&out, &options, err);
    for (size_t i = 0; i < out.n && status == UF_OK && integrator == 0; i++) {
        const struct uf_ground_winter *w = &out.winters[i];
        const struct uf_verify_check check = {.source = uf_ground_snow_source,
                                              .why = SNOW_WHY,
                                              .unit = "m",
                                              .got = w->frost_m,
                                              .expected = w->measured_frost_m,
                                              .allowed = 0.10};
        if (w->read_days >= UF_GROUND_SNOW_DAYS) {
            uf_verify_add(verify, &check, "ground.snow.%d", w->year);
        }
    }
    const struct uf_verify_check balance = {.source = "conservation of energy",
                                            .why = BALANCE_WHY,
                                            .unit = "1",
                                            .got = out.heat_balance_relative,
                                            .allowed = 1e-4};
    if (status == UF_OK) {
        uf_verify_add(verify, &balance, "ground.snow.balance%s", suffix);
    }
    return status;
}

static enum uf_status run(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < verify->n_integrators && status == UF_OK; k++) {
        for (const struct uf_ground_site *site = uf_ground_sites;
             site->key != NULL && status == UF_OK; site++) {
            status = check_site(verify, site, k, err);
        }
        if (status == UF_OK) {
            status = check_snow(verify, k, err);
        }
        if (status == UF_OK && k == 0) { /* hundreds of winters: one integrator */
            struct uf_season_options options = uf_verify_season();
            options.integrator = verify->integrators[k];
            status = uf_verify_ground_index(verify, &options, err);
        }
    }
    return status;
}

const struct uf_verify_topic uf_verify_ground = {
    .name = "ground",
    .slow = true,
    .doc = "frost as measured at six stations, the misses shown",
    .run = run,
};
