#!/usr/bin/env python3
"""Walks the outage of other_answers.json through the window and by command; both must leave the same verdicts, and
the unit the ratio of its whole path: a tap, an auxiliary CT, two passes, a delta lead."""
import json
import pathlib
import shutil
import subprocess
import sys

program, out = sys.argv[1], pathlib.Path(sys.argv[2])
here = pathlib.Path(__file__).parent
answers = json.loads((here / "other_answers.json").read_text())
job = answers["facts"]["job_no"]
shutil.rmtree(out, ignore_errors=True)
subprocess.run([program, "rehearse", str(here / "other_outage.txt"), "--offscreen", "--out", str(out)], check=True,
               timeout=560)
photo = out / "photo.png"
shutil.copy(out / "prepare-nameplate.png", photo)
script = out / "other.job"
script.write_text((here / "other_outage.job").read_text().replace("@FILE@", str(photo)))
subprocess.run([program, "--data", str(out / "by-command"), "job", "script", str(script), "--clock",
                "2026-03-02T07:00:00Z"], check=True, stdout=subprocess.DEVNULL)


def require(condition, text):
    if not condition:
        sys.exit(f"FAILED: {text}")
    print(f"ok: {text}")


def status(store):
    run = subprocess.run([program, "--data", str(store), "job", "status", job, "--json"], capture_output=True, text=True,
                         check=True)
    return json.loads(run.stdout)


by_touch, by_command = status(out / "store"), status(out / "by-command")
require(by_touch["sealed"] and not by_command["sealed"], "the window's outage is sealed, the other waits for a signature")


def verdicts(outage):
    return {s["step"]: (s["status"], s.get("verdict"), s.get("typed"), s.get("answer")) for s in outage["steps"]
            if s["step"] not in ("settings.write", "settings.read_back", "handback.photo", "handback.review", "handback.sign")}


touch, command = verdicts(by_touch), verdicts(by_command)
different = [step for step in touch if touch[step] != command.get(step)]
require(not different, f"by touch and by command every step ends alike {different}")
typed = {s["step"]: s.get("typed") for s in by_touch["steps"]}
wrong = [a["step"] for a in answers["steps"] if "typed" in a and typed[a["step"]] != a["typed"]]
require(not wrong, f"every value is stored as it was typed, in its own unit {wrong}")
left = [s["step"] for s in by_touch["steps"] if s["status"] not in ("done", "not applicable")]
require(not left, f"nothing is left open {left}")
settings = "".join(f.read_text() for f in (out / "stick/ISOCHORE").rglob("*.JSN"))
# 1200 / 5 x 5 / 2.5 = 480; 480 / 2 passes / sqrt 3 = 138.564: rated transformation ratio, IEEE C57.13
require('"480.000"' in settings and '"138.564"' in settings, "the stick carries the ratio of the whole path")
paper = subprocess.run(["pdftotext", "-layout", str(out / f"store/records/{job}/{job}.pdf"), "-"], capture_output=True,
                       text=True)
squeezed = "".join(paper.stdout.split())
for words in ("69.9 psi g", "112.12 lb", "Corrie Moss", "delta"):
    require("".join(words.split()) in squeezed, f"the record says: {words}")
