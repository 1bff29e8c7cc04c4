#ifndef UF_FACT_TEXT_H
#define UF_FACT_TEXT_H

#include "quantity.h"
#include "solver/run/facts.h"

/* A fact of a run for a person, in SI or US units; "-" for what is not known. All return text. */

/* What it is: "coldest water", "probe outlet, coldest". */
char *uf_fact_text_label(char *text, size_t size, const struct uf_fact *fact,
                         const struct uf_summary *summary, size_t index);

/* Its number with its unit, "yes" or "no", or its day. */
char *uf_fact_text(char *text, size_t size, const struct uf_fact *fact,
                   const struct uf_summary *summary, size_t index, enum uf_units units);

/* A day, such as uf_facts_day gives, as an ISO date. size at least 16. */
char *uf_fact_text_day(char *text, size_t size, long day);

/* Is there a line to write of it? Names stand in the labels; ground that froze and did not thaw is told. */
bool uf_fact_text_has(const struct uf_fact *fact, const struct uf_summary *summary, size_t index);

#endif
