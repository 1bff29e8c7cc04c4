#include "cli/tell/outcome.h"
#include "solver/base/calendar.h"

#include <criterion/criterion.h>
#include <criterion/redirect.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A summary made by hand, and what is said of it. */

static struct uf_case design(enum uf_shape shape)
{
    struct uf_case d;
    uf_case_init(&d);
    d.tank.shape = shape;
    d.tank.diameter_m = 2.0;
    d.tank.length_m = 8.0;
    return d;
}

static struct uf_summary summary(void)
{
    const long day = uf_calendar_day(2015, 3, 2);
    struct uf_summary s = {.frost_undisturbed_m = 1.62,
                           .frost_undisturbed_day = day,
                           .frost_above_m = 0.8,
                           .frost_above_day = day + 1,
                           .thaw_out_day = UF_NO_DAY,
                           .water = {1.25, day + 10},
                           .wall = {-0.5, day + 11},
                           .crown = {-0.75, day + 12},
                           .invert = {2.5, day + 13},
                           .ice_share = 0.125,
                           .ice_thickness_m = 0.03,
                           .n_probes = 1,
                           .n_pipes = 1,
                           .heat_balance_relative = 3e-7,
                           .riser_share = NAN,
                           .hold_most_W = NAN,
                           .hold_most_day = UF_NO_DAY,
                           .hold_J = NAN,
                           .counters = {.cells = 900, .steps = 1500, .simulated_days = 700}};
    s.probes[0] = (struct uf_probe_summary){"outlet", {-1.5, day}, 12, NAN};
    s.pipes[0] = (struct uf_probe_summary){"suction", {0.5, day + 2}, 0, 0.0};
    return s;
}

static const cJSON *at(const cJSON *object, const char *path)
{
    char name[64];
    while (object != NULL && path[0] != '\0') {
        const size_t length = strcspn(path, ".");
        (void)snprintf(name, sizeof name, "%.*s", (int)length, path);
        object = cJSON_IsArray(object) ? cJSON_GetArrayItem(object, atoi(name))
                                       : cJSON_GetObjectItemCaseSensitive(object, name);
        path += length + (path[length] == '.' ? 1 : 0);
    }
    return object;
}

static void expect_number(const cJSON *answer, const char *path, double value)
{
    const cJSON *item = at(answer, path);
    cr_assert_not_null(item, "%s is not there", path);
    cr_expect(cJSON_IsNumber(item) && item->valuedouble == value, "%s is %g", path,
              item->valuedouble);
}

static void expect_text(const cJSON *answer, const char *path, const char *value)
{
    const cJSON *item = at(answer, path);
    cr_assert(item != NULL && cJSON_IsString(item), "%s is not there", path);
    cr_expect_str_eq(item->valuestring, value, "%s", path);
}

Test(outcome, json_as_promised)
{
    const struct uf_case d = design(UF_HORIZONTAL_CYLINDER);
    const struct uf_summary s = summary();
    cJSON *answer = cJSON_CreateObject();
    uf_outcome_answer(answer, &d, &s, true);
    expect_number(answer, "frost_depth.undisturbed.max_m", 1.62);
    expect_text(answer, "frost_depth.undisturbed.date", "2015-03-02");
    expect_number(answer, "frost_depth.above_tank.max_m", 0.8);
    expect_text(answer, "frost_depth.above_tank.date", "2015-03-03");
    cr_expect(cJSON_IsFalse(at(answer, "frost_depth.above_tank.reaches_tank")));
    cr_expect(cJSON_IsNull(at(answer, "thaw_out_date")), "it never thawed out");
    expect_number(answer, "water.min_degC", 1.25);
    expect_text(answer, "water.date", "2015-03-12");
    expect_number(answer, "water.max_ice_fraction", 0.125);
    expect_number(answer, "wall_min_degC", -0.5);
    expect_text(answer, "probes.0.name", "outlet");
    expect_number(answer, "probes.0.min_degC", -1.5);
    expect_text(answer, "probes.0.min_date", "2015-03-02");
    expect_number(answer, "probes.0.days_below_zero", 12.0);
    cr_expect(cJSON_IsNull(at(answer, "probes.0.limit_degC")));
    expect_number(answer, "pipes.0.limit_degC", 0.0);
    cr_expect(cJSON_IsNull(at(answer, "riser_share_of_loss")));
    expect_number(answer, "heat_balance_relative", 3e-7);
    expect_number(answer, "cells", 900.0);
    expect_number(answer, "steps", 1500.0);
    expect_number(answer, "simulated_days", 700.0);
    cr_expect_not_null(at(answer, "seconds"), "with --verbose");
    cr_expect(cJSON_IsNull(at(answer, "hold")), "nothing is kept warm");
    cJSON_Delete(answer);
}

