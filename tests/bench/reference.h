#ifndef UF_BENCH_REFERENCE_H
#define UF_BENCH_REFERENCE_H

#include "cli/verify/verify.h"
#include "solver/base/constants.h"
#include "solver/heat/front.h"
#include "solver/heat/section.h"
#include "solver/time/season.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The reference problem: half a section with a tank of still water, three years of a
   cosine year, started on 1 October. tests/data/reference_problem.csv holds its solution
   on 95 277 cells. */

enum { REFERENCE_DAYS = 1095, REFERENCE_LAST = 366 };

static inline double reference_outside_degC(double day)
{
    return 3.0 - 16.0 * cos(2.0 * UF_PI * (273.0 + day - 20.0) / 365.0);
}

/* What the fine solution says of the last 366 days: [bare, board]. */
struct reference {
    double depth_m[2][REFERENCE_LAST], crown_degC[2][REFERENCE_LAST];
};

static inline bool reference_read(struct reference *ref)
{
    FILE *file = fopen(UF_SOURCE_DIR "/tests/data/reference_problem.csv", "r");
    char line[1024];
    size_t row = 0;
    while (file != NULL && row < REFERENCE_LAST && fgets(line, sizeof line, file) != NULL) {
        double v[18];
        char *at = line;
        if (line[0] < '0' || line[0] > '9') {
            continue;
        }
        for (int k = 0; k < 18; k++) {
            v[k] = strtod(at, &at);
            at++;
        }
        ref->depth_m[0][row] = v[3];
        ref->crown_degC[0][row] = v[6];
        ref->depth_m[1][row] = v[11];
        ref->crown_degC[1][row++] = v[14];
    }
    if (file != NULL) {
        (void)fclose(file);
    }
    return row == REFERENCE_LAST;
}

/* Errors against it, gathered day by day. */
struct reference_errors {
    double deepest_m, deepest_want_m, day_m, crown_degC, crown_want_degC;
    int gone, gone_want; /* rows of the first day without frost after the deepest; -1 not yet */
    bool deep;
};

static inline struct reference_errors reference_begin(void)
{
    return (struct reference_errors){
        .crown_degC = INFINITY, .crown_want_degC = INFINITY, .gone = -1, .gone_want = -1};
}

static inline void reference_day(struct reference_errors *e, const struct reference *ref,
                                 bool board, int row, const double got[2])
{
    const double want = ref->depth_m[board][row];
    const bool last = e->deep && row + 1 < REFERENCE_LAST && ref->depth_m[board][row + 1] <= 0.0;
    e->deepest_m = fmax(e->deepest_m, got[0]);
    e->deepest_want_m = fmax(e->deepest_want_m, want);
    e->crown_degC = fmin(e->crown_degC, got[1]);
    e->crown_want_degC = fmin(e->crown_want_degC, ref->crown_degC[board][row]);
    e->deep = e->deep || want > 1.0;
    if (e->deep && e->gone_want < 0 && want <= 0.0) {
        e->gone_want = row;
    }
    if (e->deep && e->gone < 0 && got[0] <= 0.0) {
        e->gone = row;
    }
    if (e->gone_want < 0 && !last) {
        e->day_m = fmax(e->day_m, fabs(got[0] - want));
    }
}

/* "daily": within 2 cm every day up to the one before the frost is gone, and that within
   a day; "maximum": largest depth within 2 cm, crown's coldest within 0.1 K; else "none". */
static inline const char *reference_band(const struct reference_errors *e)
{
    if (e->day_m <= 0.02 && abs(e->gone - e->gone_want) <= 1) {
        return "daily";
    }
    const bool maximum = fabs(e->deepest_m - e->deepest_want_m) <= 0.02 &&
                         fabs(e->crown_degC - e->crown_want_degC) <= 0.1;
    return maximum ? "maximum" : "none";
}

/* One line, for scripts too: "band NAME" comes last. */
static inline void reference_print(const struct reference_errors *e)
{
    printf("largest depth %+.2f cm, worst day %.2f cm, gone %+d d, crown %+.3f K, band %s\n",
           1e2 * (e->deepest_m - e->deepest_want_m), 1e2 * e->day_m, e->gone - e->gone_want,
           e->crown_degC - e->crown_want_degC, reference_band(e));
}

