#include "check.h"
#include "cli/jobs.h"
#include "cli/site_run.h"
#include "io/text/show.h"
#include "solver/ground/soil.h"
#include "solver/statics/frost_force.h"

#include <math.h>

/* Frost on fittings: adfreeze on risers, depth of pipes. */

/* Everything that is told. */
struct findings {
    const struct uf_site *site;
    double frost_m;
    bool computed; /* by a run; else frost.depth */
    const struct uf_frost_force_bond *bond;
    struct uf_frost_force force;
};

/* The frost depth in undisturbed ground, by a run through the design winter. */
static enum uf_status run_for_frost(double *out_m, const struct uf_check *check,
                                    struct uf_error *err)
{
    struct uf_site_run run = {.site = check->site};
    enum uf_status status = uf_site_run_start(&run, check->args, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_job job = {
        .design = run.site->design, .forcing = run.forcing, .options = run.options};
    status = uf_jobs_run(&job, 1, check->args, "run", err);
    if (status == UF_OK) {
        status = uf_jobs_first_failure(&job, 1, err);
    }
    *out_m = job.summary.frost_undisturbed_m;
    uf_record_free(job.record);
    run.site = NULL;
    uf_site_run_close(&run);
    return status;
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

static void answer(cJSON *object, const struct findings *found)
{
    const struct uf_case *design = &found->site->design;
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
        uf_show_line(stdout, "riser", "%s in diameter, frozen in over %s: frost-jacking force %s",
                     UF_TEXT(LENGTH, args->units, riser->diameter_m),
                     UF_TEXT(LENGTH, args->units, riser->frozen_m),
                     UF_TEXT(FORCE, args->units, riser->jacking_N));
    }
    uf_show_line(stdout, "adfreeze bond", "%s, %s",
                 UF_TEXT(PRESSURE, args->units, found->bond->bond_Pa), found->bond->doc);
    uf_show_line(stdout, "resisting force",
                 "%s net of uplift, empty tank, water table at its winter depth",
                 UF_TEXT(FORCE, args->units, found->force.spare_N));
    uf_show_line(stdout, "judged", "%s",
                 found->force.share <= 1.0
                     ? "met: the tank as a whole is not jacked; the joint of riser and tank "
                       "carries the force"
                     : "NOT MET: sleeve the riser so that frost cannot grip it, in drained fill "
                       "that is not frost-susceptible");
}

static void show_pipes(const struct uf_arguments *args, const struct findings *found)
{
    const struct uf_case *design = &found->site->design;
    uf_show_heading(stdout, "Pipes");
    for (size_t i = 0; i < design->n_pipes; i++) {
        const struct uf_frost_force_pipe *pipe = &found->force.pipes[i];
        uf_show_line(
            stdout, design->pipes[i].name,
            "crown at %s, %s %s the frost depth: %s. Centre at least at %s; a foot below the "
            "frost, as is usual, at %s",
            UF_TEXT(LENGTH, args->units, pipe->crown_m),
            UF_TEXT(LENGTH, args->units, fabs(pipe->margin_m)), pipe->ok ? "below" : "above",
            pipe->ok                       ? "met"
            : design->pipes[i].under_board ? "under the board, see its temperature by simulate"
                                           : "NOT MET, water in it can freeze",
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
        "Force = bond x circumference x frozen length. The bond is an average for design; "
        "single values in silt reach several times as much. Frost groups: UFC 3-260-02, table "
        "19-2, by the soil's row; a sieve and hydrometer test of the real soil decides. A foot "
        "below the frost: common practice, no source. The amount of heave is not computed.");
}

static bool is_ok(const struct findings *found)
{
    bool ok = found->force.share <= 1.0;
    for (size_t i = 0; i < found->site->design.n_pipes; i++) {
        ok = ok && (found->force.pipes[i].ok || found->site->design.pipes[i].under_board);
    }
    return ok;
}

static bool given(const struct uf_check *check)
{
    const struct uf_case *design = &check->site->design;
    return design->tank.n_risers > 0 || design->n_pipes > 0;
}

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    const struct uf_site *site = check->site;
    struct findings found = {
        .site = site,
        .frost_m = site->works.frost_depth_m,
        .computed = isnan(site->works.frost_depth_m),
        .bond = &uf_frost_force_bonds[site->works.bond >= 0 ? site->works.bond : 0]};
    struct uf_column_soils soils;
    enum uf_status status = uf_column_soils(&soils, &site->design, err);
    if (status == UF_OK && found.computed) {
        status = run_for_frost(&found.frost_m, check, err);
    }
    if (status == UF_OK) {
        status = uf_frost_force(&found.force, &site->design, &soils, found.frost_m,
                                found.bond->bond_Pa, err);
    }
    if (status != UF_OK) {
        return status;
    }
    check->ok = is_ok(&found);
    if (check->answer != NULL) {
        answer(check->answer, &found);
    } else {
        show(check->args, &found);
    }
    return UF_OK;
}

const struct uf_check_topic uf_check_fittings = {
    .name = "fittings",
    .doc = "Frost on fittings: frost jacking of risers, depth of pipes",
    .needs = "tank.risers or pipes",
    .options = UF_OPTION_JOBS | UF_OPTION_PROGRESS | UF_OPTION_INTEGRATOR,
    .given = given,
    .run = run,
};
