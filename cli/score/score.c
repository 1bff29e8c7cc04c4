#include "score.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum uf_status uf_score_open(struct uf_scoring *s, struct uf_error *err)
{
    const struct uf_site *site = s->run.site;
    const long start_day = s->run.weather->weather.start_day;
    s->days = s->run.weather->weather.days;
    enum uf_status status =
        uf_site_observed_read(&s->series, &s->rows, site, start_day, s->days, err);
    if (status != UF_OK) {
        return status;
    }
    s->n = site->n_observed;
    s->block = calloc(3 * s->days + 1, sizeof *s->block);
    if (s->block == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the frost measured");
    }
    s->profile.measured_m = s->block;
    s->profile.computed_m = s->block + s->days;
    s->profile.line_m = s->block + 2 * s->days;
    return uf_score_run(s->series, s->n, &s->profile, &site->design, s->run.forcing,
                        &s->run.options, err);
}

void uf_score_close(struct uf_scoring *s)
{
    uf_site_observed_free(s->series, s->rows, s->n);
    free(s->block);
    uf_site_run_close(&s->run);
}

char *uf_score_name(char *text, size_t size, const struct uf_scoring *s, size_t i)
{
    const struct uf_site_observed *row = &s->run.site->observed[s->rows[i]];
    (void)snprintf(text, size, "%s", row->column);
    return text;
}
