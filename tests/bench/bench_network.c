/* The heat network of the bare reference problem for another solver, and a judge of what
   that solver made of it, so that all are measured on one formulation, one grid and one
   way to find the front.

   bench_network write ROWS_CM FILE    the network as rows of text
   bench_network judge ROWS_CM FILE    FILE: float64, 366 evenings of the last year, each
                                       the enthalpy of every node, J/m3 */
#include "reference.h"

static void write_materials(FILE *out, const struct uf_heat *h)
{
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
}

static void write_conductances(FILE *out, const struct uf_heat *h)
{
    const size_t nx = h->grid->nx;
    for (size_t c = 0; c < h->n_cells; c++) {
        const double g_m[2] = {h->gx_m[c], h->gz_m[c]};
        const size_t ahead[2] = {c + 1, c + nx};
        for (int axis = 0; axis < 2; axis++) {
            if (g_m[axis] > 0.0) {
                (void)fprintf(out, "face %zu %zu %.17g %d\n", c, ahead[axis], g_m[axis],
                              h->conducts[c]);
            }
        }
    }
    for (size_t l = 0; l < h->n_links; l++) {
        const struct uf_heat_link *k = &h->links[l];
        (void)fprintf(out, "link %zu %zu %.17g %.17g %d %.17g %d\n", k->a, k->b, k->area_m2,
                      k->length_a_m, k->material_a, k->length_b_m, k->material_b);
    }
    for (size_t t = 0; t < h->n_tops; t++) {
        (void)fprintf(out, "top %zu %.17g %.17g %d\n", h->tops[t].cell, h->tops[t].area_m2,
                      h->tops[t].half_m, h->tops[t].material);
        (void)fprintf(out, "bottom %zu %.17g\n", h->n_cells - nx + t, h->bottom_W[t]);
    }
}

static int write_network(const struct reference_place *p, const char *path)
{
    const struct uf_heat *h = p->section->heat;
    FILE *out = fopen(path, "w");
    if (out == NULL) {
        return 1;
    }
    write_materials(out, h);
    for (size_t i = 0; i < h->n; i++) {
        (void)fprintf(out, "node %d %.17g %.17g\n", h->material[i], h->volume_m3[i],
                      p->start_degC[i]);
    }
    write_conductances(out, h);
    return fclose(out) == 0 ? 0 : 1;
}

static int judge(const struct reference_place *p, const char *path)
{
    static struct reference want;
    const struct uf_heat *h = p->section->heat;
    FILE *in = fopen(path, "rb");
    double *H = calloc(2 * h->n, sizeof *H);
    struct reference_errors errors = reference_begin();
    int row = 0;
    if (in == NULL || H == NULL || !reference_read(&want)) {
        return 1;
    }
    for (; row < REFERENCE_LAST && fread(H, sizeof *H, h->n, in) == h->n; row++) {
        double got[2];
        uf_heat_temperatures(h, H, H + h->n);
        reference_look(p, REFERENCE_DAYS - 365 + row, H, H + h->n, got);
        reference_day(&errors, &want, false, row, got);
    }
    (void)fclose(in);
    free(H);
    reference_print(&errors);
    return row == REFERENCE_LAST ? 0 : 1;
}

int main(int argc, char **argv)
{
    struct reference_place place;
    if (argc != 4 || !(strtod(argv[2], NULL) > 0.0)) {
        (void)fprintf(stderr, "usage: bench_network write|judge ROWS_CM FILE\n");
        return 2;
    }
    reference_open(&place, 1e-2 * strtod(argv[2], NULL), false);
    const int code =
        strcmp(argv[1], "judge") == 0 ? judge(&place, argv[3]) : write_network(&place, argv[3]);
    reference_close(&place);
    return code;
}
