#ifndef UF_WINTER_WORDS_H
#define UF_WINTER_WORDS_H

#include "io/site/site_weather.h"
#include "io/text/quantity.h"

/* Which winter drives the run, one sentence in the units asked for; returns text. */
char *uf_winter_words(char *text, size_t size, const struct uf_site_weather *weather,
                      enum uf_units units);

/* The same inside a printf: the text lives until the end of the enclosing block. */
#define UF_WINTER_WORDS(weather, units) uf_winter_words((char[320]){0}, 320, (weather), (units))

#endif
