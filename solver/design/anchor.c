#include "anchor.h"

#include <math.h>

#define DECLARE(WORD, name) extern const struct uf_anchor_row uf_anchor_##name;
UF_ANCHOR_LIST(DECLARE)
#undef DECLARE

#define ENTRY(WORD, name) [UF_ANCHOR_##WORD] = &uf_anchor_##name,
static const struct uf_anchor_row *const rows[] = {UF_ANCHOR_LIST(ENTRY)};
#undef ENTRY

const struct uf_anchor_row *uf_anchor_at(enum uf_anchor_kind kind)
{
    return rows[kind];
}

bool uf_anchor_any(const struct uf_case *design)
{
    bool any = false;
    for (int i = 0; i < UF_ANCHORS; i++) {
        any = any || rows[i]->body(design).count > 0.0;
    }
    return any;
}

double uf_anchor_bedding_foot_m(const struct uf_case *design, double floor_m)
{
    double foot_m = floor_m;
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_body body = rows[i]->body(design);
        if (rows[i]->under_bedding && body.count > 0.0) {
            foot_m = fmin(foot_m, body.top_m);
        }
    }
    return foot_m;
}

void uf_anchor_say(struct uf_message *out, const struct uf_case *design)
{
    uf_message_set(out, UF_PLAIN(""));
    for (int i = 0; i < UF_ANCHORS; i++) {
        if (rows[i]->body(design).count > 0.0) {
            struct uf_message one;
            rows[i]->say(&one, design);
            if (out->text[0] != '\0') {
                uf_message_append(out, &(struct uf_message){.text = "; "});
            }
            uf_message_append(out, &one);
        }
    }
}

double uf_anchor_floor_m(const struct uf_case *design)
{
    double floor_m = uf_case_invert_m(design) + design->burial.bedding_m;
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_body body = rows[i]->body(design);
        if (rows[i]->under_bedding && body.count > 0.0) {
            floor_m = fmax(floor_m, body.top_m + body.height_m);
        }
    }
    return floor_m;
}

void uf_anchor_clear(struct uf_anchors *anchors)
{
    for (int i = 0; i < UF_ANCHORS; i++) {
        rows[i]->clear(anchors);
    }
}

double uf_anchor_m3(const struct uf_case *design)
{
    double sum_m3 = 0.0;
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_body body = rows[i]->body(design);
        if (body.count > 0.0) {
            sum_m3 += body.count * body.width_m * body.height_m * body.length_m;
        }
    }
    return sum_m3;
}

double uf_anchor_between_m3(const struct uf_case *design, double top_m, double bottom_m)
{
    double sum_m3 = 0.0;
    for (int i = 0; i < UF_ANCHORS; i++) {
        const struct uf_anchor_body body = rows[i]->body(design);
        const double height_m =
            fmin(bottom_m, body.top_m + body.height_m) - fmax(top_m, body.top_m);
        if (body.count > 0.0) {
            sum_m3 += body.count * body.width_m * body.length_m * fmax(0.0, height_m);
        }
    }
    return sum_m3;
}
