#ifndef UF_PAPER_PRIVATE_H
#define UF_PAPER_PRIVATE_H

#include "paper.h"

#define UF_PAPER_TEXT_SIZE 200

/* Stretches of the points of a paper. */
struct uf_paper_run {
    enum uf_pen pen;
    size_t first, n;
};

struct uf_paper_fill {
    enum uf_hatch hatch;
    unsigned variant;
    size_t first, n;
    struct uf_box box;
};

struct uf_paper_label {
    enum uf_letter letter;
    enum uf_align align;
    double x, y;
    bool upright;
    struct uf_box box; /* with the gap around it */
    char text[UF_PAPER_TEXT_SIZE];
};

struct uf_paper {
    double width_mm, height_mm;
    struct uf_point *points;
    struct uf_paper_run *runs;
    struct uf_paper_fill *fills;
    struct uf_paper_label *labels;
    size_t n_points, n_runs, n_fills, n_labels;
    size_t most_points, most_runs, most_fills, most_labels;
    struct uf_box bounds, window;
    bool out_of_memory, hatched, windowed;
};

/* Of an area what lies in the box; returns how many points. */
#define UF_PAPER_WINDOW_POINTS 512
size_t uf_paper_window_area(struct uf_point out[UF_PAPER_WINDOW_POINTS], const struct uf_box *box,
                            const struct uf_point *points, size_t n);

/* Adds the strokes of every area's hatch to the runs. */
void uf_paper_hatch(struct uf_paper *paper);

#endif
