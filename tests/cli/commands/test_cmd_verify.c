#include "cli/verify/verify.h"

#include <cjson/cJSON.h>
#include <criterion/criterion.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

/* What the program prints on both streams; *code is its exit code. Free the text. */
static char *output_of(const char *arguments, int *code)
{
    char command[2048];
    char *text = calloc(1, 1 << 20);
    (void)snprintf(command, sizeof command, "'%s' verify %s 2>&1", UF_PROGRAM, arguments);
    FILE *pipe = popen(command, "r");
    cr_assert(pipe != NULL && text != NULL);
    text[fread(text, 1, (1 << 20) - 1, pipe)] = '\0';
    const int status = pclose(pipe);
    *code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return text;
}

Test(cmd_verify, json_holds_every_member_of_the_contract)
{
    int code = -1;
    char *text = output_of("--json index", &code);
    cJSON *answer = cJSON_Parse(text);
    const cJSON *checks = cJSON_GetObjectItem(answer, "checks");
    const cJSON *row = NULL;
    cr_assert(code == 0 && cJSON_GetArraySize(checks) == 6, "%s", text);
    cJSON_ArrayForEach(row, checks)
    {
        const double got = cJSON_GetNumberValue(cJSON_GetObjectItem(row, "got"));
        const double want = cJSON_GetNumberValue(cJSON_GetObjectItem(row, "expected"));
        const double most = cJSON_GetNumberValue(cJSON_GetObjectItem(row, "allowed"));
        const char *name = cJSON_GetStringValue(cJSON_GetObjectItem(row, "name"));
        const char *source = cJSON_GetStringValue(cJSON_GetObjectItem(row, "source"));
        cr_expect(name != NULL && strncmp(name, "index.", 6) == 0);
        cr_expect(source != NULL && strlen(source) > 10);
        cr_expect(cJSON_IsTrue(cJSON_GetObjectItem(row, "ok")) == (fabs(got - want) <= most));
    }
    cJSON_Delete(answer);
    free(text);
}

Test(cmd_verify, a_name_chooses_and_the_table_fits)
{
    int code = -1;
    char *text = output_of("neumann.N1 --integrator reference", &code);
    cr_expect(code == 0 && strstr(text, "neumann.N1.front_60d.reference") != NULL);
    cr_expect(strstr(text, "neumann.N2") == NULL, "another set is shown");
    cr_expect(strstr(text, "Carslaw") != NULL, "no source is shown");
    cr_expect(strstr(text, "3 checks, 0 failed") != NULL, "%s", text);
    for (const char *line = text; line != NULL && *line != '\0';) {
        const char *end = strchr(line, '\n');
        const size_t length = end != NULL ? (size_t)(end - line) : strlen(line);
        cr_expect(length <= 80, "too wide: %.*s", (int)length, line);
        line = end != NULL ? end + 1 : NULL;
    }
    free(text);
}

Test(cmd_verify, list_names_every_topic)
{
    int code = -1;
    char *text = output_of("--list", &code);
    cr_expect(code == 0);
    for (size_t k = 0; uf_verify_topics[k] != NULL; k++) {
        cr_expect(strstr(text, uf_verify_topics[k]->name) != NULL, "%s is missing",
                  uf_verify_topics[k]->name);
    }
    free(text);
}

Test(cmd_verify, an_unknown_check_is_refused_with_the_nearest)
{
    int code = -1;
    char *text = output_of("newmann", &code);
    cr_expect(code == 2 && strstr(text, "neumann") != NULL && strstr(text, "--list"), "%d: %s",
              code, text);
    free(text);
    text = output_of("index.nothing_of_the_kind", &code);
    cr_expect(code == 2, "%d: %s", code, text);
    free(text);
    text = output_of("index --integrator euler", &code);
    cr_expect(code == 2 && strstr(text, "reference") != NULL, "%d: %s", code, text);
    free(text);
}
