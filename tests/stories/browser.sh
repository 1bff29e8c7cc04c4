# For the stories in a real browser without a screen, which read it with `.`: skipped where there is none. Then $work,
# a folder of their own that they stand in, `fail WORDS`, and `run OPTIONS... URL`.
browser=
for name in chromium chromium-browser; do
    command -v "$name" >/dev/null 2>&1 && browser=$name && break
done
[ -n "$browser" ] || { echo "skipped: no chromium"; exit 77; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work" || exit 1
failed=0
fail() { echo "FAILED: $1"; failed=1; }
run() {
    timeout 120 "$browser" --headless --no-sandbox --disable-gpu --no-first-run \
        --user-data-dir="$work/profile" --allow-file-access-from-files --enable-logging=stderr "$@"
}
