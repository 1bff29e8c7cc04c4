#include "answer.h"

#include <stdio.h>
#include <string.h>

/* The member of that name, made where it is missing or null. */
static cJSON *member(cJSON *object, const char *name, bool array)
{
    cJSON *found = cJSON_GetObjectItemCaseSensitive(object, name);
    if (found != NULL && cJSON_IsNull(found)) {
        cJSON_DeleteItemFromObjectCaseSensitive(object, name);
        found = NULL;
    }
    if (found == NULL) {
        found = array ? uf_answer_array(object, name) : uf_answer_object(object, name);
    }
    return found;
}

cJSON *uf_answer_walk(cJSON *object, const char *path, size_t index, bool applies, char last[64])
{
    for (size_t length = strcspn(path, "."); object != NULL; length = strcspn(path, ".")) {
        const bool array = length > 2 && strncmp(path + length - 2, "[]", 2) == 0;
        (void)snprintf(last, 64, "%.*s", (int)(array ? length - 2 : length), path);
        if (path[length] == '\0') {
            return object;
        }
        const cJSON *there = cJSON_GetObjectItemCaseSensitive(object, last);
        if (!applies && (there == NULL || cJSON_IsNull(there))) {
            return there == NULL ? object : NULL;
        }
        object = member(object, last, array);
        if (array) {
            cJSON *item = cJSON_GetArrayItem(object, (int)index);
            object = item != NULL ? item : uf_answer_item(object);
        }
        path += length + 1;
    }
    return NULL;
}

void uf_answer_list(cJSON *object, const char *path)
{
    char name[64];
    const size_t length = strcspn(path, ".[");
    if (path[length] == '[') { /* one within a block is made with its items */
        (void)snprintf(name, sizeof name, "%.*s", (int)length, path);
        (void)member(object, name, true);
    }
}

static void put_value(cJSON *object, const char *name, const struct uf_fact *fact,
                      const struct uf_summary *s, size_t i)
{
    if (!uf_facts_known(fact, s, i)) {
        (void)cJSON_AddNullToObject(object, name);
    } else if (fact->type == UF_FACT_TEXT) {
        uf_answer_text(object, name, uf_facts_name(fact, s, i));
    } else if (fact->type == UF_FACT_DAY) {
        uf_answer_date(object, name, uf_facts_day(fact, s, i));
    } else if (fact->type == UF_FACT_BOOL) {
        uf_answer_bool(object, name, uf_facts_number(fact, s, i) > 0.0);
    } else {
        uf_answer_number(object, name, uf_facts_value(fact, s, i));
    }
}

static void put_fact(cJSON *answer, const struct uf_fact *fact, const struct uf_summary *s,
                     size_t i)
{
    char name[64];
    const bool applies = uf_facts_applies(fact, s);
    cJSON *object = uf_answer_walk(answer, fact->key, i, applies, name);
    if (object != NULL) {
        put_value(object, name, fact, s, i);
    }
    object =
        fact->date_key == NULL ? NULL : uf_answer_walk(answer, fact->date_key, i, applies, name);
    if (object != NULL) {
        uf_answer_date(object, name, uf_facts_day(fact, s, i));
    }
}

void uf_answer_facts(cJSON *object, const struct uf_fact *facts, const struct uf_summary *summary,
                     bool verbose)
{
    for (const struct uf_fact *fact = facts; fact->key != NULL; fact++) {
        if (fact->role == UF_FACT_MACHINE && !verbose) {
            continue;
        }
        if (fact->list != NULL) {
            uf_answer_list(object, fact->key);
        }
        for (size_t i = 0; i < uf_facts_count(fact, summary); i++) {
            put_fact(object, fact, summary, i);
        }
    }
}
