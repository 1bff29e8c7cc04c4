#include "remark_private.h"
#include "solver/design/dig.h"
#include "solver/design/shape.h"
#include "solver/ground/pore_flow.h"
#include "solver/ground/soil.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Above these the domain shows in the answer. */
static const double SIDE_M = 0.01;
static const double BOTTOM_K = 0.1;
static const double STARTUP_K = 0.02; /* asked of the start-up */
static const double BALANCE = 1e-4;
static const double ALONG_W_K = 0.1;  /* thickness times conductivity of a shell */
static const double STEEP = 0.01;     /* gradient of groundwater that is common beside a slope */
static const double PORES = 0.4;      /* of ground that is given by its thermal properties */
static const double SEASONS_M = 5.0;  /* below it the year is hardly felt */
static const double SHORT_TANK = 3.0; /* length over diameter, by the contract */

/* A section through the middle stands for a tank that lies. */
static double slenderness(struct uf_remark_run run)
{
    const double across_m =
        fmax(2.0 * uf_case_half_width_m(run.design), uf_case_tank_height_m(run.design));
    const bool lies = uf_case_has_tank(run.design) && !uf_shape_is_radial(&run.design->tank);
    return lies ? run.design->tank.length_m / across_m : HUGE_VAL;
}

UF_REMARK_WHERE(is_short, slenderness(run) < SHORT_TANK && run.design->tank.ends == UF_ENDS_PLANE)
UF_REMARK_WHERE(leaves_inflow_out,
                run.design->tank.inflow_m3_s > 0.0 && !uf_case_has_inflow(run.design))

/* A shell of concrete or steel conducts along itself, which the section leaves out. Held
   against a run in (r, z) with 150 mm of concrete (1.7 W/mK) resolved, 0.6 m of it dry
   and no board: wall 0.15 K, water 0.04 K colder; 50 mm at 0.4 W/mK: nothing to see. */
static bool conducts_along(struct uf_remark_run run)
{
    const struct uf_tank *tank = &run.design->tank;
    const double room_m = uf_case_tank_height_m(run.design) - 2.0 * tank->wall_thickness_m;
    const double along_W_K = tank->wall_thickness_m * tank->wall_k_W_mK;
    return tank->level_m > 0.0 && tank->level_m < room_m && along_W_K >= ALONG_W_K;
}

UF_REMARK_WHERE(has_heads_left_out,
                uf_shape_is_radial(&run.design->tank) && run.design->tank.heads != UF_FLAT)
UF_REMARK_VALUE(side_effect_m, run.s->side_effect_m)
UF_REMARK_WHERE(is_narrow, run.s->side_effect_m > SIDE_M)
UF_REMARK_VALUE(bottom_effect_K, run.s->bottom_effect_K)
UF_REMARK_WHERE(is_shallow, run.s->bottom_effect_K > BOTTOM_K)
UF_REMARK_VALUE(startup_left_K, run.s->startup_left_K)
UF_REMARK_WHERE(is_unsettled, run.s->startup_left_K > STARTUP_K)
UF_REMARK_WHERE(freezes_through, run.s->frost_undisturbed_m >= run.design->grid.depth_m)
UF_REMARK_VALUE(heat_balance, run.s->heat_balance_relative)
UF_REMARK_WHERE(lacks_balance, !(run.s->heat_balance_relative <= BALANCE))
UF_REMARK_VALUE(profile_end_m, run.design->initial.depth_m[run.design->initial.n_profile - 1])

static bool goes_on(struct uf_remark_run run, enum uf_below below)
{
    return uf_case_profile_ends_above(run.design) && run.design->initial.below == below;
}

UF_REMARK_WHERE(goes_on_as_wave, goes_on(run, UF_BELOW_WAVE))
UF_REMARK_WHERE(goes_on_as_line, goes_on(run, UF_BELOW_LINE))
UF_REMARK_WHERE(goes_on_constant, goes_on(run, UF_BELOW_CONSTANT))
UF_REMARK_WHERE(has_nominal_inches,
                uf_case_has_board(run.design) && run.design->board.nominal_inches)
UF_REMARK_VALUE(board_thickness_m, run.design->board.thickness_m)

