"""Result files in xarray: python3 check_xarray.py SHARE DEEPEST FILE...  Times decode, coordinates
and units are found, and the frost depth recomputed from the field is the stored one, in the root
and in the group of the run without board: within SHARE of a row on each day, and DEEPEST, m, on
the deepest, besides what the field's rounding moves it. Needs to know nothing but names. Exit 1 where no file holds a field."""
import sys

import h5py
import numpy as np
import xarray

FIELDS = ("temperature", "ice_fraction")


def groups_of(path):
    with h5py.File(path, "r") as file:
        return [""] + [name for name, item in file.items() if isinstance(item, h5py.Group)]


def recomputed(field, z):
    """Deepest place where the last column crosses 0 degC, each day, 0 where it does not; the
    distance of the two centres beside it; how far half a step of 1/512 degC moves it."""
    found, row, moved = np.zeros(len(field)), np.ones(len(field)), np.zeros(len(field))
    for t, T in enumerate(field):
        cold = np.nonzero(T < 0)[0]
        if len(cold):
            j = cold[-1]
            row[t] = z[j + 1] - z[j]
            found[t] = z[j] + row[t] * T[j] / (T[j] - T[j + 1])
            moved[t] = row[t] / (T[j + 1] - T[j]) / 1024
    return found, row, moved


def check_fields(data, share, deepest_m):
    field = data["temperature"]
    assert field.dims == ("time", "z", "x"), field.dims
    assert data["ice_fraction"].dims == field.dims
    assert data["material"].dims == ("z", "x")
    assert field.dtype == np.float32 and field.attrs["units"] == "degC", field.attrs
    assert "1/512" in field.attrs["comment"], field.attrs
    assert np.array_equal(field.values * 512, np.round(field.values * 512)), "not so rounded"
    ice = data["ice_fraction"].values
    ice = ice[np.isfinite(ice)]
    assert 0 <= ice.min() and 0.5 < ice.max() <= 1, (ice.min(), ice.max())
    flags = data["material"].attrs
    assert set(np.unique(data["material"])) <= set(np.atleast_1d(flags["flag_values"]))
    z = data["z"].values
    found, row, moved = recomputed(field.values[:, :, -1], z)
    stored = data["frost_depth"].values
    assert stored.max() > 0.5, stored.max()
    # On a day the stored line is finer than a straight one: from the enthalpy of its cell.
    deep = found > z[1]
    worst = (np.abs(stored - found) / row)[deep].max()
    assert worst < share, f"{worst} of a row"
    allowed_m = deepest_m + moved[found.argmax()]
    assert abs(stored.max() - found.max()) < allowed_m, (stored.max(), found.max(), allowed_m)


def check_lines(data):
    """The 0 degC line is the one that the depths are told from; at mid-tank the two sections meet."""
    line = data["zero_line"].values
    assert data["zero_line"].dims == ("time", "x")
    assert np.abs(line[:, -1] - data["frost_depth"].values).max() < 1e-3, "not the frost depth"
    if data["crown_temperature"].notnull().any():
        above = data["frost_depth_above_tank"].values
        assert np.abs(line[:, 0] - above).max() < 1e-3, "not the frost over the tank"
    if "y" in data:
        long = data["long_temperature"]
        assert long.dims == ("time", "z", "y") and data["long_material"].dims == ("z", "y")
        assert (data["y"].values >= 0).all() and data["y"].attrs["units"] == "m"
        assert np.array_equal(long[:, :, 0], data["temperature"][:, :, 0]), "mid-tank differs"
        assert np.array_equal(data["long_zero_line"][:, 0], line[:, 0])
    if "whole_temperature" in data:
        for name in FIELDS:
            whole = data["whole_" + name]
            assert whole.dims == ("time", "y", "z", "x")
            assert np.array_equal(whole[:, 0], data[name]), name
            along = data["long_" + name].transpose("time", "y", "z")
            assert np.array_equal(whole[:, :, :, 0], along), name


def check(path, group, share, deepest_m):
    with xarray.open_dataset(path, engine="h5netcdf", group=group or None) as data:
        for name in ("time",) if group else ("time", "climate_time"):
            assert np.issubdtype(data[name].dtype, np.datetime64), name
            days = np.diff(data[name].values) / np.timedelta64(1, "D")
            assert (days >= 1).all() and (days % 1 == 0).all(), f"{name}: {np.unique(days)}"
            edges = data[name].attrs.get("bounds") or data[name].encoding["bounds"]
            assert np.issubdtype(data[edges].dtype, np.datetime64), edges
        assert data["z"].attrs["positive"] == "down" and data["z"].attrs["units"] == "m"
        for name in ("frost_depth", "thaw_depth", "surface_heat_flow"):
            assert data[name].dims == ("time",), name
            assert "units" in data[name].attrs and "long_name" in data[name].attrs, name
        if "probe_temperature" in data:
            assert "probe_depth" in data["probe_temperature"].coords
            assert data["probe"].dtype.kind in "OU" and len(data["probe"].values[0]) > 0
        # midday of the weather's days and the end of the run's days: the same day, the same air
        if not group and data["climate_time"].size == data["time"].size:
            same = data["air_temperature"].values == data["climate_air"].values
            assert same[np.isfinite(data["air_temperature"].values)].all(), "air differs"
        if FIELDS[0] in data:
            check_fields(data, share, deepest_m)
            check_lines(data)
            return 1
        assert not any(name in data for name in FIELDS), "one field without the other"
        return 0


def main(share, deepest_m, *paths):
    fields = 0
    for path in paths:
        for group in groups_of(path):
            try:
                fields += check(path, group, float(share), float(deepest_m))
            except AssertionError as fault:
                print(f"{path}: {group or '/'}: {fault}")
                return 1
    return 0 if fields > 0 else 1


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
