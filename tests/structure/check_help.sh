#!/bin/sh
# Every command explains itself and refuses what it does not know, with a remedy.
#   sh check_help.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

program=$1
bad=0
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT

complain() {
    echo "$1"
    bad=1
}

# expect CODE ARGUMENTS...: runs the program, output into $out/out and $out/err.
expect() {
    wanted=$1
    shift
    code=0
    "$program" "$@" >"$out/out" 2>"$out/err" </dev/null || code=$?
    [ "$code" -eq "$wanted" ] || complain "underfrost $*: exit $code, not $wanted"
}

expect 0 --version
grep -qE '^underfrost [0-9]+\.[0-9]+' "$out/out" || complain "--version names no version"
expect 2
expect 2 recomend
grep -qE "did you mean|--help" "$out/err" || complain "a mistyped command gets no remedy"
expect 2 --json nonsense
grep -q '"errors"' "$out/out" || complain "--json: errors are no JSON"
expect 0 --help
cp "$out/out" "$out/program"
commands=$(sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p' "$out/program")
[ -n "$commands" ] || complain "--help lists no commands"
for command in recommend simulate compare check sheet plot export climate score study start verify manual; do
    case " $(echo $commands) " in *" $command "*) ;; *) complain "no command $command" ;; esac
done

for command in $commands; do
    expect 0 "$command" --help
    cp "$out/out" "$out/help"
    grep -q "^usage: underfrost $command" "$out/out" || complain "$command --help: no usage line"
    awk -v c="$command" 'length($0) > 80 {print c " --help is too wide: " $0; e = 1} END {exit e}' \
        "$out/out" || bad=1
    [ ! -s "$out/err" ] || complain "$command --help wrote to standard error"
    expect 2 "$command" --no-such-option
    grep -qE "did you mean|--help" "$out/err" || complain "$command --no-such-option: no remedy"
    [ ! -s "$out/out" ] || complain "$command --no-such-option wrote to standard output"
    expect 2 "$command" --units furlongs
    grep -q 'us or si' "$out/err" || complain "$command --units furlongs: no remedy"
    expect 2 "$command" --quiet=1
    # A file is asked for: its absence is told, not guessed around.
    if grep -qE '^usage: underfrost [a-z]+ \[OPTIONS\] [A-Z]' "$out/help"; then
        expect 2 "$command"
        grep -q "underfrost $command" "$out/err" || complain "$command alone: no remedy"
    fi
done
exit "$bad"
