/* The reference problem on four grids, bare and with board, by both integrators: counts,
   errors against the fine solution, the band that is met, CPU seconds. Figures are for
   comparison within one run of this program; machines are noisy.

   bench_reference [GRIDS]           how many of the four grids, coarse to fine (default
   3) bench_reference --export FILE     the network on 7.5 cm rows as text, for peers.py
 */
#include "reference.h"

static const double GRIDS_M[] = {0.10, 0.075, 0.05, 0.025};

static void run(const struct reference *ref, double finest_m, bool board,
                const struct uf_season_options *options)
{
    struct reference_place place;
    struct uf_season *season = NULL;
    struct reference_errors errors = reference_begin();
    struct uf_error err = {0};
    double exchanged_J = 0.0;
    double before_J = 0.0;
    reference_open(&place, finest_m, board);
    if (uf_season_create(&season, place.section->heat, options, &err) != UF_OK) {
        (void)fprintf(stderr, "%s\n", err.text);
        exit(1);
    }
    uf_season_set(season, 0.0, place.start_degC);
    uf_season_drive(season, &place.drive);
    for (int day = 1; day <= REFERENCE_DAYS; day++) {
        double got[2];
        if (uf_season_advance(season, day, &err) != UF_OK) {
            (void)fprintf(stderr, "%s\n", err.text);
            exit(1);
        }
        const double J = uf_season_heat_J(season).surface_W;
        exchanged_J += fabs(J - before_J);
        before_J = J;
        if (day >= REFERENCE_DAYS - 365) {
            reference_look(&place, day, uf_season_H_J_m3(season),
                           uf_season_T_degC(season), got);
            reference_day(&errors, ref, board, day - (REFERENCE_DAYS - 365), got);
        }
    }
    const struct uf_counters c = uf_season_counters(season);
    printf("%5.1f %-5s %-9s %5ld %6ld %7ld %6ld %5ld %5ld %6.2f %5.2f %4d %7.3f %8.1e "
           "%-7s %7.3f\n",
           1e2 * finest_m, board ? "board" : "bare",
           options->integrator == UF_FAST ? "fast" : "reference", c.cells, c.steps, c.rhs,
           c.factorisations, c.error_test_failures, c.newton_failures,
           1e2 * (errors.deepest_m - errors.deepest_want_m), 1e2 * errors.day_m,
           errors.gone - errors.gone_want, errors.crown_degC - errors.crown_want_degC,
           fabs(uf_season_leak_J(season)) / exchanged_J, reference_band(&errors),
           c.cpu_s);
    uf_season_free(season);
    reference_close(&place);
}

/* The network as rows of text: what another solver needs to repeat the problem exactly.
 */
static int export_network(const char *path)
{
    struct reference_place p;
    FILE *out = fopen(path, "w");
    if (out == NULL) {
        return 1;
    }
    reference_open(&p, 0.075, false);
    const struct uf_heat *h = p.section->heat;
    for (size_t m = 0; m < h->n_materials; m++) {
        const struct uf_material *law = &h->materials[m];
        (void)fprintf(out, "material %zu %.17g %.17g", law->n, law->c_frozen_J_m3K,
                      law->c_thawed_J_m3K);
        for (size_t j = 0; j < law->n; j++) {
            (void)fprintf(out, " %.17g %.17g %.17g", law->T_degC[j], law->H_J_m3[j],
                          law->k_W_mK[j]);
        }
        (void)fputc('\n', out);
    }
    for (size_t i = 0; i < h->n; i++) {
        (void)fprintf(out, "node %d %.17g %.17g\n", h->material[i], h->volume_m3[i],
                      p.start_degC[i]);
    }
    for (size_t c = 0; c < h->n_cells; c++) {
        if (h->gx_m[c] > 0.0) {
            (void)fprintf(out, "face %zu %zu %.17g %d\n", c, c + 1, h->gx_m[c],
                          h->conducts[c]);
        }
        if (h->gz_m[c] > 0.0) {
            (void)fprintf(out, "face %zu %zu %.17g %d\n", c, c + p.section->grid->nx,
                          h->gz_m[c], h->conducts[c]);
        }
    }
    for (size_t l = 0; l < h->n_links; l++) {
        const struct uf_heat_link *k = &h->links[l];
        (void)fprintf(out, "link %zu %zu %.17g %.17g %d %.17g %d\n", k->a, k->b,
                      k->area_m2, k->length_a_m, k->material_a, k->length_b_m,
                      k->material_b);
    }
    for (size_t t = 0; t < h->n_tops; t++) {
        (void)fprintf(out, "top %zu %.17g %.17g %d\n", h->tops[t].cell,
                      h->tops[t].area_m2, h->tops[t].half_m, h->tops[t].material);
        (void)fprintf(out, "bottom %zu %.17g\n", h->n_cells - p.section->grid->nx + t,
                      h->bottom_W[t]);
    }
    for (size_t j = 0; j < p.section->grid->nz; j++) {
        (void)fprintf(out, "column %zu %.17g\n", uf_grid_at(p.section->grid, p.far, j),
                      p.section->grid->z_m[j]);
    }
    (void)fprintf(out, "crown %zu\n", p.section->crown_link);
    reference_close(&p);
    return fclose(out) == 0 ? 0 : 1;
}

int main(int argc, char **argv)
{
    static struct reference ref;
    const size_t grids = argc > 1 ? (size_t)strtoul(argv[1], NULL, 10) : 3;
    if (argc > 2 && strcmp(argv[1], "--export") == 0) {
        return export_network(argv[2]);
    }
    if (!reference_read(&ref)) {
        (void)fprintf(stderr, "tests/data/reference_problem.csv could not be read\n");
        return 1;
    }
    printf(" rows case  method    cells  steps     rhs   fact  efail nfail  dmax   day "
           "gone   "
           "crown     leak band       CPU\n   cm                                         "
           "     "
           "          cm    cm    d       K                    s\n");
    for (size_t k = 0; k < grids && k < 4; k++) {
        for (int board = 0; board < 2; board++) {
            struct uf_season_options options = uf_season_defaults();
            options.steps_per_day = 2.0;
            run(&ref, GRIDS_M[k], board != 0, &options);
            options.integrator = UF_BDF;
            run(&ref, GRIDS_M[k], board != 0, &options);
        }
    }
    return 0;
}
