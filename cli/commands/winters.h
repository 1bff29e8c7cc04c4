#ifndef UF_WINTERS_H
#define UF_WINTERS_H

#include "cli/options.h"
#include "cli/site_run.h"
#include "cli/tell/answer.h"
#include "solver/choice/choice.h"
#include "solver/choice/every.h"

/* Every winter on file through one design: simulate with climate.winter `every`, and
   recommend --seasons every. */
struct uf_winters {
    struct uf_every *every;
    struct uf_case design;
    struct uf_every_limits limits;
    size_t taken_over; /* winters that an earlier, interrupted run had done */
    size_t worst;      /* index of the winter with the coldest water, or the deepest frost */
    double simulated_days, cpu_s;
};

/* Runs them. statics: uplift and load of the design, or NULL where they are not judged.
   keep: path of the file for an interrupted run, or NULL; then series are not kept
   either. Errors: UF_E_STOPPED, with the winters done kept in that file; those of the
   runs. */
enum uf_status uf_winters_run(struct uf_winters **out, const struct uf_site_run *run,
                              const struct uf_case *design, const struct uf_choice *statics,
                              const char *keep, const struct uf_arguments *args,
                              struct uf_error *err);
void uf_winters_free(struct uf_winters *winters); /* NULL is fine */

/* "1978/79" */
char *uf_winters_name(const struct uf_winters *winters, size_t index, char *text, size_t size);

/* winters_tell.c: members `winters` and `limits_broken` into object; a table and how
   often limits were broken, for people. each: every winter its line, else the limits
   alone. */
void uf_winters_answer(cJSON *object, const struct uf_winters *winters, bool verbose);
void uf_winters_show(const struct uf_winters *winters, const struct uf_arguments *args, bool each);

/* winters_simulate.c: the whole of simulate for winter `every`; returns the exit code. */
int uf_winters_simulate(const struct uf_site_run *run, const struct uf_arguments *args);

/* winters_compare.c: the same of compare, with the board and without; the exit code is
   that of the design with its board. */
int uf_winters_compare(const struct uf_site_run *run, const struct uf_arguments *args);

#endif
