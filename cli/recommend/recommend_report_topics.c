#include "io/text/quantity.h"
#include "recommend_report.h"
#include "solver/base/constants.h"

#include <math.h>
#include <stdio.h>

/* The statics beside flotation and board, each number with how it is worked: suction, fittings,
   lifting, roundness. */

static const double GPM_M3_S = 3.785411784e-3 / 60.0;

/* One line of a worked table; value by UF_TEXT. */
static void line(const struct uf_recommend_page *page, const char *what, const char *value,
                 const char *worked)
{
    uf_report_cell(page->report, "%s", what);
    uf_report_cell(page->report, "%s", value);
    uf_report_cell(page->report, "%s", worked);
}

static void begin_table(const struct uf_recommend_page *page, const char *caption)
{
    static const struct uf_report_column columns[] = {{"", 'l'}, {"value", 'r'}, {"worked", 'l'}};
    uf_report_table(page->report, caption, columns, 3);
}

static const char *format_flow(char *text, size_t size, enum uf_units units, double m3_s)
{
    (void)snprintf(text, size, units == UF_UNITS_US ? "%.0f gpm" : "%.1f L/s",
                   units == UF_UNITS_US ? m3_s / GPM_M3_S : 1e3 * m3_s);
    return text;
}

static void write_suction(const struct uf_recommend_page *page)
{
    const struct uf_suction *s = &page->topics.suction;
    const struct uf_suction_input *in = &page->r->run.site->works.suction;
    const enum uf_units units = page->units;
    char text[64], worked[240];
    begin_table(page,
                "Suction for fire use, water at its lowest usable level. Total head by NRCS "
                "NE-ENG-76 (2004); static lift and two hours by NRCS Code 432 (South Dakota 2004)");
    line(page, "flow", format_flow(text, sizeof text, units, in->flow_m3_s), "suction.flow");
    line(page, "static lift", UF_TEXT(LENGTH, units, s->static_m),
         "pump axis above grade + depth of the intake - water kept over it");
    (void)snprintf(worked, sizeof worked,
                   isnan(in->intake_loss_m) ? "1.2 ft (Q / 250 gpm)^2 (6 in / d)^4, d = %s"
                                            : "suction.intake_loss, from the manufacturer (d = %s)",
                   UF_TEXT(THICKNESS, units, in->pipe_m));
    line(page, "strainer and standpipe", UF_TEXT(LENGTH, units, s->intake_loss_m), worked);
    (void)snprintf(
        worked, sizeof worked,
        "Manning, n = 0.010, straight %s + fittings %s: 4^(10/3) n^2 Q^2 L / (pi^2 d^(16/3))",
        UF_TEXT(LENGTH, units, in->length_m), UF_TEXT(LENGTH, units, uf_suction_equivalent_m(in)));
    line(page, "pipe and fittings", UF_TEXT(LENGTH, units, s->pipe_loss_m), worked);
    line(page, "total head", UF_TEXT(LENGTH, units, s->total_m), "sum of the three");
    (void)snprintf(worked, sizeof worked, "22 ft less what an altitude of %s takes; preferred %s",
                   UF_TEXT(LENGTH, units, in->altitude_m), UF_TEXT(LENGTH, units, s->preferred_m));
    line(page, "greatest head here", UF_TEXT(LENGTH, units, s->most_m), worked);
    (void)snprintf(worked, sizeof worked, "of %s; below %s of ice, above %s over the intake",
                   UF_TEXT(LIQUID, units, s->full_m3), UF_TEXT(THICKNESS, units, in->ice_m),
                   UF_TEXT(LENGTH, units, in->cover_m));
    line(page, "water that can be drawn", UF_TEXT(LIQUID, units, s->available_m3), worked);
    (void)snprintf(text, sizeof text, "%.0f min", s->minutes);
    (void)snprintf(worked, sizeof worked, "water over flow; two hours take %s",
                   UF_TEXT(LIQUID, units, s->two_hours_m3));
    line(page, "lasts", text, worked);
}

static void write_fittings(const struct uf_recommend_page *page)
{
    const struct uf_frost_force *f = &page->topics.fittings;
    const struct uf_case *design = &page->r->jobs[UF_RECOMMEND_KEPT].design;
    const enum uf_units units = page->units;
    char worked[280];
    begin_table(page, "Fittings in frozen ground: frost jacking of risers, depth of pipes");
    line(page, "frost depth", UF_TEXT(LENGTH, units, f->frost_m),
         isnan(page->r->run.site->works.frost_depth_m) ? "undisturbed ground, computed"
                                                       : "frost.depth, as given");
    for (size_t i = 0; i < design->tank.n_risers; i++) {
        (void)snprintf(worked, sizeof worked,
                       "riser %zu: adfreeze bond %s x pi x %s x %s frozen in (%s)", i + 1,
                       UF_TEXT(PRESSURE, units, f->bond_Pa),
                       UF_TEXT(LENGTH, units, f->risers[i].diameter_m),
                       UF_TEXT(LENGTH, units, f->risers[i].frozen_m), page->topics.bond->source);
        line(page, "frost-jacking force", UF_TEXT(FORCE, units, f->risers[i].jacking_N), worked);
    }
    if (design->tank.n_risers > 0) {
        line(page, "resisting force", UF_TEXT(FORCE, units, f->spare_N),
             "buoyant weights less uplift, tank empty, water table of the frost season");
    }
    for (size_t i = 0; i < design->n_pipes; i++) {
        const struct uf_frost_force_pipe *pipe = &f->pipes[i];
        (void)snprintf(worked, sizeof worked, "%s: top of the pipe at %s, frost at %s",
                       design->pipes[i].name, UF_TEXT(LENGTH, units, pipe->crown_m),
                       UF_TEXT(LENGTH, units, f->frost_m));
        line(page, pipe->ok ? "pipe below the frost by" : "PIPE IN THE FROST by",
             UF_TEXT(LENGTH, units, fabs(pipe->margin_m)), worked);
    }
}

