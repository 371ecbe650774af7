#!/usr/bin/env python3
"""Writes whole_outage.txt (by touch) and whole_outage.job (by command) from demo_answers.json and the checklists, so that they never drift apart.

Called with --check it changes nothing and fails when the file is not what would be written.
"""
import json
import pathlib
import sys

here = pathlib.Path(__file__).parent
lists = here.parent.parent / "checklists"
demo = json.loads((here / "demo_answers.json").read_text())
steps = {}
stage_of = {}
for path in sorted(lists.glob("*.json")):
    stage = json.loads(path.read_text())
    for step in stage.get("steps", []):
        steps[step["id"]] = step
        stage_of[step["id"]] = stage["id"]

out = ["# The whole demo outage by touch. Written by write_script.py from demo_answers.json: change that file."]
out += ["size 1280 800", "theme print", "expect block.station Alder Ferry"]
shot_stages = set()


def quoted(name):
    return f'"{name}"' if " " in name else name


def type_value(typed, step):
    number, _, unit = typed.partition(" ")
    out.append(f"type {number}")
    units = step.get("units", [])
    if unit and units and unit != units[0]:
        out.append(f"tap {quoted('unit.' + unit)}")
    out.append("tap key.enter")


for answer in demo["steps"]:
    step = steps[answer["step"]]
    kind = step["kind"]
    stage = stage_of[step["id"]]
    out.append("")
    out.append(f"# {step['id']}")
    out.append(f"await step.title {step['title'][:24]}")
    if answer.get("defer"):
        out += ["tap action.later", f"type {answer['defer']['reason']}", "tap key.enter",
                f"type {answer['defer']['owner']}", "tap key.enter", f"tap row.{answer['defer']['before']}"]
        continue
    if answer.get("attach"):
        # Any file does for a photo here: the picture of the first step.
        out += ["tap action.record", "scan @OUT@/prepare-nameplate.png", "tap action.record"]
        continue
    if stage not in shot_stages and kind in ("measure", "compute", "log", "choose"):
        shot_stages.add(stage)
    if step["id"] == "handback.review":
        break
    if step["id"] == "settings.write":
        out += ["tap action.stick", "tap row.folder", "scan @OUT@/stick", "await action.write",
                "shot stick-target.png", "tap action.write", "await action.done", "shot stick.png", "tap action.done", "await step.title " + step["title"][:24]]
    if "shown" in answer:
        # The program asks for one value after the other, as the checklist names them.
        out += ["tap action.compare", "tap action.type"]
        for path in step["compare"]:
            number, _, unit = answer["shown"][path].partition(" ")
            if unit and number.replace(".", "").isdigit():
                out += [f"type {number}", "tap key.enter"]
            else:
                out.append("scan " + answer["shown"][path])
        out += ["shot settings-read_back.png", "tap action.record"]
    elif kind == "measure" and "answer" in answer:
        out += ["tap answer." + answer["answer"], "tap action.record"]
    elif kind == "measure":
        out.append("tap action.record")
        if step.get("free_text"):
            out += [f"type {answer['typed']}", "tap key.enter"]
        else:
            type_value(answer["typed"], step)
        out.append(f"shot {step['id'].replace('.', '-')}.png")
        out.append("tap action.record")
    elif kind in ("confirm", "choose"):
        out.append("tap answer." + answer["answer"])
        out.append(f"shot {step['id'].replace('.', '-')}.png")
        out.append("tap action.record")
    elif kind == "compute":
        out.append(f"shot {step['id'].replace('.', '-')}.png")
        out.append("tap action.record")
    elif kind == "log":
        before = 0
        for reading in answer["readings"]:
            gap = (reading["minutes"] - before) * 60
            before = reading["minutes"]
            if gap:
                out.append(f"later {gap}")
            out.append("tap action.reading")
            for value in reading["values"]:
                out += [f"type {value.partition(' ')[0]}", "tap key.enter"]
        out.append(f"shot {step['id'].replace('.', '-')}.png")
        out.append("tap action.record")
    # The people in the cabinet take their time too.
    out.append(f"later {int(step.get('minutes', [1, 1, 1])[0] * 45)}")

out += ["", "# review, signature, seal", "await step.title Review", "tap action.review", "shot review.png",
        "tap answer.p1", "draw pad.signature", "shot signing.png", "hold action.sign", "type 274185",
        "tap key.enter", "await action.jobs", "shot sealed.png", "tap action.jobs", "expect row.AF-Q07-112 sealed",
        "shot jobs.png"]


# The same outage as job commands, for "isochore job script": what a desk or a test enters without a window.
job = demo["facts"]["job_no"]


def word(text):
    return text if text.replace("-", "").replace(".", "").replace("_", "").isalnum() else "'" + text + "'"


lines = ["# The whole demo outage as job commands. Written by write_script.py from demo_answers.json: change that file.",
         "create --profile " + demo["profile"] + "".join(f" --crew {word(n)}" for n in demo["crew"])
         + "".join(f" --fact {word(n + '=' + v)}" for n, v in demo["facts"].items())]
for answer in demo["steps"]:
    step = steps[answer["step"]]
    if step["id"] == "handback.review":
        break
    people = "".join(f" --{role} {word(answer[role])}" for role in ("reader", "doer") if role in answer)
    enter = f"enter {job} {step['id']}"
    if answer.get("defer"):
        d = answer["defer"]
        lines.append(f"defer {job} {step['id']} --reason {word(d['reason'])} --owner {word(d['owner'])} "
                     f"--before {d['before']}")
    elif answer.get("attach"):
        lines.append(f"enter {job} {step['id']} '@FILE@'")
    elif "shown" in answer:
        lines.append(f"stick readback {job} --record"
                     + "".join(f" --value {word(path + '=' + text)}" for path, text in answer["shown"].items())
                     + people)
    elif step["kind"] == "log":
        before = 0
        for reading in answer["readings"]:
            if reading["minutes"] > before:
                lines.append(f"later {(reading['minutes'] - before) * 60}")
            before = reading["minutes"]
            lines.append(enter + "".join(f" --reading {word(v)}" for v in reading["values"]))
        lines.append(enter)
    else:
        value = answer.get("typed", answer.get("answer", ""))
        lines.append(enter + (f" {word(value)}" if value else "") + people)
    lines.append(f"later {int(step.get('minutes', [1, 1, 1])[0] * 45)}")

targets = {here / "whole_outage.txt": "\n".join(out) + "\n", here / "whole_outage.job": "\n".join(lines) + "\n"}
for target, text in targets.items():
    if "--check" not in sys.argv:
        target.write_text(text)
    elif not target.exists() or target.read_text() != text:
        sys.exit(f"{target.name} is not what write_script.py writes: run it")
    else:
        print(f"{target.name}: {len(text.splitlines())} lines, as written")
