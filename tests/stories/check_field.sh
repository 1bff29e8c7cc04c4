#!/bin/sh
# The field record in a real browser without a screen, at 360 px: readings are typed, the page is loaded again, the
# file is downloaded, and `check roundness` says of it what the page said.
# Skipped where there is no chromium. Arguments: PROGRAM SOURCE_DIR BUILD_DIR
set -u
program=$1
source=$2
. "$source/tests/stories/browser.sh"

# record NAME UNITS TYPED: types the readings, loads the page again and presses Download; NAME.csv is what came,
# NAME.words the verdicts that the page shows, in the order of the file.
record() {
    name=$1 units=$2 typed=$3
    "$program" sheet "$source/cli/examples/larch_hollow.yaml" --quiet --units "$units" --field -o "$name.html" ||
        fail "$name: no page"
    grep -Eq 'https?://|<link|src=' "$name.html" && fail "$name: asks for the network"
    cat > look.html <<HTML
<!DOCTYPE html><meta charset="utf-8"><body><pre id="seen"></pre><iframe id="page" style="width:360px;height:900px"></iframe>
<script>
const frame = document.getElementById("page"), typed = $typed;
let turn = 0;
const type = page => {
    for (const [id, text] of Object.entries(typed)) {
        const input = page.getElementById(id);
        input.value = text;
        input.dispatchEvent(new Event("input", {bubbles: true}));
    }
};
const download = async (page, view) => {
    let got = null;
    const kept = view.URL.createObjectURL;
    view.URL.createObjectURL = blob => { got = blob; return kept.call(view.URL, blob); };
    let name = "";
    view.HTMLAnchorElement.prototype.click = function () { name = this.download; };
    page.getElementById("download").click();
    const words = [...page.querySelectorAll("output")].filter(o => /-o[0-9]/.test(o.id) && o.textContent);
    const levels = [...page.querySelectorAll("output")].filter(o => /-ol/.test(o.id) && o.textContent);
    const bad = [...page.querySelectorAll("input[aria-invalid=true]")].map(i => i.id);
    document.getElementById("seen").textContent = "WIDE " + page.documentElement.scrollWidth + "\nBAD " + bad +
        "\nNAME " + name + "\nWORDS " + words.map(o => o.textContent).join(" ") + "\nLEVELS " + levels.map(o => o.textContent).join(" ") +
        "\nKEEP " + page.getElementById("s1-s1").textContent + "\nCSV\n" + await got.text() + "END";
};
frame.onload = () => {
    const page = frame.contentDocument, view = frame.contentWindow;
    turn += 1;
    if (turn == 1) { type(page); view.location.reload(); }
    else { download(page, view); }
};
frame.src = "$name.html";
</script></body>
HTML
    run --virtual-time-budget=10000 --dump-dom "file://$work/look.html" > dom 2> log
    sed -n '/>CSV$/,/^END/p; /^CSV$/,/^END/p' dom | sed '1d; /^END/d' > "$name.csv"
    sed -n 's/.*WIDE \([0-9]*\)$/\1/p' dom > "$name.wide"
    sed -n 's/^WORDS //p' dom > "$name.words"
    sed -n 's/^LEVELS //p' dom > "$name.levels"
    sed -n 's/^KEEP //p' dom > "$name.keep"
    sed -n 's/^BAD //p' dom > "$name.bad"
    grep -qx 'NAME record.csv' dom || fail "$name: no file is offered"
    [ -s "$name.csv" ] || { fail "$name: nothing was downloaded"; tail -5 log; return; }
    [ "$(cat "$name.wide")" -le 360 ] || fail "$name: wider than a phone"
}

# judged NAME: the verdicts of check roundness, in the order of the file.
judged() {
    "$program" check "$source/cli/examples/larch_hollow.yaml" roundness --readings "$1.csv" --json > "$1.json" 2> err
    [ $? -le 1 ] || { cat err; fail "$1: check roundness"; }
    tr -d '\n\t' < "$1.json" | sed 's/.*"readings"//' | grep -o '"verdict":"[A-Z]*"' | sed 's/.*:"//; s/"//' |
        tr '\n' ' ' | sed 's/ $//'
}

# By hand, limit 1 percent of 2380: 23.8 mm. 2364 is past 70 percent of it, 2356 past it; 2384 at the sides is nothing.
record si si '{"s0-v1": "2380", "s0-h1": "2382", "s0-v2": "2381", "s0-n": "97.410", "s0-f": "97.412",
    "s1-v1": "2364", "s1-h1": "2384", "s2-v1": "2356", "s2-v2": "2381", "s2-n": "97.398", "s2-b": "R, M", "s3-v1": "23x"}'
[ "$(cat si.words)" = "GO GO WATCH STOP GO" ] || fail "si: the page says $(cat si.words)"
[ "$(cat si.levels)" = "GO WATCH" ] || fail "si: of the levels it says $(cat si.levels)"
[ "$(cat si.bad)" = s3-v1 ] || fail "si: not refused: $(cat si.bad)"
[ "$(cat si.keep)" = "keep 2357 to 2403 mm" ] || fail "si: $(cat si.keep)"
head -1 si.csv | grep -qx 'at,station,diameter,horizontal,level,far_level,date,by' || fail "si: heading"
grep -q '^tied down; slings off,1,2356 mm,,97.398 m,,,"R, M"$' si.csv || { cat si.csv; fail "si: a row"; }
# The check's word counts the stage's level, which is 12 of 15 mm down.
[ "$(judged si)" = "GO GO WATCH STOP GO" ] || fail "si: check roundness says $(judged si)"

# Inches and fractions: 93 3/4 less 1 percent is 92 13/16 itself, so 92 3/4 is past it.
record us us '{"s0-v1": "93 3/4", "s1-v1": "93 7/16", "s2-v1": "92 3/4", "s2-n": "-0.25"}'
[ "$(cat us.words)" = "GO GO STOP" ] || fail "us: the page says $(cat us.words)"
[ "$(cat us.keep)" = "keep 92 13/16 to 94 11/16 in" ] || fail "us: $(cat us.keep)"
[ "$(judged us)" = "GO GO STOP" ] || fail "us: check roundness says $(judged us)"
exit $failed
