#include "check_rows.h"
#include "io/text/quantity.h"
#include "solver/base/calendar.h"
#include "solver/base/constants.h"
#include "solver/design/anchor.h"
#include "solver/design/shape.h"

#include <math.h>
#include <stdio.h>

/* Flotation of the empty tank: forces, factors of safety, published forms, what would be enough, the
   open pit filled with water, the water table through the year, the wedge of soil beside an anchor. */

#define DEGREE (180.0 / UF_PI)
#define KILO   1e-3

/* A year of 365 days to name its days by. */
#define PLAIN_YEAR 2001

static const char *const month_names[12] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                            "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

static struct uf_date least_on(const struct uf_check *check)
{
    return uf_calendar_date(uf_calendar_day(PLAIN_YEAR, 1, 1) + check->floats.year.day - 1);
}

/* What a strap must carry: the larger of finished and before any soil lies on the tank. */
UF_CHECK_VALUE(double, worst_leg, fmax(check->uplift.straps.leg_N, check->uplift.straps.bare_leg_N))
UF_CHECK_VALUE(const char *, part, check->uplift.highest.parts[i].part)
UF_CHECK_VALUE(const char *, form, uf_flotation_partials[i].name)
UF_CHECK_VALUE(const char *, form_source, uf_flotation_partials[i].source)
UF_CHECK_VALUE(const char *, stage, check->floats.wet.stages[i].name)
UF_CHECK_VALUE(const char *, month, month_names[i])
UF_CHECK_VALUE(const char *, day_text, check->floats.least_on)
UF_CHECK_VALUE(const char *, no_mass, "tank.empty_mass is not given: not counted")
UF_CHECK_VALUE(
    const char *, untied,
    "anchors.straps is not given: anchors hold only a tank that is tied to them, by straps "
    "or cast in one")

/* The clauses of the codes. */
UF_CHECK_VALUE(double, em_least, UF_FLOTATION_EM_LEAST)
UF_CHECK_VALUE(double, fema_net, fmax(0.0, check->uplift.fema.net_N))
UF_CHECK_VALUE(double, destabilising, check->uplift.upl_submerged[i].dst_N)

static void say_form(struct uf_check_clause *clause, char *text, size_t size,
                     const struct uf_check *check, size_t i)
{
    const struct uf_flotation_partial *row = &uf_flotation_partials[i];
    (void)check;
    (void)snprintf(text, size, "%.2f x uplift against %.2f x buoyant weights", row->destabilising,
                   row->stabilising);
    clause->code = row->name;
    clause->what = text;
    clause->known = row->read ? UF_CHECK_READ : UF_CHECK_QUOTED;
    clause->numbers = row->read ? UF_CHECK_QUOTED : NULL;
}

UF_CHECK_WHERE(has_year, check->floats.has_year)
UF_CHECK_WHERE(has_wedge, check->floats.has_wedge)
UF_CHECK_WHERE(has_straps, check->design->anchors.straps > 0)
UF_CHECK_WHERE(has_use, !isnan(check->uplift.straps.use))
UF_CHECK_WHERE(has_contact, !isnan(check->floats.contact_Pa))
UF_CHECK_WHERE(is_unfastened, !has_straps(check) && check->uplift.straps.bare_net_N > 0.0)
UF_CHECK_WHERE(lacks_mass, isnan(check->design->tank.empty_mass_kg))
UF_CHECK_WHERE(is_untied, uf_case_untied(check->design))

UF_CHECK_WORDS(work_factor)
{
    const struct uf_holddown *balance = &check->uplift.highest;
    const char *water = UF_LEVEL(check->units, balance->water_m);
    if (isnan(balance->factor_submerged)) {
        (void)snprintf(text, size, "No uplift force: the highest water, %s, is below the tank",
                       water);
    } else {
        (void)snprintf(text, size,
                       "buoyant weights over uplift force, tank empty, water %s; required %.2f "
                       "(limits.uplift_factor): %s",
                       water, check->uplift.required,
                       balance->factor_submerged >= check->uplift.required ? "passes" : "FAILS");
    }
}

UF_CHECK_WORDS(work_before)
{
    (void)snprintf(text, size, "%zu straps, two legs each, %.1f degrees from the vertical",
                   check->design->anchors.straps, check->uplift.straps.leg_angle_rad * DEGREE);
}

UF_CHECK_WORDS(work_use)
{
    (void)snprintf(text, size, "%s, of anchors.strap_strength",
                   check->uplift.straps.use <= 1.0 ? "met" : "STRAPS TOO WEAK");
}

