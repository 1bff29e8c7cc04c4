#include "recommend_drawing.h"

#include "cli/folder.h"
#include "cli/tell/today.h"

#include <stdio.h>

enum uf_status uf_recommend_drawing_open(struct uf_recommend_drawing *out,
                                         const struct uf_recommend *r, enum uf_units units,
                                         struct uf_error *err)
{
    out->draft = NULL;
    if (r->choices->pick < 0) {
        return uf_fail(err, UF_E_INPUT, "no option is recommended");
    }
    out->site = *r->run.site;
    out->site.design = r->choices->designs[r->choices->pick];
    return uf_draft_open(&out->draft, &out->site, units, uf_today(out->today, sizeof out->today),
                         err);
}

void uf_recommend_drawing_close(struct uf_recommend_drawing *drawing)
{
    uf_draft_free(drawing->draft);
    drawing->draft = NULL;
}

enum uf_status uf_recommend_drawing_write(const struct uf_recommend *r, enum uf_units units,
                                          const char *folder, struct uf_error *err)
{
    static const char *const names[] = {"sheet.svg", "sheet.pdf"};
    struct uf_recommend_drawing drawing;
    enum uf_status status = uf_recommend_drawing_open(&drawing, r, units, err);
    const bool lacks = status == UF_E_INPUT || status == UF_E_RANGE;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char path[1200], second[1210];
        (void)uf_folder_path(path, sizeof path, folder, names[i]);
        if (status == UF_OK) {
            status = uf_draft_write(path, drawing.draft, err);
        }
        if (status != UF_OK) {
            /* of an earlier run: it would lie beside numbers it does not show */
            (void)remove(path);
            (void)remove(uf_draft_path(second, sizeof second, path, 1));
        }
    }
    uf_recommend_drawing_close(&drawing);
    return lacks ? UF_OK : status;
}
