#include "cli/folder.h"
#include "io/result/study_file.h"
#include "io/weather/climate.h"
#include "solver/choice/option.h"
#include "study.h"

#include <dirent.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What the parts hold together, and the one netCDF-4 file of it. Cases stand by their number, so
   neither the shards nor their order leave a trace. */

struct taking {
    struct uf_study_results *out;
    const struct uf_study *study;
};

static void take_row(void *payload, const struct uf_study_row *row)
{
    const struct taking *taking = payload;
    struct uf_study_results *out = taking->out;
    const size_t n = taking->study->cases;
    if (row->id >= n || out->status[row->id] != UF_STUDY_MISSING) {
        return;
    }
    out->status[row->id] = (signed char)row->status;
    for (size_t i = 0; i < taking->study->n_columns; i++) {
        out->values[i * n + row->id] = row->values[i];
    }
    if (row->message[0] != '\0') {
        out->messages[row->id] = strdup(row->message);
    }
}

static enum uf_status read_parts(const struct taking *taking, struct uf_error *err)
{
    const struct uf_study *s = taking->study;
    const struct uf_study_part_kind kind = {s->key, s->n_columns};
    DIR *folder = opendir(s->folder);
    const struct dirent *entry = NULL;
    enum uf_status status = UF_OK;
    if (folder == NULL) {
        return uf_fail(err, UF_E_FILE, "%.200s: could not be read: %s", s->folder, strerror(errno));
    }
    while (status == UF_OK && (entry = readdir(folder)) != NULL) {
        char path[1400];
        if (strncmp(entry->d_name, "part_", 5) == 0) {
            status = uf_study_part_read(uf_folder_path(path, sizeof path, s->folder, entry->d_name),
                                        &kind, take_row, (void *)(uintptr_t)taking, err);
        }
    }
    (void)closedir(folder);
    return status;
}

enum uf_status uf_study_gather(struct uf_study_results *out, const struct uf_study *s,
                               struct uf_error *err)
{
    const struct taking taking = {out, s};
    *out = (struct uf_study_results){
        .status = calloc(s->cases + 1, 1),
        .values = malloc((s->cases * s->n_columns + 1) * sizeof *out->values),
        .messages = calloc(s->cases + 1, sizeof *out->messages)};
    enum uf_status status = UF_OK;
    if (out->status == NULL || out->values == NULL || out->messages == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for %zu cases", s->cases);
    }
    for (size_t i = 0; status == UF_OK && i < s->cases * s->n_columns; i++) {
        out->values[i] = NAN;
    }
    if (status == UF_OK) {
        status = read_parts(&taking, err);
    }
    for (size_t i = 0; status == UF_OK && i < s->cases; i++) {
        out->counts[(size_t)out->status[i]]++;
    }
    return status;
}

void uf_study_gather_free(struct uf_study_results *r, const struct uf_study *s)
{
    for (size_t i = 0; r->messages != NULL && i < s->cases; i++) {
        free(r->messages[i]);
    }
    free(r->status);
    free(r->values);
    free(r->messages);
}

enum { STATION, VARIANT, MEMBER, OPTION, WINTER, FAILURE, DIMS };

/* The file in the making: its variables, and what they point to. */
struct making {
    struct uf_study_file_dim dims[DIMS];
    struct uf_study_file_variable *variables;
    size_t n, n_texts, n_numbers;
    char **texts;     /* owned, one by one */
    double **numbers; /* owned, one by one */
    bool failed;      /* no memory */
};

static double *new_numbers(struct making *m, size_t n)
{
    double *numbers = calloc(n + 1, sizeof *numbers);
    if (numbers == NULL) {
        m->failed = true;
        return NULL;
    }
    m->numbers[m->n_numbers++] = numbers;
    return numbers;
}

static const char *new_text(struct making *m, const char *text)
{
    char *copy = strdup(text);
    m->failed = m->failed || copy == NULL;
    m->texts[m->n_texts++] = copy;
    return copy != NULL ? copy : "";
}

static void add(struct making *m, struct uf_study_file_variable variable)
{
    m->variables[m->n++] = variable;
}

static void add_texts(struct making *m, const char *name, size_t dim, const char **texts,
                      const char *long_name)
{
    add(m, (struct uf_study_file_variable){.name = name,
                                           .kind = UF_STUDY_FILE_TEXT,
                                           .rank = 1,
                                           .dims = {dim},
                                           .data = texts,
                                           .long_name = long_name});
}

