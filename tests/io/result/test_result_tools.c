#include "io/result/result_file.h"
#include "tests/synthetic.h"

#include <criterion/criterion.h>

static char folder[1000], path[1100];

static void open_folder(void)
{
    cr_assert_not_null(synthetic_folder(folder, sizeof folder));
    (void)snprintf(path, sizeof path, "%s/result.h5", folder);
}

static void close_folder(void)
{
    synthetic_remove(folder);
}

TestSuite(result_tools, .init = open_folder, .fini = close_folder);

/* Runs a command quietly; true when it succeeded. */
static bool run(const char *command)
{
    return system(command) == 0;
}

Test(result_tools, opens_in_the_netcdf_tools)
{
    struct uf_result *made = synthetic_result();
    char command[3000];
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    uf_result_free(made);
    if (!run("command -v ncdump >/dev/null 2>&1")) {
        cr_skip_test("ncdump is not installed");
    }
    static const char *const lines[] = {"time = 240 ;",
                                        "float temperature(time, z, x) ;",
                                        "string probe(probe) ;",
                                        "double probe_temperature(time, probe) ;",
                                        "byte material(z, x) ;",
                                        "time:units = \"days since 1970-01-01 00:00:00\"",
                                        "string z:positive = \"down\"",
                                        "flag_meanings = \"silt pea_gravel board\"",
                                        "flag_values = 0b, 1b, 2b",
                                        "double climate_air(climate_time) ;",
                                        "string choice_governs(choice) ;",
                                        "group: without_board",
                                        ":Conventions = \"CF-1.10\"",
                                        "temperature:_FillValue = NaNf",
                                        "double z_bounds(z, edge) ;"};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        (void)snprintf(command, sizeof command, "ncdump -h '%s' | grep -qF '%s'", path, lines[i]);
        cr_expect(run(command), "ncdump shows no: %s", lines[i]);
    }
}

/* The largest frost depth is computed again from the field: the deepest zero crossing of
   the farthest column by linear interpolation. 2 cm, since cells are up to 0.15 m thick
   there and the made-up profile has its kink at the front. */
static const char *const python_check =
    "import sys, numpy as np, xarray as xr\n"
    "d = xr.open_dataset(sys.argv[1], engine='h5netcdf')\n"
    "assert d.temperature.dims == ('time', 'z', 'x'), d.temperature.dims\n"
    "assert str(d.time.values[0])[:10] == '2014-10-01', d.time.values[0]\n"
    "assert d.z.attrs['units'] == 'm' and d.z.attrs['positive'] == 'down'\n"
    "assert d.temperature.attrs['units'] == 'degC'\n"
    "assert d.climate_air.attrs['standard_name'] == 'air_temperature'\n"
    "assert 'probe_x' in d.probe_temperature.coords\n"
    "assert list(d.probe.values)[0] == 'outlet'\n"
    "assert d.attrs['Conventions'] == 'CF-1.10'\n"
    "assert d.z_bounds.shape == (40, 2)\n"
    "day = int(d.frost_depth.argmax())\n"
    "t = d.temperature.values[day, :, -1]; z = d.z.values\n"
    "i = int(np.where((t[:-1] < 0) & (t[1:] >= 0))[0].max())\n"
    "depth = z[i] - t[i] * (z[i] - z[i - 1]) / (t[i] - t[i - 1])\n"
    "assert abs(depth - float(d.frost_depth.max())) < 1e-4, depth\n"
    "w = xr.open_dataset(sys.argv[1], engine='h5netcdf', group='without_board')\n"
    "assert w.temperature.dims == ('time', 'z', 'x') and 'z' in w.coords\n"
    "assert float(w.ice.max()) > 0 and float(d.ice.max()) == 0\n";

Test(result_tools, opens_in_xarray)
{
    struct uf_result *made = synthetic_result();
    char command[3000], script[1200];
    cr_assert_eq(uf_result_file_write(path, made, NULL), UF_OK);
    uf_result_free(made);
    if (!run("/usr/bin/python3 -c 'import xarray, h5netcdf' 2>/dev/null")) {
        cr_skip_test("python3-xarray or python3-h5netcdf is not installed");
    }
    (void)snprintf(script, sizeof script, "%s/check.py", folder);
    FILE *file = fopen(script, "w");
    cr_assert(file != NULL && fputs(python_check, file) >= 0 && fclose(file) == 0);
    (void)snprintf(command, sizeof command, "/usr/bin/python3 '%s' '%s'", script, path);
    cr_expect(run(command));
}