static void write_lifting(const struct uf_recommend_page *page)
{
    const struct uf_lifting *l = &page->topics.lifting;
    const struct uf_lifting_input *in = &page->r->run.site->works.lifting;
    const enum uf_units units = page->units;
    const bool given = !isnan(in->sling_m);
    const struct uf_lifting_legs *legs = given ? &l->given : &l->at_least;
    char text[64], worked[240];
    begin_table(page,
                "Lifting the empty tank: force in a leg = load / (legs x sine of the angle from "
                "the horizontal)");
    (void)snprintf(worked, sizeof worked, "%zu pick points, two legs carrying it all", in->picks);
    line(page, "load", UF_TEXT(FORCE, units, l->load_N), worked);
    (void)snprintf(text, sizeof text, "%.1f degrees", legs->from_horizontal_rad * 180.0 / UF_PI);
    (void)snprintf(
        worked, sizeof worked, "from the horizontal: legs of %s, hook to pick point %s%s",
        UF_TEXT(LENGTH, units, given ? in->sling_m : l->least_sling_m),
        UF_TEXT(LENGTH, units, l->reach_m), given ? "" : " (the shortest leg for 60 degrees)");
    line(page, "angle of a leg", text, worked);
    line(page, "force in a leg", UF_TEXT(FORCE, units, legs->two_N), "load / (2 x sine)");
    if (!isnan(l->hoist_use)) {
        (void)snprintf(worked, sizeof worked, "load and rigging over the hoist's %s",
                       UF_TEXT(FORCE, units, in->hoist_N));
        line(page, "hoist, utilization", UF_TEXT(SHARE, units, l->hoist_use), worked);
    }
}

static void write_roundness(const struct uf_recommend_page *page)
{
    const struct uf_recommend_topics *t = &page->topics;
    const struct uf_roundness_input *in = &page->r->run.site->works.roundness;
    const enum uf_units units = page->units;
    char worked[300];
    begin_table(page, "Roundness of the shell");
    if (t->has_forecast) {
        (void)snprintf(
            worked, sizeof worked,
            "modified Iowa formula: %.2g x 0.1 x P / (EI/r^3 + 0.061 E'), P = %s dead load at "
            "the crown, E' = %s, shell %s; range %.1f to %.1f percent",
            in->lag, UF_TEXT(PRESSURE, units, t->crown_Pa),
            UF_TEXT(PRESSURE, units, t->forecast.soil_modulus_Pa),
            isnan(in->shell_modulus_Pa) ? "not counted" : "counted", 100.0 * t->forecast.low,
            100.0 * t->forecast.high);
        line(page, "deflection predicted", UF_TEXT(SHARE, units, t->forecast.deflection), worked);
    }
    for (size_t i = 0; t->has_readings && i < t->roundness.n; i++) {
        (void)snprintf(worked, sizeof worked, "%s: (%s - %s) / first; level %s since the first",
                       in->readings[i].at, UF_TEXT(THICKNESS, units, in->readings[0].diameter_m),
                       UF_TEXT(THICKNESS, units, in->readings[i].diameter_m),
                       UF_TEXT(THICKNESS, units, t->roundness.rows[i].level_change_m));
        char text[32];
        (void)snprintf(text, sizeof text, "%.2f percent", 100.0 * t->roundness.rows[i].deflection);
        line(page, i == 0 ? "deflection measured" : "", text, worked);
    }
}

void uf_recommend_report_topics(const struct uf_recommend_page *page)
{
    const struct uf_recommend_topics *t = &page->topics;
    if (!t->has_suction && !t->has_fittings && !t->has_lifting && !t->has_readings &&
        !t->has_forecast && t->lacks[0] == '\0') {
        return;
    }
    uf_report_section(page->report, "Suction, fittings, lifting, roundness");
    if (t->has_suction) {
        write_suction(page);
    }
    if (t->has_fittings) {
        write_fittings(page);
    }
    if (t->has_lifting) {
        write_lifting(page);
    }
    if (t->has_readings || t->has_forecast) {
        write_roundness(page);
    }
    if (t->lacks[0] != '\0') {
        uf_report_paragraph(page->report, "Not worked: %s.", t->lacks);
    }
}
