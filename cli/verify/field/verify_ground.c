#include "verify_ground.h"

#include "ground_winters.h"
#include "io/text/show.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Frost as it was measured, station by station, by the site files in climates/. */

static const char RMSE_WHY[] = "1 K over every day of the part: reading to 0.1 K, the "
                               "sensor's own depth, soil by its water readings alone";
static const char FROST_WHY[] =
    "10 cm, or a quarter of the distance between the two sensors that it lies between, whichever "
    "is more: both are the straight line between sensors 10 to 50 cm apart";
static const char DEEPER_WHY[] =
    "the lowest sensor froze, so the run must freeze there; 1 cm of its depth";
static const char BALANCE_WHY[] = "heat in less heat stored, over heat through the surface";

/* Under snow the sun of autumn and a whole melt go by between the readings: only frost is held. */
static bool temperatures_held(const struct uf_ground_winter *winter)
{
    return strcmp(winter->station, "snow") != 0;
}

/* The sensors between the one that drives or stands uppermost and the lowest. */
static bool held(const struct uf_score_series *s)
{
    return s->depth_m > 0.07 && s->depth_m < 0.9;
}

static void check_temperatures(struct uf_verify *verify, const struct uf_ground_winter *winter,
                               const struct uf_site_score *score)
{
    for (size_t i = 0; i < score->n; i++) {
        const struct uf_score_series *s = &score->series[i];
        const struct uf_verify_check check = {.source = uf_ground_winters_source,
                                              .why = RMSE_WHY,
                                              .unit = "K",
                                              .got = s->score.rmse,
                                              .allowed = 1.0};
        if (held(s)) {
            uf_verify_add(verify, &check, "ground.%s.%s.rmse_%.0fcm", winter->station, winter->part,
                          100.0 * s->depth_m);
        }
    }
}

/* A quarter of the distance between the sensors round a depth, at least 10 cm. */
static double allowed_m(const struct uf_site_score *score, double depth_m)
{
    for (size_t i = 1; i < score->n; i++) {
        if (score->series[i].depth_m > depth_m) {
            return fmax(0.10, 0.25 * (score->series[i].depth_m - score->series[i - 1].depth_m));
        }
    }
    return 0.10;
}

static struct uf_verify_check frost_check(const struct uf_site_score *score)
{
    const struct uf_score_profile *p = &score->profile;
    return (struct uf_verify_check){
        .source = uf_ground_winters_source,
        .unit = "m",
        .why = p->past_lowest ? DEEPER_WHY : FROST_WHY,
        .got = p->computed.deepest_m,
        .expected = p->past_lowest ? p->lowest_m : p->measured.deepest_m,
        .allowed = p->past_lowest ? 0.01 : allowed_m(score, p->measured.deepest_m)};
}

/* What is held of a station as a whole: its deepest frost, and the worst balance. */
struct station {
    struct uf_verify_check frost;
    double balance;
    bool any;
};

static void take(struct station *station, const struct uf_site_score *score)
{
    const struct uf_verify_check frost = frost_check(score);
    if (!station->any || frost.expected > station->frost.expected) {
        station->frost = frost;
    }
    station->balance = fmax(station->balance, score->profile.heat_balance_relative);
    station->any = true;
}

static void check_station(struct uf_verify *verify, struct station *station, const char *name,
                          bool frost, const char *suffix)
{
    const struct uf_verify_check balance = {.source = "conservation of energy",
                                            .why = BALANCE_WHY,
                                            .unit = "1",
                                            .got = station->balance,
                                            .allowed = 1e-4};
    if (frost) {
        uf_verify_add(verify, &station->frost, "ground.%s.frost%s", name, suffix);
    }
    uf_verify_add(verify, &balance, "ground.%s.balance%s", name, suffix);
    *station = (struct station){.any = false};
}

/* Every winter of every station. Temperatures are checked on the first integrator, the rest on
   each; under snow each winter's frost stands by itself. */
