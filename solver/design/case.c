#include "case.h"

#include "shape.h"
#include "solver/base/constants.h"
#include "tank.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Where an outlet is taken to lie above the inside invert (common practice, no source). */
static const double OUTLET_M = 0.1;

static void spec_init(struct uf_ground_spec *spec)
{
    memset(spec, 0, sizeof *spec);
    spec->dry_density_kg_m3 = NAN;
    spec->moisture_by_mass = NAN;
    spec->moisture_by_volume = NAN;
    spec->unit_weight_moist_N_m3 = NAN;
    spec->unit_weight_saturated_N_m3 = NAN;
}

static void ground_init(struct uf_ground_input *ground)
{
    for (size_t i = 0; i < UF_MAX_LAYERS; i++) {
        ground->layers[i].to_m = NAN;
        spec_init(&ground->layers[i].spec);
    }
    ground->method = UF_COTE_KONRAD;
    ground->water_winter_m = NAN;
    ground->water_highest_m = 0.0;
}

static void tank_init(struct uf_tank *tank)
{
    tank->diameter_m = tank->width_m = tank->height_m = tank->length_m = NAN;
    tank->ends = true;
    tank->empty_mass_kg = NAN;
    tank->wall_thickness_m = tank->wall_k_W_mK = NAN;
    tank->level_m = 0.0;
    tank->lowest_m = NAN;
    tank->start_degC = NAN;
    tank->water = UF_WATER_LAYERED;
    tank->outlet_m = tank->mixing_W_mK = tank->hold_degC = tank->inflow_degC = NAN;
}

static void anchors_init(struct uf_anchors *anchors)
{
    anchors->deadman_width_m = anchors->deadman_height_m = anchors->deadman_length_m = NAN;
    anchors->deadman_top_m = anchors->deadman_offset_m = anchors->strap_strength_N = NAN;
    anchors->pad_length_m = anchors->pad_width_m = anchors->pad_thickness_m = NAN;
    anchors->concrete_N_m3 = 23500.0;
}

void uf_case_init(struct uf_case *design)
{
    memset(design, 0, sizeof *design);
    design->latitude_deg = NAN;
    ground_init(&design->ground);
    design->surface.kind = UF_SURFACE_FILM;
    design->surface.film_W_m2K = 15.0;
    design->surface.snow_depth_m = NAN;
    design->surface.snow_density_kg_m3 = 250.0;
    design->surface.n_freezing = design->surface.n_thawing = NAN;
    design->surface.measured_depth_m = 0.0;
    tank_init(&design->tank);
    design->burial.cover_m = design->burial.pit_clearance_m = NAN;
    design->burial.pit_slope = 1.0;
    design->burial.fill_over_m = 0.3; /* common practice, no source */
    design->burial.native_swell = -1;
    spec_init(&design->burial.backfill);
    spec_init(&design->burial.bedding_soil);
    design->board.k_W_mK = design->board.strength_Pa = design->board.density_kg_m3 = NAN;
    design->load_method = -1;
    anchors_init(&design->anchors);
    for (size_t i = 0; i < UF_MAX_CHOICES; i++) {
        anchors_init(&design->choices.anchors[i]);
    }
    design->grid = (struct uf_grid_input){.finest_m = 0.075, .width_m = 15.0, .depth_m = 15.0};
    design->limits = (struct uf_limits){.water_degC = 1.0,
                                        .outlet_degC = NAN,
                                        .ice_share = 0.0,
                                        .ice_thickness_m = NAN,
                                        .uplift_factor = 1.3,
                                        .greatest_cover_m = NAN};
    design->costs.excavation_m3 = design->costs.board_m3 = NAN;
    design->costs.concrete_m3 = design->costs.backfill_m3 = design->costs.haul_m3 = NAN;
    design->costs.geotextile_m2 = design->costs.strap = design->costs.fixed = NAN;
    design->costs.shoring_m = design->costs.shoring_below_m = NAN;
    design->sensitivity = (struct uf_sensitivity){.temperature_K = 0.5, .depth_m = 0.03};
    design->initial.date = design->initial.end = UF_NO_DAY;
}

double uf_case_crown_m(const struct uf_case *design)
{
    return design->burial.cover_m;
}

bool uf_case_has_tank(const struct uf_case *design)
{
    return design->tank.shape != UF_NO_TANK;
}

double uf_case_tank_height_m(const struct uf_case *design)
{
    return uf_tank_height_m(&design->tank);
}

double uf_case_invert_m(const struct uf_case *design)
{
    return uf_case_crown_m(design) + uf_case_tank_height_m(design);
}

