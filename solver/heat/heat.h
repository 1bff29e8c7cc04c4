#ifndef UF_HEAT_H
#define UF_HEAT_H

#include "grid.h"
#include "solver/ground/material.h"

#include <stdint.h>

/* The ground as a network of nodes that exchange heat: conservation of enthalpy on finite volumes,

       V dH/dt = sum of heat flows into the node

   Nodes 0 .. n_cells-1 are the grid's cells; lumped bodies (well-mixed water, the air above it)
   follow. Quantities are per metre of tank, half section (whole body for a radial grid).

   Heat between two cells of one substance runs as conductance x (U_a - U_b), exact for any k(T) in
   steady state (Kirchhoff). Where the line between two centres crosses more than one substance, or
   the shell, the flow is a link: resistances in series over the length of each, k as the secant
   between the two temperatures. */

#define UF_HEAT_NONE ((size_t)-1)

struct uf_heat_link {
    size_t a, b;
    double area_m2;
    double fixed_m2K_W;            /* shell, air films */
    double inner_m2K_W;            /* the part of fixed on the inner side of the wall's surface */
    double length_a_m, length_b_m; /* lengths of material a and b along the line, 0 = none */
    uint16_t material_a, material_b;
    bool wetted; /* through the shell into water; a is the soil side */
};

/* A top node's way to the surface: half a cell of ground, or where the tank itself comes
   up to grade its lid, as a length of a substance of 1 W/m/K. */
struct uf_heat_top {
    size_t cell;
    double area_m2, half_m;
    uint16_t material;
    bool lid, wetted;   /* of the tank; with water under it */
    double inner_m2K_W; /* film on a lid's inner side, part of the way */
};

/* A node's way to the air through a resistance (a riser's lid). */
struct uf_heat_vent {
    size_t node;
    double W_K;
};

/* A node's way to a cell of ground through the side of a shaft that rises from it. Where what fills it
   cools at the side, sinks and mixes, heat goes out by W_K; where it lies still in layers, by
   still_W_K, either way. Air sinks wherever the cell is the colder, and conducts nothing. Water sinks
   where it is above 3.98 degC besides, from a kelvin above it on in full; below that the colder is
   the lighter. That warmer ground would stir colder water is not counted: the safe side. */
struct uf_heat_shaft {
    size_t node, cell;
    double W_K, still_W_K;
    bool water;
};

struct uf_heat {
    const struct uf_grid *grid; /* borrowed */
    size_t n_cells, n;
    size_t water;   /* first node of the water, or UF_HEAT_NONE */
    size_t n_water; /* its nodes, one after the other from the top down: 1 = mixed, 0 = none,
                       or the water is cells */
    size_t air;     /* node, or UF_HEAT_NONE */
    struct uf_material *materials;
    size_t n_materials;
    uint16_t *material;         /* [n] what the node is made of (a blend in a cut cell) */
    uint16_t *conducts;         /* [n_cells] what conducts heat in it */
    double *volume_m3;          /* [n]; 0 = not in use (inside the tank) */
    double *gx_m, *gz_m, *gy_m; /* [n_cells] area/distance to the right, to the cell below and
                                   to that of the next slice; 0 where a link or nothing does it */
    struct uf_heat_link *links;
    size_t n_links;
    struct uf_heat_top *tops;
    size_t n_tops;
    double *bottom_W; /* [ny][nx] geothermal, into the lowest row of every slice */
    struct uf_heat_vent vents[UF_MAX_RISERS];
    size_t n_vents;
    struct uf_heat_shaft *shafts;
    size_t n_shafts;
    size_t held;                    /* node kept at its temperature, or UF_HEAT_NONE */
    double inflow_W_K, inflow_degC; /* into the water's first node; 0: none */
    double wetted_m2; /* wetted wall, its share of the ends with it: for the ice thickness */
    double water_m3;  /* water per metre before any ends correction */
};

/* The outside at one instant. h = INFINITY: the surface is at outside_degC. Where snow
   lies the ground's surface is not warmer than 0 degC: what would warm it melts snow
   instead. */
struct uf_heat_now {
    double outside_degC, h_W_m2K, air_degC;
    bool snow;
};

/* Heat flows through the boundaries, W, positive into the modelled body. */
struct uf_heat_flow {
    double surface_W, bottom_W, vent_W, held_W, inflow_W;
};

/* The heats that such flows carry in a time, J. */
struct uf_heat_budget {
    double surface_J, bottom_J, vent_J, held_J, inflow_J;
};

/* T of every node from its enthalpy. H, T [n] */
void uf_heat_temperatures(const struct uf_heat *heat, const double *H_J_m3, double *T_degC);
void uf_heat_enthalpies(const struct uf_heat *heat, const double *T_degC, double *H_J_m3);

/* Net heat flow into every node, W [n]; the flows through the boundaries in *flow. */
void uf_heat_rate(const struct uf_heat *heat, const struct uf_heat_now *now, const double *T_degC,
                  double *into_W, struct uf_heat_flow *flow);

/* Sum over the boundaries. */
double uf_heat_total_J(const struct uf_heat_budget *budget);

/* Heat held, J: sum of volume x enthalpy. H [n] */
double uf_heat_stored_J(const struct uf_heat *heat, const double *H_J_m3);

/* Flow through one link, W from a to b. */
double uf_heat_link_W(const struct uf_heat *heat, const struct uf_heat_link *link,
                      const double *T_degC);

/* Conductance of one link between its present temperatures, W/K. */
double uf_heat_link_W_K(const struct uf_heat *heat, const struct uf_heat_link *link,
                        const double *T_degC);

/* Heat into the ground through one top cell, and its derivative -dq/dT (W/K, may be NULL). */
double uf_heat_top_W(const struct uf_heat *heat, const struct uf_heat_top *top,
                     const struct uf_heat_now *now, double T_degC, double *minus_slope_W_K);

/* Temperature of the ground's surface over one top cell, degC. */
double uf_heat_surface_degC(const struct uf_heat *heat, const struct uf_heat_top *top,
                            const struct uf_heat_now *now, double T_degC);

/* Pairs of nodes that exchange heat, for a matrix: structured faces first, then the
   links, then the shafts. The caller frees *pairs. */
enum uf_status uf_heat_pairs(const struct uf_heat *heat, size_t (**pairs)[2], size_t *n_pairs,
                             struct uf_error *err);

/* Adds scale x (-d into / dT) to a matrix of that pattern: W/K times the unit of scale.
   T_degC [n], as in uf_heat_rate's order of nodes. */
struct uf_sparse;
void uf_heat_matrix(const struct uf_heat *heat, const struct uf_heat_now *now, const double *T_degC,
                    double scale, struct uf_sparse *matrix);

/* Adds a conductance from each of the water's nodes to the next, where joined [n_water] says so
   (NULL: everywhere), to a matrix of that pattern; and the flows through it to into_W. */
void uf_heat_join_water(const struct uf_heat *heat, double W_K, const bool *joined,
                        struct uf_sparse *matrix);
void uf_heat_add_joined(const struct uf_heat *heat, double W_K, const bool *joined,
                        const double *T_degC, double *into_W);

/* Is the node one of the water's? */
bool uf_heat_is_water(const struct uf_heat *heat, size_t node);

/* Everything it owns; not the grid. NULL is fine. */
void uf_heat_free(struct uf_heat *heat);

#endif
