#include "surface.h"

#include <math.h>

#define DECLARE(WORD, name) extern const struct uf_surface_row uf_surface_##name;
UF_SURFACE_LIST(DECLARE)
#undef DECLARE

#define ENTRY(WORD, name) [UF_SURFACE_##WORD] = &uf_surface_##name,
static const struct uf_surface_row *const rows[] = {UF_SURFACE_LIST(ENTRY)};
#undef ENTRY

const struct uf_surface_row *uf_surface_at(enum uf_surface_kind kind)
{
    return rows[kind];
}

const struct uf_surface_row *uf_surface_of(const struct uf_surface_input *surface)
{
    return rows[surface->kind];
}

double uf_surface_snow_W_mK(double density_kg_m3)
{
    const double r = density_kg_m3 / 1000.0;
    if (!(density_kg_m3 >= 10.0 && density_kg_m3 <= 600.0)) {
        return NAN;
    }
    return r < 0.156 ? 0.023 + 0.234 * r : 0.138 - 1.01 * r + 3.233 * r * r;
}

double uf_surface_as_air(const struct uf_surface_input *surface, double air_degC)
{
    (void)surface;
    return air_degC;
}

struct uf_face_law uf_surface_law(const struct uf_surface_input *surface, double air_degC,
                                  double snow_m)
{
    const struct uf_surface_row *row = uf_surface_of(surface);
    struct uf_face_law law = {INFINITY, row->outside_degC(surface, air_degC)};
    double above_m2K_W = 0.0;
    if (snow_m > 0.0 && row->takes_snow(surface)) {
        above_m2K_W = snow_m / uf_surface_snow_W_mK(surface->snow_density_kg_m3);
        law.outside_degC = fmin(0.0, law.outside_degC);
    }
    above_m2K_W += row->film_m2K_W != NULL ? row->film_m2K_W(surface) : 0.0;
    if (above_m2K_W > 0.0) {
        law.h_W_m2K = 1.0 / above_m2K_W;
    }
    return law;
}

double uf_surface_snow_m(const struct uf_surface_input *surface, double recorded_m, bool cold)
{
    const double lies_m[] = {[UF_SNOW_NONE] = 0.0,
                             [UF_SNOW_RECORDED] = fmax(0.0, recorded_m),
                             [UF_SNOW_FIXED] = cold ? surface->snow_depth_m : 0.0};
    return uf_surface_of(surface)->takes_snow(surface) ? lies_m[surface->snow] : 0.0;
}

bool uf_surface_reads_snow(const struct uf_surface_input *surface)
{
    return surface->snow == UF_SNOW_RECORDED && uf_surface_of(surface)->takes_snow(surface);
}

bool uf_surface_lies(const struct uf_surface_input *surface)
{
    return surface->snow != UF_SNOW_NONE && uf_surface_of(surface)->takes_snow(surface);
}

bool uf_surface_clear(struct uf_surface_input *surface)
{
    const bool lies = uf_surface_lies(surface);
    surface->snow = UF_SNOW_NONE;
    return lies;
}
