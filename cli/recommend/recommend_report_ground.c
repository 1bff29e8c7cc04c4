#include "io/text/message_text.h"
#include "io/text/quantity.h"
#include "recommend_report.h"
#include "solver/design/foam.h"
#include "solver/ground/soil.h"
#include "solver/heat/slice.h"
#include "solver/weather/surface.h"

#include <math.h>
#include <stdio.h>

static void write_soil(const struct uf_recommend_page *page, const char *where,
                       const struct uf_ground_spec *spec, bool saturated)
{
    struct uf_soil_state state;
    const enum uf_method method = page->r->run.site->design.ground.method;
    if (uf_soil_resolve(&state, spec, method, saturated, NULL) != UF_OK) {
        return;
    }
    const struct uf_thermal *t = &state.thermal;
    const enum uf_units units = page->units;
    uf_report_cell(page->report, "%s", where);
    uf_report_cell(page->report, "%s%s", spec->soil != NULL ? spec->soil->name : "measured",
                   saturated ? ", saturated" : "");
    uf_report_cell(page->report, "%s", UF_NUMBER(CONDUCTIVITY, units, t->k_thawed_W_mK));
    uf_report_cell(page->report, "%s", UF_NUMBER(CONDUCTIVITY, units, t->k_frozen_W_mK));
    uf_report_cell(page->report, "%s", UF_NUMBER(HEAT_CAPACITY, units, t->c_thawed_J_m3K));
    uf_report_cell(page->report, "%s", UF_NUMBER(HEAT_CAPACITY, units, t->c_frozen_J_m3K));
    uf_report_cell(page->report, "%s", UF_NUMBER(LATENT, units, t->latent_J_m3));
    uf_report_cell(page->report, "%s", UF_NUMBER(UNIT_WEIGHT, units, state.unit_weight_moist_N_m3));
    uf_report_cell(page->report, "%s",
                   UF_NUMBER(UNIT_WEIGHT, units, state.unit_weight_saturated_N_m3));
}

/* Where the numbers of each soil come from, and what its method warns of. */
static void write_soil_sources(const struct uf_recommend_page *page,
                               const struct uf_ground_spec *spec)
{
    struct uf_soil_state state;
    const enum uf_method method = page->r->run.site->design.ground.method;
    if (spec->soil != NULL && uf_soil_resolve(&state, spec, method, false, NULL) == UF_OK) {
        struct uf_message source;
        uf_soil_source(&source, spec->soil);
        uf_report_point(
            page->report, "%s: %s%s%s", spec->soil->name, UF_MESSAGE(page->units, &source),
            state.note.text[0] != '\0' ? ". Caution: " : "", UF_MESSAGE(page->units, &state.note));
    }
}

static void write_surface(const struct uf_recommend_page *page)
{
    const struct uf_surface_input *surface = &page->r->run.site->design.surface;
    struct uf_message said;
    uf_surface_of(surface)->say(&said, surface);
    uf_report_paragraph(page->report, "Surface: %s.", UF_MESSAGE(page->units, &said));
}

static void write_water_and_depth(const struct uf_recommend_page *page)
{
    static const char *const methods[] = {[UF_COTE_KONRAD] = "Cote and Konrad (2005)",
                                          [UF_JOHANSEN] = "Johansen (1975)",
                                          [UF_KERSTEN] = "Kersten (1949)"};
    const struct uf_ground_input *g = &page->r->run.site->design.ground;
    char table[96] = "No water table in the frost season";
    if (isfinite(g->water_winter_m)) {
        (void)snprintf(table, sizeof table, "Water table in the frost season %s",
                       UF_LEVEL(page->units, g->water_winter_m));
    }
    uf_report_paragraph(
        page->report,
        "%s; the ground below it is saturated. At its highest, for uplift, it stands "
        "%s. Geothermal flux: %s. Conductivity of the soil rows by %s.",
        table, UF_LEVEL(page->units, g->water_highest_m),
        g->geothermal_W_m2 > 0.0 ? UF_TEXT(HEAT_FLUX, page->units, g->geothermal_W_m2)
                                 : "not included",
        methods[g->method]);
}

/* Backfill and bedding, dry and, where the water table reaches them, saturated. */
static void write_fill(const struct uf_recommend_page *page)
{
    const struct uf_case *d = &page->r->jobs[UF_RECOMMEND_KEPT].design;
    const double foot_m = uf_case_invert_m(d) + d->burial.bedding_m;
    const bool wet = page->r->shown >= 0 && d->ground.water_winter_m < foot_m;
    const struct uf_burial *burial = &page->r->run.site->design.burial;
    if (burial->has_backfill) {
        write_soil(page, "backfill", &burial->backfill, false);
    }
    if (burial->has_backfill && wet) {
        write_soil(page, "backfill below the water table", &burial->backfill, true);
    }
    if (burial->has_bedding_soil) {
        write_soil(page, "bedding", &burial->bedding_soil, wet);
    }
}