double uf_case_half_width_m(const struct uf_case *design)
{
    return 0.5 * uf_tank_plan_width_m(&design->tank);
}

bool uf_case_untied(const struct uf_case *design)
{
    const struct uf_anchors *anchors = &design->anchors;
    return anchors->straps == 0 && (anchors->deadmen > 0 || anchors->has_pad);
}

bool uf_case_has_board(const struct uf_case *design)
{
    return design->board.present && design->board.thickness_m > 0.0;
}

double uf_case_outlet_m(const struct uf_case *design)
{
    static const char *const names[] = {"outlet", "suction", "intake"};
    const double wall_m =
        isnan(design->tank.wall_thickness_m) ? 0.0 : design->tank.wall_thickness_m;
    const double floor_m = uf_case_invert_m(design) - wall_m;
    for (size_t i = 0; i < design->n_probes; i++) {
        const struct uf_probe *probe = &design->probes[i];
        const bool inside = probe->depth_m > uf_case_crown_m(design) && probe->depth_m < floor_m &&
                            fabs(probe->x_m) < uf_case_half_width_m(design);
        for (size_t k = 0; k < sizeof names / sizeof *names; k++) {
            if (inside && strcmp(probe->name, names[k]) == 0) {
                return probe->depth_m;
            }
        }
    }
    return floor_m - (isnan(design->tank.outlet_m) ? OUTLET_M : design->tank.outlet_m);
}

enum uf_water_kind uf_case_water(const struct uf_case *design)
{
    const struct uf_tank *tank = &design->tank;
    if (!isnan(tank->hold_degC)) {
        return UF_WATER_MIXED;
    }
    return isnan(tank->mixing_W_mK) ? tank->water : UF_WATER_UNMIXED;
}

bool uf_case_has_inflow(const struct uf_case *design)
{
    return design->tank.inflow_m3_s > 0.0 && uf_case_water(design) != UF_WATER_UNMIXED;
}

double uf_case_board_bottom_m(const struct uf_case *design)
{
    return uf_case_crown_m(design) - design->board.above_crown_m;
}

double uf_case_board_top_m(const struct uf_case *design)
{
    return uf_case_board_bottom_m(design) - design->board.thickness_m;
}

double uf_case_board_half_width_m(const struct uf_case *design)
{
    return uf_case_half_width_m(design) + design->board.beyond_tank_m;
}

/* The faults found so far, and where the next one goes. */
struct fault_list {
    struct uf_fault *rows;
    size_t n, n_max;
};

static void add_fault(struct fault_list *list, const char *key, struct uf_said what,
                      struct uf_said allowed)
{
    if (list->n < list->n_max) {
        struct uf_fault *row = &list->rows[list->n];
        memset(row, 0, sizeof *row);
        (void)snprintf(row->key, sizeof row->key, "%s", key);
        uf_message_set(&row->what, what);
        uf_message_set(&row->allowed, allowed);
    }
    list->n++;
}

static void check_layers(const struct uf_case *design, struct fault_list *list)
{
    double above_m = 0.0;
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        const double to_m = design->ground.layers[i].to_m;
        char key[UF_NAME_SIZE];
        (void)snprintf(key, sizeof key, "ground[%zu].to", i);
        if (to_m <= above_m) {
            add_fault(list, key,
                      UF_SAID("{} does not lie below {}, the layer above", UF_OF(LENGTH, to_m),
                              UF_OF(LENGTH, above_m)),
                      UF_PLAIN("each layer ends deeper than the one above"));
        }
        if (!isnan(to_m)) {
            above_m = to_m;
        }
    }
    if (design->ground.n_layers == 0) {
        add_fault(list, "ground", UF_PLAIN("no layer is given"), UF_PLAIN("at least one layer"));
    }
}

static void check_water(const struct uf_case *design, struct fault_list *list)
{
    const struct uf_tank *tank = &design->tank;
    const double wall_m = isnan(tank->wall_thickness_m) ? 0.0 : tank->wall_thickness_m;
    const double inside_m = uf_case_tank_height_m(design) - 2.0 * wall_m;
    const double narrow_m = fmin(uf_case_tank_height_m(design), 2.0 * uf_case_half_width_m(design));
    if (wall_m >= 0.25 * narrow_m) {
        add_fault(list, "tank.wall.thickness",
                  UF_SAID("{} does not fit a tank {} across", UF_OF(LENGTH, wall_m),
                          UF_OF(LENGTH, narrow_m)),
                  UF_PLAIN("less than a quarter of the tank's smallest size"));
    }
    if (isfinite(inside_m) && tank->level_m > fmax(inside_m, 0.0) + 1e-9) {
        add_fault(list, "tank.contents.level",
                  UF_SAID("{} of water in a tank {} high inside", UF_OF(LENGTH, tank->level_m),
                          UF_OF(LENGTH, inside_m)),
                  UF_PLAIN("at most the inside height of the tank"));
    }
    if (!isnan(tank->lowest_m) && tank->lowest_m > tank->level_m + 1e-9) {
        add_fault(list, "tank.contents.lowest",
                  UF_SAID("{} lies above the level {}", UF_OF(LENGTH, tank->lowest_m),
                          UF_OF(LENGTH, tank->level_m)),
                  UF_PLAIN("at most tank.contents.level"));
    }
}

