#include "recommend_topics.h"

#include "solver/design/shape.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A topic whose data do not suffice is left out, and said. */
static bool done(struct uf_recommend_topics *out, const char *topic, enum uf_status status,
                 const struct uf_error *err)
{
    const size_t used = strlen(out->lacks);
    if (status != UF_OK) {
        (void)snprintf(out->lacks + used, sizeof out->lacks - used, "%s%s: %s",
                       used > 0 ? "; " : "", topic, err->text);
    }
    return status == UF_OK;
}

static void find_fittings(struct uf_recommend_topics *out, const struct uf_site *site,
                          const struct uf_case *design, const struct uf_column_soils *soils,
                          double frost_m)
{
    struct uf_error err = {0};
    const struct uf_site_works *works = &site->works;
    if (design->tank.n_risers == 0 && design->n_pipes == 0) {
        return;
    }
    out->bond = &uf_frost_force_bonds[works->bond >= 0 ? works->bond : 0];
    out->has_fittings =
        done(out, "fittings",
             uf_frost_force(&out->fittings, design, soils,
                            isnan(works->frost_depth_m) ? frost_m : works->frost_depth_m,
                            out->bond->bond_Pa, &err),
             &err);
}

static void find_roundness(struct uf_recommend_topics *out, const struct uf_site *site,
                           const struct uf_case *design, const struct uf_column_soils *soils)
{
    struct uf_error err = {0};
    const struct uf_roundness_input *input = &site->works.roundness;
    if (input->n > 0) {
        out->has_readings =
            done(out, "roundness", uf_roundness(&out->roundness, input, &err), &err);
    }
    if ((input->soil_row < 0 && isnan(input->soil_modulus_Pa)) ||
        !uf_shape_is_round(&design->tank)) {
        return;
    }
    enum uf_status status =
        uf_load_soil_Pa(&out->crown_Pa, design, soils, uf_case_crown_m(design), &err);
    if (status == UF_OK) {
        status = uf_roundness_predict(&out->forecast, input, out->crown_Pa,
                                      0.5 * design->tank.diameter_m, design->tank.wall_thickness_m,
                                      &err);
    }
    out->has_forecast = done(out, "roundness", status, &err);
}

void uf_recommend_topics(struct uf_recommend_topics *out, const struct uf_site *site,
                         const struct uf_case *design, double frost_m)
{
    struct uf_error err = {0};
    struct uf_column_soils soils;
    const struct uf_site_works *works = &site->works;
    *out = (struct uf_recommend_topics){.has_suction = false};
    if (!isnan(works->suction.flow_m3_s)) {
        out->has_suction =
            done(out, "suction", uf_suction(&out->suction, &works->suction, design, &err), &err);
    }
    if (works->lifting.picks > 0) {
        out->has_lifting = done(
            out, "lifting",
            uf_lifting(&out->lifting, &works->lifting, design->tank.empty_mass_kg, &err), &err);
    }
    if (uf_column_soils(&soils, design, NULL) == UF_OK) {
        find_fittings(out, site, design, &soils, frost_m);
        find_roundness(out, site, design, &soils);
    }
}
