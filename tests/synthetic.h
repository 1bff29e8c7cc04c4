#ifndef UF_TEST_SYNTHETIC_H
#define UF_TEST_SYNTHETIC_H

#include "io/result/result.h"
#include "solver/base/calendar.h"
#include "solver/ground/soil.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A made-up winter around a tank, from formulas and not from the solver: what writers,
   pictures and reports are tested on. Frost depth is 1.6 sin over the winter; the ground
   is linear in depth between the surface and zero at that depth, and warms by 0.8 K a
   metre below it. */

#define SYNTHETIC_DAYS 240

static inline double synthetic_frost_m(size_t day)
{
    return fmax(0.0, 1.6 * sin(3.14159265358979 * ((double)day - 30.0) / 180.0));
}

/* Depth of the 0 degC line; the same along the axis at 1.8 m more, as the tank is so much longer
   than wide. */
static inline double synthetic_line_m(double x_m, double frost_m, bool board)
{
    const double cover = board && x_m < 2.4 ? 0.45 : 1.0;
    return frost_m * (cover + (1.0 - cover) / (1.0 + exp(-4.0 * (x_m - 2.4))));
}

static inline double synthetic_degC(double x_m, double z_m, double frost_m, bool board)
{
    const double line_m = synthetic_line_m(x_m, frost_m, board);
    return z_m < line_m ? -9.0 * (1.0 - z_m / fmax(line_m, 0.01)) : 0.8 * (z_m - line_m);
}

static inline void synthetic_series(struct uf_record *r, size_t t, bool board)
{
    const double frost = synthetic_frost_m(t), warm = board ? 2.2 : 0.4;
    r->time_day[t] = 16344.0 + (double)t; /* 2014-10-01 on */
    r->frost_depth_m[t] = frost;
    r->frost_above_m[t] = fmin(1.2, frost * (board ? 0.45 : 0.95));
    r->thaw_depth_m[t] = t > 180 ? 0.01 * (double)(t - 180) : 0.0;
    r->water_degC[t] = warm + 4.0 * cos(3.14159265358979 * ((double)t - 10.0) / 230.0);
    r->water_degC[t] = fmax(0.0, r->water_degC[t] + (double)t * 0.01);
    r->ice_share[t] = board ? 0.0 : 0.12 * fmax(0.0, sin(((double)t - 140.0) / 40.0));
    r->wall_degC[t] = r->water_degC[t] - 0.6 * frost;
    r->crown_degC[t] = r->water_degC[t] - 0.7 * frost;
    r->surface_W_m[t] = -120.0 * cos(3.14159265358979 * (double)t / 120.0);
    r->air_degC[t] = -18.0 * sin(3.14159265358979 * (double)t / 200.0) + 3.0;
    r->snow_m[t] = 0.0;
}

/* Cells that grow outward, 0.05 m at the top. */
static inline void synthetic_axis(double *edge_m, double *centre_m, size_t n, double first_m)
{
    edge_m[0] = 0.0;
    for (size_t i = 0; i < n; i++) {
        edge_m[i + 1] = edge_m[i] + first_m * pow(1.05, (double)i);
        centre_m[i] = 0.5 * (edge_m[i] + edge_m[i + 1]);
    }
}

static inline void synthetic_section(struct uf_record *r, size_t t, bool board, bool along)
{
    const size_t n = along ? r->ny : r->nx;
    float *degC = (along ? r->long_degC : r->temperature_degC) + t * r->nz * n;
    float *ice = (along ? r->long_ice : r->ice_fraction) + t * r->nz * n;
    float *line_m = (along ? r->long_line_m : r->line_m) + t * n;
    for (size_t k = 0; k < r->nz * n; k++) {
        const double x_m = along ? fmax(0.0, r->y_m[k % n] - 1.8) : r->x_m[k % n];
        const double T = synthetic_degC(x_m, r->z_m[k / n], r->frost_depth_m[t], board);
        degC[k] = (float)T;
        ice[k] = T < 0.0 ? 0.9F : 0.0F;
        line_m[k % n] = (float)synthetic_line_m(x_m, r->frost_depth_m[t], board);
    }
}

