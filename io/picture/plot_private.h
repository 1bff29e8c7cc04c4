#ifndef UF_PLOT_PRIVATE_H
#define UF_PLOT_PRIVATE_H

#include "isoline.h"
#include "plot.h"

/* What the plot_*.c files share. */

/* Metres, degC and degC day as the picture shows them. */
double uf_plot_length(const struct uf_plot_look *look, double m);
double uf_plot_thickness(const struct uf_plot_look *look, double m); /* mm or in */
double uf_plot_temperature(const struct uf_plot_look *look, double degC);
double uf_plot_index(const struct uf_plot_look *look, double degC_day);

/* "1.60 m" or "5.2 ft"; "100 mm" or "3.9 in". */
char *uf_plot_length_text(char *text, size_t size, const struct uf_plot_look *look, double m);
char *uf_plot_thickness_text(char *text, size_t size, const struct uf_plot_look *look, double m);
char *uf_plot_temperature_text(char *text, size_t size, const struct uf_plot_look *look,
                               double degC);

/* A stretch of a record's times. */
struct uf_plot_span {
    size_t first, last; /* both shown */
};

/* The frost season around the deepest frost, with some days on either side; never empty. */
struct uf_plot_span uf_plot_span_frost(const struct uf_record *record);

/* The same from autumn, before the frost, into summer, when water is warm again. */
struct uf_plot_span uf_plot_span_winter(const struct uf_record *record);

/* Numbers first_day and last_day, and $months: day, name, and the year where one is to be read. */
void uf_plot_send_months(struct uf_gnuplot *plot, double first_day, double last_day);

/* Series of one record and how they are shown; ended by NULL. */
struct uf_plot_series {
    const double *series[5];
    double (*convert)(const struct uf_plot_look *look, double value);
};

/* $name: the day, then each of the series. Without a record, one row of NaN, which draws
   nothing. */
void uf_plot_send_series(struct uf_gnuplot *plot, const char *name, const struct uf_record *record,
                         struct uf_plot_span span, const struct uf_plot_series *shown,
                         const struct uf_plot_look *look);

/* A plane of a run at one time: columns from its middle outward, shown on both sides of it. */
struct uf_plot_plane {
    size_t n, nz;
    const double *at_m, *at_edge_m, *z_m, *z_edge_m; /* [n], [n + 1], [nz], [nz + 1] */
    const float *degC;                               /* [nz][n] */
    const float *line_m;                             /* [n] depth of the 0 degC line, or NULL */
    const int8_t *material;                          /* [nz][n] */
};

/* The section at mid-tank, and the long one; of a record that keeps them. */
struct uf_plot_plane uf_plot_plane_across(const struct uf_record *record, size_t time);
struct uf_plot_plane uf_plot_plane_along(const struct uf_record *record, size_t time);

/* What is shown: a plane, and how far. */
struct uf_plot_view {
    const struct uf_record *record;
    const struct uf_result_design *design;
    struct uf_plot_plane plane;
    bool along;                    /* the long section */
    double half_m, depth_m, top_m; /* of the window; top_m < 0: over grade */
    struct uf_gnuplot *plot;
    const struct uf_plot_look *look;
};
/* Its plane's temperatures at the nodes of a grid, finer across than the cells: smooth between columns,
   straight between rows. values [nz][nx] of field. */
struct uf_plot_nodes {
    double *x, *z, *values;
    struct uf_isoline_field field;
};

/* The whole window. line: in every column the values beside the plane's 0 degC line are set so that
   they are 0 right there; a column without frost stays as it is. In the tank then stands the frost
   beside it. Errors: UF_E_MEMORY; uf_plot_nodes_clear in either case. */
enum uf_status uf_plot_nodes_fill(struct uf_plot_nodes *out, const struct uf_plot_view *view,
                                  bool line, struct uf_error *err);
double uf_plot_nodes_at(const struct uf_plot_nodes *nodes, double x_m, double z_m);
void uf_plot_nodes_clear(struct uf_plot_nodes *nodes);

#define UF_PLOT_NEAR_ZERO_K 1.0 /* the tone between frozen and warm ends here */
#define UF_PLOT_MOST_LEVELS 12

