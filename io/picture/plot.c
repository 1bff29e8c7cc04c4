#include "io/result/part_file.h"
#include "io/text/quantity.h"
#include "plot_private.h"
#include "solver/base/name.h"

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define MOVING "gif"

const struct uf_plot uf_plot_table[] = {
    {"section", "the section when most ground is frozen: 0 degC line, tank, board, water table",
     NULL, uf_plot_has_section, uf_plot_feed_section},
    {"long", "the long section on that day, of a run in slices along the axis", NULL,
     uf_plot_has_long, uf_plot_feed_long},
    {"frost", "frost depth through the winter, with and without board", NULL, uf_plot_has_frost,
     uf_plot_feed_frost},
    {"water", "water and wall temperature through the winter, and the share of ice", NULL,
     uf_plot_has_water, uf_plot_feed_water},
    {"choices", "the options: cover against board thickness, the recommended one ringed", NULL,
     uf_plot_has_choices, uf_plot_feed_choices},
    {"costs", "cost against cover, a line for each thickness of board", NULL, uf_plot_has_costs,
     uf_plot_feed_costs},
    {"sensitivity", "the decisive margin in every sensitivity case, the worst at the top", NULL,
     uf_plot_has_sensitivity, uf_plot_feed_sensitivity},
    {"uplift", "factor of safety against flotation with the water table at each depth", NULL,
     uf_plot_has_uplift, uf_plot_feed_uplift},
    {"winters", "freezing index of every winter on file and of the design winter", NULL,
     uf_plot_has_winters, uf_plot_feed_winters},
    {"weather", "air and snow of the design winter, day by day, and the mean year", NULL,
     uf_plot_has_weather, uf_plot_feed_weather},
    {"index", "frost depth of each winter run against its freezing index", NULL, uf_plot_has_index,
     uf_plot_feed_index},
    {"animation", "the section through the winter, moving: a GIF, drawn when named", "gif",
     uf_plot_has_animation, uf_plot_feed_animation},
    {NULL, NULL, NULL, NULL, NULL}};

static const struct uf_plot_format formats[] = {
    {"png", "png", "pixels, for a screen",
     "IEND\xae"
     "B`\x82"},
    {"svg", "svg", "lines, for a browser or a report", "</svg>"},
    {"pdf", "pdf", "lines, for paper", "%%EOF"},
    {"text", "txt", "letters, for a terminal", ""},
    {"gif", "gif", "pixels that move, for a screen", ";"},
    {NULL, NULL, NULL, NULL}};

const struct uf_plot *uf_plot_find(const char *name)
{
    return uf_name_find(uf_plot_table, sizeof uf_plot_table[0], name);
}

const struct uf_plot_format *uf_plot_format_find(const char *name)
{
    return uf_name_find(formats, sizeof formats[0], name);
}

static double shown(const struct uf_plot_look *look, enum uf_quantity kind, double value)
{
    return uf_quantity_value(kind, look->us ? UF_UNITS_US : UF_UNITS_SI, value);
}

double uf_plot_length(const struct uf_plot_look *look, double m)
{
    return shown(look, UF_QUANTITY_LENGTH, m);
}

double uf_plot_thickness(const struct uf_plot_look *look, double m)
{
    return shown(look, UF_QUANTITY_BOARD, m);
}

double uf_plot_temperature(const struct uf_plot_look *look, double degC)
{
    return shown(look, UF_QUANTITY_TEMPERATURE, degC);
}

double uf_plot_index(const struct uf_plot_look *look, double degC_day)
{
    return shown(look, UF_QUANTITY_INDEX, degC_day);
}

char *uf_plot_length_text(char *text, size_t size, const struct uf_plot_look *look, double m)
{
    (void)snprintf(text, size, look->us ? "%.1f ft" : "%.2f m", uf_plot_length(look, m));
    return text;
}

char *uf_plot_thickness_text(char *text, size_t size, const struct uf_plot_look *look, double m)
{
    (void)snprintf(text, size, look->us ? "%.1f in" : "%.0f mm", uf_plot_thickness(look, m));
    return text;
}

char *uf_plot_temperature_text(char *text, size_t size, const struct uf_plot_look *look,
                               double degC)
{
    const double level = uf_plot_temperature(look, degC);
    (void)snprintf(text, size, "%.1f \xc2\xb0%c", fabs(level) < 0.05 ? 0.0 : level,
                   look->us ? 'F' : 'C');
    return text;
}

bool uf_plot_takes(const struct uf_plot *plot, const char *format)
{
    return format == NULL ||
           (plot->format != NULL ? strcmp(format, plot->format) == 0 : strcmp(format, MOVING) != 0);
}

const struct uf_plot_format *uf_plot_usual(const struct uf_plot *plot)
{
    return uf_plot_format_find(plot->format != NULL ? plot->format : "png");
}