static const struct uf_remark_row rows[] = {
    {has_nominal_inches,
     "thicknesses of board given in whole inches are nominal, 25 mm to the inch: the board is taken "
     "as {} thick",
     board_thickness_m, UF_QUANTITY_THICKNESS},
    {is_short,
     "the tank is {} times as long as it is across: below 3 the section through its middle is a "
     "rough picture of it; its ends are NOT counted: tank.ends: three_dimensional counts them",
     slenderness, UF_QUANTITY_FACTOR},
    {leaves_inflow_out,
     "the inflow is not counted in unmixed water: give tank.contents.water as layered or mixed to "
     "see what it does",
     NULL, UF_QUANTITY_FACTOR},
    {conducts_along,
     "heat that runs along the shell is not counted: from its dry part, steel or thick concrete "
     "may make the wetted wall some tenths of a degree colder than told",
     NULL, UF_QUANTITY_FACTOR},
    {has_heads_left_out,
     "heat is computed as if the standing tank's ends were flat; the volumes of the uplift are "
     "those of its heads",
     NULL, UF_QUANTITY_FACTOR},
    {is_narrow,
     "the section is too narrow: at its side the frost depth still changes by {} from column to "
     "column; widen grid.width",
     side_effect_m, UF_QUANTITY_LENGTH},
    {is_shallow,
     "the section is too shallow: its bottom may change temperatures by {}; deepen grid.depth",
     bottom_effect_K, UF_QUANTITY_DIFFERENCE},
    {is_unsettled,
     "the mean year that is repeated before the run has not settled: its start may be off by {} K "
     "(frost that lasts from year to year moves for decades); give a measured initial profile",
     startup_left_K, UF_QUANTITY_FACTOR},
    {goes_on_as_wave,
     "the measured profile ends {} deep: below it the ground is taken as the mean year leaves it, and "
     "what the lowest point differs from that fades with depth (initial.below: wave)",
     profile_end_m, UF_QUANTITY_LENGTH},
    {goes_on_as_line,
     "the measured profile ends {} deep: below it the temperature goes straight to that of the mean "
     "year at the section's bottom (initial.below: line)",
     profile_end_m, UF_QUANTITY_LENGTH},
    {goes_on_constant,
     "the measured profile ends {} deep: below it the lowest point's temperature is kept "
     "(initial.below: constant)",
     profile_end_m, UF_QUANTITY_LENGTH},
    {freezes_through,
     "the ground freezes down to the section's bottom: permafrost is outside this "
     "program",
     NULL, UF_QUANTITY_FACTOR},
    {lacks_balance, "the heat does not balance ({} of the heat exchanged): do not use this run",
     heat_balance, UF_QUANTITY_FACTOR},
};

/* Adds one, once. */
static void add(struct uf_remarks *out, const struct uf_message *said)
{
    for (size_t i = 0; i < out->n; i++) {
        if (strcmp(out->rows[i].text, said->text) == 0) {
            return;
        }
    }
    if (out->n < UF_REMARKS_MOST) {
        out->rows[out->n++] = *said;
    }
}

/* One soil between two depths, wet or dry. */
struct part {
    const char *where;
    const struct uf_ground_spec *spec;
    struct uf_soil_state state;
    double height_m;
    bool full;
};

/* What the flow in its pores is known by; NAN: too fine to matter. */
static double permeability_m2(const struct part *part)
{
    const struct uf_ground_spec *spec = part->spec;
    const double own_m =
        spec->soil != NULL && spec->soil->grain_m > 0.0 ? spec->soil->grain_m : (double)NAN;
    const double pores = isnan(part->state.porosity) ? PORES : part->state.porosity;
    const double wet = part->full || isnan(part->state.saturation) ? 0.0 : part->state.saturation;
    return uf_pore_flow_permeability_m2(isnan(spec->grain_m) ? own_m : spec->grain_m,
                                        pores * (1.0 - wet));
}

/* Ground that lets water or air through: its heat is not counted. */
static void add_flow(struct uf_remarks *out, const struct part *part)
{
    const double K_m2 = permeability_m2(part);
    const double k_W_mK = part->state.thermal.k_thawed_W_mK;
    const double turns = part->full ? uf_pore_flow_water_rayleigh(K_m2, part->height_m, k_W_mK)
                                    : uf_pore_flow_air_rayleigh(K_m2, part->height_m, k_W_mK);
    struct uf_message said;
    if (part->full && turns > UF_PORE_FLOW_TURNS) {
        uf_message_set(&said,
                       UF_SAID("{}: in autumn the water in its pores may turn over (Rayleigh-Darcy "
                               "number {}, above 40, as it cools from 8 degC): the ground may cool "
                               "faster than told until it is at 4 degC",
                               UF_WORD(part->where), UF_ABOUT(FACTOR, 2, turns)));
        add(out, &said);
    }
    if (!part->full && turns > UF_PORE_FLOW_TURNS) {
        uf_message_set(
            &said, UF_SAID("{}: air may turn over in its pores (Rayleigh-Darcy number {}, above "
                           "40, with 10 K between top and bottom): frost then goes deeper than "
                           "told; finer stone, or fine soil above it, keeps the air still",
                           UF_WORD(part->where), UF_ABOUT(FACTOR, 2, turns)));
        add(out, &said);
    }
}

