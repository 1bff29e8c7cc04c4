#include "field_page.h"

#include "field_page_private.h"
#include "io/result/part_file.h"
#include "report_private.h"
#include "solver/base/constants.h"
#include "solver/statics/roundness.h"

#include <math.h>
#include <stdio.h>

static double in_tape(const struct uf_field_page *page, double m)
{
    return page->units == UF_UNITS_US ? m / UF_INCH_M : 1e3 * m;
}

static const char *level_unit(const struct uf_field_page *page)
{
    return page->units == UF_UNITS_US ? "ft" : "m";
}

static void put_number(FILE *out, const char *name, double value)
{
    if (isfinite(value)) {
        (void)fprintf(out, " data-%s=\"%.9g\"", name, value);
    }
}

static void put_head(FILE *out, const struct uf_field_page *page)
{
    const bool us = page->units == UF_UNITS_US;
    (void)fputs("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
                "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\"><title>",
                out);
    uf_report_escape(out, page->title);
    (void)fprintf(out, " - field record</title><style>\n%s</style></head>\n<body data-tape=\"%s\"",
                  uf_field_page_script_style, us ? "in" : "mm");
    (void)fprintf(out, " data-stations=\"%zu\" data-amber=\"%g\"", page->stations,
                  UF_ROUNDNESS_AMBER);
    put_number(out, "limit", page->limit);
    put_number(out, "level-limit", us ? page->level_limit_m / UF_FOOT_M : page->level_limit_m);
    put_number(out, "diameter", in_tape(page, page->diameter_m));
    (void)fprintf(out, " data-store=\"underfrost field record, %s: ", us ? "in" : "mm");
    uf_report_escape(out, page->title);
    (void)fputs("\">\n<h1>", out);
    uf_report_escape(out, page->title);
    (void)fputs("</h1>\n", out);
}

/* What is judged by what; the values to stop at by the diameter as designed. */
static void put_limits(FILE *out, const struct uf_field_page *page)
{
    const struct uf_roundness_band band = uf_roundness_band(page->diameter_m, page->limit);
    if (isnan(page->limit)) {
        (void)fputs(
            "<p><b>Not judged:</b> the site file gives no roundness.limit. Take it from the "
            "tank manufacturer's sheet; readings are kept all the same.</p>\n",
            out);
    } else {
        (void)fprintf(
            out,
            "<p><b>Stop</b> when an inside diameter has changed by more than %.3g %% of its "
            "first reading (manufacturer's sheet). By the diameter as designed it stays "
            "from %s to %s. WATCH: past %.0f %% of that, or one more such change would pass "
            "it.</p>\n",
            100.0 * page->limit, UF_TAPE(page->units, band.low_m, true),
            UF_TAPE(page->units, band.high_m, false), 100.0 * UF_ROUNDNESS_AMBER);
    }
    if (isfinite(page->level_limit_m)) {
        (void)fprintf(out, "<p>Level: either end stays within %s of its first reading.</p>\n",
                      UF_TEXT(THICKNESS, page->units, page->level_limit_m));
    }
    (void)fprintf(out,
                  "<p>Diameters in %s (%s), levels in %s. Nobody enters the tank or an unprotected "
                  "pit to read a tape; measure through the manway.</p>\n",
                  page->units == UF_UNITS_US ? "inches" : "mm",
                  page->units == UF_UNITS_US ? "93 3/4 or 93.75" : "whole or with a point",
                  level_unit(page));
}

static void put_input(FILE *out, size_t stage, const char *name, const char *kind,
                      const char *label)
{
    (void)fprintf(out, "<input id=\"s%zu-%s\"%s%s%s aria-label=\"%s\" autocomplete=\"off\">", stage,
                  name, kind[0] != '\0' ? " data-kind=\"" : "", kind, kind[0] != '\0' ? "\"" : "",
                  label);
}

static void put_stage(FILE *out, const struct uf_field_page *page, size_t stage)
{
    (void)fprintf(out, "<section id=\"s%zu\" data-at=\"", stage);
    uf_report_escape(out, page->stages[stage]);
    (void)fprintf(out, "\"><h2>%zu. ", stage + 1);
    uf_report_escape(out, page->stages[stage]);
    (void)fputs("</h2>\n<div class=\"row head\"><span></span><span>top to bottom</span>"
                "<span>side to side</span><span></span></div>\n",
                out);
    for (size_t k = 1; k <= page->stations; k++) {
        char name[32];
        (void)fprintf(out, "<div class=\"row\"><span>%zu</span>", k);
        (void)snprintf(name, sizeof name, "v%zu", k);
        put_input(out, stage, name, "diameter", "diameter top to bottom");
        (void)snprintf(name, sizeof name, "h%zu", k);
        put_input(out, stage, name, "diameter", "diameter side to side");
        (void)fprintf(out, "<output id=\"s%zu-o%zu\"></output></div>\n", stage, k);
        if (isfinite(page->limit)) {
            (void)fprintf(out, "<p class=\"stop-at\" id=\"s%zu-s%zu\"></p>\n", stage, k);
        }
    }
    (void)fprintf(
        out,
        "<div class=\"row head\"><span></span><span>level near end, %s</span>"
        "<span>level far end, %s</span><span></span></div>\n<div class=\"row\"><span></span>",
        level_unit(page), level_unit(page));
    put_input(out, stage, "n", "level", "level of the near end");
    put_input(out, stage, "f", "level", "level of the far end");
    (void)fprintf(out,
                  "<output id=\"s%zu-ol\"></output></div>\n<div class=\"row head\"><span></span>"
                  "<span>date</span><span>read by</span><span></span></div>\n"
                  "<div class=\"row\"><span></span>",
                  stage);
    put_input(out, stage, "d", "", "date");
    put_input(out, stage, "b", "", "read by");
    (void)fputs("</div></section>\n", out);
}

enum uf_status uf_field_page_write(const char *path, const struct uf_field_page *page,
                                   struct uf_error *err)
{
    struct uf_part_file part;
    const enum uf_status status = uf_part_file_open(&part, path, err);
    if (status != UF_OK) {
        return status;
    }
    put_head(part.file, page);
    put_limits(part.file, page);
    for (size_t i = 0; i < page->n_stages; i++) {
        put_stage(part.file, page, i);
    }
    (void)fprintf(part.file,
                  "<p>The downloaded file: underfrost check SITE.yaml roundness --readings "
                  "record.csv</p>\n<footer><button id=\"download\">Download CSV</button>"
                  "<span id=\"state\"></span><button id=\"clear\">Clear</button></footer>\n"
                  "<script>\n%s%s</script></body></html>\n",
                  uf_field_page_script_judge, uf_field_page_script_keep);
    return uf_part_file_close(&part, UF_OK, err);
}
