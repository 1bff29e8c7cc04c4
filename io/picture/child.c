#include "child.h"

#include "io/signals.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

extern char **environ;

enum { LOOK_MS = 5 }; /* how often a running child is looked after */

/* Its standard input is read from where the file stands. */
static int spawn(pid_t *pid, const struct uf_child *child, FILE *in, FILE *out, FILE *errors)
{
    char *const arguments[] = {(char *)child->program, (char *)child->option, (char *)child->input,
                               NULL};
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t group;
    (void)posix_spawn_file_actions_init(&actions);
    (void)posix_spawn_file_actions_adddup2(&actions, fileno(in), STDIN_FILENO);
    (void)posix_spawn_file_actions_adddup2(&actions, fileno(out), STDOUT_FILENO);
    (void)posix_spawn_file_actions_adddup2(&actions, fileno(errors), STDERR_FILENO);
    (void)posix_spawnattr_init(&group);
    (void)posix_spawnattr_setflags(&group, POSIX_SPAWN_SETPGROUP);
    (void)posix_spawnattr_setpgroup(&group, 0);
    const int failed = posix_spawnp(pid, child->program, &actions, &group, arguments, environ);
    (void)posix_spawn_file_actions_destroy(&actions);
    (void)posix_spawnattr_destroy(&group);
    return failed;
}

static double now_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void end(pid_t pid, int *state)
{
    (void)kill(-pid, SIGKILL);
    while (waitpid(pid, state, 0) < 0 && errno == EINTR) {
    }
}

static enum uf_status watch(const struct uf_child *child, pid_t pid, int *state,
                            struct uf_error *err)
{
    const double start_s = now_s();
    enum uf_status status = UF_OK;
    while (status == UF_OK) {
        const pid_t ended = waitpid(pid, state, WNOHANG);
        if (ended == pid || (ended < 0 && errno != EINTR)) {
            return UF_OK;
        }
        if (uf_signals_stopped()) {
            status = uf_fail(err, UF_E_STOPPED, "interrupted");
        } else if (now_s() - start_s > child->limit_s) {
            status = uf_fail(err, UF_E_FILE, "%s did not end within %.0f s and was stopped",
                             child->program, child->limit_s);
        } else {
            (void)poll(NULL, 0, LOOK_MS);
        }
    }
    end(pid, state);
    return status;
}

enum uf_status uf_child_run(const struct uf_child *child, FILE *in, FILE *out, FILE *errors,
                            int *state, struct uf_error *err)
{
    pid_t pid = 0;
    (void)fflush(out);
    if (fflush(in) != 0 || ferror(in) || lseek(fileno(in), 0, SEEK_SET) != 0) {
        return uf_fail(err, UF_E_FILE, "what %s is to read could not be written: is the disk full?",
                       child->program);
    }
    const int failed = spawn(&pid, child, in, out, errors);
    if (failed == ENOENT) {
        return uf_fail(err, UF_E_FILE, "%s is not installed: %s", child->program, child->remedy);
    }
    if (failed != 0) {
        return uf_fail(err, UF_E_FILE, "%s could not be started: %s", child->program,
                       strerror(failed));
    }
    return watch(child, pid, state, err);
}
