#ifndef UF_CALENDAR_H
#define UF_CALENDAR_H

#include <stdbool.h>
#include <stddef.h>

/* Days of the proleptic Gregorian calendar, counted from 1970-01-01 = 0. No time zone. */
struct uf_date {
    int year, month, day;
};

/* Day of a date, and date of a day. The date must be valid: ask uf_calendar_valid first. */
long uf_calendar_day(int year, int month, int day);
struct uf_date uf_calendar_date(long day);

/* Is there such a date? Years 1 to 9999. */
bool uf_calendar_valid(int year, int month, int day);

/* "2001-02-03", into text of at least 16 bytes; returns text. */
char *uf_calendar_text(long day, char *text, size_t size);

/* Reads "2001-02-03" (four, two and two digits) to its end. false, and day untouched,
   when it is not a date of the calendar. */
bool uf_calendar_parse(const char *text, long *day);

#endif
