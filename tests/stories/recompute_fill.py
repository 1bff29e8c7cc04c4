"""What recompute.py does again of the appendix "Statics line by line", of the backfill and ballast table, of
the quantities and of the clause list."""
import math
import re

from recompute_report import G, NUMBER, Gap, loose, of, quantity

Q = r"(%s [^ .:;,()]+)" % NUMBER


def water_unit(r):
    caption, _ = r.table("Resisting forces and uplift")
    return of(re.search(r"W - (%s \S+) x" % NUMBER, caption).group(1))


def reach(text):
    """Top and bottom, m, of "0.30 to 1.20 m"; and what one in their last digit is worth."""
    found = re.match(r"(%s) to (%s (\S+))$" % (NUMBER, NUMBER), text)
    top = quantity(found.group(1) + " " + found.group(3))
    return top[0], of(found.group(2)), top[1]


def total(words):
    return of(words) if words not in ("-", "") else 0.0


def shares(r, when, balance):
    """Each layer's weights, and their sums against the part's row in the table of that balance."""
    _, rows = r.table("Soils of the flotation check, layer by layer, water table " + when)
    parts = {row[0]: row for row in r.table(balance)[1][1:]}
    water, sums = water_unit(r), {}
    for part, soil, depth, V, moist, V1, wet, W, B in rows[1:]:
        dry_N, wet_N = total(V) * total(moist), total(V1) * total(wet)
        more = max([loose(a, b) for a, b in ((V, moist), (V1, wet)) if a != "-"])
        name = "%s, %s %s" % (part, soil, depth)
        r.same(name + ", weight", dry_N + wet_N, W, more)
        r.same(name + ", buoyant", dry_N + wet_N - water * total(V1), B, 2 * more + loose(W))
        old = sums.setdefault(part, [0.0] * 4)
        sums[part] = [a + b for a, b in zip(old, (total(V) + total(V1), total(V1), of(W), of(B)))]
    for part, got in sums.items():
        for what, at, value in zip(("V", "V'", "W", "B"), (1, 3, 4, 5), got):
            r.same("sum of %s, %s" % (part, what), value, parts[part][at], 0.004)


def risers(r):
    """Bodies (area m2, top, bottom) of risers and sleeves, by depth below grade."""
    found = []
    crown = r.find(r"cover %s; risers" % Q)[0]
    diameter = None
    for text in r.all.split("\n"):
        riser = re.match(r"Riser \d+: outside diameter %s, from %s below grade to the crown" % (Q, Q), text)
        sleeve = re.match(r"Its sleeve: %s thick, from (%s) \S+ to %s below grade" % (Q, NUMBER, Q), text)
        if riser:
            diameter, top = of(riser.group(1)), of(riser.group(2))
            found.append((math.pi / 4 * diameter**2, top, crown))
        elif sleeve:
            t, top = of(sleeve.group(1)), of(sleeve.group(2) + " " + sleeve.group(3).split()[1])
            found.append((math.pi * (diameter + t) * t, top, of(sleeve.group(3))))
    return found


def within(bodies, top, bottom):
    return sum(a * max(0.0, min(b, bottom) - max(t, top)) for a, t, b in bodies)


def layers(r):
    """The layers' weights; volumes over the crown from plan and risers, beside it from the tank's form."""
    shares(r, "at its highest", "Resisting forces and uplift")
    plan, crown = r.find(r"plan A = %s, cover %s; risers" % (Q, Q))
    form = Tank(r)
    for part, soil, depth, V, _, V1, _, _, _ in r.table("Soils of the flotation check, layer by layer, water table at")[1][1:]:
        top, bottom, last = reach(depth)
        if part == "soil above":
            got = plan * (bottom - top) - within(risers(r), top, bottom)
        elif part == "shoulder soil":
            low = crown + form.height
            got = plan * (bottom - top) - form.outside(low - top) + form.outside(low - bottom)
        else:
            continue
        more = last / max(bottom - top, last)
        words = V if V1 == "-" else V1
        if "-" in (V, V1):
            r.same("%s, %s %s, volume" % (part, soil, depth), got, words, more)
        elif abs(got - of(V) - of(V1)) > more * got:
            raise Gap("volume of " + part)


