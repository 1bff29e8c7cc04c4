#ifndef UF_QUOTE_H
#define UF_QUOTE_H

#include <stdbool.h>
#include <stddef.h>

/* Copies a user's text for a message: control characters become '?', and what is longer than the
   room is cut at a character (UTF-8) and ends in "...".
   out       room for size bytes, size >= 8
   returns   out */
char *uf_quote_text(char *out, size_t size, const char *text);

/* Is the byte inside a UTF-8 character, so neither a place to cut nor a width of its own? */
bool uf_quote_is_inner_byte(char byte);

/* Length of the UTF-8 character at text in bytes, 1 to 4; 0 when it is broken or in too
   long a form (RFC 3629). */
size_t uf_quote_character_length(const unsigned char *text);

/* "\u00b0C" for "degC" and so on, with "degC day" as "\u00b0C\u00b7days", at the start of text: what text is
   written as beside figures and in HTML, *n bytes of it; NULL where none begins there. */
const char *uf_quote_degree(const char *text, size_t *n);

#endif
