#ifndef UF_SIGNALS_H
#define UF_SIGNALS_H

#include <stdbool.h>

/* An interrupt from the keyboard (or a polite request to end) only raises a flag, so that a run
   can stop between two steps and leave no half-written file; the second one ends the program at
   once. A pipe that closes and a file that may not grow show as a failed write. The one piece of
   changing global state. */
void uf_signals_catch(void);

/* The same for the options of a season (solver/season.h); who is not looked at. */
bool uf_signals_asked(void *who);

/* Has the person asked to stop? Cheap; from any thread. */
bool uf_signals_stopped(void);

#endif
