#!/usr/bin/python3
"""An engineer of another office recomputes a report of recommend by hand formulas, from nothing but the
numbers that are printed in it. Each line: what, recomputed, printed, within what rounding allows. What
cannot be recomputed from what is printed is a gap of the report and fails.

    recompute.py REPORT.html ..."""
import math
import re
import sys

from recompute_fill import Tank, clauses, depth_load, frost_season, layers, legs, levels, pit, ballast, Pit
from recompute_report import FT, G, INCH, NUMBER, PSI, UNITS, Gap, Report, loose, of, quantity


def flotation(r):
    caption, rows = r.table("Resisting forces and uplift")
    water = of(re.search(r"W - (%s \S+) x" % NUMBER, caption).group(1))
    sums = {"W": 0.0, "B": 0.0, "U": 0.0}
    parts = {}
    for row in rows[1:-1]:
        name, V, unit, below, W, B, U = row
        parts[name] = row
        if V != "-":
            r.same(name + ", unit weight x V", of(unit) * of(V), W, loose(unit, V))
            r.same(name + ", buoyant", of(W) - water * of(below), B, 0.001 + loose(W) * of(W) / max(of(B), 1.0))
        sums["W"] += of(W)
        sums["B"] += of(B)
        sums["U"] += of(U) if U != "-" else 0.0
    total = rows[-1]
    for key, at in (("W", 4), ("B", 5), ("U", 6)):
        r.same("sum " + key, sums[key], total[at], 0.001)
    q = r"(%s [^ .:;,]+)" % NUMBER
    A, cover, risers, wet = r.find(
        r"plan A = %s, cover %s; risers with their sleeves take %s .*lies below the water table, %s\)" % (q, q, q, q))
    volume = r.find(r"The tank \(%s outside" % q)[0]
    r.same("tank, uplift", water * wet, parts["tank"][6], 0.001)
    board = of(parts["board"][1]) if "board" in parts else 0.0
    r.same("soil above, volume", A * cover - risers - board, parts["soil above"][1], 0.006)
    D = re.search(r"half an ellipsoid\), D = %s" % q, r.all)
    if "shoulder soil" in parts and D:
        r.same("shoulder soil, volume", A * of(D.group(1)) / 2 - volume / 2, parts["shoulder soil"][1], 0.01)
    for text in re.findall(r"Each of (\d+) (\w+) is %s wide, %s high and %s long, its top %s" % (q, q, q, q), r.all):
        n, name, b, h, l, top = float(text[0]), text[1], *map(of, text[2:])
        r.same(name + ", volume", n * b * h * l, parts[name][1], 0.01)
        if name == "deadmen":  # beside the footprint: all of it is clear
            over = of(parts["soil over deadmen"][1]) + (of(parts["board over deadmen"][1])
                                                          if "board over deadmen" in parts else 0.0)
            if abs(n * b * l * top - over) > 0.01 * over:
                raise Gap("soil over deadmen")
            r.n += 1
            print("soil and board over deadmen: %.4g m3, printed %.4g m3" % (n * b * l * top, over))
    f = re.search(r"buoyant weights: (\S+ \w+) / (\S+ \w+) = (\S+), required (\S+)\. With total weights: "
                  r"(\S+ \w+) / \((\S+ \S+) x (\S+ \w+)\) = ([\d.]+),", r.all)
    if f is None:
        raise Gap("factors of safety")
    r.same("factor of safety", of(f.group(1)) / of(f.group(2)), f.group(3), 0.002)
    r.same("factor, total weights", of(f.group(5)) / (of(f.group(6)) * of(f.group(7))), f.group(8), 0.002)
    return of(f.group(1)), of(f.group(2)), of(f.group(4))