/* Everything gnuplot needs for one picture. */
static enum uf_status send(struct uf_gnuplot *gnuplot, const struct uf_plot *plot,
                           const struct uf_result *result, const struct uf_plot_look *look,
                           struct uf_error *err)
{
    uf_gnuplot_text(gnuplot, "format",
                    look->format != NULL ? look->format : uf_plot_usual(plot)->name);
    uf_gnuplot_text(gnuplot, "length_unit", look->us ? "ft" : "m");
    uf_gnuplot_text(gnuplot, "degree", look->us ? "°F" : "°C");
    uf_gnuplot_text(gnuplot, "title_text", look->bare ? "" : result->design.name);
    uf_gnuplot_number(gnuplot, "bare", look->bare);
    uf_gnuplot_number(gnuplot, "small", look->small > 0.0 ? look->small : 1.0);
    uf_gnuplot_number(gnuplot, "freezing", uf_plot_temperature(look, 0.0));
    const enum uf_status status = plot->feed(gnuplot, result, look, err);
    return status != UF_OK ? status : uf_gnuplot_script(gnuplot, plot->name, err);
}

/* A PDF says to the second when it was made; two of one day are to be the same bytes. The time stands
   near the end as /CreationDate (D:YYYYMMDDhhmmss...), ISO 32000-1, 7.9.4: its hhmmss becomes 0. */
static bool forget_time(FILE *out, off_t size)
{
    static const char mark[] = "/CreationDate (D:";
    char tail[8192];
    const off_t from = size > (off_t)sizeof tail ? size - (off_t)sizeof tail : 0;
    const ssize_t n = pread(fileno(out), tail, sizeof tail, from);
    const size_t skip = sizeof mark - 1 + 8;
    for (ssize_t i = 0; i + (ssize_t)skip + 6 <= n; i++) {
        if (memcmp(tail + i, mark, sizeof mark - 1) == 0) {
            return pwrite(fileno(out), "000000", 6, from + i + (off_t)skip) == 6;
        }
    }
    return true;
}

enum uf_status uf_plot_whole(FILE *out, const char *name, const struct uf_plot_format *format,
                             struct uf_error *err)
{
    char tail[33] = "";
    const off_t size = lseek(fileno(out), 0, SEEK_END);
    const off_t from = size > 32 ? size - 32 : 0;
    const ssize_t n = size > 0 ? pread(fileno(out), tail, 32, from) : 0;
    const size_t wanted = strlen(format->ends);
    size_t length = n > 0 ? (size_t)n : 0;
    while (length > wanted && strchr(" \r\n\f", tail[length - 1]) != NULL) {
        length--;
    }
    if (n <= 0 || length < wanted || memcmp(tail + length - wanted, format->ends, wanted) != 0 ||
        (strcmp(format->name, "pdf") == 0 && !forget_time(out, size))) {
        return uf_fail(err, UF_E_FILE, "gnuplot left no whole picture %s: is the disk full?", name);
    }
    return UF_OK;
}

static enum uf_status draw(FILE *out, const struct uf_plot *plot, const struct uf_result *result,
                           const struct uf_plot_look *look, struct uf_error *err)
{
    struct uf_gnuplot *gnuplot = NULL;
    if (look->format != NULL && uf_plot_format_find(look->format) == NULL) {
        return uf_fail(err, UF_E_INPUT,
                       "%.40s: no such format of pictures: png, svg, pdf, text or gif",
                       look->format);
    }
    if (!uf_plot_takes(plot, look->format)) {
        return uf_fail(err, UF_E_INPUT, "%s: not drawn as %s: %s", plot->name, look->format,
                       plot->format != NULL ? "it moves and is always a gif"
                                            : "it stands still: png, svg, pdf or text");
    }
    if (!plot->has(result)) {
        return uf_fail(err, UF_E_INPUT, "%s: this result has nothing to draw it from", plot->name);
    }
    enum uf_status status = uf_gnuplot_open(&gnuplot, err);
    if (status == UF_OK) {
        status = send(gnuplot, plot, result, look, err);
    }
    if (status == UF_OK) {
        status = uf_gnuplot_run(gnuplot, out, err);
    }
    if (status == UF_OK) {
        status = uf_plot_whole(
            out, plot->name,
            look->format != NULL ? uf_plot_format_find(look->format) : uf_plot_usual(plot), err);
    }
    uf_gnuplot_free(gnuplot);
    return status;
}

enum uf_status uf_plot_draw(const char *path, const struct uf_plot *plot,
                            const struct uf_result *result, const struct uf_plot_look *look,
                            struct uf_error *err)
{
    struct uf_part_file part;
    const enum uf_status status = uf_part_file_open(&part, path, err);
    return status != UF_OK
               ? status
               : uf_part_file_close(&part, draw(part.file, plot, result, look, err), err);
}

enum uf_status uf_plot_text(char **out, const struct uf_plot *plot, const struct uf_result *result,
                            const struct uf_plot_look *look, struct uf_error *err)
{
    FILE *file = tmpfile();
    *out = NULL;
    if (file == NULL) {
        return uf_fail(err, UF_E_FILE, "no temporary file could be made: %s", strerror(errno));
    }
    enum uf_status status = draw(file, plot, result, look, err);
    if (status == UF_OK) {
        status =
            fseek(file, 0, SEEK_SET) == 0
                ? uf_part_file_rest(out, file, "the picture", err)
                : uf_fail(err, UF_E_FILE, "a picture could not be read back: %s", strerror(errno));
    }
    (void)fclose(file);
    if (status == UF_OK && *out != NULL && (*out)[0] == '\f') {
        memmove(*out, *out + 1, strlen(*out)); /* a terminal needs no new page */
    }
    return status;
}
