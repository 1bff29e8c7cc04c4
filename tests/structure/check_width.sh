#!/bin/sh
# Every answer in text fits 80 columns, in both units, on every example, also with long names.
#   sh check_width.sh PROGRAM SOURCE_DIR BUILD_DIR
set -u

program=$(realpath "$1")
source=$2
PATH=$source/tests/stand_in:$PATH # no picture is measured
export PATH
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
bad=0
ran=0
long='A reservoir for the fire brigade with a name that is a good deal longer than any column of a table'
probe='the pipe from the far end to the pump house by the lane'

# fits WORDS...: runs the program; what an example does not hold (exit 2) is not measured.
fits() {
    may_refuse=2
    [ "$1" != must ] || { may_refuse=1; shift; }
    "$program" "$@" >"$folder/out" 2>"$folder/err"
    code=$?
    if [ "$code" -gt 1 ]; then
        [ "$code" -eq "$may_refuse" ] || { echo "exit $code: $*"; head -3 "$folder/err"; bad=1; }
        return 0
    fi
    ran=$((ran + 1))
    # awk counts bytes in some locales: continuation bytes of UTF-8 are taken out first.
    LC_ALL=C tr -d '\200-\277' <"$folder/out" | LC_ALL=C awk -v what="$*" '
        length($0) > 80 { print what ": " length($0) " columns: " $0; wide = 1 }
        END { exit wide }' || bad=1
}

cd "$folder" || exit 1
coarse="--set grid.finest=400mm --set tank.ends=plane"
# shellcheck disable=SC2086
for units in si us; do
    for site in larch_hollow alder_lane mill_race bare_ground; do
        file=$source/cli/examples/$site.yaml
        for command in simulate compare check sheet; do
            fits "$command" "$file" --units $units $coarse
        done
    done
    file=$source/cli/examples/larch_hollow.yaml
    fits must simulate "$file" --units $units $coarse --set "site.name=$long" --set "probes[0].name=$probe" \
        --set "pipes[0].name=$probe" --set "drawing.routes[0].pipe=$probe" -o $units.h5
    fits must compare "$file" --units $units $coarse --set "site.name=$long" --set "probes[0].name=$probe" -o two.$units.h5
    fits must compare $units.h5 two.$units.h5 --units $units
    fits must check "$file" --units $units $coarse --set "site.name=$long"
    fits must sheet "$file" --units $units --set "site.name=$long"
    fits must recommend "$file" --units $units $coarse --set "site.name=$long" \
        --set "probes[0].name=$probe" --set 'choices.cover=[1.2 m, 1.5 m]' \
        --set 'choices.thickness=[0 mm, 100 mm]' -o "folder.$units"
    fits must manual tables --units $units
    fits must climate madison.csv --units $units
    fits must climate winnipeg.csv --column calgary --units $units
done
fits must plot --list
fits must verify --list
fits must start --climate madison.csv --shape box -o box.yaml
if [ "$ran" -lt 45 ]; then
    echo "only $ran answers were measured"
    bad=1
fi
exit "$bad"