def board(r):
    q = r"(%s [^ .:;,]+)" % NUMBER
    if "Strength of the board" not in r.all:
        return
    strength, H, dead = r.find(r"Strength of the board %s\. Its top lies %s below grade under a dead load of %s" % (q, q, q))
    limits = re.search(r"stress: %s under dead load .*?, %s under live" % (q, q), r.all).groups()
    r.same("dead limit, a third", strength / 3, limits[0], 0.001)
    r.same("live limit, a fifth", strength / 5, limits[1], 0.001)
    found = r.table("Wheel of", must=False)
    if found is None:
        use = re.search(r"utilization (\S+) under dead load alone", r.all)
        if use is None:
            raise Gap("utilization under dead load")
        r.same("utilization, dead alone", dead / of(limits[0]), use.group(1), 0.005)
        return
    P = r.find(r"Worked: H = .*?, P = %s\." % q)[0]
    impact = 1.5 if H <= FT else 1.35 if H <= 2 * FT else 1.15 if H <= 3 * FT else 1.0
    psi = [12.5, 5.56, 4.17, 2.78, 1.74, 1.39, 1.22, 0.69]
    at = min(max(H / FT, 1.0), 8.0)
    i = min(int(at), 7)
    m, n = 10 * INCH / H, 5 * INCH / H
    V, W = m * m + n * n + 1, m * m * n * n
    root = 2 * m * n * math.sqrt(V)
    share = (root / (V + W) * (V + 1) / V + math.atan2(root, V - W)) / (4 * math.pi)
    s = 1.75 * H
    by = {"published": (psi[i - 1] + (at - i) * (psi[i] - psi[i - 1])) * PSI,
          "square": impact * (P / s**2 if s <= 6 * FT else 2 * P / (s * (s + 6 * FT))),
          "Boussinesq, point": impact * 3 * P / (2 * math.pi * H**2),
          "Boussinesq, tyre": impact * 4 * share * P / (20 * INCH * 10 * INCH),
          "tyre": P * (1 + max(0, 0.33 * (1 - 0.125 * H / FT))) / ((20 * INCH + 1.15 * H) * (10 * INCH + 1.15 * H))}
    for row in found[1][1:]:
        if row[1] == "-":
            continue
        name = max((k for k in by if row[0].startswith(k)), key=len)
        r.same("live load, " + name, by[name], row[1], 0.01)
        r.same("utilization, " + name, dead / of(limits[0]) + by[name] / of(limits[1]), row[2], 0.01)


def worked(r, begins):
    found = r.table(begins, must=False)
    return {} if found is None else found[1][1:]


def suction(r):
    rows = {row[0]: row for row in worked(r, "Suction")}
    if not rows:
        return
    q = r"(%s [^ .:;,()]+)" % NUMBER
    Q = of(rows["flow"][1])
    pump, deep, kept = (of(v) for v in re.search("axis %s above grade .* intake %s - .* over it %s" % (q, q, q),
                                                 rows["static lift"][2]).groups())
    r.same("static lift", pump + deep - kept, rows["static lift"][1], 0.003)
    d = of(re.search("d = " + q, rows["strainer and standpipe"][2]).group(1))
    r.same("strainer", 1.2 * FT * (Q / (250 * UNITS["gpm"]))**2 * (6 * INCH / d)**4, rows["strainer and standpipe"][1], 0.02)
    a, b = (of(v) for v in re.search("straight %s . fittings %s:" % (q, q), rows["pipe and fittings"][2]).groups())
    r.same("pipe", 4**(10 / 3) * 0.01**2 * Q**2 * max(a, b) / (math.pi**2 * d**(16 / 3)), rows["pipe and fittings"][1], 0.03)
    r.same("total head", sum(of(rows[k][1]) for k in ("static lift", "strainer and standpipe", "pipe and fittings")),
           rows["total lift"][1], 0.004)
    z = of(re.search("altitude z = " + q, rows["greatest lift here"][2]).group(1))
    r.same("greatest head", 22 * FT - 10.33 * (1 - (1 - 2.25577e-5 * z)**5.25588), rows["greatest lift here"][1], 0.002)
    full, low = (of(v) for v in re.search("intake: %s - %s" % (q, q), rows["water to be drawn"][2]).groups())
    r.same("water to draw", full - low, rows["water to be drawn"][1], 0.002)
    r.same("lasts", of(rows["water to be drawn"][1]) / Q, rows["lasts"][1])
    form = Tank(r)
    for level, content in zip(re.search(r"holds to %s, under .* holds to %s, " % (q, q), rows["water to be drawn"][2]).groups(),
                              (full, low)):
        got = form.content(of(level))
        r.n += 1
        if abs(got - content) > 0.004 * form.most:
            raise Gap("content to " + level)
        print("content to %s: %.4g m3, printed %.4g m3" % (level, got, content))
    two = re.search("two hours take " + q, rows["lasts"][2]).group(1)
    r.same("two hours", 7200 * Q, two, 0.004)


