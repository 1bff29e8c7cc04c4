#include "progress.h"

#include <math.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static double now_s(void)
{
    struct timespec now = {0};

    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

void uf_progress_begin(struct uf_progress *progress, const struct uf_arguments *args,
                       const char *what)
{
    const bool terminal = isatty(STDERR_FILENO) == 1;

    *progress = (struct uf_progress){
        .on = !args->quiet && (terminal || args->progress),
        .terminal = terminal,
        .quiet = args->quiet,
        .between_s = terminal ? 0.2 : 5.0,
        .start_s = now_s(),
        .what = what,
    };
}

double uf_progress_elapsed_s(const struct uf_progress *progress)
{
    return now_s() - progress->start_s;
}

static void duration_text(char *text, size_t size, double seconds)
{
    const long whole = (long)(seconds + 0.5);

    if (whole < 100) {
        (void)snprintf(text, size, "%ld s", whole);
    } else {
        (void)snprintf(text, size, "%ld min %02ld s", whole / 60, whole % 60);
    }
}

char *uf_progress_text(char *text, size_t size, const char *what, double done, double total,
                       double elapsed_s)
{
    const double share = done >= total ? 1.0 : done / total;
    char left[32];

    (void)snprintf(text, size, "%s: %.0f of %.0f, %.0f %%", what, floor(done), total,
                   100.0 * share);
    if (share > 0.0 && elapsed_s >= 1.0) {
        const size_t used = strlen(text);
        duration_text(left, sizeof left, elapsed_s * (1.0 - share) / share);
        (void)snprintf(text + used, size - used, ", %s left", left);
    }
    return text;
}

void uf_progress_foretell(struct uf_progress *progress, double seconds)
{
    static const double long_s = 60.0;

    if (progress->quiet || !(seconds > long_s)) {
        return;
    }
    if (!progress->on) {
        progress->between_s = 30.0; /* nobody asked: a line now and then */
        progress->on = true;
    }
    (void)fprintf(stderr, "%s: about %.0f minutes\n", progress->what, ceil(seconds / 60.0));
    (void)fflush(stderr);
}

void uf_progress_update(struct uf_progress *progress, double done, double total)
{
    const double now = now_s();
    char text[96];

    if (!progress->on || !(total > 0.0) || now - progress->drawn_s < progress->between_s) {
        return;
    }
    progress->drawn_s = now;
    (void)uf_progress_text(text, sizeof text, progress->what, floor(done), total,
                           now - progress->start_s);
    if (progress->terminal) {
        (void)fprintf(stderr, "\r%-*s", (int)progress->width, text);
        progress->width = strlen(text);
    } else {
        (void)fprintf(stderr, "%s\n", text);
    }
    (void)fflush(stderr);
}

void uf_progress_end(struct uf_progress *progress)
{
    if (progress->on && progress->terminal && progress->width > 0) {
        (void)fprintf(stderr, "\r%*s\r", (int)progress->width, "");
        (void)fflush(stderr);
    }
    progress->on = false;
}
