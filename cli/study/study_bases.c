#include "study_bases.h"

#include <stdlib.h>

static const double FROST_SPARE = 1.1;

bool uf_study_bases_room(struct uf_study_bases *b, const struct uf_study *s)
{
    b->rows = calloc(s->options, sizeof *b->rows);
    b->frost_m = calloc(s->options, sizeof *b->frost_m);
    return b->rows != NULL && b->frost_m != NULL && uf_study_group_room(&b->undrawn, s);
}

static void drop(struct uf_study_bases *b, const struct uf_study *s)
{
    for (size_t o = 0; b->rows != NULL && o < s->options; o++) {
        uf_members_base_clear(&b->rows[o]);
    }
    if (b->undrawn.forcings != NULL) {
        uf_study_group_close(&b->undrawn, s);
    }
}

void uf_study_bases_free(struct uf_study_bases *b, const struct uf_study *s)
{
    drop(b, s);
    uf_study_group_free(&b->undrawn, s);
    free(b->rows);
    free(b->frost_m);
}

static const struct uf_forcing *first_winter(const struct uf_study_group *g, size_t winters)
{
    size_t k = 0;
    while (k + 1 < winters && g->forcings[k] == NULL) {
        k++;
    }
    return g->forcings[k];
}

void uf_study_bases_take(struct uf_study_bases *b, const struct uf_study *s, size_t first,
                         struct uf_study_weather *shared)
{
    struct uf_study_group *g = &b->undrawn;
    if (!uf_study_group_lanes(s)) {
        return;
    }
    drop(b, s);
    uf_study_group_open(g, s, first, false, shared);
    for (size_t o = 0; o < s->options; o++) {
        const bool good = g->err.code == UF_OK;
        b->frost_m[o] = good ? FROST_SPARE * uf_study_group_frost_m(g, o) : 0.0;
        if (good) {
            b->rows[o] = (struct uf_members_base){.design = uf_study_group_design(g, o),
                                                  .frost_m = b->frost_m[o],
                                                  .winter = first_winter(g, s->winters)};
        }
    }
}
