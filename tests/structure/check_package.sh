#!/bin/sh
# The installed library serves a stranger's project, by the CMake package and by pkg-config, and
# the Debian package installs, runs and goes away.
#   sh check_package.sh PROGRAM SOURCE_DIR BUILD_DIR
set -eu

source=$2
build=$3
if grep -q '^CMAKE_C_FLAGS:.*-fsanitize\|^CMAKE_C_FLAGS:.*--coverage' "$build/CMakeCache.txt"; then
    echo "an instrumented build is not for installing"
    exit 77
fi
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT

cmake --install "$build" --prefix "$here/usr" >"$here/log"
PATH=$here/usr/bin:$PATH underfrost --version
for file in share/man/man1/underfrost.1.gz share/bash-completion/completions/underfrost; do
    [ -s "$here/usr/$file" ] || { echo "$file was not installed" && exit 1; }
done
cp "$source/climates/madison.csv" "$here/usr/share/underfrost/climates/only_here.csv"
"$here/usr/bin/underfrost" climate only_here.csv >/dev/null ||
    { echo "an installed program does not find its own data" && exit 1; }
library=$(find "$here/usr" -name 'libunderfrost.so')
include=$here/usr/include/underfrost

echo "== every header stands alone, and only public ones are there"
find "$include" -name '*.h' | while read -r header; do
    echo "#include \"$header\"" |
        cc -std=c11 -Wall -Wextra -Werror -I "$include" -fsyntax-only -x c - || exit 1
done
asked=$(sed -n 's/^#include "\(.*\)"$/\1/p' "$include/underfrost.h" | sort)
there=$(cd "$include" && find . -name '*.h' ! -name underfrost.h | sed 's/^..//' | sort)
[ "$asked" = "$there" ] || { echo "underfrost.h and the installed headers differ" && exit 1; }

echo "== the shared library exports what they declare, and nothing else"
readelf -d "$library" | grep -q 'SONAME.*\[libunderfrost\.so\.[0-9.]*\]' ||
    { echo "no SONAME" && exit 1; }
cc -std=c11 -E -P -I "$include" "$include/underfrost.h" >"$here/declared"
nm -D --defined-only "$library" | sed -n 's/.* [TDRBV] \([^@]*\).*/\1/p' | sort >"$here/exported"
[ -s "$here/exported" ] || { echo "nothing is exported" && exit 1; }
while read -r name; do
    grep -qE "(^|[^_[:alnum:]])$name *[([]" "$here/declared" ||
        { echo "$name is exported and no public header declares it" && exit 1; }
done <"$here/exported"
tr '\n' ' ' <"$here/declared" | sed 's/static inline[^{]*{[^}]*}//g' |
    grep -oE 'uf_[[:alnum:]_]+ *\([^*]' | sed 's/.$//' | tr -d ' (' | sort -u >"$here/functions"
missing=$(comm -23 "$here/functions" "$here/exported")
[ -z "$missing" ] || { echo "declared and not exported: $missing" && exit 1; }

echo "== by the CMake package, shared and static"
cmake -S "$source/tests/consumer" -B "$here/consumer" -DCMAKE_PREFIX_PATH="$here/usr" >"$here/log" ||
    { cat "$here/log" && exit 1; }
cmake --build "$here/consumer" >"$here/log" || { cat "$here/log" && exit 1; }
shared=$("$here/consumer/by_underfrost")
static=$("$here/consumer/by_static")
echo "$shared"
[ "$shared" = "$static" ] || { echo "static: $static" && exit 1; }
readelf -d "$here/consumer/by_underfrost" | grep -q 'NEEDED.*libunderfrost\.so' ||
    { echo "the shared library was not linked" && exit 1; }

if command -v pkg-config >/dev/null 2>&1; then
    echo "== by pkg-config"
    pc=$(find "$here/usr" -name underfrost.pc)
    libdir=$(dirname "$library")
    flags=$(PKG_CONFIG_PATH=$(dirname "$pc") pkg-config --cflags --libs underfrost)
    cc -std=c11 "$source/tests/consumer/main.c" -o "$here/by_pkg_config" $flags -lm
    LD_LIBRARY_PATH=$libdir "$here/by_pkg_config"
fi

if ! command -v dpkg-shlibdeps >/dev/null 2>&1 || ! command -v file >/dev/null 2>&1; then
    echo "no dpkg-dev and file: the Debian package is left out"
    exit 0
fi
echo "== as a Debian package"
(cd "$here" && cpack --config "$build/CPackConfig.cmake" -G DEB -B "$here/pack") >"$here/log" 2>&1 ||
    { cat "$here/log" && exit 1; }
deb=$(find "$here/pack" -maxdepth 1 -name '*.deb')
dpkg-deb --field "$deb" Package Version Depends
if command -v lintian >/dev/null 2>&1; then
    lintian --fail-on error --allow-root "$deb" || exit 1
else
    echo "no lintian: its rules are left out"
fi
if [ "$(id -u)" -ne 0 ]; then
    dpkg-deb -x "$deb" "$here/root"
    "$(find "$here/root" -path '*/bin/underfrost')" --version
    exit 0
fi
mkdir -p "$here/root/var/lib/dpkg/info" "$here/root/var/lib/dpkg/updates"
: >"$here/root/var/lib/dpkg/status"
dpkg --root="$here/root" --force-depends,script-chrootless --install "$deb" >"$here/log" 2>&1 ||
    { cat "$here/log" && exit 1; }
"$(find "$here/root" -path '*/bin/underfrost')" --version
dpkg --root="$here/root" --force-script-chrootless --purge underfrost >"$here/log" 2>&1 || { cat "$here/log" && exit 1; }
if find "$here/root" -path "$here/root/var" -prune -o -type f -print | grep .; then
    echo "the package left files behind"
    exit 1
fi
