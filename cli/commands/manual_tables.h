#ifndef UF_MANUAL_TABLES_H
#define UF_MANUAL_TABLES_H

#include "cli/options.h"

/* Prints the tables that a site file takes its rows from, as text or JSON; the exit code. */
int uf_manual_tables(const struct uf_arguments *args);

#endif
