#!/usr/bin/env python3
"""How the water is computed and what that makes of three designs: one mixed body and layers in the
section, layers in three dimensions; the default grid and a finer one.

    python3 tests/bench/water.py BUILD [--fine MM]

Prints two tables (Markdown). "then": what the program said when its water was one mixed body and the
ends were a share of the section's heat; "other model": an independent finite-element model of the
section with 15 to 16 layers of water (not published, not converged in its layers). Both had the fill
level with the crown: so have these."""
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
            "board.beyond_tank=" + beyond, "burial.backfill.above_crown=0 m"]


DESIGNS = [
    ("larch_hollow, 50 mm / 0.6 m", "larch_hollow", larch("1.2 m", "50 mm", "0.6 m"),
     "2.5", "2.56; -0.01, ice 0.3 %"),
    ("larch_hollow, 100 mm / 1.2 m", "larch_hollow", larch("1.2 m", "100 mm", "1.2 m"),
     "3.4", "3.44; 1.47"),
    ("mill_race, standing, as written", "mill_race", [], "", ""),
]


def answer(program, site, keys):
    line = [program, "simulate", os.path.join(EXAMPLES, site + ".yaml"), "--json", "--verbose"]
    for key in keys:
        line += ["--set", key]
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
    if len(sys.argv) not in (2, 4) or (len(sys.argv) == 4 and sys.argv[2] != "--fine"):
        sys.exit(__doc__)
    program = os.path.join(sys.argv[1], "underfrost")
    models(program)
    if len(sys.argv) == 4:
        grids(program, float(sys.argv[3]))


main()
