#include "io/picture/plot_private.h"
#include "tests/runs.h"
#include "tests/synthetic.h"

/* Where a picture's 0 degC line crosses each column is where the record says that it is. */

/* Depth nearest to `wanted` at which the traced line crosses x; NAN: nowhere. */
static double crossing_m(const struct uf_isoline_list *list, double x_m, double wanted_m)
{
    double best_m = NAN;
    for (size_t i = 0; i < list->n_points; i++) {
        const struct uf_isoline_point *p = &list->points[i];
        if (!p->border && fabs(p->x - x_m) < 1e-9 &&
            !(fabs(p->z - wanted_m) >= fabs(best_m - wanted_m))) {
            best_m = p->z;
        }
    }
    return best_m;
}

/* The 0 degC line as it is drawn. */
static struct uf_isoline_list trace(const struct uf_plot_view *view)
{
    static const double zero = 0.0;
    struct uf_plot_nodes nodes;
    struct uf_isoline_list list;
    cr_assert_eq(uf_plot_nodes_fill(&nodes, view, true, NULL), UF_OK);
    cr_assert_eq(uf_isoline_trace(&list, &nodes.field, &zero, 1, NULL), UF_OK);
    uf_plot_nodes_clear(&nodes);
    return list;
}

/* Columns beside the tank whose line was looked at; each within a millimetre on both sides. */
static size_t check_columns(const struct uf_plot_view *view)
{
    struct uf_isoline_list list = trace(view);
    const struct uf_plot_plane *p = &view->plane;
    size_t seen = 0;
    for (size_t i = 0; i < p->n; i++) {
        const double line_m = p->line_m[i];
        const bool beside = !(p->at_m[i] < uf_plot_view_tank_m(view));
        if (!beside || p->at_m[i] > view->half_m || !(line_m > p->z_m[0])) {
            continue;
        }
        seen++;
        for (int side = -1; side <= 1; side += 2) {
            const double drawn_m = crossing_m(&list, side * p->at_m[i], line_m);
            cr_expect(fabs(drawn_m - line_m) < 1e-3, "%g m: %.4f, not %.4f", side * p->at_m[i],
                      drawn_m, line_m);
        }
    }
    uf_isoline_clear(&list);
    return seen;
}

Test(nodes, the_line_of_a_made_up_field)
{
    struct uf_result *r = synthetic_result();
    struct uf_plot_view view = {.record = r->record, .design = &r->design};
    for (size_t day = 60; day < 180; day += 40) {
        view.along = false;
        view.plane = uf_plot_plane_across(r->record, day);
        uf_plot_view_window(&view, r->record->frost_depth_m[day]);
        cr_expect_gt(check_columns(&view), 3);
        view.along = true;
        view.plane = uf_plot_plane_along(r->record, day);
        uf_plot_view_window(&view, r->record->frost_depth_m[day]);
        cr_expect_gt(check_columns(&view), 1);
    }
    uf_result_free(r);
}

/* Of a run: the frost depth that is told, which comes of a cell's enthalpy and not of a straight line
   between centres, is what is drawn in undisturbed ground. */
Test(nodes, the_line_of_a_run_is_the_frost_depth_told)
{
    struct runs_weather *w = runs_weather_create(2.0, 16.0);
    struct uf_case d = runs_tank();
    struct uf_result_design design;
    struct uf_summary summary;
    struct uf_record *r = NULL;
    struct uf_error err = {0};
    const struct uf_run_options options = uf_run_defaults();
    struct uf_forcing *forcing = runs_forcing(&d, w);
    cr_assert_eq(uf_run_all(&summary, &r, &d, forcing, &options, NULL, &err), UF_OK, "%s",
                 err.text);
    uf_result_design_fill(&design, &d);
    const size_t day = uf_record_coldest(r);
    struct uf_plot_view view = {.record = r,
                                .design = &design,
                                .plane = uf_plot_plane_across(r, day),
                                .half_m = r->x_edge_m[r->nx],
                                .depth_m = r->z_edge_m[r->nz]};
    cr_expect_gt(check_columns(&view), 3);
    struct uf_isoline_list list = trace(&view);
    const double drawn_m = crossing_m(&list, r->x_m[r->nx - 1], summary.frost_undisturbed_m);
    cr_expect(fabs(drawn_m - summary.frost_undisturbed_m) < 1e-3, "%.4f, told %.4f", drawn_m,
              summary.frost_undisturbed_m);
    uf_isoline_clear(&list);
    uf_record_free(r);
    uf_forcing_free(forcing);
    free(w);
}

/* Without the record's line, as of an older file, the field's own is drawn. */
Test(nodes, an_older_record_has_its_own_line)
{
    struct uf_result *r = synthetic_result();
    struct uf_plot_view view = {
        .record = r->record, .design = &r->design, .plane = uf_plot_plane_across(r->record, 120)};
    uf_plot_view_window(&view, 1.6);
    view.plane.line_m = NULL;
    struct uf_isoline_list list = trace(&view);
    const double line_m = r->record->line_m[120 * r->record->nx + 17];
    cr_expect_float_eq(crossing_m(&list, r->record->x_m[17], line_m), line_m, 0.2);
    uf_isoline_clear(&list);
    uf_result_free(r);
}
