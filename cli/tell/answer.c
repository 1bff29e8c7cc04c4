#include "answer.h"

#include "solver/base/calendar.h"
#include "solver/design/case.h"

#include <cjson/cJSON.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

void uf_answer_number(cJSON *object, const char *key, double value)
{
    if (isfinite(value)) {
        (void)cJSON_AddNumberToObject(object, key, value);
    } else {
        (void)cJSON_AddNullToObject(object, key);
    }
}

void uf_answer_count(cJSON *object, const char *key, long value)
{
    (void)cJSON_AddNumberToObject(object, key, (double)value);
}

void uf_answer_bool(cJSON *object, const char *key, bool value)
{
    (void)cJSON_AddBoolToObject(object, key, value);
}

void uf_answer_text(cJSON *object, const char *key, const char *value)
{
    if (value != NULL) {
        (void)cJSON_AddStringToObject(object, key, value);
    } else {
        (void)cJSON_AddNullToObject(object, key);
    }
}

void uf_answer_date(cJSON *object, const char *key, long day)
{
    char text[24];

    uf_answer_text(object, key, day == UF_NO_DAY ? NULL : uf_calendar_text(day, text, sizeof text));
}

cJSON *uf_answer_object(cJSON *object, const char *key)
{
    return cJSON_AddObjectToObject(object, key);
}

cJSON *uf_answer_array(cJSON *object, const char *key)
{
    return cJSON_AddArrayToObject(object, key);
}

cJSON *uf_answer_item(cJSON *array)
{
    cJSON *item = cJSON_CreateObject();

    if (!cJSON_AddItemToArray(array, item)) {
        cJSON_Delete(item);
        return NULL;
    }
    return item;
}

enum uf_status uf_answer_print(cJSON *answer, struct uf_error *err)
{
    char *text = cJSON_Print(answer);

    cJSON_Delete(answer);
    if (text == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory while writing the answer");
    }
    const bool written = puts(text) >= 0 && fflush(stdout) == 0;
    cJSON_free(text);
    return written ? UF_OK
                   : uf_fail(err, UF_E_FILE, "the answer could not be written to standard output");
}
