#include "assumed.h"

#include "io/text/message_text.h"
#include "io/text/show.h"
#include "solver/choice/choice.h"
#include "solver/design/anchor.h"
#include "solver/design/foam.h"

#include <stdarg.h>
#include <stdio.h>

static void say(struct uf_assumed *out, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void say(struct uf_assumed *out, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    (void)vsnprintf(out->lines[out->n++], sizeof out->lines[0], format, args);
    va_end(args);
}

static void say_board(struct uf_assumed *out, const struct uf_case *design)
{
    const struct uf_foam *row = design->board.row;
    struct uf_choice statics = {.buildable = true};
    const bool carries = uf_choice_static(&statics, design, NULL) != UF_OK ||
                         !statics.load.present || statics.load.board_use <= 1.0;
    say(out, "board.type: least is %s, %s.", row != NULL ? row->name : "none",
        carries ? "the weakest type that carries the load"
                : "the strongest there is, which does not carry the load");
}

static void say_anchors(struct uf_assumed *out, const struct uf_case *design, enum uf_units units)
{
    struct uf_choice statics = {.buildable = true};
    if (uf_anchor_any(design)) {
        struct uf_message said = {0};
        uf_anchor_say(&said, design);
        say(out, "anchors: least comes to %s with %zu straps, enough in every sensitivity case.",
            UF_MESSAGE(units, &said), design->anchors.straps);
    } else if (uf_choice_static(&statics, design, NULL) == UF_OK &&
               statics.uplift.highest.factor_submerged < statics.uplift.required) {
        say(out, "anchors: least comes to none: no size of any kind that is tried is enough.");
    } else {
        say(out, "anchors: least comes to none: flotation is met without.");
    }
}

void uf_assumed(struct uf_assumed *out, const struct uf_case *design, bool settled,
                enum uf_units units)
{
    out->n = 0;
    if (!uf_case_has_tank(design)) {
        return;
    }
    if (!design->ground.highest_given) {
        say(out, "groundwater.highest was not given: flotation is judged with the water at grade.");
    }
    if (settled && design->board.least && uf_case_has_board(design)) {
        say_board(out, design);
    }
    if (settled && design->anchors.least) {
        say_anchors(out, design, units);
    }
}

void uf_assumed_show(const struct uf_case *design, bool settled, enum uf_units units)
{
    struct uf_assumed found;
    uf_assumed(&found, design, settled, units);
    for (size_t i = 0; i < found.n; i++) {
        uf_show_text(stdout, 0, found.lines[i]);
    }
}

void uf_assumed_answer(cJSON *object, const struct uf_case *design, bool settled)
{
    struct uf_assumed found;
    cJSON *list = uf_answer_array(object, "assumed");
    uf_assumed(&found, design, settled, UF_UNITS_SI);
    for (size_t i = 0; i < found.n; i++) {
        (void)cJSON_AddItemToArray(list, cJSON_CreateString(found.lines[i]));
    }
}
