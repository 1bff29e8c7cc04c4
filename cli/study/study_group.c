#include "study_group.h"

#include "solver/choice/option.h"
#include "solver/time/lanes.h"

#include <math.h>
#include <stdlib.h>

bool uf_study_group_weather_room(struct uf_study_weather *weather, const struct uf_study *s)
{
    weather->station = SIZE_MAX;
    weather->winters = calloc(s->winters, sizeof *weather->winters);
    weather->errs = calloc(s->winters, sizeof *weather->errs);
    return weather->winters != NULL && weather->errs != NULL;
}

static void drop_weather(struct uf_study_weather *weather, const struct uf_study *s)
{
    for (size_t k = 0; weather->winters != NULL && k < s->winters; k++) {
        uf_site_weather_free(weather->winters[k]);
        weather->winters[k] = NULL;
    }
    weather->station = SIZE_MAX;
}

void uf_study_group_weather_free(struct uf_study_weather *weather, const struct uf_study *s)
{
    drop_weather(weather, s);
    free(weather->winters);
    free(weather->errs);
}

static void take_weather(struct uf_study_weather *weather, const struct uf_study *s,
                         const struct uf_site *site, size_t station)
{
    drop_weather(weather, s);
    for (size_t k = 0; k < s->winters; k++) {
        struct uf_winter_choice choice;
        const bool named = uf_winter_parse(s->winter_names[k], &choice);
        weather->errs[k] = (struct uf_error){.code = UF_OK};
        (void)uf_site_weather_create(&weather->winters[k], site, named ? &choice : NULL,
                                     &weather->errs[k]);
    }
    weather->station = station;
}

bool uf_study_group_room(struct uf_study_group *g, const struct uf_study *s)
{
    g->forcings = calloc(s->winters, sizeof *g->forcings);
    return g->forcings != NULL && uf_study_group_weather_room(&g->own, s);
}

void uf_study_group_free(struct uf_study_group *g, const struct uf_study *s)
{
    uf_study_group_weather_free(&g->own, s);
    free(g->forcings);
}

static void make_forcings(struct uf_study_group *g, const struct uf_study *s)
{
    g->coldest_degC_day = 0.0;
    for (size_t k = 0; k < s->winters; k++) {
        if (g->weather->winters[k] != NULL) {
            (void)uf_forcing_create(&g->forcings[k], &g->site->design.surface,
                                    &g->weather->winters[k]->weather, &g->weather->errs[k]);
        }
        if (g->forcings[k] != NULL) {
            g->coldest_degC_day = fmax(g->coldest_degC_day, g->forcings[k]->freezing_degC_day);
        }
    }
}

static void list_options(struct uf_study_group *g, const struct uf_study *s)
{
    const struct uf_choice_input input = {.design = &g->site->design, .options = uf_run_defaults()};
    if (s->choices != NULL && uf_choice_create(&g->choices, &input, &g->err) == UF_OK &&
        g->choices->n != s->options) {
        (void)uf_fail(&g->err, UF_E_INPUT,
                      "%zu options instead of %zu: the plan varies what they are", g->choices->n,
                      s->options);
    }
}

void uf_study_group_open(struct uf_study_group *g, const struct uf_study *s, size_t first,
                         bool drawn, struct uf_study_weather *shared)
{
    struct uf_study_case of = uf_study_case_of(s, first);
    of.member = drawn ? of.member : UF_STUDY_UNDRAWN;
    g->first = first;
    g->err = (struct uf_error){.code = UF_OK};
    if (uf_study_site(&g->site, s, &of, &g->err) != UF_OK) {
        return;
    }
    g->weather = uf_study_site_varies_weather(s) ? &g->own : shared;
    if (g->weather == &g->own || g->weather->station != of.station) {
        take_weather(g->weather, s, g->site, of.station);
    }
    make_forcings(g, s);
    list_options(g, s);
}

void uf_study_group_close(struct uf_study_group *g, const struct uf_study *s)
{
    for (size_t k = 0; k < s->winters; k++) {
        uf_forcing_free(g->forcings[k]);
        g->forcings[k] = NULL;
    }
    uf_choice_free(g->choices);
    uf_site_free(g->site);
    drop_weather(&g->own, s);
    g->choices = NULL;
    g->site = NULL;
}

const struct uf_case *uf_study_group_design(const struct uf_study_group *g, size_t option)
{
    return g->choices != NULL ? &g->choices->designs[option] : &g->site->design;
}

const struct uf_choice *uf_study_group_row(const struct uf_study_group *g, size_t option)
{
    return g->choices != NULL ? &g->choices->rows[option] : NULL;
}

/* Half of the lanes busy pay for what is shared. */
enum { LANES_FEWEST = UF_LANES / 2 };

bool uf_study_group_lanes(const struct uf_study *s)
{
    return s->members >= LANES_FEWEST && uf_study_site_keeps_grid(s);
}

double uf_study_group_frost_m(const struct uf_study_group *g, size_t option)
{
    return uf_run_frost_guess_m(uf_study_group_design(g, option), g->coldest_degC_day);
}
