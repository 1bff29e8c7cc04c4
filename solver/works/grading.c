#include "grading.h"

#include <math.h>
#include <string.h>

#define IN_38                                                                                      \
    {                                                                                              \
        "1 1/2 in.", 0.0375, 1.0, 1.0                                                              \
    }
#define IN_25 "1 in.", 0.025
#define IN_19 "3/4 in.", 0.019
#define IN_12 "1/2 in.", 0.0125
#define IN_9  "3/8 in.", 0.0095
#define NO_4  "No. 4", 0.00475
#define NO_8  "No. 8", 0.00236
#define NO_16 "No. 16", 0.00118

static const char confirmed[] = "ASTM C33/D448, AASHTO M43";
static const char remembered[] = "ASTM C33/D448, AASHTO M43, from memory";

const struct uf_grading_spec uf_grading_specs[] = {
    {"no_57",
     confirmed,
     5,
     {IN_38, {IN_25, 0.95, 1.0}, {IN_12, 0.25, 0.60}, {NO_4, 0.0, 0.10}, {NO_8, 0.0, 0.05}}},
    {"no_67",
     confirmed,
     5,
     {{IN_25, 1.0, 1.0},
      {IN_19, 0.90, 1.0},
      {IN_9, 0.20, 0.55},
      {NO_4, 0.0, 0.10},
      {NO_8, 0.0, 0.05}}},
    {"no_6",
     remembered,
     5,
     {{IN_25, 1.0, 1.0},
      {IN_19, 0.90, 1.0},
      {IN_12, 0.20, 0.55},
      {IN_9, 0.0, 0.15},
      {NO_4, 0.0, 0.05}}},
    {"no_7",
     remembered,
     5,
     {{IN_19, 1.0, 1.0},
      {IN_12, 0.90, 1.0},
      {IN_9, 0.40, 0.70},
      {NO_4, 0.0, 0.15},
      {NO_8, 0.0, 0.05}}},
    {"no_8",
     remembered,
     5,
     {{IN_12, 1.0, 1.0},
      {IN_9, 0.85, 1.0},
      {NO_4, 0.10, 0.30},
      {NO_8, 0.0, 0.10},
      {NO_16, 0.0, 0.05}}},
    {NULL, NULL, 0, {{NULL, 0.0, 0.0, 0.0}}},
};

/* Index of the nearest measured sieve not finer (coarser) than an opening; -1 for none. */
static int nearest(const struct uf_grading_list *list, double opening_m, bool coarser)
{
    int best = -1;
    for (size_t i = 0; i < list->n; i++) {
        const double here_m = list->rows[i].opening_m;
        const bool fits = coarser ? here_m >= opening_m * 0.995 : here_m <= opening_m * 1.005;
        if (fits &&
            (best < 0 || fabs(here_m - opening_m) < fabs(list->rows[best].opening_m - opening_m))) {
            best = (int)i;
        }
    }
    return best;
}

static double passing_at(const struct uf_grading_list *list, double opening_m, bool *between)
{
    const int finer = nearest(list, opening_m, false), coarser = nearest(list, opening_m, true);
    *between = false;
    if (finer >= 0 && finer == coarser) {
        return list->rows[finer].passing;
    }
    if (finer >= 0 && list->rows[finer].passing >= 1.0) {
        return 1.0;
    }
    if (finer < 0 || coarser < 0) {
        return NAN;
    }
    *between = true;
    const double share = log(opening_m / list->rows[finer].opening_m) /
                         log(list->rows[coarser].opening_m / list->rows[finer].opening_m);
    return list->rows[finer].passing +
           share * (list->rows[coarser].passing - list->rows[finer].passing);
}

static enum uf_status check_list(const struct uf_grading_list *list, struct uf_error *err)
{
    if (list->n == 0) {
        return uf_fail_key(err, UF_E_INPUT, "quantities.sieves",
                           UF_PLAIN("the sieve list is empty"),
                           UF_PLAIN("[{opening, passing}, ...]"));
    }
    for (size_t i = 0; i < list->n; i++) {
        if (!(list->rows[i].opening_m > 0.0) ||
            !(list->rows[i].passing >= 0.0 && list->rows[i].passing <= 1.0)) {
            return uf_fail_key(err, UF_E_INPUT, "quantities.sieves",
                               UF_SAID("sieve {} is out of range", UF_COUNT(i + 1)),
                               UF_PLAIN("an opening above zero and 0 to 100 percent"));
        }
        for (size_t j = 0; j < i; j++) {
            const bool finer = list->rows[i].opening_m < list->rows[j].opening_m;
            const double more = list->rows[i].passing - list->rows[j].passing;
            if (list->rows[i].opening_m == list->rows[j].opening_m ||
                (finer ? more > 0.0 : more < 0.0)) {
                return uf_fail_key(
                    err, UF_E_INPUT, "quantities.sieves",
                    UF_SAID("sieves {} and {} contradict each other", UF_COUNT(j + 1),
                            UF_COUNT(i + 1)),
                    UF_PLAIN("a finer sieve cannot pass more, and no sieve stands twice"));
            }
        }
    }
    return UF_OK;
}

enum uf_status uf_grading_check(struct uf_grading *out, const struct uf_grading_spec *spec,
                                const struct uf_grading_list *list, struct uf_error *err)
{
    const enum uf_status status = check_list(list, err);
    *out = (struct uf_grading){.spec = spec};
    for (size_t i = 0; i < spec->n && status == UF_OK; i++) {
        struct uf_grading_row *row = &out->rows[i];
        row->passing = passing_at(list, spec->rows[i].opening_m, &row->between);
        row->ok =
            row->passing >= spec->rows[i].low - 1e-9 && row->passing <= spec->rows[i].high + 1e-9;
        out->n_unknown += isnan(row->passing) ? 1 : 0;
        out->n_outside += !row->ok && !isnan(row->passing) ? 1 : 0;
    }
    return status;
}
