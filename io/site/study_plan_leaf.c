#include "study_plan_private.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What each key of a plan means. */

static enum uf_status no_memory(struct uf_error *err)
{
    return uf_fail(err, UF_E_MEMORY, "out of memory for a plan");
}

/* The values of a list, or the one that stands alone. */
static enum uf_status split(char (**out)[UF_STUDY_NAME], size_t *n, const char *key,
                            const struct uf_site_leaf *leaf, struct uf_error *err)
{
    size_t at = 0;
    *out = calloc(leaf->n_items + 1, sizeof **out);
    *n = 0;
    if (*out == NULL) {
        return no_memory(err);
    }
    for (const char *item; (item = uf_site_leaves_item(leaf, &at)) != NULL; (*n)++) {
        if (snprintf((*out)[*n], sizeof **out, "%s", item) >= (int)sizeof **out) {
            return uf_study_plan_wrong(err, key, "a value is too long", "a shorter one");
        }
    }
    return *n > 0 ? UF_OK : uf_study_plan_wrong(err, key, "has no value", "a list of values");
}

/* "12.5 kg/m3" into its number and its unit. */
static bool read_number(double *number, char *unit, size_t size, const char *text)
{
    char *end = NULL;
    errno = 0;
    *number = strtod(text, &end);
    if (end == text || errno != 0 || !isfinite(*number)) {
        return false;
    }
    end += strspn(end, " ");
    return snprintf(unit, size, "%s", end) < (int)size;
}

enum uf_status uf_study_plan_site(struct uf_study_plan *plan, const char *key,
                                  const struct uf_site_leaf *leaf, struct uf_error *err)
{
    const char *slash = strrchr(plan->path, '/');
    const int folder = slash != NULL && leaf->value[0] != '/' ? (int)(slash - plan->path + 1) : 0;
    (void)key;
    return snprintf(plan->site, sizeof plan->site, "%.*s%s", folder, plan->path, leaf->value) <
                   (int)sizeof plan->site
               ? UF_OK
               : uf_study_plan_wrong(err, "site", "the path is too long", "a shorter one");
}

struct uf_study_station *uf_study_plan_new_station(struct uf_study_plan *plan)
{
    struct uf_study_station *larger =
        realloc(plan->stations, (plan->n_stations + 1) * sizeof *larger);
    if (larger == NULL) {
        return NULL;
    }
    plan->stations = larger;
    plan->stations[plan->n_stations] = (struct uf_study_station){.file = ""};
    return &plan->stations[plan->n_stations++];
}

enum uf_status uf_study_plan_station(struct uf_study_plan *plan, const char *key,
                                     const struct uf_site_leaf *leaf, struct uf_error *err)
{
    const size_t at = strtoul(key, NULL, 10);
    const char *name = strchr(key, '.');
    while (plan->n_stations <= at) {
        if (uf_study_plan_new_station(plan) == NULL) {
            return no_memory(err);
        }
    }
    struct uf_study_station *s = &plan->stations[at];
    int room = 0;
    if (name != NULL && strcmp(name, ".file") == 0) {
        room = (int)sizeof s->file - snprintf(s->file, sizeof s->file, "%s", leaf->value);
    } else if (name != NULL && strcmp(name, ".folder") == 0) {
        room = (int)sizeof s->file - snprintf(s->file, sizeof s->file, "folder:%s", leaf->value);
    } else if (name != NULL && strcmp(name, ".column") == 0) {
        room = (int)sizeof s->column - snprintf(s->column, sizeof s->column, "%s", leaf->value);
    }
    return room > 0 ? UF_OK
                    : uf_study_plan_wrong(err, "stations", "a row is not understood",
                                          "{file: NAME, column: NAME} or {folder: NAME}");
}

enum uf_status uf_study_plan_winters(struct uf_study_plan *plan, const char *key,
                                     const struct uf_site_leaf *leaf, struct uf_error *err)
{
    plan->every = strcmp(leaf->value, "every") == 0;
    return plan->every ? UF_OK : split(&plan->winters, &plan->n_winters, key, leaf, err);
}

enum uf_status uf_study_plan_set(struct uf_study_plan *plan, const char *key,
                                 const struct uf_site_leaf *leaf, struct uf_error *err)
{
    char(*larger)[2 * UF_STUDY_NAME] = realloc(plan->sets, (plan->n_sets + 1) * sizeof *larger);
    if (larger == NULL) {
        return no_memory(err);
    }
    plan->sets = larger;
    return snprintf(plan->sets[plan->n_sets++], sizeof *larger, "%s=%s", key, leaf->value) <
                   (int)sizeof *larger
               ? UF_OK
               : uf_study_plan_wrong(err, key, "the value is too long", "a shorter one");
}

static struct uf_study_axis *axis_of(struct uf_study_plan *plan, const char *key, size_t length)
{
    for (size_t i = 0; i < plan->n_axes; i++) {
        if (strlen(plan->axes[i].key) == length && strncmp(plan->axes[i].key, key, length) == 0) {
            return &plan->axes[i];
        }
    }
    struct uf_study_axis *larger = realloc(plan->axes, (plan->n_axes + 1) * sizeof *larger);
    if (larger == NULL || length >= sizeof larger->key) {
        return NULL;
    }
    plan->axes = larger;
    struct uf_study_axis *axis = &plan->axes[plan->n_axes++];
    *axis = (struct uf_study_axis){.n = 0};
    memcpy(axis->key, key, length);
    return axis;
}

