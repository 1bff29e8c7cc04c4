#ifndef UF_PAPER_H
#define UF_PAPER_H

#include "io/picture/gnuplot.h"

#include <stdbool.h>
#include <stddef.h>

/* A sheet of paper in millimetres from its lower left corner: lines by pen, opaque areas with a
   hatch, texts. Nothing is drawn until uf_paper_send, which computes every stroke on paper and hands
   it to gnuplot once, the same for every format. An area hides the hatch of those before it, and no
   hatch runs through a text. Lines lie over areas, texts over lines. */

/* Pens of line group 0.5 of ISO 128 (from memory): width in mm, and how they are broken. */
#define UF_PEN_LIST(X)                                                                             \
    X(CUT)    /* what the section cuts; 0.5 */                                                     \
    X(EDGE)   /* edges, ticks; 0.35 */                                                             \
    X(THIN)   /* dimensions, leaders; 0.18 */                                                      \
    X(HATCH)  /* 0.13 */                                                                           \
    X(CENTRE) /* dash and dot, 0.18 */                                                             \
    X(HIDDEN) /* dashes, 0.25 */                                                                   \
    X(WATER)  /* long dashes, 0.25 */                                                              \
    X(TICK)   /* ends of dimensions, 0.35; over the texts */
#define UF_PEN_WORD(WORD) UF_PEN_##WORD,
enum uf_pen { UF_PEN_LIST(UF_PEN_WORD) UF_PENS };
#undef UF_PEN_WORD

enum uf_hatch {
    UF_HATCH_NONE,     /* white */
    UF_HATCH_FINE,     /* silt and clay: slanting lines */
    UF_HATCH_SAND,     /* dots */
    UF_HATCH_GRAVEL,   /* rings */
    UF_HATCH_CRUSHED,  /* triangles */
    UF_HATCH_ORGANIC,  /* short level strokes */
    UF_HATCH_GROUND,   /* soil of no class: broken slanting lines */
    UF_HATCH_RETURNED, /* dug ground put back: dash and gap */
    UF_HATCH_CONCRETE, /* dots and triangles */
    UF_HATCH_FOAM,     /* crossed lines */
    UF_HATCH_SOLID,    /* black */
    UF_HATCHES
};

/* Heights of capital letters, ISO 3098 (from memory): 2.5 and 3.5 mm, and 5 for the sheet's title. */
enum uf_letter { UF_LETTER_SMALL, UF_LETTER_MIDDLE, UF_LETTER_LARGE, UF_LETTERS };
enum uf_align { UF_ALIGN_LEFT, UF_ALIGN_CENTRE, UF_ALIGN_RIGHT, UF_ALIGNS };

struct uf_point {
    double x, y;
};

struct uf_box {
    double left, bottom, right, top;
};

struct uf_paper;

/* Errors: UF_E_MEMORY. */
enum uf_status uf_paper_open(struct uf_paper **out, double width_mm, double height_mm,
                             struct uf_error *err);
void uf_paper_free(struct uf_paper *paper); /* NULL is fine */
void uf_paper_size(const struct uf_paper *paper, double *width_mm, double *height_mm);

/* From here on only what lies in the box is drawn, and of texts those that lie in it whole; NULL: all
   again. */
void uf_paper_window(struct uf_paper *paper, const struct uf_box *box);

/* Of a stroke what lies in the box; false: nothing. */
bool uf_paper_window_stroke(const struct uf_box *box, struct uf_point *a, struct uf_point *b);

void uf_paper_line(struct uf_paper *paper, enum uf_pen pen, double x0, double y0, double x1,
                   double y1);
void uf_paper_path(struct uf_paper *paper, enum uf_pen pen, const struct uf_point *points, size_t n,
                   bool closed);
void uf_paper_box(struct uf_paper *paper, enum uf_pen pen, struct uf_box box);

/* A polygon; variant: 0 for the first soil of a class, 1 for the second ...: slanted, spaced and sized
   another way, so that soils of a class differ. */
void uf_paper_area(struct uf_paper *paper, enum uf_hatch hatch, unsigned variant,
                   const struct uf_point *points, size_t n);

/* A line of text about the height of y; upright: read from the right, x its middle. */
void uf_paper_text(struct uf_paper *paper, enum uf_letter letter, enum uf_align align, double x,
                   double y, bool upright, const char *text);

double uf_paper_letter_mm(enum uf_letter letter); /* height of its capitals */

/* Width of a text, mm, in a wide sans-serif face: what it takes at most, near enough. */
double uf_paper_width_mm(enum uf_letter letter, const char *text);

/* The text, cut at a character with "..." where it is wider than that. Returns out. size >= 8. */
char *uf_paper_fit(char *out, size_t size, enum uf_letter letter, const char *text,
                   double width_mm);

/* Did all that was drawn find room? Errors: UF_E_MEMORY. */
enum uf_status uf_paper_check(const struct uf_paper *paper, struct uf_error *err);

/* What is drawn so far; left > right where nothing is. */
struct uf_box uf_paper_bounds(const struct uf_paper *paper);

/* Two texts that lie on one another, or one outside the paper (both alike): false where all are
   free. For tests. The names are the paper's. */
bool uf_paper_clash(const struct uf_paper *paper, const char **one, const char **other);

/* Numbers paper_w and paper_h, a data block for each pen, $masks and $texts.
   Errors: UF_E_MEMORY, also of anything drawn before. */
enum uf_status uf_paper_send(struct uf_paper *paper, struct uf_gnuplot *plot, struct uf_error *err);

#endif
