#include "solver/base/message.h"

#include <criterion/criterion.h>

#include <string.h>

Test(message, numbers_stand_in_the_text_in_si)
{
    struct uf_message m;
    uf_message_set(&m, UF_SAID("{} of {} lies above {}", UF_OF(LENGTH, 2.5), UF_WORD("water"),
                               UF_OF(TEMPERATURE, -0.5)));
    cr_expect_str_eq(m.text, "2.5 m of water lies above -0.5 degC");
    cr_expect_eq(m.n, 2u);
    cr_expect_eq(m.numbers[1].kind, UF_QUANTITY_TEMPERATURE);
    cr_expect(strncmp(m.text + m.numbers[1].at, "-0.5 degC", m.numbers[1].length) == 0);
    uf_message_set(&m, UF_PLAIN("no {} here"));
    cr_expect_str_eq(m.text, "no {} here");
}

Test(message, figures_are_those_asked_for)
{
    struct uf_message m;
    uf_message_set(&m,
                   UF_SAID("{} {} {} {}", UF_OF(DENSITY, 26543.21), UF_ABOUT(LENGTH, 2, 0.01234),
                           UF_OF(LENGTH, -0.0), UF_ABOUT(FACTOR, 2, 1.234e-4)));
    cr_expect_str_eq(m.text, "26543 kg/m3 0.012 m 0 m 0.00012");
}

Test(message, sentences_join_and_the_longest_is_cut)
{
    struct uf_message m = {.n = 0};
    char longer[2000];
    uf_message_add(&m, UF_PLAIN("one"));
    uf_message_add(&m, UF_SAID("{} two", UF_OF(LENGTH, 1.0)));
    cr_expect_str_eq(m.text, "one; 1 m two");
    memset(longer, 'x', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    uf_message_add(&m, UF_SAID("{}{}", UF_WORD(longer), UF_OF(LENGTH, 1.0)));
    cr_expect_eq(strlen(m.text), sizeof m.text - 1);
    cr_expect_eq(m.n, 1u);
}

Test(message, a_message_takes_another_to_its_end_with_its_numbers)
{
    struct uf_message note;
    struct uf_message m;
    uf_message_set(&note, UF_SAID("below {}", UF_ROUND(INDEX, 980.4)));
    uf_message_set(&m, UF_SAID("{}: ", UF_WORD("layer 1")));
    uf_message_append(&m, &note);
    cr_expect_str_eq(m.text, "layer 1: below 980 degC day");
    cr_expect_eq(m.n, 1u);
    cr_expect(strncmp(m.text + m.numbers[0].at, "980 degC day", m.numbers[0].length) == 0);
}
