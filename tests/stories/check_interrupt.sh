#!/bin/sh
# What an interrupt leaves. Wherever a run is caught, its start-up too, the program ends with 130
# within moments and no part of a file stays; every recorded winter goes on where it stopped and
# comes to the same numbers as a run in one piece. These runs are long, and say so before they start.
# Arguments: PROGRAM SOURCE_DIR BUILD_DIR
set -u
program=$1
source=$2
[ -x /usr/bin/python3 ] || { echo "skipped: no python3"; exit 77; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work" || exit 1
sed "s/^  shape: horizontal_cylinder/&\n  ends: plane/" "$source/cli/examples/larch_hollow.yaml" > site.yaml
grep -q "ends: plane" site.yaml || exit 1
# python starts it: a shell's background job would ignore the interrupt.
/usr/bin/python3 - "$program" <<'PY'
import json, os, signal, subprocess, sys, time

PROGRAM = sys.argv[1]
MOMENT_S = 20  # the whole start-up on this grid takes minutes; machines may be busy
FINE = ["--set", "grid.finest=5 mm"]


def start(words):
    return subprocess.Popen([PROGRAM] + words, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def interrupt_start_up(words, left):
    before = set(os.listdir("."))
    run = start(words)
    time.sleep(1.5)
    assert run.poll() is None, (words, "was done before it could be interrupted")
    asked = time.monotonic()
    run.send_signal(signal.SIGINT)
    errors = run.communicate(timeout=120)[1].decode()
    took = time.monotonic() - asked
    assert run.returncode == 130, (words, run.returncode)
    assert took < MOMENT_S, (words, took)
    if "climate.winter=every" in words:
        return  # its start-up comes before the winters are counted
    assert ": about " in errors and " minutes\n" in errors, (words, "a long run says so", errors)
    assert set(os.listdir(".")) - before == set(left), (words, os.listdir("."))


interrupt_start_up(["simulate", "site.yaml", "-o", "one.h5"] + FINE, [])
interrupt_start_up(["simulate", "site.yaml", "-o", "one.h5", "--integrator", "reference"] + FINE, [])
interrupt_start_up(["simulate", "site.yaml", "-o", "all.h5", "--set", "climate.winter=every"] + FINE, [])
interrupt_start_up(["compare", "site.yaml", "-o", "both.h5"] + FINE, [])
interrupt_start_up(["recommend", "site.yaml", "-o", "folder"] + FINE, ["folder"])
assert os.listdir("folder") == [".underfrost"], os.listdir("folder")

ROWS = "400 mm" if os.environ.get("UF_TEST_LIGHT") == "1" else "200 mm"
EVERY = ["simulate", "site.yaml", "--json", "--jobs", "1", "--set", "climate.winter=every",
         "--set", "grid.finest=" + ROWS, "-o"]


def whole(path):
    run = start(EVERY + [path])
    out, errors = run.communicate()
    assert run.returncode in (0, 1), errors
    return run.returncode, json.loads(out)


begun = time.monotonic()
code, want = whole("whole.h5")
took = time.monotonic() - begun
# Caught in the middle: with some winters done, and some not.
for share in (0.6, 0.8, 0.5, 0.9, 0.4, 0.7):
    run = start(EVERY + ["parts.h5"])
    time.sleep(share * took)
    run.send_signal(signal.SIGINT)
    out, errors = run.communicate()
    if os.path.exists("parts.h5.winters"):
        break
    if os.path.exists("parts.h5"):
        os.unlink("parts.h5")
else:
    sys.exit("no interrupt came in the middle")
assert run.returncode == 130, run.returncode
assert b"are kept in parts.h5.winters" in out + errors, out + errors
assert not os.path.exists("parts.h5")
code_again, got = whole("parts.h5")
assert code_again == code, (code_again, code)
assert not os.path.exists("parts.h5.winters"), "what was kept is done with"
assert len(want["winters"]) > 50
for key in ("winters", "limits_broken"):
    assert got[key] == want[key], key
assert 0 < got["simulated_days"] < want["simulated_days"], "all of it was run again"
try:
    import h5netcdf
except ImportError:
    sys.exit(0)
with h5netcdf.File("whole.h5") as a, h5netcdf.File("parts.h5") as b:
    for name in ("time", "frost_depth", "water_temperature", "surface_heat_flow"):
        assert (a.variables[name][:] == b.variables[name][:]).all(), name
PY
