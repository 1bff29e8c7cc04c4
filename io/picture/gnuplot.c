#include "gnuplot.h"

#include "child.h"
#include "io/text/quote.h"
#include "io/text/shipped.h"

#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define PATH_SIZE 1200

/* Stands for the single quote in text. gnuplot takes '' in the middle of a text for a
   quote, but at its start for the text's end: what follows would be run. */
#define APOSTROPHE "\xe2\x80\x99"

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

/* Text as one line: control characters become blanks, broken bytes '?', the quote is written as its
   replacement, "degF" as people write it. */
static void put_clean(FILE *out, const char *text, char quote, const char *replacement)
{
    const unsigned char *at = (const unsigned char *)text;
    while (*at != '\0') {
        size_t n = 0;
        const char *degree = uf_quote_degree((const char *)at, &n);
        if (degree != NULL) {
            (void)fputs(degree, out);
            at += n;
            continue;
        }
        n = uf_quote_character_length(at);
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

/* A file name keeps its quotes where gnuplot reads them right: single ones, not at the start. */
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
    char shipped[PATH_SIZE];
    const char *const folders[] = {getenv("UNDERFROST_PLOTS"),
                                   uf_shipped(shipped, sizeof shipped, "plots")};
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
    last_line(line, sizeof line, errors);
    return uf_fail(err, UF_E_FILE, "gnuplot stopped: %s",
                   line[0] != '\0' ? line : "it gave no reason");
}

/* Pictures take a second or two, the moving one ten; a loaded machine some times as long. */
static const struct uf_child gnuplot = {.program = "gnuplot",
                                        .option = "-d",
                                        .input = "/dev/stdin", /* without it byte by byte */
                                        .remedy = "install gnuplot-nox to draw",
                                        .limit_s = 120.0};

enum uf_status uf_gnuplot_run(struct uf_gnuplot *plot, FILE *out, struct uf_error *err)
{
    int state = 0;
    if (fflush(plot->stream) != 0 || ferror(plot->stream)) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a picture");
    }
    FILE *errors = tmpfile();
    if (errors == NULL) {
        return uf_fail(err, UF_E_FILE, "no temporary file could be made: %s", strerror(errno));
    }
    enum uf_status status =
        uf_child_run(&gnuplot, plot->script, plot->size, out, errors, &state, err);
    if (status == UF_OK) {
        status = verdict(state, errors, err);
    }
    (void)fclose(errors);
    return status;
}