static enum uf_status both(const struct uf_study_axis *axis, struct uf_error *err)
{
    return uf_study_plan_wrong(err, axis->key, "has both a list and a range", "one of them");
}

/* from, to and steps come one by one: kept as three values until all are there. */
static enum uf_status range_part(struct uf_study_axis *axis, size_t part, const char *value,
                                 struct uf_error *err)
{
    double from = NAN, to = NAN, count = NAN;
    char unit[2][64], none[64];
    if (axis->n > 0) {
        return both(axis, err);
    }
    if (axis->values == NULL && (axis->values = calloc(3, sizeof *axis->values)) == NULL) {
        return no_memory(err);
    }
    (void)snprintf(axis->values[part], sizeof *axis->values, "%s", value);
    if (axis->values[0][0] == '\0' || axis->values[1][0] == '\0' || axis->values[2][0] == '\0') {
        return UF_OK;
    }
    if (!read_number(&from, unit[0], sizeof unit[0], axis->values[0]) ||
        !read_number(&to, unit[1], sizeof unit[1], axis->values[1]) ||
        strcmp(unit[0], unit[1]) != 0 || !read_number(&count, none, sizeof none, axis->values[2]) ||
        none[0] != '\0' || !(count >= 2.0 && count <= 10000.0) || count != floor(count)) {
        return uf_study_plan_wrong(err, axis->key, "the range is not understood",
                                   "{from: 10 percent, to: 30 percent, steps: 5}, one unit");
    }
    free(axis->values);
    axis->n = (size_t)count;
    axis->values = calloc(axis->n, sizeof *axis->values);
    for (size_t i = 0; axis->values != NULL && i < axis->n; i++) {
        (void)snprintf(axis->values[i], sizeof *axis->values, "%.12g %s",
                       from + (to - from) * (double)i / (count - 1.0), unit[0]);
    }
    return axis->values != NULL ? UF_OK : no_memory(err);
}

/* The row of uf_draw_kinds that a key ends in, or UF_DRAW_KINDS. */
static size_t draw_kind_of(const char *key)
{
    const char *dot = strrchr(key, '.');
    size_t at = dot != NULL ? 0 : UF_DRAW_KINDS;
    while (at < UF_DRAW_KINDS && strcmp(dot + 1, uf_draw_kinds[at].name) != 0) {
        at++;
    }
    return at;
}

enum uf_status uf_study_plan_vary(struct uf_study_plan *plan, const char *key,
                                  const struct uf_site_leaf *leaf, struct uf_error *err)
{
    static const char *const parts[] = {".from", ".to", ".steps"};
    const size_t length = strlen(key);
    for (size_t i = 0; i < 3; i++) {
        const size_t n = strlen(parts[i]);
        if (length > n && strcmp(key + length - n, parts[i]) == 0) {
            struct uf_study_axis *axis = axis_of(plan, key, length - n);
            return axis != NULL ? range_part(axis, i, leaf->value, err) : no_memory(err);
        }
    }
    if (draw_kind_of(key) < UF_DRAW_KINDS) {
        return uf_study_plan_wrong(err, key, "a distribution is drawn from, not gone through",
                                   "a list or {from, to, steps}; or the same under draws.keys, "
                                   "such as draws: {members: 100, keys: {burial.cover: {uniform: "
                                   "[1 m, 2 m]}}}");
    }
    struct uf_study_axis *axis = axis_of(plan, key, length);
    if (axis != NULL && axis->values != NULL) {
        return both(axis, err);
    }
    return axis != NULL ? split(&axis->values, &axis->n, key, leaf, err) : no_memory(err);
}

enum uf_status uf_study_plan_members(struct uf_study_plan *plan, const char *key,
                                     const struct uf_site_leaf *leaf, struct uf_error *err)
{
    double count = NAN;
    char unit[8];
    if (!read_number(&count, unit, sizeof unit, leaf->value) || unit[0] != '\0' ||
        !(count >= 1.0 && count <= 1e6) || count != floor(count)) {
        return uf_study_plan_wrong(err, key, "is no number of members", "1 to 1000000");
    }
    plan->members = (size_t)count;
    return UF_OK;
}

enum uf_status uf_study_plan_seed(struct uf_study_plan *plan, const char *key,
                                  const struct uf_site_leaf *leaf, struct uf_error *err)
{
    char *end = NULL;
    errno = 0;
    plan->seed = strtoull(leaf->value, &end, 10);
    return end != leaf->value && *end == '\0' && errno == 0 && leaf->value[0] != '-'
               ? UF_OK
               : uf_study_plan_wrong(err, key, "is no seed", "a whole number, zero or more");
}

static size_t drawn_at(const struct uf_study_plan *plan, const char *key)
{
    size_t i = 0;
    while (i < plan->n_drawn && strcmp(plan->drawn[i].key, key) != 0) {
        i++;
    }
    return i;
}

