#ifndef UF_ERROR_H
#define UF_ERROR_H

#include "message.h"

/* What can go wrong, in one list. The text is what a person reads when nothing better is known. */
#define UF_STATUS_LIST(X)                                                                          \
    X(UF_OK, "success")                                                                            \
    X(UF_E_MEMORY, "out of memory")                                                                \
    X(UF_E_INPUT, "the input is wrong")                                                            \
    X(UF_E_RANGE, "a value lies outside its range")                                                \
    X(UF_E_FILE, "a file could not be read or written")                                            \
    X(UF_E_SOLVER, "the time integration gave up")                                                 \
    X(UF_E_STOPPED, "interrupted")

#define UF_STATUS_NAME(name, text) name,
enum uf_status { UF_STATUS_LIST(UF_STATUS_NAME) UF_STATUS_COUNT };
#undef UF_STATUS_NAME

/* What is wrong, in its parts. What a person reads, JSON and units are made from these; nobody takes
   a sentence apart. */
struct uf_fault {
    char file[512];                  /* that holds it, such as a weather file; "" */
    int line, column;                /* 0: not known */
    char key[128];                   /* path in the site file, such as "board.above_crown"; "" */
    struct uf_message what, allowed; /* what is wrong; what is allowed, or "" */
};

/* Filled by the function that fails; the caller's, last argument everywhere, may be NULL. */
struct uf_error {
    enum uf_status code;
    char text[400]; /* all of it as one line: file:line: key: what: allowed */
    struct uf_fault fault;
};

/* The general text of a status. Never NULL, also for a number outside the list. */
const char *uf_status_text(enum uf_status code);

/* Each fills err (when given) and returns code, so that a function can fail in one line. */

/* In words alone, from a printf format:
   return uf_fail(err, UF_E_MEMORY, "out of memory for %zu cells", n); */
enum uf_status uf_fail(struct uf_error *err, enum uf_status code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* By a value of the site file: its key, what is wrong with it, what is allowed.
   return uf_fail_key(err, UF_E_RANGE, "burial.cover", UF_SAID("{} is too little", UF_OF(LENGTH, x)),
                      UF_PLAIN("zero or more")); */
enum uf_status uf_fail_key(struct uf_error *err, enum uf_status code, const char *key,
                           struct uf_said what, struct uf_said allowed);

/* By a line of a file, in words. */
enum uf_status uf_fail_line(struct uf_error *err, const char *file, int line, const char *format,
                            ...) __attribute__((format(printf, 4, 5)));

#endif