UF_CHECK_WORDS(work_unfastened)
{
    (void)snprintf(
        text, size,
        "before backfilling, %s when covered: the anchors count only where something else "
        "ties the tank to them, designed for that",
        UF_TEXT(FORCE, check->units, check->uplift.straps.net_N));
}

UF_CHECK_WORDS(work_ballast)
{
    (void)snprintf(text, size, "at %s, under water",
                   UF_TEXT(UNIT_WEIGHT, check->units, UF_UPLIFT_CONCRETE_N_M3));
}

UF_CHECK_WORDS(work_cover)
{
    (void)snprintf(text, size,
                   isnan(check->uplift.least_cover_m) ? "not enough down to %s"
                                                      : "all else as designed",
                   UF_TEXT(LENGTH, check->units, UF_UPLIFT_DEEPEST_M));
}

UF_CHECK_WORDS(work_deadmen)
{
    const bool designed = uf_anchor_at(UF_ANCHOR_DEADMEN)->body(check->design).count > 0.0;
    const char *which = designed ? "as many and as long as designed" : "two, as long as the tank";
    if (isnan(check->floats.deadman_side_m)) {
        (void)snprintf(text, size, "not enough up to %s a side, %s",
                       UF_TEXT(LENGTH, check->units, UF_UPLIFT_WIDEST_M), which);
    } else {
        (void)snprintf(text, size, "%s",
                       check->floats.deadman_side_m > 0.0 ? which : "none is needed");
    }
}

UF_CHECK_WORDS(work_year)
{
    const struct uf_date date = least_on(check);
    (void)snprintf(text, size, "%son %d %s, water table at %s; judged is groundwater.highest",
                   isnan(check->floats.year.factor) ? "no uplift force; highest " : "", date.day,
                   month_names[date.month - 1],
                   UF_TEXT(LENGTH, check->units, check->floats.year.depth_m));
}

UF_CHECK_WORDS(work_wedge)
{
    double wedge_N = 0.0;
    for (int k = 0; k < UF_ANCHORS; k++) {
        wedge_N += check->floats.wedge.soil_N[k];
    }
    (void)snprintf(
        text, size,
        "at %.0f degrees from the vertical, %s more: rests on the soil's strength, never "
        "judged",
        check->floats.wedge.angle_rad * DEGREE, UF_TEXT(FORCE, check->units, wedge_N));
}

static size_t count_parts(const struct uf_check *check)
{
    return check->uplift.highest.n_parts;
}

#define COUNT(name, n)                                                                             \
    static size_t name(const struct uf_check *check __attribute__((unused)))                       \
    {                                                                                              \
        return n;                                                                                  \
    }
COUNT(count_forms, UF_FLOTATION_PARTIALS)
COUNT(count_sweep, UF_UPLIFT_SWEEP)
COUNT(count_stages, UF_WET_PIT_STAGES)
COUNT(count_months, 12)

static const struct uf_check_list parts = {count_parts, true}, forms = {count_forms, true},
                                  sweep = {count_sweep, true}, stages = {count_stages, true},
                                  months = {count_months, true};

/* A number of the uplift check, of an item of one of its lists, and of what is found beside it. */
#define OF(key, label, kind, member, ...)                                                          \
    {                                                                                              \
        key, label, UF_QUANTITY_##kind, UF_CHECK_FOUND(uplift.member), __VA_ARGS__                 \
    }
#define EACH(key, label, kind, array, member, ...)                                                 \
    {                                                                                              \
        key, label, UF_QUANTITY_##kind, UF_CHECK_EACH(array, member), __VA_ARGS__                  \
    }
#define BESIDE(key, label, kind, member, ...)                                                      \
    {                                                                                              \
        key, label, UF_QUANTITY_##kind, UF_CHECK_FOUND(floats.member), __VA_ARGS__                 \
    }
#define NAME(key, label, which, of)                                                                \
    {                                                                                              \
        key, label, .type = UF_CHECK_TEXT, .text = which, .list = &(of)                            \
    }
#define WEDGE(WORD, name)                                                                          \
    BESIDE("wedge." #name "_kN", NULL, FORCE, wedge.soil_N[UF_ANCHOR_##WORD], .scale = KILO,       \
           .applies = has_wedge),

