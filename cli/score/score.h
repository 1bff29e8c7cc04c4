#ifndef UF_CLI_SCORE_H
#define UF_CLI_SCORE_H

#include "cli/command.h"
#include "cli/site_run.h"
#include "cli/tell/answer.h"
#include "io/site/site_score.h"

/* A site's run held against its measurements: done, told, kept. */
struct uf_scoring {
    struct uf_site_run run; /* open */
    struct uf_site_score score;
};

/* score_tell.c: as JSON; as text on standard output; score.csv and score.png in args->output. */
cJSON *uf_score_tell_answer(const struct uf_scoring *scoring);
void uf_score_tell_show(const struct uf_scoring *scoring, const struct uf_arguments *args);
enum uf_status uf_score_tell_keep(const struct uf_scoring *scoring, const struct uf_arguments *args,
                                  struct uf_error *err);

#endif
