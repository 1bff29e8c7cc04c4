#include "site_open.h"

#include "command.h"
#include "faults.h"

int uf_site_open(struct uf_site **out, struct uf_column_soils *soils,
                 const struct uf_arguments *args)
{
    const char *path = args->operands[0];
    const struct uf_site_overrides sets = {args->sets, args->n_sets};
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    int code = UF_EXIT_DONE;

    *out = NULL;
    enum uf_status status = uf_site_read(out, path, &sets, &faults, &err);
    if (status == UF_E_INPUT && faults.n > 0) {
        code = uf_faults_site(args, path, &faults);
    } else if (status != UF_OK) {
        code = uf_faults_error(args, path, &err);
    } else if (soils != NULL) {
        status = uf_column_soils(soils, &(*out)->design, &err);
        code = status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, path, &err);
    }
    uf_site_faults_clear(&faults);
    if (code != UF_EXIT_DONE) {
        uf_site_free(*out);
        *out = NULL;
    }
    return code;
}
