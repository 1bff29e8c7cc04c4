#include "ground.h"

/* What is assumed of each station's soil; no texture or density was measured there. No
   number was adjusted to a temperature, but two assumptions were changed after a first
   comparison had missed, so they are not blind: the texture at Aberdeen and Wolf Point,
   and the curve of unfrozen water at Pierre. uf_ground_first_sites keeps what stood there
   first, and verify shows what came of it.

   Texture: what soil surveys give for the region (from memory), made more exact by the
   driest reading of the year at 10 to 100 cm taken as wilting point: sandy loam 0.08,
   loam 0.14, clay loam 0.22, clay 0.30 m3/m3 (Saxton & Rawls 2006, Soil Sci. Soc. Am. J.
   70, 1569-1578, from memory); where the ground never dried, as at 1 m, that is an upper
   bound. Density: usual for the region's soils (from memory), low enough for the measured
   water to fit. */

#define READ    "NOAA NCEI, US Climate Reference Network, 2020 (read). Soil: "
#define WILTING "texture by the driest reading as wilting point ("
#define DENSITY ", dry density usual for such soil, assumed"

const double uf_ground_depth_m[UF_GROUND_SENSORS] = {0.05, 0.10, 0.20, 0.50, 1.00};

const struct uf_ground_site uf_ground_sites[] = {
    {.key = "aberdeen",
     .name = "Aberdeen, South Dakota",
     .file = "uscrn_aberdeen.csv",
     .soil = {"silty_sand", "silty_sand", "silt", "silt", "clayey_silt"},
     .density_kg_m3 = {1300.0, 1300.0, 1400.0, 1500.0, 1500.0},
     .source = READ "glacial till plain; " WILTING "10 cm 0.10, 20 and 50 cm "
                    "0.12, 1 m 0.20: sandy loam, loam, clay loam)" DENSITY},
    {.key = "goodridge",
     .name = "Goodridge, Minnesota",
     .file = "uscrn_goodridge.csv",
     .soil = {"silt", "silt", "silt", "clayey_silt", "clayey_silt"},
     .density_kg_m3 = {1150.0, 1150.0, 1350.0, 1350.0, 1150.0},
     .source =
         READ "glacial lake plain, never dry in the record: dark loam over silty clay, "
              "assumed; "
              "dry density by what the measured water leaves room for"},
    {.key = "necedah",
     .name = "Necedah, Wisconsin",
     .file = "uscrn_necedah.csv",
     .soil = {"sand", "sand", "sand", "sand", "sand"},
     .density_kg_m3 = {1450.0, 1450.0, 1550.0, 1600.0, 1600.0},
     .source = READ "outwash and lake sand; " WILTING "0.02 to 0.03: sand)" DENSITY},
    {.key = "pierre",
     .name = "Pierre, South Dakota",
     .file = "uscrn_pierre.csv",
     .soil = {"clay", "clay", "clay", "clay", "clay"},
     .density_kg_m3 = {1250.0, 1250.0, 1300.0, 1300.0, 1350.0},
     .surface_m2_g = 148.0,
     .source =
         READ "clay weathered from shale; " WILTING "0.31 and more: clay)" DENSITY
              "; unfrozen water by the general curve for 148 m2/g (Suffield silty clay, "
              "from memory): at -0.2 degC the 10 cm sensor still read all its water "
              "liquid, which "
              "the soil row's own curve does not give"},
    {.key = "wolf_point",
     .name = "Wolf Point, Montana",
     .file = "uscrn_wolf_point.csv",
     .soil = {"silty_sand", "silty_sand", "silt", "silty_sand", "clayey_silt"},
     .density_kg_m3 = {1300.0, 1300.0, 1400.0, 1500.0, 1500.0},
     .source =
         READ "glacial till plain; " WILTING "10 cm 0.10, 20 cm 0.12, "
              "50 cm 0.09, 1 m 0.19: sandy loam, loam, sandy loam, clay loam)" DENSITY},
    {.key = NULL},
};

#define FIRST "as first assumed, before any comparison: "

const struct uf_ground_site uf_ground_first_sites[] = {
    {.key = "aberdeen",
     .name = "Aberdeen, South Dakota",
     .file = "uscrn_aberdeen.csv",
     .soil = {"silt", "silt", "silt", "silt", "silt"},
     .density_kg_m3 = {1300.0, 1300.0, 1400.0, 1500.0, 1500.0},
     .source = FIRST "loam of a till plain, as silt"},
    {.key = "pierre",
     .name = "Pierre, South Dakota",
     .file = "uscrn_pierre.csv",
     .soil = {"clay", "clay", "clay", "clay", "clay"},
     .density_kg_m3 = {1250.0, 1250.0, 1300.0, 1300.0, 1350.0},
     .source = FIRST "clay with the soil row's own curve of unfrozen water"},
    {.key = "wolf_point",
     .name = "Wolf Point, Montana",
     .file = "uscrn_wolf_point.csv",
     .soil = {"silt", "silt", "silt", "silt", "silt"},
     .density_kg_m3 = {1300.0, 1300.0, 1400.0, 1500.0, 1500.0},
     .source = FIRST "loam of a till plain, as silt"},
    {.key = NULL},
};

const struct uf_ground_part uf_ground_parts[] = {
    {.key = "late",
     .doc = "January to May 2020",
     .autumn = false,
     .first = {2020, 1, 1},
     .end = {2020, 6, 1}},
    {.key = "early",
     .doc = "October to December 2020",
     .autumn = true,
     .first = {2020, 10, 1},
     .end = {2021, 1, 1}},
    {.key = NULL},
};
