#include "io/text/quote.h"
#include "paper_private.h"
#include "solver/base/constants.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define GAP_MM 0.5 /* kept free around a text */

static const double letter_mm[UF_LETTERS] = {2.5, 3.5, 5.0};

enum uf_status uf_paper_open(struct uf_paper **out, double width_mm, double height_mm,
                             struct uf_error *err)
{
    *out = calloc(1, sizeof **out);
    if (*out == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a drawing");
    }
    (*out)->width_mm = width_mm;
    (*out)->height_mm = height_mm;
    (*out)->bounds = (struct uf_box){INFINITY, INFINITY, -INFINITY, -INFINITY};
    return UF_OK;
}

void uf_paper_size(const struct uf_paper *paper, double *width_mm, double *height_mm)
{
    *width_mm = paper->width_mm;
    *height_mm = paper->height_mm;
}

void uf_paper_free(struct uf_paper *paper)
{
    if (paper != NULL) {
        free(paper->points);
        free(paper->runs);
        free(paper->fills);
        free(paper->labels);
        free(paper);
    }
}

/* Room for more rows; NULL, and the paper out of memory, where there is none. */
static void *room(struct uf_paper *paper, void **rows, size_t *most, size_t n, size_t more,
                  size_t size)
{
    if (n + more > *most) {
        const size_t wanted = 2 * (n + more) + 16;
        void *grown = realloc(*rows, wanted * size);
        if (grown == NULL) {
            paper->out_of_memory = true;
            return NULL;
        }
        *rows = grown;
        *most = wanted;
    }
    return *rows;
}

static void widen(struct uf_box *bounds, const struct uf_box *box)
{
    bounds->left = fmin(bounds->left, box->left);
    bounds->bottom = fmin(bounds->bottom, box->bottom);
    bounds->right = fmax(bounds->right, box->right);
    bounds->top = fmax(bounds->top, box->top);
}

static struct uf_box around(const struct uf_point *points, size_t n)
{
    struct uf_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (size_t i = 0; i < n; i++) {
        widen(&box, &(struct uf_box){points[i].x, points[i].y, points[i].x, points[i].y});
    }
    return box;
}

/* Copies points in; false without memory. A point that is no number is a mistake of ours that must
   not reach the paper. */
static bool keep(struct uf_paper *paper, const struct uf_point *points, size_t n, bool closed)
{
    void *rows = paper->points;
    if (room(paper, &rows, &paper->most_points, paper->n_points, n + 1, sizeof *points) == NULL) {
        return false;
    }
    paper->points = rows;
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(points[i].x) || !isfinite(points[i].y)) {
            return false;
        }
        paper->points[paper->n_points + i] = points[i];
    }
    if (closed) {
        paper->points[paper->n_points + n] = points[0];
    }
    return n > 0;
}

static void put_path(struct uf_paper *paper, enum uf_pen pen, const struct uf_point *points,
                     size_t n, bool closed)
{
    void *rows = paper->runs;
    if (room(paper, &rows, &paper->most_runs, paper->n_runs, 1, sizeof *paper->runs) == NULL) {
        return;
    }
    paper->runs = rows;
    if (keep(paper, points, n, closed)) {
        const struct uf_box box = around(points, n);
        n += closed ? 1 : 0;
        paper->runs[paper->n_runs++] = (struct uf_paper_run){pen, paper->n_points, n};
        paper->n_points += n;
        widen(&paper->bounds, &box);
    }
}

static bool in_window(const struct uf_paper *paper, struct uf_point p)
{
    return p.x >= paper->window.left && p.x <= paper->window.right && p.y >= paper->window.bottom &&
           p.y <= paper->window.top;
}

void uf_paper_path(struct uf_paper *paper, enum uf_pen pen, const struct uf_point *points, size_t n,
                   bool closed)
{
    bool whole = true;
    for (size_t i = 0; i < n; i++) {
        whole = whole && (!paper->windowed || in_window(paper, points[i]));
    }
    if (whole) {
        put_path(paper, pen, points, n, closed);
        return;
    }
    for (size_t i = 0; i + (closed ? 0 : 1) < n; i++) {
        struct uf_point stroke[] = {points[i], points[(i + 1) % n]};
        if (uf_paper_window_stroke(&paper->window, &stroke[0], &stroke[1])) {
            put_path(paper, pen, stroke, 2, false);
        }
    }
}

