"""The rules of CF-1.10 that a result file has to keep, read with h5py: python3 check_cf.py FILE...
Prints each fault; exit 1 when there is one. Chapters are those of the conventions."""
import ctypes
import ctypes.util
import functools
import re
import sys

import h5py
import numpy as np

HOLDERS = ("design", "limits", "summary_numbers")  # carry attributes only
STANDARD = {  # of the names in the table that are used here, with their unit
    "time": "s", "depth": "m", "air_temperature": "K", "surface_snow_thickness": "m",
    "water_table_depth": "m"}


@functools.lru_cache(None)
def unit_parser():
    """UDUNITS-2 itself, the library that CF names (3.1)."""
    path = ctypes.util.find_library("udunits2")
    if path is None:
        return None
    lib = ctypes.CDLL(path)
    lib.ut_read_xml.restype = lib.ut_parse.restype = ctypes.c_void_p
    lib.ut_parse.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_int]
    lib.ut_are_convertible.argtypes = [ctypes.c_void_p, ctypes.c_void_p]
    lib.ut_set_error_message_handler(lib.ut_ignore)
    system = lib.ut_read_xml(None)
    parse = lambda text: lib.ut_parse(system, text.encode(), 2)
    return lambda text: parse(text), lambda a, b: lib.ut_are_convertible(parse(a), parse(b))


def text(value):
    return value.decode() if isinstance(value, bytes) else value


def check_variable(group, name, data, units, say):
    attrs = {k: v for k, v in data.attrs.items()}
    if not re.fullmatch(r"[A-Za-z][A-Za-z0-9_]*", name):
        say(f"{name}: no name for a variable (2.3)")
    plain = text(data.attrs.get("NAME", "")).startswith("This is a netCDF dimension but not")
    if plain:
        return
    if not text(attrs.get("long_name", "")):
        say(f"{name}: no long_name (3.2)")
    numeric = data.dtype.kind in "iuf"
    if "flag_meanings" in attrs and "flag_values" not in attrs:
        say(f"{name}: flag_meanings without flag_values (3.5)")
    elif "flag_values" in attrs:
        words = text(attrs.get("flag_meanings", "")).split(" ")
        if np.atleast_1d(attrs["flag_values"]).dtype != data.dtype:
            say(f"{name}: flag_values of another type (3.5)")
        if len(words) != np.atleast_1d(attrs["flag_values"]).size:
            say(f"{name}: flag_meanings are not as many (3.5)")
        for word in words:
            if not re.fullmatch(r"[A-Za-z0-9_\-.+@]+", word):
                say(f"{name}: flag_meanings holds {word!r} (3.5)")
    elif numeric and name not in HOLDERS:
        unit = text(attrs.get("units", ""))
        if not unit or not isinstance(unit, str):
            say(f"{name}: no units (3.1)")
        elif units is not None and not units[0](unit):
            say(f"{name}: units {unit!r} are none (3.1)")
    standard = text(attrs.get("standard_name", ""))
    if standard:
        if standard not in STANDARD:
            say(f"{name}: standard_name {standard!r} (3.3)")
        elif units is not None and not units[1](text(attrs["units"]).split(" since")[0],
                                                STANDARD[standard]):
            say(f"{name}: units do not fit {standard!r} (3.3)")
    if "_FillValue" in attrs and h5py.h5ds.is_scale(data.id):
        say(f"{name}: a coordinate with _FillValue (2.5.1)")
    if "_FillValue" in attrs and np.asarray(attrs["_FillValue"]).dtype != data.dtype:
        say(f"{name}: _FillValue of another type (2.5.1)")
    if standard == "depth" or text(attrs.get("axis", "")) == "Z":
        if text(attrs.get("positive", "")) not in ("up", "down"):
            say(f"{name}: a depth without positive (4.3)")
    if standard == "time":
        if " since " not in text(attrs["units"]) or "calendar" not in attrs:
            say(f"{name}: time without reference or calendar (4.4)")
        if text(attrs.get("axis", "")) != "T":
            say(f"{name}: time without axis (4.4)")
    for other in text(attrs.get("coordinates", "")).split():
        if other not in group:
            say(f"{name}: coordinates names {other!r}, which is not there (5)")
    dims = [name if h5py.h5ds.is_scale(data.id) else text(d.keys()[0]) if len(d) else ""
            for d in data.dims]
    for part in re.findall(r"(\w+): (\w+)", text(attrs.get("cell_methods", ""))):
        if part[0] not in dims:
            say(f"{name}: cell_methods of {part[0]!r}, no dimension of it (7.3)")
            continue
        if part[1] not in ("point", "mean", "minimum", "maximum", "sum"):
            say(f"{name}: cell_methods {part[1]!r} (7.3)")
        if part[1] == "mean" and "bounds" not in group[part[0]].attrs:
            say(f"{name}: a mean over {part[0]!r}, which has no bounds (7.1)")
    edge = text(attrs.get("bounds", ""))
    if edge:
        if edge not in group:
            say(f"{name}: bounds {edge!r} are not there (7.1)")
        else:
            low, high = group[edge][:, 0], group[edge][:, 1]
            if group[edge].shape != data.shape + (2,):
                say(f"{name}: bounds of another shape (7.1)")
            elif not ((low <= data[:]) & (data[:] <= high) & (low < high)).all():
                say(f"{name}: lies outside its bounds (7.1)")
    scale = h5py.h5ds.is_scale(data.id) and data.ndim == 1 and numeric
    if scale and not (np.diff(data[:]) > 0).all():
        say(f"{name}: a coordinate that does not rise (5)")
    if "" in dims:
        say(f"{name}: a dimension without a scale (netCDF-4)")


def check_group(group, units, say):
    bounds = [text(item.attrs.get("bounds", "")) for item in group.values()]
    for name, item in group.items():
        if name in bounds:
            continue
        if isinstance(item, h5py.Group):
            check_group(item, units, lambda words: say(f"{item.name}: {words}"))
        else:
            check_variable(group, name, item, units, say)


def main(paths):
    faults = []
    units = unit_parser()
    for path in paths:
        with h5py.File(path, "r") as file:
            say = lambda words: faults.append(f"{path}: {words}")
            if text(file.attrs.get("Conventions", "")) != "CF-1.10":
                say("Conventions (2.6.1)")
            for name in ("title", "source"):
                if not text(file.attrs.get(name, "")):
                    say(f"no {name} (2.6.2)")
            check_group(file, units, say)
    print("\n".join(faults), end="\n" if faults else "")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
