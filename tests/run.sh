#!/bin/sh
# Builds and runs the tests: release with gcc, then with clang under AddressSanitizer and
# UndefinedBehaviorSanitizer, warnings as errors in both. Ends with the count.
#   sh tests/run.sh [--all]
#   --all   also the report in a browser, format, clang-tidy, cppcheck, valgrind, coverage, a short
#           fuzz run, ThreadSanitizer, kills, full disks and every allocation failing
# From any folder. Logs lie in build/logs. What a check needs and is not there: skipped.
set -eu

root=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
cd "$root"
logs=build/logs
passed=0 failed=0 skipped=0
broken=

case ${1-} in
'' | --all) ;;
*)
    echo "usage: sh tests/run.sh [--all]" >&2
    exit 2
    ;;
esac

sh cli/packages.sh build tests
mkdir -p "$logs"

has() {
    command -v "$1" >/dev/null 2>&1
}

# part NAME COMMAND...: one check that is no ctest run, in a shell of its own; 77 = skipped.
part() {
    name=$1
    shift
    code=0
    ("$@") >"$logs/$name.log" 2>&1 || code=$?
    case $code in
    0)
        passed=$((passed + 1))
        echo "$name: passed"
        ;;
    77)
        skipped=$((skipped + 1))
        echo "$name: skipped ($(tail -n 1 "$logs/$name.log"))"
        ;;
    *)
        failed=$((failed + 1))
        broken="$broken $name"
        tail -n 40 "$logs/$name.log"
        echo "$name: FAILED, see $logs/$name.log"
        ;;
    esac
}

# configure FOLDER OPTIONS...: a build folder that was moved is started afresh.
configure() {
    folder=$1
    shift
    cmake -S . -B "$folder" -DUF_WARNINGS_AS_ERRORS=ON "$@" ||
        cmake --fresh -S . -B "$folder" -DUF_WARNINGS_AS_ERRORS=ON "$@"
}

build() {
    configure "$@" && cmake --build "$1" --parallel "$(nproc)"
}

attribute() {
    sed -n "/<testsuite/,/>/s/.*[[:space:]]$2=\"\([0-9]*\)\".*/\1/p" "$1" | head -n 1
}

# Seen once, in the release build: what reads the tree alone, stories of other programs (a browser,
# Python, ncdump, a container) on files of ours, and of answers whose commands run under a sanitizer in
# tests/cli.
once='^check_(container|documents|layers|names|help|manual|readme|width|package|field|chromium|netcdf|python|recommend|recompute|slurm)$'

# tests NAME FOLDER [OPTIONS...]: runs ctest there and adds its counts.
tests() {
    name=$1
    folder=$2
    shift 2
    log=$logs/$name.xml
    rm -f "$log"
    ctest --test-dir "$folder" -j "$(nproc)" --output-on-failure --output-junit "$root/$log" "$@" || true
    if [ ! -s "$log" ]; then
        failed=$((failed + 1))
        broken="$broken $name"
        return
    fi
    all=$(attribute "$log" tests)
    bad=$(attribute "$log" failures)
    left=$(attribute "$log" skipped)
    passed=$((passed + all - bad - left))
    failed=$((failed + bad))
    skipped=$((skipped + left))
    if [ "$bad" -gt 0 ] || [ "$all" -eq 0 ]; then
        broken="$broken $name"
    fi
    if [ "$all" -eq 0 ]; then
        failed=$((failed + 1))
    fi
}

sanitize='-O1 -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all'

echo "== release, gcc"
part build_gcc build build/gcc -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Release
case $broken in
*build_gcc*) ;;
*) tests ctest_gcc build/gcc ;;
esac

echo "== sanitized, clang"
part build_clang build build/clang -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=Debug \
    "-DCMAKE_C_FLAGS=$sanitize" -DCMAKE_C_FLAGS_DEBUG=-gline-tables-only
case $broken in
*build_clang*) ;;
*)
    UF_TEST_LIGHT=1
    export UF_TEST_LIGHT
    tests ctest_clang build/clang -E "$once"
    unset UF_TEST_LIGHT
    ;;
esac

sources() {
    find solver io cli tests -name '*.[ch]' | sort
}

format() {
    has clang-format || { echo "no clang-format" && return 77; }
    sources | xargs clang-format --dry-run -Werror
}

tidy() {
    has clang-tidy || { echo "no clang-tidy" && return 77; }
    # One file at a time: with several, the analyser forgets what va_start did in the first.
    find solver io cli -name '*.c' | sort |
        xargs -n 1 -P "$(nproc)" clang-tidy --quiet -p build/clang
}

cpp_check() {
    has cppcheck || { echo "no cppcheck" && return 77; }
    # What is read before it is written valgrind sees; here an array that a loop fills counts as unset.
    cppcheck --quiet --std=c11 --enable=warning,performance,portability \
        --inline-suppr --suppress=missingIncludeSystem --suppress=uninitvar --suppress=ctuuninitvar \
        --error-exitcode=1 -I . -DUF_VERSION='"0"' \
        -DUF_SOURCE_DIR='"."' -DUF_DATA_DIR='"."' solver io cli
}

