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
for file in share/man/man1/underfrost.1 share/bash-completion/completions/underfrost; do
    [ -s "$here/usr/$file" ] || { echo "$file was not installed" && exit 1; }
done
if find "$here/usr/include" -name '*_private.h' | grep .; then
    echo "private headers were installed"
    exit 1
fi

echo "== every header stands alone"
find "$here/usr/include/underfrost" -name '*.h' | while read -r header; do
    echo "#include \"$header\"" |
        cc -std=c11 -Wall -Wextra -Werror -I "$here/usr/include/underfrost" -fsyntax-only -x c - ||
        exit 1
done

echo "== by the CMake package"
cmake -S "$source/tests/consumer" -B "$here/consumer" -DCMAKE_PREFIX_PATH="$here/usr" >"$here/log" ||
    { cat "$here/log" && exit 1; }
cmake --build "$here/consumer" >"$here/log" || { cat "$here/log" && exit 1; }
"$here/consumer/consumer"

if command -v pkg-config >/dev/null 2>&1; then
    echo "== by pkg-config"
    pc=$(find "$here/usr" -name underfrost.pc)
    flags=$(PKG_CONFIG_PATH=$(dirname "$pc") pkg-config \
        --define-variable=prefix="$here/usr" \
        --define-variable=includedir="$here/usr/include" \
        --define-variable=libdir="$(dirname "$(dirname "$pc")")" --cflags --libs underfrost)
    cc -std=c11 "$source/tests/consumer/main.c" -o "$here/by_pkg_config" $flags
    "$here/by_pkg_config"
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
if [ "$(id -u)" -ne 0 ]; then
    dpkg-deb -x "$deb" "$here/root"
    "$(find "$here/root" -path '*/bin/underfrost')" --version
    exit 0
fi
mkdir -p "$here/root/var/lib/dpkg/info" "$here/root/var/lib/dpkg/updates"
: >"$here/root/var/lib/dpkg/status"
dpkg --root="$here/root" --force-depends --install "$deb" >"$here/log" 2>&1 ||
    { cat "$here/log" && exit 1; }
"$(find "$here/root" -path '*/bin/underfrost')" --version
dpkg --root="$here/root" --purge underfrost >"$here/log" 2>&1 || { cat "$here/log" && exit 1; }
if find "$here/root" -path "$here/root/var" -prune -o -type f -print | grep .; then
    echo "the package left files behind"
    exit 1
fi
