#ifndef UF_PLOT_H
#define UF_PLOT_H

#include "gnuplot.h"
#include "io/result/result.h"

/* The pictures, each a row of one table: which script of plots/ draws it, and which
   function feeds it from a result, fresh or read from a file. */

struct uf_plot_look {
    bool us;            /* feet, degF and degF day instead of metres, degC and degC day */
    const char *format; /* of uf_plot_format_find, by name; NULL: the usual one */
    bool bare;          /* no title, no name of the site: for a page that says both */
    double small;       /* times the usual canvas, letters as they are: for a small place; 0: 1 */
};

struct uf_plot {
    const char *name;   /* also of its script */
    const char *doc;    /* one line for a person */
    const char *format; /* the only one it has; NULL: any but the moving one */
    /* Can the result fill it (it may have no tank, no choices ...)? */
    bool (*has)(const struct uf_result *result);
    /* Sends numbers, texts and data; the script is loaded afterwards. */
    enum uf_status (*feed)(struct uf_gnuplot *plot, const struct uf_result *result,
                           const struct uf_plot_look *look, struct uf_error *err);
};
extern const struct uf_plot uf_plot_table[]; /* ended by name NULL */

/* Measured beside computed, series by series: of overlays, which no file keeps. */
extern const struct uf_plot uf_plot_score;

/* Of a study: distributions, and its stations on a map. */
extern const struct uf_plot uf_plot_study, uf_plot_study_map;

struct uf_plot_format {
    const char *name;   /* the word on the command line; "text" is for a terminal */
    const char *ending; /* of the file */
    const char *doc;
    const char *ends; /* the last bytes of a whole picture, white space left out */
};

/* Can the picture be drawn in that format? A moving one only as "gif", a still one in all
   others. NULL stands for the usual one, which every picture has. */
bool uf_plot_takes(const struct uf_plot *plot, const char *format);

/* The format a picture gets where none is named. */
const struct uf_plot_format *uf_plot_usual(const struct uf_plot *plot);

/* The row of that name, or NULL. */
const struct uf_plot *uf_plot_find(const char *name);
const struct uf_plot_format *uf_plot_format_find(const char *name);

/* Draws into a file, which appears whole or not at all. Errors: UF_E_INPUT for an unknown
   format, one that the picture does not take, or a picture that the result cannot fill;
   UF_E_FILE. */
enum uf_status uf_plot_draw(const char *path, const struct uf_plot *plot,
                            const struct uf_result *result, const struct uf_plot_look *look,
                            struct uf_error *err);

/* Has what gnuplot wrote its end? A picture that was cut, as by a full disk, has lost it, even where
   gnuplot ended well. A PDF also forgets the time of day it was made, so that the same picture is the
   same bytes. name: of the picture, for the message. Errors: UF_E_FILE. */
enum uf_status uf_plot_whole(FILE *out, const char *name, const struct uf_plot_format *format,
                             struct uf_error *err);

/* Draws into a text: SVG for a report, or "text" for a terminal. *out is the caller's to free. */
enum uf_status uf_plot_text(char **out, const struct uf_plot *plot, const struct uf_result *result,
                            const struct uf_plot_look *look, struct uf_error *err);

#endif
