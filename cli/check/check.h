#ifndef UF_CHECK_H
#define UF_CHECK_H

#include "cli/options.h"
#include "cli/tell/answer.h"
#include "io/site/site_file.h"
#include "solver/statics/frost_force.h"
#include "solver/statics/lifting.h"
#include "solver/statics/load.h"
#include "solver/statics/roundness.h"
#include "solver/statics/suction.h"
#include "solver/statics/uplift.h"
#include "solver/statics/water_least.h"
#include "solver/statics/wedge.h"
#include "solver/statics/wet_pit.h"
#include "solver/works/pit.h"

/* The topics of `underfrost check`. A topic is one file, check_<name>.c, that ends in a constant
   uf_check_<name>, and one line here. X(name), in the order they are told. */
#define UF_CHECK_LIST(X)                                                                           \
    X(flotation)                                                                                   \
    X(load)                                                                                        \
    X(lifting)                                                                                     \
    X(suction)                                                                                     \
    X(fittings)                                                                                    \
    X(roundness)                                                                                   \
    X(pit)

#define UF_CHECK_AT(topic) UF_CHECK_##topic,
enum { UF_CHECK_LIST(UF_CHECK_AT) UF_CHECK_TOPICS };
#undef UF_CHECK_AT

/* What flotation tells beside the uplift check. */
struct uf_check_floats {
    double deadman_side_m; /* see uf_uplift_deadman_side */
    double contact_Pa;     /* of a strap on a round shell; NAN: not known */
    struct uf_wet_pit wet;
    bool has_year, has_wedge;
    struct uf_water_least year;
    char least_on[16]; /* "--04-30" */
    struct uf_wedge wedge;
};

/* What a topic works on, and what those with rows found. */
struct uf_check {
    const struct uf_arguments *args; /* NULL: no command line, the report asks */
    struct uf_site *site;
    const struct uf_case *design; /* as written, or the option that a report tells of */
    enum uf_units units;
    bool brief;         /* a report asks, which tells the main rows alone */
    double frost_m;     /* in undisturbed ground, by a run of that design; NAN: not run yet */
    cJSON *answer;      /* the topic's object in JSON, to be filled; NULL: text is wanted */
    bool ok;            /* true before; false after where a limit of the topic is not met */
    const char *blamed; /* the file that a failure is told of; NULL: its text names the file */
    struct uf_site_faults faults; /* of a file that the topic read, blamed: told in place of err */

    struct uf_uplift uplift;
    struct uf_check_floats floats;
    struct uf_load load;
    struct uf_pit pit;
    bool has_readings, has_forecast; /* of roundness */
    struct uf_suction suction;
    const struct uf_frost_force_bond *bond;
    struct uf_frost_force fittings;
    struct uf_lifting lifting;
    struct uf_roundness roundness;
    struct uf_roundness_forecast forecast;
    double crown_Pa; /* dead load at the crown */
};

struct uf_check_row;

struct uf_check_topic {
    const char *name;  /* the word on the command line, and the key of the object in JSON */
    const char *doc;   /* one line: the heading of its text, and its line in --help */
    const char *needs; /* the keys without which there is nothing to check, for people */
    unsigned options;  /* bits of enum uf_option that this topic takes and the others do not */
    /* Whether those keys are there. */
    bool (*given)(const struct uf_check *check);
    /* Checks, and puts the verdict in check->ok. A topic without rows fills check->answer too, or
       prints the text below the heading that stands already. */
    enum uf_status (*run)(struct uf_check *check, struct uf_error *err);
    /* The numbers that run found, for JSON, text and report alike (check_rows.h), and the paragraphs
       of sources and cautions below them, ended by NULL; a report has
       the first, formulas and sources, in the caption. NULL: run tells all by itself. */
    const struct uf_check_row *rows;
    const char *const *cautions;
    bool own_chapter; /* the report tells it in one of its own */
};

/* In the order of the list. */
extern const struct uf_check_topic *const uf_check_topics[UF_CHECK_TOPICS];

#endif
