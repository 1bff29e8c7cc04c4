#ifndef UF_CASE_H
#define UF_CASE_H

#include "solver/base/error.h"
#include "water_year.h"

#include <stdbool.h>
#include <stddef.h>

/* One design as asked: geometry, soils, boundaries, limits. Plain data, SI, copied
   freely, const once checked. A number that was not given is NAN; a count that was not
   given is 0. Depths are below grade, positive down. x runs from the tank's axis (radius
   for a vertical cylinder). */

#define UF_MAX_LAYERS     16
#define UF_MAX_RISERS     8
#define UF_MAX_STANDPIPES 4
#define UF_MAX_PROBES     32
#define UF_MAX_PIPES      8
#define UF_MAX_CHOICES    16
#define UF_MAX_PROFILE    32
#define UF_MAX_MATERIALS  32
#define UF_NAME_SIZE      64

struct uf_soil;      /* soil.h: a row of the soil table */
struct uf_foam;      /* foam.h: a row of the board table */
struct uf_cover_row; /* surface.h: a row of the n-factor table */

/* Thermal properties of a soil that freezes. Liquid share of the water at T degC:

       unfrozen_B == 0   linear, 1 at freezing_from, 0 at freezing_to
       else              min(1, unfrozen_A |T|^unfrozen_B / water_percent)

   (Anderson & Tice 1972). Conductivity and heat capacity run linearly with the liquid share between
   the two states. */
struct uf_thermal {
    double k_thawed_W_mK, k_frozen_W_mK;         /* > 0 */
    double c_thawed_J_m3K, c_frozen_J_m3K;       /* > 0 */
    double latent_J_m3;                          /* of all the water, >= 0 */
    double freezing_from_degC, freezing_to_degC; /* from > to */
    double unfrozen_A_percent, unfrozen_B; /* % of dry mass at -1 degC; B < 0, or 0 = linear */
    double water_percent;                  /* water by dry mass, %; used with the curve */
};

/* A soil as a user writes it: a table row with what was measured, or properties outright. */
struct uf_ground_spec {
    const struct uf_soil *soil; /* NULL: thermal is given */
    bool has_thermal;
    struct uf_thermal thermal;     /* read when has_thermal */
    double dry_density_kg_m3;      /* NAN: the row's */
    double moisture_by_mass;       /* share of dry mass, 0.20 = 20 %; NAN: the row's */
    double moisture_by_volume;     /* m3/m3; NAN */
    double grain_m;                /* that flow in its pores goes by; NAN: the row's */
    double quartz;                 /* share of the grains; NAN: the row's */
    double unfrozen_share;         /* water still liquid at -1 degC, of dry mass; NAN: the row's */
    double unfrozen_exponent;      /* B of A |T|^B, below 0; NAN: the row's */
    double unit_weight_moist_N_m3; /* NAN: from density and moisture */
    double unit_weight_saturated_N_m3; /* NAN: from density and porosity */
};

/* A soil of the table with nothing else given; soil may be NULL. */
struct uf_ground_spec uf_case_ground_spec(const struct uf_soil *soil);

/* Are two soils one: every value within a billionth of itself? */
bool uf_case_same_soil(const struct uf_ground_spec *a, const struct uf_ground_spec *b);

struct uf_layer {
    double to_m; /* depth of the layer's underside */
    struct uf_ground_spec spec;
};

enum uf_method { UF_COTE_KONRAD, UF_JOHANSEN, UF_KERSTEN };

struct uf_ground_input {
    struct uf_layer layers[UF_MAX_LAYERS]; /* from grade down; the last reaches the bottom */
    size_t n_layers;
    enum uf_method method;
    double geothermal_W_m2;                 /* upward at the bottom, 0 when not given */
    bool highest_given;                     /* or found from the water through the year */
    double water_winter_m, water_highest_m; /* NAN winter: no water table */
    struct uf_water_year year;              /* the table through the year */
    bool water_moves; /* the frost run follows the year; water_winter_m is then its mid-winter */
};

enum uf_snow_kind { UF_SNOW_NONE, UF_SNOW_RECORDED, UF_SNOW_FIXED };
/* Surface laws: the C word and that of its file, solver/weather/surface_<word>.c. Where a site file
   asks for two that may stand together, the earlier one counts. */
#define UF_SURFACE_LIST(X)                                                                         \
    X(FILM, film)                                                                                  \
    X(N_FACTOR, n_factor)                                                                          \
    X(MEASURED, measured)
#define UF_SURFACE_WORD(WORD, name) UF_SURFACE_##WORD,
enum uf_surface_kind { UF_SURFACE_LIST(UF_SURFACE_WORD) UF_SURFACE_LAWS };
#undef UF_SURFACE_WORD

