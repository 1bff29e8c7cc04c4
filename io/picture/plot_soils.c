#include "io/text/spelling.h"
#include "plot_private.h"
#include "solver/ground/soil.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What the ground is made of, under the isotherms: small marks on a shaken lattice, and the soils'
   names. Which mark stands for which soil is common practice, no source: circles for gravel,
   triangles for crushed stone, dots for sand, short slanting strokes for silt and clay, level ones
   for peat. */

#define LATTICE   54   /* marks across the picture */
#define STROKE    0.28 /* half a stroke, in steps of the lattice */
#define SHAKE     0.45 /* how far a mark lies off its place */
#define LETTER    0.25 /* half the width of a letter of a name, and */
#define NAME_HIGH 1.0  /* half a name's height, in steps of the lattice */

/* Ends of a mark's stroke in steps of the lattice; without one it is a point. */
static const struct {
    double across, down;
} strokes[UF_SOIL_MARKS] = {[UF_SOIL_FINE] = {STROKE, STROKE}, [UF_SOIL_ORGANIC] = {STROKE, 0.0}};

/* Index of the cell that holds a place, n when none does. */
static size_t cell_of(const double *edge_m, size_t n, double at_m)
{
    size_t i = 0;
    while (i < n && at_m > edge_m[i + 1]) {
        i++;
    }
    return i;
}

/* The material at a place, -1 beyond the plane; a plane of one column is as wide as is shown. */
static int material_at(const struct uf_plot_plane *p, double x_m, double z_m)
{
    const size_t i = p->n > 1 ? cell_of(p->at_edge_m, p->n, fabs(x_m)) : 0;
    const size_t j = cell_of(p->z_edge_m, p->nz, z_m);
    return i < p->n && j < p->nz ? p->material[j * p->n + i] : -1;
}

static enum uf_soil_mark mark_at(const struct uf_plot_view *view, double x_m, double z_m)
{
    const int material = material_at(&view->plane, x_m, z_m);
    const int mark = material < 0 ? UF_SOIL_UNMARKED : view->record->marks[material];
    return mark < 0 || mark >= UF_SOIL_MARKS ? UF_SOIL_UNMARKED : (enum uf_soil_mark)mark;
}

/* A number from -1 to 1 that goes by the place alone. */
static double shaken(long i, long k, unsigned salt)
{
    unsigned h = (unsigned)i * 2654435761U ^ (unsigned)k * 2246822519U ^ salt * 3266489917U;
    h = (h ^ (h >> 15)) * 668265263U;
    return (double)((h ^ (h >> 13)) & 0xffffU) / 32767.5 - 1.0;
}

static void send_mark(const struct uf_plot_view *view, enum uf_soil_mark mark, double x_m,
                      double z_m, double step_m)
{
    const double across_m = strokes[mark].across * step_m, down_m = strokes[mark].down * step_m;
    uf_plot_view_point(view, x_m - across_m, z_m - down_m);
    if (across_m > 0.0) {
        uf_plot_view_point(view, x_m + across_m, z_m + down_m);
        uf_gnuplot_row(view->plot);
    }
}

/* All marks of one kind; one that would reach into another soil is left out. */
static void send_marks(const struct uf_plot_view *view, enum uf_soil_mark mark)
{
    const double step_m = 2.0 * view->half_m / LATTICE;
    const long rows = (long)(view->depth_m / step_m);
    for (long k = 0; k < rows; k++) {
        for (long i = 0; i < LATTICE; i++) {
            const double x_m =
                ((double)i + 0.5 + (k % 2 == 0 ? 0.25 : -0.25) + 0.5 * SHAKE * shaken(i, k, 1U)) *
                    step_m -
                view->half_m;
            const double z_m = ((double)k + 0.5 + 0.5 * SHAKE * shaken(i, k, 2U)) * step_m;
            if (mark_at(view, x_m, z_m) == mark && mark_at(view, x_m - 0.3 * step_m, z_m) == mark &&
                mark_at(view, x_m + 0.3 * step_m, z_m) == mark &&
                mark_at(view, x_m, z_m - 0.3 * step_m) == mark &&
                mark_at(view, x_m, z_m + 0.3 * step_m) == mark) {
                send_mark(view, mark, x_m, z_m, step_m);
            }
        }
    }
}

