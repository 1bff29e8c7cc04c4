#include "dewater.h"

#include "solver/base/constants.h"

#include <math.h>

#define FINE_M_S  1e-6
#define MUCH_M3_S 0.010
#define DEEP_M    4.5

const char *const uf_dewater_reasons[UF_DEWATER_REASONS] = {
    "water stands over the floor and the permeability of the ground is not given",
    "ground this fine drains too slowly for a sump, and its sides slump",
    "more water than sumps keep clear of fines: wells or wellpoints",
    "lowered by more than 4.5 m: more than one row of wellpoints, or deep wells",
    "the floor would heave by the confined layer below it: relieve its head first",
    "a unit weight of the ground is missing, so the floor is not judged",
};

void uf_dewater_init(struct uf_dewater_input *input)
{
    *input = (struct uf_dewater_input){NAN, NAN, NAN, NAN};
}

double uf_dewater_radius_m(double a_m, double b_m)
{
    return sqrt(a_m * b_m / UF_PI);
}

double uf_dewater_influence_m(double radius_m, double drawdown_m, double permeability_m_s)
{
    return radius_m + 3000.0 * drawdown_m * sqrt(permeability_m_s);
}

double uf_dewater_inflow_m3_s(double permeability_m_s, double far_m, double pit_m,
                              double influence_m, double radius_m)
{
    return UF_PI * permeability_m_s * (far_m * far_m - pit_m * pit_m) / log(influence_m / radius_m);
}

/* Weight of a column of 1 m2 from the floor to a depth, all of it soaked, N; NAN: not known. */
static double soaked_N(const struct uf_case *design, const struct uf_column_soils *soils,
                       double floor_m, double to_m)
{
    struct uf_case native = *design;
    struct uf_column column;
    struct uf_column_weight weight;
    const struct uf_column_span span = {floor_m, to_m, floor_m};
    native.burial.has_backfill = native.board.present = false;
    uf_column_build(&column, &native, soils, 0.0);
    return uf_column_prism(&weight, &column, &span, 1.0, NULL) == UF_OK ? weight.total_N
                                                                        : (double)NAN;
}

static void add_inflow(struct uf_dewater *out, const struct uf_case *design,
                       const struct uf_pit *pit, const struct uf_dewater_input *input)
{
    const double deepest_m = design->ground.layers[design->ground.n_layers - 1].to_m;
    const double lowered_m = out->floor_m + UF_DEWATER_BELOW_M;
    const double base_m = fmax(isnan(input->base_m) ? deepest_m : input->base_m, lowered_m);
    out->drawdown_m = lowered_m - out->table_m;
    out->permeability_m_s = input->permeability_m_s;
    out->far_m = base_m - out->table_m;
    out->pit_m = base_m - lowered_m;
    out->radius_m = uf_dewater_radius_m(pit->base_width_m, pit->base_length_m);
    out->influence_m =
        uf_dewater_influence_m(out->radius_m, out->drawdown_m, input->permeability_m_s);
    out->inflow_m3_s = uf_dewater_inflow_m3_s(input->permeability_m_s, out->far_m, out->pit_m,
                                              out->influence_m, out->radius_m);
    out->pump_m3_s = UF_DEWATER_PUMP * out->inflow_m3_s;
}

static void judge(struct uf_dewater *out, const struct uf_dewater_input *input, bool unweighed)
{
    const struct {
        bool holds;
        unsigned reason;
    } rows[] = {{out->wet && isnan(input->permeability_m_s), UF_DEWATER_UNKNOWN},
                {out->wet && input->permeability_m_s < FINE_M_S, UF_DEWATER_FINE},
                {out->inflow_m3_s > MUCH_M3_S, UF_DEWATER_MUCH},
                {out->drawdown_m > DEEP_M, UF_DEWATER_DEEP},
                {out->blowout_factor < UF_DEWATER_FACTOR, UF_DEWATER_BLOWOUT},
                {unweighed, UF_DEWATER_UNWEIGHED}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        out->reasons |= rows[i].holds ? rows[i].reason : 0U;
    }
}

enum uf_status uf_dewater(struct uf_dewater *out, const struct uf_case *design,
                          const struct uf_column_soils *soils, const struct uf_pit *pit,
                          const struct uf_dewater_input *input, double table_m,
                          struct uf_error *err)
{
    const double head_N_m2 = UF_WATER_UNIT_N_M3 * (input->confined_top_m - input->confined_head_m);
    const bool confined = head_N_m2 > 0.0;
    bool unweighed = false;
    *out = (struct uf_dewater){.wet = table_m < pit->depth_m,
                               .table_m = table_m,
                               .floor_m = pit->depth_m,
                               .inflow_m3_s = NAN,
                               .pump_m3_s = NAN,
                               .blowout_factor = NAN,
                               .slope = pit->allowed_slope};
    if (confined && !(input->confined_top_m > pit->depth_m)) {
        return uf_fail_key(err, UF_E_INPUT, "works.confined.top",
                           UF_SAID("at {} it lies over the pit's floor at {}",
                                   UF_OF(LENGTH, input->confined_top_m),
                                   UF_OF(LENGTH, pit->depth_m)),
                           UF_PLAIN("a layer under the floor; one that is dug into is no cover"));
    }
    if (out->wet) {
        add_inflow(out, design, pit, input);
        out->slope = fmax(out->slope, uf_pit_class_find('C')->slope);
    }
    if (confined) {
        out->head_N_m2 = head_N_m2;
        out->soaked_N_m2 = soaked_N(design, soils, pit->depth_m, input->confined_top_m);
        out->blowout_factor = out->soaked_N_m2 / head_N_m2;
        unweighed = isnan(out->blowout_factor);
    }
    out->too_steep =
        pit->given && pit->needs_protection && design->burial.pit_slope < out->slope - 1e-9;
    judge(out, input, unweighed);
    return UF_OK;
}
