#include "tests/runs.h"

#include <string.h>

/* What a record keeps of a run: its grid, its fields to 1/512, its series. */

static struct uf_run *begin(const struct uf_case *d, const struct uf_forcing *forcing)
{
    const struct uf_run_options options = uf_run_defaults();
    struct uf_run *run = NULL;
    struct uf_error err = {0};
    cr_assert(uf_run_create(&run, d, forcing, &options, &err) == UF_OK, "%s", err.text);
    return run;
}

static void advance(struct uf_run *run, size_t days)
{
    struct uf_error err = {0};
    for (size_t i = 0; i < days; i++) {
        cr_assert(uf_run_next(run, &err) == UF_OK, "%s", err.text);
    }
}

Test(run_store, fields_are_what_a_picture_shows)
{
    struct runs_weather *w = runs_weather_create(2.0, 16.0);
    for (int k = 0; k < 3; k++) {
        struct uf_case d = runs_tank();
        struct uf_record *r = NULL;
        d.board.present = false;
        d.burial.cover_m = 0.4;
        d.tank.level_m = k == 2 ? 0.0 : 0.9;
        d.tank.mixing_W_mK = k == 1 ? 3.0 : (double)NAN;
        struct uf_forcing *forcing = runs_forcing(&d, w);
        struct uf_run *run = begin(&d, forcing);
        cr_assert(uf_run_record(&r, run, 1, UF_KEEP_USUAL, NULL) == UF_OK);
        advance(run, 150);
        uf_run_store(run, r, 149);
        const struct uf_section *s = uf_run_section(run);
        const size_t n = s->heat->n_cells;
        double *cells = calloc(n, sizeof *cells);
        cr_assert_not_null(cells);
        uf_section_cells(s, uf_season_T_degC(uf_run_season(run)), cells);
        double coldest = 0.0;
        double most_ice = 0.0;
        for (size_t c = 0; c < n; c++) {
            cr_expect_float_eq(r->temperature_degC[149 * n + c], cells[c], 1.0 / 1024 + 1e-6);
            const double ice = r->ice_fraction[149 * n + c];
            cr_expect(ice >= 0.0 && ice <= 1.0);
            coldest = fmin(coldest, cells[c]);
            most_ice = fmax(most_ice, ice);
        }
        cr_expect(coldest < -5.0 && most_ice > 0.9, "%g degC, ice %g", coldest, most_ice);
        free(cells);
        uf_record_free(r);
        uf_run_free(run);
        uf_forcing_free(forcing);
    }
    free(w);
}

/* Water of a mixed tank has one ice share, in the field as in the series. */
Test(run_store, ice_of_the_water_in_its_cells)
{
    struct runs_weather *w = runs_weather_create(1.0, 19.0);
    struct uf_case d = runs_tank();
    struct uf_record *r = NULL;
    d.board.present = false;
    d.burial.cover_m = 0.4;
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_run *run = begin(&d, forcing);
    cr_assert(uf_run_record(&r, run, 1, UF_KEEP_USUAL, NULL) == UF_OK);
    advance(run, 170);
    uf_run_store(run, r, 0);
    const struct uf_section *s = uf_run_section(run);
    size_t at = 0;
    while (s->grid->z_m[at] < d.burial.cover_m + 1.0) {
        at++; /* a row through the water, column on the axis */
    }
    const size_t c = at * s->grid->nx;
    cr_expect(r->ice_share[0] > 0.01, "%g", r->ice_share[0]);
    cr_expect_float_eq(r->ice_fraction[c], r->ice_share[0], 1.0 / 1024 + 1e-6);
    cr_expect_float_eq(r->temperature_degC[c], r->water_degC[0], 1.0 / 1024 + 1e-6);
    uf_record_free(r);
    uf_run_free(run);
    uf_forcing_free(forcing);
    free(w);
}