static enum uf_status run_winters(struct uf_verify *verify, size_t integrator, struct uf_error *err)
{
    const char *suffix = uf_verify_suffix(verify->integrators[integrator]);
    struct uf_season_options options = uf_verify_season();
    struct station station = {.any = false};
    enum uf_status status = UF_OK;
    options.integrator = verify->integrators[integrator];
    for (const struct uf_ground_winter *w = uf_ground_winters_rows; w->station != NULL; w++) {
        struct uf_ground_outcome out;
        status = uf_ground_winters_run(&out, w, &options, err);
        if (status == UF_OK) {
            take(&station, &out.score);
            if (integrator == 0 && temperatures_held(w)) {
                check_temperatures(verify, w, &out.score);
            } else if (integrator == 0 && w->miss == NULL) {
                const struct uf_verify_check frost = frost_check(&out.score);
                uf_verify_add(verify, &frost, "ground.%s.%s.frost", w->station, w->part);
            }
        }
        uf_ground_winters_free(&out);
        if (status != UF_OK) {
            return status;
        }
        if (w[1].station == NULL || strcmp(w->station, w[1].station) != 0) {
            check_station(verify, &station, w->station, temperatures_held(w), suffix);
        }
    }
    return UF_OK;
}

static enum uf_status run(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < verify->n_integrators && status == UF_OK; k++) {
        status = run_winters(verify, k, err);
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

/* ---- The tables --------------------------------------------------------------------------- */

enum { SHOWN = 3 };
static const double shown_m[SHOWN] = {0.10, 0.20, 0.50};

static void cell_score(struct uf_show_table *table, const struct uf_site_score *score,
                       double depth_m)
{
    for (size_t i = 0; i < score->n; i++) {
        const struct uf_score_series *s = &score->series[i];
        if (fabs(s->depth_m - depth_m) < 1e-6) {
            uf_show_table_cell(table, "%.2f", s->score.rmse);
            uf_show_table_cell(table, "%+.2f", s->score.bias);
            return;
        }
    }
    uf_show_table_cell(table, "-");
    uf_show_table_cell(table, "-");
}

static void show_winter(struct uf_show_table *table, const struct uf_ground_winter *w,
                        const struct uf_site_score *score)
{
    const struct uf_score_profile *p = &score->profile;
    uf_show_table_cell(table, "%s", w->station);
    uf_show_table_cell(table, "%s", w->part);
    for (size_t i = 0; i < SHOWN; i++) {
        cell_score(table, score, shown_m[i]);
    }
    uf_show_table_cell(table, "%s%.2f", p->past_lowest ? ">" : "", p->measured.deepest_m);
    uf_show_table_cell(table, "%.2f", p->computed.deepest_m);
    uf_show_table_cell(table, "%.2f", p->line.deepest_m);
}

/* What is shown and not held. */
static void show_misses(void)
{
    for (const struct uf_ground_winter *w = uf_ground_winters_rows; w->station != NULL; w++) {
        if (w->miss != NULL) {
            char label[60];
            (void)snprintf(label, sizeof label, "%s %s, not held", w->station, w->part);
            uf_show_line(stdout, label, "%s", w->miss);
        }
    }
}

void uf_verify_ground_tell(void)
{
    static const struct uf_show_column columns[] = {
        {"station", 'l'},     {"part", 'l'},        {"10 cm\nrmse", 'r'}, {"\nbias", 'r'},
        {"20 cm\nrmse", 'r'}, {"\nbias", 'r'},      {"50 cm\nrmse", 'r'}, {"\nbias", 'r'},
        {"frost\nread", 'r'}, {"com-\nputed", 'r'}, {"\nline", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    const struct uf_season_options options = uf_verify_season();
    struct uf_error err = {0};
    enum uf_status status = UF_OK;
    for (const struct uf_ground_winter *w = uf_ground_winters_rows;
         w->station != NULL && status == UF_OK; w++) {
        struct uf_ground_outcome out;
        status = uf_ground_winters_run(&out, w, &options, &err);
        if (status == UF_OK) {
            show_winter(table, w, &out.score);
        }
        uf_ground_winters_free(&out);
    }
    (void)putchar('\n');
    uf_show_table_end(stdout, table);
    if (status != UF_OK) {
        uf_show_text(stdout, 0, err.text);
        return;
    }
    uf_show_text(
        stdout, 0,
        "rmse and bias: computed less measured, K, over every day of the part; 1 K is held at "
        "10, 20 and 50 cm but under snow. Frost, m: the 0 degC line, straight between the "
        "sensors, read and computed alike, which is held for the deepest frost of each "
        "station's year and for each winter under snow; line: the run's own. Each row is a "
        "site file in climates/ that `underfrost score` runs; its soil is that of the water "
        "readings, its water their mean while thawed, and where a sensor was frozen at the "
        "start its ice follows from its temperature.");
    show_misses();
    uf_verify_ground_index_tell();
}
