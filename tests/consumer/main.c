#include <math.h>
#include <stdio.h>
#include <underfrost.h>

/* A year of bare silt under a sine of air temperature, by the installed library alone.
   Prints how far frost went and whether heat in was heat stored; fails when either cannot
   be. */

#define DAYS 365

static void describe(struct uf_case *design)
{
    uf_case_init(design);
    design->ground.n_layers = 1;
    design->ground.layers[0].to_m = 10.0;
    design->ground.layers[0].spec.soil = uf_soil_find("silt");
    design->surface.kind = UF_SURFACE_FILM;
    design->surface.film_W_m2K = 15.0;
    design->grid.finest_m = 0.05;
    design->grid.width_m = 10.0;
    design->grid.depth_m = 10.0;
}

static double deepest_frost_m(const struct uf_section *section, const double *T_degC)
{
    double frost_m = 0.0;

    for (double z_m = 0.05; z_m < 5.0; z_m += 0.01) {
        if (uf_section_at_degC(section, T_degC, 0.0, z_m) < 0.0) {
            frost_m = z_m;
        }
    }
    return frost_m;
}

static enum uf_status run(const struct uf_section *section, const struct uf_drive *drive,
                          double *frost_m, double *leak_J, struct uf_error *err)
{
    const struct uf_season_options options = uf_season_defaults();
    struct uf_season *season = NULL;
    double start_degC[4096];
    enum uf_status status = uf_season_create(&season, section->heat, &options, err);

    if (status == UF_OK) {
        for (size_t i = 0; i < 4096; i++) {
            start_degC[i] = 5.0;
        }
        uf_season_set(season, 0.0, start_degC);
        uf_season_drive(season, drive);
    }
    for (int day = 1; status == UF_OK && day <= DAYS; day++) {
        status = uf_season_advance(season, day, err);
        if (status == UF_OK) {
            const double now_m = deepest_frost_m(section, uf_season_T_degC(season));
            *frost_m = now_m > *frost_m ? now_m : *frost_m;
        }
    }
    if (status == UF_OK) {
        *leak_J = uf_season_leak_J(season);
    }
    uf_season_free(season);
    return status;
}

int main(void)
{
    static double air_degC[DAYS], film_W_m2K[DAYS];
    struct uf_drive drive = {.days = DAYS,
                             .periodic = true,
                             .outside_degC = air_degC,
                             .h_W_m2K = film_W_m2K,
                             .air_degC = air_degC};
    static struct uf_case design;
    struct uf_section *section = NULL;
    struct uf_error err = {0};
    double frost_m = 0.0, leak_J = INFINITY;

    for (int day = 0; day < DAYS; day++) {
        air_degC[day] = 4.0 + 15.0 * cos(2.0 * 3.14159265358979 * (day - 200.0) / DAYS);
        film_W_m2K[day] = 15.0;
    }
    describe(&design);
    enum uf_status status = uf_section_create(&section, &design, 2.0, &err);
    if (status == UF_OK) {
        status = run(section, &drive, &frost_m, &leak_J, &err);
    }
    uf_section_free(section);
    (void)printf("frost %.2f m, heat not accounted for %.3g J; %s\n", frost_m, leak_J,
                 status == UF_OK ? "done" : err.text);
    return status == UF_OK && frost_m > 0.5 && frost_m < 2.5 && isfinite(leak_J) ? 0 : 1;
}
