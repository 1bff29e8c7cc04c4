#!/bin/sh
# A study from plan to pictures: shards, kill and resume, the same bytes, what is missing, what fails,
# what changed. GNU parallel where it is installed.
#   sh check_study.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

program=$1
source=$2
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
cd "$out"

fail() {
    echo "$1"
    exit 1
}
# expect CODE ARGUMENTS...: runs the program, output into log.
expect() {
    wanted=$1
    shift
    code=0
    "$program" "$@" >log 2>&1 || code=$?
    [ "$code" -eq "$wanted" ] || { cat log; fail "underfrost $*: exit $code, not $wanted"; }
}

cp "$source/cli/examples/larch_hollow.yaml" site.yaml
cat >plan.yaml <<'END'
site: site.yaml
stations: [{file: winnipeg.csv, column: winnipeg}, {file: madison.csv}]
winters: [1 in 10, 1 in 100]
set:
  tank.ends: plane
  grid.finest: 500 mm
  choices.cover: [1.2 m, 1.5 m]
  choices.thickness: [0 mm, 100 mm]
  choices.beyond_tank: [0.6 m]
draws:
  members: 5
  seed: 1
  keys:
    ground[1].moisture: {uniform: [15 percent, 25 percent]}
    groundwater.winter: {normal: [2.0 m, 0.1 m]}
  correlations: [["ground[1].moisture", groundwater.winter, -0.5]]
reliability: 1 in 5 years
END

expect 2 study run plan.yaml -o one
grep -q 'study plan' log || fail "no word that the plan must be frozen first"
expect 0 study plan plan.yaml -o one
grep -q "^80 cases" log || fail "not 80 cases: $(cat log)"
expect 1 study gather plan.yaml -o one
grep -q 'missing: cases 0 to 79' log || fail "what is missing is not told"
expect 0 study run plan.yaml -o one -j 1
expect 0 study gather plan.yaml -o one -q
[ ! -s log ] || fail "gather -q is not silent: $(cat log)"

# Shards, one of them killed in the middle and run again, two jobs at once.
expect 0 study plan plan.yaml -o many
"$program" study run plan.yaml -o many --shard 2/3 -j 1 -q &
victim=$!
while [ "$(wc -l <many/part_00002_of_00003.txt 2>/dev/null || echo 0)" -lt 4 ]; do
    kill -0 $victim 2>/dev/null || break
    sleep 0.02
done
kill -9 $victim 2>/dev/null || true
wait $victim 2>/dev/null || true
before=$(wc -l <many/part_00002_of_00003.txt)
[ "$before" -lt 28 ] || echo "note: the shard was done before it was killed"
printf '5 1 0x1p' >>many/part_00002_of_00003.txt
for shard in 3 1 2; do
    expect 0 study run plan.yaml -o many --shard $shard/3 -j 2
done
grep -q "$((before - 1)) were there" log || fail "it did not go on where it was: $(cat log)"
expect 0 study gather plan.yaml -o many
cmp one/study.nc many/study.nc || fail "shards changed the study"

# A polite end after the case in hand; then on.
expect 0 study plan plan.yaml -o polite
"$program" study run plan.yaml -o polite -j 1 -q &
victim=$!
while [ "$(wc -l <polite/part_00001_of_00001.txt 2>/dev/null || echo 0)" -lt 4 ]; do
    kill -0 $victim 2>/dev/null || break
    sleep 0.02
done
kill -TERM $victim 2>/dev/null || true
code=0
wait $victim || code=$?
[ "$code" -eq 130 ] || [ "$code" -eq 0 ] || fail "SIGTERM: exit $code"
tail -c 1 polite/part_00001_of_00001.txt | od -An -c | grep -q '\\n' || fail "a line was left torn"
expect 0 study run plan.yaml -o polite -j 2
expect 0 study gather plan.yaml -o polite
cmp one/study.nc polite/study.nc || fail "a stop changed the study"

# Members that differ in soil alone run in lanes, from the start of the design they are drawn round: the
# same bytes however they are shared.
sed -e '/groundwater.winter/d' -e 's/members: 5/members: 9/' -e 's/, {file: madison.csv}//' \
    plan.yaml >lanes.yaml
expect 0 study plan lanes.yaml -o lanes_one
expect 0 study run lanes.yaml -o lanes_one -j 1
expect 0 study gather lanes.yaml -o lanes_one
expect 0 study plan lanes.yaml -o lanes_many
for shard in 2 3 1; do
    expect 0 study run lanes.yaml -o lanes_many --shard $shard/3 -j 2
done
expect 0 study gather lanes.yaml -o lanes_many
cmp lanes_one/study.nc lanes_many/study.nc || fail "shards changed a study in lanes"

# What it says.
expect 0 study show plan.yaml -o one
grep -q 'Smallest option' log || fail "no smallest option"
! LC_ALL=C awk 'length > 80' log | grep . || fail "wider than 80 columns"
[ -s one/study.png ] && [ -s one/map.png ] || fail "no pictures"
expect 0 study show plan.yaml -o one --json
grep -q '"fails_high"' log || fail "no interval in the JSON"

# A draw outside the range of its key fails alone.
sed 's/normal: \[2.0 m, 0.1 m\]/uniform: [-2.0 m, 3.0 m]/' plan.yaml >wide.yaml
expect 0 study plan wide.yaml -o wide
expect 0 study run wide.yaml -o wide -j 2
grep -q '32 of them failed' log || fail "not 32 failures: $(cat log)"
expect 0 study gather wide.yaml -o wide
grep -q '^failed: 32' log || fail "failures are not counted"

# Anything that changed is told, and the parts stay.
sed 's/1.5 m, 1.8 m\]/1.5 m, 1.9 m]/' site.yaml >other && mv other site.yaml
expect 2 study run plan.yaml -o one
grep -q "site: " log || fail "what changed is not told: $(cat log)"
expect 2 study plan plan.yaml -o one
expect 0 study plan plan.yaml -o one --force
expect 1 study gather plan.yaml -o one

# A shard that is not one, a verb that is none.
expect 2 study run plan.yaml -o one --shard 4/3
expect 2 study walk plan.yaml

if [ -n "${UF_TEST_LIGHT-}" ]; then
    echo "GNU parallel: seen in the release build"
elif command -v parallel && command -v pkill && command -v setsid; then
    cp "$source/cli/examples/larch_hollow.yaml" site.yaml
    expect 0 study plan plan.yaml -o engine
    expect 0 study submit plan.yaml -o engine --parallel --shards 4
    setsid sh engine/parallel.sh >log 2>&1 & # a session of its own, so that all of it can be killed
    victim=$!
    while [ "$(cat engine/part_*_of_00004.txt 2>/dev/null | wc -l)" -lt 6 ]; do
        kill -0 $victim 2>/dev/null || break
        sleep 0.02
    done
    pkill -9 -s "$victim" || true
    wait $victim 2>/dev/null || true
    expect_code=0
    sh engine/parallel.sh >log 2>&1 || expect_code=$?
    [ "$expect_code" -eq 0 ] || { cat log; fail "GNU parallel, the second time: exit $expect_code"; }
    cmp many/study.nc engine/study.nc || fail "GNU parallel changed the study"
    echo "GNU parallel: killed and resumed, the same bytes"
else
    echo "no GNU parallel: skipped"
fi
