#include "cli/verify/field/ground_winters.h"
#include "cli/verify/verify.h"

#include <criterion/criterion.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Readings: US Climate Reference Network 2020; SNOTEL 428. */

Test(ground_winters, every_check_of_measured_ground_holds)
{
    struct uf_verify verify = {.only = "ground", .integrators = {UF_FAST}, .n_integrators = 1};
    struct uf_error err = {0};
    size_t frost = 0, rmse = 0;
    cr_assert_eq(uf_verify_run(&verify, &err), UF_OK, "%s", err.text);
    for (size_t i = 0; i < verify.n; i++) {
        const struct uf_verify_check *row = &verify.rows[i];
        cr_expect(row->ok, "%s: %g for %g", row->name, row->got, row->expected);
        frost += strstr(row->name, ".frost") != NULL;
        rmse += strstr(row->name, ".rmse") != NULL;
    }
    cr_expect_eq(frost, 5 + 12, "five stations, and winters under snow but one that is told");
    cr_expect_eq(rmse, 5 * 2 * 3);
    free(verify.rows);
}

/* Goodridge is wet clay: peat would be off by more than the kelvin that is held, drained gravel by more
   than the 10 cm of frost. */
Test(ground_winters, another_soil_would_be_seen)
{
    static const char *const soils[] = {"ground=[{soil: peat}]", "ground=[{soil: gravel}]"};
    const struct uf_season_options options = uf_season_defaults();
    struct uf_ground_winter row = uf_ground_winters_rows[2];
    double rmse_K[2], frost_m[2];
    cr_assert(strcmp(row.station, "goodridge") == 0 && row.sets[0] == NULL);
    for (size_t i = 0; i < 2; i++) {
        struct uf_ground_outcome out;
        struct uf_error err = {0};
        row.sets[0] = soils[i];
        cr_assert_eq(uf_ground_winters_run(&out, &row, &options, &err), UF_OK, "%s", err.text);
        rmse_K[i] = out.score.series[2].score.rmse;
        frost_m[i] = out.score.profile.computed.deepest_m - out.score.profile.measured.deepest_m;
        uf_ground_winters_free(&out);
    }
    cr_expect_gt(rmse_K[0], 1.0);
    cr_expect_gt(frost_m[1], 0.10);
}

Test(ground_winters, days_that_are_not_on_file_are_refused)
{
    struct uf_ground_winter row = uf_ground_winters_rows[2];
    const struct uf_season_options options = uf_season_defaults();
    struct uf_ground_outcome out;
    struct uf_error err = {0};
    row.sets[0] = "initial.date=2030-01-01";
    row.sets[1] = "initial.end=2030-02-01";
    cr_expect_neq(uf_ground_winters_run(&out, &row, &options, &err), UF_OK);
    cr_expect(err.text[0] != '\0');
    uf_ground_winters_free(&out);
}
