#!/usr/bin/env python3
"""Drives `isochore calc` over the published gas states: 1e-9 in the gas, 1e-7 on the saturation line.

usage: check_states.py ISOCHORE_PROGRAM
"""
import json
import math
import os
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))


def rows(name):
    with open(os.path.join(HERE, name), encoding="utf-8") as file:
        lines = [line.rstrip("\n") for line in file if not line.startswith("#")]
    names = lines[0].split(",")
    return [dict(zip(names, line.split(","))) for line in lines[1:]]


def cases():
    """(calculation, inputs, expected) with expected = {result: (value, tolerance)}, {"error": code} or, for a
    density too thin to liquefy, {"absent": result}."""
    for gas, name in (("SF6", "sf6_states"), ("N2", "n2_states"), ("CO2", "co2_states"), ("CF4", "cf4_states"),
                      ("Air", "air_states")):
        for row in rows(name + ".csv"):
            yield ("gas.density", {"gas": gas, "temperature": row["temperature_k"] + " K",
                                   "pressure": row["pressure_pa"] + " Pa abs"},
                   {"density": (float(row["density_kg_m3"]), 1e-9)})
    for row in rows("sf6_isochores.csv"):
        inputs = {"gas": "SF6", "temperature": row["temperature_k"] + " K", "density": row["density_kg_m3"] + " kg/m3"}
        expected = {"pressure": (float(row["pressure_pa"]), 1e-9)} if row["phase"] == "gas" else {"error": "two_phase"}
        yield "gas.pressure", inputs, expected
        if row["phase"] == "gas":
            yield ("gas.density", {"gas": "SF6", "temperature": row["temperature_k"] + " K",
                                   "pressure": row["pressure_pa"] + " Pa abs"},
                   {"density": (float(row["density_kg_m3"]), 1e-9)})
            at = {"gas": "SF6", "nominal_density": row["density_kg_m3"] + " kg/m3",
                  "temperature": row["temperature_k"] + " K"}
            yield "fill.target", at, {"pressure": (float(row["pressure_pa"]), 1e-9)}
    for row in rows("sf6_saturation.csv"):
        yield ("gas.saturation", {"gas": "SF6", "temperature": row["temperature_k"] + " K"},
               {"pressure": (float(row["pressure_pa"]), 1e-7), "liquid_density": (float(row["liquid_kg_m3"]), 1e-7),
                "vapour_density": (float(row["vapour_kg_m3"]), 1e-7)})
        yield ("gas.density", {"gas": "SF6", "temperature": row["temperature_k"] + " K",
                               "pressure": repr(1.001 * float(row["pressure_pa"])) + " Pa abs"}, {"error": "liquid"})
    for row in rows("sf6_liquefaction.csv"):
        density = {"gas": "SF6", "density": row["density_kg_m3"] + " kg/m3"}
        if row["temperature_k"]:
            yield "gas.saturation", density, {"temperature": (float(row["temperature_k"]), 1e-7),
                                              "pressure": (float(row["pressure_pa"]), 1e-7)}
        else:
            yield "gas.saturation", density, {"error": "out_of_range"}
            yield ("gas.density", {"gas": "SF6", "temperature": "293.15 K", "pressure": "0.1 MPa abs"},
                   {"absent": "liquefaction_temperature"})


def faults(answer, expected):
    if "error" in expected:
        return [] if not answer["ok"] and answer["error"]["code"] == expected["error"] else [f"expected {expected}"]
    if not answer["ok"]:
        return [str(answer["error"])]
    if "absent" in expected:
        return [f"{expected['absent']} is given"] if expected["absent"] in answer["results"] else []
    return [f"{name}: {answer['results'][name]['value']!r} is not {value!r}"
            for name, (value, tolerance) in expected.items()
            if not math.isclose(answer["results"][name]["value"], value, rel_tol=tolerance)]


def main():
    all_cases = list(cases())
    lines = [json.dumps({"id": str(i), "calc": calc, "inputs": inputs}) for i, (calc, inputs, _) in enumerate(all_cases)]
    done = subprocess.run([sys.argv[1], "calc"], input="\n".join(lines) + "\n", capture_output=True, text=True)
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    if len(answers) != len(all_cases):
        print(f"{len(all_cases)} lines in, {len(answers)} out: {done.stderr}")
        return 1
    wrong = 0
    for i, ((calc, inputs, expected), answer) in enumerate(zip(all_cases, answers)):
        found = faults(answer, expected) if answer["id"] == str(i) else ["answers are out of order"]
        if found:
            wrong += 1
            print(calc, inputs, *found)
    print(f"{len(all_cases)} lines, {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
