#include "error.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

const char *uf_status_text(enum uf_status code)
{
#define UF_STATUS_TEXT(name, text) text,
    static const char *const texts[] = {UF_STATUS_LIST(UF_STATUS_TEXT)};
#undef UF_STATUS_TEXT
    if ((int)code < 0 || code >= UF_STATUS_COUNT) {
        return "unknown status";
    }
    return texts[code];
}

/* The line of text from the parts. */
static void compose(struct uf_error *err)
{
    const struct uf_fault *f = &err->fault;
    char place[sizeof f->file + 16] = "";
    if (f->file[0] != '\0') {
        (void)snprintf(place, sizeof place, "%s:%d: ", f->file, f->line);
    }
    if (snprintf(err->text, sizeof err->text, "%s%s%s%s%s%s", place, f->key,
                 f->key[0] != '\0' ? ": " : "", f->what.text,
                 f->allowed.text[0] != '\0' ? ": " : "", f->allowed.text) < 0) {
        err->text[0] = '\0'; /* longer ones are cut */
    }
}

/* A failure in words; file may be NULL. */
__attribute__((format(printf, 5, 0))) static void fill(struct uf_error *err, enum uf_status code,
                                                       const char *file, int line,
                                                       const char *format, va_list list)
{
    struct uf_fault *f = &err->fault;
    memset(f, 0, sizeof *f);
    err->code = code;
    f->line = line;
    (void)snprintf(f->file, sizeof f->file, "%s", file != NULL ? file : "");
    (void)vsnprintf(f->what.text, sizeof f->what.text, format, list);
    compose(err);
}

enum uf_status uf_fail(struct uf_error *err, enum uf_status code, const char *format, ...)
{
    if (err != NULL) {
        va_list list;
        va_start(list, format);
        fill(err, code, NULL, 0, format, list);
        va_end(list);
    }
    return code;
}

enum uf_status uf_fail_line(struct uf_error *err, const char *file, int line, const char *format,
                            ...)
{
    if (err != NULL) {
        va_list list;
        va_start(list, format);
        fill(err, UF_E_INPUT, file, line, format, list);
        va_end(list);
    }
    return UF_E_INPUT;
}

enum uf_status uf_fail_key(struct uf_error *err, enum uf_status code, const char *key,
                           struct uf_said what, struct uf_said allowed)
{
    if (err != NULL) {
        memset(&err->fault, 0, sizeof err->fault);
        err->code = code;
        (void)snprintf(err->fault.key, sizeof err->fault.key, "%s", key);
        uf_message_set(&err->fault.what, what);
        uf_message_set(&err->fault.allowed, allowed);
        compose(err);
    }
    return code;
}
