/* One line a command, in the order --help lists them. X(name) stands for cmd_<name>.c. */
#define UF_COMMAND_LIST(X)                                                               \
    X(uplift)                                                                            \
    X(simulate)                                                                          \
    X(climate)                                                                           \
    X(manual)
