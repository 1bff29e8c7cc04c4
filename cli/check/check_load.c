#include "check_rows.h"
#include "io/text/quantity.h"

#include <math.h>
#include <stdio.h>

/* Dead load and live load on the foam board, by every method side by side. */

#define KILO 1e-3

UF_CHECK_VALUE(const char *, judged_by, uf_load_methods[check->load.method].name)
UF_CHECK_VALUE(const char *, name, uf_load_methods[i].name)
UF_CHECK_VALUE(const char *, source, uf_load_methods[i].source)
UF_CHECK_VALUE(double, dead_limit, check->load.dead_limit_Pa)
UF_CHECK_VALUE(double, live_limit, check->load.live_limit_Pa)
UF_CHECK_VALUE(double, live, check->load.live_Pa[check->load.method])
UF_CHECK_WHERE(is_there, check->load.present)
UF_CHECK_WHERE(has_wheel, check->load.present && check->design->wheel_N > 0.0)

UF_CHECK_WORDS(work_use)
{
    (void)snprintf(text, size, "of the allowable long-term stress, by the %s: %s",
                   judged_by(check, 0), check->load.board_use <= 1.0 ? "passes" : "FAILS");
}

UF_CHECK_WORDS(work_dead)
{
    (void)snprintf(
        text, size,
        "soil, the heavier of moist and saturated; allowable %s, a third of the strength",
        UF_TEXT(PRESSURE, check->units, check->load.dead_limit_Pa));
}

UF_CHECK_WORDS(work_live)
{
    (void)snprintf(text, size,
                   "by the %s; allowable %s, a fifth of the strength; the utilization "
                   "adds both shares",
                   judged_by(check, 0), UF_TEXT(PRESSURE, check->units, live_limit(check, 0)));
}

/* What the method rests on. */
static void say_live(struct uf_check_clause *clause, char *text, size_t size,
                     const struct uf_check *check, size_t i)
{
    (void)i;
    (void)snprintf(text, size, "read as quoted%s",
                   check->load.method == UF_LOAD_LRFD ? ", impact from memory" : "");
    clause->numbers = text;
}

UF_CHECK_WORDS(work_cover)
{
    (void)snprintf(text, size,
                   isnan(check->load.cover_from_m) ? "the check fails at every cover"
                                                   : "to %s: there it passes, outside it fails",
                   UF_TEXT(LENGTH, check->units, check->load.cover_to_m));
}

static size_t methods_of(const struct uf_check *check)
{
    (void)check;
    return UF_LOAD_METHODS;
}
static const struct uf_check_list methods = {methods_of, true};

static const struct uf_check_row rows[] = {
    {"board", NULL, .type = UF_CHECK_YES, .yes = is_there},
    {"board_use", "utilization", UF_QUANTITY_FACTOR, UF_CHECK_FOUND(load.board_use),
     .worked = work_use},
    {"depth_m", "top of the board", UF_QUANTITY_LENGTH, UF_CHECK_FOUND(load.depth_m),
     .note = "below grade"},
    {"dead_kPa", "dead load", UF_QUANTITY_PRESSURE, UF_CHECK_FOUND(load.dead_Pa), .scale = KILO,
     .applies = is_there, .worked = work_dead,
     .clause =
         &(const struct uf_check_clause){"a third of the board's strength", NULL, UF_CHECK_COMMON,
                                         .at_most = true, .required = dead_limit}},
    {"dead_limit_kPa", NULL, UF_QUANTITY_PRESSURE, UF_CHECK_FOUND(load.dead_limit_Pa),
     .scale = KILO},
    {"live_limit_kPa", NULL, UF_QUANTITY_PRESSURE, UF_CHECK_FOUND(load.live_limit_Pa),
     .scale = KILO},
    {NULL, "live load", UF_QUANTITY_PRESSURE, .number = live, .applies = has_wheel,
     .worked = work_live,
     .clause = &(const struct uf_check_clause){"a fifth of the board's strength", NULL,
                                               UF_CHECK_COMMON, .at_most = true,
                                               .required = live_limit, .item = say_live}},
    {"method", NULL, .type = UF_CHECK_TEXT, .text = judged_by},
    {"cover_from_m", "cover, from", UF_QUANTITY_LENGTH, UF_CHECK_FOUND(load.cover_from_m),
     .worked = work_cover},
    {"cover_to_m", NULL, UF_QUANTITY_LENGTH, UF_CHECK_FOUND(load.cover_to_m)},
    {"methods[].name", "method", .type = UF_CHECK_TEXT, .text = name, .list = &methods},
    {"methods[].source", "source", .type = UF_CHECK_TEXT, .text = source, .list = &methods},
    {"methods[].live_kPa", "live load", UF_QUANTITY_PRESSURE, .scale = KILO,
     .offset = offsetof(struct uf_check, load.live_Pa), .step = sizeof(double), .list = &methods},
    {"methods[].use", "utilization", UF_QUANTITY_FACTOR,
     .offset = offsetof(struct uf_check, load.use), .step = sizeof(double), .list = &methods},
    {.key = NULL}};

static const char *const cautions[] = {
    "A third and a fifth of the strength are common practice as in published load tables for boards. "
    "The most adverse method that applies decides, unless load.method names one.",
    "The tank's own strength under wheels is its manufacturer's to say.", NULL};

UF_CHECK_WHERE(given, uf_case_has_board(&check->site->design))

static enum uf_status run(struct uf_check *check, struct uf_error *err)
{
    struct uf_column_soils soils;
    enum uf_status status = uf_column_soils(&soils, check->design, err);
    if (status == UF_OK) {
        status = uf_load(&check->load, check->design, &soils, err);
    }
    check->ok = status == UF_OK && check->load.board_use <= 1.0;
    return status;
}

const struct uf_check_topic uf_check_load = {
    .name = "load",
    .doc = "Dead load and live load (surcharge) on the foam board",
    .needs = "board",
    .given = given,
    .run = run,
    .rows = rows,
    .cautions = cautions,
    .own_chapter = true,
};