struct uf_surface_input {
    enum uf_surface_kind kind;
    double film_W_m2K;
    enum uf_snow_kind snow;
    double snow_depth_m, snow_density_kg_m3; /* density also for recorded snow */
    const struct uf_cover_row *row;          /* n-factor row, or NULL with the two below given */
    double n_freezing, n_thawing;
    double measured_depth_m; /* depth at which the law acts: of a sensor in the ground, else 0 */
};

/* Shapes of a tank: the C word, the word in the site file; each has its row in shape_<word>.c. */
#define UF_SHAPE_LIST(X)                                                                           \
    X(HORIZONTAL_CYLINDER, horizontal_cylinder)                                                    \
    X(VERTICAL_CYLINDER, vertical_cylinder)                                                        \
    X(BOX, box)
#define UF_SHAPE_WORD(WORD, name) UF_##WORD,
enum uf_shape { UF_NO_TANK, UF_SHAPE_LIST(UF_SHAPE_WORD) };
#undef UF_SHAPE_WORD
/* How the water in the tank mixes: as one body; in rows of the grid, each mixed sideways,
   that lie on one another by their density; not at all. */
enum uf_water_kind { UF_WATER_LAYERED, UF_WATER_MIXED, UF_WATER_UNMIXED };
/* How a lying tank's ends come in: not at all, or as slices along its axis. */
enum uf_ends { UF_ENDS_PLANE, UF_ENDS_THREE_DIMENSIONAL };
enum uf_heads { UF_FLAT, UF_HEMISPHERICAL, UF_ELLIPSOIDAL_2_TO_1 };

/* The side of an upright pipe or shaft: its wall, and an insulating sleeve round it. */
struct uf_shell {
    double wall_m, wall_W_mK;     /* thickness 0: not given, it resists nothing */
    double sleeve_m, sleeve_W_mK; /* thickness 0: none */
    double sleeve_length_m;       /* from grade down; INFINITY: all the way */
};

/* Where a riser's insulated lid lies: on top, so that the air below it gives heat to the ground through
   the riser's side; or as a frost cover at the crown, with no such air. */
enum uf_lid_place { UF_LID_TOP, UF_LID_CROWN };

/* Its top stays where it is, whatever the cover: uf_case_riser_top_m. */
struct uf_riser {
    double diameter_m, above_grade_m; /* of its top; negative: below grade */
    double
        height_m; /* crown to top: as the site file asks it in place of above_grade, NAN if not; in
                        a result as it was run */
    double lid_m2K_W;
    double station_m; /* its axis from the tank's left end in plan; NAN: not known */
    enum uf_lid_place lid_at;
    struct uf_shell shell;
};

struct uf_tank {
    enum uf_shape shape;
    double diameter_m;                  /* outside; cylinders */
    double width_m, height_m, length_m; /* outside; box: all three; vertical cylinder: height;
                     horizontal cylinder: length of the shell between heads */
    enum uf_heads heads;
    enum uf_ends ends; /* of a lying tank; uf_case_init: plane. A site file that does not say so is
                     read as three dimensions */
    double empty_mass_kg;
    double wall_thickness_m, wall_k_W_mK; /* NAN thickness: no shell */
    double level_m, lowest_m,
        start_degC;           /* water depth above the invert; 0 = empty. lowest NAN: half */
    enum uf_water_kind water; /* see uf_case_water */
    double outlet_m;          /* outlet or intake above the invert; NAN: see uf_case_outlet_m */
    double mixing_W_mK;       /* not mixed, with this conductivity; NAN: not given */
    double hold_degC;         /* NAN: not kept warm */
    double inflow_m3_s, inflow_degC; /* 0: none */
    struct uf_riser risers[UF_MAX_RISERS];
    size_t n_risers;
};

struct uf_burial {
    double cover_m;         /* grade to crown */
    double bedding_m;       /* under the invert */
    double pit_clearance_m; /* NAN: no pit drawn, ground as it lies */
    double pit_slope;       /* horizontal per vertical */
    char soil_class;        /* 'A', 'B', 'C', 0 = not given (OSHA table B-1) */
    bool has_backfill, has_bedding_soil;
    struct uf_ground_spec backfill, bedding_soil; /* without has_bedding_soil: backfill */
    double fill_over_m; /* brought-in fill over the crown; INFINITY: up to grade */
    int native_swell;   /* row of uf_pit_swells for native ground; -1: not counted */
};

