#ifndef UF_VERIFY_GROUND_H
#define UF_VERIFY_GROUND_H

#include "cli/verify/verify.h"
#include "io/text/quantity.h"

/* Prints the tables that go with the checks of measured ground: each station and part of
   a winter as measured and as computed, how far assumed soil moves it, and what comes out
   when the air drives it instead. */
void uf_verify_ground_tell(void);

/* verify_ground_index.c: frost depth of bare ground at every shipped station against the
   freezing index, as checks, as tables, and as a picture whose ending tells its format. */
enum uf_status uf_verify_ground_index(struct uf_verify *verify,
                                      const struct uf_season_options *options,
                                      struct uf_error *err);
void uf_verify_ground_index_tell(void);
enum uf_status uf_verify_ground_index_draw(const char *path, enum uf_units units,
                                           struct uf_error *err);

#endif
