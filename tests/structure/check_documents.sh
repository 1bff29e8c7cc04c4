#!/bin/sh
# Every file and folder that the documents name in backquotes is there, and DEVELOPERS.md says of every
# topic of verify what it proves.
#   sh check_documents.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

cd "$2"
bad=0
for document in README.md DEVELOPERS.md climates/README.md; do
    for path in $(grep -oE '`(solver|io|cli|tests|climates|plots)/[A-Za-z0-9_./*]*`' "$document" |
        tr -d '`' | sort -u); do
        # shellcheck disable=SC2086
        ls -d $path >/dev/null 2>&1 || {
            echo "$document names $path, which is not there"
            bad=1
        }
    done
done
for topic in $("$1" verify --list | sed -n 's/^  \([a-z0-9_][a-z0-9_]*\)  .*/\1/p'); do
    grep -qE "^\| .*\`$topic\`" DEVELOPERS.md || {
        echo "DEVELOPERS.md does not say what verify $topic proves"
        bad=1
    }
done
exit "$bad"
