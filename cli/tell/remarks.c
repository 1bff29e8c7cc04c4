#include "remarks.h"

#include "io/text/quantity_words.h"
#include "io/text/show.h"
#include "solver/ground/soil.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* Above these the domain shows in the answer. */
static const double SIDE_M = 0.01;
static const double BOTTOM_K = 0.1;
static const double BALANCE = 1e-4;
static const double ALONG_W_K = 0.1;  /* thickness times conductivity of a shell */
static const double SHORT_TANK = 3.0; /* length over diameter, by the contract */

/* Adds one, once. */
static void add(struct uf_remarks *out, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
static void add(struct uf_remarks *out, const char *format, ...)
{
    if (out->n == UF_REMARKS_MOST) {
        return;
    }
    va_list args;
    va_start(args, format);
    (void)vsnprintf(out->text[out->n], sizeof out->text[0], format, args);
    va_end(args);
    for (size_t i = 0; i < out->n; i++) {
        if (strcmp(out->text[i], out->text[out->n]) == 0) {
            return;
        }
    }
    out->n++;
}

/* Resolved as the section resolves it: above the water table as it lies, below it full.
 */
static void add_soil(struct uf_remarks *out, const struct uf_case *design, const char *where,
                     const struct uf_ground_spec *spec, double top_m, double bottom_m)
{
    const double water_m = design->ground.water_winter_m;
    for (int full = 0; full < 2; full++) {
        struct uf_soil_state state;
        const bool there = full ? bottom_m > water_m : !(top_m >= water_m);
        if (there && uf_soil_resolve(&state, spec, design->ground.method, full, NULL) == UF_OK &&
            state.note[0] != '\0') {
            add(out, "%s: %s", where, state.note);
        }
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
    if (design->tank.shape == UF_NO_TANK || isnan(design->burial.pit_clearance_m)) {
        return;
    }
    const double invert_m = uf_case_invert_m(design);
    if (design->burial.has_backfill) {
        add_soil(out, design, "backfill", &design->burial.backfill, 0.0, invert_m);
    }
    if (design->burial.has_bedding_soil) {
        add_soil(out, design, "bedding", &design->burial.bedding_soil, invert_m,
                 invert_m + design->burial.bedding_m);
    }
}

static void add_short_tank(struct uf_remarks *out, const struct uf_tank *tank)
{
    const bool box = tank->shape == UF_BOX;
    const double across_m = box ? fmax(tank->width_m, tank->height_m) : tank->diameter_m;
    if ((box || tank->shape == UF_HORIZONTAL_CYLINDER) && tank->length_m < SHORT_TANK * across_m) {
        add(out,
            "the tank is %.1f times as long as it is across: below 3 the section through its "
            "middle is a rough picture of it; its ends are %s",
            tank->length_m / across_m,
            tank->ends ? "counted by their share of the wall" : "NOT counted");
    }
}

static void add_inflow(struct uf_remarks *out, const struct uf_case *design)
{
    if (design->tank.inflow_m3_s > 0.0 && !uf_case_has_inflow(design)) {
        add(out, "the inflow is counted in well-mixed water only: leave "
                 "tank.contents.mixing out to see what it does");
    }
}

/* A shell of concrete or steel conducts along itself, which the section leaves out. Held
   against a run in (r, z) with 150 mm of concrete (1.7 W/mK) resolved, 0.6 m of it dry
   and no board: wall 0.15 K, water 0.04 K colder; 50 mm at 0.4 W/mK: nothing to see. */
static void add_shell(struct uf_remarks *out, const struct uf_case *design)
{
    const struct uf_tank *tank = &design->tank;
    const double room_m = uf_case_tank_height_m(design) - 2.0 * tank->wall_thickness_m;
    const double along_W_K = tank->wall_thickness_m * tank->wall_k_W_mK;
    if (tank->level_m > 0.0 && tank->level_m < room_m && along_W_K >= ALONG_W_K) {
        add(out,
            "heat that runs along the shell is not counted: from its dry part, steel "
            "or thick concrete may make the wetted wall some tenths of a kelvin colder than told");
    }
}

static void add_heads(struct uf_remarks *out, const struct uf_tank *tank)
{
    if (tank->shape == UF_VERTICAL_CYLINDER && tank->heads != UF_FLAT) {
        add(out, "heat is computed as if the standing tank's ends were flat; the volumes "
                 "of the uplift are those of its heads");
    }
}

static void add_domain(struct uf_remarks *out, const struct uf_case *design,
                       const struct uf_summary *s)
{
    if (s->side_effect_m > SIDE_M) {
        add(out,
            "the section is too narrow: at its side the frost depth still changes by %.3f m "
            "from column to column; widen grid.width",
            s->side_effect_m);
    }
    if (s->bottom_effect_K > BOTTOM_K) {
        add(out,
            "the section is too shallow: its bottom may change temperatures by %.2f K; "
            "deepen grid.depth",
            s->bottom_effect_K);
    }
    if (s->frost_undisturbed_m >= design->grid.depth_m) {
        add(out, "the ground freezes down to the section's bottom: perennially frozen "
                 "ground is outside this program");
    }
    if (!(s->heat_balance_relative <= BALANCE)) {
        add(out, "the heat does not balance (%.1e of the heat exchanged): do not use this run",
            s->heat_balance_relative);
    }
}

void uf_remarks(struct uf_remarks *out, const struct uf_case *design,
                const struct uf_summary *summary)
{
    out->n = 0;
    add_soils(out, design);
    add_short_tank(out, &design->tank);
    add_inflow(out, design);
    add_shell(out, design);
    add_heads(out, &design->tank);
    add_domain(out, design, summary);
}

void uf_remarks_show(const struct uf_remarks *remarks, enum uf_units units)
{
    for (size_t i = 0; i < remarks->n; i++) {
        uf_show_line(stdout, i == 0 ? "mind" : "", "%s", UF_WORDS(units, remarks->text[i]));
    }
}

void uf_remarks_answer(cJSON *object, const struct uf_remarks *remarks)
{
    cJSON *list = uf_answer_array(object, "remarks");
    for (size_t i = 0; i < remarks->n; i++) {
        (void)cJSON_AddItemToArray(list, cJSON_CreateString(remarks->text[i]));
    }
}
