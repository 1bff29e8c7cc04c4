#include "io/quantity.h"
#include "outcome.h"
#include "recommend_report.h"
#include "remarks.h"
#include "solver/foam.h"
#include "solver/soil.h"
#include "solver/surface.h"

#include <math.h>
#include <stdio.h>

/* One line of the table of extremes: with board, without. */
struct extreme_row {
    const char *label;
    enum uf_quantity kind;
    double with, without;
    long day;
};

static void write_extreme(const struct uf_recommend_page *page,
                          const struct extreme_row *row, bool both)
{
    char date[16];
    const char *when = uf_outcome_date(row->day, date);
    char text[2][40];
    if (isnan(row->with) && isnan(row->without)) {
        return;
    }
    uf_report_cell(page->report, "%s", row->label);
    uf_report_cell(page->report, "%s",
                   uf_quantity_text(text[0], 40, row->kind, page->units, row->with));
    uf_report_cell(page->report, "%s", when != NULL ? when : "-");
    uf_report_cell(
        page->report, "%s",
        both ? uf_quantity_text(text[1], 40, row->kind, page->units, row->without) : "-");
}

static void write_points(const struct uf_recommend_page *page, const char *kind,
                         const struct uf_probe_summary *a,
                         const struct uf_probe_summary *b, size_t n, bool both)
{
    for (size_t i = 0; i < n; i++) {
        char label[UF_NAME_SIZE + 16];
        (void)snprintf(label, sizeof label, "%s %s", kind, a[i].name);
        const struct extreme_row row = {label, UF_QUANTITY_TEMPERATURE, a[i].least.degC,
                                        b[i].least.degC, a[i].least.day};
        write_extreme(page, &row, both);
    }
}

void uf_recommend_report_winter(const struct uf_recommend_page *page)
{
    const struct uf_summary *a = &page->r->jobs[UF_RECOMMEND_KEPT].summary;
    const bool both = !page->r->jobs[UF_RECOMMEND_BARE].skip;
    const struct uf_summary *b = both ? &page->r->jobs[UF_RECOMMEND_BARE].summary : a;
    const struct uf_report_column columns[] = {{"", 'l'},
                                               {both ? "with board" : "as designed", 'r'},
                                               {"on", 'l'},
                                               {"without board", 'r'}};
    const struct extreme_row rows[] = {
        {"frost far from the tank", UF_QUANTITY_LENGTH, a->frost_undisturbed_m,
         b->frost_undisturbed_m, a->frost_undisturbed_day},
        {"frost over the tank", UF_QUANTITY_LENGTH, a->frost_above_m, b->frost_above_m,
         a->frost_above_day},
        {"coldest water, mixed", UF_QUANTITY_TEMPERATURE, a->water.degC, b->water.degC,
         a->water.day},
        {"coldest wetted wall", UF_QUANTITY_TEMPERATURE, a->wall.degC, b->wall.degC,
         a->wall.day},
        {"wall at the crown", UF_QUANTITY_TEMPERATURE, a->crown.degC, b->crown.degC,
         a->crown.day},
        {"wall at the invert", UF_QUANTITY_TEMPERATURE, a->invert.degC, b->invert.degC,
         a->invert.day},
        {"largest share of ice", UF_QUANTITY_SHARE, a->ice_share, b->ice_share,
         UF_NO_DAY},
        {"ice as an even layer", UF_QUANTITY_THICKNESS, a->ice_thickness_m,
         b->ice_thickness_m, UF_NO_DAY}};
    uf_report_section(page->report, "Frost and water through the design winter");
    uf_recommend_report_picture(
        page, "frost",
        "Depth of frost far from the tank and over it, with board and "
        "without; the line of the crown.");
    uf_recommend_report_picture(
        page, "water", "Water and wetted wall through the winter, and the limit.");
    uf_report_table(page->report, "Extremes of the run, and their dates", columns, 4);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        write_extreme(page, &rows[i], both);
    }
    write_points(page, "probe", a->probes, b->probes, a->n_probes, both);
    write_points(page, "ground at pipe", a->pipes, b->pipes, a->n_pipes, both);
    if (!page->r->jobs[UF_RECOMMEND_INFLOW].skip) {
        uf_report_paragraph(
            page->report,
            "The verdict counts no inflow (an empty house). With it the water "
            "would fall to %s.",
            UF_TEXT(TEMPERATURE, page->units,
                    page->r->jobs[UF_RECOMMEND_INFLOW].summary.water.degC));
    }
}

