#include "cli/command.h"
#include "io/text/show.h"
#include "outcome.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What a run came to, in sentences that can be read aloud. */

static void frost_words(char *text, size_t size, const struct uf_case *design,
                        const struct uf_summary *s, enum uf_units units)
{
    if (!(s->frost_undisturbed_m > 0.0)) {
        (void)snprintf(text, size, "The ground does not freeze.");
    } else if (!uf_case_has_tank(design)) {
        (void)snprintf(text, size, "Frost goes down to %s.",
                       UF_TEXT(LENGTH, units, s->frost_undisturbed_m));
    } else if (s->frost_reaches_tank) {
        (void)snprintf(text, size,
                       "Frost goes down to %s in open ground, and reaches the tank's crown at %s.",
                       UF_TEXT(LENGTH, units, s->frost_undisturbed_m),
                       UF_TEXT(LENGTH, units, uf_case_crown_m(design)));
    } else {
        (void)snprintf(text, size,
                       "Frost goes down to %s in open ground and to %s over the tank, "
                       "whose crown at %s stays unfrozen.",
                       UF_TEXT(LENGTH, units, s->frost_undisturbed_m),
                       UF_TEXT(LENGTH, units, s->frost_above_m),
                       UF_TEXT(LENGTH, units, uf_case_crown_m(design)));
    }
}

static void water_words(char *text, size_t size, const struct uf_summary *s, enum uf_units units)
{
    char date[16];
    const char *when = uf_outcome_date(s->water.day, date);
    text[0] = '\0';
    if (isfinite(s->water.degC)) {
        (void)snprintf(
            text, size, " The water is coldest%s%s, at %s, %s.", when != NULL ? " on " : "",
            when != NULL ? when : "", UF_TEXT(TEMPERATURE, units, s->water.degC),
            s->ice_share > 0.0 ? "and some of it turns to ice" : "and none of it freezes");
    }
}

const char *uf_outcome_water(const struct uf_case *design)
{
    static const char *const words[] = {
        [UF_WATER_LAYERED] = "layered",
        [UF_WATER_MIXED] = "mixed",
        [UF_WATER_UNMIXED] = "unmixed",
    };
    return words[uf_case_water(design)];
}

const char *uf_outcome_water_why(const struct uf_case *design)
{
    static const char *const words[] = {
        [UF_WATER_LAYERED] = "Below 4 degC colder water is lighter: it lies on top, and ice forms "
                             "there while the bottom keeps 4 degC. Each layer is mixed sideways; "
                             "layers conduct, and turn over where a heavier one lies on a lighter.",
        [UF_WATER_MIXED] =
            ("The water is one well-mixed body, as where it is stirred or kept warm; "
             "water at rest is colder at its top than this."),
        [UF_WATER_UNMIXED] = "The water conducts without moving: the most that layering could do.",
    };
    return words[uf_case_water(design)];
}

static void limit_words(char *text, size_t size, const struct uf_verdict *verdict)
{
    size_t judged = 0;
    size_t broken = 0;
    char names[300] = "";
    for (size_t i = 0; i < uf_limit_count; i++) {
        judged += isnan(verdict->margin[i]) ? 0 : 1;
        if (verdict->margin[i] < 0.0) {
            const size_t used = strlen(names);
            (void)snprintf(names + used, sizeof names - used, "%s%s (%s)", broken > 0 ? "; " : "",
                           uf_limits[i].label, uf_limits[i].key);
            broken++;
        }
    }
    if (judged == 0) {
        (void)snprintf(text, size, "No limit is given to judge it by.");
    } else if (broken == 0) {
        (void)snprintf(text, size, "Every limit is met.");
    } else {
        (void)snprintf(text, size, "NOT met: %s.", names);
    }
}

void uf_outcome_words(char *text, size_t size, const struct uf_case *design,
                      const struct uf_summary *summary, const struct uf_verdict *verdict,
                      enum uf_units units)
{
    char frost[240];
    char water[160];
    char limits[400];
    frost_words(frost, sizeof frost, design, summary, units);
    water_words(water, sizeof water, summary, units);
    limit_words(limits, sizeof limits, verdict);
    (void)snprintf(text, size, "%s%s %s", frost, water, limits);
}
