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

#define SIZE_OF(type, member) sizeof(((struct type *)NULL)->member)

/* A number of the summary; DATED: with its day. */
#define MEMBER(member)                                                                             \
    .offset = offsetof(struct uf_summary, member), .size = SIZE_OF(uf_summary, member)
#define NUMBER(path, words, heading, kind, member)                                                 \
    {                                                                                              \
        .key = path, .label = words, .head = heading, .quantity = UF_QUANTITY_##kind,              \
        MEMBER(member)                                                                             \
    }
#define DATED(path, date_path, words, heading, kind, member, day)                                  \
    {                                                                                              \
        .key = path, .date_key = date_path, .label = words, .head = heading,                       \
        .quantity = UF_QUANTITY_##kind, MEMBER(member),                                            \
        .day_offset = offsetof(struct uf_summary, day)                                             \
    }
#define NUMERIC(path, words, kind, member)                                                         \
    {                                                                                              \
        .key = path, .label = words, .quantity = UF_QUANTITY_##kind, .role = UF_FACT_NUMERICS,     \
        MEMBER(member)                                                                             \
    }
#define COUNTER(path, words, member)                                                               \
    {                                                                                              \
        .key = path, .label = words, .quantity = UF_QUANTITY_WHOLE, .type = UF_FACT_LONG,          \
        .role = UF_FACT_NUMERICS, MEMBER(counters.member)                                          \
    }

/* One of what is told of each row in a list, of structs of that type. */
#define OF_ROW(path, words, kind, type_of, row, member, list_of)                                   \
    {                                                                                              \
        .key = path, .label = words, .quantity = UF_QUANTITY_##kind, .type = UF_FACT_##type_of,    \
        .offset = offsetof(struct row, member), .size = SIZE_OF(row, member), .list = &(list_of)   \
    }
#define COLDEST(path, heading, row, list_of)                                                       \
    {                                                                                              \
        .key = path ".min_degC", .date_key = path ".min_date", .label = "coldest",                 \
        .head = heading, .quantity = UF_QUANTITY_TEMPERATURE,                                      \
        .offset = offsetof(struct row, least.degC), .size = sizeof(double),                        \
        .day_offset = offsetof(struct row, least.day), .list = &(list_of)                          \
    }
#define PLACES(path, heading, list_of)                                                             \
    OF_ROW(path "[].name", "name", WHOLE, TEXT, uf_probe_summary, name, list_of),                  \
        COLDEST(path "[]", heading, uf_probe_summary, list_of),                                    \
        OF_ROW(path "[].days_below_zero", "days below freezing", WHOLE, LONG, uf_probe_summary,    \
               days_below_zero, list_of),                                                          \
        OF_ROW(path "[].limit_degC", "limit", TEMPERATURE, DOUBLE, uf_probe_summary, limit_degC,   \
               list_of)
#define OF_STANDPIPE(key, words, kind, type_of, member)                                            \
    OF_ROW("standpipes[]." key, words, kind, type_of, uf_standpipe_summary, member, standpipes)

#define LIST(words, type, member, count, most_of)                                                  \
    {                                                                                              \
        .label = words, .offset = offsetof(struct uf_summary, member),                             \
        .count_offset = offsetof(struct uf_summary, count), .row_size = sizeof(struct type),       \
        .most = most_of, .name_offset = offsetof(struct type, name)                                \
    }
static const struct uf_fact_list probes =
    LIST("probe", uf_probe_summary, probes, n_probes, UF_MAX_PROBES);
static const struct uf_fact_list pipes =
    LIST("pipe", uf_probe_summary, pipes, n_pipes, UF_MAX_PIPES);
static const struct uf_fact_list standpipes =
    LIST("standpipe", uf_standpipe_summary, standpipes, n_standpipes, UF_MAX_STANDPIPES);

