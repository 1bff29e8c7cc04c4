#ifndef UF_TESTS_DRAFTS_H
#define UF_TESTS_DRAFTS_H

#include "io/drawing/draft.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

/* Drawings of the examples in a folder that a test makes and drops. */

static char folder[1000];

static inline void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
}

static inline void close_folder(void)
{
    synthetic_remove(folder);
}

#define LARCH UF_SOURCE_DIR "/cli/examples/larch_hollow.yaml"
#define ALDER UF_SOURCE_DIR "/cli/examples/alder_lane.yaml"
#define MILL  UF_SOURCE_DIR "/cli/examples/mill_race.yaml"

/* An example with one key changed by --set; NULL: as it is. */
static inline struct uf_site *site_of(const char *path, const char *set)
{
    const struct uf_site_override row = {set};
    const struct uf_site_overrides sets = {&row, set != NULL ? 1 : 0};
    struct uf_site *site = NULL;
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    cr_assert_eq(uf_site_read(&site, path, &sets, &faults, &err), UF_OK, "%s %s", err.text,
                 faults.n > 0 ? faults.rows[0].what.text : "");
    uf_site_faults_clear(&faults);
    return site;
}

static inline struct uf_draft *draft_of(const struct uf_site *site, enum uf_units units)
{
    struct uf_draft *draft = NULL;
    struct uf_error err = {0};
    cr_assert_eq(uf_draft_open(&draft, site, units, "2026-01-02", &err), UF_OK, "%s", err.text);
    return draft;
}

#define MOST 4000000

/* The file of that name, drawn and read back, a '\0' behind it; the caller's to free. */
static inline char *drawn(struct uf_draft *draft, const char *name, size_t *size)
{
    char path[1100];
    struct uf_error err = {0};
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    cr_assert_eq(uf_draft_write(path, draft, &err), UF_OK, "%s", err.text);
    FILE *file = fopen(path, "rb");
    char *text = calloc(1, MOST);
    cr_assert(file != NULL && text != NULL);
    *size = fread(text, 1, MOST - 1, file);
    (void)fclose(file);
    return text;
}

static inline char *drawn_svg(struct uf_draft *draft)
{
    size_t size = 0;
    return drawn(draft, "sheet.svg", &size);
}

/* A line as it grows, and how many were as wide and high as is looked for, mm within 0.2. */
struct gauge {
    double unit_mm, width_mm, height_mm;
    double left, right, low, high;
    int found;
};

static inline void gauge_close(struct gauge *g)
{
    if (fabs((g->right - g->left) * g->unit_mm - g->width_mm) < 0.2 &&
        fabs((g->high - g->low) * g->unit_mm - g->height_mm) < 0.2) {
        g->found++;
    }
    g->left = g->low = INFINITY;
    g->right = g->high = -INFINITY;
}

static inline void gauge_point(struct gauge *g, double x, double y, bool starts)
{
    if (starts) {
        gauge_close(g);
    }
    g->left = fmin(g->left, x);
    g->right = fmax(g->right, x);
    g->low = fmin(g->low, y);
    g->high = fmax(g->high, y);
}

static inline struct gauge gauge_of(double unit_mm, double width_mm, double height_mm)
{
    return (struct gauge){unit_mm,   width_mm, height_mm, INFINITY,
                          -INFINITY, INFINITY, -INFINITY, 0};
}

/* Millimetres of declared paper to a unit of the SVG's coordinates. */
static inline double mm_of_unit(const char *svg, double width_mm)
{
    double declared = 0.0, units = 0.0;
    const char *head = strstr(svg, " width=\""), *box = strstr(svg, "viewBox=\"0 0 ");
    cr_assert(head != NULL && box != NULL);
    cr_assert_eq(sscanf(head, " width=\"%lfmm\"", &declared), 1);
    cr_assert_eq(sscanf(box, "viewBox=\"0 0 %lf", &units), 1);
    cr_expect_float_eq(declared, width_mm, 0.05);
    return declared / units;
}

/* The same in an SVG: "Mx,y Lx,y ..." in its own units. */
static inline int count_in_svg(const char *svg, double unit_mm, double width_mm, double height_mm)
{
    struct gauge g = gauge_of(unit_mm, width_mm, height_mm);
    for (const char *at = strstr(svg, "d='M"); at != NULL; at = strstr(at, "d='M")) {
        for (at += 3; *at != '\'';) {
            char *comma, *end;
            const double x = strtod(at + 1, &comma);
            const bool point = (*at == 'M' || *at == 'L') && comma != at + 1 && *comma == ',';
            if (point) {
                gauge_point(&g, x, strtod(comma + 1, &end), *at == 'M');
            }
            at = point ? end : at + 1;
        }
    }
    gauge_close(&g);
    return g.found;
}

#endif
