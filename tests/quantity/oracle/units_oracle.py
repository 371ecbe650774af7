#!/usr/bin/env python3
"""Holds every unit of the program against GNU units (Debian package units), an independent table.

usage: units_oracle.py LIST_UNITS_PROGRAM
Exit 77 where GNU units is not installed, so that ctest reports a skipped test.
"""
import math
import re
import shutil
import subprocess
import sys

# Our name of a unit, where GNU units writes it otherwise. The year is the Julian year, as in leak rates.
SPELLING = {
    "% vol": "percent", "%": "percent", "ppmv": "ppm", "ul/l": "microliter/liter",
    "micron": "micron Hg", "ubar": "microbar", "kgf/cm2": "kgf/cm^2",
    "g/cm3": "g/cm^3", "lb/ft3": "lb/ft^3", "kg/m3": "kg/m^3", "g/l": "g/liter",
    "t": "tonne", "oz": "ounce", "l": "liter", "ml": "milliliter",
    "in3": "inch^3", "in2": "inch^2", "in": "inch", "um": "micrometer", "us": "microsecond",
    "min": "minute", "h": "hour", "d": "day", "yr": "365.25 day",
    "lbf in": "lbf inch", "lbf ft": "lbf foot", "uA": "microampere", "uF": "microfarad",
    "mohm": "milliohm", "uohm": "microohm", "kohm": "kiloohm", "Mohm": "megaohm",
    "kg/yr": "kg/(365.25 day)", "g/yr": "g/(365.25 day)", "g/h": "g/hour", "%/yr": "percent/(365.25 day)",
    "%/min": "percent/minute", "mbar l/s": "millibar liter/s", "l/min": "liter/minute", "l/h": "liter/hour",
    "deg": "degree", "rad": "radian", "kg CO2e": "kg", "t CO2e": "tonne", "VA": "volt ampere",
}
SI = {
    "fraction": "1", "pressure": "Pa", "pressure_difference": "Pa", "stress": "Pa", "density": "kg/m^3",
    "mass": "kg", "volume": "m^3", "length": "m", "area": "m^2", "time": "s", "frequency": "Hz", "speed": "m/s",
    "acceleration": "m/s^2", "force": "N", "torque": "N m", "current": "A", "voltage": "V", "resistance": "ohm",
    "power": "W", "apparent_power": "W", "energy": "J", "capacitance": "F", "capacitance_per_length": "F/m",
    "mass_flow": "kg/s", "throughput": "Pa m^3/s", "fraction_rate": "1/s", "volume_flow": "m^3/s", "angle": "radian",
    "co2e": "kg", "temperature_difference": "K",
}
COUNTED = {"cycles", "ratio", "count"}  # plain numbers: factor 1, nothing to look up
TEMPERATURE = {"K": "K", "degC": "tempC", "degF": "tempF", "degR": "degrankine"}
# NIST SP 811 prints these factors to seven figures, and so do we; GNU units has more.
ROUNDED = {"mmHg", "inHg", "inH2O", "micron"}


def ask(have, want):
    out = subprocess.run(["units", "--terse", "--compact", "--digits", "15", have, want], capture_output=True, text=True)
    try:
        return float(out.stdout.strip().splitlines()[0])
    except (IndexError, ValueError):
        raise SystemExit(f"GNU units cannot turn '{have}' into '{want}': {out.stdout}{out.stderr}")


def spelled(dimension, name):
    if dimension == "acceleration" and name == "g":
        return "gravity"
    if dimension == "temperature_difference":
        return {"K": "K", "degC": "K", "degF": "degF"}[name]
    return SPELLING.get(name, re.sub(r"(?<=[a-z])([23])\b", r"^\1", name))


def main():
    if not shutil.which("units"):
        print("skipped: GNU units is not installed")
        return 77
    listed = subprocess.run([sys.argv[1]], capture_output=True, text=True, check=True).stdout.splitlines()
    wrong, seen = [], 0
    for line in listed:
        dimension, name, factor, offset = line.split("\t")
        factor, offset = float(factor), float(offset)
        seen += 1
        if dimension in COUNTED:
            if factor != 1.0 or offset != 0.0:
                wrong.append(f"{dimension} {name}: a counted thing has factor 1")
            continue
        if dimension == "temperature":
            for value in (-40.0, 0.0, 100.0):
                if name in ("K", "degR") and value < 0:
                    continue
                have = f"{TEMPERATURE[name]}({value})" if name in ("degC", "degF") else f"{value} {TEMPERATURE[name]}"
                want = ask(have, "K") if value or "temp" in have else 0.0
                if not math.isclose(value * factor + offset, want, rel_tol=1e-12, abs_tol=1e-9):
                    wrong.append(f"temperature {name}: {value} gives {value * factor + offset}, GNU units says {want}")
            continue
        if offset != 0.0:
            wrong.append(f"{dimension} {name}: only temperatures have an offset")
        want = ask("1 " + spelled(dimension, name), SI[dimension])
        if not math.isclose(factor, want, rel_tol=2e-7 if name in ROUNDED else 1e-12):
            wrong.append(f"{dimension} {name}: factor {factor!r}, GNU units says {want!r}")
    for text in wrong:
        print(text)
    print(f"{seen} units, {len(wrong)} wrong")
    return 1 if wrong or seen < 100 else 0


if __name__ == "__main__":
    sys.exit(main())