static const struct uf_check_row rows[] = {
    OF("volume_m3", "volume of the tank", LIQUID, volume_m3, .note = "outside"),
    OF("water_depth_m", NULL, LENGTH, highest.water_m, .note = NULL),
    OF("displaced_m3", "water displaced", LIQUID, highest.displaced_m3,
       .note = "tank, risers and board below the water table"),
    OF("uplift_kN", "uplift force", FORCE, highest.uplift_N, .scale = KILO),
    NAME("holddown[].part", "resisting force", part, parts),
    EACH("holddown[].kN", "buoyant", FORCE, uplift.highest.parts, submerged_N, .scale = KILO,
         .list = &parts),
    EACH("holddown[].whole_kN", "total", FORCE, uplift.highest.parts, total_N, .scale = KILO,
         .list = &parts),
    EACH("holddown[].lifts_kN", NULL, FORCE, uplift.highest.parts, lifts_N, .scale = KILO,
         .list = &parts),
    EACH("holddown[].volume_m3", NULL, VOLUME, uplift.highest.parts, volume_m3, .list = &parts),
    OF("holddown_kN", "sum, buoyant", FORCE, highest.submerged_N, .scale = KILO),
    OF("factor_submerged", "factor of safety", FACTOR, highest.factor_submerged,
       .worked = work_factor),
    OF("factor_total", "by total weights", FACTOR, highest.factor_total,
       .note = "over all water displaced; not judged"),
    OF("factor_required", NULL, FACTOR, required, .note = NULL),
    OF("fema_p259.net_kN", "FEMA P-259", FORCE, fema.net_N, .scale = KILO,
       .note =
           "net uplift of tank, risers and board, no soil, all under water (appendix C, example C7)"),
    OF("fema_p259.concrete_m3", "concrete against that", VOLUME, fema.concrete_m3,
       .note = "by the same form"),
    OF(NULL, "anchors against that", FORCE, highest.anchors_N,
       .note = "buoyant weights of anchors and of the soil over them",
       .clause =
           &(const struct uf_check_clause){
               "FEMA P-259, app. C, example C7",
               "net buoyancy to be held by anchors, no soil over the tank counted", UF_CHECK_READ,
               .required = fema_net}),
    OF("factor_em_1110_2_2100", "EM 1110-2-2100 form", FACTOR, highest.factor_em,
       .note = "1.3 / 1.2 / 1.1 at least: usual, unusual, extreme, from memory (USACE, eq. 3-2)",
       .clause =
           &(const struct uf_check_clause){
               "USACE EM 1110-2-2100, eq. 3-2, table 3-4",
               "flotation, structure whole and soil buoyant, usual condition", UF_CHECK_READ,
               UF_CHECK_MEMORY, .required = em_least}),
    NAME("limit_states[].name", "published form", form, forms),
    NAME("limit_states[].source", "source", form_source, forms),
    EACH("limit_states[].destabilising_kN", NULL, FORCE, uplift.upl_submerged, dst_N, .scale = KILO,
         .list = &forms),
    EACH("limit_states[].stabilising_kN", NULL, FORCE, uplift.upl_submerged, stb_N, .scale = KILO,
         .list = &forms,
         .clause = &(const struct uf_check_clause){.required = destabilising, .item = say_form}),
    EACH("limit_states[].use", "utilization\n(1 at most)", FACTOR, uplift.upl_submerged, use,
         .list = &forms),
    EACH("limit_states[].use_whole_weights", "by total\nweights", FACTOR, uplift.upl_total, use,
         .list = &forms),
    {"strap_leg_kN", NULL, UF_QUANTITY_FORCE, .number = worst_leg, .scale = KILO},
    OF("strap_leg_covered_kN", "strap leg, covered", FORCE, straps.leg_N, .scale = KILO,
       .told = has_straps),
    OF("strap_leg_before_cover_kN", "strap leg, open pit", FORCE, straps.bare_leg_N, .scale = KILO,
       .told = has_straps, .worked = work_before),
    OF("strap_leg_from_vertical_degree", NULL, ANGLE, straps.leg_angle_rad, .scale = DEGREE),
    OF("strap_use", "strap utilization", SHARE, straps.use, .told = has_use, .worked = work_use),
    OF(NULL, "no straps", FORCE, straps.bare_net_N, .applies = is_unfastened,
       .worked = work_unfastened),
    OF("needed_ballast_m3", "concrete to add", VOLUME, needed_ballast_m3, .worked = work_ballast),
    OF("least_cover_m", "least cover", LENGTH, least_cover_m, .worked = work_cover),
    EACH("water_sweep[].depth_m", "water table\nbelow grade", LENGTH, uplift.sweep, water_m,
         .list = &sweep),
    EACH("water_sweep[].factor", "factor of safety\n(-: no uplift)", FACTOR, uplift.sweep, factor,
         .list = &sweep),
    BESIDE("square_deadman_side_m", "square deadmen, side", LENGTH, deadman_side_m,
           .worked = work_deadmen),
    BESIDE(
        "strap_contact_kPa", "strap on the shell", PRESSURE, contact_Pa, .scale = KILO,
        .told = has_contact,
        .note =
            "tension over radius and width; what the shell can take is its manufacturer's to say"),
    NAME("wet_pit[].stage", "An open pit\nfilled with water", stage, stages),
    EACH("wet_pit[].factor", "factor, water\nat grade", FACTOR, floats.wet.stages, factor,
         .list = &stages),
    EACH("wet_pit[].floats_at_m", "floats from\nwater at", LENGTH, floats.wet.stages, floats_at_m,
         .list = &stages),
    EACH("wet_pit[].water_inside_m", "or water left\ninside", LENGTH, floats.wet.stages, inside_m,
         .list = &stages),
    EACH("wet_pit[].water_inside_m3", NULL, LIQUID, floats.wet.stages, inside_m3, .list = &stages),
    {"through_the_year.least_on", NULL, .type = UF_CHECK_TEXT, .text = day_text,
     .applies = has_year},
    BESIDE("through_the_year.water_depth_m", NULL, LENGTH, year.depth_m, .applies = has_year),
    BESIDE("through_the_year.factor", "least in a year", FACTOR, year.factor, .applies = has_year,
           .worked = work_year),
    {"through_the_year.months[].month", "Through the year", .type = UF_CHECK_TEXT, .text = month,
     .applies = has_year, .list = &months},
    {"through_the_year.months[].factor", "factor", UF_QUANTITY_FACTOR,
     UF_CHECK_FOUND(floats.year.month_factor), .step = sizeof(double), .applies = has_year,
     .list = &months},
    BESIDE("wedge.angle_degree", NULL, ANGLE, wedge.angle_rad, .scale = DEGREE,
           .applies = has_wedge),
    UF_ANCHOR_LIST(WEDGE) //
    BESIDE("wedge.factor", "with the soil wedge", FACTOR, wedge.factor, .applies = has_wedge,
           .worked = work_wedge),
    {NULL, "tank's own weight", .type = UF_CHECK_TEXT, .text = no_mass, .applies = lacks_mass},
    {NULL, "anchors", .type = UF_CHECK_TEXT, .text = untied, .applies = is_untied},
    {.key = NULL}};

