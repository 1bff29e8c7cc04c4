#include "cli/verify/exact/exact.h"
#include "cli/verify/verify.h"
#include "solver/ground/material.h"
#include "solver/ground/soil.h"
#include "solver/weather/surface.h"
#include "solver/weather/winter.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Formulas and tables that stand on paper: soil and snow conductivity, freezing indexes,
   depth from an index. */

/* ---- Soil ------------------------------------------------------------------------------ */

#define KERSTEN_SOURCE                                                                             \
    "Kersten 1949, Univ. Minnesota Bull. 28, SI form after Farouki (read); values "                \
    "computed apart"
#define JOHANSEN_SOURCE                                                                            \
    "Johansen 1975 (read; coarse Ke and frozen Ke = Sr from memory); values computed "             \
    "apart"
#define COTE_SOURCE                                                                                \
    "Cote & Konrad 2005, Can. Geotech. J. 42, 443 (kappa read, dry law from memory); "             \
    "values computed apart"
static const char DIGIT[] = "half the last digit of the worked values, and rounding";

/* Solids 2700 kg/m3, natural mineral soils; W/(m K), thawed then frozen. */
static const struct {
    const char *name;
    enum uf_texture texture;
    enum uf_grain grain;
    double quartz, density_kg_m3, moisture;
    double k_W_mK[3][2]; /* Kersten, Johansen, Cote-Konrad */
    double latent_MJ_m3;
} soils[] = {{"sand_5",
              UF_COARSE,
              UF_GRAIN_SAND,
              0.8,
              1600.0,
              0.05,
              {{1.27904, 0.88028}, {1.26512, 0.96398}, {1.20811, 0.94514}},
              26.6840},
             {"sand_15",
              UF_COARSE,
              UF_GRAIN_SAND,
              0.8,
              1600.0,
              0.15,
              {{1.75940, 2.20493}, {1.94493, 2.41810}, {1.97927, 2.39137}},
              80.0520},
             {"gravelly_sand",
              UF_COARSE,
              UF_GRAIN_GRAVEL,
              0.6,
              1900.0,
              0.08,
              {{2.28499, 2.37084}, {2.01414, 2.03836}, {2.10687, 2.46341}},
              50.6996},
             {"silt_15",
              UF_FINE,
              UF_GRAIN_SILT_CLAY,
              0.4,
              1600.0,
              0.15,
              {{1.23474, 1.38463}, {1.32590, 1.78333}, {1.29837, 1.69324}},
              80.0520},
             {"silt_25",
              UF_FINE,
              UF_GRAIN_SILT_CLAY,
              0.4,
              1500.0,
              0.25,
              {{1.31814, 1.88538}, {1.44612, 2.40806}, {1.45947, 2.36957}},
              125.0813},
             {"clay",
              UF_FINE,
              UF_GRAIN_SILT_CLAY,
              0.2,
              1400.0,
              0.30,
              {{1.21853, 1.96035}, {1.19318, 2.12418}, {1.21025, 2.10134}},
              140.0910}};

static double conductivity(size_t row, int method, bool frozen)
{
    const struct uf_soil soil = {.texture = soils[row].texture,
                                 .grain = soils[row].grain,
                                 .quartz = soils[row].quartz,
                                 .solid_kg_m3 = 2700.0};
    const double rho = soils[row].density_kg_m3;
    const double w = soils[row].moisture;
    switch (method) {
    case 0:
        return uf_soil_kersten_W_mK(soil.texture, rho, w, frozen);
    case 1:
        return uf_soil_johansen_W_mK(&soil, rho, w, frozen);
    default:
        return uf_soil_cote_konrad_W_mK(&soil, rho, w, frozen);
    }
}