struct uf_board {
    bool present;
    const struct uf_foam *row; /* where k, strength, density came from; may be NULL */
    double k_W_mK, strength_Pa, density_kg_m3; /* in service */
    double thickness_m;                        /* 0: no board */
    double beyond_tank_m, above_crown_m, skirt_m;
    bool least;          /* the weakest type that carries the load: settle.h */
    bool nominal_inches; /* a thickness was given in whole inches: UF_NOMINAL_INCH_M each */
};

/* A board sold as 2 in is made 50 mm thick: nominal inches (ASTM C578 and CAN/ULC-S701 boards are
   made in steps of 25 mm; from memory). */
#define UF_NOMINAL_INCH_M 0.025

/* Kinds of anchor: the C word and that of its file, solver/design/anchor_<word>.c. */
#define UF_ANCHOR_LIST(X)                                                                          \
    X(DEADMEN, deadmen)                                                                            \
    X(PAD, pad)
#define UF_ANCHOR_WORD(WORD, name) UF_ANCHOR_##WORD,
enum uf_anchor_kind { UF_ANCHOR_LIST(UF_ANCHOR_WORD) UF_ANCHORS };
#undef UF_ANCHOR_WORD

struct uf_anchors {
    char name[UF_NAME_SIZE]; /* of one among choices.anchors; "" */
    bool least;              /* sized to the required factor at least cost: settle.h */
    size_t deadmen;          /* 0: none */
    double deadman_width_m, deadman_height_m, deadman_length_m;
    double deadman_top_m;    /* depth of its top; NAN: on the bedding's underside at most */
    double deadman_offset_m; /* axis of the tank to axis of the deadman; NAN: just outside */
    size_t straps;
    double strap_strength_N; /* NAN: not given */
    bool has_pad;
    double pad_length_m, pad_width_m, pad_thickness_m;
    double concrete_N_m3; /* unit weight */
};

struct uf_probe {
    char name[UF_NAME_SIZE];
    double x_m, depth_m;                  /* depth resolved from below_crown / above_invert */
    double below_crown_m, above_invert_m; /* NAN unless that form was used */
    double least_degC;                    /* limit, NAN: none */
};

struct uf_pipe {
    char name[UF_NAME_SIZE];
    double diameter_m, depth_m; /* depth of the pipe's centre */
    bool under_board;
};

/* A line that rises from below the frost to grade beside the tank, hydrant or suction; water stands in
   it as high as in the tank. */
struct uf_standpipe {
    char name[UF_NAME_SIZE];
    double diameter_m, bottom_m; /* outside; depth of its lower end */
    double from_axis_m;          /* of the tank; NAN: in undisturbed ground */
    double cap_m2K_W;            /* resistance of its cap or frost plug */
    struct uf_shell shell;
};

struct uf_grid_input {
    double finest_m, width_m, depth_m;
};

struct uf_limits {
    double water_degC;       /* coldest water or wetted wall */
    double outlet_degC;      /* water at the outlet; NAN: not judged */
    double ice_share;        /* 0 to 1 */
    double standpipe_ice;    /* share of a standpipe's bore, 0 to 1 */
    double ice_thickness_m;  /* at the top of the water; NAN: not judged */
    double uplift_factor;    /* of safety against flotation */
    double greatest_cover_m; /* NAN: the shell is unchecked */
};

/* What recommend may vary; a count of 0: the design's own value. */
struct uf_choices {
    double cover_m[UF_MAX_CHOICES], thickness_m[UF_MAX_CHOICES], beyond_m[UF_MAX_CHOICES];
    double skirt_m[UF_MAX_CHOICES], lid_m2K_W[UF_MAX_CHOICES], sleeve_m[UF_MAX_CHOICES];
    double fill_over_m[UF_MAX_CHOICES];
    const struct uf_foam *type[UF_MAX_CHOICES]; /* NULL: least */
    struct uf_anchors anchors[UF_MAX_CHOICES];
    size_t n_cover, n_thickness, n_beyond, n_skirt, n_lid, n_sleeve, n_fill_over, n_type, n_anchors;
};

struct uf_costs {
    bool given;
    char currency[8];
    double excavation_m3, board_m3, sleeve_m3, lid_m3, concrete_m3,
        backfill_m3;                    /* currency per m3; NAN: not given */
    double haul_m3;                     /* of spoil, in the bank */
    double geotextile_m2, strap, fixed; /* per m2; for one; for the whole */
    double shoring_m, shoring_below_m;  /* per metre of pit deeper than shoring_below_m */
};

/* How far a recommended option must be from breaking: robust.h. */
struct uf_sensitivity {
    double temperature_K, depth_m; /* the model's own error, kept as margin in the design case */
    unsigned long left_out;        /* bit i: the case uf_variants[i] is switched off */
};

