#include "site_run.h"

#include "cli/tell/faults.h"
#include "command.h"
#include "io/signals.h"
#include "site_open.h"

#include <string.h>

enum uf_status uf_site_run_winter(struct uf_site_weather **weather, struct uf_forcing **forcing,
                                  const struct uf_site *site, const struct uf_winter_choice *winter,
                                  struct uf_error *err)
{
    *forcing = NULL;
    enum uf_status status = uf_site_weather_create(weather, site, winter, err);
    if (status == UF_OK) {
        status = uf_forcing_create(forcing, &site->design.surface, &(*weather)->weather, err);
    }
    if (status != UF_OK) {
        uf_site_weather_free(*weather);
        *weather = NULL;
    }
    return status;
}

/* The site's own winter, or the mean year where every winter is to be run. */
static enum uf_status open_weather(struct uf_site_run *out, const struct uf_arguments *args,
                                   struct uf_error *err)
{
    static const struct uf_winter_choice mean = {.kind = UF_WINTER_MEAN};
    out->every = out->site->winter_given && out->site->winter.kind == UF_WINTER_EVERY;
    if (out->every && !args->command->every) {
        return uf_fail_key(
            err, UF_E_INPUT, "climate.winter",
            UF_SAID("every is for simulate and compare; {} needs one winter to design for",
                    UF_WORD(args->command->name)),
            UF_SAID(
                "--set 'climate.winter=1 in 30'{}",
                UF_WORD(
                    (args->command->options & UF_OPTION_SEASONS) != 0
                        ? " --seasons every designs for it, then runs the recommended option through every one"
                        : "")));
    }
    if (out->every &&
        (out->site->source != UF_SOURCE_FILE || out->site->design.initial.date != UF_NO_DAY)) {
        return uf_fail_key(err, UF_E_INPUT, "climate.winter",
                           UF_PLAIN("every needs a climate.file, and no initial.date"),
                           UF_PLAIN("each winter starts from the one before"));
    }
    return uf_site_run_winter(&out->weather, &out->forcing, out->site, out->every ? &mean : NULL,
                              err);
}

enum uf_status uf_site_run_start(struct uf_site_run *run, const struct uf_arguments *args,
                                 struct uf_error *err)
{
    run->options = uf_run_defaults();
    run->options.season.stop.asked = uf_signals_asked;
    if (args->integrator != NULL && strcmp(args->integrator, "reference") == 0) {
        run->options.season.integrator = UF_BDF;
    }
    return open_weather(run, args, err);
}

int uf_site_run_open(struct uf_site_run *out, const struct uf_arguments *args)
{
    struct uf_error err = {0};
    memset(out, 0, sizeof *out);
    const int code = uf_site_open(&out->site, NULL, args);
    if (code != UF_EXIT_DONE) {
        return code;
    }
    if (uf_site_run_start(out, args, &err) != UF_OK) {
        uf_site_run_close(out);
        return uf_faults_error(args, args->operands[0], &err);
    }
    return UF_EXIT_DONE;
}

void uf_site_run_close(struct uf_site_run *run)
{
    uf_forcing_free(run->forcing);
    uf_site_weather_free(run->weather);
    uf_site_free(run->site);
    memset(run, 0, sizeof *run);
}