class Tank:
    """The printed form of the volume below a level."""

    def __init__(self, r):
        self.lying = "arccos" in r.all.split("Volume of the tank below a level h: ")[1].split(". Outside")[0]
        text = re.search(r"Volume of the tank below a level h: .*? Outside (.*); inside (.*)\.\n", r.all)
        self.sizes = [{k: of(v) for k, v in re.findall(r"(\w+) = (%s \S+?)(?:,|$)" % NUMBER, side)}
                      for side in text.groups()]
        _, rows = r.table("Volume by level")
        self.height = of(rows[-1][0])
        self.most = of(rows[-1][2])

    def volume(self, h, k):
        d = self.sizes[k]
        if "a" in d:
            return d["a"] * d["b"] * max(0.0, h)
        R, s, Vh = d["R"], d["s"], d.get("Vh", 0.0)
        share = lambda x: 3 * x * x - 2 * x**3
        if self.lying:
            h = min(max(h, 0.0), 2 * R)
            return s * (R * R * math.acos((R - h) / R) - (R - h) * math.sqrt(max(0.0, 2 * R * h - h * h))) + \
                Vh * share(h / 2 / R)
        e = d.get("e", 0.0)
        u = min(max(h - e, 0.0), s)
        return math.pi * R * R * u + (Vh * share(min(1.0, (h - u) / 2 / e)) if e > 0 else 0.0)

    def outside(self, h):
        return self.volume(min(max(h, 0.0), self.height), 0)

    def content(self, h):
        return min(self.volume(h, 1), self.most)


def levels(r):
    form = Tank(r)
    for h, outside, content in r.table("Volume by level")[1][1:]:
        value, last = quantity(h)
        for what, words, got in (("outside", outside, form.outside), ("content", content, form.content)):
            r.same("volume to %s, %s" % (h, what), got(value), words,
                   (got(value + last / 2) - got(value - last / 2)) / got(value))


def depth_load(r):
    """Dead load on board and crown from the layers' unit weights."""
    found = r.table("Dead load from grade to the crown", must=False)
    if found is None:
        return
    sums, at = 0.0, {}
    for soil, depth, weight, pressure in found[1][1:]:
        top, bottom, last = reach(depth)
        sums += of(weight) * (bottom - top)
        at[bottom] = sums
        r.same("dead load at %s" % depth, sums, pressure, last / bottom)
    top = re.search(r"Its top lies %s below grade under a dead load of %s" % (Q, Q), r.all)
    if top:
        foot = min(at, key=lambda depth: abs(depth - of(top.group(1))))
        r.same("dead load on the board", at[foot], top.group(2), 0.006)
    crown = r.table("Roundness and level", must=False)
    for row in crown[1] if crown else []:
        if row[0] == "P, load at the crown":
            r.same("P, load at the crown", sums, row[1], 0.006)


def legs(r):
    text = re.search(r"Force to be tied down: .*? = %s \(0.*its weight = %s\." % (Q, Q), r.all)
    if text is None:
        return
    parts = {row[0]: row for row in r.table("Resisting forces and uplift")[1][1:]}
    factor = r.find(r"= \S+, required (\S+)\. With total")[0]
    own = [parts[k] for k in ("tank", "board", "soil above", "shoulder soil") if k in parts]
    net = factor * sum(total(row[6]) for row in own[:2] if row[0] != "soil above") - sum(of(row[5]) for row in own)
    r.same("force to be tied down", max(0.0, net), text.group(1), 0.006 * factor * of(parts["tank"][6]) / max(net, 1.0))
    volume = r.find(r"The tank \(%s outside" % Q)[0]
    bare = factor * max(water_unit(r) * volume, of(parts["tank"][6])) - of(parts["tank"][4])
    r.same("the same before backfilling", bare, text.group(2), 0.003)
    leg = re.search(r"n = (\d+) straps;.* anchor x = %s beside .* y = %s below .*R = %s: .* = (\S+ degrees) from "
                    r"the vertical. Finished %s, before backfilling %s\.(?:\n|$)" % (Q, Q, Q, Q, Q), r.all)
    if leg is None:
        return
    n, (x, y, R) = int(leg.group(1)), (of(leg.group(i)) for i in (2, 3, 4))
    a = math.atan2(x, y) - math.asin(R / math.hypot(x, y)) if "tangent" in leg.group(0) else math.atan2(max(0, x - R), y)
    r.same("angle of a strap's leg", a, leg.group(5), 0.02)
    r.same("strap leg, finished", of(text.group(1)) / (2 * n * math.cos(a)), leg.group(6), 0.006)
    r.same("strap leg, before backfilling", of(text.group(2)) / (2 * n * math.cos(a)), leg.group(7), 0.006)


