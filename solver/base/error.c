#include "error.h"

#include <stdarg.h>
#include <stdio.h>

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

enum uf_status uf_fail(struct uf_error *err, enum uf_status code, const char *format, ...)
{
    if (err != NULL) {
        va_list list;
        va_start(list, format);
        err->code = code;
        (void)vsnprintf(err->text, sizeof err->text, format, list);
        va_end(list);
    }
    return code;
}