Test(run_store, grid_names_and_days)
{
    struct runs_weather *w = runs_weather_create(3.0, 14.0);
    struct uf_case d = runs_tank();
    struct uf_record *r = NULL;
    struct uf_record *days = NULL;
    d.tank.shape = UF_VERTICAL_CYLINDER;
    d.n_probes = 1;
    d.probes[0] = (struct uf_probe){"outlet", 0.0, 1.5, NAN, NAN, NAN};
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_run *run = begin(&d, forcing);
    const struct uf_section *s = uf_run_section(run);
    cr_assert(uf_run_record(&r, run, 7, UF_KEEP_USUAL, NULL) == UF_OK);
    cr_expect_eq(r->nt, (size_t)(RUNS_DAYS + 6) / 7);
    cr_expect(r->radial && r->nx == s->grid->nx && r->nz == s->grid->nz);
    cr_expect_arr_eq(r->z_edge_m, s->grid->z_edge_m, (r->nz + 1) * sizeof(double));
    cr_expect_arr_eq(r->x_m, s->grid->x_m, r->nx * sizeof(double));
    cr_expect_arr_eq(r->material, s->shown, r->nx * r->nz);
    cr_expect_eq(r->n_materials, s->n_names);
    for (size_t c = 0; c < r->nx * r->nz; c++) {
        cr_expect(r->material[c] >= 0 && (size_t)r->material[c] < r->n_materials);
    }
    cr_expect_str_eq(r->probe_names[0], "outlet");
    cr_assert(uf_run_record_days(&days, run, 11, NULL) == UF_OK);
    cr_expect(days->nt == 11 && days->temperature_degC == NULL);
    advance(run, 3);
    uf_run_store(run, days, 10);
    cr_expect_eq(days->time_day[10], 11003.0, "the end of the third day");
    cr_expect_eq(days->air_degC[10], w->air_degC[2]);
    cr_expect_eq(days->snow_m[10], 0.0);
    cr_expect_eq(days->probe_degC[10],
                 uf_section_at_degC(s, uf_season_T_degC(uf_run_season(run)), 0.0, 1.5));
    uf_record_free(days);
    uf_record_free(r);
    uf_run_free(run);
    uf_forcing_free(forcing);
    free(w);
}

/* Of a run in slices: each cell of the long section, and of every slice, is the run's own node
   there, its body's in the tank. The 0 degC line is the one that the depths are told from. */
Test(run_store, long_section_and_line_are_the_solver_s)
{
    struct runs_weather *w = runs_weather_create(2.0, 16.0);
    struct uf_case d = runs_tank();
    struct uf_record *r = NULL;
    d.tank.ends = UF_ENDS_THREE_DIMENSIONAL;
    struct uf_forcing *forcing = runs_forcing(&d, w);
    struct uf_run *run = begin(&d, forcing);
    cr_assert(uf_run_record(&r, run, 150, UF_KEEP_USUAL | UF_KEEP_WHOLE, NULL) == UF_OK);
    advance(run, 150);
    uf_run_store(run, r, 0);
    const struct uf_section *s = uf_run_section(run);
    const struct uf_grid *g = s->grid;
    double *cells = calloc(s->heat->n_cells, sizeof *cells);
    cr_assert_not_null(cells);
    uf_section_cells(s, uf_season_T_degC(uf_run_season(run)), cells);
    cr_assert(g->ny > 1 && r->ny == g->ny && s->heat->n_cells == g->ny * g->nz * g->nx);
    cr_expect_arr_eq(r->y_edge_m, g->y_edge_m, (g->ny + 1) * sizeof(double));
    for (size_t c = 0; c < s->heat->n_cells; c++) {
        const size_t j = uf_grid_j(g, c), k = uf_grid_k(g, c);
        cr_expect_float_eq(r->whole_degC[c], cells[c], 1.0 / 1024 + 1e-6);
        if (uf_grid_i(g, c) == 0) {
            cr_expect_eq(r->long_degC[j * g->ny + k], r->whole_degC[c]);
            cr_expect_eq(r->long_ice[j * g->ny + k], r->whole_ice[c]);
            cr_expect_eq(r->long_material[j * g->ny + k], s->shown[c]);
        }
        if (k == 0) {
            cr_expect_eq(r->temperature_degC[c], r->whole_degC[c]);
        }
    }
    cr_expect(r->frost_depth_m[0] > 0.5, "%g", r->frost_depth_m[0]);
    cr_expect_float_eq(r->line_m[g->nx - 1], r->frost_depth_m[0], 1e-6);
    cr_expect_float_eq(r->line_m[0], r->frost_above_m[0], 1e-6);
    cr_expect_eq(r->long_line_m[0], r->line_m[0]);
    /* Past the end and the board, on the axis, the ground is as good as undisturbed. */
    cr_expect_float_eq(r->long_line_m[g->ny - 1], r->frost_depth_m[0], 0.05);
    free(cells);
    uf_record_free(r);
    uf_run_free(run);
    uf_forcing_free(forcing);
    free(w);
}
