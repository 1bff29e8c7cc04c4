#include "solver/base/calendar.h"

#include <criterion/criterion.h>

/* Julian day number of noon, from the formula for the Gregorian calendar by Fliegel and
   Van Flandern 1968, Comm. ACM 11(10), 657: independent of the code under test. */
static long julian_day(long y, long m, long d)
{
    return d - 32075 + 1461 * (y + 4800 + (m - 14) / 12) / 4 +
           367 * (m - 2 - (m - 14) / 12 * 12) / 12 - 3 * ((y + 4900 + (m - 14) / 12) / 100) / 4;
}

Test(calendar, every_day_of_400_years_there_and_back)
{
    long expected = uf_calendar_day(1800, 1, 1);
    for (int year = 1800; year < 2200; year++) {
        for (int month = 1; month <= 12; month++) {
            for (int day = 1; uf_calendar_valid(year, month, day); day++, expected++) {
                const long got = uf_calendar_day(year, month, day);
                const struct uf_date back = uf_calendar_date(got);
                cr_assert_eq(got, expected);
                cr_assert_eq(got, julian_day(year, month, day) - 2440588);
                cr_assert(back.year == year && back.month == month && back.day == day);
            }
        }
    }
    /* 400 Gregorian years are 146097 days, a whole number of weeks */
    cr_expect_eq(expected - uf_calendar_day(1800, 1, 1), 146097);
}

Test(calendar, known_days)
{
    cr_expect_eq(uf_calendar_day(1970, 1, 1), 0);
    cr_expect_eq(uf_calendar_day(2000, 3, 1), 11017);
    cr_expect_eq(uf_calendar_day(1969, 12, 31), -1);
    cr_expect_eq(uf_calendar_day(1, 1, 1), -719162);
    /* 1970-01-01 was a Thursday, 2000-02-29 a Tuesday, 1900-03-01 a Thursday */
    cr_expect_eq((uf_calendar_day(2000, 2, 29) + 4) % 7, 2);
    cr_expect_eq(((uf_calendar_day(1900, 3, 1) + 4) % 7 + 7) % 7, 4);
}

Test(calendar, dates_that_are_none)
{
    cr_expect(uf_calendar_valid(2000, 2, 29));
    cr_expect(uf_calendar_valid(9999, 12, 31));
    cr_expect_not(uf_calendar_valid(1900, 2, 29));
    cr_expect_not(uf_calendar_valid(2001, 2, 29));
    cr_expect_not(uf_calendar_valid(2001, 4, 31));
    cr_expect_not(uf_calendar_valid(2001, 13, 1));
    cr_expect_not(uf_calendar_valid(2001, 0, 1));
    cr_expect_not(uf_calendar_valid(2001, 1, 0));
    cr_expect_not(uf_calendar_valid(0, 1, 1));
    cr_expect_not(uf_calendar_valid(10000, 1, 1));
}

Test(calendar, text_there_and_back)
{
    char text[16];
    long day = 0;
    cr_expect_str_eq(uf_calendar_text(11017, text, sizeof text), "2000-03-01");
    cr_expect_str_eq(uf_calendar_text(-719162, text, sizeof text), "0001-01-01");
    cr_expect(uf_calendar_parse("1899-12-31", &day));
    cr_expect_str_eq(uf_calendar_text(day, text, sizeof text), "1899-12-31");
}

Test(calendar, parse_refuses_what_is_no_date)
{
    static const char *const wrong[] = {
        "",           "2001",        "2001-02",     "2001-2-03",  "2001-02-3",   "2001-02-30",
        "2001/02/03", "2001-02-03 ", " 2001-02-03", "01-02-2003", "2001-02-03T", "20010203",
        "-001-02-03", "2001-+2-03",  "0000-01-01",  "2001-02-0x",
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        long day = 77;
        cr_expect_not(uf_calendar_parse(wrong[i], &day), "%s", wrong[i]);
        cr_expect_eq(day, 77);
    }
}
