#include "result_csv.h"

#include "result_private.h"
#include "solver/base/calendar.h"
#include "solver/design/shape.h"

#include <math.h>
#include <string.h>

struct told {
    const char *unit;
    enum uf_quantity quantity; /* UF_QUANTITY_COUNT: as it is held */
};

static struct told told_of(const char *unit, enum uf_units units)
{
    const enum uf_quantity kind =
        units == UF_UNITS_US ? uf_quantity_of_unit(unit) : UF_QUANTITY_COUNT;
    return (struct told){kind < UF_QUANTITY_COUNT ? uf_quantity_unit(kind, units) : unit, kind};
}

static void number(FILE *out, const struct told *told, double value)
{
    const double shown = told->quantity < UF_QUANTITY_COUNT
                             ? uf_quantity_value(told->quantity, UF_UNITS_US, value)
                             : value;
    (void)fprintf(out, isfinite(shown) ? ",%.9g" : ",", shown);
}

/* The day that ends at a time of a record. */
static const char *day_text(char text[16], double time_day)
{
    return uf_calendar_text((long)ceil(time_day) - 1, text, 16);
}

static void head(FILE *out, const struct uf_result *result, const char *what)
{
    (void)fprintf(out, "# %s", what);
    if (result->design.name[0] != '\0') {
        (void)fputs(": ", out);
        for (const char *c = result->design.name; *c != '\0'; c++) {
            (void)fputc((unsigned char)*c < ' ' ? ' ' : *c, out);
        }
    }
    (void)fputc('\n', out);
}

/* A text as one field, whatever it holds. */
static void quoted(FILE *out, const char *text)
{
    (void)fputc('"', out);
    for (const char *c = text; *c != '\0'; c++) {
        (void)fputs(*c == '"' ? "\"" : "", out);
        (void)fputc((unsigned char)*c < ' ' ? ' ' : *c, out);
    }
    (void)fputc('"', out);
}

/* ---- Series -------------------------------------------------------------------------------- */

static bool is_series(const struct uf_result_variable *v)
{
    return v->kind == UF_KIND_DOUBLE && v->rank == 1 && v->dims[0] == UF_DIM_TIME &&
           strcmp(v->name, "time") != 0;
}

static const double *series_of(const struct uf_record *record, const struct uf_result_variable *v)
{
    const double *series = NULL;
    memcpy(&series, (const char *)record + v->offset, sizeof series);
    return series;
}

static const char *standard_name(const char *variable)
{
    static const struct {
        const char *variable, *standard;
    } names[] = {{"air_temperature", "air_temperature"}, {"snow_depth", "surface_snow_thickness"}};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (strcmp(names[i].variable, variable) == 0) {
            return names[i].standard;
        }
    }
    return NULL;
}

static bool has_any(const struct uf_result *result)
{
    return result->record != NULL;
}

static void write_series(FILE *out, const struct uf_result *result,
                         const struct uf_result_csv *asked)
{
    const struct uf_record *r = result->record;
    head(out, result, "daily series, at the end of a day, local standard time");
    for (const struct uf_result_variable *v = uf_result_variables; v->name != NULL; v++) {
        const char *standard = standard_name(v->name);
        if (is_series(v)) {
            (void)fprintf(out, "# %s: %s%s%s\n", v->name, v->words.long_name,
                          standard != NULL ? "; standard_name " : "",
                          standard != NULL ? standard : "");
        }
    }
    (void)fputs("date", out);
    for (const struct uf_result_variable *v = uf_result_variables; v->name != NULL; v++) {
        if (is_series(v)) {
            (void)fprintf(out, ",%s [%s]", v->name, told_of(v->words.units, asked->units).unit);
        }
    }
    const struct told degree = told_of("degC", asked->units);
    for (size_t p = 0; p < r->n_probes; p++) {
        (void)fprintf(out, ",probe_%zu [%s]", p + 1, degree.unit);
    }
    (void)fputc('\n', out);
    for (size_t t = 0; t < r->nt; t++) {
        char date[16];
        (void)fputs(day_text(date, r->time_day[t]), out);
        for (const struct uf_result_variable *v = uf_result_variables; v->name != NULL; v++) {
            if (is_series(v)) {
                const struct told told = told_of(v->words.units, asked->units);
                number(out, &told, series_of(r, v)[t]);
            }
        }
        for (size_t p = 0; p < r->n_probes; p++) {
            number(out, &degree, r->probe_degC[t * r->n_probes + p]);
        }
        (void)fputc('\n', out);
    }
}

/* ---- Fields at depths ---------------------------------------------------------------------- */

static bool has_fields(const struct uf_result *result)
{
    return result->record != NULL && result->record->temperature_degC != NULL;
}