static inline struct uf_record *synthetic_record(bool board)
{
    const struct uf_record_size size = {SYNTHETIC_DAYS, 40, 31, 14, 2};
    struct uf_record *r = NULL;
    if (uf_record_create(&r, &size, UF_KEEP_USUAL, NULL) != UF_OK) {
        return NULL;
    }
    synthetic_axis(r->z_edge_m, r->z_m, r->nz, 0.07);
    synthetic_axis(r->x_edge_m, r->x_m, r->nx, 0.13);
    synthetic_axis(r->y_edge_m, r->y_m, r->ny, 0.5);
    for (size_t t = 0; t < r->nt; t++) {
        synthetic_series(r, t, board);
        synthetic_section(r, t, board, false);
        synthetic_section(r, t, board, true);
        r->probe_degC[2 * t] = r->water_degC[t] + 0.3;
        r->probe_degC[2 * t + 1] = r->wall_degC[t] - 0.2;
    }
    for (size_t k = 0; k < r->nz * r->ny; k++) {
        r->long_material[k] = (int8_t)(k / r->ny < 20 ? 0 : 1);
    }
    for (size_t k = 0; k < r->nz * r->nx; k++) {
        const size_t row = k / r->nx;
        r->material[k] = (int8_t)(row < 20 ? 0 : row < 38 ? 1 : 2);
    }
    r->n_materials = 3;
    (void)strcpy(r->material_names[0], "silt");
    (void)strcpy(r->material_names[1], "pea gravel");
    (void)strcpy(r->material_names[2], "board");
    r->marks[0] = UF_SOIL_FINE;
    r->marks[1] = UF_SOIL_GRAVEL;
    (void)strcpy(r->probe_names[0], "outlet");
    (void)strcpy(r->probe_names[1], "d\xc3\xa9versoir \"nord\""); /* UTF-8 and quotes */
    return r;
}

static inline struct uf_case synthetic_case(void)
{
    struct uf_case c;
    uf_case_init(&c);
    (void)snprintf(c.name, sizeof c.name, "Alder Flat cistern");
    c.tank.shape = UF_HORIZONTAL_CYLINDER;
    c.tank.diameter_m = 2.4;
    c.tank.length_m = 6.0;
    c.tank.level_m = 2.1;
    c.burial.cover_m = 1.2;
    c.burial.bedding_m = 0.3;
    c.burial.pit_clearance_m = 0.6;
    c.ground.water_winter_m = 2.6;
    c.board.present = true;
    c.board.thickness_m = 0.1;
    c.board.beyond_tank_m = 1.2;
    c.board.above_crown_m = 0.15;
    c.tank.n_risers = 1;
    c.tank.risers[0] = (struct uf_riser){.diameter_m = 0.75,
                                         .above_grade_m = 0.2,
                                         .height_m = NAN,
                                         .lid_m2K_W = 1.5,
                                         .station_m = NAN,
                                         .lid_at = UF_LID_CROWN};
    c.n_pipes = 1;
    c.pipes[0] = (struct uf_pipe){"suction", 0.15, 2.9, false};
    c.n_probes = 2;
    c.probes[0].x_m = 0.0;
    c.probes[0].depth_m = 3.5;
    c.probes[1].x_m = 0.9;
    c.probes[1].depth_m = 1.9;
    return c;
}

static inline void synthetic_choices(struct uf_result *r)
{
    static const double cover[] = {0.9, 1.2, 1.5, 1.8}, thick[] = {0.0, 0.05, 0.075, 0.1, 0.15};
    r->choices = calloc(40, sizeof *r->choices);
    for (size_t b = 0; b < 2; b++) {
        for (size_t i = 0; i < 20; i++) {
            struct uf_result_choice *c = &r->choices[r->n_choices];
            *c = (struct uf_result_choice){.cover_m = cover[i / 5],
                                           .thickness_m = thick[i % 5],
                                           .beyond_tank_m = b == 0 ? 0.6 : 1.2};
            c->water_min_degC = -2.0 + c->cover_m + 18.0 * c->thickness_m + 0.5 * c->beyond_tank_m;
            c->uplift_factor = 0.8 + 0.5 * c->cover_m - c->thickness_m;
            c->board_use = 0.6;
            c->cost =
                8000.0 + 6000.0 * c->cover_m + 12000.0 * c->thickness_m * (1.0 + c->beyond_tank_m);
            c->robust = c->water_min_degC >= 2.0 && c->uplift_factor >= 1.4;
            c->ok = c->water_min_degC >= 1.0 && c->uplift_factor >= 1.3;
            (void)strcpy(c->governs,
                         c->water_min_degC < 1.0 ? "limits.water" : "limits.uplift_factor");
            r->pick = r->pick < 0 && c->ok ? (long)r->n_choices : r->pick;
            r->n_choices += c->thickness_m > 0.0 || b == 0 ? 1 : 0;
        }
    }
}

