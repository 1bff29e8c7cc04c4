#ifndef UF_CLI_SCORE_H
#define UF_CLI_SCORE_H

#include "cli/command.h"
#include "cli/site_run.h"
#include "cli/tell/answer.h"
#include "solver/study/score_run.h"

/* A site's run held against its measurements: done, told, kept. */
struct uf_scoring {
    struct uf_site_run run; /* open */
    struct uf_score_series *series;
    size_t *rows; /* which row of `observed` each series is */
    size_t n, days;
    struct uf_score_profile profile;
    double *block; /* owns what profile points to */
};

/* Reads the measurements and runs. Errors: those of reading and of a run. */
enum uf_status uf_score_open(struct uf_scoring *scoring, struct uf_error *err);
void uf_score_close(struct uf_scoring *scoring); /* closes run too */

/* Name of a series: the file's column, and its depth. Returns text. */
char *uf_score_name(char *text, size_t size, const struct uf_scoring *scoring, size_t i);

/* score_tell.c: as JSON; as text on standard output; score.csv and score.png in args->output. */
cJSON *uf_score_tell_answer(const struct uf_scoring *scoring);
void uf_score_tell_show(const struct uf_scoring *scoring, const struct uf_arguments *args);
enum uf_status uf_score_tell_keep(const struct uf_scoring *scoring, const struct uf_arguments *args,
                                  struct uf_error *err);

#endif
