#include "quantities_cut.h"

#include <math.h>
#include <stdbool.h>

#define SLIVER_M 1e-6 /* no strip */
#define SLACK    1e-9

/* Strips of one direction: one narrow, whole ones, one narrow. */
struct strips {
    double first_m, whole_m, last_m;
    size_t whole;
};

static struct strips strips_of(double length_m, double sheet_m, double first_m)
{
    struct strips s = {.first_m = fmin(first_m, length_m), .whole_m = sheet_m};
    const double rest_m = length_m - s.first_m;
    s.whole = (size_t)floor(rest_m / sheet_m + SLACK);
    s.last_m = rest_m - (double)s.whole * sheet_m;
    s.last_m = s.last_m < SLIVER_M ? 0.0 : s.last_m;
    return s;
}

/* Lengths of two sizes cut from bars: bar by bar the longer ones first, then what fits beside them. */
static size_t bars_for(double bar_m, double a_m, size_t n_a, double b_m, size_t n_b)
{
    size_t bars = 0;
    const double longer_m = fmax(a_m, b_m), shorter_m = fmin(a_m, b_m);
    size_t longer = a_m >= b_m ? n_a : n_b, shorter = a_m >= b_m ? n_b : n_a;
    longer = longer_m > 0.0 ? longer : 0;
    shorter = shorter_m > 0.0 ? shorter : 0;
    for (; longer + shorter > 0; bars++) {
        double left_m = bar_m + SLACK;
        bool took = false;
        for (; longer > 0 && longer_m <= left_m; longer--, took = true) {
            left_m -= longer_m;
        }
        for (; shorter > 0 && shorter_m <= left_m; shorter--, took = true) {
            left_m -= shorter_m;
        }
        if (!took) {
            break; /* longer than a bar: no strip of a sheet is */
        }
    }
    return bars;
}

/* Sheets for the strips at ends and sides. The corners come from the sheets of the ends (by_ends), each
   as long as a whole one, or from strips of the sides. */
static void count_strips(struct uf_quantities_cut *cut, const struct strips *along,
                         const struct strips *across, bool by_ends)
{
    const size_t side_rows = (size_t)(across->first_m > 0.0) + (size_t)(across->last_m > 0.0);
    const size_t rows = across->whole + (by_ends ? side_rows : 0);
    const size_t corners = bars_for(along->whole_m, along->first_m, 1, along->last_m, 1);
    const size_t strips = along->whole + (by_ends ? 0 : corners);
    cut->for_ends = bars_for(along->whole_m, along->first_m, rows, along->last_m, rows);
    cut->for_sides = bars_for(across->whole_m, across->first_m, strips, across->last_m, strips);
}

static void add_pieces(struct uf_quantities_cut *cut, double along_m, double across_m, size_t count)
{
    size_t i = 0;
    while (i < cut->n_pieces && (fabs(cut->pieces[i].along_m - along_m) > SLIVER_M ||
                                 fabs(cut->pieces[i].across_m - across_m) > SLIVER_M)) {
        i++;
    }
    if (count == 0 || !(along_m > 0.0) || !(across_m > 0.0)) {
        return;
    }
    if (i == cut->n_pieces) {
        cut->pieces[cut->n_pieces++] = (struct uf_quantities_piece){along_m, across_m, 0};
    }
    cut->pieces[i].count += count;
}

static void list_pieces(struct uf_quantities_cut *cut, const struct strips *along,
                        const struct strips *across)
{
    const double l_m[] = {along->whole_m, along->first_m, along->last_m};
    const double w_m[] = {across->whole_m, across->first_m, across->last_m};
    const size_t n_l[] = {along->whole, 1, 1}, n_w[] = {across->whole, 1, 1};
    for (size_t k = 0; k < 3; k++) {
        for (size_t i = 0; i < 3; i++) {
            add_pieces(cut, l_m[i], w_m[k], n_l[i] * n_w[k]);
        }
    }
}

static struct uf_quantities_cut lay(double length_m, double width_m, const double sheet_m[2],
                                    const double first_m[2])
{
    const struct strips along = strips_of(length_m, sheet_m[0], first_m[0]);
    const struct strips across = strips_of(width_m, sheet_m[1], first_m[1]);
    struct uf_quantities_cut cut = {.along_m = sheet_m[0],
                                    .across_m = sheet_m[1],
                                    .full_along = along.whole,
                                    .full_across = across.whole,
                                    .first_end_m = along.first_m,
                                    .first_side_m = across.first_m,
                                    .end_strip_m = along.last_m,
                                    .side_strip_m = across.last_m,
                                    .full = along.whole * across.whole};
    struct uf_quantities_cut other = cut;
    count_strips(&cut, &along, &across, true);
    count_strips(&other, &along, &across, false);
    cut = other.for_ends + other.for_sides < cut.for_ends + cut.for_sides ? other : cut;
    cut.sheets = cut.full + cut.for_ends + cut.for_sides;
    cut.waste_share = 1.0 - length_m * width_m / ((double)cut.sheets * sheet_m[0] * sheet_m[1]);
    list_pieces(&cut, &along, &across);
    return cut;
}

struct uf_quantities_cut uf_quantities_cut_plan(double length_m, double width_m,
                                                double sheet_length_m, double sheet_width_m)
{
    const double nowhere_m[] = {0.0, 0.0};
    const struct uf_quantities_cut one =
        lay(length_m, width_m, (const double[]){sheet_length_m, sheet_width_m}, nowhere_m);
    const struct uf_quantities_cut other =
        lay(length_m, width_m, (const double[]){sheet_width_m, sheet_length_m}, nowhere_m);
    return other.sheets < one.sheets ? other : one;
}

struct uf_quantities_cut uf_quantities_cut_staggered(const struct uf_quantities_cut *below,
                                                     double length_m, double width_m)
{
    const double sheet_m[] = {below->along_m, below->across_m};
    return lay(length_m, width_m, sheet_m, (const double[]){0.5 * sheet_m[0], 0.5 * sheet_m[1]});
}

size_t uf_quantities_cut_joints(double *at_m, size_t most, double first_m, size_t whole,
                                double sheet_m, double last_m)
{
    size_t n = 0;
    double to_m = 0.0;
    at_m[n++] = 0.0;
    if (first_m > 0.0 && n < most) {
        at_m[n++] = to_m = first_m;
    }
    for (size_t i = 0; i < whole && n + 1 < most; i++) {
        at_m[n++] = to_m += sheet_m;
    }
    if (last_m > 0.0 && n < most) {
        at_m[n++] = to_m + last_m;
    }
    return n;
}
