#!/bin/sh
# The reference problem beside general libraries, in one run on this machine: SciPy (backward Euler
# with sparse LU, and its BDF with a sparse Jacobian) and stock CVODE with KLU, all on the very
# network of this program. Prints CPU seconds, bands and ratios.
#   sh tests/bench/peers.sh BUILD_DIR
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")" && pwd)
source=$(CDPATH= cd -- "$here/../.." && pwd)
build=${1:-$source/build/release}
[ -x "$build/tests/bench_reference" ] || { echo "build first: $build has no bench_reference" >&2; exit 2; }
python=/usr/bin/python3
if ! "$python" -c 'import scipy' 2>/dev/null; then
    echo "installing python3-scipy"
    if [ "$(id -u)" = 0 ]; then as=; else as=sudo; fi
    $as apt-get install -y --no-install-recommends python3-scipy >/dev/null || {
        echo "skipped: SciPy could not be installed" >&2; exit 77; }
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$build/tests/bench_reference" --export "$work/network"
OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 "$python" "$here/peers.py" "$work/network" \
    "$source/tests/data/reference_problem.csv" | tee "$work/scipy"
"$build/tests/bench_plain_cvode" 0.075 | tee "$work/cvode"
scipy=$(awk '/band maximum/ {if (best == "" || $2 < best) best = $2} END {print best}' "$work/scipy")
fast=$(awk '/^fast/ {print $(NF - 1)}' "$work/cvode")
own=$(awk '/^own/ {print $(NF - 1)}' "$work/cvode")
awk -v s="${scipy:-nan}" -v f="$fast" -v o="$own" 'BEGIN {
    printf "best of SciPy in the band / fast path %.0f, / own Newton %.0f\n", s / f, s / o}'
