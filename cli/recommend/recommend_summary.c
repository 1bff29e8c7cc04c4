#include "io/result/part_file.h"
#include "io/text/quantity.h"
#include "recommend.h"
#include "solver/base/calendar.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The answer as a table that any spreadsheet reads: key,value,unit, in the units asked for, a number the
   same in every language, nothing where there is no value. A number without a dimension
   has share, factor or count for its unit; only texts and dates have none. */

/* A text cell: in quotes, quotes doubled, on one line. A text that a spreadsheet would
   take for a formula gets a blank before it. */
static void put_quoted(FILE *out, const char *text)
{
    (void)fputc('"', out);
    if (text[0] != '\0' && strchr("=+-@", text[0]) != NULL) {
        (void)fputc(' ', out);
    }
    for (const char *at = text; *at != '\0'; at++) {
        if (*at == '"') {
            (void)fputc('"', out);
        }
        (void)fputc((unsigned char)*at < 0x20 ? ' ' : *at, out);
    }
    (void)fputc('"', out);
}

static void put_text(FILE *out, const char *key, const char *text)
{
    (void)fprintf(out, "%s,", key);
    put_quoted(out, text);
    (void)fputs(",\n", out);
}

/* The file and the units it is written in. */
struct csv {
    FILE *out;
    enum uf_units units;
};

/* A key without the unit that is its last word: "frost_depth.max_m" without "_m", "index_degC_day"
   without "_degC_day". */
static int key_length(const char *key, const char *unit)
{
    const size_t n = strlen(key), end = strlen(unit);
    bool ends = n > end + 1 && key[n - end - 1] == '_';
    for (size_t i = 0; ends && i < end; i++) {
        ends = key[n - end + i] == (unit[i] == ' ' ? '_' : unit[i]);
    }
    return (int)(ends ? n - end - 1 : n);
}

static void put_number(const struct csv *csv, const char *key, double value, const char *unit)
{
    int length = (int)strlen(key);
    const enum uf_quantity kind =
        csv->units == UF_UNITS_US ? uf_quantity_of_unit(unit) : UF_QUANTITY_COUNT;
    if (kind < UF_QUANTITY_COUNT) {
        length = key_length(key, unit);
        value = uf_quantity_value(kind, UF_UNITS_US, value);
        unit = uf_quantity_unit(kind, UF_UNITS_US);
    }
    if (isfinite(value)) {
        (void)fprintf(csv->out, "%.*s,%.10g,%s\n", length, key, value, unit);
    } else {
        (void)fprintf(csv->out, "%.*s,,%s\n", length, key, unit);
    }
}

static void put_choice(const struct csv *csv, const struct uf_recommend *r)
{
    const struct uf_choice *row = &r->choices->rows[r->shown];
    const struct uf_costs *costs = &r->run.site->design.costs;
    put_number(csv, "cover", row->cover_m, "m");
    put_number(csv, "board.thickness", row->thickness_m, "m");
    put_number(csv, "board.beyond_tank", row->thickness_m > 0.0 ? row->beyond_m : (double)NAN, "m");
    char governs[400];
    put_text(csv->out, "governs",
             uf_recommend_governs_words(governs, sizeof governs, row, UF_UNITS_SI));
    for (size_t i = 0; i < uf_limit_count; i++) {
        char key[96];
        (void)snprintf(key, sizeof key, "margin.%s", uf_limits[i].key);
        put_number(csv, key, row->verdict.margin[i], uf_limit_unit(&uf_limits[i]));
    }
    put_number(csv, "uplift.force", row->uplift.highest.uplift_N, "N");
    put_number(csv, "uplift.holddown_submerged", row->uplift.highest.submerged_N, "N");
    put_number(csv, "uplift.factor_submerged", row->uplift.highest.factor_submerged, "factor");
    put_number(csv, "uplift.factor_total", row->uplift.highest.factor_total, "factor");
    put_number(csv, "uplift.needed_ballast", row->uplift.needed_ballast_m3, "m3");
    put_number(csv, "uplift.least_cover", row->uplift.least_cover_m, "m");
    put_number(csv, "board.use", row->load.present ? row->load.board_use : (double)NAN, "share");
    put_number(csv, "pit.depth", row->pit.depth_m, "m");
    put_number(csv, "pit.excavation", row->pit.excavation_m3, "m3");
    put_number(csv, "pit.backfill", row->pit.backfill_m3 + row->pit.bedding_m3, "m3");
    put_number(csv, "pit.board", row->pit.board_m3, "m3");
    put_number(csv, "pit.concrete", row->pit.concrete_m3, "m3");
    put_number(csv, "pit.spoil", row->pit.spoil_m3, "m3");
    put_number(csv, "cost", row->cost.total, costs->given ? costs->currency : "");
}

