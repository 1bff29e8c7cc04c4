#ifndef UF_LANES_H
#define UF_LANES_H

#include "solver/base/error.h"

#include <stdbool.h>

/* Many runs beside each other on one thread, each in a lane of the machine's vectors.

   Every run has a stack of its own and goes its own way until it asks a season to advance; when all
   of them wait for that, those of one shape (the same network but for substances and sizes) go
   forward together, one step of the fast integrator at a time. A lane's numbers do not hang on those
   beside it: each has its own step, its own stages and its own outside, and a lane that is done
   keeps what it has.

   The state between two steps and the boundary heats are double; within a step increments and
   temperatures are float. */
struct uf_heat;
struct uf_lanes;

#define UF_LANES 16

/* Calls work(who, lanes) UF_LANES times beside each other and returns when all calls have. A
   season made with options.lanes = lanes by one of them advances with the others.
   Where stacks cannot be switched work is called once, with NULL. Errors: UF_E_MEMORY, when no work
   was begun. */
enum uf_status uf_lanes_run(void (*work)(void *who, struct uf_lanes *lanes), void *who,
                            struct uf_error *err);

/* Lets the others go on for a step; called by one of them. */
void uf_lanes_yield(struct uf_lanes *lanes);

/* Can its seasons be advanced so? Not in three dimensions, with water kept at a temperature, or
   with inflow. */
bool uf_lanes_takes(const struct uf_heat *heat);

#endif
