#include "study_show.h"

#include "study.h"

#include <math.h>
#include <stdlib.h>

/* What came out of a study: distributions, how often limits fail, what is reliable. */

static int by_size(const void *a, const void *b)
{
    const double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

struct uf_study_picked uf_study_show_pick(const struct uf_study_shown *v, const char *column,
                                          size_t option)
{
    const struct uf_study *s = v->study;
    const size_t at = uf_study_columns_find(s, column);
    struct uf_study_picked picked = {calloc(s->cases + 1, sizeof *picked.values), 0};
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

struct uf_share uf_study_show_fails(const struct uf_study_shown *v, size_t station, size_t option)
{
    size_t n = 0, k = 0;
    for (size_t i = 0; i < v->study->cases; i++) {
        const struct uf_study_case of = uf_study_case_of(v->study, i);
        if (counts(v, i) && (option == SIZE_MAX || of.option == option) &&
            (station == SIZE_MAX || of.station == station)) {
            n++;
            k += v->results->status[i] != UF_STUDY_DONE;
        }
    }
    return uf_share(k, n);
}

struct uf_share uf_study_show_limit(const struct uf_study_shown *v, size_t limit)
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

double uf_study_show_yearly(const struct uf_study_shown *v, size_t station, size_t option)
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

long uf_study_show_smallest(const struct uf_study_shown *v, size_t station, double cover_m)
{
    const struct uf_study *s = v->study;
    const bool yearly_asked = isfinite(s->plan->reliability_years);
    long best = -1;
    for (size_t o = 0; s->choices != NULL && uf_study_show_whole(v, station) && o < s->options;
         o++) {
        const struct uf_choice *row = &s->choices->rows[o];
        const bool good =
            yearly_asked ? uf_study_show_yearly(v, station, o) <= 1.0 / s->plan->reliability_years
                         : uf_study_show_fails(v, station, o).share == 0.0;
        if (good && (isnan(cover_m) || row->cover_m == cover_m) &&
            (best < 0 || uf_choice_better(row, &s->choices->rows[best], false))) {
            best = (long)o;
        }
    }
    return best;
}

double uf_study_show_quantile(const struct uf_study_picked *picked, double p)
{
    return uf_share_quantile(picked->values, picked->n, p);
}

static void answer_distribution(cJSON *object, const char *key, const struct uf_study_shown *v,
                                const char *column, size_t option)
{
    struct uf_study_picked picked = uf_study_show_pick(v, column, option);
    cJSON *d = uf_answer_object(object, key);
    uf_answer_count(d, "cases", (long)picked.n);
    uf_answer_number(d, "p05", uf_study_show_quantile(&picked, 0.05));
    uf_answer_number(d, "p50", uf_study_show_quantile(&picked, 0.5));
    uf_answer_number(d, "p95", uf_study_show_quantile(&picked, 0.95));
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
    const struct uf_share share = uf_study_show_fails(v, SIZE_MAX, o);
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
    const double yearly = best < 0 ? (double)NAN : uf_study_show_yearly(v, i, (size_t)best);
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
        const struct uf_share share = uf_study_show_limit(v, k);
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
