#!/bin/sh
# The result file in other hands: ncdump reads its header, the rules of CF are kept (check_cf.py),
# xarray finds coordinates and units, and the frost depth recomputed from the field is the stored one
# (check_xarray.py). Then summary.csv: a number has its unit, a date is one.
# Arguments: PROGRAM SOURCE_DIR BUILD_DIR
set -u
program=$1
source=$2
command -v ncdump >/dev/null 2>&1 || { echo "skipped: no ncdump"; exit 77; }
/usr/bin/python3 -c 'import xarray, h5netcdf' 2>/dev/null || { echo "skipped: no xarray"; exit 77; }
PATH=$source/tests/stand_in:$PATH # no picture is read
export PATH
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$program" simulate "$source/cli/examples/larch_hollow.yaml" --set tank.ends=plane -o "$work/run.h5" > /dev/null
[ $? -le 1 ] || { echo "simulate failed"; exit 1; }
ncdump -h "$work/run.h5" > "$work/header" || { echo "ncdump cannot read it"; exit 1; }
grep -q 'CF-1.10' "$work/header" || { echo "no Conventions"; exit 1; }

# Each kind of file; then that each broken rule is told.
site=$source/cli/examples/larch_hollow.yaml
solid='--set grid.finest=200mm'
coarse="$solid --set tank.ends=plane"
run() {
    "$program" "$@" --quiet > /dev/null
    [ $? -le 1 ] || { echo "failed: $*"; exit 1; }
}
run compare "$site" $solid -o "$work/compare.h5"
run simulate "$source/cli/examples/mill_race.yaml" -o "$work/upright.h5"
run simulate "$site" $solid --thin 10 --fields all -o "$work/whole.h5"
ncdump -h "$work/whole.h5" | grep -q 'whole_temperature(time, y, z, x)' ||
    { echo "--fields all keeps no whole field"; exit 1; }
run simulate "$source/cli/examples/bare_ground.yaml" -o "$work/bare.h5"
run recommend "$site" $coarse --set 'choices.cover=[1.2 m, 1.5 m]' --set 'choices.thickness=[50 mm]' \
    -o "$work/folder"
sed -e 's/^surface:.*/surface: {film: 15 W\/m2\/K, snow: recorded}/; s/winnipeg.csv/valdez.csv/; s/^  column:.*//' -e 's/^  shape: horizontal_cylinder/&\n  ends: plane/' \
    "$site" > "$work/snow.yaml"
run simulate "$work/snow.yaml" $coarse -o "$work/snow.h5"
run simulate "$work/snow.yaml" $coarse --set climate.file=cssl.csv --set climate.winter=every \
    -o "$work/every.h5"
set -- "$work/run.h5" "$work/compare.h5" "$work/folder/result.h5"
others="$work/every.h5 $work/upright.h5 $work/bare.h5 $work/snow.h5 $work/whole.h5"
for file in "$@" $others; do
    ncdump -v frost_depth,material "$file" > "$work/dump" || { echo "ncdump: $file"; exit 1; }
done
ncdump -v temperature "$work/compare.h5" > "$work/dump" || { echo "ncdump: fields"; exit 1; }
[ "$(grep -c '^ *temperature =' "$work/dump")" -eq 2 ] || { echo "not both fields"; exit 1; }
/usr/bin/python3 "$source/tests/stories/check_cf.py" "$@" $others || exit 1
/usr/bin/python3 -B "$source/tests/stories/check_cf_broken.py" "$work/compare.h5" || exit 1
/usr/bin/python3 "$source/tests/stories/check_xarray.py" 0.3 0.001 "$@" || exit 1
# Where two soils meet, the line in the file has its kink there; a straight one is up to 1 cm off.
/usr/bin/python3 "$source/tests/stories/check_xarray.py" 0.5 0.01 $others || exit 1
/usr/bin/python3 - "$work/run.h5" <<'PY' || exit 1
import sys

import h5py

with h5py.File(sys.argv[1], "r+") as file:
    file["frost_depth"][...] += 0.02
PY
/usr/bin/python3 "$source/tests/stories/check_xarray.py" 0.3 0.001 "$work/run.h5" > /dev/null &&
    { echo "a depth that is 2 cm off was not found"; exit 1; }
/usr/bin/python3 - "$work/folder/summary.csv" <<'PY' || exit 1
import csv
import re
import sys

with open(sys.argv[1], newline="", encoding="utf-8") as file:
    rows = list(csv.reader(file, strict=True))
assert rows[0] == ["key", "value", "unit"], rows[0]
assert all(len(row) == 3 for row in rows), [row for row in rows if len(row) != 3]
assert len({row[0] for row in rows}) == len(rows), "a key twice"
for key, value, unit in rows[1:]:
    number = re.fullmatch(r"-?[0-9.]+(e[-+][0-9]+)?", value) is not None
    assert not number or unit, f"{key}: a number without unit"
    assert number or not value or not unit, f"{key}: {value} with a unit"
    dated = re.fullmatch(r"\d{4}-\d\d-\d\d", value) is not None
    assert dated == key.endswith("date") or not value, f"{key}: {value}"
values = {row[0]: row for row in rows}
assert 0 < float(values["water.min_degC"][1]) < 10 and values["water.min_degC"][2] == "degC"
PY
exit 0
