#include "limit.h"

#include <math.h>
#include <string.h>

double uf_limit_water_degC(const struct uf_summary *summary)
{
    return fmin(summary->water.degC, summary->wall.degC); /* fmin passes a NAN over */
}

/* A number of what the limits look at. */
#define VALUE(name, expression)                                                                    \
    static double name(const struct uf_limit_facts *f)                                             \
    {                                                                                              \
        (void)f;                                                                                   \
        return expression;                                                                         \
    }
VALUE(zero, 0.0)
VALUE(whole, 1.0)
VALUE(water_asked, f->design->limits.water_degC)
VALUE(water, uf_limit_water_degC(f->summary))
VALUE(ice_asked, f->design->limits.ice_share)
VALUE(ice, f->summary->ice_share)

static void any_ice(struct uf_limits *asked)
{
    asked->ice_share = 1.0;
}

VALUE(thickness_asked, f->design->limits.ice_thickness_m)
VALUE(thickness, f->summary->ice_thickness_m)
VALUE(outlet_asked, f->design->limits.outlet_degC)
VALUE(outlet, f->summary->outlet.degC)
VALUE(uplift_asked, uf_case_flotation_asked(f->design))
VALUE(uplift, f->uplift == NULL ? (double)NAN : f->uplift->highest.factor_submerged)
/* Of the straps' working load, what they carry at the factor asked for. */
VALUE(straps, f->uplift == NULL ? (double)NAN : f->uplift->straps.use)
VALUE(cover_asked, f->design->limits.greatest_cover_m)
VALUE(cover, f->design->burial.cover_m)
VALUE(board, f->load == NULL || !f->load->present ? (double)NAN : f->load->board_use)
VALUE(board_top, uf_case_has_board(f->design) ? uf_case_board_top_m(f->design) : (double)NAN)

/* Of several places, the one with the least margin to its own limit. */
static const struct uf_probe_summary *worst(const struct uf_probe_summary *points, size_t n)
{
    static const struct uf_probe_summary none = {.limit_degC = NAN, .least = {NAN, UF_NO_DAY}};
    const struct uf_probe_summary *found = &none;
    double least_K = INFINITY;
    for (size_t i = 0; i < n; i++) {
        const double margin_K = points[i].least.degC - points[i].limit_degC;
        if (margin_K < least_K) {
            least_K = margin_K;
            found = &points[i];
        }
    }
    return found;
}

VALUE(probe_asked, worst(f->summary->probes, f->summary->n_probes)->limit_degC)
VALUE(probe, worst(f->summary->probes, f->summary->n_probes)->least.degC)
VALUE(pipe_asked, worst(f->summary->pipes, f->summary->n_pipes)->limit_degC)
VALUE(pipe, worst(f->summary->pipes, f->summary->n_pipes)->least.degC)

/* Of pipes beside the board: what lies under it is not judged by ground without it. */
static double pipe_above_frost_m(const struct uf_limit_facts *f)
{
    double least_m = NAN;
    for (size_t i = 0; i < f->design->n_pipes; i++) {
        const struct uf_pipe *pipe = &f->design->pipes[i];
        if (!pipe->under_board) {
            least_m = fmin(least_m, pipe->depth_m - 0.5 * pipe->diameter_m -
                                        f->summary->frost_undisturbed_m);
        }
    }
    return least_m;
}

/* Most ice in the bore of any standpipe; NAN: none stands full. */
static double standpipe(const struct uf_limit_facts *f)
{
    double most = NAN;
    for (size_t i = 0; i < f->summary->n_standpipes; i++) {
        most = fmax(most, f->summary->standpipes[i].ice_share);
    }
    return most;
}

VALUE(standpipe_asked,
      f->design->n_standpipes > 0 ? uf_case_pipe_ice_asked(f->design) : (double)NAN)

