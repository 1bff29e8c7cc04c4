#include "io/text/message_text.h"

#include <criterion/criterion.h>

#include <string.h>

Test(message_text, numbers_follow_the_units_and_the_rest_stays)
{
    struct uf_message m;
    uf_message_set(&m, UF_SAID("{} below {}, {} of it, 3 m as a word", UF_OF(LENGTH, 0.3048),
                               UF_OF(TEMPERATURE, 0.0), UF_OF(SHARE, 0.5)));
    cr_expect_str_eq(UF_MESSAGE(UF_UNITS_SI, &m),
                     "0.3048 m below 0 degC, 50 percent of it, 3 m as a word");
    cr_expect_str_eq(UF_MESSAGE(UF_UNITS_US, &m),
                     "1 ft below 32 degF, 50 percent of it, 3 m as a word");
}

Test(message_text, a_short_room_cuts_it)
{
    struct uf_message m;
    char text[12];
    uf_message_set(&m, UF_SAID("deep: {} and more", UF_OF(LENGTH, 30.48)));
    cr_expect_str_eq(uf_message_text(text, sizeof text, UF_UNITS_US, &m), "deep: 100 f");
}
