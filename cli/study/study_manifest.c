#include "cli/folder.h"
#include "io/result/every_file.h"
#include "io/result/part_file.h"
#include "io/text/input.h"
#include "io/weather/climate.h"
#include "study.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* The manifest: all that the numbers of a study rest on, one thing a line, with its sum where it is a
   file. A study goes on only with the very same. */

#define NAME "manifest.txt"

/* Sum of a file's bytes. */
static enum uf_status sum_of(unsigned long long *sum, const char *path, struct uf_error *err)
{
    FILE *file = NULL;
    struct uf_error reason = {0};
    unsigned char block[65536];
    *sum = 0;
    if (uf_input_open(&file, path, &reason) != UF_OK) {
        return uf_fail(err, reason.code, "%.250s: %.120s", path, reason.text);
    }
    for (size_t n = 0; (n = fread(block, 1, sizeof block, file)) > 0;) {
        *sum = uf_every_file_key(*sum, block, n);
    }
    (void)fclose(file);
    return UF_OK;
}

static enum uf_status write_stations(FILE *out, const struct uf_study *s, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < s->stations && status == UF_OK; i++) {
        const bool own = s->plan->n_stations == 0;
        const char *file = own ? s->base->climate_file : s->plan->stations[i].file;
        const char *column = own ? s->base->climate_column : s->plan->stations[i].column;
        char folder[UF_CLIMATE_PATH_SIZE], found[UF_CLIMATE_PATH_SIZE];
        unsigned long long sum = 0;
        if (own && s->base->source != UF_SOURCE_FILE) {
            (void)fprintf(out, "station 0: as the site file has it\n");
            continue;
        }
        uf_site_weather_folder(folder, sizeof folder, s->base);
        status = uf_climate_find(found, sizeof found, file, folder, err);
        if (status == UF_OK) {
            status = sum_of(&sum, found, err);
        }
        if (status != UF_OK) {
            uf_study_open_blame(err, s->plan, i);
        }
        (void)fprintf(out, "station %zu: %016llx %s %s\n", i, sum, file, column);
    }
    return status;
}

static void write_rest(FILE *out, const struct uf_study *s)
{
    char text[UF_DRAW_MOST_LAWS * 200];
    for (size_t i = 0; i < s->winters; i++) {
        (void)fprintf(out, "winter %zu: %s\n", i, s->winter_names[i]);
    }
    for (size_t i = 0; i < s->variants; i++) {
        (void)fprintf(out, "variant %zu: %s\n", i, uf_study_site_variant(text, sizeof text, s, i));
    }
    for (size_t i = 0; i < s->options; i++) {
        (void)fprintf(out, "option %zu: %s\n", i,
                      uf_study_site_option(text, sizeof text, s, i, UF_UNITS_SI));
    }
    for (size_t i = 0; i < s->members; i++) {
        (void)fprintf(out, "member %zu: %s\n", i, uf_study_site_member(text, sizeof text, s, i));
    }
}

enum uf_status uf_study_manifest(struct uf_study *s, struct uf_error *err)
{
    size_t size = 0;
    unsigned long long site = 0;
    enum uf_status status = sum_of(&site, s->plan->site, err);
    if (status != UF_OK) {
        return status;
    }
    FILE *out = open_memstream(&s->manifest, &size);
    if (out == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for a manifest");
    }
    (void)fprintf(out,
                  "# manifest of a study: what its numbers rest on; sums are FNV-1a, 64 bit\n");
    (void)fprintf(out, "program: underfrost %s\n", UF_VERSION);
    (void)fprintf(out, "plan: %016llx\n",
                  uf_every_file_key(0, s->plan->text, strlen(s->plan->text)));
    (void)fprintf(out, "site: %016llx\n", site);
    (void)fprintf(out,
                  "cases: %zu = %zu stations x %zu variants x %zu members x %zu options x %zu "
                  "winters\n",
                  s->cases, s->stations, s->variants, s->members, s->options, s->winters);
    (void)fprintf(out,
                  "case: (((station * %zu + variant) * %zu + member) * %zu + option) * %zu + "
                  "winter\n",
                  s->variants, s->members, s->options, s->winters);
    status = write_stations(out, s, err);
    write_rest(out, s);
    if (fclose(out) != 0 && status == UF_OK) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a manifest");
    }
    s->key = status == UF_OK ? uf_every_file_key(0, s->manifest, size) : 0;
    return status;
}

/* The manifest of the folder; NULL where there is none. */
static char *read_there(const struct uf_study *s)
{
    char path[1100], *text = NULL;
    FILE *file = NULL;
    if (uf_input_open(&file, uf_folder_path(path, sizeof path, s->folder, NAME), NULL) == UF_OK) {
        (void)uf_part_file_rest(&text, file, path, NULL);
        (void)fclose(file);
    }
    return text;
}

/* The first line in which two manifests differ. */
static enum uf_status tell_difference(const struct uf_study *s, const char *there,
                                      struct uf_error *err)
{
    const char *now = s->manifest;
    while (*now != '\0' && *there != '\0') {
        const size_t a = strcspn(now, "\n"), b = strcspn(there, "\n");
        if (a != b || strncmp(now, there, a) != 0) {
            break;
        }
        now += a + (now[a] == '\n');
        there += b + (there[b] == '\n');
    }
    return uf_fail(err, UF_E_INPUT,
                   "%.100s/%s: has '%.*s', today it is '%.*s': 'study plan --force' begins anew",
                   s->folder, NAME, (int)(strcspn(there, "\n") < 90 ? strcspn(there, "\n") : 90),
                   there, (int)(strcspn(now, "\n") < 90 ? strcspn(now, "\n") : 90), now);
}

enum uf_status uf_study_manifest_check(const struct uf_study *s, struct uf_error *err)
{
    char *there = read_there(s);
    enum uf_status status = UF_OK;
    if (there == NULL) {
        status =
            uf_fail(err, UF_E_INPUT,
                    "%.200s holds no manifest: 'underfrost study plan' comes first", s->folder);
    } else if (strcmp(there, s->manifest) != 0) {
        status = tell_difference(s, there, err);
    }
    free(there);
    return status;
}

/* The parts of an earlier manifest. */
static void remove_parts(const struct uf_study *s)
{
    DIR *folder = opendir(s->folder);
    const struct dirent *entry = NULL;
    char path[1400];
    while (folder != NULL && (entry = readdir(folder)) != NULL) {
        if (strncmp(entry->d_name, "part_", 5) == 0) {
            (void)unlink(uf_folder_path(path, sizeof path, s->folder, entry->d_name));
        }
    }
    if (folder != NULL) {
        (void)closedir(folder);
    }
}

enum uf_status uf_study_manifest_write(const struct uf_study *s, bool force, struct uf_error *err)
{
    char path[1100];
    struct uf_part_file part;
    char *there = read_there(s);
    enum uf_status status = UF_OK;
    const bool other = there != NULL && strcmp(there, s->manifest) != 0;
    if (other && !force) {
        status = tell_difference(s, there, err);
    } else if (other) {
        remove_parts(s);
    }
    free(there);
    if (status == UF_OK && mkdir(s->folder, 0777) != 0 && errno != EEXIST) {
        status =
            uf_fail(err, UF_E_FILE, "%.200s: could not be made: %s", s->folder, strerror(errno));
    }
    if (status == UF_OK) {
        status = uf_part_file_open(&part, uf_folder_path(path, sizeof path, s->folder, NAME), err);
    }
    if (status != UF_OK) {
        return status;
    }
    (void)fputs(s->manifest, part.file);
    return uf_part_file_close(&part, UF_OK, err);
}