/* How a measured profile goes on below its lowest point: run_profile.c. */
enum uf_below { UF_BELOW_WAVE, UF_BELOW_LINE, UF_BELOW_CONSTANT };

struct uf_initial {
    size_t n_profile; /* 0: start from the repeated mean year */
    double depth_m[UF_MAX_PROFILE], degC[UF_MAX_PROFILE];
    enum uf_below below;
    long date, end; /* days since 1970-01-01; UF_NO_DAY: not given */
};
#define UF_NO_DAY (-99999999L)

struct uf_case {
    char name[128];
    double latitude_deg; /* NAN: northern hemisphere assumed */
    struct uf_ground_input ground;
    struct uf_surface_input surface;
    struct uf_tank tank;
    struct uf_burial burial;
    struct uf_board board;
    struct uf_anchors anchors;
    double wheel_N;  /* 0: none */
    bool wheel_h20;  /* the published H-20 table applies */
    int load_method; /* uf_load_method the board is judged by; -1: the most adverse that applies */
    struct uf_probe probes[UF_MAX_PROBES];
    size_t n_probes;
    struct uf_pipe pipes[UF_MAX_PIPES];
    size_t n_pipes;
    struct uf_standpipe standpipes[UF_MAX_STANDPIPES];
    size_t n_standpipes;
    struct uf_grid_input grid;
    struct uf_limits limits;
    struct uf_choices choices;
    struct uf_costs costs;
    struct uf_sensitivity sensitivity;
    struct uf_initial initial;
};

/* A case with nothing given: every optional number NAN, every default of the contract set. */
void uf_case_init(struct uf_case *design);

/* Geometry that follows from the case, in m; depths below grade, positive down. A size
   that was not given makes the answer NAN. */

/* Depth of the tank's top (burial.cover) and of its bottom, outside of the shell. */
double uf_case_crown_m(const struct uf_case *design);
double uf_case_invert_m(const struct uf_case *design);

/* Depth of a riser's top below grade, negative above it, not below the crown; and from the crown to it. */
double uf_case_riser_top_m(const struct uf_case *design, const struct uf_riser *riser);
double uf_case_riser_height_m(const struct uf_case *design, const struct uf_riser *riser);

/* Is there a tank at all? */
bool uf_case_has_tank(const struct uf_case *design);

/* Does the side of any riser count? See struct uf_shell. */
bool uf_case_counts_sides(const struct uf_case *design);

/* Half of the tank's width at its widest, outside; 0 without a tank. */
double uf_case_half_width_m(const struct uf_case *design);

/* Crown to invert, outside. */
double uf_case_tank_height_m(const struct uf_case *design);

/* Depth of the board's upper and lower face. Asked only of a design with board. */
double uf_case_board_top_m(const struct uf_case *design);
double uf_case_board_bottom_m(const struct uf_case *design);

/* From the tank's axis to the board's edge: half width of the tank and beyond_tank_m. */
double uf_case_board_half_width_m(const struct uf_case *design);

/* Is there a measured profile whose lowest point lies above the section's bottom? */
bool uf_case_profile_ends_above(const struct uf_case *design);

/* Are there anchors, but no straps from the tank to them? */
bool uf_case_untied(const struct uf_case *design);

/* Asked for: the least factor of safety against flotation; the most ice in a standpipe's bore, a share.
   Statics and the standpipes' run, which lie below the table of limits, take them from here as it does. */
double uf_case_flotation_asked(const struct uf_case *design);
double uf_case_pipe_ice_asked(const struct uf_case *design);

/* Does the design have board at all (present and thicker than nothing)? */
bool uf_case_has_board(const struct uf_case *design);

/* Depth of the outlet or suction intake: of a probe named so ("outlet", "suction", "intake") that
   lies in the tank; else tank.outlet_m, else 0.1 m, above the inside invert. */
double uf_case_outlet_m(const struct uf_case *design);

/* How the water mixes: kept warm it does; with a conductivity of its own it does not; else as
   asked. */
enum uf_water_kind uf_case_water(const struct uf_case *design);

/* Does water run in that can be counted? Only mixed water takes it up: still water would
   have to be told where it goes. */
bool uf_case_has_inflow(const struct uf_case *design);

/* Looks for geometry that cannot be (board inside the tank or out of the ground, tank below the
   domain, layers out of order, water deeper than the tank, a probe outside the domain ...). Single
   values are range-checked where they are read; this is what only shows between values.
   faults    room for n_max rows
   returns   how many faults there are; at most n_max were written */
size_t uf_case_check(const struct uf_case *design, struct uf_fault *faults, size_t n_max);

#endif
