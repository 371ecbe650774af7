#!/usr/bin/env python3
"""Runs one short rehearsal in a fresh store. A first comment line "# after STEP" plays the demo outage up to
that step beforehand, so that the script begins there. A line "# revise" ends the program, puts a newer
revision of the demo profile and of the first checklist into the library, and goes on in the same store."""
import json
import pathlib
import re
import shutil
import subprocess
import sys

program, script, out = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
here = pathlib.Path(__file__).parent
shutil.rmtree(out, ignore_errors=True)
out.mkdir(parents=True)
text = script.read_text()
after = re.match(r"# after (\S+)", text)
if after:
    whole = (here / "whole_outage.txt").read_text().split("\n# " + after.group(1) + "\n")
    if len(whole) != 2:
        sys.exit(f"the demo outage has no step {after.group(1)}")
    attached = set(re.findall(r"@OUT@/(\S+\.png)", whole[0]))  # a photo of the demo is one of its own shots
    before = "\n".join(l for l in whole[0].splitlines()
                       if not l.startswith("shot") or l.removeprefix("shot ") in attached)
    text = before + "\n" + text
share = None
parts = text.split("\n# revise\n")
if len(parts) > 1:
    share = out / "share"
    for name in ("checklists", "profiles", "assets"):
        shutil.copytree(here.parent.parent / name, share / name)


def revise():
    """The next revision: a narrower range of the dc supply, and one step more."""
    path = share / "profiles/kd-41.json"
    profile = json.loads(path.read_text())
    profile["revision"] += 1
    profile["values"]["control"]["dc_max"]["value"] = "137 V"
    path.write_text(json.dumps(profile))
    path = share / "checklists/01_prepare.json"
    stage = json.loads(path.read_text())
    stage["revision"] += 1
    stage["steps"].insert(0, {
        "id": "prepare.weather", "kind": "confirm", "title": "Look at the sky", "text": "Rain comes into the cabinet.",
        "why": "Water and gas do not mix.", "wrong": "Wait until it is dry.", "minutes": [1, 1, 1],
        "source": "common practice, no source", "answers": [{"id": "dry", "label": "IT STAYS DRY"}]})
    path.write_text(json.dumps(stage))


size = re.search(r"# size (\d+) (\d+)", text)
pull = re.search(r"^# pull (\d+)$", text, re.M)
if re.search("^# other stick$", text, re.M):
    # What another tablet's desk wrote, with a key this one does not know.
    (out / "stick").mkdir()
    other = [program, "--data", str(out / "other"), "stick"]
    values = ["station.name=Corrie Moss", "station.bay=Q02", "breaker.serial=41-0501", "unit.serial=MU-30001",
              "sensor.serial=GD-9001", "ct.ratio=1200:5", "timing.wiring=across the trip coil"]
    subprocess.run(other + ["unit", "--profile", "kd-41"] + [w for v in values for w in ("--value", v)], check=True)
    subprocess.run(other + ["write-units", str(out / "stick"), "--unit", "desk:u1"], check=True)
for n, part in enumerate(parts):
    if n:
        revise()
    played = out / f"script{n or ''}.txt"
    played.write_text(part)
    command = [program, "rehearse", str(played), "--out", str(out), "--offscreen"]
    if share:
        command += ["--share", str(share)]
    if pull:
        command += ["--pull-stick", pull.group(1)]
    if size:
        command += ["--width", size.group(1), "--height", size.group(2)]
    if code := subprocess.run(command, timeout=280).returncode:
        sys.exit(code)
