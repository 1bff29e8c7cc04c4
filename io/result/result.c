#include "result.h"

#include "solver/run/facts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The texts a result may own, so that they are freed in one loop. */
#define TEXT_COUNT 9

void uf_result_init(struct uf_result *result)
{
    memset(result, 0, sizeof *result);
    uf_result_design_clear(&result->design);
    uf_facts_clear(&result->summary);
    uf_facts_clear(&result->summary_without_board);
    result->facts = uf_facts;
    result->pick = -1;
    result->design_index_degC_day = result->uplift_factor = NAN;
}

void uf_result_free(struct uf_result *result)
{
    if (result == NULL) {
        return;
    }
    char *const texts[TEXT_COUNT] = {result->title,     result->version,      result->command_line,
                                     result->site_text, result->summary_json, result->libraries,
                                     result->station,   result->winter_text,  result->site_changes};
    for (size_t i = 0; i < TEXT_COUNT; i++) {
        free(texts[i]);
    }
    uf_record_free(result->record);
    uf_record_free(result->without_board);
    free(result->choices);
    free(result->cases);
    free(result->levels);
    free(result->winters);
    free(result->returns);
    free(result->days);
    free(result);
}
