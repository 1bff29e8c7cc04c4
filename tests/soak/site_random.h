#ifndef UF_TESTS_SITE_RANDOM_H
#define UF_TESTS_SITE_RANDOM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* A random site that the site file allows: all shapes, surfaces and kinds of water, levels at every
   edge, extreme soils. The same seed gives the same site. Lengths in m. */
struct site_random {
    int shape;             /* row of the shapes: 3 is no tank */
    double size_m, long_m; /* across, and along or up */
    double level_share;    /* of the inner height; 0 and 1 are likely */
    double level_off_m;    /* taken from that level: just under the top */
    int water;             /* row of the kinds of water */
    double wall_m, lid_m2K_W;
    bool solid;                         /* ends in three dimensions: dear, so few */
    bool riser, backfill, skirt, split; /* split: the first layer as two equal ones */
    bool feet;                          /* lengths written in feet */
    double cover_m, board_m, beyond_m, above_crown_m;
    int surface, soil[3];
    double layer_m[2];
    double table_m; /* water table; above 20: dry */
    double mean_degC, amplitude_K;
    int climate; /* a shipped station, or 0 for a cycle */
    double finest_m;
};

void site_random_fill(struct site_random *site, uint64_t seed);

/* Is one of its layers the soil that conducts five times better frozen than thawed? */
bool site_random_has_extreme_soil(const struct site_random *site);

/* The site file's text. Cut where size is too small; 4000 holds all. */
void site_random_print(const struct site_random *site, char *text, size_t size);

/* Prints the site of a seed to standard output; 1 where that fails, 0. */
enum { SITE_RANDOM_TEXT = 4096 };
int site_random_show(uint64_t seed);

#endif
