#!/bin/sh
# Instructions of one cell update of the fast integrator, counted by callgrind: the same on every
# machine with the same compiler, however busy. valgrind shows programs a processor with AVX2.
#   sh tests/bench/count.sh BUILD_DIR [ROWS_CM]
set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd)
kernel=${1:-$root/build/release}/tests/bench_kernel
rows=${2:-7.5}
command -v valgrind >/dev/null || {
    echo "skipped: no valgrind here" >&2
    exit 77
}
instructions() {
    valgrind --tool=callgrind --callgrind-out-file=/dev/null "$kernel" "$rows" --count "$1" \
        2>&1 >/dev/null | awk '/Collected/ {print $NF}'
}
cells=$("$kernel" "$rows" --count 1)
few=$(instructions 100)
many=$(instructions 600)
awk -v few="$few" -v many="$many" -v cells="$cells" 'BEGIN {
    printf "%d cells: %.0f instructions a stage, %.2f a cell update\n", cells,
        (many - few) / 500, (many - few) / 500 / cells}'
