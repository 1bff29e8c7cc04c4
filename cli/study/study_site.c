#include "io/site/site_leaves.h"
#include "solver/choice/option.h"
#include "study.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The site of a case: the site file with the plan's values put over it, each like a --set. */

/* Index of the value that an axis has in a variant: the last axis runs fastest. */
static size_t value_of(const struct uf_study *s, size_t variant, size_t axis)
{
    for (size_t i = s->plan->n_axes; --i > axis;) {
        variant /= s->plan->axes[i].n;
    }
    return variant % s->plan->axes[axis].n;
}

char *uf_study_site_variant(char *text, size_t size, const struct uf_study *s, size_t variant)
{
    size_t used = 0;
    text[0] = '\0';
    for (size_t a = 0; a < s->plan->n_axes && used < size; a++) {
        const struct uf_study_axis *axis = &s->plan->axes[a];
        used += (size_t)snprintf(text + used, size - used, "%s%s=%s", a > 0 ? "; " : "", axis->key,
                                 axis->values[value_of(s, variant, a)]);
    }
    return text;
}

static void one_draw(char *text, size_t size, const struct uf_study *s, size_t member, size_t i)
{
    const struct uf_study_drawn *drawn = &s->plan->drawn[i];
    (void)snprintf(text, size, "%s=%.17g%s%s", drawn->key, s->draws[member * s->plan->n_drawn + i],
                   drawn->unit[0] != '\0' ? " " : "", drawn->unit);
}

char *uf_study_site_member(char *text, size_t size, const struct uf_study *s, size_t member)
{
    size_t used = 0;
    text[0] = '\0';
    for (size_t i = 0; i < s->plan->n_drawn && used < size; i++) {
        char one[300];
        one_draw(one, sizeof one, s, member, i);
        used += (size_t)snprintf(text + used, size - used, "%s%s", i > 0 ? "; " : "", one);
    }
    return text;
}

char *uf_study_site_option(char *text, size_t size, const struct uf_study *s, size_t option,
                           enum uf_units units)
{
    if (s->choices == NULL) {
        (void)snprintf(text, size, "bare ground");
        return text;
    }
    const struct uf_choice *row = &s->choices->rows[option];
    const size_t used =
        (size_t)snprintf(text, size, "%s cover, ", UF_TEXT(LENGTH, units, row->cover_m));
    if (!(row->thickness_m > 0.0)) {
        (void)snprintf(text + used, size - used, "no board");
    } else {
        (void)snprintf(text + used, size - used, "%s board, %s beyond",
                       UF_TEXT(THICKNESS, units, row->thickness_m),
                       UF_TEXT(LENGTH, units, row->beyond_m));
    }
    return text;
}

void uf_study_site_place(struct uf_fault *fault, const struct uf_study_plan *plan, bool of_variant)
{
    static const char *const blocks[] = {"vary.", "draws.keys.", "set.", ""};
    if (fault->line > 0) {
        (void)snprintf(fault->file, sizeof fault->file, "%.500s", plan->site);
        return;
    }
    for (size_t i = of_variant ? 0 : 2; i < sizeof blocks / sizeof blocks[0] && fault->line == 0;
         i++) {
        char key[sizeof fault->key + 16];
        (void)snprintf(key, sizeof key, "%s%s", blocks[i], fault->key);
        fault->line = uf_site_leaves_line(plan->text, key, NULL);
    }
    (void)snprintf(fault->file, sizeof fault->file, "%.500s", plan->path);
}

enum uf_status uf_study_site(struct uf_site **out, const struct uf_study *s,
                             const struct uf_study_case *of, struct uf_error *err)
{
    const struct uf_study_plan *p = s->plan;
    const size_t most = p->n_sets + p->n_axes + p->n_drawn + 1;
    char(*texts)[512] = calloc(most, sizeof *texts);
    struct uf_site_override *rows = calloc(most, sizeof *rows);
    struct uf_site_faults faults = {0};
    enum uf_status status = UF_OK;
    size_t n = 0;
    *out = NULL;
    if (texts == NULL || rows == NULL) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for a case");
    } else {
        for (size_t i = 0; i < p->n_sets; i++) {
            (void)snprintf(texts[n++], sizeof *texts, "%s", p->sets[i]);
        }
        for (size_t a = 0; a < p->n_axes; a++) {
            (void)snprintf(texts[n++], sizeof *texts, "%s=%s", p->axes[a].key,
                           p->axes[a].values[value_of(s, of->variant, a)]);
        }
        for (size_t i = 0; i < p->n_drawn && of->member != UF_STUDY_UNDRAWN; i++) {
            one_draw(texts[n++], sizeof *texts, s, of->member, i);
        }
        for (size_t i = 0; i < n; i++) {
            rows[i].text = texts[i];
        }
        status = uf_site_read(out, p->site, &(struct uf_site_overrides){rows, n}, &faults, err);
        if (status == UF_E_INPUT && faults.n > 0) {
            status = uf_fail(err, UF_E_INPUT, "%.100s: %.150s: %.130s", faults.rows[0].key,
                             faults.rows[0].what.text, faults.rows[0].allowed.text);
            uf_study_site_place(&faults.rows[0], p, true);
            if (err != NULL) {
                err->fault = faults.rows[0];
            }
        }
    }
    if (status == UF_OK && !p->options) {
        (*out)->design.choices = (struct uf_choices){.n_cover = 0};
    }
    if (status == UF_OK && p->n_stations > 0) { /* its column goes too, which the other had */
        const struct uf_study_station *station = &p->stations[of->station];
        (*out)->source = UF_SOURCE_FILE;
        (void)snprintf((*out)->climate_file, sizeof(*out)->climate_file, "%s", station->file);
        (void)snprintf((*out)->climate_column, sizeof(*out)->climate_column, "%s", station->column);
    }
    uf_site_faults_clear(&faults);
    free(texts);
    free(rows);
    return status;
}

/* NULL ends the list. */
static bool begins_with_one(const char *key, const char *const *starts)
{
    bool one = false;
    for (size_t k = 0; starts[k] != NULL; k++) {
        one = one || strncmp(key, starts[k], strlen(starts[k])) == 0;
    }
    return one;
}

bool uf_study_site_varies_weather(const struct uf_study *s)
{
    const struct uf_study_plan *p = s->plan;
    static const char *const keys[] = {"climate.", "initial.", "site.", "surface", NULL};
    bool varies = false;
    for (size_t i = 0; i < p->n_axes + p->n_drawn; i++) {
        varies = varies || begins_with_one(
                               i < p->n_axes ? p->axes[i].key : p->drawn[i - p->n_axes].key, keys);
    }
    return varies;
}

bool uf_study_site_keeps_grid(const struct uf_study *s)
{
    static const char *const keys[] = {"ground[", "surface.", "climate.",
                                       "costs.",  "limits.",  NULL};
    static const char face[] = "].to";
    bool keeps = true;
    for (size_t i = 0; i < s->plan->n_drawn; i++) {
        const char *key = s->plan->drawn[i].key;
        keeps = keeps && begins_with_one(key, keys) && strstr(key, face) == NULL;
    }
    return keeps;
}
