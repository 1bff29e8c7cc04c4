#include "cli/folder.h"
#include "cli/tell/faults.h"
#include "io/site/site_leaves.h"
#include "io/text/show.h"
#include "io/weather/climate.h"
#include "study.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct uf_study_case uf_study_case_of(const struct uf_study *s, size_t id)
{
    struct uf_study_case of;
    of.winter = id % s->winters;
    id /= s->winters;
    of.option = id % s->options;
    id /= s->options;
    of.member = id % s->members;
    id /= s->members;
    of.variant = id % s->variants;
    of.station = id / s->variants;
    return of;
}

static enum uf_status draw(struct uf_study *s, struct uf_error *err)
{
    struct uf_draw_law laws[UF_DRAW_MOST_LAWS];
    const struct uf_study_plan *p = s->plan;
    for (size_t i = 0; i < p->n_drawn; i++) {
        laws[i] = p->drawn[i].law;
    }
    const struct uf_draw_input input = {laws, p->n_drawn, p->members, p->seed,
                                        p->correlated ? p->correlation : NULL};
    s->draws = calloc(p->members * p->n_drawn + 1, sizeof *s->draws);
    if (s->draws == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for %zu members", p->members);
    }
    return p->n_drawn > 0 ? uf_draw(s->draws, &input, err) : UF_OK;
}

static enum uf_status add_winter(struct uf_study *s, const char *name, struct uf_error *err)
{
    for (size_t i = 0; i < s->winters; i++) {
        if (strcmp(s->winter_names[i], name) == 0) {
            return UF_OK;
        }
    }
    char(*larger)[UF_STUDY_NAME] = realloc(s->winter_names, (s->winters + 1) * sizeof *larger);
    if (larger == NULL) {
        return uf_fail(err, UF_E_MEMORY, "out of memory for the winters");
    }
    s->winter_names = larger;
    (void)snprintf(s->winter_names[s->winters++], sizeof *larger, "%s", name);
    return UF_OK;
}

void uf_study_open_blame(struct uf_error *err, const struct uf_study_plan *plan, size_t station)
{
    const char *file = station < plan->n_stations ? plan->stations[station].file : NULL;
    for (size_t i = 0; file != NULL && i < plan->n_stations; i++) { /* folders move the rows */
        char key[48];
        (void)snprintf(key, sizeof key, "stations[%zu].file", i);
        if (uf_site_leaves_line(plan->text, key, file) > 0) {
            uf_site_leaves_blame(err, plan->path, plan->text, key, file);
            return;
        }
    }
}

/* Every usable winter of a station. */
static enum uf_status add_recorded(struct uf_study *s, size_t station, struct uf_error *err)
{
    const bool own = s->plan->n_stations == 0;
    const bool south = s->base->design.latitude_deg < 0.0;
    char folder[UF_CLIMATE_PATH_SIZE];
    struct uf_weather *weather = NULL;
    struct uf_winter_list *list = NULL;
    uf_site_weather_folder(folder, sizeof folder, s->base);
    enum uf_status status = uf_climate_read(
        &weather, own ? s->base->climate_file : s->plan->stations[station].file,
        own ? s->base->climate_column : s->plan->stations[station].column, folder, err);
    if (status != UF_OK) {
        uf_study_open_blame(err, s->plan, station);
    }
    if (status == UF_OK) {
        status = uf_winter_list_create(&list, weather, south, err);
    }
    for (size_t i = 0; status == UF_OK && i < list->n; i++) {
        char label[16];
        if (list->rows[i].usable) {
            status =
                add_winter(s, uf_winter_label(list->rows[i].year, south, label, sizeof label), err);
        }
    }
    uf_winter_list_free(list);
    uf_weather_free(weather);
    return status;
}

static int by_name(const void *a, const void *b)
{
    return strcmp(a, b);
}

static enum uf_status name_winters(struct uf_study *s, struct uf_error *err)
{
    const struct uf_study_plan *p = s->plan;
    struct uf_winter_choice choice;
    enum uf_status status = UF_OK;
    for (size_t i = 0; i < s->stations && p->every && status == UF_OK; i++) {
        status = add_recorded(s, i, err);
    }
    for (size_t i = 0; i < p->n_winters && status == UF_OK; i++) {
        status = uf_winter_parse(p->winters[i], &choice) && choice.kind != UF_WINTER_EVERY
                     ? add_winter(s, p->winters[i], err)
                     : uf_fail_key(err, UF_E_INPUT, "winters",
                                   UF_SAID("'{}' is no winter", UF_WORD(p->winters[i])),
                                   UF_PLAIN("mean, 1 in N, coldest recorded, YYYY/YY ..., or every "
                                            "alone"));
    }
    if (p->every && status == UF_OK && s->winters > 0) {
        qsort(s->winter_names, s->winters, sizeof *s->winter_names, by_name);
    } else if (s->winters == 0 && status == UF_OK) {
        status = add_winter(s, "the site's own", err);
    }
    return status;
}