void uf_recommend_report_soils(const struct uf_recommend_page *page)
{
    const struct uf_case *d = &page->r->run.site->design;
    const enum uf_units units = page->units;
    char heads[7][64];
    const enum uf_quantity kinds[7] = {UF_QUANTITY_CONDUCTIVITY,  UF_QUANTITY_CONDUCTIVITY,
                                       UF_QUANTITY_HEAT_CAPACITY, UF_QUANTITY_HEAT_CAPACITY,
                                       UF_QUANTITY_LATENT,        UF_QUANTITY_UNIT_WEIGHT,
                                       UF_QUANTITY_UNIT_WEIGHT};
    static const char *const names[7] = {"k thawed", "k frozen", "C thawed", "C frozen",
                                         "latent",   "moist",    "saturated"};
    struct uf_show_column columns[9] = {{"place", 'l'}, {"soil", 'l'}};
    double above_m = 0.0;
    for (size_t i = 0; i < 7; i++) {
        (void)snprintf(heads[i], sizeof heads[i], "%s, %s", names[i],
                       uf_quantity_unit(kinds[i], units));
        columns[i + 2] = (struct uf_show_column){heads[i], 'r'};
    }
    uf_report_section(page->report, "Ground and board");
    write_surface(page);
    write_water_and_depth(page);
    uf_report_table(page->report,
                    "Soils as computed with. k: conductivity, C: heat capacity by "
                    "volume, latent: heat of "
                    "all the water in it; moist and saturated: unit weight.",
                    columns, 9);
    for (size_t i = 0; i < d->ground.n_layers; i++) {
        char place[64];
        const double to_m = d->ground.layers[i].to_m;
        (void)snprintf(place, sizeof place, "%s to %s", UF_NUMBER(LENGTH, units, above_m),
                       UF_TEXT(LENGTH, units, to_m));
        write_soil(page, place, &d->ground.layers[i].spec, false);
        if (!isnan(d->ground.water_winter_m) && d->ground.water_winter_m < to_m) {
            write_soil(page, "below the water table", &d->ground.layers[i].spec, true);
        }
        above_m = to_m;
    }
    write_fill(page);
    for (size_t i = 0; i < d->ground.n_layers; i++) {
        write_soil_sources(page, &d->ground.layers[i].spec);
    }
    if (d->burial.has_backfill) {
        write_soil_sources(page, &d->burial.backfill);
    }
    if (d->burial.has_bedding_soil) {
        write_soil_sources(page, &d->burial.bedding_soil);
    }
    if (d->board.present) {
        uf_report_paragraph(page->report,
                            "Board: %s in service below grade, strength %s, density %s%s%s.",
                            UF_TEXT(CONDUCTIVITY, units, d->board.k_W_mK),
                            UF_TEXT(PRESSURE, units, d->board.strength_Pa),
                            UF_TEXT(DENSITY, units, d->board.density_kg_m3),
                            d->board.row != NULL ? "; source: " : "",
                            d->board.row != NULL ? d->board.row->source : "");
    }
}

void uf_recommend_report_numbers(const struct uf_recommend_page *page)
{
    const struct uf_job *kept = &page->r->jobs[UF_RECOMMEND_KEPT];
    const struct uf_job *other = &page->r->jobs[UF_RECOMMEND_REFERENCE];
    const struct uf_summary *s = &kept->summary;
    const struct uf_summary *fast = uf_recommend_checked(page->r);
    const enum uf_units units = page->units;
    const bool large = s->side_effect_m < 0.01 && s->bottom_effect_K < 0.1;
    char water[40];
    uf_report_section(page->report, "Heat balance, grid and integrators");
    uf_recommend_report_facts(page->report, uf_facts, UF_FACT_NUMERICS, s, NULL, units);
    uf_report_paragraph(page->report,
                        "Heat in less heat stored, latent heat included, is %.1e of the heat "
                        "exchanged at the surface (acceptable below 1e-4); the finest cell is %s. "
                        "The domain is %s.",
                        s->heat_balance_relative,
                        UF_TEXT(THICKNESS, units, kept->design.grid.finest_m),
                        large ? "large enough" : "TOO SMALL");
    uf_report_point(
        page->report,
        "The same case%s by the other of the two integrators differs by %s of frost depth "
        "and %s of coldest water.",
        uf_slice_wanted(&kept->design) ? ", as a plane section," : "",
        UF_TEXT(THICKNESS, units,
                fabs(fast->frost_undisturbed_m - other->summary.frost_undisturbed_m)),
        uf_quantity_small(water, sizeof water, UF_QUANTITY_DIFFERENCE, units,
                          fabs(uf_limit_water_degC(fast) - uf_limit_water_degC(&other->summary))));
}