/* One of a fact, and its date. */
static void put_fact(const struct csv *csv, const struct uf_fact *fact, const struct uf_summary *s,
                     size_t i)
{
    char key[120];
    char date[16] = "";
    const long day = uf_facts_day(fact, s, i);
    if (day != UF_NO_DAY) {
        (void)uf_calendar_text(day, date, sizeof date);
    }
    (void)uf_facts_key(key, sizeof key, fact->key, i);
    if (fact->type == UF_FACT_TEXT) {
        put_text(csv->out, key, uf_facts_name(fact, s, i));
    } else if (fact->type == UF_FACT_DAY) {
        (void)fprintf(csv->out, "%s,%s,\n", key, date);
    } else if (fact->type == UF_FACT_BOOL) {
        const bool yes = uf_facts_number(fact, s, i) > 0.0;
        put_text(csv->out, key, !uf_facts_known(fact, s, i) ? "" : yes ? "yes" : "no");
    } else {
        put_number(csv, key, uf_facts_value(fact, s, i), uf_facts_unit(fact));
    }
    if (fact->date_key != NULL) {
        (void)fprintf(csv->out, "%s,%s,\n", uf_facts_key(key, sizeof key, fact->date_key, i), date);
    }
}

void uf_recommend_summary_facts(FILE *out, enum uf_units units, const struct uf_fact *facts,
                                const struct uf_summary *s)
{
    const struct csv csv = {out, units};
    for (const struct uf_fact *fact = facts; fact->key != NULL; fact++) {
        for (size_t i = 0; i < uf_facts_count(fact, s) && fact->role != UF_FACT_MACHINE; i++) {
            put_fact(&csv, fact, s, i);
        }
    }
}

static void put_variants(const struct csv *csv, const struct uf_recommend *r)
{
    for (size_t i = 0; i < r->n_variants; i++) {
        const struct uf_robust_case *v = &r->variants[i];
        char key[64];
        (void)snprintf(key, sizeof key, "if %s.coldest", v->row->name);
        put_number(csv, key, v->water_degC, "degC");
        (void)snprintf(key, sizeof key, "if %s.holds", v->row->name);
        put_text(csv->out, key, v->verdict.ok ? "yes" : "no");
    }
}

enum uf_status uf_recommend_summary(const struct uf_recommend *r, enum uf_units units,
                                    const char *path, struct uf_error *err)
{
    struct uf_part_file part;
    const enum uf_status status = uf_part_file_open(&part, path, err);
    if (status != UF_OK) {
        return status;
    }
    const struct csv csv = {part.file, units};
    (void)fputs("key,value,unit\n", csv.out);
    put_text(csv.out, "site", r->run.site->design.name);
    put_text(csv.out, "winter", r->run.weather->text.text);
    put_text(csv.out, "every limit met", r->choices->pick >= 0 ? "yes" : "no");
    put_number(&csv, "choices", (double)r->choices->n, "count");
    if (r->shown >= 0) {
        put_choice(&csv, r);
        uf_recommend_summary_facts(csv.out, units, uf_facts, &r->jobs[UF_RECOMMEND_KEPT].summary);
        put_variants(&csv, r);
    }
    return uf_part_file_close(&part, UF_OK, err);
}