/* Resolved as the section resolves it: above the water table as it lies, below it full.
 */
static void add_soil(struct uf_remarks *out, const struct uf_case *design, const char *where,
                     const struct uf_ground_spec *spec, double top_m, double bottom_m)
{
    const double water_m =
        isnan(design->ground.water_winter_m) ? bottom_m : design->ground.water_winter_m;
    for (int full = 0; full < 2; full++) {
        struct part part = {.where = where, .spec = spec, .full = full};
        const double from_m = full ? fmax(top_m, water_m) : top_m;
        const double to_m = full ? bottom_m : fmin(bottom_m, water_m);
        if (!(to_m > from_m) ||
            uf_soil_resolve(&part.state, spec, design->ground.method, full, NULL) != UF_OK) {
            continue;
        }
        if (part.state.note.text[0] != '\0') {
            struct uf_message said;
            uf_message_set(&said, UF_SAID("{}: ", UF_WORD(where)));
            uf_message_append(&said, &part.state.note);
            add(out, &said);
        }
        part.height_m = fmin(to_m, SEASONS_M) - from_m;
        if (part.height_m > 0.0) {
            add_flow(out, &part);
        }
    }
}

/* Groundwater that flows through a layer; told of the one that lets it pass most easily. Backfill and
   bedding do not count: their water cannot leave the pit faster than the ground round it takes it. */
static void add_groundwater(struct uf_remarks *out, const struct uf_case *design)
{
    double least = STEEP, top_m = 0.0;
    char where[40] = "";
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        const struct uf_layer *layer = &design->ground.layers[i];
        struct part part = {.spec = &layer->spec, .full = true};
        const double from_m = fmax(top_m, design->ground.water_winter_m);
        top_m = layer->to_m;
        if (!isnan(design->ground.water_winter_m) && from_m < fmin(layer->to_m, SEASONS_M) &&
            uf_soil_resolve(&part.state, part.spec, design->ground.method, true, NULL) == UF_OK) {
            const double gradient =
                uf_pore_flow_gradient(permeability_m2(&part), part.state.thermal.k_thawed_W_mK);
            if (gradient < least) {
                least = gradient;
                (void)snprintf(where, sizeof where, "ground layer %zu", i + 1);
            }
        }
    }
    if (where[0] != '\0') {
        struct uf_message said;
        uf_message_set(
            &said, UF_SAID("{}, below the water table: where that slopes by more than {}, "
                           "flowing groundwater moves more heat than the ground conducts; what it "
                           "brings or takes is not counted",
                           UF_WORD(where), UF_ABOUT(SHARE, 1, least)));
        add(out, &said);
    }
}

static void add_soils(struct uf_remarks *out, const struct uf_case *design)
{
    double top_m = 0.0;
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        char where[40];
        (void)snprintf(where, sizeof where, "ground layer %zu", i + 1);
        add_soil(out, design, where, &design->ground.layers[i].spec, top_m,
                 design->ground.layers[i].to_m);
        top_m = design->ground.layers[i].to_m;
    }
    if (!uf_case_has_tank(design) || isnan(design->burial.pit_clearance_m)) {
        return;
    }
    const double invert_m = uf_case_invert_m(design);
    if (design->burial.has_backfill) {
        add_soil(out, design, "backfill", &design->burial.backfill, uf_dig_of(design).fill_top_m,
                 invert_m);
    }
    if (design->burial.has_bedding_soil) {
        add_soil(out, design, "bedding", &design->burial.bedding_soil, invert_m,
                 invert_m + design->burial.bedding_m);
    }
}

/* The rows that hold. */
static void add_rows(struct uf_remarks *out, struct uf_remark_run run,
                     const struct uf_remark_row *list, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const struct uf_remark_row *row = &list[i];
        if (row->holds(run)) {
            struct uf_message said;
            const struct uf_part part = {.kind = row->kind,
                                         .value = row->number != NULL ? row->number(run) : 0.0,
                                         .figures = 3};
            uf_message_set(&said, (struct uf_said){row->text, &part, 1});
            add(out, &said);
        }
    }
}

void uf_remarks(struct uf_remarks *out, const struct uf_case *design,
                const struct uf_summary *summary)
{
    const struct uf_remark_run run = {design, summary};
    out->n = 0;
    add_soils(out, design);
    add_groundwater(out, design);
    add_rows(out, run, uf_remark_depth_rows, UF_REMARK_DEPTH_ROWS);
    add_rows(out, run, uf_remark_riser_rows, UF_REMARK_RISER_ROWS);
    add_rows(out, run, rows, sizeof rows / sizeof rows[0]);
}