static void check_place(const struct uf_case *design, struct fault_list *list)
{
    const double bottom_m = uf_case_invert_m(design) + design->burial.bedding_m;
    if (bottom_m >= 0.8 * design->grid.depth_m) {
        add_fault(list, "burial.cover",
                  UF_SAID("the tank's bedding reaches {}, the domain ends at {}",
                          UF_OF(LENGTH, bottom_m), UF_OF(LENGTH, design->grid.depth_m)),
                  UF_PLAIN("keep the bedding's underside above 0.8 of grid.depth"));
    }
    if (uf_case_half_width_m(design) >= 0.5 * design->grid.width_m) {
        add_fault(list, "grid.width",
                  UF_SAID("the domain is {} wide, the tank's half width {}",
                          UF_OF(LENGTH, design->grid.width_m),
                          UF_OF(LENGTH, uf_case_half_width_m(design))),
                  UF_PLAIN("at least twice the tank's half width"));
    }
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        if (design->tank.risers[i].diameter_m > 2.0 * uf_case_half_width_m(design)) {
            char key[UF_NAME_SIZE];
            (void)snprintf(key, sizeof key, "tank.risers[%zu].diameter", i);
            add_fault(list, key, UF_PLAIN("the riser is wider than the tank"),
                      UF_PLAIN("at most the tank's width"));
        }
    }
}

static void check_board(const struct uf_case *design, struct fault_list *list)
{
    if (!uf_case_has_board(design)) {
        return;
    }
    const double side_m = uf_case_board_half_width_m(design);
    if (side_m >= 0.9 * design->grid.width_m) {
        add_fault(list, "board.beyond_tank",
                  UF_SAID("the board's edge lies at {}, the domain ends at {}",
                          UF_OF(LENGTH, side_m), UF_OF(LENGTH, design->grid.width_m)),
                  UF_PLAIN("keep the board inside 0.9 of grid.width"));
    }
    if (design->board.above_crown_m < 0.0) {
        add_fault(list, "board.above_crown",
                  UF_SAID("{} puts the board inside the tank",
                          UF_OF(LENGTH, design->board.above_crown_m)),
                  UF_PLAIN("zero or more"));
    }
    if (uf_case_board_top_m(design) <= 0.0) {
        add_fault(list, "board.thickness",
                  UF_SAID("the board's top would lie {} above grade",
                          UF_OF(LENGTH, -uf_case_board_top_m(design))),
                  UF_PLAIN("above_crown and thickness together less than burial.cover"));
    }
    if (design->board.skirt_m > 0.0 &&
        uf_case_board_bottom_m(design) + design->board.skirt_m >= design->grid.depth_m) {
        add_fault(list, "board.skirt", UF_PLAIN("the skirt leaves the domain"),
                  UF_PLAIN("end inside the domain"));
    }
}

/* Deadmen stand beside or below the tank: no strap holds over one that lies higher than
   the tank's widest level, and the soil there counts already. */
