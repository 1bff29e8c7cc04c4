#ifndef UF_SOIL_H
#define UF_SOIL_H

#include "solver/design/case.h"

/* The soil table and what follows from a row: conductivity by three published methods,
   heat capacity, latent heat, unit weights. Pure functions; no file. */

enum uf_texture { UF_FINE, UF_COARSE }; /* Kersten and Johansen */
enum uf_grain {
    UF_GRAIN_GRAVEL,
    UF_GRAIN_SAND,
    UF_GRAIN_SILT_CLAY,
    UF_GRAIN_ORGANIC
};                                                  /* Cote-Konrad */
enum uf_origin { UF_NATURAL, UF_CRUSHED, UF_PEAT }; /* Cote-Konrad dry law */

struct uf_soil {
    const char *name;   /* the word in the site file */
    const char *doc;    /* one line for a person */
    const char *source; /* where the numbers come from; never empty; see uf_soil_source */
    enum uf_texture texture;
    enum uf_grain grain;
    enum uf_origin origin;
    double quartz;                               /* share of the solids, 0 to 1 */
    double solid_kg_m3;                          /* density of the grains */
    double dry_density_kg_m3;                    /* default in place */
    double moisture_by_mass;                     /* default, share of dry mass */
    double usual_density_kg_m3[2];               /* dry, in place: usual from, to */
    double usual_moisture[2];                    /* share of dry mass: usual from, to */
    double freezing_from_degC, freezing_to_degC; /* linear range, used when unfrozen_B is 0 */
    double unfrozen_A_percent, unfrozen_B;       /* A |T|^B, % of dry mass; 0 = linear range */
    double grain_m;          /* that water flows by, D10; common practice, no source; 0: too fine */
    const char *frost_group; /* USACE frost group(s), such as "F4"; for the frost checks */
};

/* What a soil is drawn as. */
enum uf_soil_mark {
    UF_SOIL_UNMARKED,
    UF_SOIL_FINE,
    UF_SOIL_SAND,
    UF_SOIL_GRAVEL,
    UF_SOIL_CRUSHED,
    UF_SOIL_ORGANIC,
    UF_SOIL_MARKS
};
extern const char *const uf_soil_mark_words[UF_SOIL_MARKS];

/* By grain and origin of a row; NULL, a measured soil, has no mark. */
enum uf_soil_mark uf_soil_mark(const struct uf_soil *soil);

/* NULL-terminated by a row whose name is NULL. */
extern const struct uf_soil uf_soil_table[];

/* Where the numbers of a row come from, with its usual range in place of {}. */
void uf_soil_source(struct uf_message *out, const struct uf_soil *soil);

/* The row of that name, or NULL. */
const struct uf_soil *uf_soil_find(const char *name);

/* Conductivity, W/(m K), of a soil with dry density rho_d (kg/m3), water by dry mass w
   (share) and saturation Sr computed inside; frozen: all water taken as ice. Sources:
   Kersten (1949), Univ. Minnesota Bull. 28; Johansen (1975); Cote and Konrad (2005), Can.
   Geotech. J. 42. What of them is from memory stands in soil.c. */
double uf_soil_kersten_W_mK(enum uf_texture texture, double dry_density_kg_m3,
                            double moisture_by_mass, bool frozen);
double uf_soil_johansen_W_mK(const struct uf_soil *soil, double dry_density_kg_m3,
                             double moisture_by_mass, bool frozen);
double uf_soil_cote_konrad_W_mK(const struct uf_soil *soil, double dry_density_kg_m3,
                                double moisture_by_mass, bool frozen);

/* What a spec comes to, thermally and in weight. */
struct uf_soil_state {
    struct uf_thermal thermal;
    double dry_density_kg_m3, moisture_by_mass, porosity,
        saturation;                                            /* NAN with thermal given outright */
    double unit_weight_moist_N_m3, unit_weight_saturated_N_m3; /* NAN when not known */
    struct uf_message note; /* a warning, such as a method outside its range; may be "" */
};

/* Resolves spec. saturated: below the water table, all pores full.
   Errors: UF_E_RANGE for moisture beyond saturation or a density above the grains'. */
enum uf_status uf_soil_resolve(struct uf_soil_state *out, const struct uf_ground_spec *spec,
                               enum uf_method method, bool saturated, struct uf_error *err);

#endif