void uf_recommend_report_weather(const struct uf_recommend_page *page)
{
    static const struct uf_report_column columns[] = {{"one winter in", 'l'},
                                                      {"freezing index", 'r'}};
    const struct uf_site_weather *w = page->r->run.weather;
    uf_report_section(page->report, "Weather");
    uf_report_paragraph(page->report, "%s.", w->text);
    if (w->record != NULL) {
        uf_report_paragraph(page->report, "Station: %s. Source: %s. Licence: %s.",
                            w->record->station, w->record->source, w->record->licence);
        uf_report_paragraph(
            page->report,
            "%zu days of short gaps were filled by straight lines; winters with "
            "longer gaps were left out. %s",
            w->record->filled_days, w->record->note);
    }
    if (w->winters != NULL && w->winters->n_usable > 0) {
        uf_report_paragraph(
            page->report,
            "%zu usable winters; mean freezing index %s; mean of the three coldest in "
            "thirty %s. "
            "Return periods: Gumbel by moments.",
            w->winters->n_usable, UF_TEXT(INDEX, page->units, w->winters->mean_degC_day),
            UF_TEXT(INDEX, page->units, w->winters->coldest_three_in_thirty_degC_day));
        uf_report_table(page->report, "Freezing index by return period", columns, 2);
        for (size_t i = 0; i < page->result->n_returns; i++) {
            uf_report_cell(page->report, "%.0f years", page->result->returns[i].years);
            uf_report_cell(page->report, "%s",
                           UF_TEXT(INDEX, page->units,
                                   page->result->returns[i].freezing_index_degC_day));
        }
    }
    uf_recommend_report_picture(
        page, "winters",
        "Freezing index of every winter on file, return periods and the "
        "design winter.");
}

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
    uf_report_cell(page->report, "%s%s",
                   spec->soil != NULL ? spec->soil->name : "measured",
                   saturated ? ", saturated" : "");
    uf_report_cell(page->report, "%s", UF_NUMBER(CONDUCTIVITY, units, t->k_thawed_W_mK));
    uf_report_cell(page->report, "%s", UF_NUMBER(CONDUCTIVITY, units, t->k_frozen_W_mK));
    uf_report_cell(page->report, "%s",
                   UF_NUMBER(HEAT_CAPACITY, units, t->c_thawed_J_m3K));
    uf_report_cell(page->report, "%s",
                   UF_NUMBER(HEAT_CAPACITY, units, t->c_frozen_J_m3K));
    uf_report_cell(page->report, "%s", UF_NUMBER(LATENT, units, t->latent_J_m3));
    uf_report_cell(page->report, "%s",
                   UF_NUMBER(UNIT_WEIGHT, units, state.unit_weight_moist_N_m3));
    uf_report_cell(page->report, "%s",
                   UF_NUMBER(UNIT_WEIGHT, units, state.unit_weight_saturated_N_m3));
}

/* Where the numbers of each soil come from, and what its method warns of. */
static void write_soil_sources(const struct uf_recommend_page *page,
                               const struct uf_ground_spec *spec)
{
    struct uf_soil_state state;
    const enum uf_method method = page->r->run.site->design.ground.method;
    if (spec->soil != NULL &&
        uf_soil_resolve(&state, spec, method, false, NULL) == UF_OK) {
        uf_report_point(page->report, "%s: %s%s%s", spec->soil->name, spec->soil->source,
                        state.note[0] != '\0' ? ". Mind: " : "", state.note);
    }
}

