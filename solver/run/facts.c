#include "facts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static bool froze(const struct uf_summary *s)
{
    return s->frost_undisturbed_m > 0.0;
}

static bool has_tank(const struct uf_summary *s)
{
    return isfinite(s->frost_above_m);
}

static bool is_held(const struct uf_summary *s)
{
    return isfinite(s->hold_J);
}

#define NO_OFFSET SIZE_MAX
#define AT(member)                                                                                 \
    .offset = offsetof(struct uf_summary, member), .size = sizeof((struct uf_summary *)NULL)->member
#define ON(member) .day_offset = offsetof(struct uf_summary, member)
#define UNDATED    .day_offset = NO_OFFSET
#define OF(member)                                                                                 \
    .offset = offsetof(struct uf_probe_summary, member),                                           \
    .size = sizeof((struct uf_probe_summary *)NULL)->member
#define OF_ON(member) .day_offset = offsetof(struct uf_probe_summary, member)

#define LIST(words, member, count, most_of)                                                        \
    {                                                                                              \
        .label = words, .offset = offsetof(struct uf_summary, member),                             \
        .count_offset = offsetof(struct uf_summary, count),                                        \
        .row_size = sizeof(struct uf_probe_summary), .most = most_of,                              \
        .name_offset = offsetof(struct uf_probe_summary, name)                                     \
    }
static const struct uf_fact_list probes = LIST("probe", probes, n_probes, UF_MAX_PROBES);
static const struct uf_fact_list pipes = LIST("pipe", pipes, n_pipes, UF_MAX_PIPES);

/* What is told of each place in a list of probes. */
#define PLACE(name_of, member)                                                                     \
    {.key = name_of "[].name",                                                                     \
     .label = "name",                                                                              \
     .type = UF_FACT_TEXT,                                                                         \
     OF(name),                                                                                     \
     UNDATED,                                                                                      \
     .list = &(member)},                                                                           \
        {.key = name_of "[].min_degC",                                                             \
         .date_key = name_of "[].min_date",                                                        \
         .label = "coldest",                                                                       \
         .quantity = UF_QUANTITY_TEMPERATURE,                                                      \
         OF(least.degC),                                                                           \
         OF_ON(least.day),                                                                         \
         .list = &(member)},                                                                       \
        {.key = name_of "[].days_below_zero",                                                      \
         .label = "days below freezing",                                                           \
         .quantity = UF_QUANTITY_WHOLE,                                                            \
         .type = UF_FACT_LONG,                                                                     \
         OF(days_below_zero),                                                                      \
         UNDATED,                                                                                  \
         .list = &(member)},                                                                       \
    {                                                                                              \
        .key = name_of "[].limit_degC", .label = "limit", .quantity = UF_QUANTITY_TEMPERATURE,     \
        OF(limit_degC), UNDATED, .list = &(member)                                                 \
    }

#define COUNTER(words, member, text)                                                               \
    {                                                                                              \
        .key = words, .label = text, .quantity = UF_QUANTITY_WHOLE, .type = UF_FACT_LONG,          \
        .role = UF_FACT_NUMERICS, AT(counters.member), UNDATED                                     \
    }

