#include "site_open.h"

#include "cli/tell/faults.h"
#include "command.h"
#include "io/text/show.h"
#include "solver/choice/settle.h"

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
    } else {
        status = uf_settle(&(*out)->design, true, &err);
        if (status == UF_OK && soils != NULL) {
            status = uf_column_soils(soils, &(*out)->design, &err);
        }
        code = status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, path, &err);
    }
    uf_site_faults_clear(&faults);
    if (code != UF_EXIT_DONE) {
        uf_site_free(*out);
        *out = NULL;
    }
    return code;
}

void uf_site_open_heading(const struct uf_arguments *args, const struct uf_site *site,
                          const char *what)
{
    char heading[200];
    (void)snprintf(heading, sizeof heading, "%s: %s", what,
                   site->design.name[0] != '\0' ? site->design.name : args->operands[0]);
    uf_show_heading(stdout, heading);
}

int uf_site_open_answer(const struct uf_arguments *args, cJSON *answer)
{
    struct uf_error err = {0};
    return uf_answer_print(answer, &err) == UF_OK ? UF_EXIT_DONE
                                                  : uf_faults_error(args, NULL, &err);
}
