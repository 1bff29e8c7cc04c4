#!/bin/sh
# The order of the folders: cli -> io -> solver, each foreign library in its own files, no output
# and no file in solver, no file over 400 lines.   sh check_layers.sh PROGRAM SOURCE_DIR BUILD_DIR
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

# others FOLDERS ALLOWED...: every source file of the folders but those of the allowed patterns.
others() {
    folders=$1
    shift
    set -- $folders -name '*.[ch]' "$@"
    find "$@"
}

include='^[[:space:]]*#[[:space:]]*include[[:space:]]*'
forbid "solver knows neither io nor cli" "$include\"(\.\./)?(io|cli)/" solver/*.[ch]
forbid "io does not know cli" "$include\"(\.\./)?cli/" io/*.[ch]
forbid "solver includes no reader or writer library" \
    "$include[<\"](hdf5|yaml|udunits2|cjson/|cJSON)" solver/*.[ch]
forbid "HDF5 belongs to io/result_*.c alone" "$include[<\"]hdf5" \
    $(others 'solver io cli' ! -path 'io/result_*.[ch]')
forbid "packers belong to io/result_pack.c alone" "$include[<\"](zlib|isa-l)" \
    $(others 'solver io cli' ! -path 'io/result_pack.c')
forbid "libyaml belongs to io/site_*.c alone" "$include[<\"]yaml" \
    $(others 'solver io cli' ! -path 'io/site_*.[ch]')
forbid "UDUNITS belongs to io/units.c alone" "$include[<\"]udunits2" \
    $(others 'solver io cli' ! -path 'io/units.c')
forbid "SUNDIALS belongs to solver/season_bdf.c alone" "$include[<\"](cvode|nvector|sun)" \
    $(others 'solver io cli' ! -path 'solver/season_bdf.c')
forbid "KLU belongs to solver/sparse.c, and to SUNDIALS" "$include[<\"](suitesparse/)?klu" \
    $(others 'solver io cli' ! -path 'solver/season_bdf.c' ! -path 'solver/sparse.c')
forbid "solver neither prints, nor opens files, nor ends the program" \
    '(^|[^_[:alnum:]])(printf|fprintf|vprintf|vfprintf|puts|fputs|putchar|perror|fopen|exit|abort|system|popen)[[:space:]]*\(' \
    solver/*.[ch]
forbid "only main ends the program; a function returns its status" \
    '(^|[^_[:alnum:]])(exit|abort|_exit)[[:space:]]*\(' io/*.[ch] cli/*.[ch]
forbid "unbounded string functions" \
    '(^|[^_[:alnum:]])(strcpy|strcat|sprintf|vsprintf|gets|strtok|atof|atoi)[[:space:]]*\(' \
    solver/*.[ch] io/*.[ch] cli/*.[ch]

for file in solver/*.[ch] io/*.[ch] cli/*.[ch]; do
    lines=$(wc -l <"$file")
    if [ "$lines" -gt 400 ]; then
        echo "$file: $lines lines, more than 400: more than one idea?"
        bad=1
    fi
done
exit "$bad"
