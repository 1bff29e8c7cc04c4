#include "site_score.h"

#include <stdlib.h>

enum uf_status uf_site_score(struct uf_site_score *out, const struct uf_site *site,
                             const struct uf_forcing_weather *weather,
                             const struct uf_forcing *forcing, const struct uf_run_options *options,
                             struct uf_error *err)
{
    *out = (struct uf_site_score){.days = weather->days, .start_day = weather->start_day};
    if (site->n_observed == 0) {
        return uf_fail_key(err, UF_E_INPUT, "observed", UF_PLAIN("nothing was measured"),
                           UF_PLAIN("a list such as [{file: sensor.csv, column: t10, "
                                    "depth: 0.1 m}]"));
    }
    const enum uf_status status =
        uf_site_observed_read(&out->series, &out->rows, site, out->start_day, out->days, err);
    if (status != UF_OK) {
        return status;
    }
    out->n = site->n_observed;
    out->block = calloc(3 * out->days + 1, sizeof *out->block);
    if (out->block == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the frost measured");
    }
    out->profile.measured_m = out->block;
    out->profile.computed_m = out->block + out->days;
    out->profile.line_m = out->block + 2 * out->days;
    return uf_score_run(out->series, out->n, &out->profile, &site->design, forcing, options, err);
}

void uf_site_score_free(struct uf_site_score *score)
{
    uf_site_observed_free(score->series, score->rows, score->n);
    free(score->block);
    *score = (struct uf_site_score){.n = 0};
}

const char *uf_site_score_name(const struct uf_site_score *score, const struct uf_site *site,
                               size_t i)
{
    return site->observed[score->rows[i]].column;
}
