#ifndef UF_ERROR_H
#define UF_ERROR_H

/* What can go wrong, in one list. The text is what a person reads when nothing better is
 * known. */
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

/* Filled by the function that fails; the caller's, last argument everywhere, may be NULL.
 */
struct uf_error {
    enum uf_status code;
    char text[400];
};

/* The general text of a status. Never NULL, also for a number outside the list. */
const char *uf_status_text(enum uf_status code);

/* Fills err (when given) from a printf format and returns code, so that a function can
   fail in one line: return uf_fail(err, UF_E_RANGE, "cover = %g m: must be positive",
   cover_m); */
enum uf_status uf_fail(struct uf_error *err, enum uf_status code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

#endif
