#include "draft_view.h"
#include "io/picture/plot.h"
#include "io/result/part_file.h"
#include "solver/base/constants.h"
#include "solver/design/shape.h"
#include "solver/design/tank.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A drawing from site file to file on disk: what it needs, and how it is written. */

#define UF_DRAFT_PAGE_MM 190.0 /* of a view on a page */

static const struct uf_draft_scale scales_si[] = {
    {20.0, "1:20"},   {25.0, "1:25"},     {50.0, "1:50"},   {75.0, "1:75"},
    {100.0, "1:100"}, {125.0, "1:125"},   {200.0, "1:200"}, {250.0, "1:250"},
    {500.0, "1:500"}, {1000.0, "1:1000"}, {0.0, NULL}};

static const struct uf_draft_scale scales_us[] = {{16.0, "3/4\u2033 = 1\u2032-0\u2033 (1:16)"},
                                                  {24.0, "1/2\u2033 = 1\u2032-0\u2033 (1:24)"},
                                                  {32.0, "3/8\u2033 = 1\u2032-0\u2033 (1:32)"},
                                                  {48.0, "1/4\u2033 = 1\u2032-0\u2033 (1:48)"},
                                                  {64.0, "3/16\u2033 = 1\u2032-0\u2033 (1:64)"},
                                                  {96.0, "1/8\u2033 = 1\u2032-0\u2033 (1:96)"},
                                                  {120.0, "1\u2033 = 10\u2032 (1:120)"},
                                                  {128.0, "3/32\u2033 = 1\u2032-0\u2033 (1:128)"},
                                                  {192.0, "1/16\u2033 = 1\u2032-0\u2033 (1:192)"},
                                                  {240.0, "1\u2033 = 20\u2032 (1:240)"},
                                                  {360.0, "1\u2033 = 30\u2032 (1:360)"},
                                                  {480.0, "1\u2033 = 40\u2032 (1:480)"},
                                                  {1200.0, "1\u2033 = 100\u2032 (1:1200)"},
                                                  {0.0, NULL}};

const struct uf_draft_scale *uf_draft_scales(enum uf_units units)
{
    return units == UF_UNITS_US ? scales_us : scales_si;
}

void uf_draft_size(double *width_mm, double *height_mm, enum uf_units units)
{
    *width_mm = units == UF_UNITS_US ? 17.0 * UF_INCH_M * 1e3 : 420.0;
    *height_mm = units == UF_UNITS_US ? 11.0 * UF_INCH_M * 1e3 : 297.0;
}

static enum uf_status check_stations(const struct uf_draft *draft, const char *key, const char *one,
                                     const char *many, const double *at_m, size_t n, size_t wanted,
                                     struct uf_error *err)
{
    if (n > 0 && n != wanted) {
        return uf_fail_key(err, UF_E_INPUT, key,
                           UF_SAID("{} stations for {} {}", UF_COUNT(n), UF_COUNT(wanted),
                                   UF_WORD(wanted == 1 ? one : many)),
                           UF_SAID("one station for each of the {}, or none: then they are drawn "
                                   "evenly apart",
                                   UF_WORD(many)));
    }
    for (size_t i = 0; i < n; i++) {
        if (!(at_m[i] <= 2.0 * draft->half_length_m)) {
            return uf_fail_key(err, UF_E_RANGE, key,
                               UF_SAID("{} lies beyond the tank's end", UF_OF(LENGTH, at_m[i])),
                               UF_SAID("up to {}", UF_OF(LENGTH, 2.0 * draft->half_length_m)));
        }
    }
    return UF_OK;
}

/* A strap holds on the shell and over what it is tied to. */
static enum uf_status check_straps(const struct uf_draft *draft, struct uf_error *err)
{
    const char *anchor;
    const struct uf_site_drawing *given = &draft->site->drawing;
    const double tied_m = uf_draft_station_reach_m(draft->design, &anchor);
    const double from_m = draft->half_length_m - tied_m, to_m = draft->half_length_m + tied_m;
    char longer[80] = "";
    if (anchor != NULL) {
        (void)snprintf(longer, sizeof longer, ", or a longer %s.length", anchor);
    }
    for (size_t i = 0; i < given->n_straps; i++) {
        if (!(given->strap_m[i] >= from_m - 1e-9 && given->strap_m[i] <= to_m + 1e-9)) {
            return uf_fail_key(err, UF_E_RANGE, "drawing.strap_stations",
                               UF_SAID("{} lies beyond {}", UF_OF(LENGTH, given->strap_m[i]),
                                       UF_WORD(anchor != NULL ? "what the strap is tied to"
                                                              : "the shell, on a head or past it")),
                               UF_SAID("from {} to {}{}", UF_OF(LENGTH, from_m),
                                       UF_OF(LENGTH, to_m), UF_WORD(longer)));
        }
    }
    return UF_OK;
}

