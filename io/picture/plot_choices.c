#include "plot_private.h"
#include "solver/choice/limit.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* The options: cover against board thickness, one panel for each extension beyond the tank. */

#define MOST_REACHES 8
#define DENSE        9 /* thicknesses or covers beyond which only the letter is written */

struct chart {
    double reach_m[MOST_REACHES];
    size_t n_reaches;
    const char *limits[UF_LIMIT_MOST]; /* keys, as letters a, b, c ... */
    size_t n_limits;
};

bool uf_plot_has_choices(const struct uf_result *result)
{
    return result->n_choices > 0;
}

static bool has_board(const struct uf_result_choice *choice)
{
    return choice->thickness_m > 0.0;
}

/* The reaches that occur, in their order; without any board there is one panel all the same. */
static void find_reaches(struct chart *chart, const struct uf_result *result)
{
    for (size_t i = 0; i < result->n_choices; i++) {
        const double reach = result->choices[i].beyond_tank_m;
        size_t k = 0;
        while (k < chart->n_reaches && fabs(chart->reach_m[k] - reach) > 1e-6) {
            k++;
        }
        if (has_board(&result->choices[i]) && k == chart->n_reaches && k < MOST_REACHES) {
            chart->reach_m[chart->n_reaches++] = reach;
        }
    }
    if (chart->n_reaches == 0) {
        chart->reach_m[chart->n_reaches++] = NAN;
    }
}

/* The letter of a limit's key, entered where it is new. */
static char letter_of(struct chart *chart, const char *key)
{
    size_t k = 0;
    while (k < chart->n_limits && strcmp(chart->limits[k], key) != 0) {
        k++;
    }
    if (key[0] == '\0' || k == UF_LIMIT_MOST) {
        return ' ';
    }
    if (k == chart->n_limits) {
        chart->limits[chart->n_limits++] = key;
    }
    return (char)('a' + (int)k);
}

static double member(const struct uf_result_choice *choice, size_t offset)
{
    double value = 0.0;
    memcpy(&value, (const char *)choice + offset, sizeof value);
    return value;
}

/* Is this the first choice with its value of the member? */
static bool is_first(const struct uf_result *result, size_t i, size_t offset)
{
    const double mine = member(&result->choices[i], offset);
    for (size_t k = 0; k < i; k++) {
        if (fabs(member(&result->choices[k], offset) - mine) < 1e-6) {
            return false;
        }
    }
    return true;
}

static size_t count_values(const struct uf_result *result, size_t offset)
{
    size_t n = 0;
    for (size_t i = 0; i < result->n_choices; i++) {
        n += is_first(result, i, offset) ? 1 : 0;
    }
    return n;
}

/* What stands at a mark: the coldest water, where there is room, and the letter. */
static char *mark_text(char *text, size_t size, const struct uf_plot_look *look, double degC,
                       char letter)
{
    if (isfinite(degC)) {
        (void)snprintf(text, size, "%.1f %c", uf_plot_temperature(look, degC), letter);
    } else {
        (void)snprintf(text, size, "%c", letter);
    }
    return text;
}

/* One panel: thickness, cover, ok, pick, text. */
static void send_panel(struct uf_gnuplot *plot, struct chart *chart, size_t panel,
                       const struct uf_result *result, const struct uf_plot_look *look)
{
    const bool dense =
        count_values(result, offsetof(struct uf_result_choice, thickness_m)) > DENSE ||
        count_values(result, offsetof(struct uf_result_choice, cover_m)) > DENSE;
    char name[32], text[40];
    (void)snprintf(name, sizeof name, "panel%zu", panel + 1);
    uf_gnuplot_data(plot, name);
    for (size_t i = 0; i < result->n_choices; i++) {
        const struct uf_result_choice *c = &result->choices[i];
        if (has_board(c) && !(fabs(c->beyond_tank_m - chart->reach_m[panel]) < 1e-6)) {
            continue;
        }
        uf_gnuplot_cell(plot, uf_plot_thickness(look, c->thickness_m));
        uf_gnuplot_cell(plot, uf_plot_length(look, c->cover_m));
        uf_gnuplot_cell(plot, c->ok);
        uf_gnuplot_cell(plot, (long)i == result->pick);
        uf_gnuplot_word(plot,
                        mark_text(text, sizeof text, look, dense ? (double)NAN : c->water_min_degC,
                                  letter_of(chart, c->governs)));
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
}

/* The values given, as tics: number and what is written there. */
static void send_tics(struct uf_gnuplot *plot, const char *name, const struct uf_result *result,
                      size_t offset, double (*convert)(const struct uf_plot_look *, double),
                      const struct uf_plot_look *look)
{
    char text[30];
    uf_gnuplot_data(plot, name);
    for (size_t i = 0; i < result->n_choices; i++) {
        if (is_first(result, i, offset)) {
            const double value = convert(look, member(&result->choices[i], offset));
            (void)snprintf(text, sizeof text, "%.3g", value);
            uf_gnuplot_cell(plot, value);
            uf_gnuplot_word(plot, text);
            uf_gnuplot_row(plot);
        }
    }
    uf_gnuplot_data_end(plot);
}

/* The panels' headings, and what the letters stand for. */
static void send_texts(struct uf_gnuplot *plot, const struct chart *chart,
                       const struct uf_plot_look *look)
{
    char text[80], number[30];
    uf_gnuplot_data(plot, "reaches");
    for (size_t k = 0; k < chart->n_reaches; k++) {
        (void)snprintf(text, sizeof text, "board extends %s beyond the tank",
                       uf_plot_length_text(number, sizeof number, look, chart->reach_m[k]));
        uf_gnuplot_word(plot, isnan(chart->reach_m[k]) ? "no board" : text);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    uf_gnuplot_data(plot, "letters");
    for (size_t k = 0; k < chart->n_limits; k++) {
        const struct uf_limit *limit = uf_limit_find(chart->limits[k]);
        (void)snprintf(text, sizeof text, "%c  %s", (char)('a' + (int)k),
                       limit != NULL ? limit->label : chart->limits[k]);
        uf_gnuplot_word(plot, text);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    uf_gnuplot_number(plot, "n_letters", (double)chart->n_limits);
    uf_gnuplot_text(plot, "thickness_unit", look->us ? "in" : "mm");
}

enum uf_status uf_plot_feed_choices(struct uf_gnuplot *plot, const struct uf_result *result,
                                    const struct uf_plot_look *look, struct uf_error *err)
{
    struct chart chart = {.n_reaches = 0};
    (void)err;
    find_reaches(&chart, result);
    for (size_t k = 0; k < chart.n_reaches; k++) {
        send_panel(plot, &chart, k, result, look);
    }
    send_tics(plot, "thicknesses", result, offsetof(struct uf_result_choice, thickness_m),
              uf_plot_thickness, look);
    send_tics(plot, "covers", result, offsetof(struct uf_result_choice, cover_m), uf_plot_length,
              look);
    send_texts(plot, &chart, look);
    uf_gnuplot_number(plot, "n_panels", (double)chart.n_reaches);
    return UF_OK;
}
