#!/bin/sh
# Runs what the documents tell a person to type. In README.md and DEVELOPERS.md a fence marked
#   ```sh run          is run and must end with 0;   ```sh run 1   must end with 1
#   ```yaml file NAME  is first written to NAME
# All of a document, in order, in one fresh folder where cli, climates and plots can be seen.
#   sh check_readme.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

program=$(realpath "$1")
source=$2
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
mkdir "$here/bin"
ln -s "$program" "$here/bin/underfrost"
PATH=$here/bin:$source/tests/stand_in:$PATH # that pictures are drawn is for other tests
export PATH

# Cuts a document into numbered blocks: N.kind holds the words after the fence, N.text the lines.
cut_blocks() {
    awk -v folder="$2" '
        /^```/ && !inside {
            inside = 1; kind = substr($0, 4)
            keep = kind ~ /^sh run( [0-9]+)?$/ || kind ~ /^[a-z]+ file [^ \/]+$/
            if (keep) {
                n++; base = sprintf("%s/%03d", folder, n)
                print kind > (base ".kind"); close(base ".kind")
                printf "" > (base ".text")
            }
            next
        }
        /^```/ { if (keep) close(base ".text"); inside = 0; keep = 0; next }
        inside && keep { print > (base ".text") }' "$1"
}

bad=0
blocks=0
for document in README.md DEVELOPERS.md; do
    [ -f "$source/$document" ] || continue
    folder=$here/$document.d
    mkdir -p "$folder/blocks" "$folder/work"
    for seen in cli climates plots; do
        [ ! -e "$source/$seen" ] || ln -s "$source/$seen" "$folder/work/$seen"
    done
    cut_blocks "$source/$document" "$folder/blocks"
    for kind_file in "$folder"/blocks/*.kind; do
        [ -f "$kind_file" ] || continue
        kind=$(cat "$kind_file")
        text=${kind_file%.kind}.text
        blocks=$((blocks + 1))
        case $kind in
        *' file '*) cp "$text" "$folder/work/${kind##* }" ;;
        *)
            wanted=${kind#sh run}
            code=0
            (cd "$folder/work" && sh -eu "$text") >"$folder/log" 2>&1 </dev/null || code=$?
            if [ "$code" -ne "${wanted:-0}" ]; then
                echo "$document: this ended with $code, not ${wanted:-0}:"
                cat "$text" "$folder/log"
                bad=1
            fi
            ;;
        esac
    done
done
[ "$blocks" -gt 0 ] || {
    echo "no document has a block to run"
    exit 77
}
exit "$bad"