def frost_season(r):
    """What frost jacking is held against, and how far it is used."""
    found = r.table("Resisting force in the frost season", must=False)
    if found is None:
        return
    rows = found[1]
    shares(r, "of the frost season", "Resisting force in the frost season")
    for at, what in ((4, "W"), (5, "B"), (6, "U")):
        r.same("frost season, sum " + what, sum(total(row[at]) for row in rows[1:-1]), rows[-1][at], 0.002)
    spare = of(rows[-1][5]) - total(rows[-1][6])
    r.same("resisting force", spare, re.search(r"the uplift = %s$" % Q, found[0]).group(1), 0.002)
    frost = r.table("Frost on fittings")[1]
    told = {row[0]: row[1] for row in frost}
    r.same("resisting force, as used", spare, told["resisting force"], 0.002)
    r.same("frost jacking, utilization", sum(of(row[1]) for row in frost if row[0] == "riser") / spare,
           told["utilization"], 0.004)


class Fill:
    """The tank with its pit filled up to a depth, from the printed tables."""

    def __init__(self, r):
        self.water, self.tank, self.risers = water_unit(r), Tank(r), risers(r)
        self.plan, self.crown = r.find(r"plan A = %s, cover %s; risers" % (Q, Q))
        self.invert = self.crown + self.tank.height
        self.parts = {row[0]: row for row in r.table("Resisting forces and uplift")[1][1:]}
        self.layers = r.table("Soils of the flotation check, layer by layer, water table at")[1][1:]
        _, soils = r.table("Soils as computed with")
        units = [h.split(", ")[1] for h in soils[0][7:9]]
        self.weights = {row[1]: [of("%s %s" % (v, u)) for v, u in zip(row[7:9], units)] for row in reversed(soils[1:])}
        for row in self.layers:  # those that are printed with a digit more
            for k, at in ((0, 4), (1, 6)):
                if row[at] != "-":
                    self.weights[row[1]][k] = of(row[at])
        self.places = {row[0]: of(row[1]) for row in r.table("Levels to set out")[1][1:]}
        self.bodies = {}
        for n, name, b, h, l, top in re.findall(r"Each of (\d+) (\w+) is %s wide, %s high and %s long, its top %s" %
                                                (Q, Q, Q, Q), r.all):
            self.bodies[name] = (float(n) * of(b) * of(l), of(top), of(top) + of(h))

    def room(self, row, top, bottom):
        """Soil of a layer's row between two depths."""
        start, foot, _ = reach(row[2])
        top, bottom = max(top, start), min(bottom, foot)
        if bottom <= top:
            return 0.0
        if row[0] == "soil above":
            return self.plan * (bottom - top) - within(self.risers, top, bottom)
        if row[0] == "shoulder soil":
            return self.plan * (bottom - top) - self.tank.outside(self.invert - top) + \
                self.tank.outside(self.invert - bottom)
        return (total(row[3]) + total(row[5])) * (bottom - top) / (foot - start)

    def balance(self, filled, water, held):
        """Resisting force and uplift, filled to one depth, water at the other."""
        lifts = self.tank.outside(self.invert - water) + within(self.risers, water, math.inf)
        holds = of(self.parts["tank"][4])
        for row in self.layers:
            if row[0] in ("soil above", "shoulder soil") or held:
                moist, wet = self.weights[row[1]]
                holds += moist * self.room(row, filled, max(filled, water))
                holds += (wet - self.water) * self.room(row, max(filled, water), math.inf)
        top, foot = (self.places.get(k) for k in ("board, top", "board, underside"))
        for name, row in self.parts.items():
            if name.startswith("board") and filled <= top + 1e-6 and (held or name == "board"):
                holds += of(row[4])
                lifts += of(row[1]) * min(1.0, max(0.0, foot - max(top, water)) / (foot - top))
        for name, (area, top, foot) in self.bodies.items():
            if held:
                holds += of(self.parts[name][4]) - self.water * area * max(0.0, foot - max(top, water))
        return holds, self.water * lifts