static void write_surface(const struct uf_recommend_page *page)
{
    const struct uf_surface_input *s = &page->r->run.site->design.surface;
    if (s->kind == UF_SURFACE_FILM) {
        uf_report_paragraph(page->report, "Surface: film of %s, %s.",
                            UF_TEXT(FILM, page->units, s->film_W_m2K),
                            s->snow == UF_SNOW_NONE       ? "no snow (cleared ground)"
                            : s->snow == UF_SNOW_RECORDED ? "snow as recorded"
                                                          : "snow of fixed depth");
    } else if (s->kind == UF_SURFACE_N_FACTOR) {
        uf_report_paragraph(
            page->report, "Surface: %s, n-factors %.2f freezing and %.2f thawing%s%s.",
            s->row != NULL ? s->row->name : "as given",
            s->row != NULL ? s->row->n_freezing : s->n_freezing,
            s->row != NULL ? s->row->n_thawing : s->n_thawing,
            s->row != NULL ? "; source: " : "", s->row != NULL ? s->row->source : "");
    }
}

void uf_recommend_report_soils(const struct uf_recommend_page *page)
{
    const struct uf_case *d = &page->r->run.site->design;
    const enum uf_units units = page->units;
    char heads[7][64];
    const enum uf_quantity kinds[7] = {
        UF_QUANTITY_CONDUCTIVITY,  UF_QUANTITY_CONDUCTIVITY, UF_QUANTITY_HEAT_CAPACITY,
        UF_QUANTITY_HEAT_CAPACITY, UF_QUANTITY_LATENT,       UF_QUANTITY_UNIT_WEIGHT,
        UF_QUANTITY_UNIT_WEIGHT};
    static const char *const names[7] = {"k thawed", "k frozen", "C thawed", "C frozen",
                                         "latent",   "moist",    "saturated"};
    struct uf_report_column columns[9] = {{"place", 'l'}, {"soil", 'l'}};
    double above_m = 0.0;
    for (size_t i = 0; i < 7; i++) {
        (void)snprintf(heads[i], sizeof heads[i], "%s, %s", names[i],
                       uf_quantity_unit(kinds[i], units));
        columns[i + 2] = (struct uf_report_column){heads[i], 'r'};
    }
    uf_report_section(page->report, "Ground and board");
    write_surface(page);
    uf_report_table(page->report, "Soils as computed with", columns, 9);
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
    if (d->burial.has_backfill) {
        write_soil(page, "backfill", &d->burial.backfill, false);
    }
    for (size_t i = 0; i < d->ground.n_layers; i++) {
        write_soil_sources(page, &d->ground.layers[i].spec);
    }
    if (d->burial.has_backfill) {
        write_soil_sources(page, &d->burial.backfill);
    }
    if (d->board.present) {
        uf_report_paragraph(
            page->report,
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
    uf_report_section(page->report, "Heat balance, grid and integrators");
    uf_report_point(
        page->report,
        "Heat in less heat stored, latent heat included: %.1e of the heat exchanged at "
        "the surface (a run is refused credence above 1e-4).",
        s->heat_balance_relative);
    uf_report_point(
        page->report,
        "%ld cells, finest %s; %.0f days simulated in %ld steps, the start from the "
        "repeated mean year included.",
        s->counters.cells, UF_TEXT(THICKNESS, page->units, kept->design.grid.finest_m),
        s->counters.simulated_days, s->counters.steps);
    uf_report_point(
        page->report,
        "The two outermost columns differ by %.1f mm of frost, and the bottom can change "
        "temperatures by %.3f K at most where anything is asked: the domain is %s.",
        1e3 * s->side_effect_m, s->bottom_effect_K,
        s->side_effect_m < 0.01 && s->bottom_effect_K < 0.1 ? "large enough"
                                                            : "TOO SMALL");
    struct uf_remarks remarks;
    uf_remarks(&remarks, &kept->design, s);
    for (size_t i = 0; i < remarks.n; i++) {
        uf_report_point(page->report, "Mind: %s.", remarks.text[i]);
    }
    uf_report_point(
        page->report,
        "The other integrator differs by %.1f mm of frost and %.3f K of coldest water.",
        1e3 * fabs(s->frost_undisturbed_m - other->summary.frost_undisturbed_m),
        fabs(uf_limit_water_degC(s) - uf_limit_water_degC(&other->summary)));
}
