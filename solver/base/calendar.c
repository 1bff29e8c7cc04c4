#include "calendar.h"

#include <stdio.h>

#define EPOCH_DAY 719162L /* days from 0001-01-01 to 1970-01-01 */

static const int days_before_month[2][13] = {
    {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365},
    {0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366},
};

static bool is_leap(long year)
{
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

/* Whole part of a/b towards minus infinity, b > 0. */
static long floor_div(long a, long b)
{
    return a >= 0 ? a / b : -((b - 1 - a) / b);
}

/* Days from 0001-01-01 to 1 January of year. */
static long days_before_year(long year)
{
    const long past = year - 1;
    return 365 * past + floor_div(past, 4) - floor_div(past, 100) + floor_div(past, 400);
}

long uf_calendar_day(int year, int month, int day)
{
    return days_before_year(year) + days_before_month[is_leap(year)][month - 1] + day - 1 -
           EPOCH_DAY;
}

struct uf_date uf_calendar_date(long day)
{
    const long count = day + EPOCH_DAY;
    long year = floor_div(count * 400, 146097) + 1; /* right or one off */
    while (days_before_year(year) > count) {
        year--;
    }
    while (days_before_year(year + 1) <= count) {
        year++;
    }
    const int in_year = (int)(count - days_before_year(year));
    const int *before = days_before_month[is_leap(year)];
    int month = 1;
    while (before[month] <= in_year) {
        month++;
    }
    return (struct uf_date){(int)year, month, in_year - before[month - 1] + 1};
}

bool uf_calendar_valid(int year, int month, int day)
{
    if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1) {
        return false;
    }
    const int *before = days_before_month[is_leap(year)];
    return day <= before[month] - before[month - 1];
}

char *uf_calendar_text(long day, char *text, size_t size)
{
    const struct uf_date date = uf_calendar_date(day);
    (void)snprintf(text, size, "%04d-%02d-%02d", date.year, date.month, date.day);
    return text;
}

/* n digits at text as a number, or -1. */
static int digits(const char *text, int n)
{
    int value = 0;
    for (int i = 0; i < n; i++) {
        if (text[i] < '0' || text[i] > '9') {
            return -1;
        }
        value = 10 * value + (text[i] - '0');
    }
    return value;
}

bool uf_calendar_parse(const char *text, long *day)
{
    const int year = digits(text, 4);
    if (year < 0 || text[4] != '-') {
        return false;
    }
    const int month = digits(text + 5, 2);
    if (month < 0 || text[7] != '-') {
        return false;
    }
    const int of_month = digits(text + 8, 2);
    if (of_month < 0 || text[10] != '\0' || !uf_calendar_valid(year, month, of_month)) {
        return false;
    }
    *day = uf_calendar_day(year, month, of_month);
    return true;
}
