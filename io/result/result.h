#ifndef UF_RESULT_H
#define UF_RESULT_H

#include "solver/choice/limit.h"
#include "solver/design/anchor.h"
#include "solver/design/dig.h"
#include "solver/run/facts.h"

/* A whole result as plain data: what a file keeps, what a picture and a report are made
   from. A command fills one on its stack from what it has (the pointers are then
   borrowed, and uf_result_free is not called); a reader hands out one that owns
   everything. */

#define UF_RESULT_NAME_SIZE 128

/* A kind of anchor that a design has, as its row describes it. */
struct uf_result_anchor {
    char name[UF_NAME_SIZE]; /* of one */
    bool under_bedding;      /* else beside the tank */
    struct uf_anchor_body body;
};

/* A limit that a design is held to. */
struct uf_result_limit {
    char key[UF_NAME_SIZE]; /* the site file's key that sets it */
    double asked;           /* in SI, of the quantity in its row of uf_limits */
};

/* The parts of a design that a picture shows. Metres below grade, positive down; half
   widths from the tank's axis. NAN: there is no such thing. */
struct uf_result_design {
    char name[UF_RESULT_NAME_SIZE];       /* of the site */
    char board_name[UF_RESULT_NAME_SIZE]; /* row of the board table, "": properties given */
    long shape;                           /* enum uf_shape */
    double latitude_deg;
    double crown_m, invert_m, half_width_m, length_m;
    double head_m;                    /* how far one head reaches out past length_m */
    double wall_thickness_m, level_m; /* level: water depth above the invert */
    struct uf_riser risers[UF_MAX_RISERS];
    size_t n_risers;
    struct uf_pipe pipes[UF_MAX_PIPES];
    size_t n_pipes;
    double board_top_m, board_bottom_m, board_half_width_m, skirt_m;
    double water_winter_m, water_highest_m; /* water table */
    struct uf_dig dig;                      /* the pit; all NAN where none is given */
    struct uf_result_anchor anchors[UF_ANCHORS];
    size_t n_anchors;
    struct uf_result_limit limits[UF_LIMIT_MOST];
    size_t n_limits;
    char currency[UF_RESULT_NAME_SIZE]; /* of the costs; "": no prices given */
    size_t n_probes;
    double probe_x_m[UF_MAX_PROBES], probe_depth_m[UF_MAX_PROBES];
};

/* The numbers that are kept of a choice, one row each: its key among the numbers told of each option
   (solver/choice/choice_facts.h), its name and unit in a file, its words there. */
#define UF_RESULT_CHOICE_LIST(X)                                                                   \
    X(cover_m, "choice_cover", "m", "grade to crown")                                              \
    X(thickness_m, "choice_thickness", "m", "thickness of the board")                              \
    X(beyond_tank_m, "choice_beyond_tank", "m", "reach of the board past the tank's side")         \
    X(water_min_degC, "choice_water_min", "degC", "coldest water or wetted wall")                  \
    X(uplift_factor, "choice_uplift_factor", "1",                                                  \
      "factor of safety against flotation, buoyant weights")                                       \
    X(board_use, "choice_board_use", "1", "load on the board over what it may carry")              \
    X(cost, "choice_cost", "1", "cost in the currency of the site file")

/* One of the choices that were tried. NAN: not known; where thickness_m is 0 the reach means nothing. */
#define UF_RESULT_CHOICE_MEMBER(key, name, unit, words) double key;
struct uf_result_choice {
    UF_RESULT_CHOICE_LIST(UF_RESULT_CHOICE_MEMBER)
    bool ok;                    /* every limit met */
    bool robust;                /* known to be met in every sensitivity case too */
    char governs[UF_NAME_SIZE]; /* key of the limit with the least margin */
};

