#!/bin/sh
# The manual page names every command and sets without a warning; completion completes.
#   sh check_manual.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

program=$1
bad=0
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT

complain() {
    echo "$1"
    bad=1
}

"$program" manual man >"$out/underfrost.1"
"$program" manual bash >"$out/completion"
"$program" manual keys >"$out/keys"
for key in burial.cover board.thickness limits.uplift_factor; do
    grep -qxF "$key" "$out/keys" || complain "manual keys does not list $key"
done
"$program" --help | sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p' >"$out/commands"
while read -r command; do
    grep -q "^\.SS \"$command" "$out/underfrost.1" || complain "the manual page lacks $command"
done <"$out/commands"
if command -v groff >/dev/null 2>&1; then
    groff -man -Tascii -ww -z "$out/underfrost.1" 2>"$out/warnings" || true
    if [ -s "$out/warnings" ]; then
        cat "$out/warnings"
        complain "the manual page sets with warnings"
    fi
fi

# expect WORDS...: completing the last word gives the answer on standard input.
expect() {
    wanted=$(cat)
    got=$(bash -c '. "$0"; COMP_WORDS=(underfrost "$@"); COMP_CWORD=$#; _underfrost
        echo "${COMPREPLY[*]}"' "$out/completion" "$@")
    [ "$got" = "$wanted" ] || complain "completing '$*' gives '$got', not '$wanted'"
}
if command -v bash >/dev/null 2>&1; then
    echo 'recommend' | expect rec
    echo '--jobs' | expect recommend --jo
    echo '' | expect recommend --column
    echo 'us' | expect recommend --units u
    echo 'box' | expect start --shape b
    echo 'flotation' | expect check site.yaml flot
    cd "$out"
    : >larch.yaml
    echo 'larch.yaml' | expect simulate lar
fi
exit "$bad"
