#include "check.h"
#include "check_flotation_more.h"
#include "io/text/show.h"
#include "solver/base/constants.h"
#include "solver/statics/uplift.h"

#include <math.h>
#include <string.h>

/* Flotation of the empty tank: forces, factors of safety, concrete needed, sweep over the water's
   depth. */

#define RAD_DEG (180.0 / UF_PI)

static double kilo(double value)
{
    return 1e-3 * value;
}

/* What the strap must carry: the larger of finished and before any soil lies on the tank. */
static double worst_leg_N(const struct uf_uplift *uplift)
{
    return fmax(uplift->straps.leg_N, uplift->straps.bare_leg_N);
}

static void answer_parts(cJSON *answer, const struct uf_holddown *balance)
{
    cJSON *list = uf_answer_array(answer, "holddown");
    for (size_t i = 0; i < balance->n_parts; i++) {
        const struct uf_holddown_part *part = &balance->parts[i];
        cJSON *row = uf_answer_item(list);
        uf_answer_text(row, "part", part->part);
        uf_answer_number(row, "kN", kilo(part->submerged_N));
        uf_answer_number(row, "whole_kN", kilo(part->total_N));
        uf_answer_number(row, "lifts_kN", kilo(part->lifts_N));
        uf_answer_number(row, "volume_m3", part->volume_m3);
    }
}

static void answer_forms(cJSON *answer, const struct uf_uplift *uplift)
{
    cJSON *fema = uf_answer_object(answer, "fema_p259");
    uf_answer_number(fema, "net_kN", kilo(uplift->fema.net_N));
    uf_answer_number(fema, "concrete_m3", uplift->fema.concrete_m3);
    uf_answer_number(answer, "factor_em_1110_2_2100", uplift->highest.factor_em);
    cJSON *list = uf_answer_array(answer, "limit_states");
    for (size_t i = 0; i < UF_FLOTATION_PARTIALS; i++) {
        cJSON *row = uf_answer_item(list);
        uf_answer_text(row, "name", uf_flotation_partials[i].name);
        uf_answer_text(row, "source", uf_flotation_partials[i].source);
        uf_answer_number(row, "destabilising_kN", kilo(uplift->upl_submerged[i].dst_N));
        uf_answer_number(row, "stabilising_kN", kilo(uplift->upl_submerged[i].stb_N));
        uf_answer_number(row, "use", uplift->upl_submerged[i].use);
        uf_answer_number(row, "use_whole_weights", uplift->upl_total[i].use);
    }
}

static void answer_straps(cJSON *answer, const struct uf_uplift *uplift)
{
    const struct uf_uplift_straps *straps = &uplift->straps;
    uf_answer_number(answer, "strap_leg_kN", kilo(worst_leg_N(uplift)));
    uf_answer_number(answer, "strap_leg_covered_kN", kilo(straps->leg_N));
    uf_answer_number(answer, "strap_leg_before_cover_kN", kilo(straps->bare_leg_N));
    uf_answer_number(answer, "strap_leg_from_vertical_degree", straps->leg_angle_rad * RAD_DEG);
    uf_answer_number(answer, "strap_use", straps->use);
}

static void answer_all(cJSON *answer, const struct uf_uplift *uplift)
{
    const struct uf_holddown *balance = &uplift->highest;
    uf_answer_number(answer, "volume_m3", uplift->volume_m3);
    uf_answer_number(answer, "water_depth_m", balance->water_m);
    uf_answer_number(answer, "displaced_m3", balance->displaced_m3);
    uf_answer_number(answer, "uplift_kN", kilo(balance->uplift_N));
    answer_parts(answer, balance);
    uf_answer_number(answer, "holddown_kN", kilo(balance->submerged_N));
    uf_answer_number(answer, "factor_submerged", balance->factor_submerged);
    uf_answer_number(answer, "factor_total", balance->factor_total);
    uf_answer_number(answer, "factor_required", uplift->required);
    answer_forms(answer, uplift);
    answer_straps(answer, uplift);
    uf_answer_number(answer, "needed_ballast_m3", uplift->needed_ballast_m3);
    uf_answer_number(answer, "least_cover_m", uplift->least_cover_m);
    cJSON *sweep = uf_answer_array(answer, "water_sweep");
    for (size_t i = 0; i < UF_UPLIFT_SWEEP; i++) {
        cJSON *row = uf_answer_item(sweep);
        uf_answer_number(row, "depth_m", uplift->sweep[i].water_m);
        uf_answer_number(row, "factor", uplift->sweep[i].factor);
    }
}