static enum uf_status count(struct uf_study *s, struct uf_error *err)
{
    const struct uf_study_plan *p = s->plan;
    s->stations = p->n_stations > 0 ? p->n_stations : 1;
    s->members = p->members;
    s->variants = 1;
    for (size_t i = 0; i < p->n_axes; i++) {
        if (p->axes[i].n == 0 || strncmp(p->axes[i].key, "choices", 7) == 0) {
            return uf_fail_key(err, UF_E_INPUT, p->axes[i].key, UF_PLAIN("cannot be varied so"),
                               UF_PLAIN("a list, or from, to and steps; options are varied by the "
                                        "site file's own choices"));
        }
        s->variants *= p->axes[i].n;
    }
    enum uf_status status = name_winters(s, err);
    s->options = 1;
    if (status == UF_OK && uf_case_has_tank(&s->base->design)) {
        if (!p->options) {
            s->base->design.choices = (struct uf_choices){.n_cover = 0};
        }
        const struct uf_choice_input input = {.design = &s->base->design,
                                              .options = uf_run_defaults()};
        status = uf_choice_create(&s->choices, &input, err);
        s->options = status == UF_OK ? s->choices->n : 1;
    }
    const double cases = (double)s->stations * (double)s->variants * (double)s->members *
                         (double)s->options * (double)s->winters;
    if (status == UF_OK && !(cases <= 1e8)) {
        return uf_fail(err, UF_E_INPUT, "%.0f cases are too many: at most a hundred million",
                       cases);
    }
    s->cases = (size_t)cases;
    return status;
}

/* Every variant must be a site that can be read; a draw may fall outside, which is its own failure. */
static enum uf_status check_sites(const struct uf_study *s, const struct uf_arguments *args,
                                  struct uf_error *err)
{
    struct uf_site *site = NULL;
    size_t bad = 0;
    struct uf_error why = {0};
    for (size_t v = 0; v < s->variants && s->plan->n_drawn == 0; v++) {
        const enum uf_status status =
            uf_study_site(&site, s, &(struct uf_study_case){.variant = v}, err);
        uf_site_free(site);
        if (status != UF_OK) {
            return status;
        }
    }
    for (size_t m = 0; m < s->members && s->plan->n_drawn > 0; m++) {
        bad += uf_study_site(&site, s, &(struct uf_study_case){.member = m}, &why) != UF_OK;
        uf_site_free(site);
    }
    if (bad == s->members && s->plan->n_drawn > 0) {
        return uf_fail(err, UF_E_INPUT, "no member can be read: %s", why.text);
    }
    if (bad > 0 && !args->quiet) {
        (void)fprintf(stderr, "underfrost: %zu of %zu members cannot be read and will fail: %s\n",
                      bad, s->members, why.text);
    }
    return UF_OK;
}

/* The site file as `set` has it; its faults are told. */
static int read_base(struct uf_study *s, const struct uf_arguments *args)
{
    struct uf_site_override *sets = calloc(s->plan->n_sets + 1, sizeof *sets);
    struct uf_site_faults faults = {0};
    struct uf_error err = {0};
    int code = UF_EXIT_DONE;
    for (size_t i = 0; sets != NULL && i < s->plan->n_sets; i++) {
        sets[i].text = s->plan->sets[i];
    }
    const struct uf_site_overrides overrides = {sets, sets != NULL ? s->plan->n_sets : 0};
    const enum uf_status status = uf_site_read(&s->base, s->plan->site, &overrides, &faults, &err);
    for (size_t i = 0; i < faults.n; i++) {
        uf_study_site_place(&faults.rows[i], s->plan, false);
    }
    if (status == UF_E_INPUT && faults.n > 0) {
        code = uf_faults_site(args, s->plan->site, &faults);
    } else if (status != UF_OK) {
        code = uf_faults_error(args, s->plan->site, &err);
    }
    uf_site_faults_clear(&faults);
    free(sets);
    return code;
}

static void find_folder(struct uf_study *s, const struct uf_arguments *args)
{
    char name[900];
    (void)uf_folder_default(name, sizeof name, args->operands[1]);
    (void)snprintf(s->folder, sizeof s->folder, "%.1000s",
                   args->output != NULL ? args->output : name);
}

int uf_study_open(struct uf_study *s, const struct uf_arguments *args, bool frozen)
{
    struct uf_error err = {0};
    memset(s, 0, sizeof *s);
    enum uf_status status = uf_study_plan_read(&s->plan, args->operands[1], &err);
    if (status != UF_OK) {
        return uf_faults_error(args, args->operands[1], &err);
    }
    find_folder(s, args);
    const int code = read_base(s, args);
    if (code != UF_EXIT_DONE) {
        uf_study_close(s);
        return code;
    }
    status = count(s, &err);
    if (status == UF_OK) {
        status = draw(s, &err);
    }
    if (status == UF_OK) {
        status = uf_study_columns(s, &err);
    }
    if (status == UF_OK) {
        status = uf_study_manifest(s, &err);
    }
    if (status == UF_OK) {
        status = frozen ? uf_study_manifest_check(s, &err) : check_sites(s, args, &err);
    }
    if (status != UF_OK) {
        if (err.fault.key[0] != '\0' && err.fault.line == 0) {
            err.fault.line = uf_site_leaves_line(s->plan->text, err.fault.key, NULL);
        }
        uf_study_close(s);
        return uf_faults_error(args, args->operands[1], &err);
    }
    return UF_EXIT_DONE;
}

void uf_study_close(struct uf_study *s)
{
    uf_choice_free(s->choices);
    uf_site_free(s->base);
    uf_study_plan_free(s->plan);
    free(s->draws);
    free(s->winter_names);
    free(s->columns);
    free(s->manifest);
    memset(s, 0, sizeof *s);
}
