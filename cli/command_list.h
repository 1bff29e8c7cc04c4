/* One line a command, in the order --help lists them. X(name) stands for cmd_<name>.c. */
#define UF_COMMAND_LIST(X)                                                                         \
    X(recommend)                                                                                   \
    X(simulate)                                                                                    \
    X(compare)                                                                                     \
    X(uplift)                                                                                      \
    X(plot)                                                                                        \
    X(quantities)                                                                                  \
    X(load)                                                                                        \
    X(lifting)                                                                                     \
    X(readings)                                                                                    \
    X(fittings)                                                                                    \
    X(suction)                                                                                     \
    X(sheet)                                                                                       \
    X(climate)                                                                                     \
    X(start)                                                                                       \
    X(tables)                                                                                      \
    X(verify)                                                                                      \
    X(manual)
