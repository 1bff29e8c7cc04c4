#include "climate_draw.h"

#include "cli/drawing.h"
#include "cli/tell/outcome.h"
#include "io/text/message_text.h"
#include "io/text/show.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define LEAST_WINTERS 10   /* for a return period */
#define MOST_DAYS     1100 /* of a record drawn as it is: its latest */

enum uf_status uf_climate_draw_check(const struct uf_arguments *args, struct uf_error *err)
{
    const bool text = args->terminal != NULL && strcmp(args->terminal, "text") == 0;
    if (args->terminal != NULL && strcmp(args->terminal, "gif") == 0) {
        return uf_fail(err, UF_E_INPUT, "--terminal gif: these stand still: png, svg, pdf or text");
    }
    if (args->terminal != NULL && args->output == NULL && !text) {
        return uf_fail(err, UF_E_INPUT, "--terminal %.60s: name a folder with -o", args->terminal);
    }
    if (text && args->json) {
        return uf_fail(err, UF_E_INPUT, "--terminal text: not with --json: leave one of them out");
    }
    return UF_OK;
}

/* What is drawn, borrowed by the result. */
struct source {
    struct uf_forcing_weather days;
    struct uf_winter_season *season; /* NULL: the record as it is */
    struct uf_message text;          /* which winter */
};

/* The latest days of a record without a whole winter. */
static void take_record(struct source *source, const struct uf_weather *weather)
{
    const size_t days = weather->days < MOST_DAYS ? weather->days : MOST_DAYS;
    const size_t from = weather->days - days;
    source->days = (struct uf_forcing_weather){
        .start_day = weather->start_day + (long)from,
        .days = days,
        .air_degC = weather->air_degC + from,
        .snow_m = weather->snow_m != NULL ? weather->snow_m + from : NULL};
    uf_message_set(&source->text, UF_PLAIN("the record as it is: none of its winters is whole"));
}

static enum uf_status take_winter(struct source *source, const struct uf_weather *weather,
                                  const struct uf_winter_list *winters, struct uf_error *err)
{
    const bool has_periods = winters->n_usable >= LEAST_WINTERS && !weather->typical_year;
    const enum uf_winter_kind other = weather->typical_year ? UF_WINTER_MEAN : UF_WINTER_COLDEST;
    const struct uf_winter_choice choice = {.kind = has_periods ? UF_WINTER_RETURN : other,
                                            .return_years = 30.0};
    const enum uf_status status =
        uf_winter_season_create(&source->season, weather, winters, &choice, err);
    if (status == UF_OK) {
        source->days = (struct uf_forcing_weather){
            .start_day = source->season->start_day,
            .days = source->season->days,
            .air_degC = source->season->air_degC,
            .snow_m = weather->snow_m != NULL ? source->season->snow_m : NULL};
        source->text = source->season->text;
    }
    return status;
}

static enum uf_status draw(const struct uf_result *result, const struct uf_message *text,
                           const struct uf_arguments *args, cJSON *answer, struct uf_error *err)
{
    static const char *const names[] = {"winters", "weather"};
    struct uf_drawing drawing;
    enum uf_status status = uf_drawing_open(&drawing, args, err);
    drawing.result = result;
    if (status == UF_OK) {
        status = uf_drawing_folder(&drawing, args->output, err);
    }
    if (answer != NULL) {
        uf_answer_text(answer, "design_winter", text->text);
        drawing.files = uf_answer_array(answer, "files");
    } else if (status == UF_OK) {
        uf_show_heading(stdout, "Pictures");
        uf_show_line(stdout, "winter drawn", "%s", UF_MESSAGE(args->units, text));
    }
    for (size_t i = 0; status == UF_OK && i < sizeof names / sizeof names[0]; i++) {
        const struct uf_plot *plot = uf_plot_find(names[i]);
        if (plot->has(result)) {
            status = uf_drawing_one(&drawing, plot, err);
        }
    }
    return status;
}

enum uf_status uf_climate_draw(const struct uf_weather *weather,
                               const struct uf_winter_list *winters,
                               const struct uf_winter_mean_year *mean,
                               const struct uf_arguments *args, cJSON *answer, struct uf_error *err)
{
    struct source source = {.season = NULL};
    struct uf_outcome_lists lists = {.winters = NULL};
    struct uf_result result;
    enum uf_status status = UF_OK;
    if (args->output == NULL && args->terminal == NULL) {
        return UF_OK;
    }
    uf_result_init(&result);
    if (winters->n_usable > 0) {
        status = take_winter(&source, weather, winters, err);
    } else {
        take_record(&source, weather);
    }
    if (status == UF_OK) {
        uf_outcome_statistics(&result, &lists, winters);
        if (weather->typical_year) {
            result.n_returns = 0; /* put together from several years */
        }
        uf_outcome_days(&result, &lists, &source.days, mean);
        if (source.season != NULL) {
            result.design_index_degC_day = source.season->got_index_degC_day;
        }
        (void)snprintf(lists.station, sizeof lists.station, "%s", weather->station);
        (void)snprintf(result.design.name, sizeof result.design.name, "%s", weather->station);
        result.station = lists.station;
        status = draw(&result, &source.text, args, answer, err);
    }
    uf_outcome_lists_free(&lists);
    uf_winter_season_free(source.season);
    return status;
}
