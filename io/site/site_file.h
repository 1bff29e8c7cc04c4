#ifndef UF_SITE_FILE_H
#define UF_SITE_FILE_H

#include "io/text/quantity.h"
#include "site_observed.h"
#include "site_works.h"
#include "solver/design/case.h"
#include "solver/weather/winter.h"

#include <stdio.h>

/* One site as a user wrote it: the case itself and what only files know. */

#define UF_TEXT_SIZE 256

/* Title block of what is handed over; "" and UF_NO_DAY: not given. */
struct uf_site_project {
    char title[160], number[64], client[160], revision[32], prepared_by[96], checked_by[96];
    long date;
};

/* The way of a pipe in plan, from the tank on: along from the tank's left end, across from its axis,
   up in plan positive. */
#define UF_SITE_ROUTES 8
#define UF_SITE_BENDS  12
struct uf_site_route {
    char pipe[UF_NAME_SIZE]; /* of a row of pipes or standpipes */
    double along_m[UF_SITE_BENDS], across_m[UF_SITE_BENDS];
    size_t n_along, n_across;
    double fall; /* away from the tank, down positive; NAN: level */
};

/* What only a drawing shows. Stations along the tank from its left end in plan, m. */
#define UF_SITE_STRAPS 32
struct uf_site_drawing {
    char benchmark[96];   /* "": not given */
    char origin[160];     /* what fixes the tank in plan; "": not given */
    double grade_level_m; /* of grade, in the benchmark's system; NAN */
    double
        bearing_degree; /* of the tank's axis, to its right end in plan, clockwise from north; NAN */
    double riser_m[UF_MAX_RISERS], strap_m[UF_SITE_STRAPS];
    size_t n_risers, n_straps; /* 0: not given */
    struct uf_site_route routes[UF_SITE_ROUTES];
    size_t n_routes;
};

/* The route of a pipe by its name, or NULL. */
const struct uf_site_route *uf_site_drawing_route(const struct uf_site_drawing *drawing,
                                                  const char *pipe);

enum uf_source_kind { UF_SOURCE_NONE, UF_SOURCE_FILE, UF_SOURCE_CYCLE };

struct uf_site {
    char path[1024];            /* of the site file */
    char *text;                 /* its whole text */
    enum uf_source_kind source; /* where the weather comes from */
    char climate_file[UF_TEXT_SIZE], climate_column[UF_TEXT_SIZE];
    struct uf_winter_choice winter;
    bool winter_given;
    double cycle_mean_degC, cycle_amplitude_K, cycle_coldest_day, cycle_period_day;
    char measured_file[UF_TEXT_SIZE], measured_column[UF_TEXT_SIZE]; /* surface_temperature */
    enum uf_units units;                                             /* of text, CSV and pictures */
    struct uf_site_project project;
    struct uf_site_drawing drawing;
    struct uf_case design;
    struct uf_site_works works;
    struct uf_site_observed observed[UF_SITE_OBSERVED];
    size_t n_observed;
};

/* One fault a row: FILE:LINE: key.path: what is wrong: what is allowed. line 0: the value came by
   --set. */
struct uf_site_faults {
    struct uf_fault *rows;
    size_t n;
};

/* "key.path=value" pairs of --set, in order; value is YAML. */
struct uf_site_override {
    const char *text;
};
struct uf_site_overrides {
    const struct uf_site_override *rows;
    size_t n;
};

/* Reads and checks a whole site file; every fault of the file is found at once. overrides may be
   NULL.
   UF_OK        *out is the site (free with uf_site_free), faults->n == 0
   UF_E_INPUT   faults hold at least one row
   UF_E_FILE    err says why it could not be read */
enum uf_status uf_site_read(struct uf_site **out, const char *path,
                            const struct uf_site_overrides *overrides,
                            struct uf_site_faults *faults, struct uf_error *err);

/* The same from memory (tests, fuzzing). name stands for the file in messages. */
enum uf_status uf_site_parse(struct uf_site **out, const char *name, const char *text, size_t size,
                             const struct uf_site_overrides *overrides,
                             struct uf_site_faults *faults, struct uf_error *err);

/* The units that a site file asks for; *out stays as it is where there is no such file, or where it
   cannot be read: whoever opens it next says why. */
void uf_site_units(enum uf_units *out, const char *path, const struct uf_site_overrides *overrides);

void uf_site_free(struct uf_site *site); /* NULL is fine */
void uf_site_faults_clear(struct uf_site_faults *faults);

/* The table of keys as text: path, unit, range, default, help; for --help and the manual. */
void uf_site_print_keys(FILE *out);

#endif