static enum uf_status prepare(struct uf_draft *draft, struct uf_error *err)
{
    const struct uf_case *d = draft->design;
    const struct uf_site_drawing *given = &draft->site->drawing;
    if (!uf_case_has_tank(d)) {
        return uf_fail_key(err, UF_E_INPUT, "tank", UF_PLAIN("there is no tank to draw"),
                           UF_PLAIN("give a tank block"));
    }
    draft->dig = uf_dig_of(d);
    draft->pit = isfinite(d->burial.pit_clearance_m);
    draft->half_width_m = 0.5 * uf_tank_plan_width_m(&d->tank);
    draft->half_length_m = 0.5 * uf_tank_plan_length_m(&d->tank);
    draft->crown_m = uf_case_crown_m(d);
    draft->invert_m = uf_case_invert_m(d);
    uf_draft_fill(draft);
    enum uf_status status =
        uf_quantities(&draft->quantities, d, &draft->site->works.quantities, err);
    if (status == UF_OK) {
        status = check_stations(draft, "drawing.riser_stations", "riser", "risers", given->riser_m,
                                given->n_risers, d->tank.n_risers, err);
    }
    if (status == UF_OK) {
        status = check_stations(draft, "drawing.strap_stations", "strap", "straps", given->strap_m,
                                given->n_straps, d->anchors.straps, err);
    }
    return status == UF_OK ? check_straps(draft, err) : status;
}

/* gnuplot counts a picture in pixels; the sheet is so many millimetres. */
static enum uf_status put_svg(FILE *out, char *text, double width_mm, double height_mm,
                              struct uf_error *err)
{
    char head[80];
    const int n = snprintf(head, sizeof head, "width=\"%.0f\" height=\"%.0f\"", 10.0 * width_mm,
                           10.0 * height_mm);
    char *at = strstr(text, head);
    if (at == NULL) {
        return uf_fail(err, UF_E_FILE, "gnuplot's picture does not begin with its size");
    }
    (void)fwrite(text, 1, (size_t)(at - text), out);
    (void)fprintf(out, "width=\"%.1fmm\" height=\"%.1fmm\"", width_mm, height_mm);
    (void)fputs(at + n, out);
    return UF_OK;
}

static enum uf_status rewrite_svg(FILE *out, FILE *drawn, double width_mm, double height_mm,
                                  struct uf_error *err)
{
    char *text = NULL;
    rewind(drawn);
    enum uf_status status = uf_part_file_rest(&text, drawn, "the drawing", err);
    if (status == UF_OK) {
        status = put_svg(out, text, width_mm, height_mm, err);
    }
    free(text);
    return status;
}

static enum uf_status run(FILE *out, struct uf_paper *const *papers, size_t n,
                          const struct uf_plot_format *format, struct uf_gnuplot *plot,
                          struct uf_error *err)
{
    enum uf_status status = UF_OK;
    uf_gnuplot_text(plot, "format", format->name);
    for (size_t i = 0; status == UF_OK && i < n; i++) {
        status = uf_paper_send(papers[i], plot, err);
        if (status == UF_OK) {
            status = uf_gnuplot_script(plot, "drawing", err);
        }
    }
    if (status == UF_OK) {
        status = uf_gnuplot_run(plot, out, err);
    }
    return status == UF_OK ? uf_plot_whole(out, "drawing", format, err) : status;
}

/* Papers as pages of one file; SVG, a single one, with its size in its head. */
static enum uf_status print(FILE *out, struct uf_paper *const *papers, size_t n,
                            const struct uf_plot_format *format, struct uf_error *err)
{
    struct uf_gnuplot *plot = NULL;
    const bool svg = strcmp(format->name, "svg") == 0;
    FILE *drawn = svg ? tmpfile() : out;
    if (drawn == NULL) {
        return uf_fail(err, UF_E_FILE, "no temporary file could be made: %s", strerror(errno));
    }
    enum uf_status status = uf_gnuplot_open(&plot, err);
    if (status == UF_OK) {
        status = run(drawn, papers, n, format, plot, err);
    }
    if (status == UF_OK && svg) {
        double width_mm, height_mm;
        uf_paper_size(papers[0], &width_mm, &height_mm);
        status = rewrite_svg(out, drawn, width_mm, height_mm, err);
    }
    if (svg) {
        (void)fclose(drawn);
    }
    uf_gnuplot_free(plot);
    return status;
}

static enum uf_status write(const char *path, struct uf_paper *const *papers, size_t n,
                            const struct uf_plot_format *format, struct uf_error *err)
{
    struct uf_part_file part;
    const enum uf_status status = uf_part_file_open(&part, path, err);
    return status == UF_OK
               ? uf_part_file_close(&part, print(part.file, papers, n, format, err), err)
               : status;
}

/* SVG or PDF, by the name's ending. */
static const struct uf_plot_format *format_of(const char *path)
{
    const char *dot = strrchr(path, '.');
    const bool known = dot != NULL && (strcmp(dot, ".svg") == 0 || strcmp(dot, ".pdf") == 0);
    return known ? uf_plot_format_find(dot + 1) : NULL;
}

