#!/usr/bin/env python3
"""What this build costs beside an older one: runs in turn, so that a busy machine slows both.

    python3 tests/bench/older.py BUILD [OLDER] [--times N] [--search] [--members N] [--site FILE]

One design winter with its start of the example, as its plane section and in three dimensions, N times
each (3); with --search the example's whole recommend, once. User CPU seconds, the least of each;
right-hand sides are the same on every machine. With --members instead, on two threads: the options of
the older build's example one by one (its bench_search) and N members of one design in lanes, on rows as fine. OLDER: a build folder, or a program; where it does not
know a key of the example, --site gives one that both read. Prints a table (Markdown)."""
import argparse
import json
import os
import resource
import subprocess
import sys
import tempfile

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
SITE = os.path.join(ROOT, "cli", "examples", "larch_hollow.yaml")
DESIGN = ["--set", "burial.cover=1.5 m", "--set", "board.thickness=150 mm"]


def program(place):
    found = os.path.join(place, "underfrost") if os.path.isdir(place) else place
    return os.path.abspath(found)


def spent(line):
    """User seconds of a command, and its answer."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    done = subprocess.run(line, capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1):
        sys.exit(done.stderr or done.stdout)
    return resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before, json.loads(done.stdout)


def winter(ends):
    def run(which, site):
        seconds, answer = spent([which, "simulate", site, "--json", "--verbose", "--set",
                                 "tank.ends=" + ends] + DESIGN)
        return seconds, "%d right-hand sides" % answer["right_hand_sides"]
    return run


def search(which, site):
    with tempfile.TemporaryDirectory() as folder:
        seconds, answer = spent([which, "recommend", site, "--json", "--verbose", "-o",
                                 os.path.join(folder, "out")])
    counts = answer["counts"]
    return seconds, "%d options run, %d cases" % (counts["heat_runs"], counts["sensitivity_runs"])


def members(build, older, n):
    """What both benches print, in turn: cases a second of wall and of CPU are to be compared."""
    for _ in range(2):
        subprocess.run([os.path.join(older, "tests", "bench_search")], check=True)
        subprocess.run([os.path.join(build, "tests", "bench_members"), str(n), "2", SITE, "tank.ends=plane",
                        "grid.finest=75 mm"], check=True)


def row(name, run, builds, args, times):
    least = {}
    what = {}
    for _ in range(times):
        for which in builds:
            seconds, what[which] = run(which, args.site)
            least[which] = min(seconds, least.get(which, seconds))
    cells = ["%.2f s, %s" % (least[which], what[which]) for which in builds]
    ratio = "%.2f" % (least[builds[0]] / least[builds[-1]]) if len(builds) > 1 else ""
    print("| %s | %s | %s |" % (name, " | ".join(cells + [""] * (2 - len(cells))), ratio), flush=True)


def main():
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("build")
    asked.add_argument("older", nargs="?")
    asked.add_argument("--times", type=int, default=3)
    asked.add_argument("--search", action="store_true")
    asked.add_argument("--site", default=SITE)
    asked.add_argument("--members", type=int)
    args = asked.parse_args()
    if args.members is not None:
        if args.older is None:
            asked.error("--members needs OLDER, a build folder with tests/bench_search")
        members(args.build, args.older, args.members)
        return
    builds = [program(place) for place in (args.build, args.older) if place is not None]
    print("| | this build | older | ratio |\n|---|---|---|---|")
    row("design winter with its start, plane", winter("plane"), builds, args, args.times)
    row("the same in three dimensions", winter("three_dimensional"), builds, args, args.times)
    if args.search:
        row("recommend, user CPU of all threads", search, builds, args, 1)


main()
