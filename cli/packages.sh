#!/bin/sh
# Installs the Debian packages the project needs, only those that are missing, without
# recommended extras.   sh cli/packages.sh build | tests | checks ...
#   build    to build and run the program
#   tests    for tests/run.sh beside those
#   checks   for tests/run.sh --all beside those
set -eu

build='gcc libc6-dev make cmake libsundials-dev libsuitesparse-dev libhdf5-dev
    zlib1g-dev libudunits2-dev libyaml-dev libcjson-dev gnuplot-nox'
tests='clang libclang-rt-14-dev libcriterion-dev pkgconf dpkg-dev file netcdf-bin python3
    python3-xarray python3-h5netcdf'
checks='clang-format clang-tidy cppcheck valgrind chromium lintian python3-matplotlib parallel
    procps slurm-wlm munge podman buildah debootstrap'

wanted=
for set in "$@"; do
    case $set in
    build) wanted="$wanted $build" ;;
    tests) wanted="$wanted $tests" ;;
    checks) wanted="$wanted $checks" ;;
    *)
        echo "packages.sh: '$set' is not known: build, tests or checks" >&2
        exit 2
        ;;
    esac
done

if ! command -v dpkg-query >/dev/null 2>&1; then
    echo "This is not a Debian system. Please see to it that you have:" $wanted
    exit 0
fi

missing=
for package in $wanted; do
    case $(dpkg-query -W -f='${db:Status-Abbrev}' "$package" 2>/dev/null || true) in
    ii*) ;;
    *) missing="$missing $package" ;;
    esac
done
if [ -z "$missing" ]; then
    echo "Debian packages: all there."
    exit 0
fi

echo "Debian packages to install:$missing"
as_root=
if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null 2>&1; then
        echo "This needs root and there is no sudo. As root, run:" >&2
        echo "    apt-get update && apt-get install --no-install-recommends$missing" >&2
        exit 1
    fi
    as_root='sudo'
fi
# A stale list of packages may still do, so a failed update is only told.
$as_root apt-get update -q || echo "packages.sh: the list of packages could not be refreshed" >&2
$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends $missing