/* A share, and of ice at the top the metres for each metre of water: what a kelvin is worth over a frost
   season, not at once (4.18 over 334 kJ/kg, 0.0125). Of 84 random designs that lose by risers 0.12 at
   most (ends.h). */
#define ICE_PER_K 0.15

const struct uf_limit uf_limits[] = {
    {.key = "limits.water",
     .label = "coldest water or wetted wall",
     .brief = "water or wall",
     .curve = UF_LIMIT_ON_WATER,
     .source = "asked for by the site file; 1 degC unless given (common practice, no source)",
     .quantity = UF_QUANTITY_TEMPERATURE,
     .scale = 1.0,
     .per_K = 1.0,
     .at_least = true,
     .winter = true,
     .cold = true,
     .start = &(const struct uf_limit_start){NULL, "34 degF", false},
     .asked = water_asked,
     .got = water},
    {.key = "limits.ice",
     .label = "share of the water that freezes",
     .brief = "ice",
     .curve = UF_LIMIT_ON_ICE,
     .source = "asked for by the site file; none unless given (common practice, no source)",
     .quantity = UF_QUANTITY_SHARE,
     .scale = 0.05,
     .per_K = ICE_PER_K,
     .winter = true,
     .cold = true,
     .capped = true,
     .start = &(const struct uf_limit_start){NULL, NULL, false},
     .instead = "limits.ice_thickness",
     .give_way = any_ice,
     .asked = ice_asked,
     .got = ice},
    {.key = "limits.ice_thickness",
     .label = "thickness of ice at the top of the water",
     .brief = "ice thickness",
     .source = "asked for by the site file; not judged unless given, limits.ice is",
     .quantity = UF_QUANTITY_LENGTH,
     .scale = 0.05,
     .per_K = ICE_PER_K,
     .winter = true,
     .cold = true,
     .capped = true,
     .start = &(const struct uf_limit_start){"50 mm", "2 in", true},
     .asked = thickness_asked,
     .got = thickness},
    {.key = "limits.outlet",
     .label = "water at the outlet",
     .brief = "outlet",
     .source = "asked for by the site file; not judged unless given",
     .quantity = UF_QUANTITY_TEMPERATURE,
     .scale = 1.0,
     .per_K = 1.0,
     .at_least = true,
     .winter = true,
     .cold = true,
     .start = &(const struct uf_limit_start){"2 degC", "36 degF", true},
     .asked = outlet_asked,
     .got = outlet},
    {.key = "limits.uplift_factor",
     .label = "factor of safety against flotation, tank empty",
     .brief = "flotation",
     .curve = UF_LIMIT_ON_FLOTATION,
     .source = "asked for by the site file; 1.3 unless given (FEMA P-259)",
     .quantity = UF_QUANTITY_FACTOR,
     .scale = 0.1,
     .at_least = true,
     .start = &(const struct uf_limit_start){NULL, NULL, false},
     .asked = uplift_asked,
     .got = uplift},
    {.key = "anchors.strap_strength",
     .label = "straps, share of their working load",
     .brief = "straps",
     .source = "the straps' manufacturer",
     .quantity = UF_QUANTITY_SHARE,
     .scale = 0.1,
     .asked = whole,
     .got = straps},
    {.key = "limits.greatest_cover",
     .label = "cover the tank's manufacturer allows",
     .brief = "greatest cover",
     .source = "the tank's manufacturer",
     .quantity = UF_QUANTITY_LENGTH,
     .scale = 0.1,
     .start = &(const struct uf_limit_start){"2.1 m", "7 ft", true},
     .unchecked =
         "The tank's shell is unchecked: no limits.greatest_cover from its manufacturer was given.",
     .asked = cover_asked,
     .got = cover},
    {.key = "board.type",
     .label = "utilization of the board under dead and live load",
     .brief = "board load",
     .source = "a third of the strength for dead load, a fifth for live load (common practice, no "
               "source)",
     .quantity = UF_QUANTITY_SHARE,
     .scale = 0.1,
     .asked = whole,
     .got = board},
    {.key = "board.thickness",
     .label = "top of the board below grade",
     .brief = "board's top",
     .source = "the board must not break the surface",
     .quantity = UF_QUANTITY_LENGTH,
     .scale = 0.05,
     .at_least = true,
     .asked = zero,
     .got = board_top},
    {.key = "probes.least",
     .label = "coldest place that has a limit",
     .brief = "probes",
     .source = "asked for by the site file, place by place",
     .quantity = UF_QUANTITY_TEMPERATURE,
     .scale = 1.0,
     .per_K = 1.0,
     .at_least = true,
     .winter = true,
     .asked = probe_asked,
     .got = probe},
    {.key = "pipes.depth",
     .label = "frost at a pipe",
     .brief = "pipes",
     .source = "water in a pipe freezes at 0 degC",
     .quantity = UF_QUANTITY_TEMPERATURE,
     .scale = 1.0,
     .at_least = true,
     .winter = true,
     .asked = pipe_asked,
     .got = pipe,
     .above_frost_m = pipe_above_frost_m},
    {.key = "limits.standpipe_ice",
     .label = "ice in the bore of a standpipe",
     .brief = "standpipe",
     .source = "asked for by the site file; none unless given (a line that freezes is no supply)",
     .quantity = UF_QUANTITY_SHARE,
     .scale = 0.05,
     .winter = true,
     .cold = true,
     .capped = true,
     .asked = standpipe_asked,
     .got = standpipe},
};

