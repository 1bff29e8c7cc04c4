#!/bin/sh
# The Python in README.md runs on a result of today's program and draws a picture.
#   sh check_python.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

program=$1
source=$2
python=
for candidate in python3 /usr/bin/python3; do
    if [ -z "$python" ] && "$candidate" -c 'import xarray, h5netcdf, matplotlib' 2>/dev/null; then
        python=$candidate
    fi
done
[ -n "$python" ] || {
    echo "no python3 with xarray, h5netcdf and matplotlib: skipped"
    exit 77
}

out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
sed -n '/^```python run/,/^```$/p' "$source/README.md" | sed '/^```/d' >"$out/five.py"
lines=$(wc -l <"$out/five.py")
[ "$lines" -eq 5 ] || {
    echo "README.md: $lines lines of Python, not five"
    exit 1
}
"$program" simulate "$source/cli/examples/bare_ground.yaml" --set grid.finest=200mm -q \
    -o "$out/deep.h5" >"$out/log" 2>&1 || [ $? -eq 1 ]
cd "$out"
"$python" -W error::DeprecationWarning five.py
[ "$(od -An -c -N4 deep.png | tr -d ' ')" = '211PNG' ]

# Tables: the same bytes twice, and the numbers that xarray reads.
"$program" export deep.h5 --csv -o a
"$program" export deep.h5 --csv -o b
cmp a/series.csv b/series.csv
cmp a/fields.csv b/fields.csv
cmp a/facts.csv b/facts.csv
"$python" - <<'END'
import csv, xarray
run = xarray.open_dataset("deep.h5", engine="h5netcdf", decode_timedelta=False)
rows = list(csv.DictReader(l for l in open("a/series.csv") if not l.startswith("#")))
assert len(rows) == run.sizes["time"] > 300
worst = max(abs(float(r["frost_depth [m]"]) - float(v)) for r, v in zip(rows, run.frost_depth.values))
assert worst < 1e-8, worst
fields = [r for r in csv.DictReader(l for l in open("a/fields.csv") if not l.startswith("#"))
          if r["depth [m]"] == "1"]
inside = run.temperature.isel(x=-1).interp(z=1.0).values
worst = max(abs(float(r["temperature [degC]"]) - v) for r, v in zip(fields, inside))
assert len(fields) == len(rows) and worst < 1e-5, worst
END
