#include "cli/command.h"

#include <criterion/criterion.h>

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

Test(command, every_row_is_complete_and_found_by_its_name)
{
    for (size_t i = 0; uf_command_list[i] != NULL; i++) {
        const struct uf_command *row = uf_command_list[i];
        cr_assert(row->name != NULL && row->summary != NULL && row->synopsis != NULL);
        cr_expect(row->run != NULL, "%s", row->name);
        cr_expect_eq(uf_command_find(row->name), row, "%s", row->name);
        cr_expect(row->least_operands <= row->most_operands, "%s", row->name);
        cr_expect(row->most_operands <= UF_MAX_OPERANDS, "%s", row->name);
        cr_expect(strlen(row->summary) < 100, "%s: one line", row->name);
        cr_expect(islower((unsigned char)row->summary[0]), "%s: one style", row->name);
        cr_expect(row->summary[strlen(row->summary) - 1] != '.', "%s: one style", row->name);
        cr_expect((row->options & UF_OPTIONS_COMMON) == 0, "%s: common bits are implied",
                  row->name);
    }
}

Test(command, unknown_names_are_not_found)
{
    cr_expect_null(uf_command_find(""));
    cr_expect_null(uf_command_find("no-such"));
    cr_expect_str_eq(uf_command_nearest("manul"), "manual");
    cr_expect_null(uf_command_nearest("quite-something-else"));
}

Test(command, help_names_usage_and_options)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);

    cr_assert_not_null(out);
    uf_command_help(out, uf_command_find("manual"));
    (void)fclose(out);
    cr_expect(strstr(text, "usage: underfrost manual ") == text, "%s", text);
    cr_expect(strstr(text, "--json") != NULL);
    cr_expect(strstr(text, "--help") != NULL);
    free(text);
}
