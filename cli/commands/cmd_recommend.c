#include "cli/command.h"
#include "cli/folder.h"
#include "cli/recommend/recommend.h"
#include "cli/tell/faults.h"

/* underfrost recommend SITE.yaml: every option, the recommended one, why, and its sensitivity. */

static int run(const struct uf_arguments *args)
{
    struct uf_recommend r = {.shown = -1};
    struct uf_error err = {0};
    char own[1024];
    const char *folder =
        args->output != NULL ? args->output : uf_folder_default(own, sizeof own, args->operands[0]);
    int code = uf_site_run_open(&r.run, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    enum uf_status status = UF_OK;
    if (!uf_case_has_tank(&r.run.site->design)) {
        status =
            uf_fail_key(&err, UF_E_INPUT, "tank", UF_PLAIN("there is no tank to recommend for"),
                        UF_PLAIN("give a tank block, or use simulate for bare ground"));
    }
    if (status == UF_OK) {
        status = uf_folder_open(folder, args->force, &err);
    }
    if (status == UF_OK) {
        status = uf_recommend_search(&r, args, &err);
    }
    if (status == UF_OK) {
        status = uf_recommend_look(&r, args, &err);
    }
    if (status == UF_OK) {
        status = uf_recommend_winters(&r, args, folder, &err);
    }
    if (status == UF_OK) {
        uf_recommend_reasons(&r, args);
        status = uf_recommend_write(&r, args, folder, &err);
    }
    if (status == UF_OK) {
        status = uf_recommend_tell(&r, args, folder, &err);
    }
    code = status != UF_OK ? uf_faults_error(args, args->operands[0], &err)
                           : (r.choices->pick >= 0 ? UF_EXIT_DONE : UF_EXIT_LIMIT);
    uf_recommend_free(&r);
    return code;
}

const struct uf_command uf_cmd_recommend = {
    .name = "recommend",
    .summary = "try every option of depth, board and anchors, and say which to build and why",
    .synopsis = "SITE.yaml [-o DIR] [--jobs N]",
    .detail =
        "Every option of cover, board, anchors and what else `choices` lists goes through uplift, "
        "board load and the design winter. The cheapest that meets every limit with the "
        "model's own error as margin, and meets every limit in each sensitivity case (wetter "
        "and drier soil, another conductivity law, a rarer winter, no snow, high water, drawn "
        "down, wet board, open lid, other water models), is recommended. Where none does, the "
        "first measure that makes one so is named and priced.\n"
        "--nominal asks for the design case alone.\n"
        "--seasons every runs the recommended option through each winter on file as well and "
        "tells how often each limit would have been broken.\n"
        "DIR (the site file's name without ending, unless -o names another) takes result.h5, "
        "report.html, summary.csv, the drawing and the pictures. A folder that underfrost did not make is "
        "refused, and so is one that holds an earlier study, unless --force replaces it.",
    .options = UF_OPTIONS_SITE | UF_OPTION_OUTPUT | UF_OPTION_JOBS | UF_OPTION_PROGRESS |
               UF_OPTION_ALL | UF_OPTION_NOMINAL | UF_OPTION_INTEGRATOR | UF_OPTION_THIN |
               UF_OPTION_SEASONS | UF_OPTION_FORCE,
    .least_operands = 1,
    .most_operands = 1,
    .run = run};
