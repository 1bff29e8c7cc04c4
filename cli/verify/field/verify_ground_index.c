#include "cli/verify/exact/exact.h"
#include "ground_index.h"
#include "io/picture/plot.h"
#include "io/text/show.h"
#include "solver/ground/published_depth.h"
#include "verify_ground.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Frost depth of bare ground against the freezing index, beside two published relations. */

enum { BINS = 13, LEAST_WINTERS = 5, MOST_STATIONS = 16 };
static const double BIN_DEGC_DAY = 200.0;

static const char SOURCE[] =
    "mean of Chisholm & Phang 1983, TRR 918 (study read, coefficients from memory), and "
    "Fair, Geyer & Okun, eq. 5.41b (read)";
static const char WHY[] = "30 %: the relations hold for many soils at once and differ by "
                          "up to 26 % themselves; a plausibility band, not a published tolerance";

static double published_m(double index_degC_day)
{
    return 0.5 * (uf_published_depth_chisholm_phang_m(index_degC_day) +
                  uf_published_depth_fair_m(index_degC_day));
}

enum uf_status uf_verify_ground_index(struct uf_verify *verify,
                                      const struct uf_season_options *options, struct uf_error *err)
{
    struct uf_ground_index index;
    const enum uf_status status = uf_ground_index_run(&index, options, err);
    for (int b = 0; b < BINS && status == UF_OK; b++) {
        const struct uf_ground_bin bin =
            uf_ground_index_bin(&index, b * BIN_DEGC_DAY, (b + 1) * BIN_DEGC_DAY);
        const double expected_m = published_m(bin.index_degC_day);
        const struct uf_verify_check check = {.source = SOURCE,
                                              .why = WHY,
                                              .unit = "m",
                                              .got = bin.frost_m,
                                              .expected = expected_m,
                                              .allowed = 0.30 * expected_m};
        if (bin.n >= LEAST_WINTERS) {
            uf_verify_add(verify, &check, "ground.index.%.0f", (b + 0.5) * BIN_DEGC_DAY);
        }
    }
    if (status == UF_OK) {
        uf_ground_index_free(&index);
    }
    return status;
}

static void tell_bins(const struct uf_ground_index *index)
{
    static const struct uf_show_column columns[] = {{"index of\nthe winters", 'r'},
                                                    {"winters", 'r'},
                                                    {"mean\nindex", 'r'},
                                                    {"computed\nm", 'r'},
                                                    {"Chisholm &\nPhang m", 'r'},
                                                    {"Fair et al.\nm", 'r'},
                                                    {"computed over\ntheir mean", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    for (int b = 0; b < BINS; b++) {
        const struct uf_ground_bin bin =
            uf_ground_index_bin(index, b * BIN_DEGC_DAY, (b + 1) * BIN_DEGC_DAY);
        if (bin.n == 0) {
            continue;
        }
        uf_show_table_cell(table, "%.0f to %.0f", b * BIN_DEGC_DAY, (b + 1) * BIN_DEGC_DAY);
        uf_show_table_cell(table, "%zu", bin.n);
        uf_show_table_cell(table, "%.0f", bin.index_degC_day);
        uf_show_table_cell(table, "%.2f", bin.frost_m);
        uf_show_table_cell(table, "%.2f", uf_published_depth_chisholm_phang_m(bin.index_degC_day));
        uf_show_table_cell(table, "%.2f", uf_published_depth_fair_m(bin.index_degC_day));
        uf_show_table_cell(table, "%.2f", bin.frost_m / published_m(bin.index_degC_day));
    }
    uf_show_table_end(stdout, table);
}

static void tell_stations(const struct uf_ground_index *index)
{
    static const struct uf_show_column columns[] = {{"station", 'l'},
                                                    {"winters", 'r'},
                                                    {"mean\nindex", 'r'},
                                                    {"computed\nm", 'r'},
                                                    {"Chisholm &\nPhang m", 'r'},
                                                    {"Fair et al.\nm", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    for (size_t k = 0; uf_ground_index_stations[k].name != NULL; k++) {
        double sum[4] = {0.0};
        double n = 0.0;
        for (size_t i = 0; i < index->n; i++) {
            const struct uf_ground_point *p = &index->points[i];
            if (p->station == k) {
                sum[0] += p->index_degC_day;
                sum[1] += p->frost_m;
                sum[2] += uf_published_depth_chisholm_phang_m(p->index_degC_day);
                sum[3] += uf_published_depth_fair_m(p->index_degC_day);
                n += 1.0;
            }
        }
        uf_show_table_cell(table, "%s", uf_ground_index_stations[k].name);
        uf_show_table_cell(table, "%.0f", n);
        uf_show_table_cell(table, "%.0f", sum[0] / n);
        for (int c = 1; c < 4; c++) {
            uf_show_table_cell(table, "%.2f", sum[c] / n);
        }
    }
    uf_show_table_end(stdout, table);
}

void uf_verify_ground_index_tell(void)
{
    struct uf_ground_index index;
    const struct uf_season_options options = uf_verify_season();
    if (uf_ground_index_run(&index, &options, NULL) != UF_OK) {
        return;
    }
    (void)printf("\nFrost depth against air freezing index, degC day, every winter on file\n%s\n",
                 uf_ground_index_soil);
    tell_bins(&index);
    (void)putchar('\n');
    tell_stations(&index);
    uf_ground_index_free(&index);
}

enum uf_status uf_verify_ground_index_draw(const char *path, enum uf_units units,
                                           struct uf_error *err)
{
    struct uf_ground_index index;
    struct uf_result result;
    const char *names[MOST_STATIONS] = {NULL};
    const char *dot = strrchr(path, '.');
    const struct uf_season_options options = uf_verify_season();
    const struct uf_plot_look look = {.us = units == UF_UNITS_US,
                                      .format = dot != NULL ? dot + 1 : NULL};
    enum uf_status status = uf_ground_index_run(&index, &options, err);
    if (status != UF_OK) {
        return status;
    }
    uf_result_init(&result);
    for (size_t k = 0; k < MOST_STATIONS && uf_ground_index_stations[k].name != NULL; k++) {
        names[k] = uf_ground_index_stations[k].name;
    }
    result.stations = names;
    result.winters = calloc(index.n + 1, sizeof *result.winters);
    for (size_t i = 0; result.winters != NULL && i < index.n; i++) {
        result.winters[i] =
            (struct uf_result_winter){.year = index.points[i].year,
                                      .freezing_index_degC_day = index.points[i].index_degC_day,
                                      .frost_m = index.points[i].frost_m,
                                      .station = index.points[i].station,
                                      .water_min_degC = NAN};
        result.n_winters = i + 1;
    }
    status = uf_plot_draw(path, uf_plot_find("index"), &result, &look, err);
    free(result.winters);
    uf_ground_index_free(&index);
    return status;
}
