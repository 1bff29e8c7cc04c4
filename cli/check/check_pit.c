#include "check.h"
#include "cli/tell/quantities_show.h"
#include "pit_water.h"

/* The pit: slope, protection, engineer; water in it and under its floor; the gravel's sieve list against its grading. */

static bool given(const struct uf_check *check)
{
    return uf_case_has_tank(&check->site->design);
}

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    struct uf_quantities_found found;
    struct uf_pit_water water;
    enum uf_status status = uf_quantities_show_find(&found, check->site, err);
    if (status == UF_OK) {
        status = uf_pit_water_find(&water, check->site, &found.quantities.pit, err);
    }
    if (status != UF_OK) {
        return status;
    }
    check->ok = found.ok && uf_pit_water_holds(&water);
    if (check->answer != NULL) {
        uf_quantities_show_answer_pit(check->answer, &found);
        uf_pit_water_answer(check->answer, &water);
    } else {
        uf_quantities_show_pit(check->args, &found);
        uf_pit_water_show(&water, check->args->units);
    }
    return UF_OK;
}

const struct uf_check_topic uf_check_pit = {
    .name = "pit",
    .doc = "The pit: dimensions, slope, protection, water; grading of the gravel",
    .needs = "tank and burial",
    .given = given,
    .run = run,
};
