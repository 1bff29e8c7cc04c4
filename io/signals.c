#include "signals.h"

#include <signal.h>
#include <stddef.h>

static volatile sig_atomic_t stopped;

static void stop(int number)
{
    (void)number;
    stopped = 1;
}

void uf_signals_catch(void)
{
    struct sigaction action = {0};

    action.sa_handler = stop;
    action.sa_flags = (int)SA_RESETHAND;
    (void)sigaction(SIGINT, &action, NULL);
    (void)sigaction(SIGTERM, &action, NULL);
    action.sa_handler = SIG_IGN;
    action.sa_flags = 0;
    (void)sigaction(SIGPIPE, &action, NULL);
    (void)sigaction(SIGXFSZ, &action, NULL);
}

bool uf_signals_asked(void *who)
{
    (void)who;
    return uf_signals_stopped();
}

bool uf_signals_stopped(void)
{
    return stopped != 0;
}
