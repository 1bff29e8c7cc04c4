#include "verify.h"

#include "io/signals.h"
#include "verify_list.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DECLARE(topic) extern const struct uf_verify_topic uf_verify_##topic;
UF_VERIFY_LIST(DECLARE)
#undef DECLARE

#define ADDRESS(topic) &uf_verify_##topic,
const struct uf_verify_topic *const uf_verify_topics[] = {UF_VERIFY_LIST(ADDRESS) NULL};
#undef ADDRESS

static bool begins(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

void uf_verify_add(struct uf_verify *verify, const struct uf_verify_check *check,
                   const char *format, ...)
{
    struct uf_verify_check row = *check;
    va_list args;
    va_start(args, format);
    (void)vsnprintf(row.name, sizeof row.name, format, args);
    va_end(args);
    row.ok = fabs(row.got - row.expected) <= row.allowed;
    if (verify->only != NULL && !begins(row.name, verify->only)) {
        return;
    }
    if (verify->n == verify->room) {
        const size_t room = verify->room > 0 ? 2 * verify->room : 64;
        struct uf_verify_check *rows = realloc(verify->rows, room * sizeof *rows);
        if (rows == NULL) {
            verify->no_memory = true;
            return;
        }
        verify->rows = rows;
        verify->room = room;
    }
    verify->rows[verify->n++] = row;
}

/* "neumann" is wanted by "neumann", "neu" and "neumann.N1". */
bool uf_verify_wants(const struct uf_verify *verify, const struct uf_verify_topic *topic)
{
    const char *only = verify->only;
    return only == NULL || begins(topic->name, only) ||
           (begins(only, topic->name) && only[strlen(topic->name)] == '.');
}

static enum uf_status run_topic(struct uf_verify *verify, const struct uf_verify_topic *topic,
                                struct uf_error *err)
{
    enum uf_status status = topic->run != NULL ? topic->run(verify, err) : UF_OK;
    for (size_t i = 0; i < verify->n_integrators; i++) {
        for (size_t k = 0; k < topic->n && status == UF_OK; k++) {
            status = topic->each(verify, k, verify->integrators[i], err);
        }
    }
    return status;
}

enum uf_status uf_verify_run(struct uf_verify *verify, struct uf_error *err)
{
    enum uf_status status = UF_OK;
    for (size_t k = 0; uf_verify_topics[k] != NULL && status == UF_OK; k++) {
        if (uf_verify_wants(verify, uf_verify_topics[k]) &&
            !(verify->quick && uf_verify_topics[k]->slow)) {
            status = uf_signals_stopped() ? uf_fail(err, UF_E_STOPPED, "interrupted")
                                          : run_topic(verify, uf_verify_topics[k], err);
        }
    }
    if (status == UF_OK && verify->no_memory) {
        status = uf_fail(err, UF_E_MEMORY, "out of memory for the checks");
    }
    return status;
}

struct uf_thermal uf_verify_plain_soil(double k_W_mK, double c_J_m3K)
{
    return (struct uf_thermal){.k_thawed_W_mK = k_W_mK,
                               .k_frozen_W_mK = k_W_mK,
                               .c_thawed_J_m3K = c_J_m3K,
                               .c_frozen_J_m3K = c_J_m3K,
                               .freezing_from_degC = 0.0,
                               .freezing_to_degC = -1.0};
}

struct uf_thermal uf_verify_silt(void)
{
    return (struct uf_thermal){.k_thawed_W_mK = 1.6,
                               .k_frozen_W_mK = 2.1,
                               .c_thawed_J_m3K = 2.3e6,
                               .c_frozen_J_m3K = 1.8e6,
                               .latent_J_m3 = 80.16e6,
                               .freezing_from_degC = 0.0,
                               .freezing_to_degC = -0.5};
}

struct uf_case uf_verify_plain(struct uf_thermal soil, double to_m, double finest_m)
{
    struct uf_case d;
    uf_case_init(&d);
    d.ground.n_layers = 1;
    d.ground.layers[0].to_m = to_m;
    d.ground.layers[0].spec.has_thermal = true;
    d.ground.layers[0].spec.thermal = soil;
    if (!isnan(finest_m)) {
        d.grid = (struct uf_grid_input){finest_m, to_m, to_m};
    }
    return d;
}

struct uf_season_options uf_verify_season(void)
{
    struct uf_season_options options = uf_season_defaults();
    options.stop.asked = uf_signals_asked;
    return options;
}

const char *uf_verify_suffix(enum uf_integrator integrator)
{
    return integrator == UF_BDF ? ".reference" : "";
}