const size_t uf_limit_count = sizeof uf_limits / sizeof uf_limits[0];
_Static_assert(sizeof uf_limits / sizeof uf_limits[0] <= UF_LIMIT_MOST, "raise UF_LIMIT_MOST");

void uf_limit_weigh(struct uf_verdict *verdict)
{
    double least = INFINITY;
    verdict->ok = true;
    verdict->governs = uf_limit_count;
    for (size_t i = 0; i < uf_limit_count; i++) {
        const double margin = verdict->margin[i];
        const bool may_govern = !uf_limits[i].capped || margin < 0.0;
        verdict->ok = verdict->ok && !(margin < 0.0);
        if (may_govern && margin / uf_limits[i].scale < least) {
            least = margin / uf_limits[i].scale;
            verdict->governs = i;
        }
    }
}

struct uf_verdict uf_limit_verdict(const struct uf_limit_facts *f)
{
    struct uf_verdict verdict;
    for (size_t i = 0; i < uf_limit_count; i++) {
        const struct uf_limit *limit = &uf_limits[i];
        verdict.asked[i] = limit->asked(f);
        verdict.got[i] = limit->got(f);
        verdict.margin[i] =
            limit->at_least ? verdict.got[i] - verdict.asked[i] : verdict.asked[i] - verdict.got[i];
    }
    uf_limit_weigh(&verdict);
    return verdict;
}

bool uf_limit_allows_cover(const struct uf_case *design, double cover_m)
{
    return !(cover_m > design->limits.greatest_cover_m);
}

const char *uf_limit_unchecked(const struct uf_limit *limit, const struct uf_case *design)
{
    const struct uf_summary none = {0};
    const struct uf_limit_facts facts = {.design = design, .summary = &none};
    return limit->unchecked != NULL && isnan(limit->asked(&facts)) ? limit->unchecked : NULL;
}

bool uf_limit_of_temperature(const struct uf_limit *limit)
{
    return limit->winter && limit->quantity == UF_QUANTITY_TEMPERATURE;
}

const char *uf_limit_unit(const struct uf_limit *limit)
{
    return uf_quantity_kinds[uf_quantity_kind_difference(limit->quantity)].held;
}

const struct uf_limit *uf_limit_find(const char *key)
{
    for (size_t i = 0; i < uf_limit_count; i++) {
        if (strcmp(uf_limits[i].key, key) == 0) {
            return &uf_limits[i];
        }
    }
    return NULL;
}
