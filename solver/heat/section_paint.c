#include "section_private.h"
#include "solver/base/constants.h"
#include "solver/design/foam.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Cells are judged so far beside their centres: a line drawn through a centre falls to one
   side of it whatever rounding makes of either. */
static const double BESIDE_M = 2e-6;

static int add_material(struct uf_build *b, const struct uf_material *material,
                        enum uf_soil_mark mark)
{
    struct uf_section *s = b->section;
    const size_t at = b->heat->n_materials;
    if (s->n_names == UF_MAX_MATERIALS) {
        b->status =
            uf_fail(b->err, UF_E_RANGE, "more than %d different materials", UF_MAX_MATERIALS);
        return 0;
    }
    b->heat->materials[at] = *material;
    b->heat->n_materials++;
    s->marks[s->n_names] = (int8_t)mark;
    (void)snprintf(s->names[s->n_names++], UF_NAME_SIZE, "%s", material->name);
    return (int)at;
}

static int add_soil(struct uf_build *b, const char *name, const struct uf_ground_spec *spec,
                    bool saturated)
{
    struct uf_soil_state state;
    struct uf_material material;
    char full[UF_NAME_SIZE];
    b->status = uf_soil_resolve(&state, spec, b->design->ground.method, saturated, b->err);
    if (b->status != UF_OK) {
        return 0;
    }
    (void)snprintf(full, sizeof full, "%.52s%s", name, saturated ? ", saturated" : "");
    b->status = uf_material_from_thermal(&material, full, &state.thermal, b->err);
    return b->status == UF_OK ? add_material(b, &material, uf_soil_mark(spec->soil)) : 0;
}

/* The palette entry kept in *slot, made on first use. */
static int soil_once(struct uf_build *b, int *slot, const char *name,
                     const struct uf_ground_spec *spec, bool saturated)
{
    if (*slot < 0 && b->status == UF_OK) {
        *slot = add_soil(b, name, spec, saturated);
    }
    return *slot < 0 ? 0 : *slot;
}

static const char *spec_name(const struct uf_ground_spec *spec, char *text, size_t size,
                             const char *prefix)
{
    (void)snprintf(text, size, "%s%s", prefix,
                   spec->soil != NULL ? spec->soil->name : "measured soil");
    return text;
}

static bool in_board(const struct uf_build *b, double x_m, double z_m)
{
    const struct uf_case *d = b->design;
    const double edge_m = uf_case_board_half_width_m(d);
    if (!uf_case_has_board(d) || x_m > edge_m || z_m < uf_case_board_top_m(d)) {
        return false;
    }
    const bool slab = z_m < uf_case_board_bottom_m(d);
    const bool skirt =
        x_m > edge_m - d->board.thickness_m && z_m < uf_case_board_bottom_m(d) + d->board.skirt_m;
    return slab || skirt;
}

static int native_at(struct uf_build *b, double z_m, bool saturated)
{
    const struct uf_ground_input *ground = &b->design->ground;
    size_t i = 0;
    char name[UF_NAME_SIZE];
    while (i + 1 < ground->n_layers && z_m > ground->layers[i].to_m) {
        i++;
    }
    while (i > 0 && uf_case_same_soil(&ground->layers[i - 1].spec, &ground->layers[i].spec)) {
        i--; /* layers of one soil are one substance */
    }
    return soil_once(b, &b->layer[i][saturated],
                     spec_name(&ground->layers[i].spec, name, sizeof name, ""),
                     &ground->layers[i].spec, saturated);
}

bool uf_section_below(const struct uf_grid *grid, size_t cell, double table_m)
{
    return !isnan(table_m) && grid->z_m[uf_grid_j(grid, cell)] + BESIDE_M > table_m;
}

static int ground_at(struct uf_build *b, double x_m, double z_m, bool saturated)
{
    const struct uf_case *d = b->design;
    char name[UF_NAME_SIZE];
    if (!b->tank) {
        return native_at(b, z_m, saturated);
    }
    if (in_board(b, uf_slice_aside_m(d, b->grid, x_m, b->k), z_m)) {
        if (b->board < 0) {
            struct uf_material foam;
            uf_material_inert(&foam, "board", d->board.k_W_mK, uf_section_foam_J_m3K(d));
            b->board = add_material(b, &foam, UF_SOIL_UNMARKED);
        }
        return b->board;
    }
    const bool past_pit =
        b->grid->ny > 1 && b->grid->y_m[b->k] > uf_dig_half_length_m(&b->dig, z_m);
    const enum uf_dig_soil soil =
        past_pit ? UF_DIG_NATIVE : uf_dig_soil_at(&b->dig, &d->burial, x_m, z_m);
    if (soil != UF_DIG_NATIVE) {
        const bool bed = soil == UF_DIG_BEDDING;
        const struct uf_ground_spec *spec = bed ? &d->burial.bedding_soil : &d->burial.backfill;
        return soil_once(b, bed ? &b->bedding[saturated] : &b->backfill[saturated],
                         spec_name(spec, name, sizeof name, bed ? "bedding " : "backfill "), spec,
                         saturated);
    }
    return native_at(b, z_m, saturated);
}

/* Water and air as substances: what the tank may hold. */
void uf_section_add_bodies(struct uf_build *b)
{
    const double k = isnan(b->design->tank.mixing_W_mK) ? UF_WATER_CONDUCTIVITY_W_MK
                                                        : b->design->tank.mixing_W_mK;
    const struct uf_thermal water = {.k_thawed_W_mK = k,
                                     .k_frozen_W_mK = UF_ICE_CONDUCTIVITY_W_MK,
                                     .c_thawed_J_m3K = UF_WATER_CAPACITY_J_M3K,
                                     .c_frozen_J_m3K = UF_ICE_CAPACITY_J_M3K,
                                     .latent_J_m3 = UF_WATER_LATENT_J_M3,
                                     .freezing_from_degC = UF_WATER_FREEZES_FROM_C,
                                     .freezing_to_degC = UF_WATER_FREEZES_TO_C};
    struct uf_material material;
    b->status = uf_material_from_thermal(&material, "water", &water, b->err);
    b->water = add_material(b, &material, UF_SOIL_UNMARKED);
    b->section->water_material = (uint16_t)b->water;
    uf_material_inert(&material, "air in the tank", 0.025, 1250.0);
    b->air = add_material(b, &material, UF_SOIL_UNMARKED);
}

void uf_section_paint(struct uf_build *b)
{
    const struct uf_grid *grid = b->grid;
    for (size_t j = 0; j < grid->nz && b->status == UF_OK; j++) {
        for (size_t i = 0; i < grid->nx && b->status == UF_OK; i++) {
            const size_t c = uf_grid_in(grid, i, j, b->k);
            const double x_m = grid->x_m[i] + BESIDE_M;
            const double z_m = grid->z_m[j] + BESIDE_M;
            int palette = 0;
            b->kind[c] = UF_CELL_GROUND;
            if (b->tank && uf_outline_contains(&b->outline, x_m, z_m)) {
                const bool wet = z_m > b->section->surface_z_m;
                b->kind[c] = wet ? UF_CELL_WATER : UF_CELL_AIR;
                palette = wet ? b->water : b->air;
            } else {
                palette =
                    ground_at(b, x_m, z_m,
                              b->saturated != NULL
                                  ? b->saturated[c]
                                  : uf_section_below(grid, c, b->design->ground.water_winter_m));
            }
            b->heat->conducts[c] = (uint16_t)palette;
            b->heat->material[c] = (uint16_t)palette;
            b->section->shown[c] = (int8_t)palette;
        }
    }
}