/* Where one tone of a field ends and the next begins. */
struct uf_plot_tones {
    double level_degC[UF_PLOT_MOST_LEVELS]; /* rising, 0 degC among them */
    int n;
    int zero; /* which of them is 0 degC */
};

/* The window that shows tank, board, pit, anchors, risers and that much frost. */
void uf_plot_view_window(struct uf_plot_view *view, double frost_m);

/* Half the tank in the plane that is shown. NAN: there is none. */
double uf_plot_view_tank_m(const struct uf_plot_view *view);
double uf_plot_view_chord_m(const struct uf_plot_view *view,
                            double z_m); /* at a depth; 0: no tank */

/* The works of the section: numbers and the blocks $tank, $anchors, $risers, $pipes, $probes, $notes. */
void uf_plot_section_works(const struct uf_plot_view *view);

/* Texts of the section that no time changes: board_text, cover_text, table_text, across_text. */
void uf_plot_section_texts(const struct uf_plot_view *view);

/* What the ground is drawn as: $soil_<mark> for each mark, points or ends of strokes, and $soils, the
   name of each soil where there is room for it. */
void uf_plot_section_soils(const struct uf_plot_view *view);

/* One point of a data block, metres in, the picture's unit out. */
void uf_plot_view_point(const struct uf_plot_view *view, double x_m, double z_m);

/* $tones, $tone_of, $zero and $hatch, each with suffix behind its name, and n_tones: the
   field, mirrored about the axis. A tone is how many levels lie under it. */
enum uf_status uf_plot_view_field(const struct uf_plot_view *view,
                                  const struct uf_plot_tones *tones, const char *suffix,
                                  struct uf_error *err);

/* $isotherms, and $isotherm_labels with x, z and the temperature of each: every 1 or 2 K. Errors:
   UF_E_MEMORY. */
enum uf_status uf_plot_view_isotherms(const struct uf_plot_view *view, struct uf_error *err);

/* The pictures. */
bool uf_plot_has_section(const struct uf_result *result);
enum uf_status uf_plot_feed_section(struct uf_gnuplot *plot, const struct uf_result *result,
                                    const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_long(const struct uf_result *result);
enum uf_status uf_plot_feed_long(struct uf_gnuplot *plot, const struct uf_result *result,
                                 const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_animation(const struct uf_result *result);
enum uf_status uf_plot_feed_animation(struct uf_gnuplot *plot, const struct uf_result *result,
                                      const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_frost(const struct uf_result *result);
enum uf_status uf_plot_feed_frost(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_water(const struct uf_result *result);
enum uf_status uf_plot_feed_water(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_choices(const struct uf_result *result);
enum uf_status uf_plot_feed_choices(struct uf_gnuplot *plot, const struct uf_result *result,
                                    const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_costs(const struct uf_result *result);
enum uf_status uf_plot_feed_costs(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_sensitivity(const struct uf_result *result);
enum uf_status uf_plot_feed_sensitivity(struct uf_gnuplot *plot, const struct uf_result *result,
                                        const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_uplift(const struct uf_result *result);
enum uf_status uf_plot_feed_uplift(struct uf_gnuplot *plot, const struct uf_result *result,
                                   const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_index(const struct uf_result *result);
enum uf_status uf_plot_feed_index(struct uf_gnuplot *plot, const struct uf_result *result,
                                  const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_weather(const struct uf_result *result);
enum uf_status uf_plot_feed_weather(struct uf_gnuplot *plot, const struct uf_result *result,
                                    const struct uf_plot_look *look, struct uf_error *err);
bool uf_plot_has_winters(const struct uf_result *result);
enum uf_status uf_plot_feed_winters(struct uf_gnuplot *plot, const struct uf_result *result,
                                    const struct uf_plot_look *look, struct uf_error *err);

/* What the anchors' rows describe, on both sides where they stand beside the tank: $anchors (left,
   top, right, bottom). */
void uf_plot_send_anchors(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                          const struct uf_result_design *design);

/* $name: what each limit of a curve (UF_LIMIT_ON_...) asks for, with its text "prefix 1.0". Gives the
   largest, NAN: there is none. */
double uf_plot_send_limits(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                           const struct uf_result_design *design, const char *curve,
                           const char *name, const char *prefix);

#endif
