#include "cli/verify/verify.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The same checks that `verify` shows, so that they hold before anyone asks. A sanitized
   build is ten times slower: UF_TEST_LIGHT leaves the reference integrator and the slow
   topics out there. */

static bool light(void)
{
    const char *text = getenv("UF_TEST_LIGHT");
    return text != NULL && text[0] == '1';
}

Test(verify, every_check_holds)
{
    struct uf_verify verify = {
        .integrators = {UF_FAST, UF_BDF}, .n_integrators = light() ? 1 : 2, .quick = light()};
    struct uf_error err = {0};
    cr_assert(uf_verify_run(&verify, &err) == UF_OK, "%s", err.text);
    cr_expect(verify.n >= 60, "only %zu checks", verify.n);
    for (size_t i = 0; i < verify.n; i++) {
        const struct uf_verify_check *row = &verify.rows[i];
        cr_expect(row->ok, "%s: got %.9g %s, expected %.9g within %.3g (%s)", row->name, row->got,
                  row->unit, row->expected, row->allowed, row->source);
        cr_expect(row->source != NULL && strlen(row->source) > 10, "%s: no source", row->name);
        cr_expect(row->why != NULL && row->why[0] != '\0', "%s: no reason", row->name);
        cr_expect(row->unit != NULL && row->unit[0] != '\0', "%s: no unit", row->name);
        cr_expect(row->allowed > 0.0 && isfinite(row->allowed), "%s allows %g", row->name,
                  row->allowed);
        for (size_t k = 0; k < i; k++) {
            cr_expect(strcmp(row->name, verify.rows[k].name) != 0, "%s comes twice", row->name);
        }
    }
    free(verify.rows);
}

Test(verify, each_topic_names_its_checks)
{
    for (size_t k = 0; uf_verify_topics[k] != NULL; k++) {
        const struct uf_verify_topic *topic = uf_verify_topics[k];
        cr_expect(strlen(topic->name) > 1 && strchr(topic->name, '.') == NULL);
        cr_expect(strlen(topic->doc) > 10 && strlen(topic->doc) < 66, "%s", topic->name);
        for (size_t i = 0; i < k; i++) {
            cr_expect(strcmp(topic->name, uf_verify_topics[i]->name) != 0);
        }
    }
}

Test(verify, a_check_outside_its_allowance_fails)
{
    struct uf_verify verify = {0};
    struct uf_verify_check check = {.source = "by hand",
                                    .why = "to the last digit",
                                    .unit = "m",
                                    .got = 1.02,
                                    .expected = 1.0,
                                    .allowed = 0.03};
    uf_verify_add(&verify, &check, "a.%d", 1);
    check.allowed = 0.01;
    uf_verify_add(&verify, &check, "a.2");
    check.got = NAN;
    check.allowed = 1e9;
    uf_verify_add(&verify, &check, "a.3");
    verify.only = "b";
    uf_verify_add(&verify, &check, "a.4");
    cr_expect(verify.n == 3);
    cr_expect(verify.rows[0].ok && !verify.rows[1].ok);
    cr_expect(!verify.rows[2].ok, "a number that is none passes");
    cr_expect(strcmp(verify.rows[0].name, "a.1") == 0);
    free(verify.rows);
}

Test(verify, topics_are_chosen_by_the_beginning_of_a_name)
{
    const struct uf_verify_topic topic = {.name = "corner"};
    static const struct {
        const char *only;
        bool wanted;
    } rows[] = {{NULL, true},        {"corner", true},    {"cor", true},
                {"corner.b5", true}, {"cornet", false},   {"corners", false},
                {"line", false},     {"cornerb5", false}, {"", true}};
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        const struct uf_verify verify = {.only = rows[k].only};
        cr_expect(uf_verify_wants(&verify, &topic) == rows[k].wanted, "row %zu", k);
    }
}
