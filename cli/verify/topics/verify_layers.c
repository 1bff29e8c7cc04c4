#include "cli/verify/verify.h"
#include "solver/base/constants.h"
#include "solver/heat/layers.h"
#include "solver/heat/section.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Water in layers: conduction from row to row against the exact decay of a cosine, one mixed body
   where rows conduct without limit, finer rows and shorter steps, the two integrators, heat. */

enum { DAYS = 40 };

/* A box 2 m wide and high under 1 m of ground that does not freeze. */
static struct uf_case box_design(double finest_m)
{
    struct uf_case d = uf_verify_plain(uf_verify_plain_soil(1.5, 2.5e6), 12.0, finest_m);
    d.tank.shape = UF_BOX;
    d.tank.width_m = d.tank.height_m = d.tank.level_m = 2.0;
    d.tank.length_m = 10.0;
    d.tank.ends = false;
    d.burial.cover_m = 1.0;
    return d;
}

struct bench {
    struct uf_section *section;
    struct uf_season *season;
    double *T_degC;
};

static enum uf_status open_bench(struct bench *b, const struct uf_case *design,
                                 enum uf_integrator integrator, double steps_per_day,
                                 struct uf_error *err)
{
    struct uf_season_options options = uf_verify_season();
    options.integrator = integrator;
    options.steps_per_day = steps_per_day;
    *b = (struct bench){NULL, NULL, NULL};
    enum uf_status status = uf_section_create(&b->section, design, 4.0, err);
    if (status == UF_OK) {
        status = uf_season_create(&b->season, b->section->heat, &options, err);
    }
    if (status == UF_OK) {
        b->T_degC = calloc(b->section->heat->n, sizeof *b->T_degC);
        status = b->T_degC == NULL ? uf_fail(err, UF_E_MEMORY, "out of memory for a check") : UF_OK;
    }
    return status;
}

static void close_bench(struct bench *b)
{
    free(b->T_degC);
    uf_season_free(b->season);
    uf_section_free(b->section);
}

static const double COLD_DEGC = -5.0;
static const double BARE_W_M2K = INFINITY;
static const struct uf_drive COLD = {.days = 1,
                                     .periodic = true,
                                     .outside_degC = &COLD_DEGC,
                                     .h_W_m2K = &BARE_W_M2K,
                                     .air_degC = &COLD_DEGC};

/* T = 2 - cos(pi z / H): colder on top, below 3.98 degC, no heat through the walls. What is left
   of the cosine after 20 days. */
static enum uf_status cosine(struct uf_verify *verify, size_t unused __attribute__((unused)),
                             enum uf_integrator integrator, struct uf_error *err)
{
    const struct uf_case d = box_design(0.05);
    struct bench b;
    enum uf_status status = open_bench(&b, &d, integrator, 4.0, err);
    if (status == UF_OK) {
        struct uf_heat *h = b.section->heat;
        const double *edge_m = b.section->water_edge_m;
        double left = 0.0;
        for (size_t l = 0; l < h->n_links; l++) {
            h->links[l].area_m2 *= h->links[l].wetted ? 1e-12 : 1.0;
        }
        for (size_t r = 0; r < h->n_water; r++) {
            const double z = 0.5 * (edge_m[r] + edge_m[r + 1]) - edge_m[0];
            b.T_degC[h->water + r] = 2.0 - cos(UF_PI * z / 2.0);
        }
        uf_season_free(b.season);
        b.season = NULL;
        struct uf_season_options options = uf_verify_season();
        options.integrator = integrator;
        status = uf_season_create(&b.season, h, &options, err);
        if (status == UF_OK) {
            uf_season_drive(b.season, &COLD);
            uf_season_set(b.season, 0.0, b.T_degC);
            status = uf_season_advance(b.season, 20.0, err);
        }
        for (size_t r = 0; status == UF_OK && r < h->n_water; r++) {
            const double z = 0.5 * (edge_m[r] + edge_m[r + 1]) - edge_m[0];
            left -= uf_season_T_degC(b.season)[h->water + r] * cos(UF_PI * z / 2.0) *
                    (edge_m[r + 1] - edge_m[r]);
        }
        const double rate_1_s =
            UF_WATER_CONDUCTIVITY_W_MK / UF_WATER_CAPACITY_J_M3K * UF_PI * UF_PI / 4.0;
        const struct uf_verify_check check = {
            .source = "conduction in an insulated slab, Carslaw & Jaeger sec. 3.3; value computed",
            .why = "0.2 %: rows of 5 cm in 2 m, second order",
            .unit = "K",
            .got = left,
            .expected = exp(-rate_1_s * 20.0 * UF_DAY_S),
            .allowed = 0.002};
        uf_verify_add(verify, &check, "layers.cosine%s", uf_verify_suffix(integrator));
    }
    close_bench(&b);
    return status;
}

