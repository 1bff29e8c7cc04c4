#!/bin/sh
# The order of the folders: cli -> cli/verify -> io -> solver, rooms in no circle, each foreign
# library in its own files, no output and no file in solver, no file over 400 lines but tables.
#   sh check_layers.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

cd "$2"
bad=0

# forbid WHAT PATTERN FILES...: no line of the files may match.
forbid() {
    what=$1
    pattern=$2
    shift 2
    [ "$#" -gt 0 ] || return 0
    if grep -nE "$pattern" "$@" /dev/null; then
        echo "^^^ $what"
        bad=1
    fi
}

# sources FOLDER...: the source files below the folders.
sources() {
    find "$@" -name '*.[ch]'
}

# others ALLOWED...: every source file but those of the allowed patterns.
others() {
    find solver io cli -name '*.[ch]' "$@"
}

include='^[[:space:]]*#[[:space:]]*include[[:space:]]*'
forbid "solver knows neither io nor cli" "$include\"(io|cli)/" $(sources solver)
forbid "io does not know cli" "$include\"cli/" $(sources io)
forbid "cli/verify knows nothing else of cli" "$include\"cli/($|[^v]|v[^e])" $(sources cli/verify)
forbid "an include is a file beside or a path from the top" "$include\"\.\." $(sources solver io cli)
forbid "solver includes no reader or writer library" \
    "$include[<\"](hdf5|yaml|udunits2|cjson/|cJSON)" $(sources solver)
forbid "HDF5 belongs to io/result alone" "$include[<\"]hdf5" \
    $(others ! -path 'io/result/*')
forbid "zlib belongs to io/result/result_pack.c alone" "$include[<\"]zlib" \
    $(others ! -path 'io/result/result_pack.c')
forbid "libyaml belongs to io/site alone" "$include[<\"]yaml" $(others ! -path 'io/site/*')
forbid "UDUNITS belongs to io/text/units.c alone" "$include[<\"]udunits2" \
    $(others ! -path 'io/text/units.c')
forbid "SUNDIALS belongs to solver/time/season_bdf.c alone" "$include[<\"](cvode|nvector|sun)" \
    $(others ! -path 'solver/time/season_bdf.c')
forbid "KLU belongs to solver/heat/sparse.c, and to SUNDIALS" "$include[<\"](suitesparse/)?klu" \
    $(others ! -path 'solver/time/season_bdf.c' ! -path 'solver/heat/sparse.c')
forbid "solver neither prints, nor opens files, nor ends the program" \
    '(^|[^_[:alnum:]])(printf|fprintf|vprintf|vfprintf|puts|fputs|putchar|perror|fopen|exit|abort|system|popen)[[:space:]]*\(' \
    $(sources solver)
forbid "only main ends the program; a function returns its status" \
    '(^|[^_[:alnum:]])(exit|abort|_exit)[[:space:]]*\(' $(sources io cli)
forbid "unbounded string functions" \
    '(^|[^_[:alnum:]])(strcpy|strcat|sprintf|vsprintf|gets|strtok|atof|atoi)[[:space:]]*\(' \
    $(sources solver io cli)

# Rooms: a folder of solver or io that includes from another stands above it; tsort finds a circle.
for layer in solver io; do
    circle=$(grep -rhoE --with-filename "$include\"$layer/[a-z]+/" "$layer" --include='*.[ch]' |
        sed -nE "s#^($layer/[a-z]+)/[^:]*:.*\"($layer/[a-z]+)/#\1 \2#p" | sort -u |
        awk '$1 != $2' | tsort 2>&1 >/dev/null) || true
    if [ -n "$circle" ]; then
        echo "$circle"
        echo "^^^ rooms of $layer in a circle"
        bad=1
    fi
done

# A table of rows may be as long as it has rows.
table='/(soil_table|site_keys|facts|result_tables)\.c$'
for file in $(sources solver io cli | grep -vE "$table"); do
    lines=$(wc -l <"$file")
    if [ "$lines" -gt 400 ]; then
        echo "$file: $lines lines, more than 400: more than one idea?"
        bad=1
    fi
done
exit "$bad"