def ballast(r):
    """Each step of the backfill and ballast table: where flotation starts, and the water asked for inside."""
    found = r.table("Backfill and ballast", must=False)
    if found is None:
        return
    fill, heads = Fill(r), found[1][0]
    factor = float(re.search(r"factor of safety (\S+) with", found[0]).group(1))
    pit = re.search(r"open pit (?:at grade|%s below grade);" % Q, found[0]).group(1)
    pit = of(pit) if pit else 0.0
    at, inside = (i for i, h in enumerate(heads) if h.startswith("flotation starts") or h.startswith("water inside"))
    for row in found[1][1:]:
        if len(row) != len(heads) or row[at] == "":
            continue
        filled, held = of(row[3]), row[0] != "set the tank"
        holds, lifts = fill.balance(filled, 0.0, held)
        r.n += 1
        if row[at] == "never":
            if holds < 0.995 * lifts:
                raise Gap("%s floats" % row[0])
        else:
            low, high = 0.0, fill.invert
            for _ in range(60):
                middle = (low + high) / 2
                N, U = fill.balance(filled, middle, held)
                low, high = (middle, high) if N < U else (low, middle)
            r.same("%s, flotation starts" % row[0], fill.invert - low, row[at], 0.012)
        holds, lifts = fill.balance(filled, pit, held)
        need = (factor * lifts - holds) / fill.water
        if row[inside] == "none":
            if need > 0.005 * lifts / fill.water:
                raise Gap("%s needs water inside" % row[0])
        elif row[inside] == "full is too little":
            if need < 0.99 * fill.tank.most:
                raise Gap("%s: a full tank is enough" % row[0])
        else:
            low, high = 0.0, fill.tank.height
            for _ in range(60):
                middle = (low + high) / 2
                low, high = (middle, high) if fill.tank.content(middle) < need else (low, middle)
            r.same("%s, water inside" % row[0], high, row[inside], 0.012)


def frustum(a, b, h, m):
    return h * (a * b + m * h * (a + b) + 4 / 3 * m * m * h * h)


class Pit:
    """Dug volume between depths, from the printed sides."""

    def __init__(self, r):
        text = re.search(r"The excavation is %s deep, %s by %s at its floor and %s by %s at grade" % (Q, Q, Q, Q, Q),
                         r.all)
        self.deep, self.a, self.b, self.top_a, self.top_b = (of(v) for v in text.groups())
        self.m = r.find(r"sides m = (\S+) across to 1 up")[0]
        shelf = re.search(r"a shelf %s below grade, %s by %s;" % (Q, Q, Q), r.all)
        self.shelf = [of(v) for v in shelf.groups()] if shelf else None

    def from_floor(self, depth):
        if self.shelf is None or depth >= self.shelf[0]:
            return frustum(self.a, self.b, self.deep - depth, self.m)
        at, a, b = self.shelf
        return frustum(self.a, self.b, self.deep - at, self.m) + frustum(a, b, at - depth, self.m)

    def between(self, top, bottom):
        return self.from_floor(top) - self.from_floor(min(bottom, self.deep))


def solids(fill, amounts, top, bottom):
    """Tank, risers, anchors and board between two depths."""
    taken = fill.tank.outside(fill.invert - top) - fill.tank.outside(fill.invert - bottom)
    taken += within(fill.risers, top, bottom) + within(fill.bodies.values(), top, bottom)
    if "board" in amounts:
        face, foot = fill.places["board, top"], fill.places["board, underside"]
        area = of(amounts["board"][1]) / (foot - face) - within(fill.risers, face, foot) / (foot - face)
        taken += within([(area, face, foot)], top, bottom)
    return taken


