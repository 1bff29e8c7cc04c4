#ifndef UF_VERIFY_GROUND_H
#define UF_VERIFY_GROUND_H

/* Prints the tables that go with the checks of measured ground: each station and part of
   a winter as measured and as computed, how far assumed soil moves it, and what comes out
   when the air drives it instead. */
void uf_verify_ground_tell(void);

#endif
