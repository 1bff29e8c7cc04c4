/* One line a command, in the order --help lists them. X(name) stands for cmd_<name>.c. */
#define UF_COMMAND_LIST(X)                                                                         \
    X(recommend)                                                                                   \
    X(simulate)                                                                                    \
    X(compare)                                                                                     \
    X(check)                                                                                       \
    X(sheet)                                                                                       \
    X(plot)                                                                                        \
    X(export)                                                                                      \
    X(climate)                                                                                     \
    X(score)                                                                                       \
    X(study)                                                                                       \
    X(start)                                                                                       \
    X(verify)                                                                                      \
    X(manual)