static void check_deadmen(const struct uf_case *design, struct fault_list *list)
{
    const struct uf_anchors *a = &design->anchors;
    const double widest_m = uf_case_invert_m(design) - uf_tank_widest_m(&design->tank);
    const double half_m = uf_case_half_width_m(design);
    const double near_m = isnan(a->deadman_offset_m)
                              ? half_m
                              : fmax(0.0, a->deadman_offset_m - 0.5 * a->deadman_width_m);
    const double along_m = uf_tank_plan_length_m(&design->tank);
    const double a_side_m = ceil(0.5 * (double)a->deadmen) * a->deadman_length_m;
    if (a->deadmen == 0) {
        return;
    }
    if (a->deadman_top_m < widest_m - 1e-9) {
        add_fault(list, "anchors.deadmen.top",
                  UF_SAID("at {} it lies above the tank's widest level, {}",
                          UF_OF(LENGTH, a->deadman_top_m), UF_OF(LENGTH, widest_m)),
                  UF_PLAIN("at or below the tank's widest level"));
    } else if (a->deadman_top_m < uf_case_invert_m(design) - 1e-9 &&
               (uf_shape_is_round(&design->tank)
                    ? hypot(near_m, a->deadman_top_m - widest_m) < half_m - 1e-9
                    : near_m < half_m - 1e-9)) {
        add_fault(list, "anchors.deadmen.offset",
                  UF_SAID("the deadman's top, {} down, would lie in the tank",
                          UF_OF(LENGTH, a->deadman_top_m)),
                  UF_PLAIN("clear of the tank"));
    }
    if (a_side_m > 2.0 * along_m) {
        add_fault(list, "anchors.deadmen.count",
                  UF_SAID("{} of {} make {} a side of a tank {} long", UF_COUNT(a->deadmen),
                          UF_OF(LENGTH, a->deadman_length_m), UF_OF(LENGTH, a_side_m),
                          UF_OF(LENGTH, along_m)),
                  UF_PLAIN("deadmen that lie end to end on both sides of the tank"));
    }
}

static void check_points(const struct uf_case *design, struct fault_list *list)
{
    for (size_t i = 0; i < design->n_probes; i++) {
        const struct uf_probe *probe = &design->probes[i];
        char key[UF_NAME_SIZE];
        (void)snprintf(key, sizeof key, "probes[%zu]", i);
        if (fabs(probe->x_m) > design->grid.width_m || probe->depth_m < 0.0 ||
            probe->depth_m > design->grid.depth_m) {
            add_fault(list, key,
                      UF_SAID("x {}, depth {} lies outside", UF_OF(LENGTH, probe->x_m),
                              UF_OF(LENGTH, probe->depth_m)),
                      UF_PLAIN("a place inside the domain"));
        }
    }
    for (size_t i = 0; i < design->n_pipes; i++) {
        const struct uf_pipe *pipe = &design->pipes[i];
        char key[UF_NAME_SIZE];
        (void)snprintf(key, sizeof key, "pipes[%zu].depth", i);
        if (pipe->depth_m <= 0.5 * pipe->diameter_m) {
            add_fault(
                list, key,
                UF_SAID("a pipe at {} would stand out of the ground", UF_OF(LENGTH, pipe->depth_m)),
                UF_PLAIN("more than half the pipe's diameter"));
        }
    }
}

/* Comparisons are written so that NAN (not given, or wrong and told elsewhere) is no fault here. */
size_t uf_case_check(const struct uf_case *design, struct uf_fault *faults, size_t n_max)
{
    struct fault_list list = {.rows = faults, .n = 0, .n_max = n_max};
    check_layers(design, &list);
    if (uf_case_has_tank(design)) {
        check_water(design, &list);
        check_place(design, &list);
        check_board(design, &list);
        check_deadmen(design, &list);
    }
    check_points(design, &list);
    return list.n;
}

static bool same(double a, double b)
{
    return (isnan(a) && isnan(b)) || fabs(a - b) <= 1e-9 * fmax(fabs(a), fabs(b));
}

static bool same_thermal(const struct uf_thermal *a, const struct uf_thermal *b)
{
    return same(a->k_thawed_W_mK, b->k_thawed_W_mK) && same(a->k_frozen_W_mK, b->k_frozen_W_mK) &&
           same(a->c_thawed_J_m3K, b->c_thawed_J_m3K) &&
           same(a->c_frozen_J_m3K, b->c_frozen_J_m3K) && same(a->latent_J_m3, b->latent_J_m3) &&
           same(a->freezing_from_degC, b->freezing_from_degC) &&
           same(a->freezing_to_degC, b->freezing_to_degC) &&
           same(a->unfrozen_A_percent, b->unfrozen_A_percent) &&
           same(a->unfrozen_B, b->unfrozen_B) && same(a->water_percent, b->water_percent);
}

bool uf_case_same_soil(const struct uf_ground_spec *a, const struct uf_ground_spec *b)
{
    return a->soil == b->soil && a->has_thermal == b->has_thermal &&
           (!a->has_thermal || same_thermal(&a->thermal, &b->thermal)) &&
           same(a->dry_density_kg_m3, b->dry_density_kg_m3) &&
           same(a->moisture_by_mass, b->moisture_by_mass) &&
           same(a->moisture_by_volume, b->moisture_by_volume) &&
           same(a->unit_weight_moist_N_m3, b->unit_weight_moist_N_m3) &&
           same(a->unit_weight_saturated_N_m3, b->unit_weight_saturated_N_m3);
}