/* A sensitivity case of the design; the first is the design itself. */
struct uf_result_case {
    char name[UF_NAME_SIZE];
    char limit[UF_NAME_SIZE];   /* key of the decisive limit, the same for all */
    double margin;              /* of the decisive limit over its scale; NAN: does not apply */
    bool ok;                    /* every limit met */
    char governs[UF_NAME_SIZE]; /* key of the limit with the least margin in that case */
};

/* Uplift factor with the water table at one depth. NAN factor: nothing lifts. */
struct uf_result_level {
    double depth_m, factor;
};

struct uf_result_winter {
    long year;                      /* in which it begins */
    double freezing_index_degC_day; /* NAN: not usable */
    double frost_m, water_min_degC; /* what came of it, where every winter was run; NAN */
    size_t station;                 /* at which, of several; rising. A file holds those of one */
};

struct uf_result_return {
    double years, freezing_index_degC_day;
};

/* The weather that drove the run, one day. */
struct uf_result_day {
    double time_day, air_degC, snow_m; /* days since 1970-01-01 00:00 */
    double mean_air_degC, mean_snow_m; /* of the mean year on that date; NAN: not known */
};

/* A measured series beside what was computed, for a picture alone: no file keeps it. */
struct uf_result_overlay {
    char name[UF_RESULT_NAME_SIZE];
    bool length;                       /* a depth in m; else degC */
    const double *measured, *computed; /* [n], NAN: not read; borrowed */
    size_t n;
    long first_day;
};

/* A distribution, and a place with a number: of a study, for pictures alone. */
struct uf_result_curve {
    char name[UF_RESULT_NAME_SIZE];
    bool length;          /* depths in m; else degC */
    const double *sorted; /* [n], borrowed */
    size_t n;
};
struct uf_result_place {
    char name[UF_RESULT_NAME_SIZE];
    double longitude_deg, latitude_deg, index_degC_day;
    double thickness_m; /* of the smallest option; NAN: none will do */
};

struct uf_result {
    struct uf_record *record;        /* the design (of several choices: the pick) */
    struct uf_record *without_board; /* the same without board, or NULL */
    struct uf_summary summary, summary_without_board;
    const struct uf_fact *facts; /* what a file keeps of them: uf_facts */
    struct uf_result_design design;
    struct uf_result_choice *choices;
    size_t n_choices;
    long pick; /* index into choices; -1: none */
    struct uf_result_case *cases;
    size_t n_cases;
    struct uf_result_level *levels;
    size_t n_levels;
    struct uf_result_winter *winters;
    size_t n_winters;
    const char *const *stations; /* names, borrowed, of winters of several; NULL: `station` */
    struct uf_result_return *returns;
    size_t n_returns;
    double design_index_degC_day; /* of the design winter; NAN: not known */
    double uplift_factor;         /* tank empty, highest water table; NAN: not known, no lift */
    struct uf_result_day *days;   /* weather; none: taken from the record */
    size_t n_days;
    const struct uf_result_overlay *overlays; /* borrowed */
    size_t n_overlays;
    const struct uf_result_curve *curves; /* borrowed */
    size_t n_curves;
    const struct uf_result_place *places; /* borrowed */
    size_t n_places;
    /* Texts, NULL where there is none. */
    char *title, *version, *command_line, *site_text, *summary_json, *libraries;
    char *station, *winter_text; /* station's name and source; the design winter */
    char *site_changes;          /* what --set changed of site_text, one key=value a line */
};

/* An empty result: no arrays, every number of the design and the summary NAN, no pick. */
void uf_result_init(struct uf_result *result);

/* A design of nothing: every number NAN, no anchor, limit or probe. */
void uf_result_design_clear(struct uf_result_design *design);

/* The parts of design a picture needs, its anchors, limits and probes included; of the limits those
   that the design alone asks for. */
void uf_result_design_fill(struct uf_result_design *out, const struct uf_case *design);

/* Frees what a reader handed out, and the struct itself. NULL is fine. */
void uf_result_free(struct uf_result *result);

#endif
