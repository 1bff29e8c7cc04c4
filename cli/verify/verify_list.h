/* One line a topic of verify, in the order they are shown. X(name) stands for
   uf_verify_<name>, whose file is verify_<name>.c or another verify_*.c. */
#define UF_VERIFY_LIST(X)                                                                          \
    X(ground)                                                                                      \
    X(vertical)                                                                                    \
    X(riser)                                                                                       \
    X(solid)                                                                                       \
    X(ends)                                                                                        \
    X(chain)                                                                                       \
    X(tank)                                                                                        \
    X(uplift)                                                                                      \
    X(wheel)                                                                                       \
    X(works)                                                                                       \
    X(soil)                                                                                        \
    X(snow)                                                                                        \
    X(index)                                                                                       \
    X(depth)                                                                                       \
    X(irc)                                                                                         \
    X(neumann)                                                                                     \
    X(stefan)                                                                                      \
    X(berggren)                                                                                    \
    X(lunardini)                                                                                   \
    X(line)                                                                                        \
    X(corner)                                                                                      \
    X(wave)                                                                                        \
    X(film)                                                                                        \
    X(quarter)                                                                                     \
    X(burial)                                                                                      \
    X(cylinder)                                                                                    \
    X(pipe)                                                                                        \
    X(bulb)                                                                                        \
    X(slab)                                                                                        \
    X(strip)                                                                                       \
    X(iso1)                                                                                        \
    X(iso2)                                                                                        \
    X(iso3)                                                                                        \
    X(iso4)                                                                                        \
    X(freezeup)                                                                                    \
    X(layers)                                                                                      \
    X(order)                                                                                       \
    X(reference)
