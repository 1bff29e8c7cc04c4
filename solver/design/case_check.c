#include "anchor.h"
#include "case_private.h"
#include "shape.h"
#include "solver/base/constants.h"
#include "tank.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void uf_case_blame(struct uf_case_faults *faults, const char *key, struct uf_said what,
                   struct uf_said allowed)
{
    if (faults->n < faults->n_max) {
        struct uf_fault *row = &faults->rows[faults->n];
        memset(row, 0, sizeof *row);
        (void)snprintf(row->key, sizeof row->key, "%s", key);
        uf_message_set(&row->what, what);
        uf_message_set(&row->allowed, allowed);
    }
    faults->n++;
}

static void check_layers(const struct uf_case *design, struct uf_case_faults *list)
{
    double above_m = 0.0;
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        const double to_m = design->ground.layers[i].to_m;
        char key[UF_NAME_SIZE];
        (void)snprintf(key, sizeof key, "ground[%zu].to", i);
        if (to_m <= above_m) {
            uf_case_blame(list, key,
                          UF_SAID("{} does not lie below {}, the layer above", UF_OF(LENGTH, to_m),
                                  UF_OF(LENGTH, above_m)),
                          UF_PLAIN("each layer ends deeper than the one above"));
        }
        if (!isnan(to_m)) {
            above_m = to_m;
        }
    }
    if (design->ground.n_layers == 0) {
        uf_case_blame(list, "ground", UF_PLAIN("no layer is given"),
                      UF_PLAIN("at least one layer"));
    }
}

/* A layer's water freezes in place, so that frozen and thawed ground differ by no more than ice and
   water do. At 0 degC ice conducts 2.2 W/(m K) and water 0.56, the coldest ice some 2.6; a m3 stores
   1.9 MJ/K as ice and 4.2 as water (from memory). What lies beyond is no ground that was measured, and
   runs on it are dear and turn on the grid. */
static void check_frozen(const struct uf_ground_spec *spec, const char *at,
                         struct uf_case_faults *list)
{
    const struct uf_thermal *t = &spec->thermal;
    const struct {
        const char *key, *allowed;
        enum uf_quantity kind;
        double frozen, thawed, least, most;
    } rows[] = {{"conductivity_frozen",
                 "{} to {}, a fifth to five times conductivity_thawed: ice conducts four times as "
                 "well as water; or correct conductivity_thawed",
                 UF_QUANTITY_CONDUCTIVITY, t->k_frozen_W_mK, t->k_thawed_W_mK, 0.2, 5.0},
                {"heat_capacity_frozen",
                 "{} to {}, two fifths to five fourths of heat_capacity_thawed: ice stores half of "
                 "what water does; or correct heat_capacity_thawed",
                 UF_QUANTITY_HEAT_CAPACITY, t->c_frozen_J_m3K, t->c_thawed_J_m3K, 0.4, 1.25}};
    for (size_t i = 0; spec->has_thermal && i < sizeof rows / sizeof rows[0]; i++) {
        const double times = rows[i].frozen / rows[i].thawed;
        if (times > rows[i].most * (1.0 + 1e-9) || times < rows[i].least * (1.0 - 1e-9)) {
            const struct uf_part got = {rows[i].kind, rows[i].frozen, 4, NULL};
            const struct uf_part least = {rows[i].kind, rows[i].least * rows[i].thawed, 4, NULL};
            const struct uf_part most = {rows[i].kind, rows[i].most * rows[i].thawed, 4, NULL};
            char key[UF_NAME_SIZE];
            (void)snprintf(key, sizeof key, "%.24s.thermal.%.24s", at, rows[i].key);
            uf_case_blame(
                list, key,
                UF_SAID("{} is {} times that of thawed ground", got, UF_OF(FACTOR, times)),
                UF_SAID(rows[i].allowed, least, most));
        }
    }
}

static void check_ground(const struct uf_case *design, struct uf_case_faults *list)
{
    for (size_t i = 0; i < design->ground.n_layers; i++) {
        char at[UF_NAME_SIZE];
        (void)snprintf(at, sizeof at, "ground[%zu]", i);
        check_frozen(&design->ground.layers[i].spec, at, list);
    }
    if (design->burial.has_backfill) {
        check_frozen(&design->burial.backfill, "burial.backfill", list);
    }
    if (design->burial.has_bedding_soil) {
        check_frozen(&design->burial.bedding_soil, "burial.bedding_soil", list);
    }
}