/* Does concrete or the board, which has a label of its own, lie where a name would? */
static bool is_built(const struct uf_plot_view *view, double x_m, double z_m, double half_m,
                     double high_m)
{
    const struct uf_result_design *d = view->design;
    bool built = z_m > d->board_top_m - 2.0 * high_m && z_m < d->board_bottom_m + 2.0 * high_m;
    for (size_t i = 0; i < d->n_anchors; i++) {
        const struct uf_anchor_body *body = &d->anchors[i].body;
        const double reach_m = 0.5 * (view->along ? body->length_m : body->width_m);
        const double axis_m = view->along ? 0.0 : body->axis_m;
        built = built || (fabs(x_m - axis_m) < reach_m + half_m && z_m > body->top_m - high_m &&
                          z_m < body->top_m + body->height_m + high_m);
    }
    for (size_t i = 0; i < d->n_pipes; i++) { /* with its name over it */
        const double pipe_m = 0.5 * d->pipes[i].diameter_m, over_m = d->pipes[i].depth_m - z_m;
        built = built || (over_m < pipe_m + 4.0 * high_m && over_m > -pipe_m - high_m);
    }
    return built;
}

/* Is the same soil all round the place of a name so wide? */
static bool is_free(const struct uf_plot_view *view, int material, double x_m, double z_m,
                    double half_m)
{
    const double high_m = NAME_HIGH * 2.0 * view->half_m / LATTICE;
    bool same = !is_built(view, x_m, z_m, half_m, high_m);
    for (int side = -2; side <= 2; side++) {
        for (int row = -1; row <= 1; row++) {
            same = same && material_at(&view->plane, x_m + 0.5 * side * half_m,
                                       z_m + row * high_m) == material;
        }
    }
    return same;
}

/* "clayey silt, saturated", of a name such as clayey_silt, saturated. */
static void send_name(const struct uf_plot_view *view, int material, double x_m, double z_m)
{
    char text[UF_NAME_SIZE];
    uf_gnuplot_cell(view->plot, uf_plot_length(view->look, x_m));
    uf_gnuplot_cell(view->plot, uf_plot_length(view->look, z_m));
    uf_gnuplot_word(view->plot,
                    uf_spelling_words(text, sizeof text, view->record->material_names[material]));
    uf_gnuplot_row(view->plot);
}

/* A name at the place farthest right and highest where it fits. */
static void place_name(const struct uf_plot_view *view, int material)
{
    const double step_m = 2.0 * view->half_m / LATTICE;
    const double half_m = LETTER * step_m * (double)strlen(view->record->material_names[material]);
    for (double x_m = view->half_m - half_m; x_m > 0.0; x_m -= step_m) {
        for (double z_m = step_m; z_m < view->depth_m - step_m; z_m += 0.5 * step_m) {
            if (is_free(view, material, x_m, z_m, half_m)) {
                send_name(view, material, x_m, z_m);
                return;
            }
        }
    }
}

void uf_plot_section_soils(const struct uf_plot_view *view)
{
    for (int mark = UF_SOIL_UNMARKED + 1; mark < UF_SOIL_MARKS; mark++) {
        char name[40];
        (void)snprintf(name, sizeof name, "soil_%s", uf_soil_mark_words[mark]);
        uf_gnuplot_data(view->plot, name);
        send_marks(view, (enum uf_soil_mark)mark);
        uf_gnuplot_data_end(view->plot);
    }
    uf_gnuplot_data(view->plot, "soils");
    for (size_t i = 0; i < view->record->n_materials; i++) {
        if (view->record->marks[i] != UF_SOIL_UNMARKED) {
            place_name(view, (int)i);
        }
    }
    uf_gnuplot_data_end(view->plot);
}
