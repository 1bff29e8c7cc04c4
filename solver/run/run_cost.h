#ifndef UF_RUN_COST_H
#define UF_RUN_COST_H

#include "run.h"

/* What a run will cost, told from its network before it starts: right-hand sides times cells, the
   start-up's years among them. For the fast integrator its days times the stages of a step; for the
   reference integrator, whose steps nobody can tell beforehand, 200 a cell and day, measured on the
   reference problem with recorded weather. Snow and steps that are halved make it more: good
   within a factor of two. NAN where the section cannot be built. */
double uf_run_cost_updates(const struct uf_case *design, const struct uf_forcing *forcing,
                           const struct uf_run_options *options);

#endif
