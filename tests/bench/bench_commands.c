/* Whole commands on the example, as a person runs them: wall, user and system seconds,
   peak memory, bytes written. Best of three by user time.

   bench_commands [SITE.yaml] */
#include <fcntl.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

extern char **environ;

enum { WORDS = 16 };

struct used {
    double wall_s, user_s, system_s, peak_MB;
    int code;
};

static double wall_s(void)
{
    struct timespec t;
    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double seconds(const struct timeval *t)
{
    return (double)t->tv_sec + 1e-6 * (double)t->tv_usec;
}

/* Runs the program with its output thrown away. wait4 would tell the child's own use; it
   is no part of POSIX, so the children's sum before and after stands for it: one child at
   a time. Peak memory is that of the largest child so far. */
static struct used run_once(char *const *words)
{
    struct rusage before;
    struct rusage after;
    int status = 0;
    (void)getrusage(RUSAGE_CHILDREN, &before);
    const double start_s = wall_s();
    (void)fflush(stdout);
    const pid_t child = fork();
    if (child == 0) {
        const int nowhere = open("/dev/null", O_WRONLY);
        (void)dup2(nowhere, STDOUT_FILENO);
        (void)execve(UF_PROGRAM, words, environ);
        _exit(127);
    }
    (void)waitpid(child, &status, 0);
    (void)getrusage(RUSAGE_CHILDREN, &after);
    return (struct used){.wall_s = wall_s() - start_s,
                         .user_s = seconds(&after.ru_utime) - seconds(&before.ru_utime),
                         .system_s = seconds(&after.ru_stime) - seconds(&before.ru_stime),
                         .peak_MB = (double)after.ru_maxrss / 1024.0,
                         .code = WIFEXITED(status) ? WEXITSTATUS(status) : -1};
}

/* A command line, its words divided by blanks; SITE and OUT stand for the two paths. */
struct command {
    const char *words, *name;
    int trials; /* the least is told; many where a run is short */
};

static struct used run(const char *words, const char *site, const char *out, int trials)
{
    char text[512];
    char *list[WORDS] = {NULL};
    size_t n = 0;
    struct used best = {.user_s = INFINITY, .system_s = INFINITY};
    char program[] = "underfrost";
    char *site_word = strdup(site);
    char *out_word = strdup(out);
    (void)snprintf(text, sizeof text, "%s", words);
    list[n++] = program;
    for (char *word = strtok(text, " "); word != NULL && n + 1 < WORDS; word = strtok(NULL, " ")) {
        list[n++] = strcmp(word, "SITE") == 0  ? site_word
                    : strcmp(word, "OUT") == 0 ? out_word
                                               : word;
    }
    for (int trial = 0; trial < trials; trial++) {
        const struct used one = run_once(list);
        best = one.user_s + one.system_s < best.user_s + best.system_s ? one : best;
    }
    free(site_word);
    free(out_word);
    return best;
}

static double file_MB(const char *path)
{
    struct stat about;
    return stat(path, &about) == 0 ? 1e-6 * (double)about.st_size : 0.0;
}

static void print_used(const char *name, const struct used *u)
{
    printf("%-44s %7.2f %7.2f %7.2f %7.1f %5d\n", name, u->wall_s, u->user_s, u->system_s,
           u->peak_MB, u->code);
}

/* From the least to the most memory, since the peak is that of the largest so far. */
static const struct command COMMANDS[] = {
    {"simulate SITE --quiet", "simulate", 25},
    {"simulate SITE --quiet --thin 400 -o OUT.h5", "simulate, file of a single day", 25},
    {"simulate SITE --quiet -o OUT.h5", "simulate, file of every day", 25},
    {"simulate SITE --quiet --integrator reference", "simulate, reference integrator", 3},
    {"simulate SITE --quiet --set climate.winter=every --jobs 1", "every winter, 1 job", 3},
    {"simulate SITE --quiet --set climate.winter=every --jobs 2", "every winter, 2 jobs", 3},
    {"recommend SITE --quiet -o OUT --jobs 1", "recommend, 1 job", 3},
    {"recommend SITE --quiet -o OUT --jobs 2", "recommend, 2 jobs", 3},
    {"recommend SITE --quiet -o OUT --jobs 2 --all", "recommend --all, 2 jobs", 3}};

int main(int argc, char **argv)
{
    const char *site = argc > 1 ? argv[1] : UF_SOURCE_DIR "/cli/examples/larch_hollow.yaml";
    char folder[] = "/tmp/underfrost-bench-XXXXXX";
    char out[64];
    char file[80];
    if (mkdtemp(folder) == NULL) {
        return 1;
    }
    (void)snprintf(out, sizeof out, "%s/out", folder);
    (void)snprintf(file, sizeof file, "%s.h5", out);
    printf("%-44s %7s %7s %7s %7s %5s\n", "", "wall s", "user s", "sys s", "peak MB", "exit");
    double plain_s = 0.0, single_day_s = 0.0;
    for (size_t i = 0; i < sizeof COMMANDS / sizeof *COMMANDS; i++) {
        char words[256];
        (void)snprintf(words, sizeof words, "%s", COMMANDS[i].words);
        const bool writes = strstr(words, "OUT.h5") != NULL;
        if (writes) {
            *strstr(words, ".h5") = '\0';
        }
        const struct used u = run(words, site, writes ? file : out, COMMANDS[i].trials);
        print_used(COMMANDS[i].name, &u);
        const double cpu_s = u.user_s + u.system_s;
        if (i == 0) {
            plain_s = cpu_s;
        } else if (writes) {
            printf("  the file holds %.2f MB and costs %.1f %% of the run\n", file_MB(file),
                   100.0 * (cpu_s - plain_s) / plain_s);
            if (single_day_s > 0.0) {
                printf("  fields and series of each day beside a single one: %.1f %%\n",
                       100.0 * (cpu_s - single_day_s) / plain_s);
            }
            single_day_s = cpu_s;
        }
    }
    printf("left in %s\n", folder);
    return 0;
}