/* Room for the pointers to n texts. */
static const char **text_list(struct making *m, size_t n)
{
    char **list = calloc(n + 1, sizeof *list);
    m->failed = m->failed || list == NULL;
    m->texts[m->n_texts++] = (char *)list;
    return (const char **)list;
}

static void add_stations(struct making *m, const struct uf_study *s)
{
    double *place[2] = {new_numbers(m, s->stations), new_numbers(m, s->stations)};
    const char **names = text_list(m, s->stations);
    char folder[UF_CLIMATE_PATH_SIZE];
    uf_site_weather_folder(folder, sizeof folder, s->base);
    for (size_t i = 0; i < s->stations && !m->failed; i++) {
        const bool own = s->plan->n_stations == 0;
        struct uf_weather *weather = NULL;
        const char *file = own ? s->base->climate_file : s->plan->stations[i].file;
        const char *column = own ? s->base->climate_column : s->plan->stations[i].column;
        char text[400];
        const bool known =
            file[0] != '\0' && uf_climate_read(&weather, file, column, folder, NULL) == UF_OK;
        (void)snprintf(text, sizeof text, "%s", known ? weather->station : file);
        names[i] = new_text(m, text);
        place[0][i] = known ? weather->latitude_deg : (double)NAN;
        place[1][i] = known ? weather->longitude_deg : (double)NAN;
        uf_weather_free(weather);
    }
    if (!m->failed) {
        add_texts(m, "station", STATION, names, "weather of");
        add(m, (struct uf_study_file_variable){.name = "latitude",
                                               .rank = 1,
                                               .dims = {STATION},
                                               .data = place[0],
                                               .units = "degrees_north",
                                               .standard_name = "latitude"});
        add(m, (struct uf_study_file_variable){.name = "longitude",
                                               .rank = 1,
                                               .dims = {STATION},
                                               .data = place[1],
                                               .units = "degrees_east",
                                               .standard_name = "longitude"});
    }
}

/* What each place along the other dimensions stands for. */
static void add_labels(struct making *m, const struct uf_study *s)
{
    char text[UF_DRAW_MOST_LAWS * 200];
    const char **variants = text_list(m, s->variants), **options = text_list(m, s->options),
               **winters = text_list(m, s->winters);
    for (size_t i = 0; !m->failed && i < s->variants; i++) {
        variants[i] = new_text(m, uf_study_site_variant(text, sizeof text, s, i));
    }
    for (size_t i = 0; !m->failed && i < s->options; i++) {
        options[i] = new_text(m, uf_study_site_option(text, sizeof text, s, i, UF_UNITS_SI));
    }
    for (size_t i = 0; !m->failed && i < s->winters; i++) {
        winters[i] = new_text(m, s->winter_names[i]);
    }
    if (!m->failed) {
        add_texts(m, "variant", VARIANT, variants, "values of the keys that are varied");
        add_texts(m, "option", OPTION, options, "what choices offer");
        add_texts(m, "winter", WINTER, winters, "winter run");
    }
}

/* The numbers drawn, one variable a key, and those of the options. */
static void add_numbers(struct making *m, const struct uf_study *s)
{
    static const struct {
        const char *name;
        size_t offset;
    } sizes[] = {{"option_cover", offsetof(struct uf_choice, cover_m)},
                 {"option_thickness", offsetof(struct uf_choice, thickness_m)},
                 {"option_beyond_tank", offsetof(struct uf_choice, beyond_m)}};
    for (size_t k = 0; s->choices != NULL && k < sizeof sizes / sizeof sizes[0]; k++) {
        double *values = new_numbers(m, s->options);
        for (size_t i = 0; values != NULL && i < s->options; i++) {
            memcpy(&values[i], (const char *)&s->choices->rows[i] + sizes[k].offset,
                   sizeof values[i]);
        }
        add(m,
            (struct uf_study_file_variable){
                .name = sizes[k].name, .rank = 1, .dims = {OPTION}, .data = values, .units = "m"});
    }
    for (size_t i = 0; i < s->plan->n_drawn; i++) {
        char word[140], name[160];
        double *values = new_numbers(m, s->members);
        for (size_t k = 0; values != NULL && k < s->members; k++) {
            values[k] = s->draws[k * s->plan->n_drawn + i];
        }
        (void)snprintf(name, sizeof name, "draw_%s",
                       uf_facts_word(word, sizeof word, s->plan->drawn[i].key, 0));
        for (char *c = name; *c != '\0'; c++) {
            *c = *c == '[' || *c == ']' ? '_' : *c;
        }
        add(m, (struct uf_study_file_variable){.name = new_text(m, name),
                                               .rank = 1,
                                               .dims = {MEMBER},
                                               .data = values,
                                               .units = s->plan->drawn[i].unit,
                                               .long_name = s->plan->drawn[i].key});
    }
}

