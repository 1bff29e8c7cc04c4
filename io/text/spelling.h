#ifndef UF_SPELLING_H
#define UF_SPELLING_H

#include "units.h"

/* Values as people write them, put into the one form that uf_units_read takes, a decimal number and a
   unit of the database. What each unit is worth stays with the database; a foot is 12 inches.

       95 1/4 in, 95-1/4 in, 3/8 in           95.25 in, 95.25 in, 0.375 in
       5' 6", 5 ft 6 in, 5'-6 1/2"            5.5 ft, 5.5 ft, 5.541666... ft
       5', 6"                                 5 ft, 6 in
       R-10, R10 (a resistance)               10 ft2.hr.degF/BTU
       RSI-1.8                                1.8 m2.K/W
       10 ft2.hr.F/BTU                        10 ft2.hr.degF/BTU: in a compound F and C are degrees

   out       room for size bytes, UF_SPELLING_SIZE do
   returns   out, or text itself where nothing is to be changed: "12 ft 14 in" is left for the reader
             to refuse, and so is a lone F or C, which it answers with a hint. */
#define UF_SPELLING_SIZE 160
const char *uf_spelling_plain(char *out, size_t size, const char *text,
                              const struct uf_measure *measure);

/* Feet followed by a foot or more of inches, such as 5' 14", which nobody means: says so, and what
   may be meant. false: it is something else, fault is left alone. */
bool uf_spelling_past_foot(struct uf_units_fault *fault, const char *text);

/* "clayey silt", of a word of a table such as clayey_silt. Returns out. */
char *uf_spelling_words(char *out, size_t size, const char *word);

/* Is the length given in whole inches? Their number, else 0. */
int uf_spelling_inches(const char *text);

#endif
