#include "result_array.h"

#include "result_private.h"

#include <string.h>

static size_t size_of(const struct uf_record *record, enum uf_result_dim dim)
{
    switch (dim) {
    case UF_DIM_TIME:
        return record->nt;
    case UF_DIM_Z:
        return record->nz;
    case UF_DIM_X:
        return record->nx;
    case UF_DIM_Y:
        return record->ny;
    case UF_DIM_PROBE:
        return record->n_probes;
    default:
        return 0;
    }
}

static bool fill(struct uf_result_array *out, const struct uf_record *record,
                 const struct uf_result_variable *v)
{
    size_t n = 1;
    const void *data = NULL;
    memcpy(&data, (const char *)record + v->offset, sizeof data);
    *out = (struct uf_result_array){.name = v->name,
                                    .units = v->words.units,
                                    .long_name = v->words.long_name,
                                    .data = data,
                                    .kind = v->kind == UF_KIND_FLOAT  ? 'f'
                                            : v->kind == UF_KIND_BYTE ? 'b'
                                                                      : 'd',
                                    .rank = (size_t)v->rank};
    for (size_t k = 0; k < out->rank; k++) {
        out->shape[k] = size_of(record, v->dims[k]);
        n *= out->shape[k];
    }
    return data != NULL && n > 0;
}

bool uf_result_array(struct uf_result_array *out, const struct uf_record *record, size_t i)
{
    for (const struct uf_result_variable *v = uf_result_variables; v->name != NULL; v++) {
        if (fill(out, record, v) && i-- == 0) {
            return true;
        }
    }
    return false;
}
