#!/usr/bin/env python3
"""Holds gas.moisture against the Python package iapws (Debian: python3-iapws), which implements the same
releases independently: ice by R14-08, water by IF97 region 4.

usage: iapws_oracle.py ISOCHORE_PROGRAM
Exit 77 where the package is not installed.
"""
import json
import math
import subprocess
import sys

try:
    from iapws import _Sublimation_Pressure
    from iapws.iapws97 import _PSat_T
except ImportError:
    print("skipped: python3-iapws is not installed")
    sys.exit(77)

ATMOSPHERE = 101325.0


def vapour_pressure(kelvin):
    return 1e6 * (_Sublimation_Pressure(kelvin) if kelvin < 273.16 else _PSat_T(kelvin))


def main():
    cases = [(kelvin, gas) for kelvin in [200 + 2.5 * i for i in range(60)] for gas in (1e5, 6.2e5, 9e5)
             if vapour_pressure(kelvin) < 0.1 * ATMOSPHERE]
    lines = []
    for number, (kelvin, gas) in enumerate(cases):
        member = "frost_point" if kelvin < 273.16 else "dew_point"
        lines.append(json.dumps({"id": str(number), "calc": "gas.moisture", "inputs": {
            "gas_pressure": f"{gas!r} Pa abs", member: f"{kelvin!r} K", "measured_at": f"{ATMOSPHERE!r} Pa abs"}}))
    done = subprocess.run([sys.argv[1], "calc"], input="\n".join(lines) + "\n", capture_output=True, text=True)
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    if len(answers) != len(cases):
        print(f"{len(cases)} lines in, {len(answers)} out: {done.stderr}")
        return 1
    wrong = 0
    for (kelvin, gas), answer in zip(cases, answers):
        if not answer["ok"]:
            print(kelvin, gas, answer["error"])
            wrong += 1
            continue
        results = answer["results"]
        share = vapour_pressure(kelvin) / ATMOSPHERE
        at_gas = results["frost_point"]["value"]
        if not (math.isclose(results["ppmv"]["value"], share * 1e6, rel_tol=1e-8)
                and math.isclose(results["vapour_pressure"]["value"], share * gas, rel_tol=1e-8)
                and math.isclose(vapour_pressure(at_gas), share * gas, rel_tol=2e-7)
                and math.isclose(results["frost_point_atmospheric"]["value"], kelvin, rel_tol=1e-8)):
            print(kelvin, gas, results)
            wrong += 1
    print(f"{len(cases)} states, {wrong} wrong")
    return 1 if wrong or len(cases) < 50 else 0


if __name__ == "__main__":
    sys.exit(main())
