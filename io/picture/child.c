#include "child.h"

#include "io/signals.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <spawn.h>
#include <stdbool.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

extern char **environ;

enum { LOOK_MS = 5 }; /* how often a running child is looked after */

/* A child that reads standard input from a pipe; the writing end comes back in *in. */
static int spawn(pid_t *pid, int *in, const struct uf_child *child, FILE *out, FILE *errors)
{
    char *const arguments[] = {(char *)child->program, (char *)child->option, (char *)child->input,
                               NULL};
    int ends[2];
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t group;
    if (pipe(ends) != 0) {
        return errno;
    }
    (void)fcntl(ends[0], F_SETFD, FD_CLOEXEC);
    (void)fcntl(ends[1], F_SETFD, FD_CLOEXEC);
    (void)fcntl(ends[1], F_SETFL, O_NONBLOCK);
    (void)posix_spawn_file_actions_init(&actions);
    (void)posix_spawn_file_actions_adddup2(&actions, ends[0], STDIN_FILENO);
    (void)posix_spawn_file_actions_adddup2(&actions, fileno(out), STDOUT_FILENO);
    (void)posix_spawn_file_actions_adddup2(&actions, fileno(errors), STDERR_FILENO);
    (void)posix_spawnattr_init(&group);
    (void)posix_spawnattr_setflags(&group, POSIX_SPAWN_SETPGROUP);
    (void)posix_spawnattr_setpgroup(&group, 0);
    const int failed = posix_spawnp(pid, child->program, &actions, &group, arguments, environ);
    (void)posix_spawn_file_actions_destroy(&actions);
    (void)posix_spawnattr_destroy(&group);
    (void)close(ends[0]);
    if (failed != 0) {
        (void)close(ends[1]);
    }
    *in = ends[1];
    return failed;
}

static double now_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Sends a piece, or waits a moment where the child is not ready for one. false: all is sent, or
   the child no longer reads. */
static bool feed(int in, const char **text, size_t *size)
{
    struct pollfd ready = {.fd = in, .events = POLLOUT};
    if (poll(&ready, 1, LOOK_MS) <= 0) {
        return true;
    }
    const ssize_t sent = write(in, *text, *size);
    if (sent < 0) {
        return errno == EAGAIN || errno == EINTR;
    }
    *text += sent;
    *size -= (size_t)sent;
    return *size > 0;
}

static void end(pid_t pid, int *state)
{
    (void)kill(-pid, SIGKILL);
    while (waitpid(pid, state, 0) < 0 && errno == EINTR) {
    }
}

static enum uf_status watch(const struct uf_child *child, pid_t pid, int in, const char *text,
                            size_t size, int *state, struct uf_error *err)
{
    const double start_s = now_s();
    bool feeding = size > 0;
    enum uf_status status = UF_OK;
    if (!feeding) {
        (void)close(in);
    }
    for (;;) {
        if (feeding && !feed(in, &text, &size)) {
            feeding = false;
            (void)close(in);
        } else if (!feeding) {
            (void)poll(NULL, 0, LOOK_MS);
        }
        const pid_t ended = waitpid(pid, state, WNOHANG);
        if (ended == pid || (ended < 0 && errno != EINTR)) {
            break;
        }
        if (uf_signals_stopped()) {
            status = uf_fail(err, UF_E_STOPPED, "interrupted");
        } else if (now_s() - start_s > child->limit_s) {
            status = uf_fail(err, UF_E_FILE, "%s did not end within %.0f s and was stopped",
                             child->program, child->limit_s);
        }
        if (status != UF_OK) {
            end(pid, state);
            break;
        }
    }
    if (feeding) {
        (void)close(in);
    }
    return status;
}

/* A child that has stopped reading must not end this program, so SIGPIPE is held back in this
   thread and taken away again if it was ours. */
enum uf_status uf_child_run(const struct uf_child *child, const char *text, size_t size, FILE *out,
                            FILE *errors, int *state, struct uf_error *err)
{
    sigset_t pipe_signal, before, pending;
    pid_t pid = 0;
    int in = -1;
    (void)fflush(out);
    const int failed = spawn(&pid, &in, child, out, errors);
    if (failed == ENOENT) {
        return uf_fail(err, UF_E_FILE, "%s is not installed: %s", child->program, child->remedy);
    }
    if (failed != 0) {
        return uf_fail(err, UF_E_FILE, "%s could not be started: %s", child->program,
                       strerror(failed));
    }
    (void)sigemptyset(&pipe_signal);
    (void)sigaddset(&pipe_signal, SIGPIPE);
    (void)sigpending(&pending);
    const bool was_pending = sigismember(&pending, SIGPIPE) == 1;
    (void)pthread_sigmask(SIG_BLOCK, &pipe_signal, &before);
    const enum uf_status status = watch(child, pid, in, text, size, state, err);
    if (!was_pending) {
        const struct timespec none = {0, 0};
        (void)sigtimedwait(&pipe_signal, NULL, &none);
    }
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
    return status;
}
