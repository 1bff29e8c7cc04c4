"""underfrost from Python: a site file in, facts and arrays out.

    import underfrost
    run = underfrost.run("mine.yaml", set={"burial.cover": "1.5 m"})
    run.facts["water.min_degC"], run.dates["water.min_degC"]
    run.arrays["frost_depth"], run.units["frost_depth"]

Thin over libunderfrost_site by ctypes: the site file is read, checked and run by the same code as the
program's; nothing is read twice. Arrays are numpy's where numpy is there, else ctypes arrays with
their shape in run.shapes. The library is looked for in UNDERFROST_LIBRARY, then by the loader.
"""

import ctypes
import math
import os

try:
    import numpy
except ImportError:
    numpy = None

_KINDS = {b"d": ctypes.c_double, b"f": ctypes.c_float, b"b": ctypes.c_int8}


class Error(Exception):
    """A site that is wrong, a file that cannot be read, a solver that gave up; code as the program's."""

    def __init__(self, code, message):
        super().__init__(message)
        self.code = code


def _load():
    library = ctypes.CDLL(os.environ.get("UNDERFROST_LIBRARY", "libunderfrost_site.so.0.1"))
    text, size = ctypes.c_char_p, ctypes.c_size_t
    pointer = ctypes.POINTER
    library.uf_bridge_run.argtypes = [pointer(ctypes.c_void_p), text, pointer(text), size,
                                      ctypes.c_int, ctypes.c_char_p, size]
    library.uf_bridge_free.argtypes = [ctypes.c_void_p]
    library.uf_bridge_fact.argtypes = [ctypes.c_void_p, size, pointer(text),
                                       pointer(ctypes.c_double), pointer(text), pointer(text)]
    library.uf_bridge_array.argtypes = [ctypes.c_void_p, size, pointer(text), pointer(text),
                                        pointer(ctypes.c_char), pointer(size), size * 4]
    library.uf_bridge_array.restype = ctypes.c_void_p
    return library


class Run:
    """What came of a run. facts: key to number, None where not known; dates: key to ISO date; arrays:
    name to array; units: of facts and arrays; shapes: of arrays."""

    def __init__(self, library, handle):
        self.facts, self.dates, self.arrays, self.units, self.shapes = {}, {}, {}, {}, {}
        self._take_facts(library, handle)
        self._take_arrays(library, handle)

    def _take_facts(self, library, handle):
        key, unit, date = ctypes.c_char_p(), ctypes.c_char_p(), ctypes.c_char_p()
        value = ctypes.c_double()
        i = 0
        while library.uf_bridge_fact(handle, i, key, value, unit, date):
            name = key.value.decode()
            self.facts[name] = None if math.isnan(value.value) else value.value
            self.units[name] = unit.value.decode()
            if date.value:
                self.dates[name] = date.value.decode()
            i += 1

    def _take_arrays(self, library, handle):
        name, unit, kind = ctypes.c_char_p(), ctypes.c_char_p(), ctypes.c_char()
        rank, shape = ctypes.c_size_t(), (ctypes.c_size_t * 4)()
        i = 0
        while True:
            data = library.uf_bridge_array(handle, i, name, unit, ctypes.byref(kind), rank, shape)
            if not data:
                return
            key, sizes = name.value.decode(), tuple(shape[:rank.value])
            borrowed = (_KINDS[kind.value] * math.prod(sizes)).from_address(data)
            if numpy is not None:
                self.arrays[key] = numpy.array(borrowed).reshape(sizes)
            else:
                self.arrays[key] = type(borrowed).from_buffer_copy(borrowed)
            self.shapes[key] = sizes
            self.units[key] = unit.value.decode()
            i += 1


def run(site, set=None, fields=True):
    """Runs the design of a site file through its winter. set: key to value, as --set takes them; fields:
    also temperature and ice of each day. Raises Error."""
    library = _load()
    sets = [f"{key}={value}".encode() for key, value in (set or {}).items()]
    handle, message = ctypes.c_void_p(), ctypes.create_string_buffer(8192)
    code = library.uf_bridge_run(handle, os.fsencode(site), (ctypes.c_char_p * len(sets))(*sets),
                                 len(sets), int(fields), message, len(message))
    if code != 0:
        raise Error(code, message.value.decode(errors="replace"))
    try:
        return Run(library, handle)
    finally:
        library.uf_bridge_free(handle)
