#include "fact_text.h"

#include "solver/base/calendar.h"

#include <stdio.h>

char *uf_fact_text_label(char *text, size_t size, const struct uf_fact *fact,
                         const struct uf_summary *summary, size_t index)
{
    if (fact->list == NULL) {
        (void)snprintf(text, size, "%s", fact->label);
    } else {
        (void)snprintf(text, size, "%s %s, %s", fact->list->label,
                       uf_facts_name(fact, summary, index), fact->label);
    }
    return text;
}

char *uf_fact_text(char *text, size_t size, const struct uf_fact *fact,
                   const struct uf_summary *summary, size_t index, enum uf_units units)
{
    if (fact->type == UF_FACT_DAY && uf_facts_applies(fact, summary) &&
        !uf_facts_known(fact, summary, index)) {
        (void)snprintf(text, size, "not in the run");
    } else if (!uf_facts_known(fact, summary, index)) {
        (void)snprintf(text, size, "-");
    } else if (fact->type == UF_FACT_DAY) {
        return uf_fact_text_day(text, size, uf_facts_day(fact, summary, index));
    } else if (fact->type == UF_FACT_BOOL) {
        (void)snprintf(text, size, "%s",
                       uf_facts_number(fact, summary, index) > 0.0 ? "yes" : "no");
    } else {
        return uf_quantity_text(text, size, fact->quantity, units,
                                uf_facts_number(fact, summary, index));
    }
    return text;
}

char *uf_fact_text_day(char *text, size_t size, long day)
{
    if (day == UF_NO_DAY) {
        (void)snprintf(text, size, "-");
        return text;
    }
    return uf_calendar_text(day, text, size);
}

bool uf_fact_text_has(const struct uf_fact *fact, const struct uf_summary *summary, size_t index)
{
    return fact->type != UF_FACT_TEXT &&
           (uf_facts_known(fact, summary, index) ||
            (fact->type == UF_FACT_DAY && uf_facts_applies(fact, summary)));
}
