#ifndef UF_REMARKS_H
#define UF_REMARKS_H

#include "answer.h"
#include "io/text/message_text.h"
#include "solver/choice/remark.h"

/* The remarks on a run, for people or as an array "remarks". */
void uf_remarks_show(const struct uf_remarks *remarks, enum uf_units units);
void uf_remarks_answer(cJSON *object, const struct uf_remarks *remarks);

#endif