static const char *const cautions[] = {
    "Soil counts as vertical prisms; friction, undrained suction and frozen ground are not counted. A "
    "pit backfilled in tight ground fills with rain to grade.",
    "In the open pit levels are above the invert; - says that it does not float, or that a full tank "
    "is not enough. Water left inside is a temporary measure that somebody has to watch; the tank's "
    "manufacturer must allow it. Dewater the pit first.",
    "A tank that floats breaks its pipes and can hurt people; flood areas have rules of their own.",
    NULL};

static enum uf_status find_beside(struct uf_check *check, const struct uf_column_soils *soils,
                                  struct uf_error *err)
{
    struct uf_check_floats *out = &check->floats;
    const struct uf_case *design = check->design;
    const double angle_rad = check->site->works.wedge_angle_degree / DEGREE;
    *out = (struct uf_check_floats){.contact_Pa = NAN,
                                    .has_year = uf_water_year_given(&design->ground.year),
                                    .has_wedge = !isnan(angle_rad)};
    if (uf_shape_is_round(&design->tank)) {
        out->contact_Pa = uf_flotation_contact_Pa(
            worst_leg(check, 0), 0.5 * design->tank.diameter_m, check->site->works.strap_width_m);
    }
    enum uf_status status = uf_uplift_deadman_side(&out->deadman_side_m, design, soils, err);
    if (status == UF_OK) {
        status = uf_wet_pit(&out->wet, design, soils, err);
    }
    if (status == UF_OK && out->has_year) {
        status = uf_water_least(&out->year, design, soils, err);
        const struct uf_date date = least_on(check);
        (void)snprintf(out->least_on, sizeof out->least_on, "--%02d-%02d", date.month, date.day);
    }
    if (status == UF_OK && out->has_wedge) {
        status =
            uf_wedge(&out->wedge, design, soils, design->ground.water_highest_m, angle_rad, err);
    }
    return status;
}

UF_CHECK_WHERE(given, uf_case_has_tank(&check->site->design))

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    struct uf_column_soils soils;
    enum uf_status status = uf_column_soils(&soils, check->design, err);
    if (status == UF_OK) {
        status = uf_uplift(&check->uplift, check->design, &soils, err);
    }
    if (status == UF_OK) {
        status = find_beside(check, &soils, err);
    }
    check->ok = status == UF_OK && check->uplift.ok;
    return status;
}

const struct uf_check_topic uf_check_flotation = {
    .name = "flotation",
    .doc = "Flotation of the empty tank, groundwater at its highest",
    .needs = "tank and burial",
    .given = given,
    .run = run,
    .rows = rows,
    .cautions = cautions,
    .own_chapter = true,
};