static void check_water(const struct uf_case *design, struct uf_case_faults *list)
{
    const struct uf_tank *tank = &design->tank;
    const double wall_m = isnan(tank->wall_thickness_m) ? 0.0 : tank->wall_thickness_m;
    const double inside_m = uf_case_tank_height_m(design) - 2.0 * wall_m;
    const double narrow_m = fmin(uf_case_tank_height_m(design), 2.0 * uf_case_half_width_m(design));
    if (wall_m >= 0.25 * narrow_m) {
        uf_case_blame(list, "tank.wall.thickness",
                      UF_SAID("{} does not fit a tank {} across", UF_OF(LENGTH, wall_m),
                              UF_OF(LENGTH, narrow_m)),
                      UF_PLAIN("less than a quarter of the tank's smallest size"));
    }
    if (isfinite(inside_m) && tank->level_m > fmax(inside_m, 0.0) + 1e-9) {
        uf_case_blame(list, "tank.contents.level",
                      UF_SAID("{} of water in a tank {} high inside", UF_OF(LENGTH, tank->level_m),
                              UF_OF(LENGTH, inside_m)),
                      UF_PLAIN("at most the inside height of the tank"));
    }
    if (!isnan(tank->lowest_m) && tank->lowest_m > tank->level_m + 1e-9) {
        uf_case_blame(list, "tank.contents.lowest",
                      UF_SAID("{} lies above the level {}", UF_OF(LENGTH, tank->lowest_m),
                              UF_OF(LENGTH, tank->level_m)),
                      UF_PLAIN("at most tank.contents.level"));
    }
}

/* A bore must be left. */
static void check_shell(struct uf_case_faults *list, const char *at, size_t i, double diameter_m,
                        const struct uf_shell *shell)
{
    char key[UF_NAME_SIZE];
    (void)snprintf(key, sizeof key, "%s[%zu].wall.thickness", at, i);
    if (shell->wall_m >= 0.25 * diameter_m) {
        uf_case_blame(list, key,
                      UF_SAID("{} does not fit {} across", UF_OF(THICKNESS, shell->wall_m),
                              UF_OF(THICKNESS, diameter_m)),
                      UF_PLAIN("less than a quarter of the diameter"));
    }
}

/* Of the design and of what is offered. */
static double least_cover_m(const struct uf_case *design)
{
    double least_m = uf_case_crown_m(design);
    for (size_t i = 0; i < design->choices.n_cover; i++) {
        least_m = fmin(least_m, design->choices.cover_m[i]);
    }
    return least_m;
}

static void check_place(const struct uf_case *design, struct uf_case_faults *list)
{
    const double bottom_m = uf_case_invert_m(design) + design->burial.bedding_m;
    if (bottom_m >= 0.8 * design->grid.depth_m) {
        uf_case_blame(list, "burial.cover",
                      UF_SAID("the tank's bedding reaches {}, the domain ends at {}",
                              UF_OF(LENGTH, bottom_m), UF_OF(LENGTH, design->grid.depth_m)),
                      UF_PLAIN("keep the bedding's underside above 0.8 of grid.depth"));
    }
    if (uf_case_half_width_m(design) >= 0.5 * design->grid.width_m) {
        uf_case_blame(list, "grid.width",
                      UF_SAID("the domain is {} wide, the tank's half width {}",
                              UF_OF(LENGTH, design->grid.width_m),
                              UF_OF(LENGTH, uf_case_half_width_m(design))),
                      UF_PLAIN("at least twice the tank's half width"));
    }
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        check_shell(list, "tank.risers", i, design->tank.risers[i].diameter_m,
                    &design->tank.risers[i].shell);
        if (design->tank.risers[i].diameter_m > 2.0 * uf_case_half_width_m(design)) {
            char key[UF_NAME_SIZE];
            (void)snprintf(key, sizeof key, "tank.risers[%zu].diameter", i);
            uf_case_blame(list, key, UF_PLAIN("the riser is wider than the tank"),
                          UF_PLAIN("at most the tank's width"));
        }
        if (isnan(design->tank.risers[i].height_m) &&
            -design->tank.risers[i].above_grade_m > least_cover_m(design)) {
            char key[UF_NAME_SIZE];
            (void)snprintf(key, sizeof key, "tank.risers[%zu].above_grade", i);
            uf_case_blame(list, key,
                          UF_SAID("the riser ends {} below grade, below the tank's crown",
                                  UF_OF(LENGTH, -design->tank.risers[i].above_grade_m)),
                          UF_SAID("at most {} below grade, the least cover, as a negative number",
                                  UF_OF(LENGTH, least_cover_m(design))));
        }
        if (design->tank.risers[i].lid_at == UF_LID_CROWN &&
            design->tank.risers[i].shell.sleeve_m > 0.0) {
            char key[UF_NAME_SIZE];
            (void)snprintf(key, sizeof key, "tank.risers[%zu].sleeve.thickness", i);
            uf_case_blame(
                list, key,
                UF_PLAIN("a frost cover at the crown shuts the riser off: the sleeve does "
                         "nothing"),
                UF_PLAIN("leave out the sleeve, or lid_at: crown"));
        }
    }
}