/* Kersten's own units: 100 lb/ft3 at 15 %, fine; 135 lb/ft3 at 5 %, coarse. */
static void kersten_us(struct uf_verify *verify)
{
    static const struct {
        const char *name;
        enum uf_texture texture;
        double pcf, moisture, thawed, frozen;
    } rows[] = {{"fine_100pcf", UF_FINE, 100.0, 0.15, 0.71540, 0.80247},
                {"coarse_135pcf", UF_COARSE, 135.0, 0.05, 1.65904, 1.60748}};
    for (size_t k = 0; k < 2; k++) {
        struct uf_verify_check check = {
            .source = "Kersten 1949 in its own units (from memory); values computed apart",
            .why = "0.2 %: the SI coefficients are rounded to four digits",
            .unit = "Btu/hftF"};
        for (int frozen = 0; frozen < 2; frozen++) {
            check.expected = frozen ? rows[k].frozen : rows[k].thawed;
            check.allowed = 0.002 * check.expected;
            check.got = uf_soil_kersten_W_mK(rows[k].texture, rows[k].pcf * 16.018463,
                                             rows[k].moisture, frozen == 1) /
                        1.730735;
            uf_verify_add(verify, &check, "soil.kersten_%s_%s", rows[k].name,
                          frozen ? "frozen" : "thawed");
        }
    }
}

/* Silt of so much mass and water, through the way of a ground layer. */
static enum uf_status resolve(struct uf_soil_state *state, double density_kg_m3, double moisture,
                              struct uf_error *err)
{
    struct uf_ground_spec spec = uf_case_ground_spec(uf_soil_find("silt"));
    spec.dry_density_kg_m3 = density_kg_m3;
    spec.moisture_by_mass = moisture;
    return uf_soil_resolve(state, &spec, UF_COTE_KONRAD, false, err);
}

/* What the constituents come to: latent heat of the worked soils; heat capacity of the
   TM 5-852-6 example, 100 lb/ft3 at 15 %, 28.25 Btu/(ft3 F) in the mean. */
static enum uf_status soil_heat(struct uf_verify *verify, struct uf_error *err)
{
    struct uf_soil_state state;
    enum uf_status status = UF_OK;
    struct uf_verify_check check = {
        .source = "water by dry mass x 333.55 kJ/kg (handbook, from memory); values computed apart",
        .why = DIGIT,
        .unit = "MJ/m3",
        .allowed = 6e-5};
    for (size_t row = 0; row < sizeof soils / sizeof soils[0] && status == UF_OK; row++) {
        status = resolve(&state, soils[row].density_kg_m3, soils[row].moisture, err);
        if (status == UF_OK) {
            check.got = state.thermal.latent_J_m3 / 1e6;
            check.expected = soils[row].latent_MJ_m3;
            uf_verify_add(verify, &check, "soil.latent.%s", soils[row].name);
        }
    }
    status = status == UF_OK ? resolve(&state, 100.0 * 16.018463, 0.15, err) : status;
    if (status == UF_OK) {
        check.source = "mean heat capacity gd (0.17 + 0.75 w/100), TM 5-852-6 (read): "
                       "28.25 Btu/(ft3 F) at 100 lb/ft3 and 15 % of water";
        check.unit = "Btu/ft3F";
        check.got = 0.5 * (state.thermal.c_thawed_J_m3K + state.thermal.c_frozen_J_m3K) / 67066.1;
        check.expected = 28.25;
        check.allowed = 0.005;
        uf_verify_add(verify, &check, "soil.capacity");
    }
    return status;
}

/* Unfrozen water of Fairbanks silt, 4.8 |T|^-0.326 % of dry mass, in soil of 20 %; and
   the heat from -10 to +1 degC of 100 MJ/m3, 1.8 and 2.3 MJ/m3K, integrated by hand. */
