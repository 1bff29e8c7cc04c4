#ifndef UF_FIN_H
#define UF_FIN_H

#include <stddef.h>

/* A fin in parts end to end: heat goes along it and from it to surroundings of their own temperature.
   Part by part, with K what conducts along (conductivity x area, W m/K) and R a metre's way out,

       K d2T/ds2 = (T - T_out) / R,   m = 1 / sqrt(K R),   Y = K m,   t = tanh(m L)

       G_in  = Y (G_out + Y t) / (Y + G_out t)         seen into the part from the root's side
       T_out = T_in / (cosh(m L) + G_out / Y sinh(m L))    surroundings at 0

   (heat-transfer handbooks). By reciprocity, what root and surroundings exchange is
   sum of W_K (T_root - T_surroundings), exact for any temperatures of the surroundings. */
struct uf_fin_part {
    double length_m, R_mK_W;
    double W_K; /* out: root to this part's surroundings */
};

/* parts [n], the root's first; along_W_mK > 0; tip_W_K: from the far end to its own surroundings.
   Returns what root and the tip's surroundings exchange, W/K. */
double uf_fin(struct uf_fin_part *parts, size_t n, double along_WmK, double tip_W_K);

#endif
