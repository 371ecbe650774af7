#!/usr/bin/env python3
"""Ends the window with kill -9 amid the demo outage and looks where it goes on: nothing confirmed is lost."""
import json
import pathlib
import random
import shutil
import signal
import subprocess
import sys
import time

program, out = sys.argv[1], pathlib.Path(sys.argv[2])
here = pathlib.Path(__file__).parent
shutil.rmtree(out, ignore_errors=True)
out.mkdir(parents=True)
lines = [l for l in (here / "whole_outage.txt").read_text().splitlines() if not l.startswith("shot")]
# The report of confirmed steps: after each recorded step the script logs the title of the next one.
script = out / "script.txt"
script.write_text("\n".join(lines) + "\n")
resume = out / "resume.txt"
resume.write_text("expect heading Where\nlog heading.text\ntap action.go\nlog step.title\n")
random.seed(20260302)


def status(store):
    done = subprocess.run([program, "--data", str(store), "job", "status", "AF-Q07-112", "--json"],
                          capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"FAILED: the store does not open after the kill: {done.stdout}{done.stderr}")
    return json.loads(done.stdout)


titles = {}
for path in (here.parent.parent / "checklists").glob("[0-9]*.json"):
    for step in json.loads(path.read_text())["steps"]:
        titles[step["id"]] = step["title"]

for trial in range(4):
    store_out = out / f"trial{trial}"
    process = subprocess.Popen([program, "rehearse", str(script), "--out", str(store_out), "--offscreen"],
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    # Not before the store has its first entries.
    deadline = time.time() + 60
    while not (store_out / "store/journal.db").exists() and time.time() < deadline:
        time.sleep(0.01)
    time.sleep(random.uniform(1.0, 6.0))
    process.send_signal(signal.SIGKILL)
    if process.wait() != -signal.SIGKILL:
        sys.exit("FAILED: the rehearsal ended before it could be killed")
    found = status(store_out / "store")
    went_on = subprocess.run([program, "rehearse", str(resume), "--out", str(store_out), "--offscreen"],
                             capture_output=True, text=True, timeout=120)
    if found["entries"] > 1:
        if went_on.returncode != 0:
            sys.exit(f"FAILED: the window does not go on: {went_on.stdout}{went_on.stderr}")
        shown = [l for l in went_on.stdout.splitlines() if l.startswith("step.title")][-1]
        if titles[found["next"]] not in shown:
            sys.exit(f"FAILED: the journal says {found['next']}, the window shows {shown}")
        if "Last entry" not in went_on.stdout:
            sys.exit("FAILED: the last entry is not said")
    again = status(store_out / "store")
    if again["head"] != found["head"]:
        sys.exit("FAILED: opening the outage changed it")
    print(f"killed after {found['entries']} entries, goes on at {found['next']}")
