"""A printed report read back: its tables, its text, its numbers with their units. For recompute.py."""
import html
import math
import re
from html.parser import HTMLParser

G, PSI, FT, INCH = 9.80665, 6894.757293168, 0.3048, 0.0254
UNITS = {"m": 1, "mm": 1e-3, "ft": FT, "in": INCH, "m2": 1, "ft2": FT**2, "m3": 1, "ft3": FT**3,
         "yd3": (3 * FT)**3, "gal": 3.785411784e-3, "kN": 1e3, "kip": 4448.2216152605, "lbf": 4.4482216152605,
         "kPa": 1e3, "psi": PSI, "ksi": 1e3 * PSI, "kN/m3": 1e3, "lbf/ft3": 4.4482216152605 / FT**3,
         "kg": 1, "lb": 0.45359237, "L/s": 1e-3, "gpm": 3.785411784e-3 / 60, "m3/day": 1 / 86400, "gal/day": 3.785411784e-3 / 86400, "percent": 0.01, "°C": 1, "K": 1,
         "°C·days": 1, "°F·days": 5 / 9, "min": 60, "degrees": math.pi / 180, "days": 1, "MJ/m3": 1e6,
         "MJ/m3/K": 1e6, "W/m/K": 1, "m2 K/W": 1, "": 1,
         "Btu/h/ft/°F": 1.730734666, "Btu/ft3/°F": 67066.1, "Btu/ft3": 37258.9458, "h ft2 °F/Btu": 0.1761101838}
NUMBER = r"-?\d+(?:\.\d+)?"


class Reader(HTMLParser):
    """Tables as {caption: rows}, a row as a list of cells, the heading first; paragraphs in order."""

    def __init__(self):
        super().__init__()
        self.tables, self.texts, self.text, self.row, self.caption, self.skip = {}, [], None, None, "", 0

    def handle_starttag(self, tag, attrs):
        self.skip += tag == "svg"
        if tag in ("p", "li", "h2", "td", "th"):
            self.text = ""
        if tag == "tr":
            self.row = []
        if tag == "table":
            self.tables.setdefault(self.caption, [])

    def handle_endtag(self, tag):
        self.skip -= tag == "svg"
        text = (self.text or "").replace("\u200b", "").strip()
        if tag in ("td", "th") and self.row is not None:
            self.row.append(text)
        elif tag in ("p", "li", "h2"):
            self.texts.append(text)
            self.caption = text if tag == "p" and text != "" else self.caption
        if tag == "tr":
            self.tables[self.caption].append(self.row)

    def handle_data(self, data):
        if not self.skip and self.text is not None:
            self.text += data


class Gap(Exception):
    pass


class Report:
    def __init__(self, path):
        reader = Reader()
        reader.feed(open(path, encoding="utf-8").read())
        self.tables, self.all = reader.tables, "\n".join(reader.texts)
        self.failed = self.n = 0

    def table(self, begins, must=True):
        for caption, rows in self.tables.items():
            if caption.startswith(begins):
                return caption, rows
        if must:
            raise Gap("no table: " + begins)
        return None

    def find(self, pattern):
        """The groups of a pattern in the text, quantities as SI numbers."""
        found = re.search(pattern, self.all)
        if found is None:
            raise Gap("not printed: " + pattern)
        return [quantity(group)[0] for group in found.groups()]

    def same(self, what, got, printed, more=0.0):
        """printed: the words; its last digit and `more`, what the inputs' rounding adds, are allowed."""
        value, last = quantity(printed)
        self.n += 1
        ok = abs(got - value) <= 0.51 * last + more * abs(value) + 1e-12
        if not ok:
            self.failed += 1
        print("%s%s: %.6g, printed %s" % ("" if ok else "DIFFERS ", what, got / scale(printed), printed))


def unit_of(text):
    found = re.match(r"\s*[~\u2248]?" + NUMBER + r"\s*(.*)$", text, re.S)
    return found.group(1).strip() if found else None


def scale(text):
    return UNITS.get(unit_of(text), 1)


def quantity(text):
    """SI value and what one in its last digit is worth."""
    text = html.unescape(text).strip()
    found = re.match(r"[~\u2248]?(" + NUMBER + r")\s*(.*)$", text, re.S)
    if found is None:
        raise Gap("no number: " + text)
    if found.group(2).strip() == "°F":
        return (float(found.group(1)) - 32) / 1.8, 0.1 / 1.8
    if found.group(2).strip() not in UNITS:
        raise Gap("unit not known: " + text)
    factor = UNITS[found.group(2).strip()]
    digits = len(found.group(1).split(".")[1]) if "." in found.group(1) else 0
    return float(found.group(1)) * factor, factor * 10.0**-digits


def of(text):
    return quantity(text)[0]


def loose(*texts):
    """What the rounding of factors adds to their product, relative."""
    return sum(0.5 * last / max(abs(value), 1e-9) for value, last in map(quantity, texts))
