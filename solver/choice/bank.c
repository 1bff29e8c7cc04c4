#include "bank.h"

#include "solver/design/dig.h"
#include "solver/heat/slice.h"

#include <stdlib.h>
#include <string.h>

/* What a heat run depends on. */
struct seen {
    struct uf_case design; /* what no heat run sees is cleared */
    struct uf_dig dig;     /* stands for anchors, clearance and slope */
    const struct uf_forcing *forcing;
    long integrator, inflow, brief;
};

static void clear_unseen(struct uf_case *c)
{
    memset(c->name, 0, sizeof c->name);
    memset(&c->anchors, 0, sizeof c->anchors);
    memset(&c->limits, 0, sizeof c->limits);
    memset(&c->choices, 0, sizeof c->choices);
    memset(&c->costs, 0, sizeof c->costs);
    memset(&c->sensitivity, 0, sizeof c->sensitivity);
    c->wheel_N = c->board.strength_Pa = c->board.density_kg_m3 = 0.0;
    c->tank.empty_mass_kg = c->tank.lowest_m = c->ground.water_highest_m = 0.0;
    c->burial.pit_clearance_m = c->burial.pit_slope = 0.0;
    c->wheel_h20 = false;
    c->board.row = NULL;
    c->load_method = c->burial.native_swell = 0;
    c->burial.soil_class = 0;
}

static void look(struct seen *out, const struct uf_case *design, const struct uf_forcing *forcing,
                 const struct uf_run_options *options)
{
    memset(out, 0, sizeof *out);
    memcpy(&out->design, design, sizeof *design);
    clear_unseen(&out->design);
    out->dig = uf_dig_of(design);
    out->forcing = forcing;
    if (options != NULL) {
        out->integrator = (long)options->season.integrator;
        out->inflow = options->inflow;
        out->brief = options->brief;
    }
}

/* FNV-1a. Source: Fowler, Noll, Vo (1991), public domain. */
static uint64_t hash_of(const struct seen *seen)
{
    const unsigned char *bytes = (const unsigned char *)seen;
    uint64_t hash = 14695981039346656037ULL;
    for (size_t i = 0; i < sizeof *seen; i++) {
        hash = (hash ^ bytes[i]) * 1099511628211ULL;
    }
    return hash;
}

static bool is_run(const struct uf_job *job, const struct seen *wanted)
{
    struct seen have;
    look(&have, &job->design, job->forcing, &job->options);
    return memcmp(&have, wanted, sizeof have) == 0;
}

static bool make_room(struct uf_bank *bank)
{
    const size_t room = bank->room > 0 ? 2 * bank->room : 64;
    if (bank->n < bank->room) {
        return true;
    }
    struct uf_job *jobs = realloc(bank->jobs, room * sizeof *jobs);
    if (jobs == NULL) {
        return false;
    }
    bank->jobs = jobs;
    uint64_t *hashes = realloc(bank->hashes, room * sizeof *hashes);
    if (hashes == NULL) {
        return false;
    }
    bank->hashes = hashes;
    bank->room = room;
    return true;
}

enum uf_status uf_bank_ask(size_t *index, struct uf_bank *bank, const struct uf_case *design,
                           const struct uf_forcing *forcing, const struct uf_run_options *options,
                           struct uf_error *err)
{
    struct seen seen;
    look(&seen, design, forcing, options);
    const uint64_t hash = hash_of(&seen);
    bank->asked++;
    for (*index = 0; *index < bank->n; (*index)++) {
        if (bank->hashes[*index] == hash && is_run(&bank->jobs[*index], &seen)) {
            return UF_OK;
        }
    }
    if (!make_room(bank)) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for %zu heat runs", bank->n + 1);
    }
    memset(&bank->jobs[bank->n], 0, sizeof *bank->jobs);
    memcpy(&bank->jobs[bank->n].design, design, sizeof *design);
    bank->jobs[bank->n].forcing = forcing;
    bank->jobs[bank->n].options = *options;
    bank->jobs[bank->n].keep_found = !uf_slice_wanted(design);
    bank->hashes[bank->n++] = hash;
    return UF_OK;
}

struct uf_job *uf_bank_pending(struct uf_bank *bank, size_t *n)
{
    struct uf_job *first = bank->jobs + bank->begun;
    *n = bank->n - bank->begun;
    bank->begun = bank->n;
    return first;
}

void uf_bank_clear(struct uf_bank *bank)
{
    for (size_t i = 0; i < bank->n; i++) {
        uf_pool_forget(&bank->jobs[i]);
    }
    free(bank->jobs);
    free(bank->hashes);
    *bank = (struct uf_bank){.n = 0};
}
