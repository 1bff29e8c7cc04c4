#include "cli/command.h"

#include <criterion/criterion.h>

#include <string.h>

static int run_nothing(const struct uf_arguments *args)
{
    (void)args;
    return UF_EXIT_DONE;
}

static const struct uf_command command = {
    .name = "probe",
    .summary = "A command of this test.",
    .synopsis = "SITE.yaml",
    .options = UF_OPTION_SET | UF_OPTION_OUTPUT | UF_OPTION_JOBS | UF_OPTION_INTEGRATOR,
    .least_operands = 1,
    .most_operands = 2,
    .run = run_nothing,
};

#define PARSE(args, err, ...)                                                                      \
    uf_options_parse((args), &command,                                                             \
                     (int)(sizeof(const char *[]){__VA_ARGS__} / sizeof(const char *)),            \
                     (const char *[]){__VA_ARGS__}, (err))

Test(options, long_short_joined_and_apart)
{
    struct uf_arguments args;
    struct uf_error err = {0};

    cr_assert_eq(PARSE(&args, &err, "--json", "a.yaml", "--jobs=3", "-o", "out", "--units", "us"),
                 UF_OK, "%s", err.text);
    cr_expect(args.json);
    cr_expect(!args.quiet);
    cr_expect_eq(args.jobs, 3);
    cr_expect_eq(uf_options_jobs(&args), 3);
    cr_expect_str_eq(args.output, "out");
    cr_expect_eq(args.units, UF_UNITS_US);
    cr_expect_eq(args.n_operands, 1);
    cr_expect_str_eq(args.operands[0], "a.yaml");
    cr_expect_str_eq(args.command_line,
                     "underfrost probe --json a.yaml --jobs=3 -o out --units us");
    cr_assert_eq(PARSE(&args, &err, "-oelsewhere", "-q", "a"), UF_OK);
    cr_expect_str_eq(args.output, "elsewhere");
    cr_expect(args.quiet);
    cr_expect(uf_options_jobs(&args) >= 1);
}

Test(options, set_is_repeatable_and_keeps_its_order)
{
    struct uf_arguments args;

    cr_assert_eq(PARSE(&args, NULL, "--set", "burial.cover=1.5m", "a", "--set=board.skirt=0.3 m"),
                 UF_OK);
    cr_assert_eq(args.n_sets, 2);
    cr_expect_str_eq(args.sets[0].text, "burial.cover=1.5m");
    cr_expect_str_eq(args.sets[1].text, "board.skirt=0.3 m");
}

Test(options, set_has_an_end)
{
    const char *argv[2 * UF_MAX_SETS + 3];
    struct uf_arguments args;
    struct uf_error err = {0};
    int n = 0;

    for (int i = 0; i <= UF_MAX_SETS; i++) {
        argv[n++] = "--set";
        argv[n++] = "site.name=x";
    }
    cr_expect_eq(uf_options_parse(&args, &command, n, argv, &err), UF_E_INPUT);
    cr_expect(strstr(err.text, "at most 64") != NULL, "%s", err.text);
}

Test(options, two_dashes_end_the_options)
{
    struct uf_arguments args;

    cr_assert_eq(PARSE(&args, NULL, "--", "--json", "-"), UF_OK);
    cr_expect(!args.json);
    cr_assert_eq(args.n_operands, 2);
    cr_expect_str_eq(args.operands[0], "--json");
    cr_expect_str_eq(args.operands[1], "-");
}

Test(options, help_asks_for_no_operand)
{
    struct uf_arguments args;

    cr_expect_eq(PARSE(&args, NULL, "--help", "--nonsense"), UF_OK);
    cr_expect(args.help);
}

/* Each wrong line is refused, and the text names the remedy. */
Test(options, wrong_input_names_the_remedy)
{
    static const struct {
        const char *a, *b, *remedy;
    } rows[] = {
        {"--jsn", "x", "did you mean --json"},
        {"--outptu=3", "x", "did you mean --output"},
        {"--wholly-unknown", "x", "underfrost probe --help"},
        {"-z", "x", "underfrost probe --help"},
        {"--column", "x", "it belongs to"}, /* another command's option */
        {"--jobs", "0", "1 to 1024"},
        {"--jobs", "2.5", "1 to 1024"},
        {"--jobs", "-1", "1 to 1024"},
        {"--jobs", "99999999999999999999", "1 to 1024"},
        {"--jobs", "", "1 to 1024"},
        {"--units", "metric", "us or si"},
        {"--set", "burial.cover", "KEY=VALUE"},
        {"--set", "=1 m", "KEY=VALUE"},
        {"--integrator", "quick", "fast|reference"},
        {"--integrator", "fast|reference", "fast|reference"},
        {"--json=1", "x", "takes no value"},
        {"x", "-o", "needs a value"},
        {"-o", "", "the value is empty"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct uf_arguments args;
        struct uf_error err = {0};
        const char *argv[] = {rows[i].a, rows[i].b};
        cr_expect_eq(uf_options_parse(&args, &command, 2, argv, &err), UF_E_INPUT, "%s %s",
                     rows[i].a, rows[i].b);
        cr_expect(strstr(err.text, rows[i].remedy) != NULL, "%s %s: %s", rows[i].a, rows[i].b,
                  err.text);
    }
}

Test(options, operands_are_counted)
{
    struct uf_arguments args;
    struct uf_error err = {0};

    cr_expect_eq(PARSE(&args, &err, "--json"), UF_E_INPUT);
    cr_expect(strstr(err.text, "underfrost probe SITE.yaml") != NULL, "%s", err.text);
    cr_expect_eq(PARSE(&args, &err, "a", "b", "c"), UF_E_INPUT);
    cr_expect(strstr(err.text, "'c' is one too many") != NULL, "%s", err.text);
}

Test(options, a_long_command_line_is_cut_not_overrun)
{
    char longer[3000];
    struct uf_arguments args;

    memset(longer, 'y', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    cr_expect_eq(PARSE(&args, NULL, longer, longer), UF_OK);
    cr_expect_eq(strlen(args.command_line), sizeof args.command_line - 1);
}
