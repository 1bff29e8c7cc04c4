#include "today.h"

#include <time.h>

const char *uf_today(char *text, size_t size)
{
    const time_t now = time(NULL);
    struct tm local;
    return localtime_r(&now, &local) != NULL && strftime(text, size, "%Y-%m-%d", &local) > 0 ? text
                                                                                             : "-";
}
