#include "cli/folder.h"
#include "cli/tell/faults.h"
#include "io/picture/plot.h"
#include "io/weather/climate.h"
#include "study_show.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What `study show` needs of the stations, and its pictures. */

static enum uf_status read_station(struct uf_study_shown_station *out, const struct uf_study *s,
                                   size_t i, struct uf_error *err)
{
    const bool own = s->plan->n_stations == 0;
    const char *file = own ? s->base->climate_file : s->plan->stations[i].file;
    const char *column = own ? s->base->climate_column : s->plan->stations[i].column;
    char folder[UF_CLIMATE_PATH_SIZE];
    struct uf_weather *weather = NULL;
    struct uf_winter_list *winters = NULL;
    *out = (struct uf_study_shown_station){
        .latitude_deg = NAN, .longitude_deg = NAN, .index_degC_day = NAN};
    (void)snprintf(out->name, sizeof out->name, "%.100s",
                   own && file[0] == '\0' ? "the site" : file);
    if (file[0] == '\0') {
        return UF_OK;
    }
    uf_site_weather_folder(folder, sizeof folder, s->base);
    enum uf_status status = uf_climate_read(&weather, file, column, folder, err);
    if (status == UF_OK) {
        (void)snprintf(out->name, sizeof out->name, "%.*s", (int)strcspn(weather->station, ",;"),
                       weather->station);
        out->latitude_deg = weather->latitude_deg;
        out->longitude_deg = weather->longitude_deg;
        status = uf_winter_list_create(&winters, weather, s->base->design.latitude_deg < 0.0, err);
    }
    if (status == UF_OK) {
        out->index_degC_day = winters->mean_degC_day;
    }
    uf_winter_list_free(winters);
    uf_weather_free(weather);
    return status;
}

/* The covers among the options, and the stations by their index. */
static void sort(struct uf_study_shown *v)
{
    const struct uf_study *s = v->study;
    for (size_t o = 0; s->choices != NULL && o < s->options; o++) {
        size_t k = 0;
        while (k < v->n_covers && v->covers_m[k] != s->choices->rows[o].cover_m) {
            k++;
        }
        if (k == v->n_covers && k < UF_MAX_CHOICES) {
            v->covers_m[v->n_covers++] = s->choices->rows[o].cover_m;
        }
    }
    for (size_t i = 0; i < s->stations; i++) {
        size_t k = i;
        while (k > 0 &&
               v->stations[v->by_index[k - 1]].index_degC_day > v->stations[i].index_degC_day) {
            v->by_index[k] = v->by_index[k - 1];
            k--;
        }
        v->by_index[k] = i;
    }
}

static int by_size(const void *a, const void *b)
{
    const double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

/* The sorted numbers of a column, of an option or, beyond the last, of all of them. */
static void fill_curve(struct uf_result_curve *curve, double *room, const struct uf_study_shown *v,
                       const char *column, size_t option)
{
    const struct uf_study *s = v->study;
    const size_t at = uf_study_columns_find(s, column);
    for (size_t i = 0; i < s->cases; i++) {
        const double value = v->results->values[at * s->cases + i];
        if (isfinite(value) && (option >= s->options || uf_study_case_of(s, i).option == option)) {
            room[curve->n++] = value;
        }
    }
    qsort(room, curve->n, sizeof *room, by_size);
    curve->sorted = room;
}

static enum uf_status draw_curves(const char *path, const struct uf_study_shown *v,
                                  const struct uf_plot_look *look, struct uf_error *err)
{
    const struct uf_study *s = v->study;
    struct uf_result result;
    const size_t n = s->options + 1; /* water of each option; frost, which no option changes */
    struct uf_result_curve *curves = calloc(n, sizeof *curves);
    double *room = calloc(2 * s->cases + 1, sizeof *room);
    size_t used = 0;
    enum uf_status status = UF_OK;
    uf_result_init(&result);
    uf_result_design_fill(&result.design, &s->base->design);
    for (size_t k = 0; curves != NULL && room != NULL && k < n; k++) {
        curves[k].length = k == s->options;
        if (!curves[k].length) {
            (void)uf_study_site_option(curves[k].name, sizeof curves[k].name, s, k,
                                       look->us ? UF_UNITS_US : UF_UNITS_SI);
        }
        fill_curve(&curves[k], room + used, v,
                   curves[k].length ? UF_STUDY_SHOWN_FROST : UF_STUDY_SHOWN_WATER, k);
        used += curves[k].n;
    }
    result.curves = curves;
    result.n_curves = n;
    status = curves == NULL || room == NULL
                 ? uf_fail(err, UF_E_MEMORY, "out of memory for a picture")
                 : uf_plot_draw(path, &uf_plot_study, &result, look, err);
    free(curves);
    free(room);
    return status;
}

static enum uf_status draw_map(const char *path, const struct uf_study_shown *v,
                               const struct uf_plot_look *look, struct uf_error *err)
{
    struct uf_result result;
    struct uf_result_place *places = calloc(v->study->stations + 1, sizeof *places);
    enum uf_status status = UF_OK;
    uf_result_init(&result);
    for (size_t i = 0; places != NULL && i < v->study->stations; i++) {
        const struct uf_study_shown_station *s = &v->stations[i];
        const long best = uf_study_show_smallest(v, i, NAN);
        struct uf_result_place *place = &places[result.n_places];
        *place = (struct uf_result_place){
            .longitude_deg = s->longitude_deg,
            .latitude_deg = s->latitude_deg,
            .index_degC_day = s->index_degC_day,
            .thickness_m = best < 0 ? (double)NAN : v->study->choices->rows[best].thickness_m};
        (void)snprintf(place->name, sizeof place->name, "%s", s->name);
        if (isfinite(s->longitude_deg) && isfinite(s->latitude_deg) && uf_study_show_whole(v, i)) {
            result.n_places++;
        }
    }
    result.places = places;
    if (result.n_places > 0) {
        status = uf_plot_draw(path, &uf_plot_study_map, &result, look, err);
    }
    free(places);
    return status;
}

static enum uf_status draw(const struct uf_study_shown *v, const struct uf_arguments *args,
                           struct uf_error *err)
{
    char path[1100];
    const struct uf_plot_look look = {.us = args->units == UF_UNITS_US};
    enum uf_status status = draw_curves(
        uf_folder_path(path, sizeof path, v->study->folder, "study.png"), v, &look, err);
    if (status == UF_OK) {
        status =
            draw_map(uf_folder_path(path, sizeof path, v->study->folder, "map.png"), v, &look, err);
    }
    return status;
}

int uf_study_show(const struct uf_study *s, const struct uf_study_results *results,
                  const struct uf_arguments *args)
{
    struct uf_study_shown v = {.study = s,
                               .results = results,
                               .stations = calloc(s->stations, sizeof *v.stations),
                               .by_index = calloc(s->stations, sizeof *v.by_index)};
    struct uf_error err = {0};
    enum uf_status status = UF_OK;
    if (v.stations == NULL || v.by_index == NULL) {
        status = uf_fail(&err, UF_E_MEMORY, "out of memory for the stations");
    }
    for (size_t i = 0; status == UF_OK && i < s->stations; i++) {
        status = read_station(&v.stations[i], s, i, &err);
    }
    if (status == UF_OK) {
        sort(&v);
        status = draw(&v, args, &err);
    }
    if (status == UF_OK && args->json) {
        status = uf_answer_print(uf_study_show_answer(&v), &err);
    } else if (status == UF_OK) {
        uf_study_show_text(&v, args);
    }
    free(v.stations);
    free(v.by_index);
    return status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, NULL, &err);
}
