#include "gnuplot.h"

#include "io/text/quote.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <pthread.h>
#include <signal.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define PATH_SIZE 1200

/* Stands for the single quote in text. gnuplot takes '' in the middle of a text for a
   quote, but at its start for the text's end: what follows would be run. */
#define APOSTROPHE "\xe2\x80\x99"

extern char **environ;

struct uf_gnuplot {
    char *script; /* what is sent */
    size_t size;
    FILE *stream; /* writes into script */
};

enum uf_status uf_gnuplot_open(struct uf_gnuplot **out, struct uf_error *err)
{
    struct uf_gnuplot *plot = calloc(1, sizeof *plot);
    *out = NULL;
    if (plot != NULL) {
        plot->stream = open_memstream(&plot->script, &plot->size);
    }
    if (plot == NULL || plot->stream == NULL) {
        free(plot);
        return uf_fail(err, UF_E_MEMORY, "out of memory for a picture");
    }
    *out = plot;
    return UF_OK;
}

void uf_gnuplot_free(struct uf_gnuplot *plot)
{
    if (plot != NULL) {
        (void)fclose(plot->stream);
        free(plot->script);
        free(plot);
    }
}

/* Text as one line: control characters become blanks, broken bytes '?', and the quote is
   written as its replacement. */
static void put_clean(FILE *out, const char *text, char quote, const char *replacement)
{
    const unsigned char *at = (const unsigned char *)text;
    while (*at != '\0') {
        const size_t n = uf_quote_character_length(at);
        if (n == 0) {
            (void)fputc('?', out);
        } else if (*at == (unsigned char)quote) {
            (void)fputs(replacement, out);
        } else if (*at < 0x20 || *at == 0x7f) {
            (void)fputc(' ', out);
        } else {
            (void)fwrite(at, 1, n, out);
        }
        at += n > 0 ? n : 1;
    }
}

void uf_gnuplot_number(struct uf_gnuplot *plot, const char *name, double value)
{
    if (isfinite(value)) {
        (void)fprintf(plot->stream, "%s = %.9g\n", name, value);
    } else {
        (void)fprintf(plot->stream, "%s = NaN\n", name);
    }
}

void uf_gnuplot_text(struct uf_gnuplot *plot, const char *name, const char *text)
{
    (void)fprintf(plot->stream, "%s = '", name);
    put_clean(plot->stream, text, '\'', APOSTROPHE);
    (void)fputs("'\n", plot->stream);
}

void uf_gnuplot_data(struct uf_gnuplot *plot, const char *name)
{
    (void)fprintf(plot->stream, "$%s << EOD\n", name);
}

void uf_gnuplot_cell(struct uf_gnuplot *plot, double value)
{
    if (isfinite(value)) {
        (void)fprintf(plot->stream, "%.9g ", value);
    } else {
        (void)fputs("NaN ", plot->stream);
    }
}

void uf_gnuplot_word(struct uf_gnuplot *plot, const char *text)
{
    (void)fputc('"', plot->stream);
    put_clean(plot->stream, text, '"', "''"); /* a cell has no way to hold its own quote */
    (void)fputs("\" ", plot->stream);
}

void uf_gnuplot_row(struct uf_gnuplot *plot)
{
    (void)fputc('\n', plot->stream);
}

void uf_gnuplot_data_end(struct uf_gnuplot *plot)
{
    (void)fputs("EOD\n", plot->stream);
}

/* A file name keeps its quotes where gnuplot reads them right: single ones, not at the
 * start. */
static bool can_be_quoted(const char *path)
{
    return path[0] != '\'' && strstr(path, "''") == NULL;
}

static void put_path(struct uf_gnuplot *plot, const char *name, const char *path)
{
    (void)fprintf(plot->stream, "%s = '", name);
    put_clean(plot->stream, path, '\'', "''");
    (void)fputs("'\n", plot->stream);
}

enum uf_status uf_gnuplot_script(struct uf_gnuplot *plot, const char *name, struct uf_error *err)
{
    const char *const folders[] = {getenv("UNDERFROST_PLOTS"), UF_SOURCE_DIR "/plots",
                                   UF_DATA_DIR "/plots"};
    for (size_t i = 0; i < sizeof folders / sizeof folders[0]; i++) {
        char path[PATH_SIZE];
        if (folders[i] == NULL || !can_be_quoted(folders[i]) ||
            snprintf(path, sizeof path, "%s/%s.gp", folders[i], name) >= (int)sizeof path) {
            continue;
        }
        if (access(path, R_OK) == 0) {
            put_path(plot, "folder", folders[i]);
            put_path(plot, "script", path);
            (void)fputs("load script\n", plot->stream);
            return UF_OK;
        }
    }
    return uf_fail(err, UF_E_FILE,
                   "the picture's script %s.gp is not there: set UNDERFROST_PLOTS to the folder "
                   "plots of the source tree",
                   name);
}

