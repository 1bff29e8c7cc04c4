"""What a machine does to a run: killed at any time, or out of disk at any write.

    python3 tests/soak/rough.py kill PROGRAM [COUNT]    killed (KILL) COUNT times at random moments
    python3 tests/soak/rough.py full PROGRAM [COUNT]    on a disk (tmpfs, wants root) of COUNT sizes
                                                        from nothing to all that it needs

After each, no file under its final name is half one, a run that did not end well says so, and the next
run in the same folder is as good as the first. Every fifth kill is of a run with pictures. Prints counts;
ends with 1 where something was wrong.
"""
import os, random, shutil, subprocess, sys, tempfile, time, zlib

SITE = """\
site: {name: Small}
climate: {cycle: {mean: 6 degC, amplitude: 14 K, coldest: 10 day, period: 40 day}}
surface: {film: 15 W/m2/K, snow: none}
ground: [{soil: silt}]
groundwater: {winter: 2 m, highest: 0.5 m}
tank: {shape: horizontal_cylinder, diameter: 1.6 m, length: 3 m, empty_mass: 900 kg, ends: plane,
  contents: {level: 1.2 m, water: mixed}}
burial: {cover: 1.2 m, bedding: 0.2 m, pit: {clearance: 0.5 m, slope: 1}, backfill: {soil: pea_gravel}}
board: {type: XPS_IV, thickness: 50 mm, beyond_tank: 0.6 m}
limits: {greatest_cover: 2 m}
choices: {thickness: [0 mm, 50 mm]}
grid: {finest: 300 mm, width: 6 m, depth: 6 m}
"""
KINDS = {
    ".png": lambda b: b[:8] == b"\x89PNG\r\n\x1a\n" and b[-8:-4] == b"IEND",
    ".html": lambda b: b.rstrip().endswith(b"</html>"),
    ".svg": lambda b: b.rstrip().endswith(b"</svg>"),
    ".pdf": lambda b: b[:5] == b"%PDF-" and b.rstrip().endswith(b"%%EOF"),
    ".csv": lambda b: b.endswith(b"\n"),
    ".h5": lambda b: b[-24:-8] == b"\nunderfrost sum " and b"%08x" % zlib.crc32(b[:-24]) == b[-8:],
}


def half_files(folder):
    """Files under a final name that are not whole, and how many parts lie about."""
    bad, parts = [], 0
    for name in os.listdir(folder) if os.path.isdir(folder) else []:
        kind = os.path.splitext(name)[1]
        if name == ".underfrost":
            continue
        if name.startswith(".") or kind not in KINDS:
            parts += 1
            continue
        with open(os.path.join(folder, name), "rb") as file:
            if not KINDS[kind](file.read()):
                bad.append(name)
    return bad, parts


def command(program, site, folder, pictures):
    words = [program, "recommend", site, "-o", folder, "--nominal", "--force", "--quiet", "--jobs", "1"]
    place = dict(os.environ)
    if not pictures:
        place["PATH"] = "/nonexistent"
    return {"args": words, "env": place, "stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE}


class Tally:
    def __init__(self):
        self.wrong = 0

    def blame(self, *words):
        self.wrong += 1
        print("WRONG:", *words)


def kill(program, count):
    work, tally, parts_most, ended = tempfile.mkdtemp(), Tally(), 0, 0
    site, folder = os.path.join(work, "small.yaml"), os.path.join(work, "out")
    with open(site, "w") as file:
        file.write(SITE)
    whole = {}
    for pictures in (False, True):
        begun = time.monotonic()
        code = subprocess.run(**command(program, site, folder, pictures)).returncode
        whole[pictures] = (time.monotonic() - begun, code)
    for i in range(count):
        pictures = i % 5 == 0
        run = subprocess.Popen(**command(program, site, folder, pictures))
        time.sleep(random.uniform(0.0, 1.1 * whole[pictures][0]))
        run.kill()
        run.communicate()
        ended += run.returncode >= 0
        bad, parts = half_files(folder)
        parts_most = max(parts_most, parts)
        if bad:
            tally.blame("kill", i, "left half of", bad)
        if i % 100 == 99:
            print(i + 1, "kills,", tally.wrong, "wrong", flush=True)
        if i % 50 == 49:
            after = subprocess.run(**command(program, site, folder, False))
            if after.returncode != whole[False][1] or half_files(folder)[0]:
                tally.blame("the run after kill", i, after.returncode, after.stderr.decode()[-200:])
            if i % 200 == 199:
                shutil.rmtree(folder)
    print(f"{count} kills, {ended} of runs that were done already; parts left beside: {parts_most} at most")
    shutil.rmtree(work)
    return tally.wrong


def full(program, count):
    work, tally, refused = tempfile.mkdtemp(), Tally(), 0
    site, disk, need = os.path.join(work, "small.yaml"), os.path.join(work, "disk"), 0
    with open(site, "w") as file:
        file.write(SITE)
    os.mkdir(disk)
    folder = os.path.join(disk, "out")
    for i in range(count, -1, -1):
        size = int(need * i / count) if need else 1 << 24
        pages = max(1, (size + 4095) // 4096)
        subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={4096 * pages}", "tmpfs", disk], check=True)
        try:
            run = subprocess.run(**command(program, site, folder, True))
            bad, parts = half_files(folder)
            said = run.stderr.decode()
            if need == 0:
                need = sum(os.path.getsize(os.path.join(folder, n)) + 4096 for n in os.listdir(folder))
            if bad or parts:
                tally.blame("disk of", pages, "pages:", bad, parts, "parts")
            if run.returncode < 0 or run.returncode > 3 or (run.returncode >= 2 and not said.strip()):
                tally.blame("disk of", pages, "pages: exit", run.returncode, said[-200:])
            if run.returncode in (0, 1) and len(os.listdir(folder)) < 3:
                tally.blame("disk of", pages, "pages: exit", run.returncode, "with", os.listdir(folder))
            refused += run.returncode == 3
        finally:
            subprocess.run(["umount", disk], check=True)
    print(f"{count + 1} sizes of disk up to {need} bytes, {refused} runs refused with exit 3")
    shutil.rmtree(work)
    return tally.wrong


if __name__ == "__main__":
    modes = {"kill": (kill, 1000), "full": (full, 150)}
    if len(sys.argv) < 3 or sys.argv[1] not in modes:
        sys.exit(__doc__)
    work, usual = modes[sys.argv[1]]
    wrong = work(os.path.abspath(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else usual)
    print(wrong, "wrong")
    sys.exit(wrong > 0)
