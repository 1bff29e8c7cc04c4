#ifndef UF_PROGRESS_H
#define UF_PROGRESS_H

#include "options.h"

/* One line on standard error that says how far a run is and how long it will still take.
   Drawn over itself on a terminal, a line every few seconds elsewhere; silent with
   --quiet, and when standard error is no terminal unless --progress asks for it or the run is
   foretold to be long. Calls from several threads must be kept apart by the caller. */
struct uf_progress {
    bool on, terminal, quiet;
    double start_s, drawn_s; /* seconds of the steady clock */
    double between_s;        /* least, between two lines */
    size_t width;            /* of the line on the terminal now */
    const char *what;
};

/* what is borrowed until the end, such as "choices". */
void uf_progress_begin(struct uf_progress *progress, const struct uf_arguments *args,
                       const char *what);

/* Seconds since it began. */
double uf_progress_elapsed_s(const struct uf_progress *progress);

/* What is estimated to take more than a minute says so, and shows how far it is wherever standard
   error goes. */
void uf_progress_foretell(struct uf_progress *progress, double seconds);

/* done of total, any unit; drawn at most five times a second. total <= 0 draws nothing. */
void uf_progress_update(struct uf_progress *progress, double done, double total);

/* Takes the line away. */
void uf_progress_end(struct uf_progress *progress);

/* The line itself, without the pen: "choices: 12 of 24, 50 %, 8 s left". Returns text. */
char *uf_progress_text(char *text, size_t size, const char *what, double done, double total,
                       double elapsed_s);

#endif
