#ifndef UF_GROUND_COLUMN_H
#define UF_GROUND_COLUMN_H

#include "ground_soil.h"
#include "solver/heat/section.h"
#include "solver/run/forcing.h"

/* A column of ground round a string of sensors: soil by their readings of water, profile
   at the start as they read it, and water that changes as they read it.

   Water. A sensor reads liquid water; below 0.3 degC (readings are to 0.1 K) part of it
   may be ice, and it tells nothing of the whole. So each week a layer has the mean of the
   week's readings at 0.3 degC or above; in a week without such, and while the column
   itself is frozen at the sensor, it keeps what it had: frozen water stays where it
   froze. Before the first such week it has that week's. Water comes and goes at the
   temperature of the ground it meets: its heat is not counted. */

#define UF_GROUND_LAYERS 5
extern const double uf_ground_thawed_degC; /* 0.3 */

struct uf_ground_layer {
    double depth_m; /* of the sensor; the layer reaches half way to the next */
    struct uf_ground_soil soil;
    const double *T_degC, *water_m3_m3; /* its readings, [weather.days]; NAN: none */
};

/* First harmonic of years of readings, NAN left out: mean + a cos(w t) + b sin(w t), t
   from the first day. */
struct uf_ground_wave {
    double mean_degC, a_K, b_K;
};
struct uf_ground_wave uf_ground_wave(const double *T_degC, size_t days);

/* Below the lowest sensor nothing was measured: adds points to a profile from the yearly
   wave of that sensor, damped and delayed by the soil's own diffusivity (thawed), about
   its yearly mean; what the sensor reads beside its wave that day fades over the same
   depth. day: days since the wave's first. */
void uf_ground_extend(struct uf_initial *profile, const struct uf_ground_wave *wave,
                      const struct uf_thermal *soil, size_t day);

/* Arrays are borrowed until the column is freed. */
struct uf_ground_column_input {
    struct uf_ground_layer layers[UF_GROUND_LAYERS];
    size_t n; /* layers; every sensor reads its temperature on the first day */
    struct uf_surface_input surface;
    struct uf_forcing_weather weather;
    struct uf_ground_wave wave; /* of the lowest sensor */
    size_t wave_day;            /* the weather's first day, counted from the wave's */
    enum uf_method method;
    double water_factor; /* times the water read; 1 */
    struct uf_season_options season;
};

/* The water of a layer in a week, by the rule above; NAN when none was read. days: of the
   readings */
double uf_ground_week_m3_m3(const struct uf_ground_layer *layer, size_t week, size_t days);

struct uf_ground_column;

/* Errors: UF_E_INPUT when a sensor never read its water while thawed; those of soils,
   grid, forcing and memory. */
enum uf_status uf_ground_column_create(struct uf_ground_column **out,
                                       const struct uf_ground_column_input *input,
                                       struct uf_error *err);
void uf_ground_column_free(struct uf_ground_column *column); /* NULL is fine */

/* Advances one day. Errors: UF_E_SOLVER. */
enum uf_status uf_ground_column_next(struct uf_ground_column *column, struct uf_error *err);
bool uf_ground_column_done(const struct uf_ground_column *column);
size_t uf_ground_column_day(const struct uf_ground_column *column); /* done so far */

double uf_ground_column_degC(const struct uf_ground_column *column, double depth_m);
double uf_ground_column_frost_m(const struct uf_ground_column *column); /* 0 degC line */
double uf_ground_column_water_m3_m3(const struct uf_ground_column *column, size_t layer);

/* Heat in less heat stored, over heat through the surface, without sign; the changes of
   water are no part of it. */
double uf_ground_column_balance(const struct uf_ground_column *column);

#endif
