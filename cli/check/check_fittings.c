#include "check_rows.h"
#include "cli/jobs.h"
#include "cli/site_run.h"
#include "io/text/quantity.h"
#include "solver/ground/soil.h"

#include <math.h>

/* Frost on fittings: adfreeze on risers, depth of pipes. */

/* The frost depth in undisturbed ground, by a run through the design winter. */
static enum uf_status run_for_frost(double *out_m, const struct uf_check *check,
                                    struct uf_error *err)
{
    struct uf_site_run run = {.site = check->site};
    enum uf_status status = uf_site_run_start(&run, check->args, err);
    if (status != UF_OK) {
        return status;
    }
    struct uf_job job = {.design = *check->design, .forcing = run.forcing, .options = run.options};
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

UF_CHECK_WHERE(is_computed, isnan(check->site->works.frost_depth_m))
UF_CHECK_WHERE(has_risers, check->design->tank.n_risers > 0)
UF_CHECK_WHERE(sums_risers, check->design->tank.n_risers > 1)

static size_t count_risers(const struct uf_check *check)
{
    return check->design->tank.n_risers;
}

static size_t count_pipes(const struct uf_check *check)
{
    return check->design->n_pipes;
}

/* The layers of the ground, then the backfill. */
static size_t count_soils(const struct uf_check *check)
{
    return check->design->ground.n_layers + (check->design->burial.has_backfill ? 1 : 0);
}

static bool is_ground(const struct uf_check *check, size_t i)
{
    return i < check->design->ground.n_layers;
}

static const struct uf_soil *soil_of(const struct uf_check *check, size_t i)
{
    return is_ground(check, i) ? check->design->ground.layers[i].spec.soil
                               : check->design->burial.backfill.soil;
}

UF_CHECK_VALUE(const char *, where, is_ground(check, i) ? "ground" : "backfill")

static const char *soil(const struct uf_check *check, size_t i)
{
    const struct uf_soil *found = soil_of(check, i);
    return found != NULL ? found->name : NULL;
}

static const char *group(const struct uf_check *check, size_t i)
{
    const struct uf_soil *found = soil_of(check, i);
    return found != NULL ? found->frost_group : NULL;
}

UF_CHECK_VALUE(const char *, bond, check->bond->name)
UF_CHECK_VALUE(const char *, bond_source, check->bond->source)
UF_CHECK_VALUE(double, jacking, check->fittings.jacking_N)
UF_CHECK_VALUE(const char *, pipe_name, check->design->pipes[i].name)

UF_CHECK_WORDS(work_frost)
{
    (void)snprintf(text, size, "%s",
                   is_computed(check) ? "in undisturbed ground, computed for the design winter"
                                      : "in undisturbed ground, as given by frost.depth");
}

UF_CHECK_WORDS(work_bond)
{
    (void)snprintf(text, size, "%s (%s)", check->bond->doc, check->bond->source);
}

UF_CHECK_WORDS(work_share)
{
    (void)snprintf(
        text, size, "%s",
        check->fittings.share <= 1.0
            ? "met: the tank as a whole is not jacked; the joint of riser and tank "
              "carries the force"
            : "NOT MET: give the riser a loose sleeve or slip wrap that frost can lift (foam "
              "that sits tight counts as gripped), in drained fill that is not "
              "frost-susceptible");
}

UF_CHECK_WORDS(work_riser)
{
    const struct uf_frost_force_item *riser = &check->fittings.risers[i];
    (void)snprintf(text, size, "%zu: bond x pi x %s x %s frozen in", i + 1,
                   UF_TEXT(LENGTH, check->units, riser->diameter_m),
                   UF_TEXT(LENGTH, check->units, riser->frozen_m));
}

UF_CHECK_WORDS(work_pipe)
{
    const struct uf_frost_force_pipe *pipe = &check->fittings.pipes[i];
    const int used =
        snprintf(text, size, "%s: crown at %s, %s", check->design->pipes[i].name,
                 UF_TEXT(LENGTH, check->units, pipe->crown_m),
                 pipe->ok                              ? "met"
                 : check->design->pipes[i].under_board ? "IN THE FROST, but under the board: see "
                                                         "its temperature by simulate"
                                                       : "IN THE FROST, water in it can freeze");
    if (!check->brief && used > 0 && (size_t)used < size) {
        (void)snprintf(text + used, size - (size_t)used,
                       ". Centre at least at %s; a foot below the frost, as is usual, at %s",
                       UF_TEXT(LENGTH, check->units, pipe->least_depth_m),
                       UF_TEXT(LENGTH, check->units, pipe->usual_depth_m));
    }
}

UF_CHECK_WORDS(work_soil)
{
    const char *found = group(check, i);
    (void)snprintf(text, size, "%s: USACE frost group %s%s", where(check, i),
                   found != NULL ? found : "not known",
                   found != NULL && !uf_frost_force_susceptible(found) ? ", not frost-susceptible"
                                                                       : "");
}

static const struct uf_check_list risers = {.count = count_risers}, pipes = {.count = count_pipes},
                                  soils = {.count = count_soils};

static const struct uf_check_row rows[] = {
    {"frost_depth_m", "frost depth", UF_QUANTITY_LENGTH, UF_CHECK_FOUND(fittings.frost_m),
     .worked = work_frost},
    {"frost_computed", .type = UF_CHECK_YES, .yes = is_computed},
    {"bond", .type = UF_CHECK_TEXT, .text = bond},
    {"bond_source", .type = UF_CHECK_TEXT, .text = bond_source},
    {"bond_kPa", "adfreeze bond", UF_QUANTITY_PRESSURE, UF_CHECK_FOUND(fittings.bond_Pa),
     .scale = 1e-3, .told = has_risers, .worked = work_bond},
    {"jacking_kN", "frost-jacking force", UF_QUANTITY_FORCE, UF_CHECK_FOUND(fittings.jacking_N),
     .scale = 1e-3, .told = sums_risers, .note = "of all risers"},
    {"spare_kN", "resisting force", UF_QUANTITY_FORCE, UF_CHECK_FOUND(fittings.spare_N),
     .scale = 1e-3, .told = has_risers,
     .note = "buoyant weights less uplift, tank empty, water table of the frost season",
     .clause =
         &(const struct uf_check_clause){
             "Canadian Foundation Engineering Manual, bond",
             "frost-jacking force on the risers against the resisting force", UF_CHECK_QUOTED,
             .required = jacking}},
    {"jacking_share", "utilization", UF_QUANTITY_SHARE, UF_CHECK_FOUND(fittings.share),
     .told = has_risers, .worked = work_share},
    {"risers[].diameter_m", UF_CHECK_EACH(fittings.risers, diameter_m), .list = &risers},
    {"risers[].frozen_m", UF_CHECK_EACH(fittings.risers, frozen_m), .list = &risers},
    {"risers[].jacking_kN", "riser", UF_QUANTITY_FORCE, UF_CHECK_EACH(fittings.risers, jacking_N),
     .scale = 1e-3, .worked = work_riser, .list = &risers},
    {"pipes[].name", .type = UF_CHECK_TEXT, .text = pipe_name, .list = &pipes},
    {"pipes[].crown_m", UF_CHECK_EACH(fittings.pipes, crown_m), .list = &pipes},
    {"pipes[].below_frost_m", "pipe below frost by", UF_QUANTITY_LENGTH,
     UF_CHECK_EACH(fittings.pipes, margin_m), .worked = work_pipe, .list = &pipes},
    {"pipes[].least_depth_m", UF_CHECK_EACH(fittings.pipes, least_depth_m), .list = &pipes},
    {"pipes[].usual_depth_m", UF_CHECK_EACH(fittings.pipes, usual_depth_m), .list = &pipes},
    {"pipes[].ok", .type = UF_CHECK_YES, UF_CHECK_EACH(fittings.pipes, ok), .list = &pipes},
    {"soils[].where", .type = UF_CHECK_TEXT, .text = where, .list = &soils},
    {"soils[].soil", "soil", .type = UF_CHECK_TEXT, .text = soil, .worked = work_soil,
     .told = uf_check_rows_in_full, .list = &soils},
    {"soils[].frost_group", .type = UF_CHECK_TEXT, .text = group, .list = &soils},
    {.key = NULL}};

static const char *const cautions[] = {
    "Force = bond x circumference x frozen length.",
    "The bond is an average for design; single values "
    "in silt reach several times as much. Frost groups: UFC 3-260-02, table 19-2, by the soil's row; "
    "a sieve and hydrometer test of the real soil decides. A foot below the frost: common practice, "
    "no source. The amount of heave is not computed.",
    "Standing water above the frost depth, in a riser or standpipe, freezes with the ground: keep the "
    "water below it or drain it; ice grows by 9 percent and, shut in, bursts steel.",
    NULL};

static bool is_ok(const struct uf_check *check)
{
    bool ok = check->fittings.share <= 1.0;
    for (size_t i = 0; i < check->design->n_pipes; i++) {
        ok = ok && (check->fittings.pipes[i].ok || check->design->pipes[i].under_board);
    }
    return ok;
}

UF_CHECK_WHERE(given, check->design->tank.n_risers > 0 || check->design->n_pipes > 0)

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    const struct uf_site_works *works = &check->site->works;
    double frost_m = is_computed(check) ? check->frost_m : works->frost_depth_m;
    struct uf_column_soils columns;
    enum uf_status status = uf_column_soils(&columns, check->design, err);
    check->bond = &uf_frost_force_bonds[works->bond >= 0 ? works->bond : 0];
    if (status == UF_OK && isnan(frost_m)) {
        status = run_for_frost(&frost_m, check, err);
    }
    if (status == UF_OK) {
        status = uf_frost_force(&check->fittings, check->design, &columns, frost_m,
                                check->bond->bond_Pa, err);
    }
    check->ok = status == UF_OK && is_ok(check);
    return status;
}

const struct uf_check_topic uf_check_fittings = {
    .name = "fittings",
    .doc = "Frost on fittings: frost jacking of risers, depth of pipes",
    .needs = "tank.risers or pipes",
    .options = UF_OPTION_JOBS | UF_OPTION_PROGRESS | UF_OPTION_INTEGRATOR,
    .given = given,
    .run = run,
    .rows = rows,
    .cautions = cautions,
};
