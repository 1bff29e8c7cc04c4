#include "cli/folder.h"
#include "cli/site_open.h"
#include "cli/tell/faults.h"
#include "io/result/part_file.h"
#include "solver/time/lanes.h"
#include "study_group.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* The script that shares the work out: the same shard command under GNU parallel or as a job array of
   Slurm. Shards are made so long that an engine has little to do and a lost one costs little. */

static const double SHARD_S = 900.0; /* aimed at: within 5 to 30 minutes */
#define TRIED       8    /* cases timed, run one by one; in lanes all options of as many members */
#define MOST_SHARDS 1000 /* of an array; clusters limit them: common practice, no source */

/* Seconds of CPU for a case, from some of the first, whose part is thrown away. */
static double time_a_case(struct uf_study *s, const struct uf_arguments *args, int *code)
{
    struct uf_arguments quiet = *args;
    const size_t tried = uf_study_group_lanes(s) ? UF_LANES * s->options * s->winters : TRIED;
    const struct uf_study_shard some = {1, s->cases > tried ? s->cases / tried : 1, "timing.txt"};
    const size_t n = s->cases / some.of;
    char path[1100];
    quiet.quiet = true;
    quiet.jobs = 1;
    quiet.progress = false;
    (void)unlink(uf_study_run_part(path, sizeof path, s, &some));
    const clock_t begun = clock();
    *code = uf_study_run(s, &some, &quiet);
    (void)unlink(path);
    return (double)(clock() - begun) / CLOCKS_PER_SEC / (double)(n > 0 ? n : 1);
}

/* This program as a script must name it. */
static void find_program(char *path, size_t size)
{
    const ssize_t n = readlink("/proc/self/exe", path, size - 1);
    path[n > 0 ? n : 0] = '\0';
    if (n <= 0) {
        (void)snprintf(path, size, "underfrost");
    }
}

/* In single quotes for a shell. */
static void put_quoted(FILE *out, const char *text)
{
    (void)fputc('\'', out);
    for (; *text != '\0'; text++) {
        (void)fputs(*text == '\'' ? "'\\''" : (char[2]){*text, '\0'}, out);
    }
    (void)fputc('\'', out);
}

static void put_command(FILE *out, const char *verb, const struct uf_study *s, const char *plan)
{
    char program[1024];
    find_program(program, sizeof program);
    put_quoted(out, program);
    (void)fprintf(out, " study %s ", verb);
    put_quoted(out, plan);
    (void)fputs(" -o ", out);
    put_quoted(out, s->folder);
}

static void write_parallel(FILE *out, const struct uf_study *s, const char *plan, size_t shards)
{
    (void)fputs("seq 1 ", out);
    (void)fprintf(out, "%zu | parallel --jobs \"${JOBS:-100%%}\" --joblog ", shards);
    char log[1100];
    put_quoted(out, uf_folder_path(log, sizeof log, s->folder, "parallel.log"));
    (void)fputs(" \\\n    \"", out);
    put_command(out, "run", s, plan);
    (void)fprintf(out, " --jobs 1 --quiet --shard {}/%zu\"\n", shards);
    put_command(out, "gather", s, plan);
    (void)fputc('\n', out);
}

static void write_slurm(FILE *out, const struct uf_study *s, const char *plan, size_t shards,
                        double shard_s)
{
    const long minutes = lround(ceil(fmax(5.0, 3.0 * shard_s / 60.0)));
    (void)fprintf(out,
                  "array=$(sbatch --parsable --array=1-%zu --ntasks=1 --cpus-per-task=1 \\\n"
                  "    --time=%ld --mem=512M --requeue --signal=TERM@60 --open-mode=append \\\n"
                  "    --job-name=underfrost --output=",
                  shards, minutes);
    char log[1100];
    put_quoted(out, uf_folder_path(log, sizeof log, s->folder, "slurm_%a.log"));
    (void)fputs(" <<'END'\n#!/bin/sh\nexec ", out);
    put_command(out, "run", s, plan);
    (void)fprintf(
        out,
        " --jobs 1 --quiet \\\n    --shard \"$SLURM_ARRAY_TASK_ID/%zu\"\nEND\n)\n"
        "echo \"$array\"\nsbatch --parsable --dependency=afterany:\"$array\" --ntasks=1 --time=30 "
        "--mem=2G \\\n    --job-name=underfrost_gather --output=",
        shards);
    put_quoted(out, uf_folder_path(log, sizeof log, s->folder, "slurm_gather.log"));
    (void)fputs(" <<'END'\n#!/bin/sh\nexec ", out);
    put_command(out, "gather", s, plan);
    (void)fputs("\nEND\n", out);
}

static enum uf_status write_script(const char *path, const struct uf_study *s,
                                   const struct uf_arguments *args, size_t shards, double case_s,
                                   struct uf_error *err)
{
    struct uf_part_file part;
    const double shard_s = case_s * (double)s->cases / (double)shards;
    const enum uf_status status = uf_part_file_open(&part, path, err);
    if (status != UF_OK) {
        return status;
    }
    (void)fprintf(
        part.file,
        "#!/bin/sh\n# %zu cases in %zu shards; measured: %.3f s of CPU a case, %.1f minutes "
        "a shard.\n# Run it again after a failure: what is done is not done again.\nset -eu\n",
        s->cases, shards, case_s, shard_s / 60.0);
    if (args->slurm) {
        write_slurm(part.file, s, args->operands[1], shards, shard_s);
    } else {
        write_parallel(part.file, s, args->operands[1], shards);
    }
    (void)fchmod(fileno(part.file), 0755);
    return uf_part_file_close(&part, UF_OK, err);
}

int uf_study_submit(struct uf_study *s, const struct uf_arguments *args)
{
    struct uf_error err = {0};
    char path[1100];
    size_t shards = 0;
    int code = UF_EXIT_DONE;
    if (args->slurm == args->parallel) {
        (void)uf_fail(&err, UF_E_INPUT, "submit: say --slurm or --parallel");
        return uf_faults_error(args, NULL, &err);
    }
    const double case_s = time_a_case(s, args, &code);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    const double whole = ceil(case_s * (double)s->cases / SHARD_S);
    const size_t least = args->parallel ? uf_options_jobs(args) : 1; /* no processor idle */
    shards = (size_t)fmin(fmax(whole, (double)least), MOST_SHARDS);
    if (args->shards > 0) {
        shards = args->shards;
    }
    shards = shards < s->cases ? shards : s->cases;
    (void)uf_folder_path(path, sizeof path, s->folder, args->slurm ? "slurm.sh" : "parallel.sh");
    if (write_script(path, s, args, shards, case_s, &err) != UF_OK) {
        return uf_faults_error(args, NULL, &err);
    }
    if (args->json) {
        cJSON *answer = cJSON_CreateObject();
        uf_answer_count(answer, "cases", (long)s->cases);
        uf_answer_count(answer, "shards", (long)shards);
        uf_answer_number(answer, "case_s", case_s);
        uf_answer_text(answer, "script", path);
        return uf_site_open_answer(args, answer);
    }
    (void)printf("%zu cases, %.3f s of CPU each: %zu shard%s of %.1f minutes\nsh %s\n", s->cases,
                 case_s, shards, shards == 1 ? "" : "s",
                 case_s * (double)s->cases / (double)shards / 60.0, path);
    return UF_EXIT_DONE;
}
