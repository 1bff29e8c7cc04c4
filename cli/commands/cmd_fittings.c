#include "cli/command.h"
#include "cli/jobs.h"
#include "cli/site_open.h"
#include "cli/site_run.h"
#include "cli/tell/answer.h"
#include "cli/tell/faults.h"
#include "cli/tell/outcome.h"
#include "io/text/show.h"
#include "solver/ground/soil.h"
#include "solver/statics/frost_force.h"

#include <math.h>

/* underfrost fittings SITE.yaml: frost on risers and pipes. */

/* Everything that is told. */
struct findings {
    const struct uf_site *site;
    double frost_m;
    bool computed; /* by a run; else frost.depth */
    const struct uf_frost_force_bond *bond;
    struct uf_frost_force force;
    bool ok;
};

/* The frost far from the tank, by a run through the design winter. */
static int run_for_frost(double *out_m, const struct uf_arguments *args)
{
    struct uf_site_run run;
    struct uf_error err = {0};
    int code = uf_site_run_open(&run, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    struct uf_job job = {
        .design = run.site->design, .forcing = run.forcing, .options = run.options};
    enum uf_status status = uf_jobs_run(&job, 1, args, "run", &err);
    if (status == UF_OK) {
        status = uf_jobs_first_failure(&job, 1, &err);
    }
    *out_m = job.summary.frost_undisturbed_m;
    uf_record_free(job.record);
    uf_site_run_close(&run);
    return status == UF_OK ? UF_EXIT_DONE : uf_faults_error(args, args->operands[0], &err);
}

static const char *group_of(const struct uf_ground_spec *spec)
{
    return spec->soil != NULL ? spec->soil->frost_group : NULL;
}

static void answer_soil(cJSON *list, const char *where, const struct uf_ground_spec *spec)
{
    cJSON *row = uf_answer_item(list);
    uf_answer_text(row, "where", where);
    uf_answer_text(row, "soil", spec->soil != NULL ? spec->soil->name : NULL);
    uf_answer_text(row, "frost_group", group_of(spec));
}

static int answer(const struct uf_arguments *args, const struct findings *found)
{
    const struct uf_case *design = &found->site->design;
    cJSON *object = cJSON_CreateObject();
    uf_answer_text(object, "name", design->name);
    uf_answer_number(object, "frost_depth_m", found->frost_m);
    uf_answer_bool(object, "frost_computed", found->computed);
    uf_answer_text(object, "bond", found->bond->name);
    uf_answer_text(object, "bond_source", found->bond->source);
    uf_answer_number(object, "bond_kPa", 1e-3 * found->bond->bond_Pa);
    uf_answer_number(object, "jacking_kN", 1e-3 * found->force.jacking_N);
    uf_answer_number(object, "spare_kN", 1e-3 * found->force.spare_N);
    uf_answer_number(object, "jacking_share", found->force.share);
    cJSON *list = uf_answer_array(object, "risers");
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        cJSON *row = uf_answer_item(list);
        uf_answer_number(row, "diameter_m", found->force.risers[i].diameter_m);
        uf_answer_number(row, "frozen_m", found->force.risers[i].frozen_m);
        uf_answer_number(row, "jacking_kN", 1e-3 * found->force.risers[i].jacking_N);
    }
    list = uf_answer_array(object, "pipes");
    for (size_t i = 0; i < design->n_pipes; i++) {
        const struct uf_frost_force_pipe *pipe = &found->force.pipes[i];
        cJSON *row = uf_answer_item(list);
        uf_answer_text(row, "name", design->pipes[i].name);
        uf_answer_number(row, "crown_m", pipe->crown_m);
        uf_answer_number(row, "below_frost_m", pipe->margin_m);
        uf_answer_number(row, "least_depth_m", pipe->least_depth_m);
        uf_answer_number(row, "usual_depth_m", pipe->usual_depth_m);
        uf_answer_bool(row, "ok", pipe->ok);
    }
    list = uf_answer_array(object, "soils");
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        answer_soil(list, "ground", &design->ground.layers[i].spec);
    }
    if (design->burial.has_backfill) {
        answer_soil(list, "backfill", &design->burial.backfill);
    }
    uf_answer_bool(object, "ok", found->ok);
    return uf_site_open_answer(args, object);
}

static void show_risers(const struct uf_arguments *args, const struct findings *found)
{
    uf_show_heading(stdout, "Risers");
    if (found->site->design.tank.n_risers == 0) {
        uf_show_text(stdout, 0, "None is given.");
        return;
    }
    for (size_t i = 0; i < found->site->design.tank.n_risers; i++) {
        const struct uf_frost_force_item *riser = &found->force.risers[i];
        uf_show_line(stdout, "riser", "%s across, frozen in over %s: pulled up with %s",
                     UF_TEXT(LENGTH, args->units, riser->diameter_m),
                     UF_TEXT(LENGTH, args->units, riser->frozen_m),
                     UF_TEXT(FORCE, args->units, riser->jacking_N));
    }
    uf_show_line(stdout, "bond", "%s, %s", UF_TEXT(PRESSURE, args->units, found->bond->bond_Pa),
                 found->bond->doc);
    uf_show_line(stdout, "hold-down to spare", "%s, empty tank, water at its winter depth",
                 UF_TEXT(FORCE, args->units, found->force.spare_N));
    uf_show_line(
        stdout, "verdict", "%s",
        found->force.share <= 1.0
            ? "the tank as a whole is not pulled up; the joint of riser and tank carries the pull"
            : "THE PULL IS MORE THAN THE TANK HOLDS: sleeve the riser so that frost cannot "
              "grip it, in drained fill that does not heave");
}