def fittings(r):
    q = r"(%s [^ .:;,()]+)" % NUMBER
    rows = worked(r, "Frost on fittings")
    by_name = {row[0]: row for row in rows}
    for row in rows:
        if row[0] == "riser":
            D, L = (of(v) for v in re.search("bond x pi x %s x %s frozen" % (q, q), row[2]).groups())
            r.same("frost-jacking force", of(by_name["adfreeze bond"][1]) * math.pi * D * L, row[1], 0.01)
        if row[0].startswith("pipe below"):
            top = of(re.search("crown at " + q, row[2]).group(1))
            r.same("pipe below the frost", top - of(by_name["frost depth"][1]), row[1], 0.02)


def lifting(r):
    rows = {row[0]: row for row in worked(r, "Lifting the empty tank")}
    if not rows:
        return
    q = r"(%s [^ .:;,]+)" % NUMBER
    load = of(re.match(q, rows["load"][2]).group(1)) * G
    r.same("load", load, rows["load"][1], 0.002)
    leg, reach = of(rows["sling leg given"][1]), of(rows["hook to pick point"][1])
    r.same("angle", math.acos(reach / leg), rows["angle of a leg"][1], 0.003)
    r.same("force in a leg", load / 2 / math.sin(math.acos(reach / leg)), rows["force in each leg"][1], 0.004)
    if "hoist, utilization" in rows:
        rigging, hoist = (of(v) for v in re.search("rigging of %s over the hoist's %s" % (q, q),
                                                   rows["hoist, utilization"][2]).groups())
        r.same("hoist", (load + rigging * G) / hoist, rows["hoist, utilization"][1], 0.004)


def roundness(r):
    rows = worked(r, "Roundness and level")
    by_name = {row[0]: row for row in rows}
    first = None
    if "deflection predicted" in by_name and "not counted" in by_name["deflection predicted"][2]:
        row = by_name["deflection predicted"]
        lag = float(re.search(r"formula: (\S+) x 0.1", row[2]).group(1))
        base = lag * of(by_name["P, load at the crown"][1]) / (0.061 * of(by_name["E', of the fill"][1]))
        r.same("deflection", 0.1 * base, row[1], 0.01)
        low, high = re.search(r"way (\S+) to (\S+) percent", row[2]).groups()
        r.same("range, low", max(0.0, 0.083 * base - 0.02), low + " percent", 0.01)
        r.same("range, high", 0.110 * base + 0.02, high + " percent", 0.01)
    before = None
    for row in rows:
        if len(row) == 6 and re.match(NUMBER + "$", row[1]):
            now = float(row[1]) * 1e-3
            first = now if first is None else first
            r.same("deflection measured", (first - now) / first, row[2] + " percent", 0.01)
            if before is not None:
                r.same("its change", (before - now) / first, row[3] + " percent", 0.02)
            before = now
    stop = re.search(r"changed by more than (\S+ percent) of its first reading", r.all)
    if first is not None and stop:
        for row in worked(r, "Backfill and ballast"):
            pair = [re.search(r"^(%s) to (%s) mm$" % (NUMBER, NUMBER), cell) for cell in row]
            pair = [p for p in pair if p]
            if pair:
                limit = of(stop.group(1))
                got = (math.ceil(first * (1 - limit) * 1e3 - 1e-9), math.floor(first * (1 + limit) * 1e3 + 1e-9))
                if tuple(int(float(v)) for v in pair[0].groups()) != got:
                    r.failed += 1
                    print("DIFFERS stop values: %s, printed %s" % (got, pair[0].group(0)))
                else:
                    print("stop values: %d to %d mm, printed the same" % got)
                r.n += 1
                return
        raise Gap("stop values of the diameter")


