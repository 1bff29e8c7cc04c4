#include "io/picture/isoline.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* Lines of equal value through any field: closed loops of points within the grid, largest first. The
   first bytes are the grid's size and levels, the others values, a byte each. */

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool truth)
{
    if (!truth) {
        __builtin_trap();
    }
}

static void look(const struct uf_isoline_list *list, const struct uf_isoline_field *field,
                 int n_levels)
{
    for (size_t i = 0; i < list->n_loops; i++) {
        const struct uf_isoline_loop *loop = &list->loops[i];
        must(loop->first + loop->n <= list->n_points && loop->n >= 3);
        must(loop->level >= 0 && loop->level < n_levels && loop->area >= 0.0);
        must(i == 0 || loop->area <= list->loops[i - 1].area);
    }
    for (size_t p = 0; p < list->n_points; p++) {
        const struct uf_isoline_point *point = &list->points[p];
        must(point->x >= field->x[0] && point->x <= field->x[field->nx - 1]);
        must(point->z >= field->z[0] && point->z <= field->z[field->nz - 1]);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    enum { MOST = 12, LEVELS = 3 };
    static double values[MOST * MOST];
    double x[MOST], z[MOST], levels[LEVELS];
    if (size < 6) {
        return 0;
    }
    const struct uf_isoline_field field = {.values = values,
                                           .x = x,
                                           .z = z,
                                           .nx = 2 + data[0] % (MOST - 1),
                                           .nz = 2 + data[1] % (MOST - 1)};
    for (size_t i = 0; i < MOST; i++) {
        x[i] = (double)i * (1.0 + 0.1 * data[2] * (double)i);
        z[i] = (double)(i * i);
    }
    for (size_t k = 0; k < LEVELS; k++) {
        levels[k] = data[3 + k] - 128.0;
    }
    for (size_t i = 0; i < field.nx * field.nz; i++) {
        const uint8_t byte = data[5 + i % (size - 5)];
        values[i] = byte == 255 ? 1e30 : byte == 254 ? -1e30 : byte - 128.0;
    }
    struct uf_isoline_list list;
    if (uf_isoline_trace(&list, &field, levels, LEVELS, NULL) == UF_OK) {
        look(&list, &field, LEVELS);
        uf_isoline_clear(&list);
    }
    return 0;
}
