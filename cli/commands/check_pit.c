#include "check.h"
#include "cli/tell/quantities_show.h"

/* The pit: slope, protection, engineer; the gravel's sieve list against its grading. */

static bool given(const struct uf_check *check)
{
    return uf_case_has_tank(&check->site->design);
}

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    struct uf_quantities_found found;
    const enum uf_status status = uf_quantities_show_find(&found, check->site, err);
    if (status != UF_OK) {
        return status;
    }
    check->ok = found.ok;
    if (check->answer != NULL) {
        uf_quantities_show_answer_pit(check->answer, &found);
    } else {
        uf_quantities_show_pit(check->args, &found);
    }
    return UF_OK;
}

const struct uf_check_topic uf_check_pit = {
    .name = "pit",
    .doc = "The pit: dimensions, slope, protection; grading of the gravel",
    .needs = "tank and burial",
    .given = given,
    .run = run,
};
