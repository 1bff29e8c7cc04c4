#ifndef UNDERFROST_H
#define UNDERFROST_H

/* The whole of libunderfrost: frost in the ground round a buried tank, by finite differences.

   All is SI: lengths in m, depths from grade and positive down, temperatures in degC, differences
   in K, times in days since 1970-01-01; the unit is the last word of every name. A number that was
   not given or does not exist is NAN. A field has shape [nz][nx], top row first.

   A function that can fail returns enum uf_status and writes one line into struct uf_error, which
   may be NULL. *out belongs to the caller and goes to the type's _free; a pointer that is returned
   is borrowed. Nothing is printed, no file opened; objects of one thread are not seen by another.

   What a program may use is what these headers declare; the library exports nothing else. */

#include "solver/base/counters.h"
#include "solver/base/error.h"
#include "solver/base/message.h"
#include "solver/base/quantity_kind.h"
#include "solver/design/case.h"
#include "solver/design/foam.h"
#include "solver/design/water_year.h"
#include "solver/ground/material.h"
#include "solver/ground/soil.h"
#include "solver/heat/grid.h"
#include "solver/heat/heat.h"
#include "solver/heat/outline.h"
#include "solver/heat/section.h"
#include "solver/heat/slice.h"
#include "solver/run/forcing.h"
#include "solver/run/record.h"
#include "solver/run/run.h"
#include "solver/run/startup.h"
#include "solver/time/season.h"

#endif