/* A field at a depth in one column of cells, straight between centres; NAN outside. */
static double field_at(const struct uf_record *r, const float *field, size_t t, size_t column,
                       double depth_m)
{
    const float *now = field + t * r->nz * r->nx + column;
    size_t k = 0;
    if (!(depth_m >= 0.0 && depth_m <= r->z_edge_m[r->nz])) {
        return NAN;
    }
    while (k + 2 < r->nz && r->z_m[k + 1] < depth_m) {
        k++;
    }
    if (r->nz < 2 || depth_m <= r->z_m[0]) {
        return (double)now[0];
    }
    const double share = fmin((depth_m - r->z_m[k]) / (r->z_m[k + 1] - r->z_m[k]), 1.0);
    return (1.0 - share) * (double)now[k * r->nx] + share * (double)now[(k + 1) * r->nx];
}

static void write_fields(FILE *out, const struct uf_result *result,
                         const struct uf_result_csv *asked)
{
    const struct uf_record *r = result->record;
    const struct told length = told_of("m", asked->units), degree = told_of("degC", asked->units);
    const bool tank = uf_shape_at(result->design.shape) != NULL;
    static const char *const places[] = {"undisturbed", "axis"};
    head(out, result, "temperature and ice at depths, at the end of a day, local standard time");
    (void)fputs(
        "# place: undisturbed is the column farthest from the tank, axis the one through it\n"
        "# temperature: of ground, board and tank, straight between the centres of "
        "cells; standard_name soil_temperature in undisturbed ground\n"
        "# ice_fraction: share of the water that is ice\n"
        "# depth: below grade; standard_name depth\n",
        out);
    (void)fprintf(out, "date,place,depth [%s],temperature [%s],ice_fraction [1]\n", length.unit,
                  degree.unit);
    for (size_t t = 0; t < r->nt; t++) {
        for (size_t place = 0; place < (tank ? 2 : 1); place++) {
            const size_t column = place == 0 ? r->nx - 1 : 0;
            for (size_t d = 0; d < asked->n_depths; d++) {
                const double depth_m = asked->depth_m[d];
                const double ice = field_at(r, r->ice_fraction, t, column, depth_m);
                char date[16];
                (void)fprintf(out, "%s,%s", day_text(date, r->time_day[t]), places[place]);
                number(out, &length, depth_m);
                number(out, &degree, field_at(r, r->temperature_degC, t, column, depth_m));
                (void)fprintf(out, isfinite(ice) ? ",%.9g\n" : ",\n", ice);
            }
        }
    }
}

/* ---- Facts --------------------------------------------------------------------------------- */

static void write_fact(FILE *out, const struct uf_fact *fact, const struct uf_summary *s, size_t i)
{
    char key[120], date[16];
    const bool has_value = fact->type != UF_FACT_DAY && uf_facts_known(fact, s, i);
    const long day = uf_facts_day(fact, s, i);
    (void)fprintf(out, "%s,", uf_facts_word(key, sizeof key, fact->key, i));
    quoted(out, fact->list != NULL ? uf_facts_name(fact, s, i) : "");
    (void)fprintf(out, has_value ? ",%.9g" : ",", uf_facts_value(fact, s, i));
    (void)fprintf(out, ",%s,%s,", fact->type == UF_FACT_DAY ? "" : uf_facts_unit(fact),
                  day != UF_NO_DAY ? uf_calendar_text(day, date, sizeof date) : "");
    quoted(out, fact->label);
    (void)fputc('\n', out);
}

/* In SI whatever is asked: the key of a fact ends in its unit. */
static void write_facts(FILE *out, const struct uf_result *result,
                        const struct uf_result_csv *asked)
{
    (void)asked;
    head(out, result, "every number that the run answers with, SI");
    (void)fputs("# name: of the probe or pipe, where there are several; unit: of the value\n"
                "fact,name,value,unit,date,meaning\n",
                out);
    for (const struct uf_fact *fact = result->facts; fact->key != NULL; fact++) {
        for (size_t i = 0; i < uf_facts_count(fact, &result->summary); i++) {
            if (fact->role != UF_FACT_MACHINE && fact->type != UF_FACT_TEXT &&
                uf_facts_applies(fact, &result->summary)) {
                write_fact(out, fact, &result->summary, i);
            }
        }
    }
}

const struct uf_result_csv_table uf_result_csv_tables[] = {
    {"series", "one line a day: frost, water, wall, weather, probes", has_any, write_series},
    {"fields", "one line a day, place and depth: temperature and ice", has_fields, write_fields},
    {"facts", "one line a number of the answer, with its date", has_any, write_facts},
    {NULL, NULL, NULL, NULL}};
