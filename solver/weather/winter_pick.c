#include "winter.h"
#include "winter_private.h"

#include <math.h>

#define LEAST_WINTERS 10 /* for statistics; under it only mean and recorded winters */

const struct uf_winter *uf_winter_pick_nearest(const struct uf_winter_list *list, double degC_day,
                                               double beyond_degC_day)
{
    const struct uf_winter *best = NULL;
    double best_distance = INFINITY;
    for (size_t i = 0; i < list->n; i++) {
        const double distance = fabs(list->rows[i].freezing_index_degC_day - degC_day);
        if (list->rows[i].usable && distance > beyond_degC_day && distance < best_distance) {
            best = &list->rows[i];
            best_distance = distance;
        }
    }
    return best;
}

static enum uf_status pick_recorded(const struct uf_winter **winter,
                                    const struct uf_winter_list *list, int year,
                                    struct uf_error *err)
{
    char label[16], first[16], last[16];
    (void)uf_winter_label(year, list->south, label, sizeof label);
    for (size_t i = 0; i < list->n; i++) {
        const struct uf_winter *row = &list->rows[i];
        if (row->year == year && row->usable) {
            *winter = row;
            return UF_OK;
        }
        if (row->year == year) {
            return uf_fail(err, UF_E_INPUT,
                           "winter %s lacks %zu days of air temperature: choose another winter, "
                           "or fill the gap in the weather file",
                           label, row->missing_days);
        }
    }
    (void)uf_winter_label(list->rows[0].year, list->south, first, sizeof first);
    (void)uf_winter_label(list->rows[list->n - 1].year, list->south, last, sizeof last);
    return uf_fail(err, UF_E_INPUT, "winter %s is not on file: the record runs from %s to %s",
                   label, first, last);
}

static double asked_mean(const struct uf_winter_list *list, double years)
{
    (void)years;
    return list->mean_degC_day;
}

static double asked_three(const struct uf_winter_list *list, double years)
{
    (void)years;
    return list->coldest_three_in_thirty_degC_day;
}

static double asked_coldest(const struct uf_winter_list *list, double years)
{
    double coldest = 0.0;
    (void)years;
    for (size_t i = 0; i < list->n; i++) {
        coldest =
            list->rows[i].usable ? fmax(coldest, list->rows[i].freezing_index_degC_day) : coldest;
    }
    return coldest;
}

enum uf_status uf_winter_pick(const struct uf_winter **winter, double *asked_degC_day,
                              const struct uf_weather *weather, const struct uf_winter_list *list,
                              const struct uf_winter_choice *choice, struct uf_error *err)
{
    static const struct {
        double (*asked)(const struct uf_winter_list *list, double years);
        size_t least_winters;
        bool many_years; /* a typical year cannot answer it */
    } rows[] = {
        [UF_WINTER_MEAN] = {asked_mean, 1, false},
        [UF_WINTER_RETURN] = {uf_winter_return_degC_day, LEAST_WINTERS, true},
        [UF_WINTER_THREE_IN_THIRTY] = {asked_three, LEAST_WINTERS, true},
        [UF_WINTER_COLDEST] = {asked_coldest, 1, true},
    };
    if (choice->kind == UF_WINTER_RECORDED) {
        const enum uf_status status = pick_recorded(winter, list, choice->year, err);
        *asked_degC_day = status == UF_OK ? (*winter)->freezing_index_degC_day : (double)NAN;
        return status;
    }
    if ((size_t)choice->kind >= sizeof rows / sizeof rows[0] || rows[choice->kind].asked == NULL) {
        return uf_fail_key(err, UF_E_INPUT, "climate.winter",
                           UF_PLAIN("`every` is a run of each winter in turn, not one season"),
                           UF_PLAIN("one winter"));
    }
    if (rows[choice->kind].many_years && weather->typical_year) {
        return uf_fail_key(err, UF_E_INPUT, "climate.winter",
                           UF_PLAIN("a typical year holds no cold winter of its own"),
                           UF_PLAIN("`winter: mean`, or the daily record of many years"));
    }
    if (list->n_usable < rows[choice->kind].least_winters) {
        return uf_fail_key(err, UF_E_INPUT, "climate.winter",
                           UF_SAID("{} usable winters are too few for statistics ({} are needed)",
                                   UF_COUNT(list->n_usable), UF_COUNT(LEAST_WINTERS)),
                           UF_PLAIN("`winter: mean` or a recorded winter, or a longer record"));
    }
    *asked_degC_day = rows[choice->kind].asked(list, choice->return_years);
    *winter = uf_winter_pick_nearest(list, *asked_degC_day, -1.0);
    if (*winter == NULL || !isfinite(*asked_degC_day)) {
        return uf_fail_key(err, UF_E_INPUT, "climate.winter",
                           UF_PLAIN("no freezing index follows from it"),
                           UF_PLAIN("1 in N with N above 1"));
    }
    return UF_OK;
}
