#ifndef UF_EVERY_H
#define UF_EVERY_H

#include "limit.h"
#include "solver/run/pool.h"
#include "solver/weather/winter.h"

/* Every winter of a record, one after the other, as it was: real autumns and summers, and
   what one winter leaves in the ground for the next.

   A winter is counted from two months after the first day of its row (1 October in the
   north) to two months after its last, so that late frost belongs to the winter that made
   it; at the end of what is on file, to its last day.

   Winters whose air is whole are run as a chain, cut into stretches that can run side by
   side. A stretch starts on the first day of a winter (1 August; 1 February in the south)
   from the repeated mean year, and has the record's year before it as a lead-in where
   that is whole. What a stretch forgets is what lies more than its lead-in back: from one
   year to the next the frost depth remembers little (tests/solver/choice/test_every.c measures it).
   Grid and start are the same for all, so winters differ by their weather alone. */

#define UF_EVERY_STRETCH 10 /* winters in one stretch at most */

struct uf_every_winter {
    int year;                 /* it begins in */
    long first_day, last_day; /* what is counted */
    double index_degC_day;
    bool done;
    struct uf_summary summary;
    struct uf_record *record; /* its series, no fields; NULL unless kept */
};

struct uf_every_stretch {
    struct uf_every *every;
    size_t from, n;   /* its winters */
    size_t lead_days; /* before the first of them */
    size_t at;        /* winters done */
};

struct uf_every {
    struct uf_every_winter *winters; /* the usable ones, in order */
    size_t n;
    bool keep_series;
    size_t n_unusable; /* winters of the record that have gaps */
    bool south;
    struct uf_job *jobs; /* [n_stretches], for a pool */
    struct uf_every_stretch *stretches;
    struct uf_forcing **forcings;
    size_t n_stretches;
    double *start_degC; /* state of the mean year on the first day of a winter */
};

/* What there is to run; everything is borrowed until the runs are done. */
struct uf_every_input {
    const struct uf_case *design;
    const struct uf_weather *record;
    const struct uf_winter_list *winters;
    const struct uf_winter_mean_year *mean;
    struct uf_run_options options;
    bool keep_series;
};

/* Finds the stretches and the state to start from (one start-up); run jobs with a pool,
   or uf_every_run. Errors: UF_E_INPUT for a record without a whole winter, or with
   `initial` given (each winter starts from the one before); those of uf_run_create. Free
   with uf_every_free. */
enum uf_status uf_every_create(struct uf_every **out, const struct uf_every_input *input,
                               struct uf_error *err);
void uf_every_free(struct uf_every *every); /* NULL is fine */

/* Leaves out stretches whose winters are all done (from an earlier, interrupted run). */
void uf_every_skip_done(struct uf_every *every);

/* The first failure of a stretch that was run, else UF_OK. */
enum uf_status uf_every_status(const struct uf_every *every, struct uf_error *err);

/* Runs every stretch here and now, one after the other. */
enum uf_status uf_every_run(struct uf_every *every, struct uf_error *err);

/* How often each limit was broken. facts: design, uplift and load; its summary is filled
   in. */
struct uf_every_limits {
    size_t winters;                     /* judged */
    size_t broken[UF_LIMIT_MOST];       /* winters that broke it */
    double least[UF_LIMIT_MOST];        /* least margin; NAN: does not apply */
    size_t least_winter[UF_LIMIT_MOST]; /* index of that winter */
    size_t any;                         /* winters that broke at least one */
};

/* Judges each winter that was run by its own summary; of the facts everything but the
   summary is taken. */
struct uf_every_limits uf_every_limits(const struct uf_every *every,
                                       const struct uf_limit_facts *facts);

#endif