/* The box from 8 degC under ground kept at -5 degC: coldest and mean water, and what heat the
   solver lost, as a share of what the water gave. */
struct cooled {
    double coldest_degC, mean_degC, lost;
};

static enum uf_status cool(struct cooled *out, const struct uf_case *design,
                           enum uf_integrator integrator, double steps, double conduct,
                           struct uf_error *err)
{
    struct bench b;
    enum uf_status status = open_bench(&b, design, integrator, steps, err);
    *out = (struct cooled){NAN, 0.0, NAN};
    if (status == UF_OK) {
        struct uf_heat *h = b.section->heat;
        double all_m3 = 0.0;
        for (size_t l = 0; l < h->n_links; l++) {
            struct uf_heat_link *link = &h->links[l];
            if (uf_heat_is_water(h, link->a) && uf_heat_is_water(h, link->b)) {
                link->area_m2 *= conduct;
            }
        }
        for (size_t i = 0; i < h->n; i++) {
            b.T_degC[i] = 8.0;
        }
        uf_season_drive(b.season, &COLD);
        uf_season_set(b.season, 0.0, b.T_degC);
        status = uf_season_advance(b.season, DAYS, err);
        const double *T = uf_season_T_degC(b.season);
        for (size_t r = h->water; status == UF_OK && r < h->water + h->n_water; r++) {
            out->coldest_degC = fmin(out->coldest_degC, T[r]);
            out->mean_degC += T[r] * h->volume_m3[r];
            all_m3 += h->volume_m3[r];
        }
        out->mean_degC /= all_m3;
        const struct uf_heat_budget budget = uf_season_heat_J(b.season);
        const double given_J = uf_heat_total_J(&budget);
        out->lost = fabs(uf_season_leak_J(b.season) / given_J);
    }
    close_bench(&b);
    return status;
}

static enum uf_status cooling(struct uf_verify *verify, struct uf_error *err)
{
    struct uf_case d = box_design(0.1);
    struct uf_case one = d;
    struct uf_case fine = box_design(0.05);
    struct cooled rows;
    struct cooled other;
    one.tank.water = UF_WATER_MIXED;
    enum uf_status status = cool(&rows, &d, UF_FAST, 4.0, 1.0, err);
    struct uf_verify_check check = {
        .source = "the same by other means, computed", .unit = "degC", .got = rows.coldest_degC};
    const struct {
        const char *name, *why;
        const struct uf_case *design;
        enum uf_integrator integrator;
        double steps, allowed;
    } others[] = {
        {"reference", "0.05 K between two integrators that turn rows over in different ways", &d,
         UF_BDF, 4.0, 0.05},
        {"steps",
         "0.1 K: whether the pool at 4 degC below takes in one row more hangs on the step, at 2 to 6 "
         "steps a day not, from 8 on it does; a row of 10 cm is worth 0.08 K",
         &d, UF_FAST, 24.0, 0.1},
        {"rows", "0.2 K: the topmost row is a mean over 10 or 5 cm, at some 2 K a metre", &fine,
         UF_FAST, 4.0, 0.2},
    };
    for (size_t k = 0; k < sizeof others / sizeof *others && status == UF_OK; k++) {
        status = cool(&other, others[k].design, others[k].integrator, others[k].steps, 1.0, err);
        check.expected = other.coldest_degC;
        check.allowed = others[k].allowed;
        check.why = others[k].why;
        uf_verify_add(verify, &check, "layers.%s", others[k].name);
    }
    if (status == UF_OK) {
        status = cool(&other, &one, UF_BDF, 4.0, 1.0, err);
        check.expected = other.mean_degC;
    }
    if (status == UF_OK) {
        status = cool(&other, &d, UF_BDF, 4.0, 1e5, err);
        check.got = other.coldest_degC;
        check.allowed = 0.02;
        check.why = "0.02 K: rows that conduct 100 000 times as well are one mixed body";
        uf_verify_add(verify, &check, "layers.mixed");
    }
    check = (struct uf_verify_check){.source = "heat in is heat stored",
                                     .why = "rounding of some thousand steps",
                                     .unit = "1",
                                     .got = rows.lost,
                                     .allowed = 1e-12};
    uf_verify_add(verify, &check, "layers.heat");
    return status;
}

const struct uf_verify_topic uf_verify_layers = {
    .name = "layers",
    .doc = "water in layers: conduction, limits, rows, steps, integrators",
    .run = cooling,
    .each = cosine,
    .n = 1,
    .slow = true};