void uf_paper_line(struct uf_paper *paper, enum uf_pen pen, double x0, double y0, double x1,
                   double y1)
{
    const struct uf_point ends[] = {{x0, y0}, {x1, y1}};
    uf_paper_path(paper, pen, ends, 2, false);
}

void uf_paper_box(struct uf_paper *paper, enum uf_pen pen, struct uf_box box)
{
    const struct uf_point corners[] = {
        {box.left, box.bottom}, {box.right, box.bottom}, {box.right, box.top}, {box.left, box.top}};
    uf_paper_path(paper, pen, corners, 4, true);
}

void uf_paper_area(struct uf_paper *paper, enum uf_hatch hatch, unsigned variant,
                   const struct uf_point *points, size_t n)
{
    struct uf_point within[UF_PAPER_WINDOW_POINTS];
    void *rows = paper->fills;
    if (paper->windowed) {
        n = uf_paper_window_area(within, &paper->window, points, n);
        points = within;
    }
    if (room(paper, &rows, &paper->most_fills, paper->n_fills, 1, sizeof *paper->fills) == NULL) {
        return;
    }
    paper->fills = rows;
    if (keep(paper, points, n, false)) {
        const struct uf_box box = around(points, n);
        paper->fills[paper->n_fills++] =
            (struct uf_paper_fill){hatch, variant, paper->n_points, n, box};
        paper->n_points += n;
        widen(&paper->bounds, &box);
    }
}

double uf_paper_letter_mm(enum uf_letter letter)
{
    return letter_mm[letter];
}

/* Advance in parts of the capital's height, by groups of letters of a wide sans-serif. */
static double advance(const unsigned char *at, size_t n)
{
    if (n > 1) {
        return n > 2 && *at >= 0xe3 ? 1.5 : n > 2 ? 0.55 : 0.9; /* ideographs; marks; the rest */
    }
    return strchr("il.,:;'|!()[]jtfrI/- ", *at) != NULL ? 0.52
           : strchr("mwMW%@", *at) != NULL              ? 1.35
           : *at >= 'A' && *at <= 'Z'                   ? 0.97
                                                        : 0.87;
}

double uf_paper_width_mm(enum uf_letter letter, const char *text)
{
    const unsigned char *at = (const unsigned char *)text;
    double sum = 0.0;
    while (*at != '\0') {
        const size_t n = uf_quote_character_length(at);
        sum += advance(at, n);
        at += n > 0 ? n : 1;
    }
    return sum * letter_mm[letter];
}

char *uf_paper_fit(char *out, size_t size, enum uf_letter letter, const char *text, double width_mm)
{
    (void)uf_quote_text(out, size, text);
    size_t n = strlen(out);
    while (n > 0 && uf_paper_width_mm(letter, out) > width_mm) {
        n -= n > 3 && strcmp(out + n - 3, "...") == 0 ? 4 : 1;
        while (n > 0 && uf_quote_is_inner_byte(out[n])) {
            n--;
        }
        (void)snprintf(out + n, size - n, "%s", n + 4 < size ? "..." : "");
        n = n == 0 ? 0 : strlen(out);
    }
    return out;
}

static struct uf_box label_box(const struct uf_paper_label *label)
{
    const double wide = uf_paper_width_mm(label->letter, label->text);
    const double half = 0.5 * letter_mm[label->letter] + GAP_MM;
    const double before = label->align == UF_ALIGN_LEFT    ? 0.0
                          : label->align == UF_ALIGN_RIGHT ? wide
                                                           : 0.5 * wide;
    const double x = label->x, y = label->y;
    return label->upright ? (struct uf_box){x - half, y - before - GAP_MM, x + half,
                                            y - before + wide + GAP_MM}
                          : (struct uf_box){x - before - GAP_MM, y - half,
                                            x - before + wide + GAP_MM, y + half};
}

void uf_paper_text(struct uf_paper *paper, enum uf_letter letter, enum uf_align align, double x,
                   double y, bool upright, const char *text)
{
    void *rows = paper->labels;
    if (text[0] == '\0' || !isfinite(x) || !isfinite(y) ||
        room(paper, &rows, &paper->most_labels, paper->n_labels, 1, sizeof *paper->labels) ==
            NULL) {
        return;
    }
    paper->labels = rows;
    struct uf_paper_label *label = &paper->labels[paper->n_labels++];
    *label = (struct uf_paper_label){
        .letter = letter, .align = align, .x = x, .y = y, .upright = upright};
    (void)uf_quote_text(label->text, sizeof label->text, text);
    label->box = label_box(label);
    if (paper->windowed &&
        !(label->box.left >= paper->window.left && label->box.right <= paper->window.right &&
          label->box.bottom >= paper->window.bottom && label->box.top <= paper->window.top)) {
        paper->n_labels--;
        return;
    }
    widen(&paper->bounds, &label->box);
}

