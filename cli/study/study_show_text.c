#include "io/text/quantity.h"
#include "io/text/show.h"
#include "study_show.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* A study in tables of text: cases, limits, options, what is reliable at each station. */

static void put_share(struct uf_show_table *table, const struct uf_share *share)
{
    uf_show_table_cell(table, "%.1f", 100.0 * share->share);
    uf_show_table_cell(table, "%.1f-%.1f", 100.0 * share->low, 100.0 * share->high);
}

static void show_limits(const struct uf_study_shown *v)
{
    static const struct uf_show_column columns[] = {
        {"limit", 'l'}, {"missed in\n% of cases", 'r'}, {"95 %\ninterval", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    for (size_t k = 0; k < uf_limit_count; k++) {
        const struct uf_share share = uf_study_show_limit(v, k);
        if (isfinite(share.share)) {
            uf_show_table_cell(table, "%s", uf_limits[k].label);
            put_share(table, &share);
        }
    }
    const struct uf_share any = uf_study_show_fails(v, SIZE_MAX, SIZE_MAX);
    uf_show_table_cell(table, "any, or no answer");
    put_share(table, &any);
    uf_show_table_end(stdout, table);
}

/* Columns of an option, in which tables begin. */
#define OPTION_COLUMNS                                                                             \
    {"cover", 'r'}, {"board", 'r'},                                                                \
    {                                                                                              \
        "beyond\ntank", 'r'                                                                        \
    }

static void put_option(struct uf_show_table *table, const struct uf_study_shown *v, size_t option,
                       enum uf_units units)
{
    const struct uf_choice *row =
        v->study->choices != NULL ? &v->study->choices->rows[option] : NULL;
    const bool board = row != NULL && row->thickness_m > 0.0;
    uf_show_table_cell(table, "%s", row != NULL ? UF_TEXT(LENGTH, units, row->cover_m) : "no tank");
    uf_show_table_cell(table, "%s", board ? UF_TEXT(THICKNESS, units, row->thickness_m) : "none");
    uf_show_table_cell(table, "%s", board ? UF_TEXT(LENGTH, units, row->beyond_m) : "-");
}

static void put_degrees(struct uf_show_table *table, double degC, enum uf_units units)
{
    uf_show_table_cell(table, isfinite(degC) ? "%.1f" : "-",
                       uf_quantity_value(UF_QUANTITY_TEMPERATURE, units, degC));
}

static void show_options(const struct uf_study_shown *v, enum uf_units units)
{
    char water_head[40];
    const struct uf_show_column columns[] = {
        OPTION_COLUMNS,  {"missed\n%", 'r'},   {"95 %\ninterval", 'r'}, {water_head, 'r'},
        {"\n50 %", 'r'}, {"frost\n50 %", 'r'}, {"\n95 %", 'r'}};
    (void)snprintf(water_head, sizeof water_head, "water\n5 %%, %s",
                   uf_quantity_unit(UF_QUANTITY_TEMPERATURE, units));
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    for (size_t o = 0; o < v->study->options; o++) {
        struct uf_study_picked water = uf_study_show_pick(v, UF_STUDY_SHOWN_WATER, o);
        struct uf_study_picked frost = uf_study_show_pick(v, UF_STUDY_SHOWN_FROST, o);
        const struct uf_share share = uf_study_show_fails(v, SIZE_MAX, o);
        put_option(table, v, o, units);
        put_share(table, &share);
        put_degrees(table, uf_study_show_quantile(&water, 0.05), units);
        put_degrees(table, uf_study_show_quantile(&water, 0.5), units);
        uf_show_table_cell(table, "%s",
                           UF_TEXT(LENGTH, units, uf_study_show_quantile(&frost, 0.5)));
        uf_show_table_cell(table, "%s",
                           UF_TEXT(LENGTH, units, uf_study_show_quantile(&frost, 0.95)));
        free(water.values);
        free(frost.values);
    }
    uf_show_table_end(stdout, table);
}

/* Thickness of the smallest option of each cover, station by station, by rising freezing index. */
static void show_stations(const struct uf_study_shown *v, enum uf_units units)
{
    struct uf_show_column columns[2 + UF_MAX_CHOICES] = {{"station", 'l'}, {"index", 'r'}};
    char headings[UF_MAX_CHOICES][40];
    for (size_t k = 0; k < v->n_covers; k++) {
        (void)snprintf(headings[k], sizeof headings[k], "%s%s", k == 0 ? "cover\n" : "\n",
                       UF_TEXT(LENGTH, units, v->covers_m[k]));
        columns[2 + k] = (struct uf_show_column){headings[k], 'r'};
    }
    struct uf_show_table *table = uf_show_table_create(columns, 2 + v->n_covers);
    for (size_t i = 0; i < v->study->stations; i++) {
        const size_t at = v->by_index[i];
        uf_show_table_cell(table, "%s", v->stations[at].name);
        uf_show_table_cell(table, "%s", UF_TEXT(INDEX, units, v->stations[at].index_degC_day));
        for (size_t k = 0; k < v->n_covers; k++) {
            const long best = uf_study_show_smallest(v, at, v->covers_m[k]);
            uf_show_table_cell(
                table, "%s",
                !uf_study_show_whole(v, at) ? "missing"
                : best < 0                  ? "none will do"
                           : UF_TEXT(THICKNESS, units, v->study->choices->rows[best].thickness_m));
        }
    }
    uf_show_table_end(stdout, table);
}

/* The smallest option of each station, and how probable it is that it misses a limit. */
static void show_reliability(const struct uf_study_shown *v, enum uf_units units)
{
    const double life_years = v->study->plan->life_years;
    char in_life[40];
    const struct uf_show_column columns[] = {
        {"station", 'l'}, OPTION_COLUMNS, {"missing a limit\nin a year, %", 'r'}, {in_life, 'r'}};
    (void)snprintf(in_life, sizeof in_life, "\nin %.0f years, %%", life_years);
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < v->study->stations; i++) {
        const long best = uf_study_show_smallest(v, i, NAN);
        const double yearly = best < 0 ? (double)NAN : uf_study_show_yearly(v, i, (size_t)best);
        uf_show_table_cell(table, "%s", v->stations[i].name);
        if (best >= 0) {
            put_option(table, v, (size_t)best, units);
        } else {
            uf_show_table_cell(table, uf_study_show_whole(v, i) ? "none will do" : "cases missing");
        }
        for (int k = 0; best < 0 && k < 2; k++) {
            uf_show_table_cell(table, "-");
        }
        uf_show_table_cell(table, isfinite(yearly) ? "at most %.2g" : "-", 100.0 * yearly);
        uf_show_table_cell(table, isfinite(yearly) ? "%.2g" : "-",
                           100.0 * uf_share_in_life(yearly, life_years));
    }
    uf_show_table_end(stdout, table);
}

void uf_study_show_text(const struct uf_study_shown *v, const struct uf_arguments *args)
{
    const struct uf_study_plan *p = v->study->plan;
    static const char *const words[UF_STUDY_STATUSES] = {[UF_STUDY_MISSING] = "not run yet",
                                                         [UF_STUDY_DONE] = "every limit met",
                                                         [UF_STUDY_LIMIT] = "a limit missed",
                                                         [UF_STUDY_FAILED] = "without an answer",
                                                         [UF_STUDY_NO_WINTER] = "no such winter"};
    char heading[160] = "Smallest option that missed no limit in any case";
    uf_show_heading(stdout, "Cases of the study");
    for (size_t i = 0; i < UF_STUDY_STATUSES; i++) {
        if (v->results->counts[i] > 0) {
            uf_show_line(stdout, words[i], "%zu", v->results->counts[i]);
        }
    }
    (void)putchar('\n');
    show_limits(v);
    (void)putchar('\n');
    show_options(v, args->units);
    if (v->study->choices == NULL) {
        return;
    }
    if (isfinite(p->reliability_years)) {
        (void)snprintf(heading, sizeof heading,
                       "Smallest option that misses a limit in no more than 1 in %.0f years",
                       p->reliability_years);
    }
    uf_show_heading(stdout, heading);
    show_reliability(v, args->units);
    (void)putchar('\n');
    uf_show_text(stdout, 0, "Least thickness of board for each cover:");
    show_stations(v, args->units);
    uf_show_text(
        stdout, 0,
        "In a year: of the winters on file, the share in which a limit is missed; of winters "
        "of a return period, one between two counts as the rarer, and one beyond the last "
        "as missing a limit, so ask for rarer winters than the reliability. A case without "
        "an answer counts as missing a limit.");
}