static void show_verdict(const struct uf_arguments *args, const struct uf_uplift *uplift)
{
    const struct uf_holddown *balance = &uplift->highest;
    char verdict[400];
    const char *water = UF_LEVEL(args->units, balance->water_m);
    if (isnan(balance->factor_submerged)) {
        (void)snprintf(verdict, sizeof verdict,
                       "No uplift force: the highest water, %s, stands below the tank.", water);
    } else {
        (void)snprintf(verdict, sizeof verdict,
                       "Flotation check %s: factor of safety %.2f (buoyant weights), required "
                       "%.2f; tank empty, water %s.",
                       balance->factor_submerged >= uplift->required ? "passes" : "FAILS",
                       balance->factor_submerged, uplift->required, water);
    }
    if (uplift->straps.use > 1.0) {
        const size_t used = strlen(verdict);
        (void)snprintf(verdict + used, sizeof verdict - used,
                       " STRAPS TOO WEAK: %.0f percent of anchors.strap_strength used.",
                       100.0 * uplift->straps.use);
    }
    uf_show_text(stdout, 0, verdict);
    (void)putchar('\n');
}

static void show_forces(const struct uf_arguments *args, const struct uf_uplift *uplift)
{
    char submerged[64], whole[64];
    (void)snprintf(submerged, sizeof submerged, "buoyant\n%s",
                   uf_quantity_unit(UF_QUANTITY_FORCE, args->units));
    (void)snprintf(whole, sizeof whole, "total\n%s",
                   uf_quantity_unit(UF_QUANTITY_FORCE, args->units));
    const struct uf_show_column columns[] = {
        {"resisting force", 'l'}, {submerged, 'r'}, {whole, 'r'}};
    const struct uf_holddown *balance = &uplift->highest;
    struct uf_show_table *table = uf_show_table_create(columns, 3);
    for (size_t i = 0; i < balance->n_parts; i++) {
        uf_show_table_cell(table, "%s", balance->parts[i].part);
        uf_show_table_cell(table, "%s",
                           UF_NUMBER(FORCE, args->units, balance->parts[i].submerged_N));
        uf_show_table_cell(table, "%s", UF_NUMBER(FORCE, args->units, balance->parts[i].total_N));
    }
    uf_show_table_cell(table, "total");
    uf_show_table_cell(table, "%s", UF_NUMBER(FORCE, args->units, balance->submerged_N));
    uf_show_table_cell(table, "%s", UF_NUMBER(FORCE, args->units, balance->total_N));
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
    (void)putchar('\n');
    uf_show_line(stdout, "volume of the tank", "%s, outside",
                 UF_TEXT(LIQUID, args->units, uplift->volume_m3));
    uf_show_line(stdout, "water displaced", "%s, tank, risers and board below the water table",
                 UF_TEXT(LIQUID, args->units, balance->displaced_m3));
    uf_show_line(stdout, "uplift force", "%s", UF_TEXT(FORCE, args->units, balance->uplift_N));
}

static void form_row(struct uf_show_table *table, const char *form, double found,
                     const char *required, const char *source)
{
    uf_show_table_cell(table, "%s", form);
    if (isnan(found)) {
        uf_show_table_cell(table, "-");
    } else {
        uf_show_table_cell(table, "%.2f", found);
    }
    uf_show_table_cell(table, "%s", required);
    uf_show_table_cell(table, "%s", source);
}