def pit(r):
    """The volumes dug, filled, gone and brought, and how much of them comes and goes loose."""
    dug, fill = Pit(r), Fill(r)
    amounts = {row[0]: row for row in r.table("Volumes in place, without swell")[1][1:]}
    if dug.shelf is None:
        r.same("pit at grade", dug.a + 2 * dug.m * dug.deep, "%.2f m" % dug.top_a, 0.002)
    r.same("excavation", dug.between(0, dug.deep), amounts["excavation"][1], 0.004)
    share = r.find(r"Spoil = excavation - (\S+) x native")[0]
    native = of(amounts["native ground that goes back"][1])
    spoil, last = quantity(amounts["spoil"][1])
    r.same("spoil", max(0.0, of(amounts["excavation"][1]) - share * native), amounts["spoil"][1],
           1.1 * last / max(spoil, last))
    brought = fill.places.get("top of the fill brought in", dug.deep)
    r.same("native ground that goes back", dug.between(0, brought) - solids(fill, amounts, 0, brought),
           amounts["native ground that goes back"][1], 0.006)
    filled = 0.0
    for what, amount, note in r.table("Volumes in place unless said")[1][1:]:
        reach_row = re.match(r".*, from (%s \S+) up to (%s \S+)$" % (NUMBER, NUMBER), note)
        haul = re.match(r"in place; x (\S+) = (\S+ \S+) loose(?:, (\d+) truckloads? of (\S+ \S+))?", note)
        if reach_row:
            bottom, top = of(reach_row.group(1)), of(reach_row.group(2))
            filled += of(amount)
            r.same(what, dug.between(top, bottom) - solids(fill, amounts, top, bottom), amount, 0.006)
        if what == "fill brought in" and haul:
            r.same(what, filled, amount, 0.003)
        if haul:
            r.same(what + ", loose", of(amount) * float(haul.group(1)), haul.group(2), loose(amount) + 0.001)
            if haul.group(3):
                r.n += 1
                if abs(math.ceil(of(haul.group(2)) / of(haul.group(4)) - 0.02) - int(haul.group(3))) > 0:
                    raise Gap("truckloads of " + what)


def clauses(r):
    """The ratio of each clause; what the codes on flotation ask and get, from the table of forces."""
    _, rows = r.table("What the limits of the site file")
    _, parts = r.table("Resisting forces and uplift")
    B, U = of(parts[-1][5]), of(parts[-1][6])
    row_of = {row[0]: row for row in parts[1:-1]}
    water = water_unit(r)
    for code, what, required, provided, ratio, _, _ in rows[1:]:
        least, required = required.startswith("at least"), re.sub("^at (least|most) ", "", required)
        partial = re.match(r"(\S+) x uplift against (\S+) x buoyant", what)
        if partial:
            r.same(code + ", uplift", float(partial.group(1)) * U, required, 0.002)
            r.same(code + ", weights", float(partial.group(2)) * B, provided, 0.002)
        if code.startswith("FEMA"):
            tank, board = row_of["tank"], row_of.get("board")
            wet = max(r.find(r"The tank \(%s outside" % Q)[0], of(tank[6]) / water)
            volume = wet + (of(board[1]) if board else 0.0)
            net = 1.3 * water * volume - of(tank[5]) - (of(board[5]) if board else 0.0)
            r.same(code, max(0.0, net), required, 0.004)
            held = sum(of(row[5]) for name, row in row_of.items()
                       if name not in ("tank", "board", "soil above", "shoulder soil"))
            r.same(code + ", anchors", held, provided, 0.004)
        if code.startswith("USACE"):
            structure = [row for name, row in row_of.items() if not name.startswith(("soil", "shoulder"))]
            soil = B - sum(of(row[5]) for row in structure)
            below = U + water * sum(of(row[3]) for row in structure if row[3] != "-")
            if below > 0:
                r.same(code, (sum(of(row[4]) for row in structure) + soil) / below, provided, 0.004)
        if re.match(r"\d", ratio) and of(required) > 0 and of(provided) > 0:
            got = of(required) / of(provided) if least else of(provided) / of(required)
            r.same("ratio of %s, %s" % (code, what), got, ratio, loose(required, provided))