static inline void synthetic_cases(struct uf_result *r)
{
    static const char *const names[] = {"design case", "wetter soil", "drier soil", "open lid"};
    static const double margin[] = {0.6, 0.9, -0.4, 0.2};
    r->n_cases = 4;
    r->cases = calloc(r->n_cases, sizeof *r->cases);
    for (size_t i = 0; i < r->n_cases; i++) {
        struct uf_result_case *c = &r->cases[i];
        *c = (struct uf_result_case){.margin = margin[i], .ok = i < 2};
        (void)strcpy(c->name, names[i]);
        (void)strcpy(c->limit, "limits.water");
        (void)strcpy(c->governs, i == 3 ? "limits.uplift_factor" : "limits.water");
    }
}

static inline void synthetic_lists(struct uf_result *r)
{
    r->n_levels = 19;
    r->levels = calloc(r->n_levels, sizeof *r->levels);
    for (size_t i = 0; i < r->n_levels; i++) {
        r->levels[i].depth_m = 0.2 * (double)i;
        r->levels[i].factor = i < 18 ? 1.16 + 0.9 / (3.7 - 0.2 * (double)i) - 0.24 : (double)NAN;
    }
    r->n_winters = 44;
    r->winters = calloc(r->n_winters, sizeof *r->winters);
    for (size_t i = 0; i < r->n_winters; i++) {
        r->winters[i].year = 1970 + (long)i;
        r->winters[i].freezing_index_degC_day =
            i == 7 ? (double)NAN : 1500.0 + 350.0 * sin(2.3 * (double)i) + 5.0 * (double)i;
        r->winters[i].frost_m = 0.04 * sqrt(fmax(0.0, r->winters[i].freezing_index_degC_day));
        r->winters[i].water_min_degC = 3.0;
    }
    static const double years[] = {10.0, 50.0, 100.0}, index[] = {1950.0, 2240.0, 2360.0};
    r->n_returns = 3;
    r->returns = calloc(r->n_returns, sizeof *r->returns);
    for (size_t i = 0; i < r->n_returns; i++) {
        r->returns[i] = (struct uf_result_return){years[i], index[i]};
    }
    r->design_index_degC_day = 2150.0;
}

static inline char *synthetic_text(const char *text)
{
    char *copy = malloc(strlen(text) + 1);
    return copy != NULL ? strcpy(copy, text) : NULL;
}

/* Free with uf_result_free. */
static inline struct uf_result *synthetic_result(void)
{
    struct uf_result *r = malloc(sizeof *r);
    if (r == NULL) {
        return NULL;
    }
    uf_result_init(r);
    r->record = synthetic_record(true);
    r->without_board = synthetic_record(false);
    const struct uf_case design = synthetic_case();
    uf_result_design_fill(&r->design, &design);
    synthetic_choices(r);
    synthetic_cases(r);
    (void)strcpy(r->design.currency, "CAD");
    synthetic_lists(r);
    r->summary.water = (struct uf_extreme){1.07, 16500};
    r->summary.frost_undisturbed_m = 1.6;
    r->summary.frost_above_m = 1.2;
    r->summary.frost_reaches_tank = true;
    r->summary.n_probes = 2;
    for (size_t i = 0; i < 2; i++) {
        struct uf_probe_summary *probe = &r->summary.probes[i];
        (void)snprintf(probe->name, sizeof probe->name, "%s", r->record->probe_names[i]);
        probe->least = (struct uf_extreme){-1.25 + (double)i, 16131};
        probe->days_below_zero = 12;
    }
    r->summary.counters.steps = 1234;
    r->summary_without_board.water = (struct uf_extreme){-0.07, 16501};
    r->title = synthetic_text("Alder Flat cistern");
    r->version = synthetic_text("0.1.0");
    r->command_line = synthetic_text("underfrost recommend alder.yaml");
    r->site_text = synthetic_text("site: {name: Alder Flat cistern}\n");
    r->station = synthetic_text("Alder Flat airport, made up");
    r->winter_text = synthetic_text("1 in 30, shaped as 1978/79");
    return r;
}

/* A folder of its own below TMPDIR or /tmp; the caller removes it. */
static inline char *synthetic_folder(char *path, size_t size)
{
    const char *parent = getenv("TMPDIR");
    (void)snprintf(path, size, "%s/uf-test-XXXXXX", parent != NULL ? parent : "/tmp");
    return mkdtemp(path);
}

static inline void synthetic_remove(const char *folder)
{
    char command[1100];
    (void)snprintf(command, sizeof command, "rm -rf '%s'", folder);
    if (system(command) != 0) {
        (void)fprintf(stderr, "%s was left\n", folder);
    }
}

#endif
