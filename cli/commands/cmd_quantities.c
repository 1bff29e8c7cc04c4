#include "cli/command.h"
#include "cli/site_open.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "cli/tell/quantities_show.h"
#include "solver/statics/uplift.h"

#include <math.h>

/* underfrost quantities SITE.yaml: the pit, and what is ordered for it. */

static enum uf_status find(struct uf_quantities_found *out, const struct uf_site *site,
                           struct uf_error *err)
{
    const struct uf_site_works *works = &site->works;
    struct uf_column_soils soils;
    struct uf_holddown balance;
    struct uf_error ignored;
    *out = (struct uf_quantities_found){.site = site, .ballast_m3 = NAN, .ok = true};
    enum uf_status status = uf_quantities(&out->quantities, &site->design, &works->quantities, err);
    if (status == UF_OK && works->grading >= 0) {
        out->graded = true;
        status =
            uf_grading_check(&out->grading, &uf_grading_specs[works->grading], &works->sieves, err);
        out->ok = out->grading.n_outside == 0 && out->grading.n_unknown == 0;
    }
    /* Concrete to add where the weights of the soils are known. */
    if (status == UF_OK && uf_column_soils(&soils, &site->design, &ignored) == UF_OK &&
        uf_holddown_at(&balance, &site->design, &soils, site->design.ground.water_highest_m,
                       &ignored) == UF_OK) {
        out->ballast_m3 = uf_uplift_needed_ballast_m3(&balance, site->design.limits.uplift_factor);
    }
    const double concrete_m3 = isnan(out->ballast_m3) ? 0.0 : out->ballast_m3;
    uf_pit_cost(&out->cost, &out->quantities.pit, concrete_m3, &site->design.costs);
    out->ok = out->ok && !out->quantities.pit.too_steep;
    return status;
}

static int run(const struct uf_arguments *args)
{
    struct uf_site *site = NULL;
    struct uf_quantities_found found = {.ok = true};
    struct uf_error err = {0};
    int code = uf_site_open(&site, NULL, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    if (find(&found, site, &err) != UF_OK) {
        code = uf_faults_error(args, args->operands[0], &err);
    } else if (args->json) {
        cJSON *answer = cJSON_CreateObject();
        uf_quantities_show_answer(answer, &found);
        code = uf_site_open_answer(args, answer);
    } else {
        uf_site_open_heading(args, site, "Pit and quantities");
        uf_quantities_show_text(args, &found);
    }
    uf_site_free(site);
    return code == UF_EXIT_DONE && !found.ok ? UF_EXIT_LIMIT : code;
}

const struct uf_command uf_cmd_quantities = {
    .name = "quantities",
    .summary = "the pit and what to order: fill, board, concrete, trucks, costs",
    .synopsis = "SITE.yaml",
    .detail = "Exact volumes of the pit with the slopes the rules allow, fill by the "
              "layer in place and loose, "
              "truckloads, geotextile, a cut plan of the board's sheets, concrete, "
              "spoil, a sieve list against "
              "a published grading, and costs. What depends on what you buy stands in "
              "the quantities block.\n"
              "Exit 1 where the pit's slope is steeper than its soil class allows or the "
              "sieve list misses its grading.",
    .options = UF_OPTIONS_SITE,
    .least_operands = 1,
    .most_operands = 1,
    .run = run,
};
