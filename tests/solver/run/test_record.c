#include "solver/run/record.h"

#include <criterion/criterion.h>

#include <math.h>
#include <string.h>

enum { NT = 5, NZ = 4, NX = 3, PROBES = 2 };

Test(record, begins_with_no_numbers)
{
    struct uf_record *r = NULL;
    cr_assert(uf_record_create(&r, &(struct uf_record_size){NT, NZ, NX, 0, PROBES}, UF_KEEP_USUAL,
                               NULL) == UF_OK);
    cr_expect(r->nt == NT && r->nz == NZ && r->nx == NX && r->n_probes == PROBES);
    for (size_t t = 0; t < NT; t++) {
        cr_expect(isnan(r->time_day[t]) && isnan(r->frost_depth_m[t]) && isnan(r->water_degC[t]) &&
                  isnan(r->snow_m[t]) && isnan(r->probe_degC[t * PROBES + 1]));
    }
    cr_expect(r->temperature_degC != NULL && r->ice_fraction != NULL);
    r->temperature_degC[NT * NZ * NX - 1] = 1.0F; /* the sanitizers watch the ends */
    r->z_edge_m[NZ] = r->x_edge_m[NX] = 1.0;
    uf_record_free(r);
    uf_record_free(NULL);
}

Test(record, series_only_and_nothing_at_all)
{
    struct uf_record *r = NULL;
    cr_assert(uf_record_create(&r, &(struct uf_record_size){NT, NZ, NX, 0, 0}, UF_KEEP_SERIES,
                               NULL) == UF_OK);
    cr_expect(r->temperature_degC == NULL && r->ice_fraction == NULL);
    uf_record_free(r);
    cr_assert(uf_record_create(&r, &(struct uf_record_size){0, 0, 0, 0, 0}, UF_KEEP_USUAL, NULL) ==
              UF_OK);
    cr_expect_eq(uf_record_coldest(r), 0u);
    uf_record_free(r);
}

Test(record, coldest_is_the_first_with_the_deepest_frost)
{
    struct uf_record *r = NULL;
    static const double frost_m[NT] = {0.2, 0.9, 1.4, 1.4, 0.0};
    cr_assert(uf_record_create(&r, &(struct uf_record_size){NT, NZ, NX, 0, 0}, UF_KEEP_SERIES,
                               NULL) == UF_OK);
    memcpy(r->frost_depth_m, frost_m, sizeof frost_m);
    cr_expect_eq(uf_record_coldest(r), 2u);
    uf_record_free(r);
}

/* Every array of the struct is in the list once, with its own size. */
Test(record, the_list_of_arrays_is_whole)
{
    struct uf_record *r = NULL;
    struct uf_record_array list[UF_RECORD_ARRAYS];
    size_t bytes = 0;
    cr_assert(uf_record_create(&r, &(struct uf_record_size){NT, NZ, NX, 0, PROBES}, UF_KEEP_USUAL,
                               NULL) == UF_OK);
    const size_t n = uf_record_arrays(r, list);
    cr_assert(n <= UF_RECORD_ARRAYS);
    for (size_t i = 0; i < n; i++) {
        bytes += list[i].bytes;
        cr_expect(list[i].data != NULL && (!list[i].per_time || list[i].bytes % NT == 0));
        for (size_t k = 0; k < i; k++) {
            cr_expect(list[k].data != list[i].data);
        }
    }
    cr_expect_eq(bytes, 8u * (11 * NT + PROBES * NT + 2 * NZ + 2 * NX + 2) + NZ * NX);
    uf_record_free(r);
}

Test(record, a_part_is_copied_to_its_time)
{
    struct uf_record *whole = NULL;
    struct uf_record *part = NULL;
    cr_assert(uf_record_create(&whole, &(struct uf_record_size){NT, NZ, NX, 0, PROBES},
                               UF_KEEP_SERIES, NULL) == UF_OK);
    cr_assert(uf_record_create(&part, &(struct uf_record_size){2, NZ, NX, 0, PROBES},
                               UF_KEEP_SERIES, NULL) == UF_OK);
    for (size_t t = 0; t < 2; t++) {
        part->time_day[t] = 100.0 + (double)t;
        part->snow_m[t] = 0.1 * (double)(t + 1);
        part->probe_degC[t * PROBES + 1] = -(double)t;
    }
    part->z_m[NZ - 1] = 3.5;
    part->material[NZ * NX - 1] = 7;
    part->n_materials = 1;
    part->radial = true;
    (void)strcpy(part->material_names[0], "silt");
    (void)strcpy(part->probe_names[1], "outlet");
    uf_record_copy(whole, 3, part);
    cr_expect(isnan(whole->time_day[2]) && whole->time_day[3] == 100.0 &&
              whole->time_day[4] == 101.0);
    cr_expect_eq(whole->snow_m[4], 0.2);
    cr_expect_eq(whole->probe_degC[4 * PROBES + 1], -1.0);
    cr_expect_eq(whole->z_m[NZ - 1], 3.5);
    cr_expect_eq(whole->material[NZ * NX - 1], 7);
    cr_expect(whole->radial && whole->n_materials == 1);
    cr_expect_str_eq(whole->material_names[0], "silt");
    cr_expect_str_eq(whole->probe_names[1], "outlet");
    uf_record_free(whole);
    uf_record_free(part);
}

/* In slices: the long section and, where asked for, every slice; the list then is full. */
Test(record, a_record_of_slices)
{
    struct uf_record *r = NULL;
    struct uf_record_array list[UF_RECORD_ARRAYS];
    const struct uf_record_size size = {NT, NZ, NX, 7, PROBES};
    cr_assert(uf_record_create(&r, &size, UF_KEEP_USUAL, NULL) == UF_OK);
    cr_expect(r->long_degC != NULL && r->long_line_m != NULL && r->whole_degC == NULL);
    cr_expect_eq(uf_record_arrays(r, list), (size_t)UF_RECORD_ARRAYS);
    cr_expect_eq(list[UF_RECORD_ARRAYS - 1].bytes, (size_t)NZ * 7);
    uf_record_free(r);
    cr_assert(uf_record_create(&r, &size, UF_KEEP_USUAL | UF_KEEP_WHOLE, NULL) == UF_OK);
    r->whole_ice[NT * 7 * NZ * NX - 1] = 1.0F; /* the sanitizers watch the ends */
    r->long_degC[NT * 7 * NZ - 1] = 1.0F;
    r->y_edge_m[7] = 1.0;
    uf_record_free(r);
    const struct uf_record_size huge = {SIZE_MAX / 4096, 64, 16, 0, 0};
    cr_expect(uf_record_create(&r, &huge, UF_KEEP_USUAL, NULL) == UF_E_MEMORY && r == NULL);
}
