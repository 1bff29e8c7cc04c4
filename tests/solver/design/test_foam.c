#include "solver/design/foam.h"

#include <criterion/criterion.h>

#include <stdbool.h>
#include <string.h>

/* HUD/NAHB below-grade R per inch, as k: 4.5 -> 0.03205, 3.2 -> 0.04507, 2.4 -> 0.06010 W/(m K). */
Test(foam, in_service_conductivity_is_the_published_one)
{
    cr_expect_float_eq(uf_foam_find("XPS_IV")->k_W_mK, 0.03205, 6e-6);
    cr_expect_float_eq(uf_foam_find("EPS_IX")->k_W_mK, 0.04507, 6e-6);
    cr_expect_float_eq(uf_foam_find("EPS_II")->k_W_mK, 0.06010, 6e-6);
}

/* ASTM C578: compressive resistance and least density. */
Test(foam, strength_and_density_follow_the_standard)
{
    cr_expect_eq(uf_foam_find("XPS_VI")->strength_Pa, 276e3);
    cr_expect_eq(uf_foam_find("XPS_VI")->density_kg_m3, 29.0);
    cr_expect_eq(uf_foam_find("EPS_I")->strength_Pa, 69e3);
    cr_expect_eq(uf_foam_find("XPS_V")->strength_Pa, 690e3);
    cr_expect_eq(uf_foam_find("EPS_XV")->density_kg_m3, 46.0);
}

/* Long service in wet ground never insulates better than dry board: k of R 5 (XPS)
   and 4.3 (the best EPS) per inch at 75 F are 0.0288 and 0.0335. */
Test(foam, every_row_is_sound)
{
    size_t rows = 0;
    for (const struct uf_foam *row = uf_foam_table; row->name != NULL; row++, rows++) {
        const bool xps = strcmp(row->kind, "XPS") == 0;
        cr_expect(xps || strcmp(row->kind, "EPS") == 0);
        cr_expect(strncmp(row->name, row->kind, 3) == 0, "%s", row->name);
        cr_expect(strlen(row->source) > 40, "%s", row->name);
        cr_expect(row->k_W_mK > (xps ? 0.0288 : 0.0335) && row->k_W_mK < 0.09, "%s", row->name);
        cr_expect(row->strength_Pa >= 35e3 && row->density_kg_m3 >= 12.0, "%s", row->name);
        cr_expect_eq(uf_foam_find(row->name), row);
    }
    cr_expect_eq(rows, 12);
    cr_expect_null(uf_foam_find("XPS_XX"));
}
