#include "cli/command.h"
#include "cli/folder.h"
#include "cli/recommend/recommend.h"
#include "cli/tell/faults.h"

/* underfrost recommend SITE.yaml: every choice, the pick, why, and how sure. */

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
        status = uf_recommend_sturdy(&r, args, &err);
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
    .summary = "try every option of depth and board, and say which to build and why",
    .synopsis = "SITE.yaml [-o DIR] [--jobs N]",
    .detail =
        "Every option of cover, board thickness and extension in the site file goes through the "
        "design winter and the flotation check. The cheapest that meets every limit is recommended; it is "
        "run again without board, with unmixed water, drawn down, in wetter and drier soil, in a "
        "rarer winter and by the other integrator.\n"
        "--sturdy goes on where one of these changes breaks a limit: the other options "
        "are tried with it too, and the best that holds with all of them is named.\n"
        "--seasons every runs the recommended option through each winter on file as well and tells how "
        "often each limit would have been broken.\n"
        "DIR (the site file's name without ending, unless -o names another) takes result.h5, "
        "report.html, summary.csv and the pictures. A folder that underfrost did not make is "
        "refused, and so is one that holds an earlier study, unless --force replaces it.",
    .options = UF_OPTIONS_SITE | UF_OPTION_OUTPUT | UF_OPTION_JOBS | UF_OPTION_PROGRESS |
               UF_OPTION_ALL | UF_OPTION_STURDY | UF_OPTION_INTEGRATOR | UF_OPTION_THIN |
               UF_OPTION_SEASONS | UF_OPTION_FORCE,
    .least_operands = 1,
    .most_operands = 1,
    .run = run};