# Valgrind on the rooms whose tests took at most three seconds and start no program: it is some forty
# times slower.
quick_rooms() {
    sed -n 's/.*<testcase name="\(test_[a-z_0-9]*\)".* time="\([0-9.]*\)".*/\1 \2/p' \
        "$logs/ctest_gcc.xml" | awk '$2 <= 3 {print $1}' | while read -r name; do
        grep -qE "UF_PROGRAM|program\.h" "tests/$(echo "${name#test_}" | tr _ /)"/*.c || echo "$name"
    done
}

memory() {
    has valgrind || { echo "no valgrind" && return 77; }
    build build/valgrind -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Debug -DCMAKE_C_FLAGS=-O1 ||
        return 1
    bad=0
    rooms=$(quick_rooms)
    [ -n "$rooms" ] || { echo "no room is quick enough" && return 1; }
    for name in $rooms; do
        rm -f "$logs/valgrind_$name".*
        UF_TEST_LIGHT=1 timeout 300 valgrind --quiet --leak-check=full --trace-children=yes \
            --error-exitcode=9 --log-file="$root/$logs/valgrind_$name.%p" \
            "build/valgrind/tests/$name" || bad=1
        if grep -hE 'definitely lost|Invalid|uninitialised' "$logs/valgrind_$name".*; then
            echo "$name: see $logs/valgrind_$name.*"
            bad=1
        else
            rm -f "$logs/valgrind_$name".*
        fi
    done
    return "$bad"
}

# Lines of solver, io and cli that no test has run, file by file.
coverage() {
    has gcov || { echo "no gcov" && return 77; }
    build build/coverage -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Debug \
        '-DCMAKE_C_FLAGS=--coverage -O0' || return 1
    UF_TEST_LIGHT=1 ctest --test-dir build/coverage -j 2 --output-on-failure || return 1
    echo "lines not yet tested:"
    find build/coverage/CMakeFiles -name '*.gcda' | xargs gcov -n 2>/dev/null |
        awk -F"'" '/^File/ {file = $2}
            /^Lines executed/ && file ~ /(solver|io|cli)\/[a-z_0-9\/]*\.c$/ {
                split($0, part, /[:% ]+/); lines = part[5]; share = part[3]
                sub(/.*\/(solver|io|cli)\//, "&", file); n = split(file, path, "/")
                printf "%5.0f of %4d  %s/%s\n", lines * (1 - share / 100), lines, path[n-1], path[n]
                file = ""
            }' | sort -k4 -u | sort -rn
}

# Twenty seconds for each reader, from its corpus and the examples.
fuzz() {
    has clang || { echo "no clang" && return 77; }
    build build/fuzz -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=Debug -DUF_FUZZ=ON \
        "-DCMAKE_C_FLAGS=$sanitize -O2 -fsanitize=fuzzer-no-link" || return 1
    sh tests/fuzz/run.sh build/fuzz 20
}

# Two threads at work on one recommendation, under ThreadSanitizer.
threads() {
    configure build/thread -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Debug \
        '-DCMAKE_C_FLAGS=-O1 -g -fsanitize=thread' || return 1
    cmake --build build/thread --target uf_cli --parallel "$(nproc)" || return 1
    folder=$(mktemp -d)
    code=0
    TSAN_OPTIONS=exitcode=66 build/thread/underfrost recommend cli/examples/larch_hollow.yaml \
        -o "$folder/out" --jobs 2 --set 'grid.finest=400 mm' --quiet || code=$?
    rm -rf "$folder"
    [ "$code" -le 1 ]
}

# Killed, out of disk and out of memory: short forms of what DEVELOPERS.md names.
rough() {
    has python3 || { echo "no python3" && return 77; }
    python3 tests/soak/rough.py kill build/gcc/underfrost 50 || return 1
    [ "$(id -u)" -ne 0 ] || python3 tests/soak/rough.py full build/gcc/underfrost 10 || return 1
    build/gcc/tests/memory all
}

# The report in a browser.
browser() {
    UF_TEST_ALL=1 sh tests/stories/check_chromium.sh "$root/build/gcc/underfrost" "$root" build/gcc
}

# A study as a job array of Slurm.
slurm() {
    UF_TEST_ALL=1 sh tests/stories/check_slurm.sh "$root/build/gcc/underfrost" "$root" build/gcc
}

# The program in a container.
container() {
    UF_TEST_ALL=1 sh tests/stories/check_container.sh "$root/build/gcc/underfrost" "$root"
}

if [ "${1-}" = --all ]; then
    echo "== further checks"
    part chromium browser
    part slurm slurm
    part container container
    part format format
    part clang_tidy tidy
    part cppcheck cpp_check
    part valgrind memory
    part coverage coverage
    [ ! -s "$logs/coverage.log" ] || sed -n '/^lines not yet tested/,$p' "$logs/coverage.log"
    part fuzz fuzz
    part threads threads
    part rough rough
fi

total=$((passed + failed))
echo
[ -z "$broken" ] || echo "FAILED:$broken"
echo "$passed passed, $failed failed, $skipped skipped"
echo "$((total > 0 ? 100 * passed / total : 0))% tests passed, $failed tests failed out of $total"
[ "$failed" -eq 0 ] && [ "$total" -gt 0 ]
