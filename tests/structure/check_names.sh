#!/bin/sh
# Every name that an object of ours exports tells its file: uf_ and the file's stem, so that
# pit.c exports uf_pit or uf_pit_...; a file that continues another (case_check.c beside case.c)
# may use that one's; a table of rows may be the plural (limit.c: uf_limits). And every such name is used
# by the program or stands in a public header: what only tests call is tested through what calls it.
#   sh check_names.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

cd "$2"
command -v nm >/dev/null 2>&1 || {
    echo "no nm"
    exit 77
}

# The only exceptions: the one-line failures and the text of a status, used everywhere.
exceptions=' uf_fail uf_fail_key uf_fail_line uf_status_text main '

# "STEM NAME", and for an object its source, which a tree of today may not have.
names() {
    nm -A -P -g --defined-only "$3/libunderfrost.a" "$3/libuf_io.a" 2>/dev/null |
        sed -n 's/^[^[]*\[\([^]]*\)\.c\.o\]: \([^ ]*\) .*/\1 \2/p'
    find "$3/CMakeFiles/uf_cli_parts.dir" -name '*.c.o' -exec nm -A -P -g --defined-only {} + |
        sed -n 's/^.*uf_cli_parts\.dir\/\(.*\/\([^/]*\)\.c\)\.o: \([^ ]*\) .*/\2 \3 \1/p'
}

list=$(names "$@" | grep -vE ' (__|asan\.|_GLOBAL_)' || true)
[ -n "$list" ] || {
    echo "no symbols found: is the build folder $3 complete?"
    exit 1
}

# What tests alone look through: two texts of a drawing that lie on each other, readers of bytes in memory.
seen='uf_draft_paper uf_paper_clash uf_every_file_read_image uf_result_file_read_image'

# What objects of ours ask of each other.
used=$({
    nm -P -g -u "$3/libunderfrost.a" "$3/libuf_io.a"
    find "$3/CMakeFiles/uf_cli_parts.dir" "$3/CMakeFiles/uf_cli.dir" "$3/CMakeFiles/uf_bridge.dir" \
        -name '*.c.o' -exec nm -P -g -u {} +
} 2>/dev/null | sed -n 's/^\(uf_[^ ]*\) U.*/\1/p' | sort -u)

# In one pass: words of our sources by file, then of the public headers, then the exported names.
public=$(sed -n 's/^#include "\(.*\)"/\1/p' solver/underfrost.h)
{
    for word in $used $seen; do
        echo "$word"
    done
    echo "= names"
    echo "$list"
} | awk -v exceptions="$exceptions" -v headers="$(find solver io cli -name '*.h' | tr '\n' ' ')" '
    BEGIN {
        n = split(headers, path, " ")
        for (i = 1; i <= n; i++) {
            sub(/.*\//, "", path[i])
            sub(/(_private)?\.h$/, "", path[i])
            family[path[i]] = 1
        }
    }
    FNR == 1 { stem = FILENAME; sub(/.*\//, "", stem); there[FILENAME] = 1 }
    FILENAME != "-" && stem ~ /\.c$/ { # lines of a file that hold a word
        split("", line)
        while (match($0, /uf_[A-Za-z0-9_]+/)) {
            word = substr($0, RSTART, RLENGTH)
            if (!(word in line)) lines[stem, word]++
            line[word] = 1
            $0 = substr($0, RSTART + RLENGTH)
        }
        next
    }
    FILENAME != "-" {
        while (match($0, /uf_[A-Za-z0-9_]+/)) {
            known[substr($0, RSTART, RLENGTH)] = 1
            $0 = substr($0, RSTART + RLENGTH)
        }
        next
    }
    $1 == "=" { exported = 1; next }
    !exported { known[$1] = 1; next }
    index(exceptions, " " $2 " ") || ($3 != "" && !($3 in there)) { next }
    {
        if (!($2 in known) && lines[$1 ".c", $2] < 2) {
            print $1 ".c exports " $2 ", which nothing but tests uses"
            bad = 1
        }
        if ($2 == "uf_" $1 || $2 == "uf_" $1 "s" || index($2, "uf_" $1 "_") == 1) next
        first = $1
        sub(/_.*/, "", first)
        if (first in family && index($2, "uf_" first "_") == 1) next
        print $1 ".c exports " $2 ": begin it with uf_" $1 "_, or make it static"
        bad = 1
    }
    END { exit bad }' $(find solver io cli -name '*.c') $public io/bridge/bridge.h -
