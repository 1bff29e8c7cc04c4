"""Each rule of check_cf.py is seen to fail: python3 check_cf_broken.py FILE, a result of `compare`
with probes. A copy is spoilt in one way after the other, and the fault has to be told."""
import contextlib
import io
import shutil
import sys

import h5py
import numpy as np

sys.dont_write_bytecode = True
import check_cf


def spoil(name, attribute, value):
    return f"{name}: {attribute} = {value!r}", lambda file: file[name].attrs.__setitem__(attribute, value)


def drop(name, attribute):
    return f"{name}: no {attribute}", lambda file: file[name].attrs.__delitem__(attribute)


def write(name, change):
    def run(file):
        values = file[name][...]
        change(values)
        file[name][...] = values
    return f"{name}: other values", run


def copied(name):
    """A variable beside `material` whose dimensions have no scales."""
    def run(file):
        file[name] = np.zeros((3, 2))
        file[name].attrs["units"], file[name].attrs["long_name"] = "m", "lost"
    return f"{name}: added", run


def first(value):
    return lambda values: values.__setitem__(0, value)


CASES = [  # what check_cf says, and what is done
    ("Conventions", spoil("/", "Conventions", "CF-1.4")),
    ("no source", drop("/", "source")),
    ("no title", spoil("/", "title", "")),
    ("no name for a variable", copied("2lost")),
    ("dimension without a scale", copied("lost")),
    ("no long_name", drop("ice", "long_name")),
    ("no units", drop("ice", "units")),
    ("are none", spoil("frost_depth", "units", "fathomful")),
    ("are none", spoil("freezing_index", "units", "degF degF x")),
    ("standard_name 'frost'", spoil("frost_depth", "standard_name", "frost")),
    ("units do not fit 'depth'", spoil("z", "units", "s")),
    ("units do not fit 'time'", spoil("time", "units", "m since 1970-01-01")),
    ("flag_values of another type", spoil("material", "flag_values", np.arange(9, dtype="i4"))),
    ("flag_meanings are not as many", spoil("material", "flag_meanings", "sand water")),
    ("flag_meanings holds", spoil("material", "flag_meanings", "sand, water")),
    ("without flag_values", drop("material", "flag_values")),
    ("_FillValue of another type", spoil("temperature", "_FillValue", np.float64("nan"))),
    ("a coordinate with _FillValue", spoil("x", "_FillValue", np.float64("nan"))),
    ("a depth without positive", drop("z", "positive")),
    ("a depth without positive", drop("probe_depth", "positive")),
    ("without reference or calendar", drop("time", "calendar")),
    ("without reference or calendar", spoil("climate_time", "units", "day")),
    ("time without axis", drop("climate_time", "axis")),
    ("coordinates names 'nowhere'", spoil("probe_temperature", "coordinates", "nowhere")),
    ("cell_methods of 'z'", spoil("ice", "cell_methods", "z: point")),
    ("cell_methods 'guess'", spoil("ice", "cell_methods", "time: guess")),
    ("which has no bounds", drop("without_board/time", "bounds")),
    ("bounds 'nowhere' are not there", spoil("x", "bounds", "nowhere")),
    ("bounds of another shape", spoil("x", "bounds", "z_bounds")),
    ("lies outside its bounds", write("x_bounds", first((5.0, 6.0)))),
    ("does not rise", write("without_board/z", first(2.0))),
]


def main(path):
    silent = 0
    for told, (what, change) in CASES:
        shutil.copy(path, path + ".spoilt")
        with h5py.File(path + ".spoilt", "r+") as file:
            change(file)
        said = io.StringIO()
        with contextlib.redirect_stdout(said):
            code = check_cf.main([path + ".spoilt"])
        if code != 1 or told not in said.getvalue():
            print(f"not told: {what}: {told}; said: {said.getvalue()}")
            silent += 1
    return 1 if silent else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