/* The same run twice gives the same answer: the time it took is told on request alone. */
Test(outcome, time_is_told_on_request)
{
    const struct uf_case d = design(UF_HORIZONTAL_CYLINDER);
    const struct uf_summary s = summary();
    cJSON *answer = cJSON_CreateObject();
    uf_outcome_answer(answer, &d, &s, false);
    cr_expect_null(at(answer, "seconds"));
    expect_number(answer, "steps", 1500.0);
    cJSON_Delete(answer);
}

Test(outcome, bare_ground_has_no_tank_to_reach)
{
    const struct uf_case d = design(UF_NO_TANK);
    struct uf_summary s = summary();
    cJSON *answer = cJSON_CreateObject();
    s.frost_above_m = s.ice_share = s.water.degC = NAN;
    s.water.day = UF_NO_DAY;
    uf_outcome_answer(answer, &d, &s, true);
    cr_expect(cJSON_IsNull(at(answer, "frost_depth.above_tank.reaches_tank")));
    cr_expect(cJSON_IsNull(at(answer, "frost_depth.above_tank.max_m")));
    cr_expect(cJSON_IsNull(at(answer, "water.min_degC")) && cJSON_IsNull(at(answer, "water.date")));
    cJSON_Delete(answer);
}

Test(outcome, limits_that_apply)
{
    struct uf_verdict verdict = {.ok = false};
    cJSON *answer = cJSON_CreateObject();
    for (size_t k = 0; k < uf_limit_count; k++) {
        verdict.margin[k] = NAN;
    }
    verdict.margin[0] = -0.25;
    verdict.margin[2] = 0.0;
    uf_outcome_answer_limits(answer, &verdict);
    cr_expect_eq(cJSON_GetArraySize(at(answer, "limits")), 2);
    expect_text(answer, "limits.0.key", uf_limits[0].key);
    expect_number(answer, "limits.0.margin", -0.25);
    cr_expect(cJSON_IsFalse(at(answer, "limits.0.ok")));
    expect_text(answer, "limits.1.key", uf_limits[2].key);
    expect_text(answer, "limits.1.unit", uf_limit_unit(&uf_limits[2]));
    cr_expect(cJSON_IsTrue(at(answer, "limits.1.ok")), "just met is met");
    cJSON_Delete(answer);
}

/* What was printed since the redirection, to be read once. */
static const char *printed(void)
{
    static char text[8192];
    (void)fflush(stdout);
    FILE *out = cr_get_redirected_stdout();
    text[fread(text, 1, sizeof text - 1, out)] = '\0';
    return text;
}

static void expect_part(const char *text, const char *part)
{
    cr_expect(strstr(text, part) != NULL, "no \"%s\" in:\n%s", part, text);
}

Test(outcome, text_for_a_person, .init = cr_redirect_stdout)
{
    const struct uf_case d = design(UF_HORIZONTAL_CYLINDER);
    const struct uf_summary s = summary();
    const struct uf_arguments args = {.units = UF_UNITS_SI};
    uf_outcome_show(&args, &d, &s);
    (void)fclose(stdout);
    const char *text = printed();
    expect_part(text, "1.62 m  2015-03-02");
    expect_part(text, "not in the run");
    expect_part(text, "0.80 m  2015-03-03");
    expect_part(text, "1.2 degC  2015-03-12");
    expect_part(text, "12.5 percent");
    expect_part(text, "30 mm");
    expect_part(text, "-1.5 degC  2015-03-02");
    cr_expect(strstr(text, "risers") == NULL && strstr(text, "do not use") == NULL);
    cr_expect(strstr(text, "time steps") == NULL, "counters wait for --verbose:\n%s", text);
}

Test(outcome, ground_that_never_froze_has_nothing_to_thaw, .init = cr_redirect_stdout)
{
    const struct uf_case d = design(UF_NO_TANK);
    struct uf_summary s = summary();
    const struct uf_arguments args = {.units = UF_UNITS_SI};
    s.frost_undisturbed_m = 0.0;
    uf_outcome_show(&args, &d, &s);
    (void)fclose(stdout);
    const char *text = printed();
    expect_part(text, "0.00 m");
    cr_expect(strstr(text, "thawed") == NULL, "%s", text);
}

