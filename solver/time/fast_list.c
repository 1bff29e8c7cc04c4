#include "fast_private.h"

#include <stdlib.h>

/* Marked nodes of one material; written to nodes where that is not NULL. */
static size_t collect(const struct uf_heat *heat, const bool *marked, size_t material,
                      uint32_t *nodes)
{
    size_t count = 0;
    for (size_t i = 0; i < heat->n; i++) {
        if (marked[i] && heat->volume_m3[i] > 0.0 && heat->material[i] == material) {
            if (nodes != NULL) {
                nodes[count] = (uint32_t)i;
            }
            count++;
        }
    }
    return count;
}

bool uf_fast_list_create(struct uf_fast_list *list, const struct uf_fast *fast, const bool *marked)
{
    const struct uf_heat *heat = fast->heat;
    size_t n = 0;
    size_t n_groups = 0;
    for (size_t m = 0; m < heat->n_materials; m++) {
        const size_t count = heat->materials[m].simple ? collect(heat, marked, m, NULL) : 0;
        n += uf_fast_lines(count);
        n_groups += count > 0 ? 1 : 0;
    }
    list->node = calloc(n + 1, sizeof *list->node);
    list->H = calloc(2 * n + 1, sizeof *list->H);
    list->groups = calloc(n_groups + 1, sizeof *list->groups);
    if (list->node == NULL || list->H == NULL || list->groups == NULL) {
        return false;
    }
    list->out = list->H + n;
    for (size_t m = 0; m < heat->n_materials; m++) {
        uint32_t *const node = list->node + list->n;
        const size_t count = heat->materials[m].simple ? collect(heat, marked, m, node) : 0;
        const size_t whole = uf_fast_lines(count);
        for (size_t k = count; k < whole; k++) {
            node[k] = node[0];
        }
        if (count > 0) {
            list->groups[list->n_groups++] = (struct uf_fast_run){
                .from = list->n, .count = whole, .kind = uf_fast_law_kind(fast, m)};
        }
        list->n += whole;
    }
    return true;
}

void uf_fast_list_free(struct uf_fast_list *list)
{
    free(list->node);
    free(list->H);
    free(list->groups);
}
