#!/usr/bin/env python3
"""Holds profiles/*.json against the published schema, and proves that the schema refuses what it must."""
import copy
import json
import pathlib
import sys

try:
    import jsonschema
except ImportError:
    print("skipped: python3-jsonschema is not installed")
    sys.exit(77)

root = pathlib.Path(sys.argv[1])
schema = json.loads((root / "profiles/schema/profile.schema.json").read_text())
jsonschema.Draft7Validator.check_schema(schema)
validator = jsonschema.Draft7Validator(schema)
faults = []

profiles = sorted((root / "profiles").glob("*.json"))
if len(profiles) < 5:
    faults.append(f"only {len(profiles)} profiles found")
for path in profiles:
    for error in validator.iter_errors(json.loads(path.read_text())):
        faults.append(f"{path.name}: {list(error.absolute_path)}: {error.message}")


def broken(change):
    document = copy.deepcopy(json.loads((root / "profiles/kd-41.json").read_text()))
    change(document)
    return document


def put(*path):
    *way, last, value = path

    def change(document):
        node = document
        for name in way:
            node = node[name]
        node[last] = value

    return change


def drop(*path):
    *way, last = path

    def change(document):
        node = document
        for name in way:
            node = node[name]
        del node[last]

    return change


refused = {
    "unknown member": put("colour", "red"),
    "later version": put("format", "isochore.profile/2"),
    "upper-case id": put("id", "KD-41"),
    "revision 0": put("revision", 0),
    "status": put("status", "perfect"),
    "no invented": drop("invented"),
    "bare number": put("values", "control", "dc_nominal", "value", "125"),
    "wrong dimension": put("values", "control", "dc_nominal", "value", "125 A"),
    "pressure without reference": put("values", "gas", "nominal", "value", "0.616 MPa"),
    "unknown choice": put("values", "breaker", "mechanism", "value", "clockwork"),
    "limit without source": put("values", "gas", "warn", "source", ""),
    "no confidence": drop("values", "gas", "warn", "confidence"),
    "other confidence": put("values", "gas", "warn", "confidence", "sure"),
    "missing limit": drop("values", "gas", "lockout"),
    "missing group": drop("values", "control"),
    "unknown value": put("values", "gas", "colour", {"value": "x", "source": "", "confidence": "confirmed"}),
    "comma": put("values", "gas", "nameplate_mass", "value", "12,0 kg"),
    "short key": put("signoffs", 0, "key", "abc"),
}
# Every single value of a profile, broken in every way a value can be.
for group, values in broken(lambda document: None)["values"].items():
    for name in values:
        way = ("values", group, name)
        refused[f"{group}.{name} that is a bare text"] = put(*way, "text")
        refused[f"{group}.{name} that is a number"] = put(*way, "value", 12)
        refused[f"{group}.{name} without a value"] = drop(*way, "value")
        refused[f"{group}.{name} without a source"] = drop(*way, "source")
        refused[f"{group}.{name} of unknown confidence"] = put(*way, "confidence", "certain")
        refused[f"{group}.{name} with a member nobody knows"] = put(*way, "note", "x")
        definition = schema["properties"]["values"]["properties"][group]["properties"][name]["properties"]
        if definition["source"].get("minLength"):
            refused[f"limit {group}.{name} with an empty source"] = put(*way, "source", "")
        if "abs|a|gauge" in definition["value"].get("pattern", ""):
            refused[f"pressure {group}.{name} without its reference"] = put(*way, "value", "0.5 MPa")
for member in ("id", "revision", "title", "author", "status", "values", "format"):
    refused[f"no {member}"] = drop(member)
for name, change in refused.items():
    if validator.is_valid(broken(change)):
        faults.append(f"the schema accepts: {name}")

print(f"{len(profiles)} profiles, {len(refused)} broken ones, {len(faults)} faults")
print("\n".join(faults))
sys.exit(1 if faults else 0)