/* 3 degC at grade, 0.0375 K/m down. */
static inline double reference_start_degC(double depth_m)
{
    return 3.0 + 0.0375 * depth_m;
}

/* The section of the problem, and the column that stands for x = 12 m. */
struct reference_place {
    struct uf_case design;
    struct uf_section *section;
    size_t far;
    double outside_degC[REFERENCE_DAYS + 2], film_W_m2K[REFERENCE_DAYS + 2];
    struct uf_drive drive;
    double *start_degC; /* [n] */
};

static inline void reference_stop(const struct uf_error *err)
{
    (void)fprintf(stderr, "%s\n", err->text);
    exit(1);
}

/* What belongs to a section: the column far from the tank, and the state to start from. */
static inline void reference_settle(struct reference_place *p)
{
    const struct uf_grid *g = p->section->grid;
    p->far = 0;
    while (p->far + 1 < g->nx && g->x_m[p->far] < 12.0) {
        p->far++;
    }
    free(p->start_degC);
    p->start_degC = calloc(p->section->heat->n, sizeof *p->start_degC);
    for (size_t c = 0; p->start_degC != NULL && c < p->section->heat->n; c++) {
        p->start_degC[c] = reference_start_degC(g->z_m[c / g->nx]);
    }
}

/* Each of n cells cut in two; the caller's. */
static inline double *reference_halves(const double *edge_m, size_t n)
{
    double *out = calloc(2 * n + 1, sizeof *out);
    for (size_t i = 0; out != NULL && i <= n; i++) {
        out[2 * i] = edge_m[i];
        if (i < n) {
            out[2 * i + 1] = 0.5 * (edge_m[i] + edge_m[i + 1]);
        }
    }
    return out;
}

/* The same section with each row and each column cut in two. */
static inline void reference_halve(struct reference_place *p)
{
    struct uf_error err = {0};
    struct uf_grid *grid = NULL;
    struct uf_section *fine = NULL;
    const struct uf_grid *g = p->section->grid;
    if (uf_grid_create(&grid, reference_halves(g->x_edge_m, g->nx), 2 * g->nx,
                       reference_halves(g->z_edge_m, g->nz), 2 * g->nz, g->radial, &err) != UF_OK ||
        uf_section_create_on(&fine, &p->design, grid, &err) != UF_OK) {
        reference_stop(&err);
    }
    uf_section_free(p->section);
    p->section = fine;
    reference_settle(p);
}

static inline void reference_open(struct reference_place *p, double finest_m, bool board)
{
    struct uf_error err = {0};
    memset(p, 0, sizeof *p);
    p->design = uf_verify_reference_case(board);
    p->design.grid.finest_m = finest_m;
    if (uf_section_create(&p->section, &p->design, 2.6, &err) != UF_OK) {
        reference_stop(&err);
    }
    reference_settle(p);
    for (int i = 0; i < REFERENCE_DAYS + 2; i++) {
        p->outside_degC[i] = reference_outside_degC(i + 0.5);
        p->film_W_m2K[i] = 15.0;
    }
    p->drive = (struct uf_drive){.days = REFERENCE_DAYS + 2,
                                 .outside_degC = p->outside_degC,
                                 .h_W_m2K = p->film_W_m2K,
                                 .air_degC = p->outside_degC};
}

static inline void reference_close(struct reference_place *p)
{
    free(p->start_degC);
    uf_section_free(p->section);
    memset(p, 0, sizeof *p);
}

/* Frost depth at x = 12 m and temperature of the crown at one evening. */
static inline void reference_look(const struct reference_place *p, double day, const double *H,
                                  const double *T, double got[2])
{
    const struct uf_heat *h = p->section->heat;
    const struct uf_heat_now now = uf_season_now(&p->drive, day);
    const double surface = uf_heat_surface_degC(h, &h->tops[p->far], &now, T[p->far]);
    got[0] = uf_front_frost_m(p->section, H, T, p->far, surface);
    got[1] = uf_section_wall_degC(p->section, &h->links[p->section->crown_link], T);
}

#endif
