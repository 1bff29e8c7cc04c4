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

names() {
    nm -A -P -g --defined-only "$3/libunderfrost.a" "$3/libuf_io.a" 2>/dev/null |
        sed -n 's/^[^[]*\[\([^]]*\)\.c\.o\]: \([^ ]*\) .*/\1 \2/p'
    find "$3/CMakeFiles/uf_cli_parts.dir" -name '*.c.o' | while read -r object; do
        source=${object#*uf_cli_parts.dir/}
        [ -f "${source%.o}" ] || continue # left from a tree that had it
        stem=$(basename "$object" .c.o)
        nm -P -g --defined-only "$object" | sed "s/^\([^ ]*\) .*/$stem \1/"
    done
}

list=$(names "$@" | grep -vE ' (__|asan\.|_GLOBAL_)' || true)
[ -n "$list" ] || {
    echo "no symbols found: is the build folder $3 complete?"
    exit 1
}

# What tests alone look through: two texts of a drawing that lie on each other, readers of bytes in memory.
seen=' uf_draft_paper uf_paper_clash uf_every_file_read_image uf_result_file_read_image '

# What objects of ours ask of each other.
used=$({
    nm -P -g -u "$3/libunderfrost.a" "$3/libuf_io.a"
    find "$3/CMakeFiles/uf_cli_parts.dir" "$3/CMakeFiles/uf_cli.dir" "$3/CMakeFiles/uf_bridge.dir" \
        -name '*.c.o' -exec nm -P -g -u {} +
} 2>/dev/null | sed -n 's/^\(uf_[^ ]*\) U.*/ \1 /p' | sort -u)
public=$(sed -n 's/^#include "\(.*\)"/\1/p' solver/underfrost.h; echo io/bridge/bridge.h)

# idle STEM NAME: neither another object, nor its own file, nor a public header has it.
idle() {
    case "$used$seen" in *" $2 "*) return 1 ;; esac
    [ "$(cat $(find solver io cli -name "$1.c") | grep -cw "$2")" -lt 2 ] || return 1
    ! grep -qw "$2" $public
}

echo "$list" | (
    bad=0
    while read -r stem name; do
        case $exceptions in *" $name "*) continue ;; esac
        if idle "$stem" "$name"; then
            echo "$stem.c exports $name, which nothing but tests uses"
            bad=1
        fi
        case $name in "uf_$stem" | "uf_${stem}s" | "uf_${stem}_"*) continue ;; esac
        family=${stem%%_*}
        if [ -n "$(find solver io cli -name "$family.h" -o -name "${family}_private.h")" ]; then
            case $name in "uf_${family}_"*) continue ;; esac
        fi
        echo "$stem.c exports $name: begin it with uf_${stem}_, or make it static"
        bad=1
    done
    exit "$bad"
)