static enum uf_status soil_curve(struct uf_verify *verify, struct uf_error *err)
{
    static const double rows[][2] = {
        {-0.5, 6.0170}, {-1.0, 4.8000}, {-2.0, 3.8292}, {-5.0, 2.8404}, {-10.0, 2.2659}};
    const struct uf_thermal silt = {.k_thawed_W_mK = 1.5,
                                    .k_frozen_W_mK = 2.5,
                                    .c_thawed_J_m3K = 2.3e6,
                                    .c_frozen_J_m3K = 1.8e6,
                                    .latent_J_m3 = 100e6,
                                    .unfrozen_A_percent = 4.8,
                                    .unfrozen_B = -0.326,
                                    .water_percent = 20.0};
    struct uf_material m;
    const enum uf_status status = uf_material_from_thermal(&m, "silt", &silt, err);
    struct uf_verify_check check = {
        .source = "unfrozen water of Fairbanks silt, Anderson, Tice & McKim 1973 (A and B "
                  "read); values computed apart",
        .why = "0.3 %: straight between points a fifth apart",
        .unit = "percent"};
    for (size_t k = 0; status == UF_OK && k < sizeof rows / sizeof rows[0]; k++) {
        check.got = 20.0 * (1.0 - uf_material_ice(&m, rows[k][0]));
        check.expected = rows[k][1];
        check.allowed = 0.003 * check.expected;
        uf_verify_add(verify, &check, "soil.unfrozen_%g", -rows[k][0]);
    }
    if (status == UF_OK) {
        check.source = "heat of the same curve, integrated by hand";
        check.why = "0.1 %: as the curve, over ten kelvin";
        check.unit = "MJ/m3";
        check.got = (uf_material_H_J_m3(&m, 1.0) - uf_material_H_J_m3(&m, -10.0)) / 1e6;
        check.expected = 109.807919;
        check.allowed = 0.001 * check.expected;
        uf_verify_add(verify, &check, "soil.unfrozen_heat");
    }
    return status;
}

static enum uf_status run_soil(struct uf_verify *verify, struct uf_error *err)
{
    static const struct {
        const char *name, *source;
    } methods[] = {
        {"kersten", KERSTEN_SOURCE}, {"johansen", JOHANSEN_SOURCE}, {"cote_konrad", COTE_SOURCE}};
    for (int method = 0; method < 3; method++) {
        for (size_t row = 0; row < sizeof soils / sizeof soils[0]; row++) {
            struct uf_verify_check check = {
                .source = methods[method].source, .why = DIGIT, .unit = "W/mK", .allowed = 6e-6};
            for (int frozen = 0; frozen < 2; frozen++) {
                check.got = conductivity(row, method, frozen == 1);
                check.expected = soils[row].k_W_mK[method][frozen];
                uf_verify_add(verify, &check, "soil.%s.%s_%s", methods[method].name,
                              soils[row].name, frozen ? "frozen" : "thawed");
            }
        }
    }
    kersten_us(verify);
    const enum uf_status status = soil_heat(verify, err);
    return status == UF_OK ? soil_curve(verify, err) : status;
}

const struct uf_verify_topic uf_verify_soil = {
    .name = "soil", .doc = "conductivity by three methods, heat, unfrozen water", .run = run_soil};

/* ---- Snow ------------------------------------------------------------------------------ */

static enum uf_status run_snow(struct uf_verify *verify, struct uf_error *err)
{
    static const double rows[][2] = {{100.0, 0.04640}, {156.0, 0.05912}, {200.0, 0.06532},
                                     {250.0, 0.08756}, {300.0, 0.12597}, {350.0, 0.18054},
                                     {400.0, 0.25128}, {500.0, 0.44125}};
    (void)err;
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        const struct uf_verify_check check = {
            .source = "Sturm et al. 1997, J. Glaciol. 43(143), 26-41 (read); values computed apart",
            .why = DIGIT,
            .unit = "W/mK",
            .got = uf_surface_snow_W_mK(rows[k][0]),
            .expected = rows[k][1],
            .allowed = 6e-6};
        uf_verify_add(verify, &check, "snow.%g_kg_m3", rows[k][0]);
    }
    return UF_OK;
}

const struct uf_verify_topic uf_verify_snow = {
    .name = "snow", .doc = "conductivity of snow from its density", .run = run_snow};

