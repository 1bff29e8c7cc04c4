#ifndef UF_SURFACE_H
#define UF_SURFACE_H

#include "solver/design/case.h"

/* The ground surface: today's weather in, a linear law out. Heat into the ground, W/m2:

       q = h (outside - T_surface)

   h = INFINITY means that the surface itself is at `outside`. */
struct uf_face_law {
    double h_W_m2K, outside_degC;
};

/* A row of the n-factor table: surface freezing (thawing) index = n x air index. */
struct uf_cover_row {
    const char *name;   /* the word in the site file, such as "turf" */
    const char *source; /* never empty */
    double n_freezing, n_thawing;
};

/* Ended by a row whose name is NULL. */
extern const struct uf_cover_row uf_surface_table[];

/* The row of that name, or NULL. */
const struct uf_cover_row *uf_surface_find(const char *name);

/* Conductivity of snow from its density, W/(m K), Sturm et al. (1997), J. Glaciol. 43(143), 26-41,
   with r in g/cm3:

       156 to 600 kg/m3   k = 0.138 - 1.01 r + 3.233 r^2
       below              k = 0.023 + 0.234 r

   density_kg_m3   10 to 600; NAN outside that range */
double uf_surface_snow_W_mK(double density_kg_m3);

/* A surface law: everything that differs between laws, one row and one file each
   (surface_<word>.c) and its line in UF_SURFACE_LIST. What differs is asked of the row; nobody asks
   for a law by its word. */
struct uf_surface_row {
    const char *const *keys; /* of the site file: one of them asks for this law; ended by NULL */
    const char *asked;       /* how one asks for it, for a message */
    const char *alone;       /* NULL, or what is wrong when the surface block stands beside it */
    bool own_record;         /* driven by a ground temperature on file, not by the air */
    bool (*takes_snow)(const struct uf_surface_input *surface); /* does lying snow insulate it? */
    double (*outside_degC)(const struct uf_surface_input *surface, double air_degC);
    double (*film_m2K_W)(const struct uf_surface_input *surface); /* NULL: none */
    /* The next barer surface; false: there is none. NULL: the law knows of none. */
    bool (*barer)(struct uf_surface_input *surface);
    /* What only shows between values, NULL where all is well; snow_given: the site file says anything of
       snow. No row is without this function. */
    const char *(*fault)(const struct uf_surface_input *surface, bool snow_given);
    void (*say)(struct uf_message *out, const struct uf_surface_input *surface);
};

const struct uf_surface_row *uf_surface_of(const struct uf_surface_input *surface);
const struct uf_surface_row *uf_surface_at(enum uf_surface_kind kind);

/* The law of one day under snow_m of lying snow (NAN counts as none). Snow under an n-factor of 1 is
   the only resistance. The top of lying snow is not warmer than 0 degC: warmer air melts it (its
   base is held there too, see struct uf_heat_now). */
struct uf_face_law uf_surface_law(const struct uf_surface_input *surface, double air_degC,
                                  double snow_m);

/* Snow that lies on a day: as recorded, or the fixed depth while it is cold. 0: none, or a law that
   takes none. */
double uf_surface_snow_m(const struct uf_surface_input *surface, double recorded_m, bool cold);

/* Does the law ask for the snow on file? */
bool uf_surface_reads_snow(const struct uf_surface_input *surface);

/* Does the law count snow that lies? */
bool uf_surface_lies(const struct uf_surface_input *surface);

/* Clears the ground of snow. true: that changes something. */
bool uf_surface_clear(struct uf_surface_input *surface);

/* For the rows: is an n-factor given, and other than 1 in either season; the air as it is. */
bool uf_surface_n_counts(const struct uf_surface_input *surface);
double uf_surface_as_air(const struct uf_surface_input *surface, double air_degC);

#endif
