#include "site_random.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

/* splitmix64 (Steele, Lea & Flood 2014): all bits of the seed count, so that seeds may be 1, 2, 3. */
static uint64_t next(uint64_t *state)
{
    uint64_t z = *state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static double between(uint64_t *state, double low, double high)
{
    return low + (high - low) * (double)(next(state) >> 11) * 0x1p-53;
}

static int one_of(uint64_t *state, int n)
{
    return (int)(next(state) % (uint64_t)n);
}

static bool chance(uint64_t *state, double share)
{
    return between(state, 0.0, 1.0) < share;
}

static const char *const shapes[] = {"horizontal_cylinder", "vertical_cylinder", "box"};
static const char *const waters[] = {"",
                                     ", water: mixed",
                                     ", water: unmixed",
                                     ", hold: 6 degC",
                                     ", mixing: 20 W/m/K",
                                     ", mixing: 200 W/m/K"};
static const char *const surfaces[] = {
    "{film: 15 W/m2/K, snow: none}",
    "{type: turf}",
    "{n_freezing: 0.5, n_thawing: 0.8}",
    "{n_freezing: 1, n_thawing: 1}",
    "{film: 25 W/m2/K, snow: {depth: 0.3 m, density: 250 kg/m3}}",
    "{film: 10000 W/m2/K}"};
static const char *const soils[] = {
    "soil: topsoil",
    "soil: gravel",
    "soil: pea_gravel",
    "soil: sand",
    "soil: silty_sand",
    "soil: silt",
    "soil: clay",
    "soil: peat",
    "soil: sand, moisture: 1 percent", /* nearly dry: latent heat of next to nothing */
    "thermal: {conductivity_thawed: 0.6 W/m/K, conductivity_frozen: 3 W/m/K, heat_capacity_thawed: "
    "4 MJ/m3/K, heat_capacity_frozen: 1.6 MJ/m3/K, latent_heat: 300 MJ/m3, freezing_from: 0 degC, "
    "freezing_to: -0.1 degC}, unit_weight_moist: 17 kN/m3, unit_weight_saturated: 19 kN/m3"};
static const char *const stations[] = {NULL, "madison.csv", "valdez.csv", "fort_collins.csv"};

#define COUNT(list) ((int)(sizeof(list) / sizeof(list)[0]))

bool site_random_has_extreme_soil(const struct site_random *s)
{
    const int extreme = COUNT(soils) - 1;
    return s->soil[0] == extreme || s->soil[1] == extreme || s->soil[2] == extreme;
}

static void fill_tank(struct site_random *s, uint64_t *r)
{
    static const double edges[] = {0.0, 1.0, 1.0, 0.5};
    s->shape = chance(r, 0.07) ? 3 : one_of(r, 3);
    s->size_m = between(r, 0.8, 3.6);
    s->long_m = between(r, 1.5, 12.0);
    s->wall_m = chance(r, 0.6) ? between(r, 0.004, 0.2) : 0.0;
    s->level_share = chance(r, 0.5) ? edges[one_of(r, COUNT(edges))] : between(r, 0.02, 0.99);
    s->level_off_m = chance(r, 0.2) ? between(r, 0.001, 0.02) : 0.0;
    s->water = chance(r, 0.5) ? 0 : one_of(r, COUNT(waters));
    s->riser = chance(r, 0.4);
    s->solid = s->shape != 1 && chance(r, 0.03);
    s->lid_m2K_W = chance(r, 0.3) ? 0.001 : between(r, 0.1, 3.0);
}

static void fill_board(struct site_random *s, uint64_t *r)
{
    s->cover_m = chance(r, 0.1) ? 0.0 : between(r, 0.2, 3.0);
    s->above_crown_m = fmin(between(r, 0.0, 0.4), 0.5 * s->cover_m);
    s->board_m = chance(r, 0.3) ? 0.0 : between(r, 0.02, 0.2);
    s->board_m = fmin(s->board_m, 0.9 * (s->cover_m - s->above_crown_m));
    s->board_m = s->board_m < 0.02 ? 0.0 : s->board_m;
    s->beyond_m = between(r, 0.0, 2.0);
    s->skirt = s->board_m > 0.0 && chance(r, 0.2);
    s->backfill = chance(r, 0.6);
}

void site_random_fill(struct site_random *s, uint64_t seed)
{
    uint64_t state = seed, *r = &state;
    *s = (struct site_random){.split = false, .feet = false};
    fill_tank(s, r);
    fill_board(s, r);
    s->surface = one_of(r, COUNT(surfaces));
    for (int i = 0; i < 3; i++) {
        s->soil[i] = one_of(r, COUNT(soils));
    }
    s->layer_m[0] = between(r, 0.1, 1.5);
    s->layer_m[1] = s->layer_m[0] + between(r, 0.2, 4.0);
    s->table_m = chance(r, 0.3) ? 99.0 : between(r, 0.0, 5.0);
    s->mean_degC = between(r, 1.0, 9.0);
    s->amplitude_K = between(r, 5.0, 22.0);
    s->climate = chance(r, 0.7) ? 0 : one_of(r, COUNT(stations));
    s->finest_m = 0.3; /* a finer one is a relation */
}

/* A text that grows; what does not fit is cut. */
struct page {
    char *text;
    size_t size, used;
    bool feet;
};

__attribute__((format(printf, 2, 3))) static void put(struct page *page, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    const int n = vsnprintf(page->text + page->used, page->size - page->used, format, list);
    va_end(list);
    page->used += n > 0 ? (size_t)n : 0;
    page->used = page->used < page->size ? page->used : page->size - 1;
}

static void put_length(struct page *page, const char *key, double m)
{
    put(page, page->feet ? "%s: %.15g ft" : "%s: %.15g m", key, page->feet ? m / 0.3048 : m);
}

static double inner_height_m(const struct site_random *s)
{
    return (s->shape == 1 ? s->long_m : s->size_m) - 2.0 * s->wall_m;
}

/* The underside of the bedding. */
static double reach_m(const struct site_random *s)
{
    const double high_m = s->shape == 1 ? s->long_m : s->size_m;
    return s->shape < 3 ? s->cover_m + high_m + 0.2 : 0.0;
}

static void put_tank(struct page *page, const struct site_random *s)
{
    put(page, "tank: {shape: %s, ", shapes[s->shape]);
    put_length(page, s->shape == 2 ? "width" : "diameter", s->size_m);
    put_length(page, s->shape == 0 ? ", length" : ", height",
               s->shape == 2 ? s->size_m : s->long_m);
    if (s->shape == 2) {
        put_length(page, ", length", s->long_m);
    }
    put(page, ", empty_mass: 900 kg%s",
        s->shape == 1 ? ""
        : s->solid    ? ", ends: three_dimensional"
                      : ", ends: plane");
    if (s->wall_m > 0.0) {
        put_length(page, ", wall: {thickness", s->wall_m);
        put(page, ", conductivity: 0.4 W/m/K}");
    }
    const double level_m = fmax(0.0, s->level_share * inner_height_m(s) - s->level_off_m);
    if (level_m > 0.0) {
        put_length(page, ", contents: {level", floor(level_m * 1e6) * 1e-6);
        put(page, "%s}", waters[s->water]);
    }
    if (s->riser) {
        put_length(page, ", risers: [{diameter: 0.6 m, height", s->cover_m + 0.1);
        put(page, ", lid: %.15g m2.K/W}]", s->lid_m2K_W);
    }
    put(page, "}\nburial: {");
    put_length(page, "cover", s->cover_m);
    put(page, ", bedding: 0.2 m, pit: {clearance: 0.5 m, slope: 1}%s}\n",
        s->backfill ? ", backfill: {soil: pea_gravel}" : "");
    if (s->board_m > 0.0) {
        put_length(page, "board: {type: XPS_IV, thickness", s->board_m);
        put_length(page, ", beyond_tank", s->beyond_m);
        put_length(page, ", above_crown", s->above_crown_m);
        put(page, "%s}\n", s->skirt ? ", skirt: 0.6 m" : "");
    }
}

void site_random_print(const struct site_random *s, char *text, size_t size)
{
    struct page page = {.text = text, .size = size, .feet = s->feet};
    if (s->climate > 0) {
        put(&page, "climate: {file: %s, winter: 1 in 30}\n", stations[s->climate]);
    } else {
        put(&page, "climate: {cycle: {mean: %.15g degC, amplitude: %.15g K}}\n", s->mean_degC,
            s->amplitude_K);
    }
    put(&page, "surface: %s\nground:\n", surfaces[s->surface]);
    if (s->split) {
        put_length(&page, "  - {to", 0.5 * s->layer_m[0]);
        put(&page, ", %s}\n", soils[s->soil[0]]);
    }
    for (int i = 0; i < 3; i++) {
        put_length(&page, "  - {to", i < 2 ? s->layer_m[i] : 30.0);
        put(&page, ", %s}\n", soils[s->soil[i]]);
    }
    if (s->table_m < 20.0) {
        put_length(&page, "groundwater: {winter", s->table_m);
        put_length(&page, ", highest", s->table_m);
        put(&page, "}\n");
    }
    if (s->shape < 3) {
        put_tank(&page, s);
    }
    put_length(&page, "probes: [{x", s->shape < 3 ? 0.5 * s->size_m + s->beyond_m + 2.0 : 0.0);
    put(&page, ", depth: 3 m}]\n");
    put_length(&page, "grid: {finest", s->finest_m);
    if (reach_m(s) > 11.0) { /* else it ends at 15 m */
        put_length(&page, ", depth", reach_m(s) + 5.0);
    }
    put(&page, "}\n");
}

int site_random_show(uint64_t seed)
{
    struct site_random site;
    char text[SITE_RANDOM_TEXT];
    site_random_fill(&site, seed);
    site_random_print(&site, text, sizeof text);
    return fputs(text, stdout) < 0;
}
