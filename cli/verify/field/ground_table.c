#include "ground.h"

const char uf_ground_source[] =
    "NOAA NCEI, US Climate Reference Network, 2020 (read). Soil by its water readings "
    "alone: texture, density and unfrozen water from the driest and the wettest, by "
    "Saxton & Rawls 2006 and the law of Clapeyron";

const double uf_ground_depth_m[UF_GROUND_SENSORS] = {0.05, 0.10, 0.20, 0.50, 1.00};

const struct uf_ground_site uf_ground_sites[] = {
    {"aberdeen", "Aberdeen, South Dakota", "uscrn_aberdeen.csv"},
    {"goodridge", "Goodridge, Minnesota", "uscrn_goodridge.csv"},
    {"necedah", "Necedah, Wisconsin", "uscrn_necedah.csv"},
    {"pierre", "Pierre, South Dakota", "uscrn_pierre.csv"},
    {"wolf_point", "Wolf Point, Montana", "uscrn_wolf_point.csv"},
    {NULL, NULL, NULL},
};

const struct uf_ground_part uf_ground_parts[] = {
    {.key = "late", .doc = "January to May 2020", .first = {2020, 1, 1}, .end = {2020, 6, 1}},
    {.key = "early",
     .doc = "October to December 2020",
     .first = {2020, 10, 1},
     .end = {2021, 1, 1}},
    {.key = NULL},
};