/* A child that reads standard input from a pipe; the writing end comes back in *in. */
static int spawn(pid_t *child, int *in, FILE *out, FILE *errors)
{
    char program[] = "gnuplot", defaults[] = "-d";
    char *const arguments[] = {program, defaults, NULL};
    int ends[2];
    posix_spawn_file_actions_t actions;
    if (pipe(ends) != 0) {
        return errno;
    }
    (void)fcntl(ends[0], F_SETFD, FD_CLOEXEC);
    (void)fcntl(ends[1], F_SETFD, FD_CLOEXEC);
    (void)posix_spawn_file_actions_init(&actions);
    (void)posix_spawn_file_actions_adddup2(&actions, ends[0], STDIN_FILENO);
    (void)posix_spawn_file_actions_adddup2(&actions, fileno(out), STDOUT_FILENO);
    (void)posix_spawn_file_actions_adddup2(&actions, fileno(errors), STDERR_FILENO);
    const int failed = posix_spawnp(child, program, &actions, NULL, arguments, environ);
    (void)posix_spawn_file_actions_destroy(&actions);
    (void)close(ends[0]);
    if (failed != 0) {
        (void)close(ends[1]);
    }
    *in = ends[1];
    return failed;
}

/* Sends all and closes. A gnuplot that has stopped reading must not end this program, so
   SIGPIPE is held back in this thread and taken away again if it was ours. */
static void send_all(int in, const char *script, size_t size)
{
    sigset_t pipe_signal, before, pending;
    (void)sigemptyset(&pipe_signal);
    (void)sigaddset(&pipe_signal, SIGPIPE);
    (void)sigpending(&pending);
    const bool was_pending = sigismember(&pending, SIGPIPE) == 1;
    (void)pthread_sigmask(SIG_BLOCK, &pipe_signal, &before);
    while (size > 0) {
        const ssize_t sent = write(in, script, size);
        if (sent < 0 && errno != EINTR) {
            break;
        }
        script += sent > 0 ? sent : 0;
        size -= sent > 0 ? (size_t)sent : 0;
    }
    (void)close(in);
    if (!was_pending) {
        const struct timespec now = {0, 0};
        (void)sigtimedwait(&pipe_signal, NULL, &now);
    }
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
}

/* The last line that says something, without its indent; the gif terminal counts its
   frames last, which is no reason to stop. */
static void last_line(char *line, int size, FILE *errors)
{
    char text[400];
    line[0] = '\0';
    rewind(errors);
    while (fgets(text, sizeof text, errors) != NULL) {
        const char *start = text + strspn(text, " \t^");
        if (start[strcspn(start, "\n")] == '\n' && start[0] != '\n' &&
            strstr(start, "frames in animation sequence") == NULL) {
            (void)snprintf(line, (size_t)size, "%.*s", (int)strcspn(start, "\n"), start);
        }
    }
}

static enum uf_status verdict(int state, FILE *errors, struct uf_error *err)
{
    char line[200];
    if (WIFEXITED(state) && WEXITSTATUS(state) == 0) {
        return UF_OK;
    }
    if (WIFEXITED(state) && WEXITSTATUS(state) == 127) {
        return uf_fail(err, UF_E_FILE, "gnuplot is not installed: install gnuplot-nox to draw");
    }
    last_line(line, sizeof line, errors);
    return uf_fail(err, UF_E_FILE, "gnuplot stopped: %s",
                   line[0] != '\0' ? line : "it gave no reason");
}

enum uf_status uf_gnuplot_run(struct uf_gnuplot *plot, FILE *out, struct uf_error *err)
{
    pid_t child = 0;
    int in = -1, state = 0;
    if (fflush(plot->stream) != 0 || ferror(plot->stream)) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a picture");
    }
    FILE *errors = tmpfile();
    if (errors == NULL) {
        return uf_fail(err, UF_E_FILE, "no temporary file could be made: %s", strerror(errno));
    }
    (void)fflush(out);
    const int failed = spawn(&child, &in, out, errors);
    enum uf_status status = UF_OK;
    if (failed == ENOENT) {
        status = verdict(127 << 8, errors, err);
    } else if (failed != 0) {
        status = uf_fail(err, UF_E_FILE, "gnuplot could not be started: %s", strerror(failed));
    } else {
        send_all(in, plot->script, plot->size);
        while (waitpid(child, &state, 0) < 0 && errno == EINTR) {
        }
        status = verdict(state, errors, err);
    }
    (void)fclose(errors);
    return status;
}