const struct uf_fact uf_facts[] = {
    {.key = "frost_depth.undisturbed.max_m",
     .date_key = "frost_depth.undisturbed.date",
     .label = "frost depth, undisturbed ground",
     .quantity = UF_QUANTITY_LENGTH,
     AT(frost_undisturbed_m),
     ON(frost_undisturbed_day)},
    {.key = "frost_depth.above_tank.max_m",
     .date_key = "frost_depth.above_tank.date",
     .label = "frost depth above the tank",
     .quantity = UF_QUANTITY_LENGTH,
     AT(frost_above_m),
     ON(frost_above_day)},
    {.key = "frost_depth.above_tank.reaches_tank",
     .label = "frost reaches the tank",
     .type = UF_FACT_BOOL,
     AT(frost_reaches_tank),
     UNDATED,
     .applies = has_tank},
    {.key = "thaw_out_date",
     .label = "undisturbed ground thawed by",
     .type = UF_FACT_DAY,
     AT(thaw_out_day),
     UNDATED,
     .applies = froze},
    {.key = "water.min_degC",
     .date_key = "water.date",
     .label = "coldest water",
     .quantity = UF_QUANTITY_TEMPERATURE,
     AT(water.degC),
     ON(water.day)},
    {.key = "water.max_ice_fraction",
     .label = "ice, largest share of the water",
     .quantity = UF_QUANTITY_SHARE,
     AT(ice_share),
     UNDATED},
    {.key = "water.ice_thickness_m",
     .label = "ice, as an even layer on the wetted wall",
     .quantity = UF_QUANTITY_THICKNESS,
     AT(ice_thickness_m),
     UNDATED},
    {.key = "wall_min_degC",
     .date_key = "wall_min_date",
     .label = "coldest wetted wall",
     .quantity = UF_QUANTITY_TEMPERATURE,
     AT(wall.degC),
     ON(wall.day)},
    {.key = "crown.min_degC",
     .date_key = "crown.date",
     .label = "coldest wall at the crown",
     .quantity = UF_QUANTITY_TEMPERATURE,
     AT(crown.degC),
     ON(crown.day)},
    {.key = "invert.min_degC",
     .date_key = "invert.date",
     .label = "coldest wall at the invert",
     .quantity = UF_QUANTITY_TEMPERATURE,
     AT(invert.degC),
     ON(invert.day)},
    {.key = "hold.most_W",
     .date_key = "hold.date",
     .label = "heat to keep the tank warm, the most",
     .quantity = UF_QUANTITY_POWER,
     AT(hold_most_W),
     ON(hold_most_day),
     .applies = is_held},
    {.key = "hold.total_kWh",
     .label = "heat to keep the tank warm, in all",
     .quantity = UF_QUANTITY_ENERGY,
     .per = 3.6e6,
     AT(hold_J),
     UNDATED,
     .applies = is_held},
    PLACE("probes", probes),
    PLACE("pipes", pipes),
    {.key = "riser_share_of_loss",
     .label = "risers, share of the tank's heat loss during frost",
     .quantity = UF_QUANTITY_SHARE,
     AT(riser_share),
     UNDATED},
    {.key = "heat_balance_relative",
     .label = "heat balance, share of the heat through the surface",
     .quantity = UF_QUANTITY_RESIDUAL,
     AT(heat_balance_relative),
     UNDATED},
    {.key = "side_effect_K",
     .label = "at the section's side, temperature still changes by",
     .quantity = UF_QUANTITY_DIFFERENCE,
     .role = UF_FACT_NUMERICS,
     AT(side_effect_K),
     UNDATED},
    {.key = "side_effect_m",
     .label = "at the section's side, frost depth still changes by",
     .quantity = UF_QUANTITY_THICKNESS,
     .role = UF_FACT_NUMERICS,
     AT(side_effect_m),
     UNDATED},
    {.key = "bottom_effect_K",
     .label = "the section's bottom can change temperatures by",
     .quantity = UF_QUANTITY_DIFFERENCE,
     .role = UF_FACT_NUMERICS,
     AT(bottom_effect_K),
     UNDATED},
    COUNTER("cells", cells, "cells"),
    COUNTER("steps", steps, "time steps"),
    COUNTER("right_hand_sides", rhs, "right-hand sides"),
    COUNTER("factorisations", factorisations, "factorisations"),
    COUNTER("newton_iterations", newton_iterations, "Newton iterations"),
    COUNTER("newton_failures", newton_failures, "Newton failures"),
    COUNTER("error_test_failures", error_test_failures, "failed error tests"),
    {.key = "simulated_days",
     .label = "days simulated, the start-up included",
     .quantity = UF_QUANTITY_WHOLE,
     .role = UF_FACT_NUMERICS,
     AT(counters.simulated_days),
     UNDATED},
    {.key = "seconds",
     .label = "CPU time",
     .quantity = UF_QUANTITY_TIME,
     .role = UF_FACT_MACHINE,
     AT(counters.cpu_s),
     UNDATED},
    {.key = NULL}};

/* The struct that holds one of it. */
static const char *holder(const struct uf_fact *fact, const struct uf_summary *s, size_t index)
{
    const char *start = (const char *)s;
    return fact->list == NULL ? start : start + fact->list->offset + index * fact->list->row_size;
}

static char *member(const struct uf_fact *fact, struct uf_summary *s, size_t index, size_t offset)
{
    char *start = (char *)s;
    return start + offset +
           (fact->list == NULL ? 0 : fact->list->offset + index * fact->list->row_size);
}

size_t uf_facts_count(const struct uf_fact *fact, const struct uf_summary *summary)
{
    size_t n = 1;
    if (fact->list != NULL) {
        memcpy(&n, (const char *)summary + fact->list->count_offset, sizeof n);
    }
    return n;
}

bool uf_facts_applies(const struct uf_fact *fact, const struct uf_summary *summary)
{
    return fact->applies == NULL || fact->applies(summary);
}

bool uf_facts_known(const struct uf_fact *fact, const struct uf_summary *summary, size_t index)
{
    switch (fact->type) {
    case UF_FACT_TEXT:
        return uf_facts_name(fact, summary, index)[0] != '\0';
    case UF_FACT_DAY:
        return uf_facts_day(fact, summary, index) != UF_NO_DAY;
    default:
        return isfinite(uf_facts_number(fact, summary, index));
    }
}

double uf_facts_number(const struct uf_fact *fact, const struct uf_summary *summary, size_t index)
{
    const char *at = holder(fact, summary, index) + fact->offset;
    double number = NAN;
    long whole = 0;
    bool yes = false;
    if (!uf_facts_applies(fact, summary)) {
        return NAN;
    }
    switch (fact->type) {
    case UF_FACT_DOUBLE:
        memcpy(&number, at, sizeof number);
        return number;
    case UF_FACT_LONG:
        memcpy(&whole, at, sizeof whole);
        return (double)whole;
    case UF_FACT_BOOL:
        memcpy(&yes, at, sizeof yes);
        return yes ? 1.0 : 0.0;
    default:
        return NAN;
    }
}

