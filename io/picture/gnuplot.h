#ifndef UF_GNUPLOT_H
#define UF_GNUPLOT_H

#include "solver/base/error.h"

#include <stdio.h>

/* The pipe to gnuplot. What is sent is gathered first and piped in one go by
   uf_gnuplot_run, so no half-sent script can hang; what gnuplot draws comes back through
   its standard output, so no file name ever reaches it. Text of users reaches gnuplot
   only through uf_gnuplot_text and uf_gnuplot_word: in single quotes or as a cell of a
   data block, where gnuplot runs nothing; control characters and broken UTF-8 are
   replaced. */
struct uf_gnuplot;

/* Errors: UF_E_MEMORY. */
enum uf_status uf_gnuplot_open(struct uf_gnuplot **out, struct uf_error *err);
void uf_gnuplot_free(struct uf_gnuplot *plot); /* NULL is fine */

/* name = value; a NAN becomes gnuplot's own NaN. name is ours, never a user's. */
void uf_gnuplot_number(struct uf_gnuplot *plot, const char *name, double value);

/* name = 'text', a single quote in it as a raised comma. */
void uf_gnuplot_text(struct uf_gnuplot *plot, const char *name, const char *text);

/* Starts the data block $name; rows follow until uf_gnuplot_data_end. */
void uf_gnuplot_data(struct uf_gnuplot *plot, const char *name);
void uf_gnuplot_cell(struct uf_gnuplot *plot, double value);
void uf_gnuplot_word(struct uf_gnuplot *plot, const char *text);
void uf_gnuplot_row(struct uf_gnuplot *plot); /* ends a row; twice in a row ends a line */
void uf_gnuplot_data_end(struct uf_gnuplot *plot);

/* Loads the script of that name from the folder of scripts: that of the environment's
   UNDERFROST_PLOTS, else the shipped one (uf_shipped). Errors: UF_E_FILE when there is no such script anywhere. */
enum uf_status uf_gnuplot_script(struct uf_gnuplot *plot, const char *name, struct uf_error *err);

/* Runs gnuplot on all that was sent; out takes what it draws.
   Errors: UF_E_FILE with gnuplot's own last line where it stopped at an error, what to install
   where there is none, or that it did not end; UF_E_STOPPED when the person asked to stop. */
enum uf_status uf_gnuplot_run(struct uf_gnuplot *plot, FILE *out, struct uf_error *err);

#endif
