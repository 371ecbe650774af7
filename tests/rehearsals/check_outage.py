#!/usr/bin/env python3
"""Walks the whole demo outage through the window and checks all it leaves: screenshots, stick, record, PDF."""
import hashlib
import json
import pathlib
import shutil
import struct
import subprocess
import sys
import zlib

program, display, out = sys.argv[1], sys.argv[2], pathlib.Path(sys.argv[3])
here = pathlib.Path(__file__).parent
shutil.rmtree(out, ignore_errors=True)
script, size = here / "whole_outage.txt", (1280, 800)
if display == "upright":
    size = (800, 1280)
    turned = script.read_text().replace("size 1280 800", "size 800 1280", 1)
    script = out.with_suffix(".txt")
    script.write_text(turned)
command = [program, "rehearse", str(script), "--out", str(out)]
if display == "xvfb":
    if not shutil.which("xvfb-run"):
        print("skipped: xvfb-run is not installed")
        sys.exit(0)
    command = ["xvfb-run", "-a", "-s", "-screen 0 1400x1000x24"] + command
else:
    command.append("--offscreen")
subprocess.run(command, check=True, timeout=560)


def require(condition, text):
    if not condition:
        sys.exit(f"FAILED: {text}")
    print(f"ok: {text}")


# Screenshots: one of every stage, the size asked for, and not of one colour.
def png_size_and_colours(path):
    data = path.read_bytes()
    width, height = struct.unpack(">II", data[16:24])
    pixels, at = b"", 8
    while at < len(data):
        length, kind = struct.unpack(">I4s", data[at:at + 8])
        if kind == b"IDAT":
            pixels += data[at + 8:at + 8 + length]
        at += 12 + length
    return width, height, len(set(zlib.decompress(pixels)))


shots = sorted(out.glob("*.png"))
stages = {json.loads(p.read_text()).get("id") for p in (here.parent.parent / "checklists").glob("[0-9]*.json")}
for stage in stages:
    require(any(s.name.startswith(stage + "-") for s in shots) or stage == "handback", f"a screenshot of {stage}")
for shot in shots:
    width, height, colours = png_size_and_colours(shot)
    if (width, height) != size or colours < 3:
        sys.exit(f"FAILED: {shot.name} is {width} x {height} with {colours} values")
require(len(shots) > 60, f"{len(shots)} screenshots of {size[0]} x {size[1]} with something on them")

# The stick: every file has the hash its signed manifest lists, and nothing else lies there.
sets = sorted((out / "stick/ISOCHORE").iterdir())
require(len(sets) == 1, "one set on the stick")
manifest = json.loads((sets[0] / "MANIFEST.JSN").read_text())
text = json.dumps(manifest)
files = [p for p in sets[0].iterdir() if p.name != "MANIFEST.JSN"]
require(len(files) == 3, "profile, unit values and settings on the stick")
for file in files:
    require(hashlib.sha256(file.read_bytes()).hexdigest() in text, f"{file.name} has the hash in the manifest")
unit = "".join(f.read_text() for f in files)
require("2000:5" in unit and "41-0387" in unit, "the unit's own ratio and serial are on the stick")

# The record verifies, its hash stands in the PDF, and one changed byte is found.
folder = out / "store/records/AF-Q07-112"
record = folder / "AF-Q07-112.record.json"
verified = subprocess.run([program, "verify", str(record)], capture_output=True, text=True)
require(verified.returncode == 0 and "whole and unchanged" in verified.stdout, "the sealed record verifies")
digest = hashlib.sha256(record.read_bytes()).hexdigest()
changed = bytearray(record.read_bytes())
changed[len(changed) // 2] ^= 1
tampered = out / "tampered.json"
tampered.write_bytes(changed)
require(subprocess.run([program, "verify", str(tampered)], capture_output=True).returncode == 1,
        "a record with one flipped bit does not verify")
paper = subprocess.run(["pdftotext", "-layout", str(folder / "AF-Q07-112.pdf"), "-"], capture_output=True, text=True)
require(paper.returncode == 0, "pdftotext reads the PDF")
squeezed = "".join(paper.stdout.split())
require(digest in squeezed, "the PDF carries the record's hash")
for words in ("Commissioning record", "Alder Ferry", "R. Marsh", "N. Quill", "Results, worst first", "4.61 bar g"):
    require("".join(words.split()) in squeezed, f"the PDF says: {words}")

# The journal agrees with what was typed, and is closed but for the step put off.
status = json.loads(subprocess.run([program, "--data", str(out / "store"), "job", "status", "AF-Q07-112", "--json"],
                                   capture_output=True, text=True, check=True).stdout)
require(status["sealed"], "the outage is sealed")
typed = {s["step"]: s.get("typed") for s in status["steps"]}
for answer in json.loads((here / "demo_answers.json").read_text())["steps"]:
    if "typed" in answer and typed[answer["step"]] != answer["typed"]:
        sys.exit(f"FAILED: {answer['step']} holds {typed[answer['step']]!r}, not {answer['typed']!r}")
require(True, "every value is stored as it was typed")
open_steps = [s["step"] for s in status["steps"] if s["status"] not in ("done", "not applicable", "overridden")]
require(open_steps == ["handback.moisture"], f"only the deferred step is left: {open_steps}")