double uf_facts_value(const struct uf_fact *fact, const struct uf_summary *summary, size_t index)
{
    return uf_facts_number(fact, summary, index) / (fact->per > 0.0 ? fact->per : 1.0);
}

const char *uf_facts_unit(const struct uf_fact *fact)
{
    const struct uf_quantity_kind *kind = &uf_quantity_kinds[fact->quantity];
    return fact->type != UF_FACT_DOUBLE && fact->type != UF_FACT_LONG ? ""
           : fact->per > 0.0                                          ? kind->unit
                                                                      : kind->held;
}

long uf_facts_day(const struct uf_fact *fact, const struct uf_summary *summary, size_t index)
{
    const size_t offset = fact->type == UF_FACT_DAY ? fact->offset : fact->day_offset;
    long day = UF_NO_DAY;
    if (offset != NO_OFFSET && uf_facts_applies(fact, summary)) {
        memcpy(&day, holder(fact, summary, index) + offset, sizeof day);
    }
    return day;
}

const char *uf_facts_name(const struct uf_fact *fact, const struct uf_summary *summary,
                          size_t index)
{
    return fact->type == UF_FACT_TEXT ? holder(fact, summary, index) + fact->offset
           : fact->list == NULL       ? ""
                                      : holder(fact, summary, index) + fact->list->name_offset;
}

size_t uf_facts_find(const struct uf_fact *fact, const struct uf_summary *summary, const char *name)
{
    const size_t n = uf_facts_count(fact, summary);
    size_t i = 0;
    while (i < n && fact->list != NULL && strcmp(uf_facts_name(fact, summary, i), name) != 0) {
        i++;
    }
    return i;
}

char *uf_facts_key(char *text, size_t size, const char *key, size_t index)
{
    const char *brackets = strstr(key, "[]");
    if (brackets == NULL) {
        (void)snprintf(text, size, "%s", key);
    } else {
        (void)snprintf(text, size, "%.*s[%zu]%s", (int)(brackets - key), key, index, brackets + 2);
    }
    return text;
}

char *uf_facts_word(char *text, size_t size, const char *key, size_t index)
{
    size_t used = 0;
    (void)uf_facts_key(text, size, key, index);
    for (const char *from = text; *from != '\0'; from++) {
        if (*from != ']') {
            text[used++] = *from;
            text[used - 1] = strchr(".[", *from) != NULL ? '_' : *from;
        }
    }
    text[used] = '\0';
    return text;
}

void uf_facts_set_value(const struct uf_fact *fact, struct uf_summary *summary, size_t index,
                        double value)
{
    char *at = member(fact, summary, index, fact->offset);
    const double held = value * (fact->per > 0.0 ? fact->per : 1.0);
    const long whole = isfinite(value) && fabs(value) < 1e15 ? lround(value) : 0;
    const bool yes = whole != 0;
    switch (fact->type) {
    case UF_FACT_DOUBLE:
        memcpy(at, &held, sizeof held);
        break;
    case UF_FACT_LONG:
        memcpy(at, &whole, sizeof whole);
        break;
    case UF_FACT_BOOL:
        memcpy(at, &yes, sizeof yes);
        break;
    default:
        break;
    }
}

void uf_facts_set_day(const struct uf_fact *fact, struct uf_summary *summary, size_t index,
                      long day)
{
    const size_t offset = fact->type == UF_FACT_DAY ? fact->offset : fact->day_offset;
    if (offset != NO_OFFSET) {
        memcpy(member(fact, summary, index, offset), &day, sizeof day);
    }
}

void uf_facts_set_text(const struct uf_fact *fact, struct uf_summary *summary, size_t index,
                       const char *text)
{
    if (fact->type == UF_FACT_TEXT) {
        (void)snprintf(member(fact, summary, index, fact->offset), fact->size, "%s", text);
    }
}

void uf_facts_set_count(const struct uf_fact *fact, struct uf_summary *summary, size_t n)
{
    if (fact->list != NULL) {
        const size_t count = n < fact->list->most ? n : fact->list->most;
        memcpy((char *)summary + fact->list->count_offset, &count, sizeof count);
    }
}

void uf_facts_clear(struct uf_summary *summary)
{
    memset(summary, 0, sizeof *summary);
    for (const struct uf_fact *fact = uf_facts; fact->key != NULL; fact++) {
        const size_t n = fact->list == NULL ? 1 : fact->list->most;
        for (size_t i = 0; i < n; i++) {
            uf_facts_set_value(fact, summary, i, NAN);
            uf_facts_set_day(fact, summary, i, UF_NO_DAY);
        }
    }
}
