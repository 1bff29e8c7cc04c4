#include "cli/command.h"
#include "cli/site_open.h"
#include "cli/tell/faults.h"
#include "sheet.h"

#include <stdio.h>
#include <string.h>

/* underfrost sheet SITE.yaml -o FILE.html: the installation sheet of the design as
 * written. */

static int run(const struct uf_arguments *args)
{
    struct uf_site *site = NULL;
    struct uf_report *report = NULL;
    struct uf_error err = {0};
    int code = uf_site_open(&site, NULL, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    enum uf_status status = UF_OK;
    if (args->output == NULL) {
        status = uf_fail(&err, UF_E_INPUT, "say where the sheet goes: -o FILE.html");
    } else if (site->design.tank.shape == UF_NO_TANK) {
        status = uf_fail(&err, UF_E_INPUT, "there is no tank to install: give a tank block");
    }
    if (status == UF_OK) {
        status = uf_report_create(&report, site->design.name, "Installation sheet", &err);
    }
    if (status == UF_OK) {
        status = uf_sheet_sections(report, site, args->units, true, &err);
    }
    if (status == UF_OK) {
        status = uf_report_write(args->output, report, &err);
    }
    if (status != UF_OK) {
        code = uf_faults_error(args, args->operands[0], &err);
    } else if (!args->json && !args->quiet) {
        (void)printf("Installation sheet: %s\n", args->output);
    } else if (args->json) {
        (void)printf("{\"sheet\":true}\n");
    }
    uf_report_free(report);
    uf_site_free(site);
    return code;
}

const struct uf_command uf_cmd_sheet = {
    .name = "sheet",
    .summary = "the installation sheet: layout, order of work, quantities, places to sign",
    .synopsis = "SITE.yaml -o FILE.html",
    .detail = "One page to take to the pit, from the design as written: a drawing to "
              "scale, the order of work with a check and a signature at each stage, what to order, "
              "lifting, anchors, "
              "what a wet pit does before the cover is on, roundness, cautions. What "
              "belongs to the tank's maker appears only where the site file gives it.",
    .options = UF_OPTIONS_SITE | UF_OPTION_OUTPUT,
    .least_operands = 1,
    .most_operands = 1,
    .run = run};
