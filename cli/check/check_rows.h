#ifndef UF_CHECK_ROWS_H
#define UF_CHECK_ROWS_H

#include "check.h"
#include "io/report/report.h"
#include "solver/base/quantity_kind.h"

#include <stddef.h>

/* A number of a topic is one row: its key in JSON, its words, its kind and how it is worked. The text
   of check, its JSON and the report's tables are one loop each over the rows. */

enum uf_check_type { UF_CHECK_NUMBER, UF_CHECK_YES, UF_CHECK_TEXT };

/* Several of a kind, such as risers. */
struct uf_check_list {
    size_t (*count)(const struct uf_check *check);
    bool table; /* its rows are the columns of one table; else each is a line for itself */
};

/* What the writer of the program knows a clause from. */
#define UF_CHECK_READ   "read"
#define UF_CHECK_QUOTED "read as quoted"
#define UF_CHECK_MEMORY "from memory"
#define UF_CHECK_SITE   "site file"
#define UF_CHECK_COMMON "common practice"

/* What a code asks of a row's number, a line in the report's list of clauses. */
struct uf_check_clause {
    const char *code;    /* its name and place */
    const char *what;    /* what is judged; NULL: the row's label */
    const char *known;   /* a UF_CHECK_ word above */
    const char *numbers; /* the same of its numbers; NULL: as the clause */
    bool at_most;        /* no more than is required; else no less */
    double (*required)(const struct uf_check *check, size_t i); /* NAN: nothing */
    /* What item i of a list says in its own way; text is room for its words. NULL: nothing. */
    void (*item)(struct uf_check_clause *clause, char *text, size_t size,
                 const struct uf_check *check, size_t i);
};

/* One clause beside what is provided, NAN: it does not apply. */
struct uf_check_claim {
    struct uf_check_clause clause;
    enum uf_quantity quantity;
    double required, provided;
};

struct uf_check_row {
    const char *key;   /* its path in the topic's object: "flow_m3_s", "risers[].frozen_m"; NULL: no
                          member of it */
    const char *label; /* for a person; NULL: in JSON alone. A row without key and label ends */
    enum uf_quantity quantity; /* of a NUMBER */
    enum uf_check_type type;
    size_t offset, step; /* of the member in struct uf_check, and of the next in its list */
    double scale;        /* a NUMBER times this has the unit in the key; 0: the same */
    /* In place of a member. */
    double (*number)(const struct uf_check *check, size_t i);
    bool (*yes)(const struct uf_check *check);
    const char *(*text)(const struct uf_check *check, size_t i); /* of a TEXT; NULL: none */
    /* Does it apply at all; is it worth a line? NULL: it does, it is. */
    bool (*applies)(const struct uf_check *check);
    bool (*told)(const struct uf_check *check);
    /* How it is worked and judged, what stands behind the value; NULL: by note, NULL: nothing. */
    void (*worked)(char *text, size_t size, const struct uf_check *check, size_t i);
    const char *note;
    const struct uf_check_list *list;     /* NULL: there is one of it */
    const struct uf_check_clause *clause; /* NULL: no code asks anything of it */
};
#define UF_CHECK_FOUND(member) .offset = offsetof(struct uf_check, member)
/* The same of item i of an array there. */
#define UF_CHECK_EACH(array, member)                                                               \
    .offset = offsetof(struct uf_check, array[0].member),                                          \
    .step = sizeof(((struct uf_check *)NULL)->array[0])

/* For the rows: a value, a condition and the words behind a value, of `check` and, in a list, its item
   i; of the last the body follows and fills `text`. */
#define UF_CHECK_VALUE(type, name, expression)                                                     \
    static type name(const struct uf_check *check, size_t i)                                       \
    {                                                                                              \
        (void)check, (void)i;                                                                      \
        return expression;                                                                         \
    }
#define UF_CHECK_WHERE(name, condition)                                                            \
    static bool name(const struct uf_check *check)                                                 \
    {                                                                                              \
        return condition;                                                                          \
    }
#define UF_CHECK_WORDS(name)                                                                       \
    static void name(char *text, size_t size, const struct uf_check *check,                        \
                     size_t i __attribute__((unused)))

void uf_check_rows_answer(cJSON *object, const struct uf_check_row *rows,
                          const struct uf_check *check);

/* Lines and tables. report NULL: on the terminal, with the topic's cautions after them; else the main
   rows, the first caution in the caption. */
void uf_check_rows_tell(struct uf_report *report, const struct uf_check_topic *topic,
                        const struct uf_check *check);

/* Each clause of the rows that are told, and what is provided. */
void uf_check_rows_clauses(const struct uf_check_row *rows, const struct uf_check *check,
                           void (*tell)(const void *to, const struct uf_check_claim *claim),
                           const void *to);

/* For told: in check's own text alone. */
bool uf_check_rows_in_full(const struct uf_check *check);

#endif