Test(outcome, heat_that_keeps_a_tank_warm_is_told, .init = cr_redirect_stdout)
{
    struct uf_case d = design(UF_HORIZONTAL_CYLINDER);
    struct uf_summary s = summary();
    const struct uf_arguments args = {.units = UF_UNITS_SI};
    cJSON *answer = cJSON_CreateObject();
    d.tank.hold_degC = 5.0;
    s.hold_most_W = 150.0;
    s.hold_most_day = uf_calendar_day(2015, 3, 5);
    s.hold_J = 3.6e8;
    uf_outcome_answer(answer, &d, &s, true);
    expect_number(answer, "hold.most_W", 150.0);
    expect_text(answer, "hold.date", "2015-03-05");
    expect_number(answer, "hold.total_kWh", 100.0); /* 3.6e8 J */
    cJSON_Delete(answer);
    uf_outcome_show(&args, &d, &s);
    (void)fclose(stdout);
    const char *text = printed();
    expect_part(text, "150 W  2015-03-05");
    expect_part(text, "100 kWh");
}

Test(outcome, a_lost_balance_is_shouted, .init = cr_redirect_stdout)
{
    const struct uf_case d = design(UF_HORIZONTAL_CYLINDER);
    struct uf_summary s = summary();
    const struct uf_arguments args = {.units = UF_UNITS_US};
    s.heat_balance_relative = 2e-4;
    s.frost_reaches_tank = true;
    uf_outcome_show(&args, &d, &s);
    (void)fclose(stdout);
    const char *text = printed();
    expect_part(text, "do not use this run");
    expect_part(text, "yes");
    expect_part(text, "5.31 ft");
    expect_part(text, "34.2 degF");
    cr_expect(strstr(text, "degC") == NULL, "all units are those asked:\n%s", text);
}

Test(outcome, limits_in_the_units_asked, .init = cr_redirect_stdout)
{
    const struct uf_arguments args = {.units = UF_UNITS_US};
    struct uf_verdict verdict = {.ok = false};
    for (size_t k = 0; k < uf_limit_count; k++) {
        verdict.margin[k] = strcmp(uf_limit_unit(&uf_limits[k]), "m") == 0 ? 0.3048 : (double)NAN;
    }
    verdict.margin[0] = -0.5;
    verdict.margin[uf_limit_find("limits.uplift_factor") - uf_limits] = -0.003;
    uf_outcome_show_limits(&args, &verdict);
    (void)fclose(stdout);
    const char *text = printed();
    expect_part(text, "-0.9 degF");
    expect_part(text, "1.00 ft");
    expect_part(text, "-0.003"); /* missed by little is missed */
    expect_part(text, "NO");
    cr_expect(strstr(text, "limits.outlet") == NULL, "what does not apply is left out");
}

/* Result to keep: everything the run was driven by. */
Test(outcome, a_result_borrows_the_weather)
{
    static double air_degC[3] = {-1.0, -2.0, 3.0};
    static struct uf_site site;
    static struct uf_site_weather weather;
    static struct uf_arguments args;
    struct uf_result result;
    struct uf_outcome_lists lists;
    uf_case_init(&site.design);
    (void)snprintf(site.design.name, sizeof site.design.name, "Larch Hollow");
    site.text = (char[]){"site: {}\n"};
    uf_message_set(&weather.text, UF_PLAIN("a yearly cycle"));
    (void)snprintf(args.command_line, sizeof args.command_line, "underfrost simulate x");
    weather.weather =
        (struct uf_forcing_weather){.start_day = 16000, .days = 3, .air_degC = air_degC};
    const struct uf_site_run run = {.site = &site, .weather = &weather};
    uf_outcome_result(&result, &lists, &run, &args);
    cr_expect_str_eq(result.title, "Larch Hollow");
    cr_expect_str_eq(result.winter_text, "a yearly cycle");
    cr_expect_str_eq(result.station, "yearly cycle");
    cr_expect_str_eq(result.site_text, "site: {}\n");
    cr_expect_str_eq(result.command_line, "underfrost simulate x");
    cr_expect_str_eq(result.version, UF_VERSION);
    cr_assert_eq(result.n_days, 3u);
    cr_expect_eq(result.days[1].time_day, 16001.5);
    cr_expect_eq(result.days[2].air_degC, 3.0);
    cr_expect_eq(result.days[2].snow_m, 0.0);
    cr_expect_eq(result.n_winters, 0u);
    uf_outcome_lists_free(&lists);
}