const struct uf_fact uf_facts[] = {
    {.key = "frost_depth.undisturbed.max_m",
     .date_key = "frost_depth.undisturbed.date",
     .label = "frost depth, undisturbed ground",
     .head = "frost\ndepth",
     .day_head = "on",
     .quantity = UF_QUANTITY_LENGTH,
     MEMBER(frost_undisturbed_m),
     .day_offset = offsetof(struct uf_summary, frost_undisturbed_day)},
    NUMBER("frost_depth.without_snow_m", "the same with no snow lying", UF_FACT_MAIN, LENGTH,
           frost_without_snow_m),
    NUMBER("frost_depth.berggren_m", "the same by the modified Berggren formula, no snow",
           UF_FACT_MAIN, LENGTH, berggren_m),
    NUMBER("frost_depth.relations_m", "the same by published relations with the index, no snow",
           UF_FACT_MAIN, LENGTH, relations_m),
    DATED("frost_depth.above_tank.max_m", "frost_depth.above_tank.date",
          "frost depth above the tank", "over\ntank", LENGTH, frost_above_m, frost_above_day),
    {.key = "frost_depth.above_tank.reaches_tank",
     .label = "frost reaches the tank",
     .type = UF_FACT_BOOL,
     MEMBER(frost_reaches_tank),
     .applies = has_tank},
    {.key = "thaw_out_date",
     .label = "undisturbed ground thawed by",
     .type = UF_FACT_DAY,
     MEMBER(thaw_out_day),
     .applies = froze},
    DATED("water.min_degC", "water.date", "coldest water", "coldest\nwater", TEMPERATURE,
          water.degC, water.day),
    NUMBER("water.max_ice_fraction", "ice, largest share of the water", "ice\n%", SHARE, ice_share),
    NUMBER("water.ice_thickness_m", "ice, thickest at the top (even on the wall, if not layered)",
           NULL, THICKNESS, ice_thickness_m),
    DATED("water.outlet_min_degC", "water.outlet_date", "water at the outlet", UF_FACT_MAIN,
          TEMPERATURE, outlet.degC, outlet.day),
    DATED("wall_min_degC", "wall_min_date", "coldest wetted wall", "coldest\nwall", TEMPERATURE,
          wall.degC, wall.day),
    DATED("crown.min_degC", "crown.date", "coldest wall at the crown", NULL, TEMPERATURE,
          crown.degC, crown.day),
    DATED("invert.min_degC", "invert.date", "coldest wall at the invert", NULL, TEMPERATURE,
          invert.degC, invert.day),
    {.key = "hold.most_W",
     .date_key = "hold.date",
     .label = "heat to keep the tank warm, the most",
     .quantity = UF_QUANTITY_POWER,
     MEMBER(hold_most_W),
     .day_offset = offsetof(struct uf_summary, hold_most_day),
     .applies = is_held},
    {.key = "hold.total_kWh",
     .label = "heat to keep the tank warm, in all",
     .quantity = UF_QUANTITY_ENERGY,
     .per = 3.6e6,
     MEMBER(hold_J),
     .applies = is_held},
    PLACES("probes", NULL, probes),
    PLACES("pipes", UF_FACT_MAIN, pipes),
    OF_STANDPIPE("name", "name", WHOLE, TEXT, name),
    COLDEST("standpipes[]", UF_FACT_MAIN, uf_standpipe_summary, standpipes),
    OF_STANDPIPE("max_ice_fraction", "ice, most of its bore", SHARE, DOUBLE, ice_share),
    OF_STANDPIPE("days_shut", "days frozen shut", WHOLE, LONG, shut_days),
    OF_STANDPIPE("sleeve_m", "least sleeve that keeps it open", THICKNESS, DOUBLE, sleeve_m),
    OF_STANDPIPE("sleeve_length_m", "its length from grade", LENGTH, DOUBLE, sleeve_length_m),
    NUMBER("riser_share_of_loss", "risers, share of the tank's heat loss during frost", NULL, SHARE,
           riser_share),
    NUMBER("standpipe_share_of_loss", "standpipes, share of the tank's heat loss during frost",
           NULL, SHARE, standpipe_share),
    NUMBER("heat_balance_relative", "heat balance, share of the heat through the surface", NULL,
           RESIDUAL, heat_balance_relative),
    NUMERIC("groundwater.in_m", "groundwater, depth of water the ground took up", LENGTH,
            groundwater_in_m),
    NUMERIC("groundwater.out_m", "groundwater, depth of water the ground gave off", LENGTH,
            groundwater_out_m),
    NUMERIC("groundwater.heat_relative", "groundwater, its heat for the heat through the surface",
            SHARE, groundwater_heat),
    NUMERIC("side_effect_K", "at the section's side, temperature still changes by", DIFFERENCE,
            side_effect_K),
    NUMERIC("side_effect_m", "at the section's side, frost depth still changes by", THICKNESS,
            side_effect_m),
    NUMERIC("bottom_effect_K", "the section's bottom can change temperatures by", DIFFERENCE,
            bottom_effect_K),
    NUMERIC("startup_left_K", "the start may still be off the settled mean year by", DIFFERENCE,
            startup_left_K),
    NUMERIC("published.air_index_degC_day", "published depths: air freezing index of the run",
            INDEX, published_air_Kday),
    NUMERIC("published.surface_index_degC_day", "published depths: index of its surface, no snow",
            INDEX, published_surface_Kday),
    NUMERIC("published.freezing_days", "published depths: days of freezing", WHOLE, published_days),
    NUMERIC("published.annual_degC", "published depths: mean annual temperature", TEMPERATURE,
            published_annual_degC),
    NUMERIC("published.film_m2K_W", "published depths: film over the ground", RESISTANCE,
            published_film_m2K_W),
    COUNTER("cells", "cells", cells),
    COUNTER("steps", "time steps", steps),
    COUNTER("right_hand_sides", "right-hand sides", rhs),
    COUNTER("factorisations", "factorisations", factorisations),
    COUNTER("newton_iterations", "Newton iterations", newton_iterations),
    COUNTER("newton_failures", "Newton failures", newton_failures),
    COUNTER("error_test_failures", "failed error tests", error_test_failures),
    NUMERIC("simulated_days", "days simulated, the start-up included", WHOLE,
            counters.simulated_days),
    {.key = "seconds",
     .label = "CPU time",
     .quantity = UF_QUANTITY_TIME,
     .role = UF_FACT_MACHINE,
     MEMBER(counters.cpu_s)},
    {.key = NULL}};

