#ifndef UF_CHOICE_FACTS_H
#define UF_CHOICE_FACTS_H

#include "choice.h"

/* What is told of each option: one row a number or word, told by one loop each in JSON, in the table
   on the terminal and in that of the report. */

struct uf_choice_fact {
    const char *key;  /* in JSON, with its SI unit last; NULL ends the table */
    const char *head; /* of its column, without its unit; NULL: has none */
    enum uf_quantity quantity;
    bool money; /* in the site's currency: no column where there are no prices */
    bool heat;  /* of a heat run, which may be that of a plane section */
    bool board; /* means nothing where there is no board */
    /* NAN: not known or not there. In SI. */
    double (*number)(const struct uf_choices_result *choices, size_t row);
    /* Else, of a word: it, or NULL where there is none. */
    const char *(*word)(char *text, size_t size, const struct uf_choices_result *choices,
                        size_t row);
    /* How many values the site lets it take; a column where there are more than one. NULL: always. */
    size_t (*varied)(const struct uf_choices *choices);
};

#define UF_CHOICE_FACTS_MOST 24 /* room for their columns; more rows do not compile */
extern const struct uf_choice_fact uf_choice_facts[];

/* Its number for a row, NAN where it does not apply; its word, NULL where it has none. */
double uf_choice_fact_number(const struct uf_choice_fact *fact,
                             const struct uf_choices_result *choices, size_t row);

/* Does it have a column for the options of that design? */
bool uf_choice_fact_has_column(const struct uf_choice_fact *fact, const struct uf_case *design);

#endif
