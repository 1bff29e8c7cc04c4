#ifndef UF_MESSAGE_TEXT_H
#define UF_MESSAGE_TEXT_H

#include "quantity.h"
#include "solver/base/message.h"

/* A message in the units asked for: every number it keeps is shown anew, with as many figures, all
   else as it was written. Returns text, which is cut where size is too small. */
char *uf_message_text(char *text, size_t size, enum uf_units units,
                      const struct uf_message *message);

/* The same inside a printf: lives until the end of the enclosing block. */
#define UF_MESSAGE(units, message) uf_message_text((char[512]){0}, 512, (units), (message))

#endif
