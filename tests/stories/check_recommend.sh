#!/bin/sh
# Stories of recommend, compare and sheet with a real gnuplot: what is written, what is answered,
# what is refused. Arguments: PROGRAM SOURCE_DIR BUILD_DIR
set -u
program=$1
command -v gnuplot >/dev/null 2>&1 || { echo "skipped: no gnuplot"; exit 77; }
command -v python3 >/dev/null 2>&1 || { echo "skipped: no python3"; exit 77; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work" || exit 1
failed=0
fail() { echo "FAILED: $1"; failed=1; }

site() { # name, limits
cat > "$1.yaml" <<SITE
site: {name: 'Alder & <script>alert(1)</script> "quoted" \`date\` tank'}
climate: {cycle: {mean: 5 degC, amplitude: 14 K, coldest: 20 day}}
surface: {film: 15 W/m2/K, snow: none}
ground: [{to: 8 m, soil: silt}]
groundwater: {highest: 0.5 m}
tank: {shape: horizontal_cylinder, diameter: 1.6 m, length: 4 m, heads: flat, ends: plane, empty_mass: 400 kg,
       contents: {level: 1.4 m, start: 6 degC, water: mixed}}
burial: {cover: 1.2 m, bedding: 0.2 m, pit: {clearance: 0.5 m, slope: 1, soil_class: B},
         backfill: {soil: pea_gravel}}
board: {type: XPS_IV, thickness: 50 mm, beyond_tank: 0.6 m, above_crown: 0.1 m}
anchors: {deadmen: {count: 2, width: 0.4 m, height: 0.4 m, length: 4 m}, straps: 2}
probes: [{name: 'outlet '' quote', x: 0 m, above_invert: 0.1 m, least: 0 degC}]
limits: $2
choices: {cover: [1.0 m, 1.4 m], thickness: [0 mm, 50 mm], beyond_tank: [0.6 m]}
costs: {currency: CAD, excavation: 25 /m3, board: 240 /m3, concrete: 450 /m3, backfill: 35 /m3}
sensitivity: {leave_out: [ends]}
grid: {finest: 300 mm, width: 8 m, depth: 8 m}
SITE
}

site good '{water: 0.5 degC, uplift_factor: 1.1}'
site bad '{water: 9 degC, uplift_factor: 1.1}'

"$program" recommend good.yaml --nominal --json --force > good.json 2> good.err
rc=$?; [ $rc -eq 0 ] || { fail "a feasible site ends with 0"; cat good.err; }
for file in result.h5 report.html summary.csv section.png frost.png water.png choices.png uplift.png; do
    [ -s "good/$file" ] || fail "good/$file is missing"
done
python3 - <<'PY' || fail "JSON or report"
import json
from html.parser import HTMLParser

answer = json.load(open("good.json"))
assert len(answer["choices"]) == 4, len(answer["choices"])
for row in answer["choices"]:
    for key in ("cover_m", "thickness_m", "beyond_tank_m", "water_min_degC", "uplift_factor",
                "board_use", "cost", "ok", "governs"):
        assert key in row, key
pick = answer["choices"][answer["pick"]]
assert pick["ok"]
assert pick["cost"] == min(row["cost"] for row in answer["choices"] if row["ok"])
assert answer["why"] and all(isinstance(s, str) and s.endswith(".") for s in answer["why"])
assert abs(answer["integrators"]["frost_depth_difference_m"]) < 0.02
assert answer["shown"]["heat_balance_relative"] < 1e-4
# Deeper is warmer and heavier.
by = {(r["cover_m"], r["thickness_m"]): r for r in answer["choices"]}
for thick in (0, 0.05):
    assert by[(1.4, thick)]["water_min_degC"] > by[(1.0, thick)]["water_min_degC"]
    assert by[(1.4, thick)]["uplift_factor"] > by[(1.0, thick)]["uplift_factor"]

page = open("good/report.html", encoding="utf-8").read()
assert "<script" not in page.lower() and "&lt;script&gt;" in page
for word in (">nan<", ">inf<", "(null)", "-nan", "http://", "src="):
    assert word not in page.replace("http://www.w3.org", ""), word
for heading in ("1. Question", "2. Answer", "3. Options: cover against thickness of board",
                "Frost and water through the design winter", "Sensitivity", "Flotation",
                "Board under dead and live load", "Weather", "Clause list",
                "Appendix A. All options", "Ground and board", "Excavation, quantities and cost",
                "The run of the design winter in full",
                "Heat balance, grid and integrators", "Installation sheet", "Order of work",
                "Cautions", "What is not computed", "Where the formulas come from",
                "Program and site file"):
    assert heading + "</h" in page, heading
# The verdict stands before anything else, with the pick in words.
lead = page[page.index('class="frame lead"'):page.index("<nav")]
assert "Every limit is met" in lead and "cover %.2f m" % pick["cover_m"] in lead, lead
assert "licensed practitioner" in lead
# Every choice has its row, and the pick's stands out.
assert page.count('<tr class="strong">') >= 2
for row in answer["choices"]:
    assert ">%.2f<" % row["uplift_factor"] in page, row

# The flotation sheet can be worked again from what is printed: weight = unit weight x volume, buoyant
# weight = weight less 9.81 kN/m3 on what lies in water, the sums, and the factor.
import re
table = page[page.index("Resisting forces and uplift part by part"):]
parts = []
for line in re.findall("<tr.*?</tr>", table[:table.index("</table>")], re.S):
    cells = re.findall("<td[^>]*>(.*?)</td>", line, re.S)
    if cells:
        parts.append([cells[0]] + [float(c.split()[0]) if c[:1].isdigit() else None for c in cells[1:]])
assert len(parts) >= 3 and parts[-1][0] == "sums", parts
for name, volume, unit, below, total, buoyant, lifts in parts[:-1]:
    if volume is not None:
        assert abs(volume * unit - total) <= 0.06 + 0.006 * volume, (name, volume, unit, total)
        assert abs(total - 9.81 * below - buoyant) <= 0.11, (name, total, below, buoyant)
for column in (4, 5, 6):
    summed = sum(part[column] or 0.0 for part in parts[:-1])
    assert abs(summed - parts[-1][column]) <= 0.06 * len(parts), (column, summed, parts[-1])
factor = pick["uplift_factor"]
assert abs(parts[-1][5] / parts[-1][6] - factor) <= 0.006 + 0.002 * factor, (parts[-1], factor)
# Every clause says whether it was read.
clauses = page[page.index("Clause list</h2>"):]
for line in re.findall("<tr.*?</tr>", clauses[:clauses.index("</table>")], re.S):
    cells = re.findall("<td[^>]*>(.*?)</td>", line, re.S)
    assert not cells or re.match("read|from memory|site file|common practice", cells[-1]), cells

import csv
rows = list(csv.reader(open("good/summary.csv", encoding="utf-8")))
assert rows[0] == ["key", "value", "unit"] and all(len(row) == 3 for row in rows), rows
told = {row[0]: (row[1], row[2]) for row in rows}
assert told["site"][0] == answer["name"]
assert abs(float(told["cover"][0]) - pick["cover_m"]) < 1e-9 and told["cover"][1] == "m"
assert abs(float(told["cost"][0]) - pick["cost"]) < 1e-4 and told["cost"][1] == "CAD"
assert abs(float(told["water.min_degC"][0]) - answer["shown"]["water"]["min_degC"]) < 1e-6
assert told["water.date"][0] == answer["shown"]["water"]["date"]
for v in answer["how_sure"]:
    assert told["if %s.holds" % v["name"]][0] == ("yes" if v["ok"] else "no")
assert page.count("<svg") >= 5, page.count("<svg")

class Balance(HTMLParser):
    empty = {"meta", "br", "img", "path", "use", "rect", "line", "circle", "link", "hr", "col",
             "polygon", "polyline", "stop"}
    def __init__(self):
        super().__init__()
        self.open = []
    def handle_starttag(self, tag, attrs):
        if tag not in self.empty:
            self.open.append(tag)
    def handle_startendtag(self, tag, attrs):
        pass
    def handle_endtag(self, tag):
        if tag not in self.empty:
            assert self.open and self.open[-1] == tag, (tag, self.open[-3:])
            self.open.pop()
parser = Balance()
parser.feed(page)
assert parser.open == [], parser.open
PY
cp -r good first
"$program" recommend good.yaml --nominal --quiet > /dev/null 2> again.err
[ $? -eq 3 ] || fail "a study that is there is kept"
grep -q -e '--force' again.err || fail "the refusal names --force"
diff -r good first > /dev/null || fail "a refused run changed the study"
"$program" recommend good.yaml --nominal --json --force > again.json 2>&1 || fail "a second run with --force"
diff -r good first || fail "the same study twice: other bytes"

PATH=$2/tests/stand_in:$PATH # from here on no picture is looked at
"$program" recommend bad.yaml --nominal --json > bad.json 2>/dev/null
[ $? -eq 1 ] || fail "an infeasible site ends with 1"
[ -s bad/report.html ] || fail "an infeasible site has a report too"
python3 - <<'PY' || fail "the answer of an infeasible site"
import json
answer = json.load(open("bad.json"))
assert answer["pick"] is None
assert any("limits.water" in s for s in answer["why"]), answer["why"]
page = open("bad/report.html", encoding="utf-8").read()
lead = page[page.index('class="frame lead"'):page.index("<nav")]
assert "NOT MET" in lead and "coldest water or wetted wall" in lead, lead
assert "every limit met,\"no\"," in open("bad/summary.csv", encoding="utf-8").read()
PY

mkdir other && echo mine > other/file
"$program" recommend good.yaml --nominal -o other > /dev/null 2> other.err
[ $? -eq 3 ] || fail "another's folder is refused with 3"
[ "$(ls other)" = file ] || fail "another's folder was touched"
grep -q -e '-o' other.err || fail "the refusal names the remedy"

"$program" compare good.yaml -o both.h5 --json > both.json 2>/dev/null
[ $? -le 1 ] || fail "compare"
python3 - <<'PY' || fail "the answer of compare"
import json
answer = json.load(open("both.json"))
assert answer["with_board"]["crown"]["min_degC"] > answer["without_board"]["crown"]["min_degC"]
PY

"$program" sheet good.yaml -o sheet.html > /dev/null || fail "sheet"
grep -q "Order of work" sheet.html || fail "the sheet's order of work"
"$program" sheet good.yaml > sheet.txt || fail "quantities without -o"
grep -q "^  excavation" sheet.txt || fail "the quantities"

cp good/result.h5 before.h5
# python starts it: a shell's background job would ignore the interrupt.
python3 - "$program" <<'PY' || fail "an interrupt ends with 130"
import signal, subprocess, sys, time
run = subprocess.Popen([sys.argv[1], "recommend", "good.yaml", "--nominal", "--force", "--set", "grid.finest=20 mm"],
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
time.sleep(1)
assert run.poll() is None, "it was done before it could be interrupted"
run.send_signal(signal.SIGINT)
assert run.wait(timeout=60) == 130, run.returncode
PY
cmp -s good/result.h5 before.h5 || fail "an interrupted run changed the earlier result"
ls good | grep -v -E '^(result\.h5|report\.html|.*\.png|summary\.csv|sheet(-2)?\.(pdf|svg))$' && fail "a part was left behind"
exit $failed
