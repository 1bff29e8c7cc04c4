#ifndef UF_FACTS_H
#define UF_FACTS_H

#include "record.h"
#include "solver/base/quantity_kind.h"

/* The facts: every number that a run answers with is one row of uf_facts, and every member of struct
   uf_summary belongs to one. JSON, text, CSV, result file, report and comparison are each one loop
   over a table of facts, ended by a row without a key: whoever adds a member adds a row, and it is
   told everywhere. */

enum uf_fact_type { UF_FACT_DOUBLE, UF_FACT_LONG, UF_FACT_BOOL, UF_FACT_DAY, UF_FACT_TEXT };

/* Where a fact is told. */
enum uf_fact_role {
    UF_FACT_ANSWER,   /* everywhere */
    UF_FACT_NUMERICS, /* what the answer rests on: text only where it is asked for, else everywhere */
    UF_FACT_MACHINE   /* another one in each run: text and JSON where asked for, nowhere else */
};

/* Several of a kind, such as the probes: an array of structs in the summary, with its count. */
struct uf_fact_list {
    const char *label; /* of one of them: "probe" */
    size_t offset, count_offset, row_size, most;
    size_t name_offset; /* of the name, a text, in one of them */
};

struct uf_fact {
    const char *key;      /* its path in JSON: "water.min_degC", "probes[].min_degC"; NULL ends */
    const char *date_key; /* the same of its date; NULL: has none */
    const char *label;    /* for a person, without its unit */
    const char *head, *day_head; /* of its column, and of its date's, in a table of winters. A fact
                                    that has one is told in the report's body; NULL: in no short
                                    list, UF_FACT_MAIN: in the body, without a column */
    enum uf_quantity quantity;   /* of DOUBLE and LONG */
    enum uf_fact_type type;
    enum uf_fact_role role;
    double per; /* the unit in the key over the one held: kWh, not J; 0: the same */
    size_t offset, size, day_offset;                   /* in the summary, or in one of the list */
    const struct uf_fact_list *list;                   /* NULL: there is one of it */
    bool (*applies)(const struct uf_summary *summary); /* NULL: where its number is one */
};

#define UF_FACT_MAIN ""

extern const struct uf_fact uf_facts[];

/* How many there are of it: 1, or as many as the list has. */
size_t uf_facts_count(const struct uf_fact *fact, const struct uf_summary *summary);

/* Does it apply at all? Of bare ground there is no frost that reaches a tank. */
bool uf_facts_applies(const struct uf_fact *fact, const struct uf_summary *summary);

/* Is there something to tell? Not where it does not apply, or is no number. */
bool uf_facts_known(const struct uf_fact *fact, const struct uf_summary *summary, size_t index);

/* Its number as held, in SI; of a bool 0 or 1; NAN where it is not known, and of texts and days. */
double uf_facts_number(const struct uf_fact *fact, const struct uf_summary *summary, size_t index);

/* The same in the unit that its key ends in, and that unit as CSV tells it; "" for what has none. */
double uf_facts_value(const struct uf_fact *fact, const struct uf_summary *summary, size_t index);
const char *uf_facts_unit(const struct uf_fact *fact);

/* Its date, or of a UF_FACT_DAY the day itself; UF_NO_DAY where it has none. */
long uf_facts_day(const struct uf_fact *fact, const struct uf_summary *summary, size_t index);

/* Of a UF_FACT_TEXT the text; else the name of the one in the list, "" where there is no list.
   Borrowed from the summary. */
const char *uf_facts_name(const struct uf_fact *fact, const struct uf_summary *summary,
                          size_t index);

/* Where in the list the one of that name is; the count where there is none. */
size_t uf_facts_find(const struct uf_fact *fact, const struct uf_summary *summary,
                     const char *name);

/* A key, or a date_key, of one of them: "probes[0].min_degC"; and the same as one word, for names that
   take no points: "frost_depth_undisturbed_max_m", "probes_0_min_degC". Returns text. */
char *uf_facts_key(char *text, size_t size, const char *key, size_t index);
char *uf_facts_word(char *text, size_t size, const char *key, size_t index);

/* Writing, for a reader of kept results; what is of another type stays as it is. value: as
   uf_facts_value gives it. A count beyond what the list holds is cut. */
void uf_facts_set_value(const struct uf_fact *fact, struct uf_summary *summary, size_t index,
                        double value);
void uf_facts_set_day(const struct uf_fact *fact, struct uf_summary *summary, size_t index,
                      long day);
void uf_facts_set_text(const struct uf_fact *fact, struct uf_summary *summary, size_t index,
                       const char *text);
void uf_facts_set_count(const struct uf_fact *fact, struct uf_summary *summary, size_t n);

/* A summary in which nothing is known. */
void uf_facts_clear(struct uf_summary *summary);

#endif
