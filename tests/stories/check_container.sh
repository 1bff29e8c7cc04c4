#!/bin/sh
# The program in a container: the image of cli/Containerfile is built and a design run in it, whose
# answer is this machine's to the byte.
#   check_container.sh UNDERFROST ROOT
# The base image comes from debootstrap where that is installed, else from a registry. Where podman
# may start nothing (no cgroups of its own, limits that may not be raised) buildah runs the image in a
# chroot. The images lie in a folder of their own, which goes at the end.
# Part of tests/run.sh --all (UF_TEST_ALL=1): Debian is fetched and the program built once more.
set -eu
[ "${UF_TEST_ALL-}" = 1 ] || {
    echo "skipped: only with run.sh --all"
    exit 77
}
underfrost=$1
root=$2
command -v podman >/dev/null || {
    echo "skipped: no podman here"
    exit 77
}
tmp=$(mktemp -d)
store="--root $tmp/store --runroot $tmp/run --storage-driver vfs"
drop() {
    podman $store rmi --all --force >/dev/null 2>&1 || true
    rm -rf "$tmp"
}
trap drop EXIT

if command -v debootstrap >/dev/null && [ "$(id -u)" = 0 ]; then
    debootstrap --variant=minbase bookworm "$tmp/base" >"$tmp/log" 2>&1 || {
        tail -5 "$tmp/log"
        echo "skipped: debootstrap reaches no Debian"
        exit 77
    }
    tar -C "$tmp/base" -c . | podman $store import - debian:12 >/dev/null
elif ! podman $store pull debian:12 >"$tmp/log" 2>&1; then
    tail -2 "$tmp/log"
    echo "skipped: no base image, neither by debootstrap as root nor from a registry"
    exit 77
fi

mkdir "$tmp/tree"
git -C "$root" archive HEAD | tar -C "$tmp/tree" -x
podman $store build --isolation chroot --network host -f "$tmp/tree/cli/Containerfile" -t underfrost \
    "$tmp/tree" >"$tmp/log" 2>&1 || {
    tail -20 "$tmp/log"
    echo "FAILED: the image is not built"
    exit 1
}

mkdir "$tmp/w"
cp "$root/cli/examples/larch_hollow.yaml" "$tmp/w/site.yaml"
ask="simulate site.yaml --set tank.ends=plane --json"
if podman $store run --rm -v "$tmp/w:/w" underfrost $ask >"$tmp/inside.json" 2>"$tmp/log"; then
    how="podman"
else
    tail -1 "$tmp/log"
    how="buildah in a chroot"
    name=$(buildah $store from underfrost)
    buildah $store run --isolation chroot -v "$tmp/w:/w" "$name" -- underfrost $ask >"$tmp/inside.json"
    buildah $store rm "$name" >/dev/null
fi
(cd "$tmp/w" && "$underfrost" $ask) >"$tmp/outside.json"
cmp "$tmp/inside.json" "$tmp/outside.json" || {
    echo "FAILED: the container answers otherwise"
    exit 1
}
echo "built, and run by $how: the same bytes as here"