enum uf_status uf_paper_check(const struct uf_paper *paper, struct uf_error *err)
{
    return paper->out_of_memory ? uf_fail(err, UF_E_MEMORY, "out of memory for a drawing") : UF_OK;
}

struct uf_box uf_paper_bounds(const struct uf_paper *paper)
{
    return paper->bounds;
}

static bool overlap(const struct uf_box *a, const struct uf_box *b)
{
    return a->left < b->right && b->left < a->right && a->bottom < b->top && b->bottom < a->top;
}

bool uf_paper_clash(const struct uf_paper *paper, const char **one, const char **other)
{
    for (size_t i = 0; i < paper->n_labels; i++) {
        const struct uf_paper_label *a = &paper->labels[i];
        size_t k = i + 1;
        while (k < paper->n_labels && !overlap(&a->box, &paper->labels[k].box)) {
            k++;
        }
        const bool off = a->box.left < 0.0 || a->box.bottom < 0.0 ||
                         a->box.right > paper->width_mm || a->box.top > paper->height_mm;
        if (off || k < paper->n_labels) {
            *one = a->text;
            *other = off ? a->text : paper->labels[k].text;
            return true;
        }
    }
    return false;
}

static void send_pen(const struct uf_paper *paper, struct uf_gnuplot *plot, enum uf_pen pen,
                     const char *name)
{
    uf_gnuplot_data(plot, name);
    for (size_t i = 0; i < paper->n_runs; i++) {
        const struct uf_paper_run *run = &paper->runs[i];
        for (size_t k = 0; run->pen == pen && k < run->n; k++) {
            uf_gnuplot_cell(plot, paper->points[run->first + k].x);
            uf_gnuplot_cell(plot, paper->points[run->first + k].y);
            uf_gnuplot_row(plot);
        }
        if (run->pen == pen) {
            uf_gnuplot_row(plot);
        }
    }
    uf_gnuplot_cell(plot, NAN); /* an empty block would be an error */
    uf_gnuplot_cell(plot, NAN);
    uf_gnuplot_row(plot);
    uf_gnuplot_data_end(plot);
}

static void send_texts(const struct uf_paper *paper, struct uf_gnuplot *plot)
{
    uf_gnuplot_data(plot, "masks");
    for (size_t i = 0; i < paper->n_labels; i++) {
        const struct uf_box *box = &paper->labels[i].box;
        const double cells[] = {box->left, box->right, box->bottom, box->top};
        for (size_t k = 0; k < 4; k++) {
            uf_gnuplot_cell(plot, cells[k]);
        }
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
    uf_gnuplot_data(plot, "texts");
    for (size_t i = 0; i < paper->n_labels; i++) {
        const struct uf_paper_label *label = &paper->labels[i];
        const double cells[] = {(double)((int)label->letter * UF_ALIGNS + (int)label->align),
                                label->x, label->y, label->upright ? 90.0 : 0.0};
        for (size_t k = 0; k < 4; k++) {
            uf_gnuplot_cell(plot, cells[k]);
        }
        uf_gnuplot_word(plot, label->text);
        uf_gnuplot_row(plot);
    }
    uf_gnuplot_data_end(plot);
}

enum uf_status uf_paper_send(struct uf_paper *paper, struct uf_gnuplot *plot, struct uf_error *err)
{
#define NAME(WORD) "pen_" #WORD,
    static const char *const names[UF_PENS] = {UF_PEN_LIST(NAME)};
#undef NAME
    if (!paper->hatched) {
        uf_paper_hatch(paper);
        paper->hatched = true;
    }
    const enum uf_status status = uf_paper_check(paper, err);
    if (status != UF_OK) {
        return status;
    }
    uf_gnuplot_number(plot, "paper_w", paper->width_mm);
    uf_gnuplot_number(plot, "paper_h", paper->height_mm);
    for (int pen = 0; pen < UF_PENS; pen++) {
        send_pen(paper, plot, (enum uf_pen)pen, names[pen]);
    }
    send_texts(paper, plot);
    return UF_OK;
}
