#include "cli/tell/answer.h"
#include "solver/design/case.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

Test(answer, what_is_no_number_is_null)
{
    cJSON *answer = cJSON_CreateObject();

    uf_answer_number(answer, "water_degC", 1.25);
    uf_answer_number(answer, "cover_m", NAN);
    uf_answer_number(answer, "factor", INFINITY);
    uf_answer_text(answer, "governs", NULL);
    uf_answer_count(answer, "cells", 1234);
    uf_answer_bool(answer, "ok", false);
    char *text = cJSON_PrintUnformatted(answer);
    cr_expect_str_eq(text, "{\"water_degC\":1.25,\"cover_m\":null,\"factor\":null,"
                           "\"governs\":null,\"cells\":1234,\"ok\":false}");
    cJSON_free(text);
    cJSON_Delete(answer);
}

Test(answer, nesting)
{
    cJSON *answer = cJSON_CreateObject();
    cJSON *list = uf_answer_array(answer, "probes");

    uf_answer_text(uf_answer_item(list), "name", "outlet \"A\"");
    uf_answer_text(uf_answer_item(list), "name", "B");
    uf_answer_count(uf_answer_object(answer, "grid"), "cells", 7);
    char *text = cJSON_PrintUnformatted(answer);
    cr_expect_str_eq(text, "{\"probes\":[{\"name\":\"outlet \\\"A\\\"\"},{\"name\":\"B\"}],"
                           "\"grid\":{\"cells\":7}}");
    cJSON_free(text);
    cJSON_Delete(answer);
}

/* A number survives the way through text to the last digit. */
Test(answer, numbers_come_back_whole)
{
    static const double values[] = {0.1, 1.0 / 3.0, -273.15, 6.02214076e23, 5e-324, 123456789.125};

    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        cJSON *answer = cJSON_CreateObject();
        uf_answer_number(answer, "x", values[i]);
        char *text = cJSON_PrintUnformatted(answer);
        cJSON *back = cJSON_Parse(text);
        cr_expect_eq(cJSON_GetObjectItem(back, "x")->valuedouble, values[i], "%s", text);
        cJSON_Delete(back);
        cJSON_free(text);
        cJSON_Delete(answer);
    }
}

Test(answer, days_become_dates)
{
    cJSON *answer = cJSON_CreateObject();

    uf_answer_date(answer, "a", 0);
    uf_answer_date(answer, "b", 11016); /* 2000-02-29: 10957 days to 2000-01-01, and 59 */
    uf_answer_date(answer, "c", UF_NO_DAY);
    char *text = cJSON_PrintUnformatted(answer);
    cr_expect_str_eq(text, "{\"a\":\"1970-01-01\",\"b\":\"2000-02-29\",\"c\":null}");
    cJSON_free(text);
    cJSON_Delete(answer);
}
