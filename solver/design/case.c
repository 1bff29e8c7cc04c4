#include "case.h"

#include "anchor.h"
#include "shape.h"
#include "solver/base/constants.h"
#include "tank.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Where an outlet is taken to lie above the inside invert (common practice, no source). */
static const double OUTLET_M = 0.1;

struct uf_ground_spec uf_case_ground_spec(const struct uf_soil *soil)
{
    return (struct uf_ground_spec){.soil = soil,
                                   .dry_density_kg_m3 = NAN,
                                   .moisture_by_mass = NAN,
                                   .moisture_by_volume = NAN,
                                   .grain_m = NAN,
                                   .quartz = NAN,
                                   .unfrozen_share = NAN,
                                   .unfrozen_exponent = NAN,
                                   .unit_weight_moist_N_m3 = NAN,
                                   .unit_weight_saturated_N_m3 = NAN};
}

static void ground_init(struct uf_ground_input *ground)
{
    for (size_t i = 0; i < UF_MAX_LAYERS; i++) {
        ground->layers[i].to_m = NAN;
        ground->layers[i].spec = uf_case_ground_spec(NULL);
    }
    ground->method = UF_COTE_KONRAD;
    ground->water_winter_m = NAN;
    ground->water_highest_m = 0.0;
    uf_water_year_init(&ground->year);
}

/* Extruded polystyrene in service below grade, as XPS_IV of the board table. */
static const double SLEEVE_W_MK = 0.144227889 / 4.5;

static struct uf_shell shell_init(void)
{
    return (struct uf_shell){.sleeve_W_mK = SLEEVE_W_MK, .sleeve_length_m = INFINITY};
}

static void tank_init(struct uf_tank *tank)
{
    tank->diameter_m = tank->width_m = tank->height_m = tank->length_m = NAN;
    tank->ends = UF_ENDS_PLANE;
    tank->empty_mass_kg = NAN;
    tank->wall_thickness_m = tank->wall_k_W_mK = NAN;
    tank->level_m = 0.0;
    tank->lowest_m = NAN;
    tank->start_degC = NAN;
    tank->water = UF_WATER_LAYERED;
    tank->outlet_m = tank->mixing_W_mK = tank->hold_degC = tank->inflow_degC = NAN;
    for (size_t i = 0; i < UF_MAX_RISERS; i++) {
        tank->risers[i].station_m = tank->risers[i].height_m = NAN;
        tank->risers[i].above_grade_m = NAN;
        tank->risers[i].shell = shell_init();
    }
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
    design->burial.backfill = uf_case_ground_spec(NULL);
    design->burial.bedding_soil = uf_case_ground_spec(NULL);
    design->board.k_W_mK = design->board.strength_Pa = design->board.density_kg_m3 = NAN;
    design->load_method = -1;
    anchors_init(&design->anchors);
    for (size_t i = 0; i < UF_MAX_CHOICES; i++) {
        anchors_init(&design->choices.anchors[i]);
    }
    for (size_t i = 0; i < UF_MAX_STANDPIPES; i++) {
        design->standpipes[i].from_axis_m = NAN;
        design->standpipes[i].shell = shell_init();
    }
    design->grid = (struct uf_grid_input){.finest_m = 0.075, .width_m = 15.0, .depth_m = 15.0};
    design->limits = (struct uf_limits){.water_degC = 1.0,
                                        .outlet_degC = NAN,
                                        .ice_share = 0.0,
                                        .ice_thickness_m = NAN,
                                        .uplift_factor = 1.3,
                                        .greatest_cover_m = NAN};
    design->costs.excavation_m3 = design->costs.board_m3 = design->costs.sleeve_m3 = NAN;
    design->costs.lid_m3 = NAN;
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

double uf_case_riser_top_m(const struct uf_case *design, const struct uf_riser *riser)
{
    return fmin(-riser->above_grade_m, uf_case_crown_m(design));
}

double uf_case_riser_height_m(const struct uf_case *design, const struct uf_riser *riser)
{
    return uf_case_crown_m(design) - uf_case_riser_top_m(design, riser);
}

bool uf_case_has_tank(const struct uf_case *design)
{
    return design->tank.shape != UF_NO_TANK;
}

bool uf_case_counts_sides(const struct uf_case *design)
{
    bool any = false;
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        any = any || design->tank.risers[i].lid_at == UF_LID_TOP;
    }
    return any;
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
    return design->anchors.straps == 0 && uf_anchor_any(design);
}

double uf_case_flotation_asked(const struct uf_case *design)
{
    return design->limits.uplift_factor;
}

double uf_case_pipe_ice_asked(const struct uf_case *design)
{
    return design->limits.standpipe_ice;
}

bool uf_case_profile_ends_above(const struct uf_case *design)
{
    const struct uf_initial *initial = &design->initial;
    return initial->n_profile > 0 &&
           initial->depth_m[initial->n_profile - 1] < design->grid.depth_m;
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
           same(a->moisture_by_volume, b->moisture_by_volume) && same(a->grain_m, b->grain_m) &&
           same(a->quartz, b->quartz) && same(a->unfrozen_share, b->unfrozen_share) &&
           same(a->unfrozen_exponent, b->unfrozen_exponent) &&
           same(a->unit_weight_moist_N_m3, b->unit_weight_moist_N_m3) &&
           same(a->unit_weight_saturated_N_m3, b->unit_weight_saturated_N_m3);
}
