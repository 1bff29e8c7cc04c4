#!/bin/sh
# The bare reference problem beside general libraries, in one run on this machine and on the very
# heat network of this program: SciPy (its BDF with a sparse Jacobian; backward Euler with sparse
# LU; the same with a banded solver, which few would think of) and stock CVODE with KLU. One thread.
# Every answer is judged by the same front finder; each ratio is within one band, best against best.
#   sh tests/bench/peers.sh BUILD_DIR [ROWS_CM]
set -eu
here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
root=$(CDPATH='' cd -- "$here/../.." && pwd)
build=${1:-$root/build/release}
rows=${2:-7.5}
[ -x "$build/tests/bench_network" ] || {
    echo "build first: $build has no tests/bench_network" >&2
    exit 2
}
python=/usr/bin/python3
if ! "$python" -c 'import scipy' 2>/dev/null; then
    if [ "$(id -u)" = 0 ]; then as=; else as=sudo; fi
    $as apt-get install -y --no-install-recommends python3-scipy >/dev/null || {
        echo "skipped: python3-scipy could not be installed" >&2
        exit 77
    }
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1

"$build/tests/bench_plain_cvode" "$rows" | tee "$work/ours"
"$build/tests/bench_network" write "$rows" "$work/network"
for method in 'bdf 3e-3' 'bdf 1e-4' 'euler 1' 'euler 2' 'banded 1' 'banded 2'; do
    # shellcheck disable=SC2086 # two words are two arguments
    "$python" "$here/peers.py" "$work/network" "$work/field" $method
    printf '%16s' ''
    "$build/tests/bench_network" judge "$rows" "$work/field"
done | tee "$work/scipy"

# Seconds stand in one line, the band at the end of the next. "daily" holds more than "maximum".
cat "$work/ours" "$work/scipy" | awk '
    / s, / {
        for (i = 1; i < NF && $(i + 1) != "s,"; i++) {}
        seconds = $i
        kind = $1 == "SciPy" ? ($2 == "banded" ? "banded" : "scipy") : $1
        sub(/-.*/, "", kind)
    }
    / band / {
        if ($NF == "daily") note("daily")
        if ($NF != "none") note("maximum")
    }
    function note(band) {
        if (!((band, kind) in best) || seconds < best[band, kind]) best[band, kind] = seconds
    }
    function ratio(band, other, ours, goal,   r) {
        if (!((band, other) in best) || !((band, ours) in best)) return
        r = best[band, other] / best[band, ours]
        printf "  %-42s %6.1f%s\n", name[other] " / " name[ours], r, \
            goal ? (r >= goal ? "  goal " goal ": reached" : "  goal " goal ": not reached") : ""
    }
    END {
        name["scipy"] = "best of SciPy, sparse"; name["banded"] = "SciPy, banded"
        name["stock"] = "stock CVODE"; name["own"] = "CVODE, own Newton"; name["fast"] = "fast"
        split("maximum daily", bands, " ")
        for (b = 1; b <= 2; b++) {
            print bands[b] " band"
            ratio(bands[b], "scipy", "fast", 100)
            ratio(bands[b], "stock", "fast", 20)
            ratio(bands[b], "banded", "fast", 0)
            ratio(bands[b], "scipy", "own", 0)
            ratio(bands[b], "stock", "own", 0)
        }
    }'
