#!/bin/sh
# The Python module on today's library gives the numbers that the program keeps in its result file.
#   sh check_bridge.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

program=$1
source=$2
library=$(find "$3" -maxdepth 1 -name 'libunderfrost_site.so.*.*.*' | head -n 1)
[ -n "$library" ] || {
    echo "no libunderfrost_site in $3: is the build folder complete?"
    exit 1
}
case $(nm -D "$library") in
*__asan_*)
    echo "a sanitized library cannot be loaded by Python: skipped"
    exit 77
    ;;
esac
python=
for candidate in python3 /usr/bin/python3; do
    if [ -z "$python" ] && "$candidate" -c 'import numpy, xarray, h5netcdf' 2>/dev/null; then
        python=$candidate
    fi
done
[ -n "$python" ] || {
    echo "no python3 with numpy, xarray and h5netcdf: skipped"
    exit 77
}

out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
site=$source/cli/examples/larch_hollow.yaml
"$program" simulate "$site" --set tank.ends=plane --set grid.finest=200mm --set burial.cover=1.3m -q \
    --json -o "$out/run.h5" >"$out/run.json" || [ $? -eq 1 ]
UNDERFROST_LIBRARY=$library PYTHONPATH=$source/cli/python PYTHONDONTWRITEBYTECODE=1 "$python" - \
    "$site" "$out" <<'END'
import json, math, sys
import numpy, xarray
import underfrost

site, out = sys.argv[1:]
own = underfrost.run(site, set={"tank.ends": "plane", "grid.finest": "200mm", "burial.cover": "1.3m"})
kept = xarray.open_dataset(out + "/run.h5", engine="h5netcdf", decode_times=False)
names = [n for n in own.arrays if n in kept]
assert len(names) >= 12, names
for name in names:
    assert own.arrays[name].shape == kept[name].shape == own.shapes[name], name
    assert numpy.array_equal(own.arrays[name], kept[name].values, equal_nan=True), name
answer = json.load(open(out + "/run.json"))
def same(key, told):  # JSON has 15 digits where those tell it nearly
    assert math.isclose(own.facts[key], told, rel_tol=1e-14), (key, own.facts[key], told)
same("water.min_degC", answer["water"]["min_degC"])
same("frost_depth.undisturbed.max_m", answer["frost_depth"]["undisturbed"]["max_m"])
same("probes[0].min_degC", answer["probes"][0]["min_degC"])
assert own.dates["water.min_degC"] == answer["water"]["date"], own.dates
lean = underfrost.run(site, set={"tank.ends": "plane", "grid.finest": "200mm", "burial.cover": "1.3m"},
                      fields=False)
assert "temperature" not in lean.arrays and lean.facts == own.facts
for wrong, code, word in (({"burial.cover": "1.5"}, 2, "burial.cover"), ({"a": "b"}, 2, "unknown"),
                          ({"climate.file": "/no/such.csv"}, 3, "no such")):
    try:
        underfrost.run(site, set=wrong)
        raise SystemExit("no error for %s" % wrong)
    except underfrost.Error as error:
        assert error.code == code and word in str(error), (error.code, str(error))
try:
    underfrost.run(out + "/none.yaml")
    raise SystemExit("no error for a file that is not there")
except underfrost.Error as error:
    assert error.code == 3, error.code
END
