#!/bin/sh
# The fuzzers of a build with UF_FUZZ, one after the other, each so many seconds from its corpus, the
# examples and what earlier runs found (BUILD/corpus). Prints a row a reader: executions, how many a
# second, inputs kept. Ends with 1 where one was brought down; what did it lies in BUILD/found.
#   sh tests/fuzz/run.sh BUILD SECONDS [READER...]
set -u

root=$(CDPATH= cd -- "$(dirname -- "$0")/../.." && pwd)
build=$1
seconds=$2
shift 2
[ $# -gt 0 ] || set -- options readings climate isoline plan part site said every result
mkdir -p "$build/found"

# Stacks of allocations and much freed memory kept back take most of the time: what an input brings down
# is run again without these for its story.
quick=malloc_context_size=0:quarantine_size_mb=1:max_redzone=64

# Inputs longer than that are slow and reach nothing new; damage and grids are a few bytes a piece.
longest() {
    case $1 in
    every | result) echo 96 ;;
    said) echo 130 ;;
    isoline) echo 160 ;;
    options) echo 512 ;;
    *) echo 2048 ;;
    esac
}

beside() {
    case $1 in
    climate) echo "$root/tests/data" ;;
    site | plan) echo "$root/cli/examples" ;;
    esac
}

# HDF5 1.10 loses memory of its own on damaged files, so a leak of ours is looked for afterwards, once over
# all that was kept; and it reads past what it holds (H5HG_read), which is passed over: not ours.
leaks() {
    case $1 in
    every | result) echo 0 ;;
    *) echo 1 ;;
    esac
}
echo interceptor_via_lib:libhdf5 >"$build/found/not_our_copies"
quick=$quick:suppressions=$build/found/not_our_copies

bad=0
for name in "$@"; do
    found=$build/corpus/fuzz_$name
    log=$build/found/fuzz_$name.log
    mkdir -p "$found"
    ASAN_OPTIONS=$quick "$build/tests/fuzz_$name" -max_total_time="$seconds" \
        -max_len="$(longest "$name")" -timeout=300 -detect_leaks="$(leaks "$name")" \
        -print_final_stats=1 -artifact_prefix="$build/found/" "$found" \
        "$root/tests/fuzz/fuzz_$name" $(beside "$name") >"$log" 2>&1 || bad=1
    ASAN_OPTIONS=suppressions=$build/found/not_our_copies \
        LSAN_OPTIONS=suppressions=$root/tests/fuzz/not_ours \
        "$build/tests/fuzz_$name" -runs=0 "$found" >>"$log" 2>&1 || bad=1
    awk -v name="$name" '/number_of_executed_units/ {n = $2} /average_exec_per_sec/ {rate = $2}
        /refused_by_the_sum/ && !sum {sum = $2}
        /ERROR|Sanitizer: / {end = "brought down"}
        END {printf "%-9s %10d executions %7d a second %s\n", name, n, rate, end
            if (sum) printf "%20d of them refused by the sum, before HDF5\n", sum}' "$log"
done
exit "$bad"