def costs(r):
    found = r.table("Volumes in place, without swell, and cost", must=False)
    if found is None:
        return
    total = 0.0
    for row in found[1][1:-1]:
        if row[3] == "-":
            continue
        amount = re.match(NUMBER, row[1])
        if amount is None or row[2] == "-":
            raise Gap("cost of " + row[0])
        digits = len(amount.group(0).split(".")[1]) if "." in amount.group(0) else 0
        loose = 0.51 * 10.0**-digits * float(row[2]) / max(1.0, float(row[3]))
        r.same("cost, " + row[0], float(amount.group(0)) * float(row[2]), row[3], loose + 0.003)
        total += float(row[3])
    r.same("cost, sum", total, found[1][-1][3], 2.0 / total)


def soils(r):
    """Layers of undisturbed ground from grade down: (to, k, L, C) with the means of thawed and frozen."""
    _, rows = r.table("Soils as computed with")
    units = [h.split(", ")[1] for h in rows[0][2:]]
    found = []
    winter = re.search(r"Water table in the frost season (%s \w+) below grade" % NUMBER, r.all)
    water = of(winter.group(1)) if winter else math.inf
    top, bottom = 0.0, 0.0
    for row in rows[1:]:
        v = [float(c) * UNITS[u] for c, u in zip(row[2:7], units)]
        layer = ((v[0] + v[1]) / 2, v[4], (v[2] + v[3]) / 2)
        reach = re.match(r"%s to (%s \w+)$" % (NUMBER, NUMBER), row[0])
        if reach:
            bottom = of(reach.group(1))
            if top < water:
                found.append((min(bottom, water),) + layer)
        elif row[0] == "below the water table":
            found.append((bottom,) + layer)
        else:
            break
        top = bottom
    return found


def berggren(layers, film, index_Ks, days, annual):
    """Layered modified Berggren as TM 5-852-6 has it, lambda by the Neumann root."""
    def root(alpha, mu):
        low, high = 1e-9, 6.0
        for _ in range(200):
            g = (low + high) / 2
            e = math.exp(-g * g)
            low, high = (g, high) if e / math.erf(g) - alpha * e / math.erfc(g) > g * math.sqrt(math.pi) / mu else (low, g)
        return g * math.sqrt(2 / mu)
    v0 = index_Ks / 86400 / days
    depth = L = C = 0.0
    R = film
    for i, (to, k, latent, c) in enumerate(layers):
        def lam(x):
            l, cc = L + latent * x, C + c * x
            return root(annual / v0, cc * v0 / l)
        x = 0.1
        for _ in range(60):
            x = -k * R + math.sqrt((k * R)**2 + 2 * k * index_Ks * lam(x)**2 / latent)
        d = to - depth
        if x <= d or i + 1 == len(layers):
            return depth + x
        index_Ks -= latent * d / lam(d)**2 * (R + d / (2 * k))
        depth, L, C, R = to, L + latent * d, C + c * d, R + d / k
    return math.nan


def frost(r):
    _, facts = r.table("Extremes of the design winter")
    _, numerics = r.table("What the numbers rest on")
    facts, numerics = ({row[0]: row[1] for row in rows[1:]} for rows in (facts, numerics))
    told = facts.get("the same by published relations with the index, no snow")
    if told:
        air = of(numerics["published depths: air freezing index of the run"])
        r.same("published relations", (max(0.0, -0.328 + 0.0578 * math.sqrt(air)) + 0.05518 * air**0.468) / 2, told, 0.01)
    told = facts.get("the same by the modified Berggren formula, no snow")
    if told is None:
        raise Gap("modified Berggren")
    index = of(numerics["published depths: index of its surface, no snow"]) * 86400
    depth = berggren(soils(r), of(numerics["published depths: film over the ground"]), index,
                     of(numerics["published depths: days of freezing"]),
                     of(numerics["published depths: mean annual temperature"]))
    r.same("modified Berggren", depth, told, 0.01)


