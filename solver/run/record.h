#ifndef UF_RECORD_H
#define UF_RECORD_H

#include "solver/base/counters.h"
#include "solver/design/case.h"

#include <stdint.h>

/* What a run leaves: a summary of plain numbers, and a record of daily series and fields.
   Both are plain data; the record owns its arrays. Days are counted from 1970-01-01;
   UF_NO_DAY = never. NAN = no such thing in this case (no tank, no water ...). */

struct uf_extreme {
    double degC;
    long day;
};

struct uf_probe_summary {
    char name[UF_NAME_SIZE];
    struct uf_extreme least;
    long days_below_zero;
    double limit_degC; /* NAN: none */
};

/* Water in a standpipe: standpipe.h. */
struct uf_standpipe_summary {
    char name[UF_NAME_SIZE];
    struct uf_extreme least;          /* coldest content */
    double ice_share;                 /* of the bore, where it froze most; 1: shut */
    long shut_days;                   /* days frozen shut somewhere */
    double sleeve_m, sleeve_length_m; /* least of those tried that holds what is asked for, 0
                                         where the pipe as it is does; NAN: none tried does */
};

struct uf_summary {
    double frost_undisturbed_m; /* largest depth of the 0 degC line in undisturbed ground */
    long frost_undisturbed_day;
    double frost_above_m; /* same over the tank's axis, never deeper than the crown */
    long frost_above_day;
    bool frost_reaches_tank;
    long thaw_out_day; /* first day without frost after the deepest, in undisturbed ground */
    double berggren_m, relations_m,
        frost_without_snow_m;              /* beside frost_undisturbed_m: plausible.h */
    struct uf_extreme water, outlet;       /* coldest water anywhere; that at the outlet */
    struct uf_extreme wall, crown, invert; /* coldest wetted wall; wall at crown and invert */
    double ice_share, ice_thickness_m;     /* largest share of the water; thickest at its top where
                                          it is layered, else as an even ring on the wall */
    /* Heat that keeps the whole tank warm (contents.hold): the most in a day, its mean
       over that day, and all of the run. */
    double hold_most_W, hold_J;
    long hold_most_day;
    struct uf_probe_summary probes[UF_MAX_PROBES];
    size_t n_probes;
    struct uf_probe_summary pipes[UF_MAX_PIPES]; /* ground at the pipe's crown */
    size_t n_pipes;
    struct uf_standpipe_summary standpipes[UF_MAX_STANDPIPES];
    size_t n_standpipes;
    double heat_balance_relative;               /* |in - stored| / heat exchanged at the surface */
    double groundwater_in_m, groundwater_out_m; /* depth of water that the ground took up and gave
                                                   off as its table moved; NAN: it does not */
    double groundwater_heat; /* its heat, for the heat exchanged at the surface; NAN */
    double riser_share;      /* of the water's heat loss in the frost season; NAN without riser */
    /* What berggren_m and relations_m are worked from; NAN where they were not: */
    double published_air_Kday, published_surface_Kday, published_days, published_annual_degC,
        published_film_m2K_W;
    double standpipe_share; /* the same of standpipes; NAN without */
    double side_effect_K;   /* largest difference, over the rows, between the coldest
                             temperatures of the two outermost columns */
    double side_effect_m;   /* the same of their frost depth: small = wide enough */
    double bottom_effect_K; /* what the no-flux bottom can still change at the deepest
                               thing looked at (frost, tank, probe): the swing of the
                               lowest cells, faded over the way up; small = deep enough */
    double startup_left_K;  /* what the state the run starts from may still be off the settled
                              mean year; 0 where it starts from a given profile */
    struct uf_counters counters;
};

/* What a record keeps beside series and grid, added up. */
enum uf_record_keep {
    UF_KEEP_SERIES = 0,
    UF_KEEP_SECTIONS = 1, /* fields of the section at mid-tank and of the long section */
    UF_KEEP_LINES = 2,    /* the 0 degC line of both */
    UF_KEEP_WHOLE = 4,    /* fields of every slice */
    UF_KEEP_USUAL = UF_KEEP_SECTIONS | UF_KEEP_LINES
};

struct uf_record_size {
    size_t nt, nz, nx, ny; /* times, rows, columns, slices; ny 0: a plane section, not a long one */
    size_t n_probes;
};

/* The section at mid-tank, and, of a run in slices, the long one: the column on the axis in
   every slice, y along the axis. */
struct uf_record {
    size_t nt, nz, nx, ny, n_probes;        /* as in struct uf_record_size */
    double *time_day;                       /* [nt] days since 1970-01-01 00:00 */
    double *z_m, *x_m, *y_m;                /* [nz], [nx], [ny] cell centres; z positive down */
    double *z_edge_m, *x_edge_m, *y_edge_m; /* [nz+1], [nx+1], [ny+1] */
    float *temperature_degC, *ice_fraction; /* [nt][nz][nx], or NULL when they were not kept */
    float *long_degC, *long_ice;            /* [nt][nz][ny], or NULL */
    float *whole_degC, *whole_ice;          /* [nt][ny][nz][nx], or NULL */
    float *line_m, *long_line_m;            /* [nt][nx], [nt][ny] depth of the 0 degC line, see
                                                uf_run_line_m; or NULL */
    int8_t *material, *long_material;       /* [nz][nx], [nz][ny] index into material_names */
    char material_names[UF_MAX_MATERIALS][UF_NAME_SIZE];
    int8_t marks[UF_MAX_MATERIALS]; /* enum uf_soil_mark */
    size_t n_materials;
    bool radial;                                          /* x is a radius */
    double *frost_depth_m, *frost_above_m, *thaw_depth_m; /* [nt] */
    double *water_degC, *ice_share, *wall_degC, *crown_degC,
        *surface_W_m;   /* [nt]; heat into the ground
through the half section's surface per metre of tank (whole
surface, W, for a vertical tank) */
    double *probe_degC; /* [nt][n_probes] */
    char probe_names[UF_MAX_PROBES][UF_NAME_SIZE];
    double *air_degC, *snow_m; /* [nt] weather used */
};

/* An empty record: doubles NAN, the rest 0. keep: bits of enum uf_record_keep. */
enum uf_status uf_record_create(struct uf_record **out, const struct uf_record_size *size,
                                unsigned keep, struct uf_error *err);
void uf_record_free(struct uf_record *record); /* NULL is fine */

/* The arrays that every record of that size has, so that they can be copied or kept without naming
   each. per_time: first dimension is time. Returns how many there are. */
#define UF_RECORD_ARRAYS 20
struct uf_record_array {
    void *data;
    size_t bytes;
    bool per_time;
};
size_t uf_record_arrays(const struct uf_record *record,
                        struct uf_record_array list[UF_RECORD_ARRAYS]);

/* Copies series and grid of a part into a record, its times from `at` on. Same grid and
   probes; fields are left alone. */
void uf_record_copy(struct uf_record *record, size_t at, const struct uf_record *part);

/* Index of the time with the deepest frost (undisturbed) in the record. 0 for an empty one. */
size_t uf_record_coldest(const struct uf_record *record);

#endif