/* "ground[0].moisture.normal" and "[18 percent, 4 percent]". */
enum uf_status uf_study_plan_drawn(struct uf_study_plan *plan, const char *key,
                                   const struct uf_site_leaf *leaf, struct uf_error *err)
{
    const size_t at = draw_kind_of(key);
    const char *kind = strrchr(key, '.');
    double number[3] = {0.0, 0.0, 0.0};
    size_t n = 0, next = 0;
    char unit[32] = "";
    if (at == UF_DRAW_KINDS) {
        return uf_study_plan_wrong(err, key, "no such distribution",
                                   "uniform, normal, lognormal or triangular, such as {normal: "
                                   "[1600 kg/m3, 80 kg/m3]}");
    }
    if (kind == key) {
        return uf_study_plan_wrong(err, key, "the key that is drawn has no name",
                                   "a path of the table of keys, such as ground[0].moisture");
    }
    bool good = plan->n_drawn < UF_DRAW_MOST_LAWS;
    struct uf_study_drawn *drawn = &plan->drawn[good ? plan->n_drawn : 0];
    for (const char *one; good && n < 3 && (one = uf_site_leaves_item(leaf, &next)) != NULL; n++) {
        good = read_number(&number[n], unit, sizeof unit, one) &&
               (n == 0 || strcmp(unit, drawn->unit) == 0);
        memcpy(drawn->unit, unit, sizeof unit);
    }
    if (!good || n != uf_draw_kinds[at].n) {
        return uf_study_plan_wrong(err, key, "the numbers are not understood",
                                   uf_draw_kinds[at].parameters);
    }
    (void)snprintf(drawn->key, sizeof drawn->key, "%.*s", (int)(kind - key), key);
    if (drawn_at(plan, drawn->key) < plan->n_drawn) {
        return uf_study_plan_wrong(err, key, "is drawn twice", "one distribution for a key");
    }
    drawn->law = (struct uf_draw_law){(enum uf_draw_kind)at, number[0], number[1], number[2]};
    const char *fault = uf_draw_fault(&drawn->law);
    plan->n_drawn++;
    return fault == NULL ? UF_OK
                         : uf_study_plan_wrong(err, key, fault, uf_draw_kinds[at].parameters);
}

enum uf_status uf_study_plan_correlations(struct uf_study_plan *plan, const char *key,
                                          const struct uf_site_leaf *leaf, struct uf_error *err)
{
    char unit[8];
    const size_t n = plan->n_drawn;
    size_t next = 0;
    for (size_t i = 0; i < n; i++) {
        plan->correlation[i * n + i] = 1.0;
    }
    for (const char *a; (a = uf_site_leaves_item(leaf, &next)) != NULL;) { /* rows of three */
        const char *b = uf_site_leaves_item(leaf, &next), *r = uf_site_leaves_item(leaf, &next);
        double share = NAN;
        if (b == NULL || r == NULL || !read_number(&share, unit, sizeof unit, r) ||
            !(share > -1.0 && share < 1.0) || drawn_at(plan, a) == n || drawn_at(plan, b) == n ||
            drawn_at(plan, a) == drawn_at(plan, b)) {
            return uf_study_plan_wrong(err, key, "a row is not understood",
                                       "[drawn key, other drawn key, number between -1 and 1]");
        }
        const size_t i = drawn_at(plan, a), k = drawn_at(plan, b);
        plan->correlation[i * n + k] = plan->correlation[k * n + i] = share;
        plan->correlated = true;
    }
    return UF_OK;
}

enum uf_status uf_study_plan_options(struct uf_study_plan *plan, const char *key,
                                     const struct uf_site_leaf *leaf, struct uf_error *err)
{
    plan->options = strcmp(leaf->value, "yes") == 0 || strcmp(leaf->value, "true") == 0;
    return plan->options || strcmp(leaf->value, "no") == 0 || strcmp(leaf->value, "false") == 0
               ? UF_OK
               : uf_study_plan_wrong(err, key, "is neither yes nor no", "yes or no");
}

enum uf_status uf_study_plan_reliability(struct uf_study_plan *plan, const char *key,
                                         const struct uf_site_leaf *leaf, struct uf_error *err)
{
    char unit[32];
    return strncmp(leaf->value, "1 in ", 5) == 0 &&
                   read_number(&plan->reliability_years, unit, sizeof unit, leaf->value + 5) &&
                   strncmp(unit, "year", 4) == 0 && plan->reliability_years > 1.0
               ? UF_OK
               : uf_study_plan_wrong(err, key, "is not understood", "1 in 100 years");
}

enum uf_status uf_study_plan_life(struct uf_study_plan *plan, const char *key,
                                  const struct uf_site_leaf *leaf, struct uf_error *err)
{
    char unit[32];
    return read_number(&plan->life_years, unit, sizeof unit, leaf->value) &&
                   strncmp(unit, "year", 4) == 0 && plan->life_years > 0.0
               ? UF_OK
               : uf_study_plan_wrong(err, key, "is not understood", "50 years");
}
