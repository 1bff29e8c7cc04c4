#include "study_show.h"

#include "cli/tell/faults.h"
#include "io/text/show.h"
#include "study.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What came out of a study: distributions, how often limits fail, what is reliable. */

/* Sorted numbers of a column over the cases that a filter takes. */
struct picked {
    double *values;
    size_t n;
};

static int by_size(const void *a, const void *b)
{
    const double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

static struct picked pick(const struct uf_study_shown *v, const char *column, size_t option)
{
    const struct uf_study *s = v->study;
    const size_t at = uf_study_columns_find(s, column);
    struct picked picked = {calloc(s->cases + 1, sizeof *picked.values), 0};
    for (size_t i = 0; picked.values != NULL && at < s->n_columns && i < s->cases; i++) {
        const double value = v->results->values[at * s->cases + i];
        if (isfinite(value) && (option == SIZE_MAX || uf_study_case_of(s, i).option == option)) {
            picked.values[picked.n++] = value;
        }
    }
    if (picked.values != NULL) {
        qsort(picked.values, picked.n, sizeof *picked.values, by_size);
    }
    return picked;
}

/* Is the case one that counts, and did it fail? */
static bool counts(const struct uf_study_shown *v, size_t i)
{
    const signed char status = v->results->status[i];
    return status == UF_STUDY_DONE || status == UF_STUDY_LIMIT || status == UF_STUDY_FAILED;
}

static struct uf_share fails(const struct uf_study_shown *v, size_t option)
{
    size_t n = 0, k = 0;
    for (size_t i = 0; i < v->study->cases; i++) {
        if (counts(v, i) &&
            (option == SIZE_MAX || uf_study_case_of(v->study, i).option == option)) {
            n++;
            k += v->results->status[i] != UF_STUDY_DONE;
        }
    }
    return uf_share(k, n);
}

static struct uf_share limit_of(const struct uf_study_shown *v, size_t limit)
{
    const struct uf_study *s = v->study;
    size_t n = 0, k = 0;
    for (size_t c = 0; c < s->n_columns; c++) {
        for (size_t i = 0;
             s->columns[c].kind == UF_STUDY_MARGIN && s->columns[c].limit == limit && i < s->cases;
             i++) {
            const double margin = v->results->values[c * s->cases + i];
            n += isfinite(margin) ? 1 : 0;
            k += margin < 0.0 ? 1 : 0;
        }
    }
    return uf_share(k, n);
}

/* Share of the years in which an option fails at a station: by its return periods where winters are
   that, else by the winters on file alike. NAN where winters tell no year, or cases are missing. */
static double yearly_of(const struct uf_study_shown *v, size_t station, size_t option)
{
    const struct uf_study *s = v->study;
    double years[64], failing[64];
    size_t n = 0, all = 0, bad = 0;
    for (size_t w = 0; w < s->winters; w++) {
        struct uf_winter_choice choice;
        size_t of = 0, k = 0;
        for (size_t vm = 0; vm < s->variants * s->members; vm++) {
            const size_t id =
                ((station * s->variants * s->members + vm) * s->options + option) * s->winters + w;
            if (v->results->status[id] == UF_STUDY_MISSING) {
                return NAN;
            }
            of += counts(v, id);
            k += counts(v, id) && v->results->status[id] != UF_STUDY_DONE;
        }
        all += of;
        bad += k;
        if (uf_winter_parse(s->winter_names[w], &choice) && choice.kind == UF_WINTER_RETURN &&
            n < 64 && of > 0) {
            size_t at = n++;
            for (; at > 0 && years[at - 1] > choice.return_years; at--) {
                years[at] = years[at - 1];
                failing[at] = failing[at - 1];
            }
            years[at] = choice.return_years;
            failing[at] = (double)k / (double)of;
        }
    }
    if (s->plan->every) {
        return all > 0 ? (double)bad / (double)all : (double)NAN;
    }
    return n == s->winters ? uf_share_of_years(years, failing, n) : (double)NAN;
}

bool uf_study_show_whole(const struct uf_study_shown *v, size_t station)
{
    const size_t n = v->study->cases / v->study->stations;
    for (size_t i = station * n; i < (station + 1) * n; i++) {
        if (v->results->status[i] == UF_STUDY_MISSING) {
            return false;
        }
    }
    return true;
}

/* The smallest option at a station, of one cover or of all, that fails in no more of the years than
   asked; where winters tell no year, the smallest that never failed. -1: none. */
long uf_study_show_smallest(const struct uf_study_shown *v, size_t station, double cover_m)
{
    const struct uf_study *s = v->study;
    const double asked =
        isfinite(s->plan->reliability_years) ? 1.0 / s->plan->reliability_years : 0.0;
    long best = -1;
    for (size_t o = 0; s->choices != NULL && uf_study_show_whole(v, station) && o < s->options;
         o++) {
        const struct uf_choice *row = &s->choices->rows[o];
        const double yearly = yearly_of(v, station, o);
        size_t bad = 0, n = 0;
        for (size_t i = 0; i < s->cases; i++) {
            const struct uf_study_case of = uf_study_case_of(s, i);
            if (of.station == station && of.option == o) {
                n += counts(v, i);
                bad += counts(v, i) && v->results->status[i] != UF_STUDY_DONE;
            }
        }
        const bool good =
            isfinite(s->plan->reliability_years) ? yearly <= asked : n > 0 && bad == 0;
        if (good && (isnan(cover_m) || row->cover_m == cover_m) &&
            (best < 0 || uf_choice_better(row, &s->choices->rows[best], false))) {
            best = (long)o;
        }
    }
    return best;
}

static double quantile(const struct picked *picked, double p)
{
    return uf_share_quantile(picked->values, picked->n, p);
}

static void answer_distribution(cJSON *object, const char *key, const struct uf_study_shown *v,
                                const char *column, size_t option)
{
    struct picked picked = pick(v, column, option);
    cJSON *d = uf_answer_object(object, key);
    uf_answer_count(d, "cases", (long)picked.n);
    uf_answer_number(d, "p05", quantile(&picked, 0.05));
    uf_answer_number(d, "p50", quantile(&picked, 0.5));
    uf_answer_number(d, "p95", quantile(&picked, 0.95));
    free(picked.values);
}

static void answer_share(cJSON *object, const struct uf_share *share)
{
    uf_answer_number(object, "fails", share->share);
    uf_answer_number(object, "fails_low", share->low);
    uf_answer_number(object, "fails_high", share->high);
}

static void answer_option(cJSON *array, const struct uf_study_shown *v, size_t o)
{
    char text[200];
    cJSON *item = uf_answer_item(array);
    uf_answer_text(item, "option",
                   uf_study_site_option(text, sizeof text, v->study, o, UF_UNITS_SI));
    const struct uf_share share = fails(v, o);
    answer_share(item, &share);
    answer_distribution(item, "water_min_degC", v, UF_STUDY_SHOWN_WATER, o);
    answer_distribution(item, "frost_depth_m", v, UF_STUDY_SHOWN_FROST, o);
}

static void answer_station(cJSON *array, const struct uf_study_shown *v, size_t i)
{
    char text[200];
    cJSON *item = uf_answer_item(array);
    const long best = uf_study_show_smallest(v, i, NAN);
    uf_answer_text(item, "station", v->stations[i].name);
    uf_answer_number(item, "latitude_deg", v->stations[i].latitude_deg);
    uf_answer_number(item, "longitude_deg", v->stations[i].longitude_deg);
    uf_answer_number(item, "freezing_index_degC_day", v->stations[i].index_degC_day);
    uf_answer_bool(item, "whole", uf_study_show_whole(v, i));
    uf_answer_text(
        item, "smallest_option",
        best < 0 ? NULL
                 : uf_study_site_option(text, sizeof text, v->study, (size_t)best, UF_UNITS_SI));
    const double yearly = best < 0 ? (double)NAN : yearly_of(v, i, (size_t)best);
    uf_answer_number(item, "fails_in_a_year", yearly);
    uf_answer_number(item, "fails_in_life", uf_share_in_life(yearly, v->study->plan->life_years));
}

cJSON *uf_study_show_answer(const struct uf_study_shown *v)
{
    const struct uf_study *s = v->study;
    cJSON *answer = cJSON_CreateObject();
    cJSON *cases = uf_answer_object(answer, "cases");
    for (size_t i = 0; i < UF_STUDY_STATUSES; i++) {
        uf_answer_count(cases, uf_study_status_words[i], (long)v->results->counts[i]);
    }
    cJSON *limits = uf_answer_array(answer, "limits");
    for (size_t k = 0; k < uf_limit_count; k++) {
        const struct uf_share share = limit_of(v, k);
        if (isfinite(share.share)) {
            cJSON *item = uf_answer_item(limits);
            uf_answer_text(item, "limit", uf_limits[k].key);
            answer_share(item, &share);
        }
    }
    cJSON *options = uf_answer_array(answer, "options");
    for (size_t o = 0; o < s->options; o++) {
        answer_option(options, v, o);
    }
    cJSON *stations = uf_answer_array(answer, "stations");
    for (size_t i = 0; i < s->stations; i++) {
        answer_station(stations, v, i);
    }
    uf_answer_number(answer, "reliability_years", s->plan->reliability_years);
    uf_answer_number(answer, "life_years", s->plan->life_years);
    return answer;
}

static void put_share(struct uf_show_table *table, const struct uf_share *share)
{
    uf_show_table_cell(table, "%.1f", 100.0 * share->share);
    uf_show_table_cell(table, "%.1f to %.1f", 100.0 * share->low, 100.0 * share->high);
}

static void show_limits(const struct uf_study_shown *v)
{
    static const struct uf_show_column columns[] = {
        {"limit", 'l'}, {"fails\n%", 'r'}, {"95 % interval\n%", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    for (size_t k = 0; k < uf_limit_count; k++) {
        const struct uf_share share = limit_of(v, k);
        if (isfinite(share.share)) {
            uf_show_table_cell(table, "%s", uf_limits[k].label);
            put_share(table, &share);
        }
    }
    const struct uf_share any = fails(v, SIZE_MAX);
    uf_show_table_cell(table, "any, or no answer");
    put_share(table, &any);
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
}

static void show_options(const struct uf_study_shown *v, enum uf_units units)
{
    static const struct uf_show_column columns[] = {{"option", 'l'},
                                                    {"fails\n%", 'r'},
                                                    {"95 % interval\n%", 'r'},
                                                    {"coldest water\n5 %", 'r'},
                                                    {"\n50 %", 'r'},
                                                    {"frost\n50 %", 'r'},
                                                    {"\n95 %", 'r'}};
    struct uf_show_table *table = uf_show_table_create(columns, sizeof columns / sizeof columns[0]);
    for (size_t o = 0; o < v->study->options; o++) {
        char text[200];
        struct picked water = pick(v, UF_STUDY_SHOWN_WATER, o);
        struct picked frost = pick(v, UF_STUDY_SHOWN_FROST, o);
        const struct uf_share share = fails(v, o);
        uf_show_table_cell(table, "%s",
                           uf_study_site_option(text, sizeof text, v->study, o, units));
        put_share(table, &share);
        uf_show_table_cell(table, "%s", UF_TEXT(TEMPERATURE, units, quantile(&water, 0.05)));
        uf_show_table_cell(table, "%s", UF_TEXT(TEMPERATURE, units, quantile(&water, 0.5)));
        uf_show_table_cell(table, "%s", UF_TEXT(LENGTH, units, quantile(&frost, 0.5)));
        uf_show_table_cell(table, "%s", UF_TEXT(LENGTH, units, quantile(&frost, 0.95)));
        free(water.values);
        free(frost.values);
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
}

/* Thickness of the smallest option of each cover, station by station, by rising freezing index. */
static void show_stations(const struct uf_study_shown *v, enum uf_units units)
{
    static const struct uf_show_column first[] = {{"station", 'l'}, {"index", 'r'}};
    struct uf_show_column columns[2 + UF_MAX_CHOICES];
    char headings[UF_MAX_CHOICES][40];
    memcpy(columns, first, sizeof first);
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
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
}

static void show_reliability(const struct uf_study_shown *v, enum uf_units units)
{
    const struct uf_study_plan *p = v->study->plan;
    for (size_t i = 0; i < v->study->stations && v->study->choices != NULL; i++) {
        char text[200];
        const long best = uf_study_show_smallest(v, i, NAN);
        const double yearly = best < 0 ? (double)NAN : yearly_of(v, i, (size_t)best);
        if (!uf_study_show_whole(v, i)) {
            uf_show_line(stdout, v->stations[i].name, "not known yet: cases are missing");
        } else if (best < 0) {
            uf_show_line(stdout, v->stations[i].name, "no option is that reliable");
        } else if (isfinite(yearly)) {
            uf_show_line(
                stdout, v->stations[i].name,
                "%s: fails in at most %.2g %% of the years, %.2g %% of lives of %.0f years",
                uf_study_site_option(text, sizeof text, v->study, (size_t)best, units),
                100.0 * yearly, 100.0 * uf_share_in_life(yearly, p->life_years), p->life_years);
        } else {
            uf_show_line(stdout, v->stations[i].name, "%s: never failed",
                         uf_study_site_option(text, sizeof text, v->study, (size_t)best, units));
        }
    }
}

void uf_study_show_text(const struct uf_study_shown *v, const struct uf_arguments *args)
{
    const struct uf_study_plan *p = v->study->plan;
    char heading[160] = "Smallest option that never failed";
    uf_show_heading(stdout, "The study");
    for (size_t i = 0; i < UF_STUDY_STATUSES; i++) {
        uf_show_line(stdout, uf_study_status_words[i], "%zu", v->results->counts[i]);
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
                       "Smallest option that fails in no more than 1 in %.0f years",
                       p->reliability_years);
    }
    (void)putchar('\n');
    uf_show_heading(stdout, heading);
    show_reliability(v, args->units);
    (void)putchar('\n');
    uf_show_text(stdout, 0, "Thickness of it, cover by cover:");
    show_stations(v, args->units);
    uf_show_text(stdout, 0,
                 "Years are counted by the winters: on file, each alike; by return periods, a "
                 "winter between two as the rarer one, beyond the last as failing, so ask for "
                 "rarer winters than the reliability. A case without an answer counts as failing.");
}
