#ifndef UF_PLOT_PRIVATE_H
#define UF_PLOT_PRIVATE_H

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

/* What is shown: a field at one time, and how far. */
struct uf_plot_view {
    const struct uf_record *record;
    const float *degC;      /* [nz][nx] */
    double half_m, depth_m; /* of the window */
    struct uf_gnuplot *plot;
    const struct uf_plot_look *look;
};
#define UF_PLOT_NEAR_ZERO_K 1.0 /* the tone between frozen and warm ends here */
#define UF_PLOT_MOST_LEVELS 12

/* Where one tone of a field ends and the next begins. */
struct uf_plot_tones {
    double level_degC[UF_PLOT_MOST_LEVELS]; /* rising, 0 degC among them */
    int n;
    int zero; /* which of them is 0 degC */
};

/* The half width and depth that show tank, board, pit, anchors and that much frost. */
void uf_plot_view_window(struct uf_plot_view *view, const struct uf_result_design *design,
                         double frost_m);

/* The works of the section: numbers and the blocks $tank, $probes, $notes. */
void uf_plot_section_works(const struct uf_plot_view *view, const struct uf_result_design *design);

/* Texts of the section that no time changes: board_text, cover_text, table_text. */
void uf_plot_section_texts(const struct uf_plot_view *view, const struct uf_result_design *design);

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
bool uf_plot_has_layout(const struct uf_result *result);
enum uf_status uf_plot_feed_layout(struct uf_gnuplot *plot, const struct uf_result *result,
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

/* The pit's corners, and where the brought-in fill ends: pit_bottom, pit_half, pit_slope, shelf,
   lower_half and upper_half (below the shelf, on it), reach (at grade), fill_top, fill_half. */
void uf_plot_send_pit(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                      const struct uf_dig *dig);

/* What the anchors' rows describe, on both sides where they stand beside the tank: $anchors (left,
   top, right, bottom), $straps (x and depth of their feet) and $axes (how far from the tank's axis,
   in words too). */
void uf_plot_send_anchors(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                          const struct uf_result_design *design);

/* $name: what each limit of a curve (UF_LIMIT_ON_...) asks for, with its text "prefix 1.0". Gives the
   largest, NAN: there is none. */
double uf_plot_send_limits(struct uf_gnuplot *plot, const struct uf_plot_look *look,
                           const struct uf_result_design *design, const char *curve,
                           const char *name, const char *prefix);

#endif