/* Where in the summary one of it stands. */
static size_t place(const struct uf_fact *fact, size_t index, size_t offset)
{
    return offset + (fact->list == NULL ? 0 : fact->list->offset + index * fact->list->row_size);
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
    const char *at = (const char *)summary + place(fact, index, fact->offset);
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

/* Where its day stands; false: it has none. */
static bool find_day(const struct uf_fact *fact, size_t index, size_t *offset)
{
    *offset = place(fact, index, fact->type == UF_FACT_DAY ? fact->offset : fact->day_offset);
    return fact->type == UF_FACT_DAY || fact->date_key != NULL;
}

long uf_facts_day(const struct uf_fact *fact, const struct uf_summary *summary, size_t index)
{
    size_t offset = 0;
    long day = UF_NO_DAY;
    if (find_day(fact, index, &offset) && uf_facts_applies(fact, summary)) {
        memcpy(&day, (const char *)summary + offset, sizeof day);
    }
    return day;
}

const char *uf_facts_name(const struct uf_fact *fact, const struct uf_summary *summary,
                          size_t index)
{
    return fact->type == UF_FACT_TEXT ? (const char *)summary + place(fact, index, fact->offset)
           : fact->list == NULL
               ? ""
               : (const char *)summary + place(fact, index, fact->list->name_offset);
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
    char *at = (char *)summary + place(fact, index, fact->offset);
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
    size_t offset = 0;
    if (find_day(fact, index, &offset)) {
        memcpy((char *)summary + offset, &day, sizeof day);
    }
}

void uf_facts_set_text(const struct uf_fact *fact, struct uf_summary *summary, size_t index,
                       const char *text)
{
    if (fact->type == UF_FACT_TEXT) {
        (void)snprintf((char *)summary + place(fact, index, fact->offset), fact->size, "%s", text);
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
