#!/bin/sh
# Report and installation sheet in a real browser without a screen: no error, no part wider than its page at 360 px,
# on a desktop and on A4 and Letter paper, and paper that comes out.
# Only with UF_TEST_ALL=1 (tests/run.sh --all). Arguments: PROGRAM SOURCE_DIR BUILD_DIR
set -u
program=$1
source=$2
[ "${UF_TEST_ALL-}" = 1 ] || { echo "skipped: only with run.sh --all"; exit 77; }
command -v gnuplot >/dev/null 2>&1 || { echo "skipped: no gnuplot"; exit 77; }
. "$source/tests/stories/browser.sh"

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

# book NAME PAPER: the printed package page by page: a page number on each, none under a third full, no
# heading as the last line, the body at most eight pages, every topic that the site has data for in it.
book() {
    command -v pdftotext >/dev/null 2>&1 || { echo "skipped: no pdftotext"; return; }
    sed "s/@page{size:[A-Za-z0-9]*/@page{size:$2/" "$1/report.html" > "$1/book.html"
    run --no-pdf-header-footer --print-to-pdf="$work/$1-$2.pdf" "file://$work/$1/book.html" > /dev/null 2>&1
    pdftotext -bbox "$1-$2.pdf" "$1-$2.html" || fail "$1 on $2: no text"
    /usr/bin/python3 - "$1-$2.html" <<'PY' || fail "$1 on $2: pages"
import re, sys
pages = re.findall(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', open(sys.argv[1], encoding="utf-8").read(), re.S)
appendix = None
heads = []
for number, (width, height, body) in enumerate(pages, 1):
    lines = {}
    for x, y, text in re.findall(r'<word xMin="([\d.]+)" yMin="[\d.]+" xMax="[\d.]+" yMax="([\d.]+)">(.*?)</word>', body):
        lines.setdefault(round(float(y)), []).append((float(x), text))
    text = {y: " ".join(t for _, t in sorted(words)) for y, words in lines.items()}
    foot = max(text)
    assert "page %d of %d" % (number, len(pages)) in text[foot], (number, text[foot])
    content = sorted(y for y in text if y < foot - 5)
    last = text[content[-1]]
    is_head = r"(Appendix [A-Z]|\d+)\. [A-Z][^.]*$"
    assert not re.match(is_head, last), (number, "a heading at the foot", last)
    if number < len(pages):
        assert content[-1] > float(height) / 3, (number, "under a third full", content[-1], height)
    for at, y in enumerate(content):
        if re.match(is_head, text[y]) and number > 1:
            heads.append(text[y])
        if text[y].startswith("Appendix A.") and appendix is None:
            appendix = number if at > 0 else number - 1
assert appendix is not None and appendix <= 8, ("the body ends on page", appendix)
for topic in ("Flotation", "Board under dead", "Suction, fittings", "Clause list"):
    assert any(topic in head for head in heads), (topic, heads)
PY
}

page larch_hollow cylinder --set tank.ends=plane
book cylinder A4
book cylinder letter
page alder_lane box --units us --set tank.ends=plane
page mill_race standing --units us
mkdir sheet_cylinder sheet_box
"$program" sheet "$source/cli/examples/larch_hollow.yaml" --quiet -o sheet_cylinder/report.html ||
    fail "sheet of a cylinder"
look sheet_cylinder
"$program" sheet "$source/cli/examples/alder_lane.yaml" --quiet --units us -o sheet_box/report.html ||
    fail "sheet of a box"
look sheet_box
exit $failed
