#include "case.h"
#include "shape.h"
#include "solver/base/constants.h"
#include "tank.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

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
