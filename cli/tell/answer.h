#ifndef UF_ANSWER_H
#define UF_ANSWER_H

#include "solver/base/error.h"

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

/* A new member of object, owned by it. */
cJSON *uf_answer_object(cJSON *object, const char *key);
cJSON *uf_answer_array(cJSON *object, const char *key);

/* A new object at the end of array, owned by it. */
cJSON *uf_answer_item(cJSON *array);

/* Prints the answer to standard output, ends the line, frees answer. Errors: UF_E_FILE
   when it could not be written, UF_E_MEMORY. */
enum uf_status uf_answer_print(cJSON *answer, struct uf_error *err);

#endif
