#ifndef UF_FAULTS_H
#define UF_FAULTS_H

#include "cli/options.h"

/* What went wrong, told to a person on standard error or, with --json, as one object
   {"errors":[{"file","line","key","what","allowed"}]} on standard output. Each returns
   the exit code to end with (enum uf_exit). */

/* Every fault of a site file, one line each: FILE:LINE: key: what is wrong: what is allowed. */
int uf_faults_site(const struct uf_arguments *args, const char *file,
                   const struct uf_site_faults *faults);

/* One failure; file, which may be NULL, is named where the failure names none of its own, with the line
   of it on which the failure's key stands; a key that came by --set is told as that. */
int uf_faults_error(const struct uf_arguments *args, const char *file, const struct uf_error *err);

/* The exit code that stands for a status. */
int uf_faults_exit(enum uf_status status);

#endif