static void check_board(const struct uf_case *design, struct uf_case_faults *list)
{
    if (!uf_case_has_board(design)) {
        return;
    }
    const double side_m = uf_case_board_half_width_m(design);
    if (side_m >= 0.9 * design->grid.width_m) {
        uf_case_blame(list, "board.beyond_tank",
                      UF_SAID("the board's edge lies at {}, the domain ends at {}",
                              UF_OF(LENGTH, side_m), UF_OF(LENGTH, design->grid.width_m)),
                      UF_PLAIN("keep the board inside 0.9 of grid.width"));
    }
    if (design->board.above_crown_m < 0.0) {
        uf_case_blame(list, "board.above_crown",
                      UF_SAID("{} puts the board inside the tank",
                              UF_OF(LENGTH, design->board.above_crown_m)),
                      UF_PLAIN("zero or more"));
    }
    if (uf_case_board_top_m(design) <= 0.0) {
        uf_case_blame(list, "board.thickness",
                      UF_SAID("the board's top would lie {} above grade",
                              UF_OF(LENGTH, -uf_case_board_top_m(design))),
                      UF_PLAIN("above_crown and thickness together less than burial.cover"));
    }
    if (design->board.skirt_m > 0.0 &&
        uf_case_board_bottom_m(design) + design->board.skirt_m >= design->grid.depth_m) {
        uf_case_blame(list, "board.skirt", UF_PLAIN("the skirt leaves the domain"),
                      UF_PLAIN("end inside the domain"));
    }
}

static void check_anchors(const struct uf_case *design, struct uf_case_faults *list)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_row *row = uf_anchor_at((enum uf_anchor_kind)i);
        if (row->check_case != NULL && row->body(design).count > 0.0) {
            row->check_case(list, design);
        }
    }
}

static void check_points(const struct uf_case *design, struct uf_case_faults *list)
{
    for (size_t i = 0; i < design->n_probes; i++) {
        const struct uf_probe *probe = &design->probes[i];
        char key[UF_NAME_SIZE];
        (void)snprintf(key, sizeof key, "probes[%zu]", i);
        if (fabs(probe->x_m) > design->grid.width_m || probe->depth_m < 0.0 ||
            probe->depth_m > design->grid.depth_m) {
            uf_case_blame(list, key,
                          UF_SAID("x {}, depth {} lies outside", UF_OF(LENGTH, probe->x_m),
                                  UF_OF(LENGTH, probe->depth_m)),
                          UF_PLAIN("a place inside the domain"));
        }
    }
    for (size_t i = 0; i < design->n_standpipes; i++) {
        const struct uf_standpipe *pipe = &design->standpipes[i];
        char key[UF_NAME_SIZE];
        check_shell(list, "standpipes", i, pipe->diameter_m, &pipe->shell);
        (void)snprintf(key, sizeof key, "standpipes[%zu].bottom", i);
        if (pipe->bottom_m > design->grid.depth_m) {
            uf_case_blame(list, key, UF_SAID("{} lies outside", UF_OF(LENGTH, pipe->bottom_m)),
                          UF_PLAIN("inside grid.depth"));
        }
        if (pipe->from_axis_m < uf_case_half_width_m(design) &&
            pipe->bottom_m > uf_case_invert_m(design)) {
            uf_case_blame(
                list, key,
                UF_SAID("at {} from the axis it runs through the tank, whose invert is at {}",
                        UF_OF(LENGTH, pipe->from_axis_m), UF_OF(LENGTH, uf_case_invert_m(design))),
                UF_PLAIN("less than that, or a from_axis beside the tank"));
        }
        if (pipe->from_axis_m > design->grid.width_m) {
            (void)snprintf(key, sizeof key, "standpipes[%zu].from_axis", i);
            uf_case_blame(list, key, UF_SAID("{} lies outside", UF_OF(LENGTH, pipe->from_axis_m)),
                          UF_PLAIN("inside grid.width; left out, undisturbed ground"));
        }
    }
    for (size_t i = 0; i < design->n_pipes; i++) {
        const struct uf_pipe *pipe = &design->pipes[i];
        char key[UF_NAME_SIZE];
        (void)snprintf(key, sizeof key, "pipes[%zu].depth", i);
        if (pipe->depth_m <= 0.5 * pipe->diameter_m) {
            uf_case_blame(
                list, key,
                UF_SAID("a pipe at {} would stand out of the ground", UF_OF(LENGTH, pipe->depth_m)),
                UF_PLAIN("more than half the pipe's diameter"));
        }
    }
}

/* Comparisons are written so that NAN (not given, or wrong and told elsewhere) is no fault here. */
size_t uf_case_check(const struct uf_case *design, struct uf_fault *faults, size_t n_max)
{
    struct uf_case_faults list = {.rows = faults, .n = 0, .n_max = n_max};
    check_layers(design, &list);
    check_ground(design, &list);
    if (uf_case_has_tank(design)) {
        check_water(design, &list);
        check_place(design, &list);
        check_board(design, &list);
        check_anchors(design, &list);
    }
    check_points(design, &list);
    return list.n;
}