def pit_water(r):
    """Inflow of an open pit by Dupuit, its floor as a well; blow-out of the floor."""
    q = r"(%s [^ .:;,()]+)" % NUMBER
    for text in re.findall(r"^inflow: (.*)$", r.all, re.M):
        found = re.match(r"%s \(\S+ l/s\) while lowered by %s, to .*?; pump %s \(.* k = (\S+) m/s, H = %s and h = %s over "
                         r".*, r = %s, a well .* = %s, s lowered" % ((q,) * 7), text)
        if found is None:
            raise Gap("inflow")
        s, (H, h, radius) = of(found.group(2)), (of(found.group(i)) for i in (5, 6, 7))
        k = float(found.group(4))
        dug = Pit(r)
        r.same("radius of the well", math.sqrt(dug.a * dug.b / math.pi), found.group(7), 0.004)
        reach_m = radius + 3000 * s * math.sqrt(k)
        r.same("reach of the drawdown", reach_m, found.group(8), 0.004)
        flow = math.pi * k * (H * H - h * h) / math.log(reach_m / radius)
        r.same("inflow", flow, found.group(1), 0.02 + 0.01 * reach_m / (reach_m - radius))
        r.same("pump", 1.5 * of(found.group(1)), found.group(3), 0.01)
    for over, lifts, factor in re.findall(r"factor of safety %s / %s = (\S+), required \S+, total weight over" % (q, q), r.all):
        r.same("blow-out of the floor", of(over) / of(lifts), factor, 0.01)


def winters(r):
    """Return periods by Gumbel's distribution: its spread from one of them, the others by it."""
    _, rows = r.table("Air freezing index of the winters")
    mean, told = None, {}
    for name, words in rows[1:]:
        mean = of(words) if re.match(r"mean of \d+ winters", name) else mean
        period = re.match(r"one winter in (\d+)$", name)
        if period:
            told[int(period.group(1))] = words
    def k(T):
        return -math.sqrt(6) / math.pi * (0.5772156649 + math.log(math.log(T / (T - 1))))
    rarest = max(told)
    spread = (of(told[rarest]) - mean) / k(rarest)
    for T, words in told.items():
        if T != rarest:
            r.same("one winter in %d" % T, mean + k(T) * spread, words, 0.002)


def answer(r):
    """The parts of the cost; R of the boards offered."""
    cost, parts = (re.search(p, r.all) for p in (r"\nCost: (\d+) ", r"The cost is made of: (.*)\.\n"))
    if cost and parts:
        got = sum(float(v) for v in re.findall(r" (\d+)(?:,|$)", parts.group(1)))
        r.same("cost, its parts", got, cost.group(1), 2.5 / got)
    k = re.search(r"the conductivity in service, (%s \S+?)\. " % NUMBER, r.all)
    for caption, rows in r.tables.items():
        if k and "In each cell: coldest water" in caption:
            for heading in rows[0]:
                found = re.match(r"(\S+ (?:mm|in))\s+R (.*)$", heading, re.S)
                if found:
                    r.same("R of " + found.group(1), of(found.group(1)) / of(k.group(1)), found.group(2).strip(), 0.02)


def main():
    failed = 0
    for path in sys.argv[1:]:
        r = Report(path)
        print("== " + path)
        for topic in (answer, winters, flotation, layers, board, depth_load, legs, frost_season, levels, ballast, suction, fittings,
                      lifting, roundness, pit, pit_water, costs, clauses, frost):
            before = r.n
            try:
                topic(r)
            except (Gap, KeyError, AttributeError, IndexError, ValueError) as gap:
                r.failed += 1
                print("GAP in %s: %r" % (topic.__name__, gap))
            print("-- %s: %d lines" % (topic.__name__, r.n - before))
        print("%s: %d lines recomputed, %d differ or cannot be" % (path, r.n, r.failed))
        failed += r.failed
    return failed > 0


sys.exit(main())
