#ifndef UF_BANK_H
#define UF_BANK_H

#include "solver/run/pool.h"

/* Heat runs, each made once: options that differ only in what no heat run sees (anchors within the
   same pit, strength of the board, prices, limits) share one. Filled in rounds: ask for runs, let a
   pool run what is pending, ask for more. */
struct uf_bank {
    struct uf_job *jobs; /* [n] moves when runs are added: keep indices, not pointers */
    size_t n, room;
    size_t asked; /* runs asked for so far, shared ones too */
    size_t begun; /* jobs handed out by uf_bank_pending so far */
    uint64_t *hashes;
};

/* The index of the run of this design under this weather, added unless it is there.
   Errors: UF_E_MEMORY. */
enum uf_status uf_bank_ask(size_t *index, struct uf_bank *bank, const struct uf_case *design,
                           const struct uf_forcing *forcing, const struct uf_run_options *options,
                           struct uf_error *err);

/* The runs added since the last call, for a pool; n 0: none. Borrowed until the next ask. */
struct uf_job *uf_bank_pending(struct uf_bank *bank, size_t *n);

void uf_bank_clear(struct uf_bank *bank);

#endif
