#include "spent.h"

#include "io/text/show.h"

#include <math.h>
#include <stdio.h>
#include <sys/stat.h>

static const double YEAR_DAYS = 365.2425;

char *uf_spent_rate(char *text, size_t size, double simulated_days, double cpu_s)
{
    const double rate = simulated_days / YEAR_DAYS / fmax(1e-9, cpu_s);
    (void)snprintf(text, size, rate < 1.0 ? "%.2g" : "%.0f", rate);
    return text;
}

void uf_spent_show(const char *label, double simulated_days, double cpu_s)
{
    char rate[32];
    uf_show_line(stdout, label, "%.0f days in %.2f s (%s years a second)", simulated_days, cpu_s,
                 uf_spent_rate(rate, sizeof rate, simulated_days, cpu_s));
}

char *uf_spent_size(char *text, size_t size, const char *path)
{
    struct stat about;
    text[0] = '\0';
    if (stat(path, &about) == 0) {
        (void)snprintf(text, size, "%.2f MB", 1e-6 * (double)about.st_size);
    }
    return text;
}

void uf_spent_show_file(const char *path)
{
    char text[32];
    if (path != NULL && uf_spent_size(text, sizeof text, path)[0] != '\0') {
        uf_show_line(stdout, "result file", "%s, %s", path, text);
    }
}