/* ---- Freezing index -------------------------------------------------------------------- */

#define INDEX_SOURCE                                                                               \
    "seasonal freezing indexes of 21 winters 1969/70 to 1989/90, CRREL Report 96-14 "              \
    "table 20 (read); mean and means of the coldest computed"

static double latest_ten_coldest(const struct uf_winter_list *list)
{
    double most = 0.0;
    for (size_t k = list->n - 10; k < list->n; k++) {
        most = fmax(most, list->rows[k].freezing_index_degC_day);
    }
    return most;
}

/* The list through the same statistics that a station's record goes through. */
static enum uf_status index_list(struct uf_verify *verify, struct uf_error *err)
{
    static const double listed[] = {1191, 1152, 1274, 839,  923, 968,  931, 1256, 1331, 1477, 903,
                                    666,  1227, 589,  1179, 942, 1197, 467, 898,  1032, 750};
    enum { N = sizeof listed / sizeof listed[0] };
    struct uf_winter rows[N];
    struct uf_winter_list list = {.rows = rows, .n = N};
    (void)err;
    for (size_t k = 0; k < N; k++) {
        rows[k] = (struct uf_winter){
            .year = 1969 + (int)k, .freezing_index_degC_day = listed[k], .usable = true};
    }
    uf_winter_list_statistics(&list);
    const struct {
        const char *name;
        double got, expected;
    } checks[] = {{"mean", list.mean_degC_day, 1009.14},
                  {"coldest_three", list.coldest_three_in_thirty_degC_day, 1360.67},
                  {"coldest_in_ten", latest_ten_coldest(&list), 1227.0}};
    const double returns[][2] = {{50.0, 1681.84}, {100.0, 1823.11}};
    for (size_t k = 0; k < 2; k++) {
        const struct uf_verify_check check = {
            .source = "the same list, Gumbel by moments: mean + K s, K = 2.5923 and "
                      "3.1367 (Chow's frequency factors), s = 259.50; computed apart",
            .why = "half the last digit",
            .unit = "Kday",
            .got = uf_winter_return_degC_day(&list, returns[k][0]),
            .expected = returns[k][1],
            .allowed = 0.006};
        uf_verify_add(verify, &check, "index.list_1_in_%g", returns[k][0]);
    }
    for (size_t k = 0; k < 3; k++) {
        const struct uf_verify_check check = {.source = INDEX_SOURCE,
                                              .why = "half the last digit",
                                              .unit = "Kday",
                                              .got = checks[k].got,
                                              .expected = checks[k].expected,
                                              .allowed = 0.006};
        uf_verify_add(verify, &check, "index.list_%s", checks[k].name);
    }
    return UF_OK;
}

/* A winter with a thaw: the index runs from the highest autumn to the lowest spring point
   of the cumulative curve, so the thaw in between is taken off and the mild days before
   and after are not. */
static enum uf_status run_index(struct uf_verify *verify, struct uf_error *err)
{
    double air_degC[150];
    for (size_t d = 0; d < 150; d++) {
        air_degC[d] = d < 30 ? 4.0 : d < 70 ? -10.0 : d < 80 ? 3.0 : d < 120 ? -5.0 : 6.0;
    }
    const struct uf_verify_check check = {
        .source = "freezing index by the cumulative curve, definition of UFC 3-130-01 and "
                  "TM 5-852-1 (read in a glossary that quotes it)",
        .why = "rounding alone",
        .unit = "Kday",
        .got = uf_winter_index(air_degC, 150),
        .expected = 40.0 * 10.0 - 10.0 * 3.0 + 40.0 * 5.0,
        .allowed = 1e-9};
    uf_verify_add(verify, &check, "index.curve_with_thaw");
    return index_list(verify, err);
}

const struct uf_verify_topic uf_verify_index = {
    .name = "index", .doc = "freezing index and its statistics", .run = run_index};
