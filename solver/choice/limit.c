#include "limit.h"

#include <math.h>

double uf_limit_water_degC(const struct uf_summary *summary)
{
    return fmin(summary->water.degC, summary->wall.degC); /* fmin passes a NAN over */
}

static double water(const struct uf_limit_facts *f)
{
    return uf_limit_water_degC(f->summary) - f->design->limits.water_degC;
}

static double ice(const struct uf_limit_facts *f)
{
    return f->design->limits.ice_share - f->summary->ice_share;
}

static double uplift(const struct uf_limit_facts *f)
{
    return f->uplift == NULL
               ? (double)NAN
               : f->uplift->highest.factor_submerged - f->design->limits.uplift_factor;
}

/* What the straps carry at the factor asked for, of their maker's working load. */
static double straps(const struct uf_limit_facts *f)
{
    return f->uplift == NULL ? (double)NAN : 1.0 - f->uplift->straps.use;
}

static double cover(const struct uf_limit_facts *f)
{
    return f->design->limits.greatest_cover_m - f->design->burial.cover_m;
}

static double board(const struct uf_limit_facts *f)
{
    return f->load == NULL || !f->load->present ? (double)NAN : 1.0 - f->load->board_use;
}

/* A board that breaks the surface; a margin only where there is one. */
static double in_ground(const struct uf_limit_facts *f)
{
    return uf_case_has_board(f->design) ? uf_case_board_top_m(f->design) : (double)NAN;
}

static double least_of(const struct uf_probe_summary *points, size_t n)
{
    double least = NAN;
    for (size_t i = 0; i < n; i++) {
        least = fmin(least, points[i].least.degC - points[i].limit_degC);
    }
    return least;
}

static double probes(const struct uf_limit_facts *f)
{
    return least_of(f->summary->probes, f->summary->n_probes);
}

static double pipes(const struct uf_limit_facts *f)
{
    return least_of(f->summary->pipes, f->summary->n_pipes);
}

const struct uf_limit uf_limits[UF_LIMITS] = {
    {"limits.water", "coldest water or wetted wall", "K", 1.0, false, water},
    {"limits.ice", "share of the water that freezes", "share", 0.05, true, ice},
    {"limits.uplift_factor", "factor against uplift, tank empty", "factor", 0.1, false, uplift},
    {"anchors.strap_strength", "straps against their working load", "share", 0.1, false, straps},
    {"limits.greatest_cover", "cover the tank's maker allows", "m", 0.1, false, cover},
    {"board.type", "board under soil and wheel", "share", 0.1, false, board},
    {"board.thickness", "board below the surface", "m", 0.05, false, in_ground},
    {"probes.least", "coldest place that has a limit", "K", 1.0, false, probes},
    {"pipes.depth", "frost at a pipe", "K", 1.0, false, pipes},
};

struct uf_verdict uf_limit_verdict(const struct uf_limit_facts *facts)
{
    struct uf_verdict verdict = {.ok = true, .governs = UF_LIMITS};
    double least = INFINITY;
    for (size_t i = 0; i < UF_LIMITS; i++) {
        verdict.margin[i] = uf_limits[i].margin(facts);
        if (verdict.margin[i] < 0.0) {
            verdict.ok = false;
        }
        const bool may_govern = !uf_limits[i].capped || verdict.margin[i] < 0.0;
        if (may_govern && verdict.margin[i] / uf_limits[i].scale < least) {
            least = verdict.margin[i] / uf_limits[i].scale;
            verdict.governs = i;
        }
    }
    return verdict;
}
