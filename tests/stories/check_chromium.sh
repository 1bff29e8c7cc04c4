#!/bin/sh
# Report and installation sheet in a real browser without a screen: no error, no part wider than its page at 360 px,
# on a desktop and on A4 and Letter paper, and paper that comes out.
# Only with UF_TEST_ALL=1 (tests/run.sh --all). Arguments: PROGRAM SOURCE_DIR BUILD_DIR
set -u
program=$1
source=$2
[ "${UF_TEST_ALL-}" = 1 ] || { echo "skipped: only with run.sh --all"; exit 77; }
command -v gnuplot >/dev/null 2>&1 || { echo "skipped: no gnuplot"; exit 77; }
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

# page SITE NAME [OPTIONS]: a report on a coarse grid; every report is looked at the same way.
page() {
    site=$1 name=$2
    shift 2
    "$program" recommend "$source/cli/examples/$site.yaml" --quiet -o "$name" "$@" \
        --set 'grid.finest=150 mm' > /dev/null 2> err
    [ $? -le 1 ] || { cat err; fail "recommend $name"; return; }
    look "$name"
}

# look NAME: opens NAME/report.html at every width and prints it.
look() {
    name=$1
    # Paper is tried as a narrow screen with the rules of paper: 180 mm and 186 mm at 96 per inch.
    sed -e 's/@media print{/@media all{/' -e 's/@media screen/@media speech/' "$name/report.html" > "$name/paper.html"
    cat > "$name/look.html" <<HTML
<!DOCTYPE html><meta charset="utf-8"><title>look</title><body><pre id="seen"></pre><script>
const seen = [];
const views = [["report", 360], ["report", 1100], ["paper", 680], ["paper", 703]];
let left = views.length;
for (const [file, width] of views) {
    const frame = document.createElement("iframe");
    frame.style.width = width + "px"; frame.style.height = "900px"; frame.style.border = "0";
    frame.onload = () => {
        const page = frame.contentDocument.documentElement;
        const bad = [];
        for (const box of frame.contentDocument.querySelectorAll("body *")) {
            const inside = box.closest(".wide, figure");
            if (box.getBoundingClientRect().right > width + 1 &&
                (file == "paper" || !inside || inside == box)) {
                bad.push(box.tagName);
            }
        }
        seen.push("VIEW " + file + " " + width + " is " + page.scrollWidth + " wide, beyond it: [" +
                  bad.slice(0, 5).join(" ") + "]");
        if (--left == 0) { document.getElementById("seen").textContent = seen.join("\n"); }
    };
    frame.src = file + ".html";
    document.body.append(frame);
}
</script></body>
HTML
    run --virtual-time-budget=10000 --dump-dom "file://$work/$name/look.html" > dom 2> log
    grep -q VIEW dom || fail "$name could not be looked at"
    sed -n 's/.*\(VIEW .*\]\).*/\1/p' dom > seen
    [ "$(wc -l < seen)" -eq 4 ] || fail "$name: not every width was looked at"
    while read -r _ file width _ wide _ _ _ bad; do
        [ "$wide" -le "$width" ] || fail "$name: $file is $wide wide on $width"
        [ "$bad" = "[]" ] || fail "$name: $file at $width: too wide: $bad"
    done < seen
    grep CONSOLE log && fail "$name: the browser complains"
    run --no-pdf-header-footer --print-to-pdf="$work/$name.pdf" \
        "file://$work/$name/report.html" > /dev/null 2>&1
    [ "$(head -c 4 "$name.pdf" 2>/dev/null)" = %PDF ] || fail "$name could not be printed"
}

page larch_hollow cylinder
page alder_lane box --units us
page mill_race standing --units us
mkdir sheet_cylinder sheet_box
"$program" sheet "$source/cli/examples/larch_hollow.yaml" --quiet -o sheet_cylinder/report.html ||
    fail "sheet of a cylinder"
look sheet_cylinder
"$program" sheet "$source/cli/examples/alder_lane.yaml" --quiet --units us -o sheet_box/report.html ||
    fail "sheet of a box"
look sheet_box
exit $failed
