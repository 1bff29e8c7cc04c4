#!/usr/bin/env python3
"""How the water is computed and what that makes of three designs: one mixed body and layers in the
section, layers in three dimensions; the default grid and a finer one.

    python3 tests/bench/water.py BUILD [--apart | --fine MM]

Prints a table, with --apart what one change each makes of the second design, with --fine the default
grid less a finer one (Markdown). "then": what the program said when its water was one mixed body and the
ends were a share of the section's heat; "other model": an independent finite-element model of the
section with 15 to 16 layers of water (not published, not converged in its layers). Both had the fill
level with the crown and no side of a riser: so have these."""
import json
import os
import subprocess
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
EXAMPLES = os.path.join(ROOT, "cli", "examples")
MIXED = ["tank.contents.water=mixed", "tank.ends=plane"]
LAYERED = ["tank.contents.water=layered", "tank.ends=plane"]
THREE = ["tank.contents.water=layered", "tank.ends=three_dimensional"]


def larch(cover, thickness, beyond):
    return ["burial.cover=" + cover, "board.thickness=" + thickness,
            "board.beyond_tank=" + beyond, "burial.backfill.above_crown=0 m",
            "tank.risers=[{diameter: 0.75 m, height: 1.2 m, lid: 1.5 m2.K/W, lid_at: crown}]"]


DESIGNS = [
    ("larch_hollow, 50 mm / 0.6 m", "larch_hollow", larch("1.2 m", "50 mm", "0.6 m"),
     "2.5", "2.56; -0.01, ice 0.3 %"),
    ("larch_hollow, 100 mm / 1.2 m", "larch_hollow", larch("1.2 m", "100 mm", "1.2 m"),
     "3.4", "3.44; 1.47"),
    ("mill_race, standing, as written", "mill_race", [], "", ""),
]


# One thing changed each: what of the other model's answer it can account for.
LOW_WALL = ["tank.wall.conductivity=25 W/m/K"]
FULL = ["tank.contents.level=2.38 m"]
APART = [
    ("as the table has it", []),
    ("water to the crown (2.38 m, not 2.2)", FULL),
    ("water to the crown, no riser", FULL + ["tank.risers=[]"]),
    ("the tank starts at 4 degC, not 6", ["tank.contents.start=4 degC"]),
    ("no groundwater in the frost season", ["groundwater.winter=20 m"]),
    ("a wall that does not resist (0.04 m2K/W less; the film is 0.017)", LOW_WALL),
    ("rows of 150 mm, as the other model's layers", ["grid.finest=150 mm"]),
    ("half the spacing", ["grid.finest=37.5 mm"]),
    ("the reference integrator", ["--integrator", "reference"]),
]


def answer(program, site, keys):
    line = [program, "simulate", os.path.join(EXAMPLES, site + ".yaml"), "--json", "--verbose"]
    for key in keys:
        line += ["--set", key] if "=" in key else [key]
    done = subprocess.run(line, capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1):
        sys.exit(done.stderr or done.stdout)
    return json.loads(done.stdout)


def told(run):
    water = run["water"]
    ice = water["max_ice_fraction"]
    return "%.2f%s" % (water["min_degC"], ", ice %.1f %%" % (100 * ice) if ice > 5e-5 else "")


def models(program):
    print("coldest water, degC\n")
    print("| design | then, mixed | other model: mixed; layered | mixed | layered | three dimensions |")
    print("|---|---|---|---|---|---|")
    for name, site, keys, then, other in DESIGNS:
        flat = site != "mill_race"  # (r, z) has its ends in it
        runs = [told(answer(program, site, keys + MIXED)), told(answer(program, site, keys + LAYERED)),
                told(answer(program, site, keys + THREE)) if flat else "is (r, z)"]
        print("| %s | %s | %s | %s |" % (name, then, other, " | ".join(runs)), flush=True)


def apart(program):
    name, site, keys, _, other = DESIGNS[1]
    print("%s, layered, in the section: coldest water, degC (other model %s)\n" % (name, other.split("; ")[1]))
    print("| one change | water | less the first, K |")
    print("|---|---|---|")
    first = None
    for change, more in APART:
        water = answer(program, site, keys + LAYERED + more)["water"]["min_degC"]
        first = water if first is None else first
        print("| %s | %.2f | %+.2f |" % (change, water, water - first), flush=True)


def numbers(run):
    return [run["water"]["min_degC"], run["wall_min_degC"]] + [p["min_degC"] for p in run["probes"]]


def grids(program, fine_mm):
    print("\ndefault grid less cells of %g mm, K (layered, in the section)\n" % fine_mm)
    print("| design | water | wall | probes, largest | cells |")
    print("|---|---|---|---|---|")
    for name, site, keys, _, _ in DESIGNS:
        own = answer(program, site, keys + LAYERED)
        fine = answer(program, site, keys + LAYERED + ["grid.finest=%g mm" % fine_mm])
        off = [a - b for a, b in zip(numbers(own), numbers(fine))]
        print("| %s | %+.3f | %+.3f | %+.3f | %d, %d |" % (name, off[0], off[1], max(off[2:], key=abs),
                                                          own["cells"], fine["cells"]), flush=True)


def main():
    asked = sys.argv[2:]
    if len(sys.argv) < 2 or not (asked in ([], ["--apart"]) or (len(asked) == 2 and asked[0] == "--fine")):
        sys.exit(__doc__)
    program = os.path.join(sys.argv[1], "underfrost")
    if not asked:
        models(program)
    elif asked[0] == "--apart":
        apart(program)
    else:
        grids(program, float(asked[1]))


main()
