#ifndef UF_CHECK_H
#define UF_CHECK_H

#include "cli/options.h"
#include "cli/tell/answer.h"

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

/* What a topic works on. */
struct uf_check {
    const struct uf_arguments *args;
    struct uf_site *site;
    cJSON *answer;      /* the topic's object in JSON, to be filled; NULL: text is wanted */
    bool ok;            /* true before; false after where a limit of the topic is not met */
    const char *blamed; /* the file that a failure is told of; NULL: its text names the file */
    struct uf_site_faults faults; /* of a file that the topic read, blamed: told in place of err */
};

struct uf_check_topic {
    const char *name;  /* the word on the command line, and the key of the object in JSON */
    const char *doc;   /* one line: the heading of its text, and its line in --help */
    const char *needs; /* the keys without which there is nothing to check, for people */
    unsigned options;  /* bits of enum uf_option that this topic takes and the others do not */
    /* Whether those keys are there. */
    bool (*given)(const struct uf_check *check);
    /* Checks, then fills check->answer or prints the text below the heading that stands already.
       The verdict goes to check->ok and from there into the answer. */
    enum uf_status (*run)(struct uf_check *check, struct uf_error *err);
};

#endif
