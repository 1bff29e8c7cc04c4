#!/bin/sh
# From a fresh clone to a recommendation: installs what is missing, builds the program, runs the
# example site, says where to look. From any folder, as often as you like; the answer is written
# to larch_hollow in the folder you are in.
set -eu

root=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
build=$root/build/release
site=$root/cli/examples/larch_hollow.yaml
result=larch_hollow

echo "== 1 of 3: packages"
sh "$root/cli/packages.sh" build

echo "== 2 of 3: build, into $build"
configure() {
    cmake "$@" -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DUF_TESTS=OFF
}
log=$(mktemp)
trap 'rm -f "$log"' EXIT
# A build folder that was moved, or left half made, is started afresh.
if ! configure >"$log" 2>&1 && ! configure --fresh >"$log" 2>&1; then
    cat "$log" >&2
    exit 1
fi
cmake --build "$build" --parallel "$(nproc)" --target uf_cli

echo "== 3 of 3: underfrost recommend cli/examples/larch_hollow.yaml -o $result --force"
code=0
"$build/underfrost" recommend "$site" -o "$result" --force || code=$?
if [ "$code" -gt 1 ]; then
    exit "$code"
fi

for file in result.h5 report.html; do
    if [ ! -s "$result/$file" ]; then
        echo "quickstart.sh: $PWD/$result/$file was not written" >&2
        exit 3
    fi
done

echo
echo "Program:   $build/underfrost"
echo "Site file: $site"
echo "Result:    $PWD/$result/result.h5"
echo "Report:    $PWD/$result/report.html"
echo "Pictures:"
find "$PWD/$result" -type f \( -name '*.png' -o -name '*.svg' -o -name '*.pdf' \) | sort |
    sed 's/^/    /'
exit "$code"
