#!/usr/bin/env python3
"""Runs one short rehearsal in a fresh store. A first comment line "# after STEP" plays the demo outage up to
that step beforehand, so that the script begins there. With a fourth argument, a language, the sheets are in it,
what they are expected to say is not looked at, and what they say is written to OUT/texts.txt. A line "# revise" ends
the program, puts a newer revision of the demo profile and of the first checklist into the library, and goes on in
the same store.
"# other stick", "# older copy", "# hostile sticks", "# unit report" and "# releases" put beside it what others left;
"# long table N" a table of nameplates with so many rows.

What befalls a store (mishaps.py) stands as "# MISHAP" between two parts, where the program has ended and is started
again, or as "# at PICTURE MISHAP": it happens while the program runs, as soon as it has written that picture.
"# small disk" puts the store on a disk of its own; where the system lets nobody mount one, the rehearsal is
skipped (exit code 77)."""
import json
import pathlib
import re
import shutil
import subprocess
import sys
import time

import hostile
import mishaps

program, script, out = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
language = sys.argv[4] if len(sys.argv) > 4 else None
here = pathlib.Path(__file__).parent
mishaps.unmount(out / "store")  # of a run that was killed
shutil.rmtree(out, ignore_errors=True)
out.mkdir(parents=True)
text = script.read_text()
after = re.match(r"# after (\S+)", text)
if after:
    whole = (here / "whole_outage.txt").read_text().split("\n# " + after.group(1) + "\n")
    if len(whole) != 2:
        sys.exit(f"the demo outage has no step {after.group(1)}")
    attached = set(re.findall(r"@OUT@/(\S+\.png)", whole[0] + text))  # a photo of the demo is one of its own shots
    before = "\n".join(l for l in whole[0].splitlines()
                       if not l.startswith("shot") or l.removeprefix("shot ") in attached)
    text = before + "\n" + text
if language:
    text = re.sub(r'(?m)^(expect|await) ("[^"]+"|[^\s"]\S*) .*$', r"\1 \2", text)
    text = re.sub(r"(?m)^(tap row\.language\.\w+|log .*)$", "", text)
between = re.compile("^# (revise|" + mishaps.names() + ")$", re.M)
meanwhile = re.findall("^# at (\\S+) (" + mishaps.names() + ")$", text, re.M)
parts = between.split(text)  # script, mishap, script …
# A library of its own, where something is put into it.
share = out / "share" if re.search("^# (revise|releases)$", text, re.M) else None
if share:
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

def run(*words):
    subprocess.run([program, "--data", str(out / "other"), *words], check=True, stdout=subprocess.DEVNULL)


def other_stick():
    """What another tablet's desk wrote, with a key this one does not know; as an older copy too."""
    (out / "stick").mkdir()
    values = ["station.name=Corrie Moss", "station.bay=Q02", "breaker.serial=41-0501", "unit.serial=MU-30001",
              "sensor.serial=GD-9001", "ct.ratio=1200:5", "timing.wiring=across the trip coil"]
    run("stick", "unit", "--profile", "kd-41", *[w for v in values for w in ("--value", v)])
    run("stick", "write-units", str(out / "stick"), "--unit", "desk:u1")
    if re.search("^# older copy$", text, re.M):
        shutil.copytree(out / "stick", out / "older")
        time.sleep(1.1)  # a manifest's time is told to the second
        run("stick", "write-units", str(out / "stick"), "--unit", "desk:u1")


def long_table(rows):
    """Every hundredth row has a voltage that cannot be read."""
    lines = ["id,title,source,breaker.model,rating.voltage"]
    for n in range(1, rows + 1):
        lines.append(f"lt-{n},LT-{n} 145 kV,nameplate photo,LT-{n},{'many' if n % 100 == 0 else '145 kV'}")
    (out / "long.csv").write_text("\n".join(lines) + "\n")


def unit_report(settings):
    """What a unit wrote about itself."""
    folder = out / "unit/ISOCHORE/READBACK"
    folder.mkdir(parents=True)
    (folder / "U0000001.JSN").write_text(json.dumps({
        "format": "isochore.settings/1", "job": "", "profile": "kd-41", "revision": 1,
        "settings": dict(pair.split("=", 1) for pair in settings.split())}))


def releases(share):
    """Releases of a library: signed with another tablet's key, signed by nobody, and one that was withdrawn."""
    profiles = share / "profiles"
    supplied = {m: json.loads((profiles / f"{m}.json").read_text()) for m in ("kd-41", "nq-36")}
    signed = {"status": "released", "date": "2025-03-01"}

    def put(name, model, **changes):
        (profiles / name).write_text(json.dumps({**supplied[model], **changes}))

    put("px-9.json", "kd-41", id="px-9", title="PX-9, 145 kV, spring", invented=False)
    put("nq-36.r2.json", "nq-36", revision=2, parent=1, status="withdrawn", signoffs=[
        {**signed, "status": "checked", "person": "A. Lind"}, {**signed, "person": "B. Ortega"},
        {**signed, "status": "withdrawn", "person": "B. Ortega"}])
    put("tw-7.json", "kd-41", id="tw-7", title="TW-7, 145 kV, spring", invented=False, status="draft", signoffs=[])
    for to, who in (("checked", "A. Lind"), ("released", "B. Ortega")):
        run("profile", "release", "tw-7", "--folder", str(profiles), "--to", to, "--who", who)


if re.search("^# other stick$", text, re.M):
    other_stick()
if re.search("^# hostile sticks$", text, re.M):
    hostile.make(out / "stick", out / "hostile")
if rows := re.search(r"^# long table (\d+)$", text, re.M):
    long_table(int(rows.group(1)))
if report := re.search("^# unit report (.+)$", text, re.M):
    unit_report(report.group(1))
if re.search("^# releases$", text, re.M):
    releases(share)


def play(n, part):
    played = out / f"script{n or ''}.txt"
    begin = f"texts texts{n or ''}.txt\n" if language else ""
    played.write_text(begin + part.replace("@TABLES@", str(here / "tables")))
    command = [program, "rehearse", str(played), "--out", str(out), "--offscreen"]
    if share:
        command += ["--share", str(share)]
    if pull:
        command += ["--pull-stick", pull.group(1)]
    if size:
        command += ["--width", size.group(1), "--height", size.group(2)]
    return subprocess.run(command, timeout=280).returncode


def act():
    for n, part in enumerate(parts[0::2]):
        if n and parts[2 * n - 1] == "revise":
            revise()
        elif n:
            store.befall(parts[2 * n - 1])
        if code := play(n, part):
            return code
    return 0


with mishaps.Store(out, small=bool(re.search("^# small disk$", text, re.M))) as store:
    if not store.usable:
        print("skipped: this system lets nobody mount a small disk here")
        sys.exit(77)
    if language:
        store.folder.mkdir(exist_ok=True)
        (store.folder / "settings.json").write_text(json.dumps({"language": language}))
    store.watch(meanwhile)
    code = act()
sys.exit(code)
