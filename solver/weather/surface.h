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

/* The law of one day. snow_m: depth on the ground that day (NAN counts as none), read
   only where the surface asks for recorded snow. Fixed snow lies on days whose air is not
   above 0 degC, so that it does not hold the summer's warmth out. Snow under an n-factor
   of 1 is the only resistance. The top of lying snow is not warmer than 0 degC: warmer
   air melts it (its base is held there too, see struct uf_heat_now). */
struct uf_face_law uf_surface_law(const struct uf_surface_input *surface, double air_degC,
                                  double snow_m);

/* The texts of faults in the surface block that only show between values, or NULL: n
   other than 1 together with film or snow counts the surface twice. */
const char *uf_surface_fault(const struct uf_surface_input *surface);

#endif
