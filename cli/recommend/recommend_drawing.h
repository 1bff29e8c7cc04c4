#ifndef UF_RECOMMEND_DRAWING_H
#define UF_RECOMMEND_DRAWING_H

#include "io/drawing/draft.h"
#include "recommend.h"

/* The drawing of the recommended option, as files of the folder and as a line of the report. */
struct uf_recommend_drawing {
    struct uf_site site; /* borrowed but for the design */
    struct uf_draft *draft;
    char today[16];
};

/* Errors: as uf_draft_open; UF_E_INPUT where no option is recommended. Close it in either case. */
enum uf_status uf_recommend_drawing_open(struct uf_recommend_drawing *out,
                                         const struct uf_recommend *r, enum uf_units units,
                                         struct uf_error *err);
void uf_recommend_drawing_close(struct uf_recommend_drawing *drawing);

/* sheet.svg, sheet-2.svg and sheet.pdf into the folder; those of an earlier run go where there is none. What
   cannot be drawn for want of a value is no error: the report says why. Errors: UF_E_FILE,
   UF_E_MEMORY, UF_E_STOPPED. */
enum uf_status uf_recommend_drawing_write(const struct uf_recommend *r, enum uf_units units,
                                          const char *folder, struct uf_error *err);

#endif
