#include "cli/check/check_rows.h"
#include "recommend_report.h"

#include <stdio.h>
#include <string.h>

/* The statics beside flotation and board: the topics of check whose numbers are rows. */

void uf_recommend_report_topics_find(struct uf_recommend_page *page)
{
    const struct uf_job *kept = &page->r->jobs[UF_RECOMMEND_KEPT];
    const struct uf_choice *shown = &page->r->choices->rows[page->r->shown];
    page->check = (struct uf_check){.site = page->r->run.site,
                                    .design = &kept->design,
                                    .units = page->units,
                                    .uplift = shown->uplift,
                                    .load = shown->load,
                                    .pit = shown->pit,
                                    .brief = true,
                                    .frost_m = kept->summary.frost_undisturbed_m};
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        const struct uf_check_topic *topic = uf_check_topics[i];
        const size_t used = strlen(page->lacks);
        struct uf_error err = {0};
        if (topic->rows == NULL || topic->own_chapter || !topic->given(&page->check)) {
            continue;
        }
        page->found[i] = topic->run(&page->check, &err) == UF_OK;
        if (!page->found[i]) {
            (void)snprintf(page->lacks + used, sizeof page->lacks - used, "%s%s: %s",
                           used > 0 ? "; " : "", topic->name, err.text);
        }
    }
}

void uf_recommend_report_topics(const struct uf_recommend_page *page)
{
    size_t n = 0;
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        n += page->found[i];
    }
    if (n == 0 && page->lacks[0] == '\0') {
        return;
    }
    uf_report_section(page->report, "Suction, fittings, lifting, roundness");
    for (size_t i = 0; i < UF_CHECK_TOPICS; i++) {
        if (page->found[i]) {
            uf_check_rows_tell(page->report, uf_check_topics[i], &page->check);
        }
    }
    if (page->lacks[0] != '\0') {
        uf_report_paragraph(page->report, "Not worked: %s.", page->lacks);
    }
}
