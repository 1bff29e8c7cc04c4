#!/bin/sh
# The result file in other hands: ncdump reads its header; xarray finds coordinates and units, and
# the largest frost depth recomputed from the field is the stored one.
# Arguments: PROGRAM SOURCE_DIR BUILD_DIR
set -u
program=$1
source=$2
command -v ncdump >/dev/null 2>&1 || { echo "skipped: no ncdump"; exit 77; }
/usr/bin/python3 -c 'import xarray, h5netcdf' 2>/dev/null || { echo "skipped: no xarray"; exit 77; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$program" simulate "$source/cli/examples/larch_hollow.yaml" -o "$work/run.h5" > /dev/null
[ $? -le 1 ] || { echo "simulate failed"; exit 1; }
ncdump -h "$work/run.h5" > "$work/header" || { echo "ncdump cannot read it"; exit 1; }
grep -q 'CF-1.10' "$work/header" || { echo "no Conventions"; exit 1; }
/usr/bin/python3 - "$work/run.h5" <<'PY'
import sys
import numpy as np
import xarray

with xarray.open_dataset(sys.argv[1], engine="h5netcdf") as data:
    field = data["temperature"]
    assert field.dims == ("time", "z", "x"), field.dims
    assert field.attrs["units"] in ("degC", "degree_Celsius"), field.attrs
    assert "1/512" in field.attrs["comment"], field.attrs
    assert np.array_equal(field.values * 512, np.round(field.values * 512)), "not so rounded"
    ice = data["ice_fraction"].values
    assert 0 <= ice.min() and 0.5 < ice.max() <= 1, (ice.min(), ice.max())
    assert data["z"].attrs["positive"] == "down" and data["z"].attrs["units"] == "m"
    assert np.issubdtype(data["time"].dtype, np.datetime64)
    for name in ("frost_depth", "water_temperature", "ice", "surface_heat_flow"):
        assert "units" in data[name].attrs and "long_name" in data[name].attrs, name
    flags = data["material"].attrs
    assert len(np.atleast_1d(flags["flag_values"])) == len(flags["flag_meanings"].split())
    z = data["z"].values
    column = field.values[:, :, -1]
    found = np.zeros(len(column))
    for t, T in enumerate(column):
        cold = np.nonzero(T < 0)[0]
        if len(cold):
            j = cold[-1]
            found[t] = z[j] + (z[j + 1] - z[j]) * T[j] / (T[j] - T[j + 1])
    stored = data["frost_depth"].values
    assert stored.max() > 1.0, stored.max()
    assert abs(stored.max() - found.max()) < 1e-3, (stored.max(), found.max())
    # On a day the stored line is finer than a straight one: from the enthalpy of its cell.
    row = float(np.diff(z).min())
    deep = found > z[1]
    assert np.abs(stored - found)[deep].max() < 0.3 * row, np.abs(stored - found)[deep].max()
PY
[ $? -eq 0 ] || exit 1

# The rules of CF, in each kind of file; then that a broken rule is found.
site=$source/cli/examples/larch_hollow.yaml
coarse='--set grid.finest=200mm --quiet'
run() {
    "$program" "$@" $coarse > /dev/null
    [ $? -le 1 ] || { echo "failed: $*"; exit 1; }
}
run compare "$site" -o "$work/compare.h5"
run simulate "$site" --set climate.winter=every -o "$work/every.h5"
run simulate "$source/cli/examples/mill_race.yaml" -o "$work/upright.h5"
run simulate "$source/cli/examples/bare_ground.yaml" -o "$work/bare.h5"
run recommend "$site" --set 'choices.cover=[1.2 m, 1.5 m]' --set 'choices.thickness=[50 mm]' -o "$work/folder"
set -- "$work/run.h5" "$work/compare.h5" "$work/every.h5" "$work/upright.h5" "$work/bare.h5" \
    "$work/folder/result.h5"
/usr/bin/python3 "$source/tests/check_cf.py" "$@" || exit 1
/usr/bin/python3 - "$work/compare.h5" "$source/tests" "$work/folder/summary.csv" <<'PY' || exit 1
import csv
import shutil
import sys

import h5py

sys.path.insert(0, sys.argv[2])
sys.dont_write_bytecode = True
import check_cf


def spoil(name, attribute, value):
    def change(file):
        file[name].attrs[attribute] = value
    return change


def drop(name, attribute):
    def change(file):
        del file[name].attrs[attribute]
    return change


CHANGES = [
    spoil("material", "flag_meanings", "a b,"), spoil("frost_depth", "units", "fathomful"),
    spoil("frost_depth", "standard_name", "frost"), spoil("z", "units", "s"),
    spoil("probe_temperature", "coordinates", "nowhere"), drop("z", "positive"),
    drop("time", "calendar"), drop("without_board/time", "bounds"), drop("ice", "long_name"),
    spoil("ice", "cell_methods", "z: point"), drop("/", "source"), drop("climate_time", "axis"),
]
for i, change in enumerate(CHANGES):
    path = sys.argv[1] + ".spoilt"
    shutil.copy(sys.argv[1], path)
    with h5py.File(path, "r+") as file:
        change(file)
    assert check_cf.main([path]) == 1, f"change {i} was not found"

with open(sys.argv[3], newline="", encoding="utf-8") as file:
    rows = list(csv.reader(file))
assert rows[0] == ["key", "value", "unit"], rows[0]
assert all(len(row) == 3 for row in rows), [row for row in rows if len(row) != 3]
assert len({row[0] for row in rows}) == len(rows), "a key twice"
values = {row[0]: row for row in rows}
assert 0 < float(values["water.coldest"][1]) < 10 and values["water.coldest"][2] == "degC"
PY