enum uf_status uf_draft_open(struct uf_draft **out, const struct uf_site *site, enum uf_units units,
                             const char *computed, struct uf_error *err)
{
    struct uf_draft *draft = calloc(1, sizeof *draft);
    *out = draft;
    if (draft == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a drawing");
    }
    draft->site = site;
    draft->design = &site->design;
    draft->units = units;
    draft->computed = computed;
    enum uf_status status = prepare(draft, err);
    if (status == UF_OK) {
        status = uf_draft_sheet(draft, err);
    }
    if (status != UF_OK) {
        uf_draft_free(draft);
        *out = NULL;
    }
    return status;
}

void uf_draft_free(struct uf_draft *draft)
{
    if (draft != NULL) {
        for (size_t i = 0; i < UF_DRAFT_SHEETS; i++) {
            uf_paper_free(draft->sheets[i]);
        }
        free(draft);
    }
}

const struct uf_draft_scale *uf_draft_scale_of(const struct uf_draft *draft)
{
    return draft->scale;
}

const struct uf_paper *uf_draft_paper(const struct uf_draft *draft, size_t sheet)
{
    return draft->sheets[sheet];
}

char *uf_draft_path(char *path, size_t size, const char *name, size_t sheet)
{
    const char *dot = strrchr(name, '.');
    const size_t stem = dot != NULL ? (size_t)(dot - name) : strlen(name);
    if (sheet > 0 && dot != NULL && strcmp(dot, ".svg") == 0) {
        (void)snprintf(path, size, "%.*s-%zu%s", (int)stem, name, sheet + 1, dot);
    } else {
        (void)snprintf(path, size, "%s", name);
    }
    return path;
}

enum uf_status uf_draft_write(const char *path, struct uf_draft *draft, struct uf_error *err)
{
    const struct uf_plot_format *format = format_of(path);
    if (format == NULL) {
        return uf_fail(err, UF_E_INPUT, "%.200s: a drawing is written as .svg or .pdf", path);
    }
    if (strcmp(format->name, "pdf") == 0) {
        return write(path, draft->sheets, UF_DRAFT_SHEETS, format, err);
    }
    enum uf_status status = UF_OK;
    for (size_t i = 0; status == UF_OK && i < UF_DRAFT_SHEETS; i++) {
        char name[1100];
        status =
            write(uf_draft_path(name, sizeof name, path, i), &draft->sheets[i], 1, format, err);
    }
    return status;
}

/* A paper of its own about a view. */
static enum uf_status draw_alone(struct uf_paper **paper, struct uf_draft *draft, int row,
                                 struct uf_error *err)
{
    const double around_mm = 2.0;
    struct uf_box box = {0.0, 0.0, 0.0, 0.0};
    struct uf_view view = {0.0, 0.0, 0.0};
    enum uf_status status = UF_OK;
    bool fits = false;
    draft->unscaled = true;
    for (const struct uf_draft_scale *scale = uf_draft_scales(draft->units);
         status == UF_OK && !fits && scale->under > 0.0; scale++) {
        view.mm_m = 1000.0 / scale->under;
        status = uf_draft_view_measure(&box, draft, row, view.mm_m, err);
        fits = box.right - box.left < UF_DRAFT_PAGE_MM;
    }
    if (status == UF_OK) {
        /* all as wide, so that texts are as large in each */
        status = uf_paper_open(paper,
                               ceil(fmax(box.right - box.left, UF_DRAFT_PAGE_MM) + 2.0 * around_mm),
                               ceil(box.top - box.bottom + 2.0 * around_mm), err);
    }
    if (status == UF_OK) {
        view.x_mm = around_mm - box.left;
        view.y_mm = around_mm - box.bottom;
        draft->paper = *paper;
        uf_draft_view_rows[row].draw(draft, &view);
        draft->paper = NULL;
        status = uf_paper_check(*paper, err);
    }
    draft->unscaled = false;
    return status;
}

static enum uf_status svg_of(char **svg, struct uf_paper *paper, struct uf_error *err)
{
    FILE *out = tmpfile();
    if (out == NULL) {
        return uf_fail(err, UF_E_FILE, "no temporary file could be made: %s", strerror(errno));
    }
    enum uf_status status = print(out, &paper, 1, uf_plot_format_find("svg"), err);
    if (status == UF_OK) {
        rewind(out);
        status = uf_part_file_rest(svg, out, "the drawing", err);
    }
    (void)fclose(out);
    return status;
}

enum uf_status uf_draft_svg(char **svg, const char **caption, size_t *i, struct uf_draft *draft,
                            struct uf_error *err)
{
    struct uf_paper *paper = NULL;
    _Static_assert((int)UF_DRAFT_SVG_ACROSS == (int)UF_DRAFT_VIEW_ACROSS, "a row of the views");
    *svg = NULL;
    *caption = NULL;
    while (*i < UF_DRAFT_VIEWS &&
           !(uf_draft_view_rows[*i].page && uf_draft_view_rows[*i].wanted(draft))) {
        ++*i;
    }
    if (*i >= UF_DRAFT_VIEWS) {
        return UF_OK;
    }
    const int row = (int)(*i)++;
    *caption = uf_draft_view_rows[row].caption;
    enum uf_status status = draw_alone(&paper, draft, row, err);
    if (status == UF_OK) {
        status = svg_of(svg, paper, err);
    }
    uf_paper_free(paper);
    return status;
}