static void show_forms(const struct uf_arguments *args, const struct uf_uplift *uplift)
{
    static const struct uf_show_column columns[] = {
        {"form", 'l'}, {"found", 'r'}, {"required", 'l'}, {"source", 'l'}};
    const struct uf_holddown *balance = &uplift->highest;
    char required[40];
    uf_show_heading(stdout, "The same forces in published forms");
    struct uf_show_table *table = uf_show_table_create(columns, 4);
    (void)snprintf(required, sizeof required, ">= %.2f", uplift->required);
    form_row(table, "buoyant weights / uplift force (judged)", balance->factor_submerged, required,
             "geometry; required: limits.uplift_factor");
    form_row(table, "total weights / all water displaced", balance->factor_total, "not judged",
             "geometry");
    form_row(table, "EM 1110-2-2100 form", balance->factor_em, ">= 1.3 / 1.2 / 1.1",
             "USACE EM 1110-2-2100 eq. 3-2; usual, unusual, extreme: from memory");
    for (size_t i = 0; i < UF_FLOTATION_PARTIALS; i++) {
        form_row(table, uf_flotation_partials[i].name, uplift->upl_submerged[i].use, "<= 1",
                 uf_flotation_partials[i].source);
        form_row(table, "  with total weights", uplift->upl_total[i].use, "<= 1", "the same");
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
    (void)putchar('\n');
    uf_show_line(stdout, "FEMA P-259",
                 "tank, risers and board, no soil, all under water: net uplift %s, %s of concrete "
                 "(appendix C, example C7)",
                 UF_TEXT(FORCE, args->units, fmax(0.0, uplift->fema.net_N)),
                 UF_TEXT(VOLUME, args->units, uplift->fema.concrete_m3));
}

static void show_remedies(const struct uf_arguments *args, const struct uf_site *site,
                          const struct uf_uplift *uplift)
{
    uf_show_heading(stdout, "What would be enough");
    uf_show_line(stdout, "concrete to add", "%s at %s, under water",
                 UF_TEXT(VOLUME, args->units, uplift->needed_ballast_m3),
                 UF_TEXT(UNIT_WEIGHT, args->units, UF_UPLIFT_CONCRETE_N_M3));
    if (isnan(uplift->least_cover_m)) {
        uf_show_line(stdout, "least cover", "not enough down to %s",
                     UF_TEXT(LENGTH, args->units, UF_UPLIFT_DEEPEST_M));
    } else {
        uf_show_line(stdout, "least cover", "%s, all else as designed",
                     UF_TEXT(LENGTH, args->units, uplift->least_cover_m));
    }
    if (site->design.anchors.straps == 0) {
        if (uplift->straps.bare_net_N > 0.0) {
            uf_show_line(stdout, "no straps",
                         "the anchors count only where something else ties the tank "
                         "to them, designed for %s before backfilling, %s when covered",
                         UF_TEXT(FORCE, args->units, uplift->straps.bare_net_N),
                         UF_TEXT(FORCE, args->units, uplift->straps.net_N));
        }
        return;
    }
    uf_show_line(stdout, "strap leg",
                 "%s before backfilling, %s when covered; %zu straps, two legs "
                 "each, %.1f degrees from the vertical",
                 UF_TEXT(FORCE, args->units, uplift->straps.bare_leg_N),
                 UF_TEXT(FORCE, args->units, uplift->straps.leg_N), site->design.anchors.straps,
                 uplift->straps.leg_angle_rad * RAD_DEG);
    if (!isnan(uplift->straps.use)) {
        uf_show_line(stdout, "strap utilization", "%.0f percent of anchors.strap_strength: %s",
                     100.0 * uplift->straps.use, uplift->straps.use <= 1.0 ? "met" : "NOT MET");
    }
}

static void show_sweep(const struct uf_arguments *args, const struct uf_uplift *uplift)
{
    char depth[64];
    (void)snprintf(depth, sizeof depth, "water table, depth\nbelow grade, %s",
                   uf_quantity_unit(UF_QUANTITY_LENGTH, args->units));
    const struct uf_show_column columns[] = {{depth, 'r'},
                                             {"factor of safety\n(buoyant weights)", 'r'}};
    uf_show_heading(stdout, "With the water table lower");
    struct uf_show_table *table = uf_show_table_create(columns, 2);
    for (size_t i = 0; i < UF_UPLIFT_SWEEP; i += 2) {
        uf_show_table_cell(table, "%s", UF_NUMBER(LENGTH, args->units, uplift->sweep[i].water_m));
        if (isnan(uplift->sweep[i].factor)) {
            uf_show_table_cell(table, "no uplift");
        } else {
            uf_show_table_cell(table, "%.2f", uplift->sweep[i].factor);
        }
    }
    uf_show_table_print(stdout, table);
    uf_show_table_free(table);
}

static void show_cautions(const struct uf_site *site)
{
    uf_show_heading(stdout, "Cautions");
    if (isnan(site->design.tank.empty_mass_kg)) {
        uf_show_text(stdout, 0,
                     "tank.empty_mass is not given: the tank's own weight is not counted.");
    }
    if (uf_case_untied(&site->design)) {
        uf_show_text(stdout, 0,
                     "anchors.straps is not given: anchors hold only a tank that "
                     "is tied to them, by straps or cast in one.");
    }
    uf_show_text(
        stdout, 0,
        "Soil counts as vertical prisms; friction, undrained suction and frozen ground are "
        "not counted. A pit backfilled in tight ground fills with rain to grade.");
    uf_show_text(stdout, 0,
                 "A tank that floats breaks its pipes and can hurt people; flood areas have rules "
                 "of their own.");
}

static bool given(const struct uf_check *check)
{
    return uf_case_has_tank(&check->site->design);
}

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    const struct uf_arguments *args = check->args;
    const struct uf_site *site = check->site;
    struct uf_column_soils soils;
    struct uf_uplift uplift;
    struct uf_check_flotation_more more;
    enum uf_status status = uf_column_soils(&soils, &site->design, err);
    if (status == UF_OK) {
        status = uf_uplift(&uplift, check->design, &soils, err);
    }
    if (status == UF_OK) {
        status = uf_check_flotation_more_find(&more, site, &soils, &uplift, err);
    }
    if (status != UF_OK) {
        return status;
    }
    check->ok = uplift.ok;
    if (check->answer != NULL) {
        answer_all(check->answer, &uplift);
        uf_check_flotation_more_answer(check->answer, &more);
        return UF_OK;
    }
    show_verdict(args, &uplift);
    show_forces(args, &uplift);
    show_forms(args, &uplift);
    show_remedies(args, site, &uplift);
    uf_check_flotation_more_show(args, site, &more);
    show_sweep(args, &uplift);
    show_cautions(site);
    return UF_OK;
}

const struct uf_check_topic uf_check_flotation = {
    .name = "flotation",
    .doc = "Flotation of the empty tank, groundwater at its highest",
    .needs = "tank and burial",
    .given = given,
    .run = run,
};
