#include "remarks.h"

#include "io/text/show.h"

void uf_remarks_show(const struct uf_remarks *remarks, enum uf_units units)
{
    for (size_t i = 0; i < remarks->n; i++) {
        uf_show_line(stdout, i == 0 ? "mind" : "", "%s", UF_MESSAGE(units, &remarks->rows[i]));
    }
}

void uf_remarks_answer(cJSON *object, const struct uf_remarks *remarks)
{
    cJSON *list = uf_answer_array(object, "remarks");
    for (size_t i = 0; i < remarks->n; i++) {
        (void)cJSON_AddItemToArray(list, cJSON_CreateString(remarks->rows[i].text));
    }
}
