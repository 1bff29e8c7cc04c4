#include "startup_private.h"

enum { COLUMN_YEARS = 5 };

static const double COLUMN_K = 0.005;

void uf_startup_column_free(struct uf_startup_column *column)
{
    uf_soak_free(column->soak);
    uf_season_free(column->season);
    uf_section_free(column->section);
}

enum uf_status uf_startup_column_settle(struct uf_startup_column *column,
                                        const struct uf_section *section,
                                        const struct uf_case *design, const struct uf_drive *year,
                                        double begin_day, double *rows_degC, struct uf_error *err)
{
    struct uf_startup_result result;
    struct uf_season_options options = uf_season_defaults();
    const struct uf_startup_convergence criterion = {COLUMN_K, 1.0,  COLUMN_YEARS,
                                                     false,    NULL, NULL};
    options.steps_per_day = 2.0;
    options.stop = column->stop;
    options.lanes = design->ground.water_moves ? NULL : column->lanes;
    enum uf_status status = uf_section_create_column(&column->section, design, section->grid, err);
    if (status == UF_OK) {
        status = uf_season_create(&column->season, column->section->heat, &options, err);
    }
    if (status == UF_OK && design->ground.water_moves) {
        status = uf_soak_create(&column->soak, design, column->section, column->season, err);
    }
    if (status != UF_OK) {
        return status;
    }
    const struct uf_heat *heat = column->section->heat;
    const double deep_degC = uf_startup_deep_degC(heat, year);
    const struct uf_material *top = &heat->materials[heat->conducts[0]];
    for (size_t j = 0; j < section->grid->nz; j++) {
        rows_degC[j] = deep_degC + design->ground.geothermal_W_m2 * section->grid->z_m[j] /
                                       uf_material_k_W_mK(top, deep_degC);
    }
    uf_season_drive(column->season, year);
    uf_season_set(column->season, begin_day, rows_degC);
    return uf_startup_repeat(column->season, column->section, design, year, &criterion, &result,
                             err);
}