static void show_pipes(const struct uf_arguments *args, const struct findings *found)
{
    const struct uf_case *design = &found->site->design;
    uf_show_heading(stdout, "Pipes");
    for (size_t i = 0; i < design->n_pipes; i++) {
        const struct uf_frost_force_pipe *pipe = &found->force.pipes[i];
        uf_show_line(
            stdout, design->pipes[i].name,
            "top at %s, %s %s the frost: %s. Centre at least at %s; with a foot to spare, "
            "as is usual, at %s",
            UF_TEXT(LENGTH, args->units, pipe->crown_m),
            UF_TEXT(LENGTH, args->units, fabs(pipe->margin_m)), pipe->ok ? "below" : "inside",
            pipe->ok                       ? "safe"
            : design->pipes[i].under_board ? "under the board: simulate tells its temperature"
                                           : "WATER IN IT CAN FREEZE",
            UF_TEXT(LENGTH, args->units, pipe->least_depth_m),
            UF_TEXT(LENGTH, args->units, pipe->usual_depth_m));
    }
    if (design->n_pipes == 0) {
        uf_show_text(stdout, 0, "None is given.");
    }
    uf_show_line(stdout, "standing water",
                 "in a riser or standpipe above %s freezes with the ground: "
                 "keep the water below it or drain it; ice grows by 9 "
                 "percent and, shut in, bursts steel",
                 UF_TEXT(LENGTH, args->units, found->frost_m));
}

static void show_soil(const char *where, const struct uf_ground_spec *spec)
{
    const char *group = group_of(spec);
    uf_show_line(
        stdout, where, "%s: USACE frost group %s%s",
        spec->soil != NULL ? spec->soil->name : "measured", group != NULL ? group : "not known",
        group != NULL && !uf_frost_force_susceptible(group) ? ", not frost-susceptible" : "");
}

static void show(const struct uf_arguments *args, const struct findings *found)
{
    const struct uf_case *design = &found->site->design;
    uf_site_open_heading(args, found->site, "Frost on fittings");
    uf_show_line(stdout, "frost depth", "%s in undisturbed ground, %s",
                 UF_TEXT(LENGTH, args->units, found->frost_m),
                 found->computed ? "computed for the design winter" : "as given by frost.depth");
    show_risers(args, found);
    show_pipes(args, found);
    uf_show_heading(stdout, "Soils");
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        show_soil("ground", &design->ground.layers[i].spec);
    }
    if (design->burial.has_backfill) {
        show_soil("backfill", &design->burial.backfill);
    }
    uf_show_heading(stdout, "Sources and cautions");
    uf_show_text(stdout, 0, found->bond->source);
    uf_show_text(
        stdout, 0,
        "Pull = bond x circumference x frozen length. The bond is an average for design; "
        "single values in silt reach several times as much. Frost groups: UFC 3-260-02, table "
        "19-2, by the soil's row; a sieve and hydrometer test of the real soil decides. A foot "
        "below the frost: common practice, no source. The amount of heave is not computed.");
    uf_show_text(stdout, 0, uf_outcome_cautions);
}

static bool is_ok(const struct findings *found)
{
    bool ok = found->force.share <= 1.0;
    for (size_t i = 0; i < found->site->design.n_pipes; i++) {
        ok = ok && (found->force.pipes[i].ok || found->site->design.pipes[i].under_board);
    }
    return ok;
}

static int run(const struct uf_arguments *args)
{
    struct uf_site *site = NULL;
    struct uf_column_soils soils;
    struct findings found = {.ok = true};
    struct uf_error err = {0};
    int code = uf_site_open(&site, &soils, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    found.site = site;
    found.frost_m = site->works.frost_depth_m;
    found.computed = isnan(found.frost_m);
    found.bond = &uf_frost_force_bonds[site->works.bond >= 0 ? site->works.bond : 0];
    if (found.computed) {
        code = run_for_frost(&found.frost_m, args);
    }
    if (code == UF_EXIT_DONE && uf_frost_force(&found.force, &site->design, &soils, found.frost_m,
                                               found.bond->bond_Pa, &err) != UF_OK) {
        code = uf_faults_error(args, args->operands[0], &err);
    } else if (code == UF_EXIT_DONE) {
        found.ok = is_ok(&found);
        if (args->json) {
            code = answer(args, &found);
        } else {
            show(args, &found);
        }
    }
    uf_site_free(site);
    return code == UF_EXIT_DONE && !found.ok ? UF_EXIT_LIMIT : code;
}

const struct uf_command uf_cmd_fittings = {
    .name = "fittings",
    .summary = "frost on risers and pipes, and the depth a pipe needs",
    .synopsis = "SITE.yaml",
    .detail = "How hard frozen ground can pull on the risers against what holds the tank "
              "down, whether each "
              "pipe runs below the frost and how deep it must, and the frost group of "
              "each soil. The frost "
              "depth is frost.depth, or computed for the design winter where that is not "
              "given.\nExit 1 where "
              "the pull is more than the tank holds or a pipe lies in the frost.",
    .options = UF_OPTIONS_SITE | UF_OPTION_JOBS | UF_OPTION_PROGRESS | UF_OPTION_INTEGRATOR,
    .least_operands = 1,
    .most_operands = 1,
    .run = run,
};
