#include "robust_private.h"

#include <math.h>

/* The row's own grid and one of half its spacing, in the section through mid-tank: what slices
   along the tank add does not hang on cells of some centimetres. */
static struct uf_case halved(const struct uf_robust *r, size_t row, bool half)
{
    struct uf_case design = r->choices->designs[row];
    design.tank.ends = UF_ENDS_PLANE;
    design.grid.finest_m *= half ? 0.5 : 1.0;
    return design;
}

bool uf_robust_grid(struct uf_robust_grid *out, const struct uf_robust *r, size_t row)
{
    const struct uf_bank *bank = &r->choices->bank;
    struct uf_verdict verdicts[2];
    double water_degC[2];
    double frost_m[2];
    for (size_t k = 0; k < 2; k++) {
        const size_t cell = r->grids[2 * row + k];
        if (cell >= UF_ROBUST_IDLE || !bank->jobs[cell].done || bank->jobs[cell].status != UF_OK) {
            return false;
        }
        const struct uf_job *job = &bank->jobs[cell];
        verdicts[k] = uf_choice_verdict(&r->choices->rows[row], &job->design, &job->summary);
        water_degC[k] = uf_limit_water_degC(&job->summary);
        frost_m[k] = job->summary.frost_undisturbed_m;
    }
    *out = (struct uf_robust_grid){.judged_K = 0.0,
                                   .water_K = water_degC[1] - water_degC[0],
                                   .frost_m = frost_m[1] - frost_m[0]};
    for (size_t k = 0; k < uf_limit_count; k++) {
        const double off = fabs(verdicts[1].margin[k] - verdicts[0].margin[k]);
        if (uf_limit_of_temperature(&uf_limits[k])) {
            out->judged_K = fmax(out->judged_K, off); /* fmax passes a NAN over */
        }
    }
    return true;
}

struct uf_case uf_robust_allowing(const struct uf_robust *r, size_t row)
{
    struct uf_robust_grid grid;
    struct uf_case design = r->choices->designs[row];
    if (uf_robust_grid(&grid, r, row)) { /* else the spacing was not halved, or is too fine to be */
        design.sensitivity.temperature_K += grid.judged_K;
        design.sensitivity.depth_m += fabs(grid.frost_m);
    }
    return design;
}

static bool spares_it(const struct uf_robust *r, size_t row)
{
    const struct uf_case design = uf_robust_allowing(r, row);
    return uf_robust_spare(&design, uf_choice_summary(r->choices, row),
                           &r->choices->rows[row].verdict);
}

enum uf_status uf_robust_ask_halved(struct uf_robust *r, size_t row, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t k = 0; k < 2 && status == UF_OK; k++) {
        size_t *cell = &r->grids[2 * row + k];
        if (*cell == UF_ROBUST_UNASKED) {
            const struct uf_case design = halved(r, row, k == 1);
            struct uf_run_options options = r->input.options;
            options.brief = k == 1 || uf_robust_screened(r, &r->choices->designs[row]);
            status = uf_bank_ask(cell, &r->choices->bank, &design, r->input.forcing, &options, err);
        }
    }
    return status;
}

enum uf_status uf_robust_halve(struct uf_robust *r, size_t row, bool *known, struct uf_error *err)
{
    const enum uf_status status = uf_robust_ask_halved(r, row, err);
    *known = true;
    for (size_t k = 0; k < 2 && status == UF_OK; k++) {
        const struct uf_job *job = &r->choices->bank.jobs[r->grids[2 * row + k]];
        *known = *known && job->done;
        if (job->done && job->status == UF_E_STOPPED) {
            return uf_fail(err, UF_E_STOPPED, "interrupted");
        }
    }
    if (status == UF_OK && *known && !spares_it(r, row)) {
        r->choices->rows[row].trial = UF_CHOICE_FRAGILE;
        r->broken[row] = NULL;
    }
    return status;
}