static void add_failures(struct making *m, const struct uf_study *s,
                         const struct uf_study_results *r)
{
    size_t n = 0;
    for (size_t i = 0; i < s->cases; i++) {
        n += r->messages[i] != NULL;
    }
    double *ids = new_numbers(m, n);
    const char **texts = text_list(m, n);
    m->dims[FAILURE] = (struct uf_study_file_dim){"failure", n};
    n = 0;
    for (size_t i = 0; i < s->cases && !m->failed; i++) {
        if (r->messages[i] != NULL) {
            ids[n] = (double)i;
            texts[n++] = r->messages[i];
        }
    }
    if (n > 0 && !m->failed) {
        add(m, (struct uf_study_file_variable){.name = "failure_case",
                                               .rank = 1,
                                               .dims = {FAILURE},
                                               .data = ids,
                                               .units = "1",
                                               .long_name = "number of a case without an answer"});
        add_texts(m, "failure_message", FAILURE, texts, "why it has none");
    }
}

static void add_cases(struct making *m, const struct uf_study *s, const struct uf_study_results *r)
{
    static const char *words[UF_STUDY_STATUSES + 1];
    for (size_t i = 0; i < UF_STUDY_STATUSES; i++) {
        words[i] = uf_study_status_words[i];
    }
    const struct uf_study_file_variable every = {.rank = 5,
                                                 .dims = {STATION, VARIANT, MEMBER, OPTION, WINTER},
                                                 .coordinates = "latitude longitude"};
    struct uf_study_file_variable status = every;
    status.name = "status";
    status.kind = UF_STUDY_FILE_BYTE;
    status.data = r->status;
    status.flags = words;
    status.long_name = "what became of the case";
    status.standard_name = "status_flag";
    add(m, status);
    for (size_t i = 0; i < s->n_columns; i++) {
        struct uf_study_file_variable v = every;
        v.name = s->columns[i].name;
        v.units = s->columns[i].units;
        v.long_name = s->columns[i].long_name;
        v.data = r->values + i * s->cases;
        add(m, v);
    }
}

static void free_making(struct making *m)
{
    for (size_t i = 0; i < m->n_texts; i++) {
        free(m->texts[i]);
    }
    for (size_t i = 0; i < m->n_numbers; i++) {
        free(m->numbers[i]);
    }
    free(m->texts);
    free(m->numbers);
    free(m->variables);
}

enum uf_status uf_study_gather_write(const struct uf_study *s, const struct uf_study_results *r,
                                     struct uf_error *err)
{
    const size_t most = s->n_columns + s->plan->n_drawn + 40;
    char path[1100];
    struct making m = {.dims = {{"station", s->stations},
                                {"variant", s->variants},
                                {"member", s->members},
                                {"option", s->options},
                                {"winter", s->winters}},
                       .variables = calloc(most, sizeof *m.variables),
                       .texts = calloc(most + s->stations + s->variants + s->options + s->winters,
                                       sizeof *m.texts),
                       .numbers = calloc(most, sizeof *m.numbers)};
    m.failed = m.variables == NULL || m.texts == NULL || m.numbers == NULL;
    if (!m.failed) {
        add_stations(&m, s);
        add_labels(&m, s);
        add_numbers(&m, s);
        add_failures(&m, s, r);
        add_cases(&m, s, r);
    }
    const struct uf_study_file_note notes[] = {{"title", "a study of many cases"},
                                               {"version", "underfrost " UF_VERSION},
                                               {"plan", s->plan->text},
                                               {"site_file", s->base->text},
                                               {"manifest", s->manifest}};
    const struct uf_study_file file = {m.dims,      m.dims[FAILURE].size > 0 ? DIMS : DIMS - 1,
                                       m.variables, m.n,
                                       notes,       sizeof notes / sizeof notes[0]};
    const enum uf_status status =
        m.failed ? uf_fail(err, UF_E_MEMORY, "out of memory for a study")
                 : uf_study_file_write(uf_folder_path(path, sizeof path, s->folder, "study.nc"),
                                       &file, err);
    free_making(&m);
    return status;
}
