#include "every_file.h"

#include "part_file.h"

#include <stdio.h>
#include <string.h>

/* Begins every file; what follows is memory as it lies. */
struct head {
    char magic[8];
    unsigned long long key;
    size_t summary_bytes, winters;
};
static const char MAGIC[8] = "ufwint1";

/* Before each winter. nt 0: no series. */
struct winter_head {
    int year;
    size_t nt, nz, nx, n_probes, n_materials;
    bool radial;
};

unsigned long long uf_every_file_key(unsigned long long key, const void *bytes, size_t n)
{
    const unsigned char *at = bytes;
    key = key == 0 ? 14695981039346656037ULL : key;
    for (size_t i = 0; i < n; i++) {
        key = (key ^ at[i]) * 1099511628211ULL;
    }
    return key;
}

static bool put(FILE *file, const void *data, size_t bytes)
{
    return bytes == 0 || fwrite(data, bytes, 1, file) == 1;
}

static bool take(FILE *file, void *data, size_t bytes)
{
    return bytes == 0 || fread(data, bytes, 1, file) == 1;
}

static bool put_winter(FILE *file, const struct uf_every_winter *winter)
{
    struct uf_record *r = winter->record;
    struct uf_record_array list[UF_RECORD_ARRAYS];
    struct winter_head head;
    memset(&head, 0, sizeof head); /* the gaps too */
    head.year = winter->year;
    if (r != NULL) {
        head.nt = r->nt;
        head.nz = r->nz;
        head.nx = r->nx;
        head.n_probes = r->n_probes;
        head.n_materials = r->n_materials;
        head.radial = r->radial;
    }
    bool ok = put(file, &head, sizeof head) && put(file, &winter->summary, sizeof winter->summary);
    if (r != NULL) {
        uf_record_arrays(r, list);
        for (size_t i = 0; i < UF_RECORD_ARRAYS; i++) {
            ok = ok && put(file, list[i].data, list[i].bytes);
        }
        ok = ok && put(file, r->material_names, sizeof r->material_names) &&
             put(file, r->probe_names, sizeof r->probe_names);
    }
    return ok;
}

static bool put_all(FILE *file, const struct uf_every *every, unsigned long long key)
{
    struct head head;
    memset(&head, 0, sizeof head);
    memcpy(head.magic, MAGIC, sizeof head.magic);
    head.key = key;
    head.summary_bytes = sizeof(struct uf_summary);
    head.winters = every->n;
    bool ok = put(file, &head, sizeof head);
    for (size_t i = 0; i < every->n && ok; i++) {
        ok = !every->winters[i].done || put_winter(file, &every->winters[i]);
    }
    return ok;
}

enum uf_status uf_every_file_write(const char *path, const struct uf_every *every,
                                   unsigned long long key, struct uf_error *err)
{
    struct uf_part_file part;
    const enum uf_status status = uf_part_file_open(&part, path, err);
    if (status != UF_OK) {
        return status;
    }
    (void)put_all(part.file, every, key);
    return uf_part_file_close(&part, UF_OK, err);
}

/* The series that follow a winter's head; false when the file ends early. */
static bool take_record(FILE *file, const struct winter_head *head, struct uf_record **record)
{
    struct uf_record_array list[UF_RECORD_ARRAYS];
    if (uf_record_create(record, head->nt, head->nz, head->nx, head->n_probes, false, NULL) !=
        UF_OK) {
        return false;
    }
    struct uf_record *r = *record;
    bool ok = true;
    uf_record_arrays(r, list);
    for (size_t i = 0; i < UF_RECORD_ARRAYS; i++) {
        ok = ok && take(file, list[i].data, list[i].bytes);
    }
    ok = ok && take(file, r->material_names, sizeof r->material_names) &&
         take(file, r->probe_names, sizeof r->probe_names);
    r->n_materials = head->n_materials;
    r->radial = head->radial;
    return ok;
}

/* Numbers that a file of ours can hold; guards against one that is damaged. */
static bool sane(const struct winter_head *head)
{
    return head->nt <= 1000 && head->nz <= 4000 && head->nx <= 4000 &&
           head->n_probes <= UF_MAX_PROBES && head->n_materials <= UF_MAX_MATERIALS;
}

static struct uf_every_winter *winter_of(struct uf_every *every, int year)
{
    for (size_t i = 0; i < every->n; i++) {
        if (every->winters[i].year == year && !every->winters[i].done) {
            return &every->winters[i];
        }
    }
    return NULL;
}

static bool take_winter(FILE *file, struct uf_every *every)
{
    struct winter_head head;
    struct uf_summary summary;
    struct uf_record *record = NULL;
    if (!take(file, &head, sizeof head) || !take(file, &summary, sizeof summary) || !sane(&head)) {
        return false;
    }
    struct uf_every_winter *winter = winter_of(every, head.year);
    bool ok = winter != NULL && (head.nt > 0) == every->keep_series;
    if (ok && head.nt > 0) {
        ok = head.nt == (size_t)(winter->last_day - winter->first_day + 1) &&
             take_record(file, &head, &record);
    }
    if (!ok) {
        uf_record_free(record);
        return false;
    }
    winter->summary = summary;
    winter->record = record;
    winter->done = true;
    return true;
}

size_t uf_every_file_read(const char *path, struct uf_every *every, unsigned long long key)
{
    FILE *file = fopen(path, "rb");
    struct head head;
    size_t taken = 0;
    if (file == NULL) {
        return 0;
    }
    if (take(file, &head, sizeof head) && memcmp(head.magic, MAGIC, sizeof head.magic) == 0 &&
        head.key == key && head.summary_bytes == sizeof(struct uf_summary) &&
        head.winters == every->n) {
        while (taken < every->n && take_winter(file, every)) {
            taken++;
        }
    }
    (void)fclose(file);
    return taken;
}
