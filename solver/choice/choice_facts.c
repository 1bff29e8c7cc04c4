#include "choice_facts.h"

#include "option.h"
#include "solver/design/foam.h"

#include <math.h>

#define VALUE(name, expression)                                                                    \
    static double name(const struct uf_choices_result *choices, size_t row)                        \
    {                                                                                              \
        const struct uf_choice *own = &choices->rows[row];                                         \
        return expression;                                                                         \
    }
VALUE(cover, own->cover_m)
VALUE(thickness, own->thickness_m)
VALUE(beyond, own->beyond_m)
VALUE(skirt, own->skirt_m)
VALUE(lid, own->lid_m2K_W)
VALUE(sleeve, own->sleeve_m)
VALUE(fill_over, own->fill_over_m)
VALUE(water, own->ran ? uf_limit_water_degC(uf_choice_summary(choices, row)) : (double)NAN)
VALUE(ice, own->ran ? uf_choice_summary(choices, row)->ice_share : (double)NAN)
VALUE(frost_above, own->ran ? uf_choice_summary(choices, row)->frost_above_m : (double)NAN)
VALUE(uplift, own->uplift.highest.factor_submerged)
VALUE(ballast, own->uplift.needed_ballast_m3)
VALUE(board_use, own->load.present ? own->load.board_use : (double)NAN)
VALUE(excavation, own->pit.excavation_m3)
VALUE(foam, own->pit.board_m3)
VALUE(cost, own->cost.total)

static const char *type(char *text, size_t size, const struct uf_choices_result *choices,
                        size_t row)
{
    (void)text;
    (void)size;
    return choices->rows[row].type != NULL ? choices->rows[row].type->name : NULL;
}

static const char *anchors(char *text, size_t size, const struct uf_choices_result *choices,
                           size_t row)
{
    return uf_option_anchors(text, size, &choices->designs[row]);
}

static const char *ends(char *text, size_t size, const struct uf_choices_result *choices,
                        size_t row)
{
    const struct uf_choice *own = &choices->rows[row];
    (void)text;
    (void)size;
    return !own->ran ? NULL : own->solid ? "three_dimensional" : "plane";
}

static size_t types(const struct uf_choices *choices)
{
    return choices->n_type;
}

static size_t all_anchors(const struct uf_choices *choices)
{
    return choices->n_anchors;
}

static size_t sleeves(const struct uf_choices *choices)
{
    return choices->n_sleeve;
}

#define KIND(word) .quantity = UF_QUANTITY_##word

const struct uf_choice_fact uf_choice_facts[] = {
    {.key = "cover_m", .head = "cover", KIND(LENGTH), .number = cover},
    {.key = "thickness_m", .head = "board", KIND(BOARD), .number = thickness},
    {.key = "beyond_tank_m", .head = "beyond\ntank", KIND(LENGTH), .board = true, .number = beyond},
    {.key = "skirt_m", KIND(LENGTH), .board = true, .number = skirt},
    {.key = "lid_m2K_W", KIND(RESISTANCE), .number = lid},
    {.key = "sleeve_m", .head = "sleeve", KIND(BOARD), .number = sleeve, .varied = sleeves},
    {.key = "backfill_above_crown_m", KIND(LENGTH), .number = fill_over},
    {.key = "ends", .word = ends},
    {.key = "water_min_degC",
     .head = "water\nor wall",
     KIND(TEMPERATURE),
     .heat = true,
     .number = water},
    {.key = "max_ice_fraction", KIND(SHARE), .heat = true, .number = ice},
    {.key = "frost_above_tank_m", KIND(LENGTH), .heat = true, .number = frost_above},
    {.key = "uplift_factor", .head = "uplift\nfactor", KIND(FACTOR), .number = uplift},
    {.key = "needed_ballast_m3", KIND(VOLUME), .number = ballast},
    {.key = "board_use", .head = "board\nuse", KIND(FACTOR), .number = board_use},
    {.key = "excavation_m3", KIND(VOLUME), .number = excavation},
    {.key = "board_m3", KIND(VOLUME), .number = foam},
    {.key = "cost", .head = "cost", KIND(WHOLE), .money = true, .number = cost},
    {.key = "board_type", .head = "type", .word = type, .varied = types},
    {.key = "anchors", .head = "anchors", .word = anchors, .varied = all_anchors},
    {.key = NULL}};
_Static_assert(sizeof uf_choice_facts / sizeof uf_choice_facts[0] <= UF_CHOICE_FACTS_MOST,
               "raise UF_CHOICE_FACTS_MOST");

double uf_choice_fact_number(const struct uf_choice_fact *fact,
                             const struct uf_choices_result *choices, size_t row)
{
    const bool idle = fact->board && !(choices->rows[row].thickness_m > 0.0);
    return idle || fact->number == NULL ? (double)NAN : fact->number(choices, row);
}

bool uf_choice_fact_has_column(const struct uf_choice_fact *fact, const struct uf_case *design)
{
    return fact->head != NULL && (!fact->money || design->costs.given) &&
           (fact->varied == NULL || fact->varied(&design->choices) > 1);
}
