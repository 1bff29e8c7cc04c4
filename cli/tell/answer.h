#ifndef UF_ANSWER_H
#define UF_ANSWER_H

#include "solver/run/facts.h"

#include <cjson/cJSON.h>

#include <stdbool.h>

/* Helpers for the JSON answers: what is no number becomes null, days become ISO dates.
   Keys end in their unit. Failing for memory leaves the member out; uf_answer_print then
   still prints. */

/* null for NAN and infinity. */
void uf_answer_number(cJSON *object, const char *key, double value);

void uf_answer_count(cJSON *object, const char *key, long value);
void uf_answer_bool(cJSON *object, const char *key, bool value);

/* null for NULL. */
void uf_answer_text(cJSON *object, const char *key, const char *value);

/* "2014-03-02"; null for UF_NO_DAY. */
void uf_answer_date(cJSON *object, const char *key, long day);

/* answer_facts.c: every fact of the table at the path of its key; null where it is not known, a
   block that does not apply null as a whole. verbose: UF_FACT_MACHINE too. */
void uf_answer_facts(cJSON *object, const struct uf_fact *facts, const struct uf_summary *summary,
                     bool verbose);

/* The object that the last word of a path such as "risers[].frozen_m" belongs in, item index of a
   list, made where it is missing; last is that word. What does not apply makes no block: last is
   then the block that is missing. NULL: a block that is null already. */
cJSON *uf_answer_walk(cJSON *object, const char *path, size_t index, bool applies, char last[64]);

/* The list that such a path goes through, made where it is missing: it is there empty too. */
void uf_answer_list(cJSON *object, const char *path);

/* A new member of object, owned by it. */
cJSON *uf_answer_object(cJSON *object, const char *key);
cJSON *uf_answer_array(cJSON *object, const char *key);

/* A new object at the end of array, owned by it. */
cJSON *uf_answer_item(cJSON *array);

/* Prints the answer to standard output, ends the line, frees answer. Errors: UF_E_FILE
   when it could not be written, UF_E_MEMORY. */
enum uf_status uf_answer_print(cJSON *answer, struct uf_error *err);

#endif
